"""Good plans broken in the fruit and the freezer: rules 1 to 11.

Where a break changes what a goal is worth, the goal is restated, with the arithmetic beside it, so
that only the rule itself is broken. Where another rule must be broken too, a comment says why.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.kitchen import Chiller, Freezer

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import (
    Breaks,
    added,
    drawn,
    dropped,
    frozen,
    goal,
    kitchen,
    lot,
    mixed,
)
from .day_of_two_pans import (
    FROZEN_FIRST,
    FROZEN_NEXT,
    FROZEN_PAST,
    FROZEN_TODAY,
    LAST_DAY_LOT,
    PAST_LOT,
    RASPBERRIES,
)
from .worked_days import MONDAY, PICKED_MONDAY, TUESDAY

ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
ORDER = Breaks(two_days.SITUATION, two_days.PLAN)

# ---- fruit, rules 1 to 5 ----

# 0.1 kg too much leaves one lot and 0.1 kg too little another, so that the sum of all lots balances
TWO.add("lot-balance", "more out than in", lot(PICKED_MONDAY, given_up=0.6), lot(LAST_DAY_LOT, spoiled=0.9))
ORDER.add(
    "lot-balance totals",  # what is lost overnight is missing from the sum of all rows, too
    "fruit is lost overnight",
    lot(PICKED_MONDAY, TUESDAY, opening=8.5, left=1.5),
    goal("spoiled", 14.6),  # 0.5 × 2 less is left
)
ORDER.add(
    # Tuesday opens with fruit that came from nowhere; no lot gives Monday's draw; the sum lacks Monday
    "lot-balance draw-balance totals",
    "the row of the pick day is missing",
    dropped("lots", day=MONDAY),
    goal("spoiled", 33.6),  # 6.0 kg fewer are sold: 6.0 × (5 − 2) more is lost
)
ONE.add(
    "lot-balance",
    "less arrives than is picked",
    lot(PICKED_MONDAY, arrived=11.1, left=0.1),
    goal("spoiled", 0.0),  # the 0.1 kg left is wanted later
)
TWO.add(
    "lot-balance",
    "less than nothing is given up",
    lot(PICKED_MONDAY, given_up=-0.1, left=1.1),  # 0.6 × 2 less given up, 0.6 × 2 more left
    kitchen(chiller=Chiller(kg=2.0, celsius=0.0)),  # with room for it
)
ONE.add("lot-balance", "the row's grade is not the lot's", lot(PICKED_MONDAY, grade="kitchen"))
TWO.add("lot-balance", "two rows for one lot and day", added("lots", hand.lot_day(MONDAY, PAST_LOT)))

# in the next four what one lot gives or loses more, the other gives or loses less
TWO.add(
    "sell-life",
    "kitchen grade is sold",
    lot(LAST_DAY_LOT, sold=0.5, spoiled=0.5),
    lot(PICKED_MONDAY, sold=3.5, given_up=1.0),
)
TWO.add(
    "sell-life",
    "table grade is sold after its sell life",
    lot(PAST_LOT, sold=0.5, spoiled=0.0),
    lot(PICKED_MONDAY, sold=3.5, given_up=1.0),
)
TWO.add(
    "freeze-peak",
    "fruit is frozen past its peak",
    lot(LAST_DAY_LOT, frozen=0.5, spoiled=0.5),
    lot(PICKED_MONDAY, frozen=1.5, given_up=1.0),
)
TWO.add(
    "cook-life",
    "fruit is cooked past its life",
    lot(PAST_LOT, cooked=0.5, spoiled=0.0),
    lot(PICKED_MONDAY, cooked=2.5, given_up=1.0),
    drawn(PICKED_MONDAY, 2.5),
    added("draws", hand.draw(PAST_LOT, 0.5, two_pans.JAM)),  # older fruit 1.5 × 0.9 = 1.35, at most 1.46
)
TWO.add(
    "spoiled",
    "fruit is kept past its last day",
    lot(LAST_DAY_LOT, spoiled=0.8, left=0.2),  # left costs what spoiled costs: it has no life to save
)
TWO.add("spoiled", "fruit spoils before its last day", lot(PICKED_MONDAY, given_up=0.0, spoiled=0.5))
TWO.add("spoiled", "fruit past its life is given up", lot(PAST_LOT, given_up=0.5, spoiled=0.0))
ONE.add(
    "punnet-demand",
    "more is sold than visitors take",
    lot(PICKED_MONDAY, sold=6.5, left=0.5),
    goal("spoiled", -1.1),  # 0.5 kg more sold than could be, × (5 − 2), and 0.5 × 2 less left
)
TWO.add(
    "chiller-room",
    "what should be given up is left",
    lot(PICKED_MONDAY, given_up=0.0, left=1.0),  # 1.0 + 0.7 kg where 1.5 fit; the loss is the same
)

# ---- freezer, rules 6 to 11 ----

ROOMIER = kitchen(freezer=Freezer(kg=6.0, litres=20.0, freeze_kg_per_day=2.0, tray_litres_per_kg=4.0))

TWO.add(
    "freezer-balance",
    "more in than out",
    frozen(FROZEN_NEXT, left=1.5),
    goal("spoiled", 6.3),  # 0.1 × 3 less is left; fresh raspberries fill what is wanted later
)
TWO.add(
    "freezer-balance",
    "a lot opens with more than is on hand",
    frozen(FROZEN_NEXT, opening=2.1, left=1.7),
    ROOMIER,
    goal("spoiled", 6.9),  # 0.1 × 3 more is left, and all that is wanted later was there before
)
TWO.add(
    "freezer-balance",
    "a lot on hand has no row",
    dropped("freezer", lot=FROZEN_PAST),
    goal("spoiled", 5.7),  # 0.3 × 3 less is discarded
)
TWO.add(
    "freezer-balance",
    "less than nothing is discarded",
    frozen(FROZEN_NEXT, discarded=-0.1, left=1.7),  # 0.1 × 3 less discarded, 0.1 × 3 more left
    ROOMIER,
)
TWO.add(
    "freezer-balance",
    "fruit is frozen into a lot on hand",
    frozen(FROZEN_NEXT, frozen=0.1, left=1.7),
    lot(RASPBERRIES, frozen=0.1, left=0.6),  # 0.1 kg moves from chiller to freezer, as wanted as before
    ROOMIER,
)
TWO.add("freezer-balance", "the row's fruit is not the lot's", frozen(FROZEN_PAST, fruit="strawberry"))
TWO.add(
    "freezer-balance",
    "two rows for one lot and day",
    added("freezer", hand.freezer_day(FROZEN_FIRST, two_pans.FIRST)),
)
TWO.add(
    "preparation-loss",
    "more is frozen than preparing leaves",
    frozen(FROZEN_TODAY, frozen=1.9, left=1.9),  # 2.0 × 0.9 = 1.8
    ROOMIER,
    # left 0.1 ÷ 0.9 × 2 = 0.22 more; wanted later are 2.1 kg as picked, all of it from the freezer now
    goal("spoiled", 6.82),
)
ONE.add(
    "preparation-loss",
    "more is drawn than the batch takes",
    lot(PICKED_MONDAY, cooked=5.02, left=0.98),  # 5.02 × 0.98 = 4.92, not 4.9
    drawn(PICKED_MONDAY, 5.02),
    goal("spoiled", 1.36),  # (0.98 − 0.3) × 2
)
TWO.add(
    "freezer-room",
    "more is frozen than fits by weight",
    lot(PICKED_MONDAY, frozen=2.1, given_up=0.4),  # 0.1 × 2 less given up, 0.1 × 2 more left
    frozen(FROZEN_TODAY, frozen=1.89, left=1.89),  # 1.89 + 1.6 = 3.49 where 3.4 fit; 10.76 of 11 litres
)
TWO.add(
    "freezer-litres",
    "trays and boxes take more room than there is",
    kitchen(freezer=replace(two_pans.KITCHEN.freezer, litres=10.3)),  # 10.4 are needed
)
TWO.add(
    "freezing-rate",
    "more is frozen than the freezer freezes in a day",
    kitchen(freezer=replace(two_pans.KITCHEN.freezer, freeze_kg_per_day=1.7)),  # 1.8 are frozen
)
TWO.add("frozen-date", "the row's date is not the lot's", frozen(FROZEN_TODAY, use_by=date(2027, 7, 6)))
TWO.add(
    "frozen-date",
    "fruit is discarded before its date",
    frozen(FROZEN_NEXT, discarded=0.1, left=1.5),  # 0.1 × 3 more discarded, 0.1 × 3 less left
)
TWO.add(
    "frozen-date",
    "fruit past its date is kept",
    frozen(FROZEN_PAST, discarded=0.0, left=0.3),
    # and all that comes after it waits, so that the order of thawing is kept
    dropped("draws", lot=FROZEN_FIRST),
    dropped("draws", lot=FROZEN_NEXT),
    frozen(FROZEN_FIRST, thawed=0.0, left=1.0),
    frozen(FROZEN_NEXT, thawed=0.0, left=2.0),
    mixed("raspberry", fresh_kg=3.0, frozen_kg=0.0),  # all fresh: 3.0 + 4.3 = 7.3, bands 2.92 to 4.38
    lot(RASPBERRIES, cooked=3.0, left=0.0),
    drawn(RASPBERRIES, 3.0),
    mixed("strawberry", fresh_kg=4.3),
    lot(PICKED_MONDAY, cooked=3.778, given_up=0.0, left=0.222),  # (3.778 + 1.0) × 0.9 = 4.3
    drawn(PICKED_MONDAY, 3.778),
    ROOMIER,
    # strawberries: (1.0 + 0.5) × 2 = 3.00; left (0.222 + 2.0) × 2 = 4.44; saved 4.20: 3.24
    # raspberries: nothing discarded; left 3.3 × 3 = 9.90; saved 6.00: 3.90
    goal("spoiled", 7.14),
)
TWO.add(
    "frozen-date",
    "fruit past its date is thawed",
    frozen(FROZEN_PAST, discarded=0.0, thawed=0.3),
    frozen(FROZEN_NEXT, thawed=0.1, left=1.9),
    drawn(FROZEN_NEXT, 0.1),
    added("draws", hand.draw(FROZEN_PAST, 0.3, two_pans.JAM)),
    ROOMIER,
    # 0.3 × 3 less discarded, 0.3 × 3 more left, and all that is wanted later was there before
)
TWO.add(
    "frozen-first",
    "a later lot is thawed before an earlier one is empty",
    frozen(FROZEN_FIRST, thawed=0.6, left=0.4),
    frozen(FROZEN_NEXT, thawed=0.8, left=1.2),
    drawn(FROZEN_FIRST, 0.6),
    drawn(FROZEN_NEXT, 0.8),
)
TWO.add(
    "frozen-first",
    "fruit is thawed on the day it is frozen",
    frozen(FROZEN_TODAY, thawed=0.1, left=1.7),
    mixed("strawberry", fresh_kg=3.5, frozen_kg=0.1),
    lot(PICKED_MONDAY, cooked=2.889, left=0.611),  # (2.889 + 1.0) × 0.9 = 3.5
    drawn(PICKED_MONDAY, 2.889),
    added("draws", hand.draw(FROZEN_TODAY, 0.1, two_pans.JAM)),
    # 0.111 kg as picked are left in the chiller instead of the freezer, and wanted later as before
)


BREAKS = [*ONE.all, *TWO.all, *ORDER.all]
