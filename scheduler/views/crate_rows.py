"""What to do with the next crate at the chiller door: the plan's way with each lot, and what others cost."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

import pandas as pd

from scheduler.crates import CRATE_KG, Act, Crate
from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, say, spoken
from scheduler.plan_rows import Plan
from scheduler.views import words

NOTHING = 0.005
"""Of the currency per kg: less is told as nothing."""
TRACE = 0.05
"""kg below which nothing is said."""


def days_known(plan: Plan) -> list[date]:
    """Days for which the plan says what a crate is worth."""
    return sorted({crate.day for crate in plan.crates})


def of_day(plan: Plan, day: date) -> dict[str, dict[Act, Crate]]:
    """The crates of a day by lot and act."""
    lots: dict[str, dict[Act, Crate]] = {}
    for crate in plan.crates:
        if crate.day == day:
            lots.setdefault(crate.lot, {})[crate.act] = crate
    return lots


def worth_of_fruit(plan: Plan, scenario: Scenario, day: date) -> pd.DataFrame:
    """A row per fruit that is there: kg, and what a kg less of it would lose, of its dearest lot."""
    rows = []
    for fruit in scenario.fruits:
        lots = [acts for acts in of_day(plan, day).values() if acts[Act.LESS].fruit == fruit.name]
        worth = [acts[Act.LESS].loses for acts in lots]
        known = [each for each in worth if each is not None]
        if known:
            kg = sum(acts[Act.LESS].kg for acts in lots)
            rows.append((fruit.name, round(kg, 1), round(measures.for_each(max(known)), 2) + 0.0))
    return pd.DataFrame(rows, columns=[say("fruit"), say("kg there"), measures.worded(say("worth a kg"))])


def rows_of_day(plan: Plan, scenario: Scenario, day: date) -> list[tuple[str, str, str]]:
    """For each lot: its fruit, what the plan does with it, what another crate would cost done otherwise."""
    currency = scenario.currency
    return [
        (
            f"{scenario.fruit(acts[Act.LESS].fruit).letter} {lot}",
            f"{words.mass(acts[Act.LESS].kg)}: {_planned(acts.values())}",
            _otherwise(acts, currency),
        )
        for lot, acts in of_day(plan, day).items()
    ]


def _planned(acts: Iterable[Crate]) -> str:
    done = [a for a in acts if a.act not in (Act.MORE, Act.LESS) and a.kg > TRACE]
    return ", ".join(f"{spoken(a.act)} {words.mass(a.kg)}" for a in done) or say("nothing")


def _otherwise(acts: dict[Act, Crate], currency: str) -> str:
    """``Another 5 kg: sell at no loss, hold until tomorrow loses €0.15 a kg; not possible: cook.``"""
    costs = {act: crate.loses for act, crate in acts.items() if act not in (Act.MORE, Act.LESS)}
    free = [spoken(act) for act, loses in costs.items() if loses is not None and loses < NOTHING]
    dear = sorted(
        (loses, act.value) for act, loses in costs.items() if loses is not None and loses >= NOTHING
    )
    cannot = [spoken(act) for act, loses in costs.items() if loses is None]
    told = [say("{free} at no loss", free=say(" or ").join(free))] if free else []
    told += [
        measures.worded(say("{act} loses {money} a kg")).format(
            act=spoken(act), money=words.money(measures.for_each(loses), currency)
        )
        for loses, act in dear
    ]
    parts = [
        say("Another {kg}: {told}", kg=words.quantity(CRATE_KG, "kg"), told=", ".join(told))
        if told
        else say("No other way for another crate")
    ]
    if cannot:
        parts.append(say("not possible: {cannot}", cannot=", ".join(cannot)))
    return "; ".join(parts) + "."


def crate_table(plan: Plan, scenario: Scenario, day: date) -> pd.DataFrame:
    """Every lot, act, kg and loss of a day."""
    return pd.DataFrame(
        [
            (crate.lot, spoken(crate.act), round(crate.kg, 1), _for_each(crate.loses))
            for crate in plan.crates
            if crate.day == day
        ],
        columns=[
            say("lot"),
            say("act"),
            say("kg in the plan"),
            measures.worded(say("loses {currency} a kg")).format(currency=scenario.currency),
        ],
    )


def _for_each(loses: float | None) -> float | None:
    return None if loses is None else measures.for_each(loses)
