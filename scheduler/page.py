"""The dashboard's page, which ``app.py`` serves."""

from pathlib import Path

from scheduler.views.dashboard.main import main

main(Path(__file__).parents[1])
