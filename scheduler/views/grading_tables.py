"""What grading made of the picks, in words."""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.domain.fruit import Grade, Lot
from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.views import words


def graded(scenario: Scenario, fruit: str) -> str:
    """``Picked 100.0 kg: 80.0 kg table, 15.0 kg kitchen, 5.0 kg lost in grading.``; empty where all of a
    fruit's picks stay as they are listed."""
    picked = [lot for lot in scenario.picked if lot.fruit == fruit]
    lots = [lot for lot in scenario.picks if lot.fruit == fruit]
    table, kitchen = (_kg(lot for lot in lots if lot.grade is grade) for grade in Grade)
    if picked == lots or not picked:
        return ""
    parts = {
        say("table"): table,
        say("kitchen"): kitchen,
        say("lost in grading"): _kg(picked) - table - kitchen,
    }
    told = ", ".join(f"{words.mass(kg)} {what}" for what, kg in parts.items())
    return say("Picked {mass}: {told}.", mass=words.mass(_kg(picked)), told=told)


def _kg(lots: Iterable[Lot]) -> float:
    return sum(lot.kg for lot in lots)
