"""The files of a first scenario: valid, with usual figures for all that was not asked."""

from __future__ import annotations

import csv
import datetime as dt
import io
import math
import re
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import tomlkit

from scheduler.domain.scenario import Units
from scheduler.intake.columns import SHEETS, columns_of
from scheduler.intake.files import REQUIRED
from scheduler.intake.keys import SCHEMA
from scheduler.languages import message

CARE = message(
    "Nothing of yours was measured for this: all that was not asked is a usual figure (common practice, no "
    "source). Before you cook by a plan, put in the pH and solids of your own finished preserves, your "
    "people, and what your pans, jars and freezer really take. Your food authority, local food law and a "
    "licensed process authority decide what is safe."
)
JAR_KG, PAY = 0.34, 15
POT_SHAPE = 2.0
"""Width of a preserving pan for its depth: common practice, no source."""
RING_KW = {"gas": 6.0, "electric": 3.0, "induction": 3.5}
"""Power of a ring by what it heats with: common practice, no source."""


@dataclass(frozen=True)
class Answers:
    """What was answered; ``kg`` and ``jars`` are by fruit, times of day in HH:MM."""

    farm: str
    start: dt.date
    days: int
    kg: Mapping[str, float]
    jars: Mapping[str, int]
    pans: tuple[float, ...]
    rings: int
    heat: str
    freezer_kg: float
    people: int
    opens: str
    closes: str
    units: Units = Units.METRIC


@cache
def usual() -> dict[str, dict[str, str]]:
    """Usual figures of each fruit, for the fruit and for a jam of it; common practice, no source."""
    text = files("scheduler.drafts").joinpath("first_fruits.csv").read_text(encoding="utf-8")
    return {row["fruit"]: row for row in csv.DictReader(io.StringIO(text))}


def texts_of(answers: Answers) -> dict[str, str]:
    """The files of a first scenario by name."""
    days = [answers.start + dt.timedelta(days=each) for each in range(answers.days)]
    names = [f"person {number}" for number in range(1, answers.people + 1)]
    fruits = [usual()[fruit] for fruit in answers.kg]
    rows: dict[str, list[dict[str, Any]]] = {file: [] for file in REQUIRED if file in SHEETS}
    rows["fruits.csv"] = [row | {"keeps_like": row["fruit"]} for row in fruits]
    rows["picks.csv"] = [
        {"date": day, "fruit": fruit, "grade": "table", "kg": f"{kg:g}"}
        for day in days
        for fruit, kg in answers.kg.items()
    ]
    rows["punnets.csv"] = [
        {"date": day, "fruit": fruit, "kg": f"{round(0.4 * kg, 1):g}"}
        for day in days
        for fruit, kg in answers.kg.items()
    ]
    rows["people.csv"] = [
        {
            "person": name,
            "skills": "prepare cook fill",
            "pay": PAY,
            "overtime_pay": 1.5 * PAY,
            "hours_week": 48,
        }
        for name in names
    ]
    rows["shifts.csv"] = [
        {"date": day, "person": name, "start": answers.opens, "end": answers.closes}
        for day in days
        for name in names
    ]
    rows["orders.csv"] = [
        {"order": f"O-{number}", "customer": "farm shop", "recipe": f"{fruit} jam", "jars": jars,
         "due": days[-1], "price": "4.20"}
        for number, (fruit, jars) in enumerate(answers.jars.items(), 1)
        if jars
    ]  # fmt: skip
    rows["store.csv"] = _store(answers)
    csvs = {file: _csv(file, each) for file, each in rows.items()}
    return {"kitchen.toml": _kitchen(answers), "recipes.toml": _recipes(fruits)} | csvs


def _store(answers: Answers) -> list[dict[str, Any]]:
    """Enough for a fifth of what is picked, and the rest in two days."""
    fruit = sum(answers.kg.values()) * answers.days / 5
    jars = 10 * math.ceil(fruit / JAR_KG / 5)
    told = (
        ("sugar", "kg", math.ceil(fruit), 1.10),
        ("lemons", "each", math.ceil(fruit / 2), 0.32),
        ("pectin", "g", 10 * math.ceil(fruit), 0.025),
        ("jar 340 g", "each", jars, 0.38),
        ("lid 63 mm", "each", jars, 0.09),
    )
    return [
        {"good": good, "unit": unit, "on_hand": on_hand, "price": price, "lead_days": 2}
        for good, unit, on_hand, price in told
    ]


def _csv(file: str, rows: Sequence[Mapping[str, Any]]) -> str:
    """Rows under the columns that must be there and those that are filled."""
    names = [
        column.name
        for column in columns_of(SHEETS[file])
        if column.required or any(column.name in row for row in rows)
    ]
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, names, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def _kitchen(answers: Answers) -> str:
    widths = [round((4 * POT_SHAPE * 1000 * litres / math.pi) ** (1 / 3)) for litres in answers.pans]
    widths = [min(150, max(10, width)) for width in widths]
    picked = sum(answers.kg.values())
    told: dict[str, Any] = {
        "schema": SCHEMA,
        "farm": answers.farm,
        "kitchen_id": _slug(answers.farm),
        "currency": "EUR",
        "start": answers.start,
        "days": answers.days,
        **({} if answers.units is Units.METRIC else {"units": answers.units.value}),
        "kitchen": {"open": answers.opens, "close": answers.closes, "altitude_m": 50, "heatproof_places": 2},
        "jar_oven": {"jars": 80},
        "chiller": {"kg": max(100, math.ceil(4 * picked)), "celsius": 3},
        "freezer": {"kg": answers.freezer_kg, "litres": max(1, math.ceil(2.5 * answers.freezer_kg))},
        "potting": {"fillers": min(2, answers.people), "jars_per_filler_hour": 150},
        "habits": {"people_while_boiling": min(2, answers.people)},
        "prices": {"gas_price_kwh": 0.12, "electricity_price_kwh": 0.31},
        "pan": [
            {"name": f"pan {number}", "litres": litres, "diameter_cm": width}
            for number, (litres, width) in enumerate(zip(answers.pans, widths, strict=True), 1)
        ],
        "ring": [
            {
                "name": f"ring {number}",
                "heat": answers.heat,
                "kw": RING_KW[answers.heat],
                "largest_pan_cm": max(widths),
            }
            for number in range(1, answers.rings + 1)
        ],
    }
    return _commented("A first scenario: usual figures wherever nothing was asked. Put your own in.", told)


def _recipes(fruits: Iterable[Mapping[str, str]]) -> str:
    keys = ("sugar_per_kg", "water_per_kg", "lemons_per_kg", "pectin_g_per_kg", "final_solids", "ph")
    told = [
        {
            "name": f"{row['fruit']} jam",
            **{key: float(row[key]) for key in keys if float(row[key])},
            "frozen_share": 0.5,
            "longest_boil_minutes": 60,
            "jar": "jar 340 g",
            "lid": "lid 63 mm",
            "jar_kg": JAR_KG,
            "most_jars": 1000,
            "fruit": [{"fruit": row["fruit"]}],
        }
        for row in fruits
    ]
    return _commented(
        "Usual figures for a kg of prepared fruit. No pH or solids here was measured in your kitchen: "
        "measure those of each finished preserve and put them in before you cook by a plan.",
        {"recipe": told},
    )


def _commented(comment: str, told: Mapping[str, Any]) -> str:
    lines = textwrap.wrap(comment, 100, initial_indent="# ", subsequent_indent="# ")
    return "\n".join(lines) + "\n" + tomlkit.dumps(told)


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40] or "kitchen"
