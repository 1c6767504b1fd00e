"""The door: ``streamlit run app.py`` serves the dashboard, and the calendar feeds beside it."""

import streamlit as st

from scheduler.feeds.routes import routes
from scheduler.views.files import plans_home

app = st.App("scheduler/page.py", routes=routes(plans_home()))
