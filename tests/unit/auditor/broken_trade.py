"""The two days with an order, broken in rules 47 to 50, and what is just inside them.

The order takes 25 jars of 30. Settled jars left: on Monday the 2 on hand; on Tuesday 2 + 23 of Monday − 25
shipped = 0, as Tuesday's 23 have not settled. Of sugar 4.8 kg are bought for Tuesday: 4 packs of 1.2 kg.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scheduler.domain.trade import ShopDemand, Weekday
from scheduler.plan_rows import ShopStock

from . import two_days_with_an_order as two_days
from .breaking import Breaks, Change, added, goal, rows, scenario
from .worked_days import JAR, MONDAY, TUESDAY

NONE = ""
JAM = two_days.JAM
(ORDER,) = two_days.SITUATION.scenario.orders
SUGAR, *OTHERS = two_days.SITUATION.scenario.goods

BROKEN = Breaks(two_days.SITUATION, two_days.PLAN)
INSIDE = Breaks(two_days.SITUATION, two_days.PLAN)
"""Each of these breaks no rule."""


def ordered(**values: Any) -> Change:
    return scenario(orders=(replace(ORDER, **values),))


def asked(*rows: tuple[Any, int]) -> Change:
    """The shop asks for jam on some days."""
    return scenario(shop=tuple(ShopDemand(day, JAM, JAR, jars) for day, jars in rows))


def left(*rows: tuple[Any, int, int]) -> Change:
    """What the plan says: day, jars asked for, settled jars left."""
    return added("shop", *(ShopStock(day, JAM, JAR, jars, settled) for day, jars, settled in rows))


def sugar(**values: Any) -> Change:
    return scenario(goods=(replace(SUGAR, **values), *OTHERS))


def bought(**values: Any) -> Change:
    return rows("purchases", {"good": "sugar"}, **values)


# ---- 47: parts ----

BROKEN.add("part-delivery", "25 of 30 jars where no part is taken", ordered(parts=False))
INSIDE.add(
    NONE, "all jars where no part is taken", ordered(parts=False, jars=25), rows("orders", {}, jars=25),
    goal("short", 0.0),
)  # fmt: skip
INSIDE.add(
    NONE, "no jar of it", ordered(parts=False), rows("orders", {}, filled=0),
    rows("jars", {"day": TUESDAY}, shipped=0, left=48),
    goal("short", 60.0),  # 30 × 2
    goal("money", 248.90),  # nothing is sold
)  # fmt: skip

# ---- 48: the shop ----

INSIDE.add(NONE, "as many as are left", asked((MONDAY, 2)), left((MONDAY, 2, 2)))
INSIDE.add(
    NONE, "jars missing count", asked((MONDAY, 3), (TUESDAY, 4)), left((MONDAY, 3, 2), (TUESDAY, 4, 0)),
    goal("short", 15.0),  # 5 × 2 of the order, 1 and 4 of the shop
)  # fmt: skip
BROKEN.add("goal-value", "a jar missing does not count", asked((MONDAY, 3)), left((MONDAY, 3, 2)))
BROKEN.add("shop-stock", "jars left that have not settled", asked((TUESDAY, 4)), left((TUESDAY, 4, 23)),
           goal("short", 14.0))  # fmt: skip
BROKEN.add("shop-stock", "a row is missing", asked((MONDAY, 2)))
BROKEN.add("shop-stock", "a row that nobody asks for", left((MONDAY, 2, 2)))
BROKEN.add("shop-stock", "other jars than asked for", asked((MONDAY, 2)), left((MONDAY, 1, 2)))
BROKEN.add("shop-stock", "two rows of a day", asked((MONDAY, 2)), left((MONDAY, 2, 2), (MONDAY, 2, 2)))

# ---- 49: packs ----

INSIDE.add(NONE, "just the least order", sugar(pack=1.2, least_packs=4), bought(packs=4))
BROKEN.add("packs", "a pack fewer than the least order", sugar(pack=1.2, least_packs=5), bought(packs=4))
BROKEN.add("packs", "a part of a pack", sugar(pack=5.0), bought(packs=1))
BROKEN.add("packs", "a good that comes loose, in packs", bought(packs=4))

# ---- 50: delivery days; where sugar is there at once it may come on either day ----

ON_MONDAY = bought(comes=MONDAY, order_by=MONDAY)
INSIDE.add(NONE, "the day before it is needed", sugar(lead_days=0, delivery_days={Weekday.MON}), ON_MONDAY)
INSIDE.add(NONE, "on its day", sugar(delivery_days={Weekday.TUE}))
BROKEN.add("delivery-day", "on another day than it is delivered", sugar(delivery_days={Weekday.SUN}))
BROKEN.add("delivery-day", "sooner than it must", sugar(lead_days=0), ON_MONDAY)
BROKEN.add(
    "delivery-day", "after it is needed", sugar(lead_days=0, delivery_days={Weekday.MON}),
    bought(order_by=TUESDAY),
)  # fmt: skip
BROKEN.add(
    "lead-time", "comes before it can", sugar(delivery_days={Weekday.MON}),
    bought(comes=MONDAY, order_by=MONDAY.replace(day=5)),
)  # fmt: skip

BREAKS = BROKEN.all
