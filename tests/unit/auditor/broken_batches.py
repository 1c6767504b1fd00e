"""Good plans broken in mixes, batches and the day's timetable: rules 12 to 24.

Where a break changes what a goal is worth, the goal is restated, with the arithmetic beside it, so
that only the rule itself is broken. Where another rule must be broken too, a comment says why.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.fruit import Grade, Lot, Place
from scheduler.domain.kitchen import JarOven
from scheduler.domain.people import Shift
from scheduler.plan_rows import Draw, Mix, Stage, StageKind

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import (
    Breaks,
    added,
    drawn,
    dropped,
    finish,
    frozen,
    goal,
    kitchen,
    lot,
    mixed,
    moved,
    recipe,
    rows,
    scenario,
)
from .day_of_two_pans import (
    FROZEN_NEXT,
    LAST_DAY_LOT,
    RASPBERRIES,
)
from .worked_days import MONDAY, PICKED_MONDAY, TUESDAY, at

ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
ORDER = Breaks(two_days.SITUATION, two_days.PLAN)
BATCH = {"id": "b1"}

# ---- mixes and batches, rules 12 to 17 ----

ONE.add("draw-balance", "the draw is not what the lot gives", drawn(PICKED_MONDAY, 5.005))
TWO.add("draw-balance", "the mix does not fill the batches", mixed("strawberry", fresh_kg=3.595))
TWO.add(
    "draw-balance",
    "the frozen part is not what is thawed",
    mixed("raspberry", fresh_kg=2.295, frozen_kg=1.405),  # within what preparing may lose
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
    mixed("strawberry", fresh_kg=4.905, frozen_kg=-0.005),  # 4.9 together
)
TWO.add(
    "mix-band",
    "too many strawberries",
    mixed("strawberry", fresh_kg=4.4),  # at most 4.38; (1.0 + 3.889) × 0.9 = 4.4
    mixed("raspberry", fresh_kg=1.5),  # with 1.4 thawed 2.9, at least 2.92
    lot(PICKED_MONDAY, cooked=3.889, given_up=0.0, left=0.111),
    drawn(PICKED_MONDAY, 3.889),
    lot(RASPBERRIES, cooked=1.5, given_up=0.12, left=1.38),
    drawn(RASPBERRIES, 1.5),
    # strawberries: 1.5 × 2 = 3.00; left 2.111 × 2 = 4.22; saved 4.20: 3.02
    # raspberries: (0.12 + 0.3) × 3 = 1.26; left 2.98 × 3 = 8.94; saved 6.00: 4.20
    goal("spoiled", 7.22),
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
FROZEN_STOCK = Lot(
    "strawberry lot A", "strawberry", Grade.KITCHEN, 4.9, Place.FREEZER, date(2025, 8, 1), date(2026, 8, 1)
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
    # all strawberries do come out of the freezer; the fresh ones are given up instead
    scenario(lots=(FROZEN_STOCK,)),
    mixed("strawberry", fresh_kg=0.0, frozen_kg=4.9),
    dropped("draws", lot=PICKED_MONDAY),
    added("draws", Draw(MONDAY, two_days.JAM, True, FROZEN_STOCK.name, 4.9)),
    added("freezer", hand.freezer_day(FROZEN_STOCK.name, date(2026, 8, 1), opening=4.9, thawed=4.9)),
    lot(PICKED_MONDAY, cooked=0.0, given_up=5.0),
    goal("spoiled", 11.4),  # 5.0 × 2 more is given up
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
    "batch-card",
    "kg is not the card's",
    rows("batches", BATCH, kg=4.8),
    mixed("strawberry", fresh_kg=4.8),
    lot(PICKED_MONDAY, cooked=4.898, left=1.102),  # 4.898 × 0.98 = 4.8
    drawn(PICKED_MONDAY, 4.898),
    goal("spoiled", 1.6),  # (1.102 − 0.3) × 2
)
ONE.add(
    "batch-card",
    "jars are not the card's",
    rows("batches", BATCH, filled=(22,)),
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

# ---- a day's timetable, rules 18 to 24 ----

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
SMALL_LATER = (  # on the left ring 5 min after the large batch was tested, by when people stay until noon
    *(
        moved(45, batch="small", kind=kind)
        for kind in (
            StageKind.DISSOLVE,
            StageKind.BOIL,
            StageKind.SET_TEST,
            StageKind.REBOIL,
            StageKind.STAND,
            StageKind.POT_UP,
            StageKind.WASH,
        )
    ),
    rows("stages", {"batch": "small", "kind": StageKind.DISSOLVE}, people=("Cat",)),  # Dan is potting
    moved(30, batch="small", kind=StageKind.LOAD_JARS),  # 10:00 to 10:05, hot from 10:25 to 11:25
    finish("11:35"),
    rows("shifts", {}, end=at("12:00")),
    scenario(
        shifts=tuple(
            Shift(row.person, row.day, row.start, at("12:00"), 0)
            for row in two_pans.SITUATION.scenario.shifts
        )
    ),
    rows("batches", {"id": "small"}, ring="left ring"),
    goal("money", 138.81),  # gas as above, and an hour more of Cat, Dan and Eve: 15 + 12 + 10
)
TWO.add(
    "ring-clash",
    "a pan with nowhere else to stand keeps its ring until potted",
    *SMALL_LATER,
    kitchen(heatproof_places=0),  # so that the large pan keeps the left ring until 10:25
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
TWO.add("freeze-work", "10 min for 13.3", rows("stages", {"kind": StageKind.FREEZE}, end=at("8:25")))


BREAKS = [*ONE.all, *TWO.all, *ORDER.all]
