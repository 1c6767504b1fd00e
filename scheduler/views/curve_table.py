"""The points of a trade-off curve side by side: what each loses, misses, costs and takes."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, message, say
from scheduler.plan_rows import MONEY_CLOSE, Goal, Plan, totals
from scheduler.views import tables, words

WHAT_IT_IS = message(
    "Each point is a whole plan, audited. The first loses the least value on fruit, the "
    "last spends least or earns most. None of them is as good as another in fruit, jars "
    "and money together. Proved: no plan that loses no more fruit and misses no more jars "
    "is cheaper by more than the gap says, measured against all pay offered."
)


def goal(plan: Plan, name: str) -> Goal:
    """The goal of that name."""
    return next(each for each in plan.goals if each.name == name)


def minutes_of_work(plan: Plan) -> int:
    """Minutes of work of all people together."""
    return sum((stage.end - stage.start) * len(stage.people) for stage in plan.stages)


def is_close(plan: Plan) -> bool:
    """Whether the money of a plan is proved to be near the least under its caps."""
    return goal(plan, "money").gap <= MONEY_CLOSE


def proved(plan: Plan) -> str:
    """How far a plan is proved: ``yes, within 0.14 %`` or ``no, gap 7.4 %``."""
    gap = goal(plan, "money").gap
    if not is_close(plan):
        return say("no, gap {percent}", percent=words.percent(gap))
    return say("yes, within {percent}", percent=words.percent(gap)) if gap else say("yes")


def curve_table(plans: Sequence[Plan], scenario: Scenario) -> pd.DataFrame:
    """A row per point, numbered from 1."""

    def amount(each: Goal) -> str:
        return words.goal_amount(each.value, each.unit, scenario)

    missing = say("weighted jars missing") if words.weighted(scenario) else say("jars missing")
    return pd.DataFrame(
        [
            {
                say("point"): number,
                say("value lost on fruit"): amount(goal(plan, "spoiled")),
                missing: words.number(goal(plan, "short").value),
                say("money spent less orders paid"): amount(goal(plan, "money")),
                measures.worded(say("kg lost")): words.number(measures.shown(tables.lost(totals(plan))), 1),
                say("jars made"): totals(plan).made,
                say("hours of work"): words.hours(minutes_of_work(plan)),
                say("proved"): proved(plan),
            }
            for number, plan in enumerate(plans, 1)
        ]
    )


def in_short(plan: Plan, scenario: Scenario) -> str:
    """A point in one line: what it loses, misses, and costs or earns."""
    spoiled, short = (
        words.goal_amount(each.value, each.unit, scenario)
        for each in (goal(plan, name) for name in ("spoiled", "short"))
    )
    money = goal(plan, "money").value
    amount = words.money(abs(money), scenario.currency)
    lost = say("{spoiled} lost on fruit, {short} missing", spoiled=spoiled, short=short)
    if money < 0:
        return f"{lost}, {say('{amount} earned after costs', amount=amount)}"
    return f"{lost}, {say('{amount} spent less orders paid', amount=amount)}"
