"""Files into a Situation: reads a scenario folder and lists all of its faults."""

from scheduler.intake.reader import read_scenario

__all__ = ["read_scenario"]
