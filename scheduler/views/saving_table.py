"""A plan beside that of habit: what is lost, used and made, and by how much they differ."""

from __future__ import annotations

import pandas as pd

from scheduler.languages import measures, say
from scheduler.plan_rows import Plan, totals
from scheduler.views import words
from scheduler.views.tables import lost


def saving_table(plan: Plan) -> pd.DataFrame:
    """This plan beside the habit planner's, or no rows where the habit found no plan."""
    heads = ["", say("this plan"), say("by habit"), say("difference")]
    if plan.habit is None:
        return pd.DataFrame(columns=heads)
    ours, habit = totals(plan), plan.habit
    rows: list[tuple[str, float, float, int]] = [
        (say("fruit lost, kg"), lost(ours), lost(habit), 1),
        ("  " + say("given up, kg"), ours.given_up, habit.given_up, 1),
        ("  " + say("spoiled, kg"), ours.spoiled, habit.spoiled, 1),
        ("  " + say("thrown away from the freezer, kg"), ours.discarded, habit.discarded, 1),
        (say("left in the chiller, kg"), ours.left, habit.left, 1),
        (say("sold, kg"), ours.sold, habit.sold, 1),
        (say("cooked fresh, kg"), ours.cooked, habit.cooked, 1),
        (say("frozen, kg"), ours.frozen, habit.frozen, 1),
        (say("jars made"), ours.made, habit.made, 0),
        (say("jars missing from orders"), ours.short, habit.short, 0),
    ]
    cells = [
        (
            measures.worded(name),
            _plain(one, places),
            _plain(other, places),
            _with_sign(one - other + 0, places),
        )
        for name, one, other, places in map(_in_units, rows)
    ]
    return pd.DataFrame(cells, columns=heads)


def _in_units(row: tuple[str, float, float, int]) -> tuple[str, float, float, int]:
    name, one, other, places = row
    return (name, measures.shown(one), measures.shown(other), places) if places else row


def _plain(amount: float, decimals: int) -> str:
    return words.number(amount, decimals, grouped=False)


def _with_sign(amount: float, decimals: int) -> str:
    told = _plain(amount, decimals)
    return told if told.startswith("-") else f"+{told}"
