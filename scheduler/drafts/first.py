"""Ten questions that make a first scenario, and their answers."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.domain.scenario import Units
from scheduler.drafts.first_files import RING_KW, Answers, usual
from scheduler.intake.faults import FaultList, did_you_mean, shown
from scheduler.intake.measures import NoSuchAmount, amount, is_imperial
from scheduler.languages import say

FIRST = "answers"
"""What faults of answers call the place that they stand in."""


@dataclass(frozen=True)
class Question:
    """What is asked, under which key, and the answer that is offered."""

    key: str
    text: str
    offered: str


def questions(today: dt.date) -> tuple[Question, ...]:
    """The ten questions; the plan is offered to start on the Monday after ``today``."""
    monday = today + dt.timedelta(days=7 - today.weekday())
    which = say("Which fruit, of {fruits}?", fruits=", ".join(usual()))
    return (
        Question("farm", say("What is the farm called?"), "Kilbrack"),
        Question("start", say("First day to plan (YYYY-MM-DD)"), monday.isoformat()),
        Question("days", say("How many days?"), "7"),
        Question("fruits", which, "strawberry, raspberry"),
        Question(
            "kg", say("How many kg a day are picked of each, in the same order? (Or as in 66 lb.)"), "30, 15"
        ),
        Question("pans", say("How many litres does each pan hold? (Or as in 26 pints.)"), "15, 15, 20"),
        Question("rings", say("How many rings, and gas, electric or induction?"), "3 gas"),
        Question("freezer", say("How many kg does the freezer hold? (Or as in 440 lb.)"), "200"),
        Question("people", say("How many people, from when to when?"), "3, 08:00-13:00"),
        Question("jars", say("How many jars are ordered of each, due on the last day?"), "24, 12"),
    )


def answered(told: Mapping[str, str]) -> Answers:
    """The answers by the keys of the questions; raises InputFaults with all that cannot be understood.

    Who answers in pounds or pints is shown the plan in them.
    """
    ask = _Asked(told)
    if not told["farm"].strip():
        ask.refuse("farm", "a name", "Write what your customers call it.")
    fruits = ask.fruits()
    kg = ask.numbers("kg", "kg", 0, 5000, len(fruits))
    jars = ask.numbers("jars", "", 0, 10_000, len(fruits))
    pans = ask.numbers("pans", "litres", 0.5, 500)
    rings, heat = ask.rings()
    people, opens, closes = ask.people()
    start = ask.day()
    (days,) = ask.numbers("days", "", 1, 400, 1)
    (freezer,) = ask.numbers("freezer", "kg", 0, 100_000, 1)
    ask.faults.raise_if_any()
    by_fruit = dict(zip(fruits, kg, strict=True)), dict(zip(fruits, map(int, jars), strict=True))
    farm, size = told["farm"].strip(), tuple(pans)
    typed = ",".join(told[key] for key in ("kg", "pans", "freezer")).split(",")
    units = Units.IMPERIAL if any(map(is_imperial, typed)) else Units.METRIC
    return Answers(
        farm, start, int(days), *by_fruit, size, rings, heat, freezer, people, opens, closes, units
    )


class _Asked:
    """Reads answers, noting what cannot be understood."""

    def __init__(self, told: Mapping[str, str]) -> None:
        self._told, self.faults = told, FaultList()

    def refuse(self, key: str, allowed: str, remedy: str) -> None:
        self.faults.add(FIRST, key, shown(self._told[key]), allowed, remedy)

    def fruits(self) -> list[str]:
        named = [word.strip().lower() for word in self._told["fruits"].split(",") if word.strip()]
        strange = [name for name in named if name not in usual()]
        allowed = "one or more of " + ", ".join(usual()) + ", with commas between"
        if strange or not named or len(set(named)) < len(named):
            otherwise = (
                "Name each once. For another fruit take the one that keeps most like it (for plums cherry), "
                "then give it its own name and figures in the files."
            )
            self.refuse("fruits", allowed, did_you_mean(strange[0] if strange else "", usual(), otherwise))
        return list(dict.fromkeys(name for name in named if name in usual()))

    def numbers(self, key: str, unit: str, low: float, high: float, count: int | None = None) -> list[float]:
        """Amounts with commas between; one alone stands for all of ``count``."""
        pieces = [piece.strip() for piece in self._told[key].split(",") if piece.strip()]
        many = "" if count is None else f"{count} " if count > 1 else ""
        allowed = f"{many}numbers from {low:g} to {high:g} {unit}".rstrip() + ", with commas between"
        if count == 1:
            allowed = f"a number from {low:g} to {high:g} {unit}".rstrip()
        try:
            found = [_number(piece, unit) for piece in pieces]
        except ValueError as error:
            self.refuse(key, allowed, str(error))
            return [low] * (count or 1)
        if count and len(found) == 1:
            found *= count
        sound = all(low <= number <= high and (unit or number == int(number)) for number in found)
        if not found or (count and len(found) != count) or not sound:
            self.refuse(key, allowed, "Mend the numbers.")
            return [low] * (count or 1)
        return found

    def rings(self) -> tuple[int, str]:
        match = re.fullmatch(r"(\d{1,2})\s*([a-z]*)", self._told["rings"].strip().lower())
        heat = (match[2] or "gas") if match else ""
        if not match or heat not in RING_KW or not 1 <= int(match[1]) <= 40:
            self.refuse("rings", "1 to 40, and gas, electric or induction", "Write it as in 3 gas.")
            return 1, "gas"
        return int(match[1]), heat

    def people(self) -> tuple[int, str, str]:
        pattern = r"(\d{1,2})\D*?,?\s*(\d{1,2}:\d[05])\s*(?:-|–|to)\s*(\d{1,2}:\d[05])"
        match = re.fullmatch(pattern, self._told["people"].strip())
        if not match or not 1 <= int(match[1]) <= 26 or not _minutes(match[2]) < _minutes(match[3]) <= 1440:
            allowed = "1 to 26 people, and two times of day in steps of 5 minutes"
            self.refuse("people", allowed, "Write it as in 3, 08:00-13:00.")
            return 1, "08:00", "13:00"
        return int(match[1]), match[2].zfill(5), match[3].zfill(5)

    def day(self) -> dt.date:
        try:
            return dt.date.fromisoformat(self._told["start"].strip())
        except ValueError:
            self.refuse("start", "a date as YYYY-MM-DD", "Write year, month and day, as in 2026-07-06.")
            return dt.date(2026, 7, 6)


def _number(piece: str, unit: str) -> float:
    if re.fullmatch(r"\d+\.?\d*|\.\d+", piece):
        return float(piece)
    try:
        value = amount(piece, unit)
    except NoSuchAmount as error:
        raise ValueError(str(error)) from None
    if value is None:
        raise ValueError("Write digits with a decimal point, as in 12.5.")
    return value


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return 60 * int(hours) + int(minutes)
