"""The table of broken plans: for each rule at least one good plan that is broken in just that way.

Where a break changes what a goal is worth, the goal is restated, with the arithmetic beside it, so
that only the rule itself is broken. Where another rule must be broken too, a comment says why.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.kitchen import Freezer, JarOven
from scheduler.domain.trade import Good, Order
from scheduler.plan import DayShift, Finish, JarDay, Mix, OrderLine, Purchase, Stage, StageKind, Totals

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import (
    Break,
    Breaks,
    Change,
    added,
    drawn,
    dropped,
    frozen,
    goal,
    header,
    kitchen,
    lot,
    mixed,
    moved,
    recipe,
    rows,
    scenario,
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
from .worked_days import MONDAY, PICKED_MONDAY, TUESDAY, at

ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
ORDER = Breaks(two_days.SITUATION, two_days.PLAN)

BATCH = {"id": "b1"}
ANN_MONDAY = {"person": "Ann", "day": MONDAY}
SUGAR = {"good": "sugar"}


def all_breaks() -> list[Break]:
    return [*ONE.all, *TWO.all, *ORDER.all]


def finish(ends: str) -> Change:
    """Restate when Monday's last stage ends."""
    return rows("finishes", {"day": MONDAY}, ends=at(ends), bound=at(ends))


# ---- fruit, rules 1 to 5 ------------------------------------------------------------------------

# 0.1 kg too much leaves one lot and 0.1 kg too little another, so that the sum of all lots balances
TWO.add("lot-balance", "more out than in", lot(PICKED_MONDAY, given_up=0.6), lot(LAST_DAY_LOT, spoiled=0.9))
ORDER.add(
    "lot-balance totals",  # what is lost overnight is missing from the sum of all rows, too
    "fruit is lost overnight",
    lot(PICKED_MONDAY, TUESDAY, opening=8.0, left=0.5),
    goal("spoiled", 12.6),  # 0.5 × 2 less is left
)
ORDER.add(
    # Tuesday opens with fruit that came from nowhere; no lot gives Monday's draw; the sum lacks Monday
    "lot-balance draw-balance totals",
    "the row of the pick day is missing",
    dropped("lots", day=MONDAY),
    goal("spoiled", 31.6),  # 6.0 kg fewer are sold: 6.0 × (5 − 2) more is lost
)
ONE.add(
    "lot-balance",
    "less arrives than is picked",
    lot(PICKED_MONDAY, arrived=11.6, left=0.1),
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
    lot(PICKED_MONDAY, sold=6.5, left=0.0),
    goal("spoiled", -1.5),  # 0.5 kg more sold than could be, × (5 − 2); nothing is left
)
TWO.add(
    "chiller-room",
    "what should be given up is left",
    lot(PICKED_MONDAY, given_up=0.0, left=1.0),  # 1.0 + 0.7 kg where 1.5 fit; the loss is the same
)

# ---- freezer, rules 6 to 11 ---------------------------------------------------------------------

ROOMIER = kitchen(freezer=Freezer(kg=5.0, litres=20.0, freeze_kg_per_day=2.0, tray_litres_per_kg=4.0))

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
    lot(PICKED_MONDAY, cooked=5.6, left=0.4),  # 5.6 × 0.9 = 5.04, more than 4.9 + 0.1
    drawn(PICKED_MONDAY, 5.6),
    goal("spoiled", 0.2),  # (0.4 − 0.3) × 2
)
TWO.add(
    "freezer-room",
    "more is frozen than fits by weight",
    lot(PICKED_MONDAY, frozen=2.2, given_up=0.3),  # 2.2 × 0.9 = 1.98, so 1.9 kg
    frozen(FROZEN_TODAY, frozen=1.9, left=1.9),  # 1.9 + 1.6 = 3.5 where 3.4 fit; 10.8 of 11 litres
    # given up 0.2 × 2 less; left 0.1 ÷ 0.9 × 2 = 0.22 more: 6.60 − 0.40 + 0.22
    goal("spoiled", 6.42),
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
    lot(PICKED_MONDAY, cooked=3.8, given_up=0.0, left=0.2),  # (3.8 + 1.0) × 0.9 = 4.32
    drawn(PICKED_MONDAY, 3.8),
    ROOMIER,
    # strawberries: (1.0 + 0.5) × 2 = 3.00; left (0.2 + 2.0) × 2 = 4.40; saved 4.20: 3.20
    # raspberries: nothing discarded; left 3.3 × 3 = 9.90; saved 6.00: 3.90
    goal("spoiled", 7.1),
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
    mixed("strawberry", fresh_kg=3.5, frozen_kg=0.1),  # 4.0 × 0.9 = 3.6 still gives 3.5
    added("draws", hand.draw(FROZEN_TODAY, 0.1, two_pans.JAM)),
    # left 0.1 ÷ 0.9 × 2 = 0.22 less; the fresh fruit takes its place in what is wanted later
    goal("spoiled", 6.38),
)

