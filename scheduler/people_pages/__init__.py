"""A page for each person: their part of the plan, what they answer to it, and messages of change by mail."""

from scheduler.people_pages.answers import Answers

__all__ = ["Answers"]
