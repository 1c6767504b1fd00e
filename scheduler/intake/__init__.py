"""Files into a Situation: reads a scenario folder and lists all of its faults."""

from scheduler.intake.reader import read_scenario, situation_of

__all__ = ["read_scenario", "situation_of"]