# ---- mixes and batches, rules 12 to 17 ----------------------------------------------------------

ONE.add("draw-balance", "the draw is not what the lot gives", drawn(PICKED_MONDAY, 5.45))  # × 0.9 = 4.905
TWO.add("draw-balance", "the mix does not fill the batches", mixed("strawberry", fresh_kg=3.5))
TWO.add(
    "draw-balance",
    "the frozen part is not what is thawed",
    mixed("raspberry", fresh_kg=2.2, frozen_kg=1.5),  # 2.3 kg drawn fresh give 2.2 and 0.1 of loss
)
TWO.add(
    "draw-balance",
    "a mix without a batch",
    added("mixes", Mix(MONDAY, two_pans.JAM, True, "raspberry", 0.0, 0.0)),
)
TWO.add(
    "draw-balance",
    "a fruit listed twice",
    added("mixes", Mix(MONDAY, two_pans.JAM, False, "raspberry", 0.0, 0.0)),
)
ONE.add(
    "draw-balance",
    "a fruit that is not the recipe's",
    added("mixes", Mix(MONDAY, two_days.JAM, False, "raspberry", 0.0, 0.0)),
    scenario(fruits=(hand.STRAWBERRY, two_pans.RASPBERRY)),
)
TWO.add(
    "draw-balance",
    "less than nothing is drawn",
    drawn(RASPBERRIES, 2.4),
    added("draws", hand.draw(RASPBERRIES, -0.1, two_pans.JAM)),
)
ONE.add(
    "draw-balance",
    "less than nothing from the freezer",
    mixed("strawberry", fresh_kg=4.95, frozen_kg=-0.05),
    # nothing else: 5.5 × 0.9 = 4.95 kg, and 4.95 − 0.05 = 4.9 fill the pan
)
TWO.add(
    "mix-band",
    "too many strawberries",
    mixed("strawberry", fresh_kg=4.4),  # at most 4.38; (1.0 + 3.9) × 0.9 = 4.41
    mixed("raspberry", fresh_kg=1.5),  # with 1.4 thawed 2.9, at least 2.92
    lot(PICKED_MONDAY, cooked=3.9, given_up=0.0, left=0.1),
    drawn(PICKED_MONDAY, 3.9),
    lot(RASPBERRIES, cooked=1.5, given_up=0.1, left=1.4),
    drawn(RASPBERRIES, 1.5),
    # strawberries: 1.5 × 2 = 3.00; left 2.1 × 2 = 4.20, all of it wanted: 3.00
    # raspberries: (0.1 + 0.3) × 3 = 1.20; left 3.0 × 3 = 9.00; saved 6.00: 4.20
    goal("spoiled", 7.2),
)
TWO.add(
    "frozen-share",
    "too much from the freezer",
    mixed("raspberry", fresh_kg=1.7, frozen_kg=2.0),  # at most 7.3 × 0.25 = 1.825
    frozen(FROZEN_NEXT, thawed=1.0, left=1.0),
    drawn(FROZEN_NEXT, 1.0),
    lot(RASPBERRIES, cooked=1.7, given_up=0.4, left=0.9),
    drawn(RASPBERRIES, 1.7),
    # raspberries: (0.4 + 0.3) × 3 = 2.10; the 1.9 kg left are all wanted; with strawberries 4.80 + 2.10
    goal("spoiled", 6.9),
)
FROM_FREEZER = (
    rows("batches", BATCH, from_freezer=True),
    rows("mixes", {}, from_freezer=True),
    rows("draws", {}, from_freezer=True),
    dropped("stages", kind=StageKind.PREPARE),  # fruit from the freezer is prepared already
)
ONE.add("frozen-share", "fresh fruit in a batch from the freezer", *FROM_FREEZER, recipe(frozen_share=1.0))
ONE.add(
    "frozen-share",
    "a recipe that may not be cooked from the freezer",
    *FROM_FREEZER,
    # the strawberries come out of the freezer, and are given up instead of cooked
    scenario(lots=(two_days_frozen := replace_lot(),)),
    mixed("strawberry", fresh_kg=0.0, frozen_kg=4.9),
    dropped("draws", lot=PICKED_MONDAY),
    added("draws", Draw(MONDAY, two_days.JAM, True, two_days_frozen.name, 4.9)),
    added("freezer", hand.freezer_day(two_days_frozen.name, date(2026, 8, 1), opening=4.9, thawed=4.9)),
    lot(PICKED_MONDAY, cooked=0.0, given_up=5.5),
    goal("spoiled", 11.4),  # 5.5 × 2 more is given up
)
TWO.add(
    "older-share",
    "too much fruit past its peak",
    lot(LAST_DAY_LOT, cooked=1.7, spoiled=0.3),  # 1.7 × 0.9 = 1.53, at most 7.3 × 0.2 = 1.46
    lot(PICKED_MONDAY, cooked=2.3, given_up=1.2),
    drawn(LAST_DAY_LOT, 1.7),
    drawn(PICKED_MONDAY, 2.3),
)

