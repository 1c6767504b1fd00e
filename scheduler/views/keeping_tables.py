"""What the hours before the chiller cost fresh lots, as a table for the dashboard."""

from __future__ import annotations

from datetime import date

import pandas as pd

from scheduler.auditor.farm import Farm, FreshLot
from scheduler.domain.fruit import Grade, Lot
from scheduler.domain.scenario import Situation
from scheduler.languages import message, say, spoken
from scheduler.physics import keeping
from scheduler.views import words

OVER = message("over when it came")


def yard_table(situation: Situation, fruit: str) -> pd.DataFrame:
    """A row for each lot of ``fruit`` that stood warm: the days it lost, its last days to sell and cook."""
    farm = Farm(situation)
    lots = [lot for lot in (*situation.scenario.lots, *situation.scenario.picks) if lot.fruit == fruit]
    return pd.DataFrame(_row(lot, farm) for lot in lots if lot.warm_hours > 0)


def days_lost(lot: Lot, keeps_like: str, chiller_c: float) -> float:
    """Days in the chiller that ``lot``'s warm hours cost, above the hours themselves."""
    faster = keeping.pace(keeps_like, lot.warm_celsius) / keeping.pace(keeps_like, chiller_c)
    return float(lot.warm_hours / 24 * (faster - 1))


def _row(lot: Lot, farm: Farm) -> dict[str, str | float]:
    fruit, fresh = farm.fruits[lot.fruit], farm.fresh[lot.name]
    used = keeping.life_used(fruit.cook_days, fruit.keeps_like, [(lot.warm_hours, lot.warm_celsius)])
    return {
        say("lot"): lot.name,
        say("warm"): say(
            "{quantity} at {warm_celsius}",
            quantity=words.quantity(lot.warm_hours, "h"),
            warm_celsius=words.degrees(lot.warm_celsius, None),
        ),
        say("days lost"): round(days_lost(lot, fruit.keeps_like, farm.kitchen.chiller.celsius), 1) + 0.0,
        say("of its life"): f"{words.number(100 * float(used), grouped=False)} %",
        say("sell by"): _last(fresh.last_sell_day, fresh) if lot.grade is Grade.TABLE else "",
        say("cook by"): _last(fresh.last_day, fresh),
    }


def _last(day: date, lot: FreshLot) -> str:
    return words.day_name(day) if day >= lot.picked else spoken(OVER)
