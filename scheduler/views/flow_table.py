"""The way of fruit as rows of a flow: from the field and the freezer to the shop, the pans, or the heap."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, say_as, spoken
from scheduler.plan_rows import Plan
from scheduler.views import tables
from scheduler.views.look import FATES

FRESH, FREEZER = message("fresh"), message("freezer")
"""Places that fruit passes through."""


def flow_table(
    plan: Plan, scenario: Scenario, fruits: Collection[str], days: Collection[date]
) -> pd.DataFrame:
    """kg from one place to the next, a row for each fruit and way of more than 0.05 kg, over ``days``.

    Columns ``from``, ``to``, ``fruit``, ``kg``. Fresh kg are as picked; of what is cooked and frozen as
    prepared, with what is trimmed beside it, so that what enters ``fresh`` leaves it. ``freezer`` begins with
    what lay in it and was frozen in those days.
    """
    first, last = min(days), max(days)
    frames = [tables.fates(plan, scenario, day) for day in sorted(days)]
    rows: list[tuple[str, str, str, float]] = []
    for fruit in (f.name for f in scenario.fruits if f.name in fruits):
        lots = [row for row in plan.lots if row.fruit == fruit and row.day in days]
        by_day = [frame.loc[fruit].to_dict() for frame in frames]
        became = {fate: sum(each[fate] for each in by_day) for fate in FATES}
        became["left"] = sum(row.left for row in lots if row.day == last)
        rows += [
            (message("picked"), FRESH, fruit, sum(row.arrived for row in lots)),
            (message("on hand"), FRESH, fruit, sum(row.opening for row in lots if row.day == first)),
        ]
        rows += [
            (FRESH, FREEZER if fate == "frozen" else _END[fate], fruit, kg) for fate, kg in became.items()
        ]
        stock = [row for row in plan.freezer if row.fruit == fruit and row.day in days]
        rows += [
            (message("frozen before"), FREEZER, fruit, sum(row.opening for row in stock if row.day == first)),
            (FREEZER, message("cooked"), fruit, sum(row.thawed for row in stock)),
            (FREEZER, message("thrown away"), fruit, sum(row.discarded for row in stock)),
            (FREEZER, message("kept frozen"), fruit, sum(row.left for row in stock if row.day == last)),
        ]
    frame = pd.DataFrame(rows, columns=["from", "to", "fruit", "kg"])
    return frame[frame["kg"] > 0.05].round({"kg": 1}).reset_index(drop=True)


_END = {
    "sold": "sold",
    "cooked": "cooked",
    "trimmed": "trimmed",
    "given up": "given up",
    "spoiled": "spoiled",
    "left": message("kept chilled"),
}


def place_said(place: str) -> str:
    """A place of a flow by its name; one that fruit passes through and one that it ends in are told apart."""
    return say_as("where fruit lies", "freezer") if place == FREEZER else spoken(place)


def said(table: pd.DataFrame) -> pd.DataFrame:
    """A flow table to be read, in the reader's words."""
    read = table.assign(**{name: table[name].map(place_said) for name in ("from", "to")})
    heads = {"from": say_as("place", "from"), "to": say_as("place", "to"), "fruit": say("fruit")}
    return read.rename(columns=heads)