for field, value in (
    ("lemons", 4),
    ("pectin_g", 24),
    ("sugar_kg", 4.8),
    ("set_temperature_c", 104.0),
    ("last_jar_c", 80.9),
):
    ONE.add("batch-card", f"{field} is not the card's", rows("batches", BATCH, **{field: value}))
ONE.add(
    "batch-card draw-balance",  # the mix of 4.9 kg fills one or the other
    "kg is not the card's",
    rows("batches", BATCH, kg=4.8),
    recipe(fruits=(FruitShare("strawberry", 0.9, 1.1),)),  # a band wide enough not to matter
)
ONE.add(
    "batch-card",
    "jars are not the card's",
    rows("batches", BATCH, jars=22),
    rows("jars", {}, made=22, left=22),
)
ONE.add("batch-card", "the fill step is not the kitchen's", kitchen(fill_steps=(0.5,)))
ONE.add(
    "batch-card",
    "the pan is too wide for the ring",
    kitchen(rings=(replace(hand.LEFT, largest_pan_cm=39.0),)),
)
ONE.add(
    "batch-card",
    "there is no card: the last jar is too cold",
    kitchen(potting_limit_c=85.0),
    goal("money", 108.0),  # no card, no energy
)
ONE.add(
    "batch-card",
    "there is no card: the boil is too long",
    recipe(longest_boil_minutes=35),
    goal("money", 108.0),
)
ORDER.add(
    "batch-card stage-list",  # Tuesday's stages are on another day than the (first) batch of that name
    "two batches with one id",
    rows("batches", {"id": "b2"}, id="b1"),
    rows("stages", {"batch": "b2"}, batch="b1"),
)
ONE.add("most-jars", "more is made than can be sold", recipe(most_jars=22))

# ---- a day's timetable, rules 18 to 24 ----------------------------------------------------------

