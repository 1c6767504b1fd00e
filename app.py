"""The door: ``streamlit run app.py`` serves the dashboard, calendar feeds and people's pages."""

import streamlit as st
from starlette.middleware import Middleware

# Not used here: read before anybody asks, so that the first reader does not wait for all the libraries.
import scheduler.views.dashboard.main  # noqa: F401
from scheduler.feeds import routes as feeds
from scheduler.people_pages import routes as pages
from scheduler.views.files import plans_home

_HOME = plans_home()
app = st.App(
    "scheduler/page.py",
    routes=[*feeds.routes(_HOME), *pages.routes(_HOME)],
    middleware=[Middleware(feeds.Fence, prefixes=(feeds.PREFIX, pages.PREFIX))],
)
