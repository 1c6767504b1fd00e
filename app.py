"""The dashboard's door: ``streamlit run app.py``."""

from pathlib import Path

from scheduler.views.dashboard.main import main

main(Path(__file__).parent)