ONE.add("stage-list", "a time that is no multiple of 5", moved(2, kind=StageKind.WASH), finish("10:22"))
ONE.add(
    "stage-list",
    "uneven pieces of preparing",
    rows("stages", {"kind": StageKind.PREPARE, "people": ("Ann",)}, end=at("8:15")),
    rows("stages", {"kind": StageKind.PREPARE, "people": ("Ben",)}, end=at("8:25")),
)
ONE.add("stage-list", "a piece of preparing is missing", dropped("stages", kind=StageKind.PREPARE))
ONE.add(
    "stage-list",
    "jars loaded twice",
    added("stages", Stage(MONDAY, "b1", StageKind.LOAD_JARS, at("8:30"), at("8:35"), ("Ben",))),
)
ONE.add(
    "stage-list",
    "a boil cut short",
    rows("stages", {"kind": StageKind.BOIL}, end=at("9:40")),
    *(moved(-5, kind=kind) for kind in (StageKind.SET_TEST, StageKind.STAND, StageKind.POT_UP)),
)
ONE.add("stage-list", "no set test", dropped("stages", kind=StageKind.SET_TEST))
ONE.add(
    "stage-list",
    "a wait before potting",
    moved(5, kind=StageKind.POT_UP),
    moved(5, kind=StageKind.WASH),
    finish("10:25"),
)
ONE.add("stage-list", "washed before it is potted", moved(-5, kind=StageKind.WASH), finish("10:15"))
ONE.add("stage-list", "the pan is not washed", dropped("stages", kind=StageKind.WASH), finish("10:10"))
ORDER.add(
    "stage-list",
    "washed on another day",
    rows("stages", {"batch": "b1", "kind": StageKind.WASH}, day=TUESDAY, start=at("11:00"), end=at("11:10")),
    finish("10:10"),
    rows("finishes", {"day": TUESDAY}, ends=at("11:10"), bound=at("11:10")),
)
ONE.add("stage-list", "work for no batch", added("stages", Stage(MONDAY, "", StageKind.STAND, 480, 485, ())))
ONE.add("prepared-first", "prepared while it dissolves", moved(30, kind=StageKind.PREPARE, people=("Ben",)))
ORDER.add(
    "kitchen-hours",
    "washing after closing",
    moved(5, batch="b1", kind=StageKind.WASH),  # 13:05 to 13:15, closing is at 13:10
    finish("13:15"),
)
ONE.add(
    "kitchen-hours",
    "preparing before opening",
    kitchen(open=at("8:05")),
)
TWO.add(
    "pan-clash",
    "both batches in the large pan",
    # half of the large pan is all of the small one: 0.5 × 4.9077 = 2.45, so 2.4 kg, but it lies flatter:
    # 0.0245 m deep, 4.703 W/K, exp(−1200 × 4.703 ÷ (4.0911 × 2900)) = 0.6214, 72.06 °C
    rows("batches", {"id": "small"}, pan="large pan", fill_step=0.5, last_jar_c=72.06),
)
TWO.add(
    "ring-clash",
    "both batches on the left ring",
    rows("batches", {"id": "small"}, ring="left ring"),
    goal("money", 101.81),  # gas instead of electricity: 2.5 kWh × 0.12 = 0.30 instead of 1.00
)
TWO.add(
    "ring-clash",
    "a ring that is not free until potting, without heatproof places",
    # on the left ring after the large batch was tested (10:05), but before it is potted (10:25); the pans
    # keep the rings, as there is nowhere to put them; the second batch starts at 10:10
    kitchen(heatproof_places=0),
    rows("batches", {"id": "small"}, ring="left ring"),
    *SMALL_LATER,
    goal("money", 101.81),
)
TWO.add(
    "heatproof-places",
    "two pans off the heat, one place",
    # 5 min earlier the small pan comes off at 10:20, while the large one is potted until 10:25
    *(
        moved(-5, batch="small", kind=kind)
        for kind in (
            StageKind.DISSOLVE,
            StageKind.BOIL,
            StageKind.SET_TEST,
            StageKind.REBOIL,
            StageKind.STAND,
        )
    ),
    moved(-5, batch="small", kind=StageKind.POT_UP),
    rows("stages", {"batch": "small", "kind": StageKind.POT_UP}, people=("Cat", "Dan")),
)
TWO.add(
    "oven-jars",
    "more jars than the oven holds",
    kitchen(oven=JarOven(jars=34, load_minutes=5, heat_minutes=20, hot_minutes=60)),  # 24 + 11 at once
)
ONE.add("jars-hot", "jars are loaded too late", moved(40, kind=StageKind.LOAD_JARS))  # hot from 10:00
ONE.add("jars-hot", "jars are loaded too early", moved(-30, kind=StageKind.LOAD_JARS))  # hot until 9:50
TWO.add("freeze-work", "nobody prepares to freeze", dropped("stages", kind=StageKind.FREEZE))
