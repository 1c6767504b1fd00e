"""Dates of goods and late deliveries on the two days with an order, stains on the day of one pan: 33, 46, 61.

Each of the two days uses 4.9 kg of sugar; 5.0 are on hand, and 4.8 are bought for Tuesday.
"""

from __future__ import annotations

from datetime import date

from scheduler.domain.trade import Delivery

from . import day_of_one_pan as one_pan
from .breaking import Breaks, Change, goal, kitchen, recipe, rows, scenario
from .broken_trade import sugar
from .broken_whole_day import washed
from .two_days_with_an_order import PLAN, SITUATION
from .worked_days import MONDAY, TUESDAY, at

NONE = ""
STORE = Breaks(SITUATION, PLAN)
WASH = Breaks(one_pan.SITUATION, one_pan.PLAN)
INSIDE_STORE = Breaks(SITUATION, PLAN)
INSIDE_WASH = Breaks(one_pan.SITUATION, one_pan.PLAN)
"""Each of these breaks no rule."""

BOUGHT_FOR_ALL_OF_TUESDAY = (
    rows("purchases", {"good": "sugar"}, quantity=4.9, cost=6.13),  # 4.9 × 1.25, to the cent
    goal("money", 149.03),
)


def delivered(day: date, time: str | None, on_hand: float = 4.9) -> tuple[Change, Change]:
    """What is missing of 5.0 kg comes by a delivery."""
    row = Delivery(day, "sugar", round(5.0 - on_hand, 1), at(time) if time else None)
    return sugar(on_hand=on_hand), scenario(deliveries=(row,))


# ---- 61: Monday's 4.9 kg leave 0.1 kg for Tuesday ----

INSIDE_STORE.add(NONE, "used on the last day", sugar(best_before=TUESDAY))
INSIDE_STORE.add(NONE, "lost, and bought anew", sugar(best_before=MONDAY), *BOUGHT_FOR_ALL_OF_TUESDAY)
INSIDE_STORE.add(NONE, "just what is opened is used in time", sugar(opened=4.9, opened_use_by=MONDAY))
INSIDE_STORE.add(NONE, "opened, but used later than what is closed", sugar(opened=4.9, best_before=TUESDAY,
                 opened_use_by=TUESDAY))  # fmt: skip
STORE.add("good-date", "0.1 kg used the day after", sugar(best_before=MONDAY))
STORE.add("good-date", "all of it is opened", sugar(opened=5.0, opened_use_by=MONDAY))
STORE.add("good-date", "both dates have passed", sugar(opened=4.9, best_before=MONDAY, opened_use_by=MONDAY))
STORE.add("store good-date", "and 0.1 kg too little is bought besides", sugar(best_before=MONDAY),
          rows("purchases", {"good": "sugar"}, quantity=4.7, cost=5.88), goal("money", 148.78))  # fmt: skip

# ---- 33: deliveries that come late; the kitchen opens at 8:00 ----

INSIDE_STORE.add(NONE, "comes when the kitchen opens", *delivered(TUESDAY, "8:00"))
INSIDE_STORE.add(NONE, "comes at no time in particular", *delivered(TUESDAY, None))
INSIDE_STORE.add(NONE, "comes late on the day before", *delivered(MONDAY, "18:00"))
STORE.add("store", "comes five minutes after opening", *delivered(TUESDAY, "8:05"))
STORE.add("store", "comes late on the first day", *delivered(MONDAY, "8:05", on_hand=4.8))

# ---- 46: fruit that stains ----

FULL_WASH = kitchen(full_wash_minutes=28)
INSIDE_WASH.add(
    NONE, "washed in full after fruit that stains", FULL_WASH, recipe(stains=True), *washed("10:40")
)
INSIDE_WASH.add(NONE, "fruit that stains where all pans are washed alike", recipe(stains=True))
WASH.add("stage-list", "washed as ever after fruit that stains", FULL_WASH, recipe(stains=True))
WASH.add("stage-list", "washed 5 min too short", FULL_WASH, recipe(stains=True), *washed("10:35"))

BREAKS = [*STORE.all, *WASH.all]
INSIDE = [*INSIDE_STORE.all, *INSIDE_WASH.all]
