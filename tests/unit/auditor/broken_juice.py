"""Plans of jelly, cordial and fruit butter broken in what is theirs, and others that are just inside.

Rules 12, 16, 18, 19, 21, 22, 25, 27, 28, 33, 40 and 41. Where a change alters what a goal is worth, the
goal is restated, with the arithmetic beside it, so that only the rule itself is broken.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scheduler.domain.kitchen import DripStands
from scheduler.domain.people import Shift
from scheduler.domain.trade import Delivery
from scheduler.law.composition import Kind
from scheduler.plan_rows import Mix, Stage, StageKind

from . import day_of_fruit_butter as butter
from . import three_days_of_cordial as cordial
from . import three_days_of_jelly as jelly
from . import worked_days as hand
from .breaking import (
    Breaks,
    Change,
    added,
    dropped,
    finish,
    goal,
    kitchen,
    lot,
    moved,
    recipe,
    rows,
    scenario,
)
from .three_days_of_jelly import CURRANTS, JELLY, WEDNESDAY
from .worked_days import MONDAY, TUESDAY, at

THREE = Breaks(jelly.SITUATION, jelly.PLAN)
CORDIAL = Breaks(cordial.SITUATION, cordial.PLAN)
BUTTER = Breaks(butter.SITUATION, butter.PLAN)
INSIDE = Breaks(jelly.SITUATION, jelly.PLAN)
"""Each of these breaks no rule."""

NONE = ""


def batch(name: str, **values: Any) -> Change:
    return rows("batches", {"id": name}, **values)


def stage(name: str, kind: StageKind, **values: Any) -> Change:
    return rows("stages", {"batch": name, "kind": kind}, **values)


def finishes(day: Any, ends: str) -> Change:
    return rows("finishes", {"day": day}, ends=at(ends), bound=at(ends))


def stands(count: int, litres: float) -> Change:
    return kitchen(drip_stands=DripStands(count, litres))


def leaving(clock: str, day: Any, *names: str) -> tuple[Change, ...]:
    """These people offer, and work, a day until then."""

    def until(shift: Shift) -> Shift:
        return replace(shift, end=at(clock)) if shift.day == day and shift.person in names else shift

    offered = tuple(map(until, jelly.SITUATION.scenario.shifts))
    worked = (rows("shifts", {"day": day, "person": name}, end=at(clock)) for name in names)
    return (*worked, scenario(shifts=offered))


# ---- mixes, batches and the store: rules 12, 16, 33 ----

THREE.add(
    "draw-balance",
    "a mix for juice",
    added("mixes", Mix(WEDNESDAY, JELLY, False, "redcurrant", 0.0, 0.0)),
)
THREE.add("batch-card", "a jam is made whole", recipe(kind=Kind.JAM), goal("money", 202.50))  # no energy
for field, value in (("set_temperature_c", 103.77), ("last_jar_c", 73.66)):
    THREE.add("batch-card", f"a batch that softens has a {field}", batch("b1", **{field: value}))
THREE.add(
    "batch-card",
    "a stand holds less than the batch",
    stands(2, 7.4),  # 7.4 ÷ 1.5 = 4.93, so 4.9 kg, softened in as many minutes; but no juice is of 5.0 kg
    goal("money", 203.93),  # 2 × 0.60 less
)
INSIDE.add(NONE, "a stand holds little more than the batch", stands(2, 7.6))  # 5.07, so 5.0 kg
THREE.add(
    "batch-card",
    "juice does not fit the pan",
    kitchen(pans=(*jelly.KITCHEN.pans, hand.SMALL)),
    batch("b4", pan=hand.SMALL.name, fill_step=1.5188),  # 4 ÷ 1.2151 = 3.292, so 3.2 kg; 5.0 ÷ 3.292
    goal("money", 204.53),  # 0.60 less
)
THREE.add("batch-card", "juice fills its pan less than it says", batch("b2", fill_step=0.7605))
INSIDE.add(NONE, "juice fills its pan as it says, to 0.001", batch("b2", fill_step=0.7604))  # 0.75941
INSIDE.add(NONE, "the kg of juice are right to 0.001", batch("b2", kg=5.001))


def sugar(on_hand: float) -> Change:
    """All the sugar there is until half of it comes on Wednesday."""
    goods = jelly.SITUATION.scenario.goods
    fewer = tuple(replace(good, on_hand=on_hand) if good.name == "sugar" else good for good in goods)
    return scenario(goods=fewer, deliveries=(Delivery(WEDNESDAY, "sugar", 2.5),))


INSIDE.add(NONE, "sugar is there when the juice is boiled", sugar(2.5))
THREE.add("store", "too little sugar on the day of the boil", sugar(2.4))

# ---- juice and drip stands: rules 40, 41 ----

THREE.add("juice", "juice of no batch", batch("b2", juice_of=""))
THREE.add("juice", "juice of a batch that is not there", batch("b2", juice_of="b9"))
THREE.add("juice", "juice of juice", batch("b4", juice_of="b2"))
THREE.add("juice", "juice of the day before that", batch("b4", juice_of="b1"))  # named twice, b3 never
THREE.add(
    "juice",
    "juice of fruit from the freezer",
    batch("b2", from_freezer=True),
    recipe(frozen_share=1.0),
)
THREE.add(
    "juice",
    "juice of more fruit than was softened",
    # half of the pan: 2.67, so 2.6 kg, and 1.3 kg of water: prepare 6.5, so 10 min; soften 17.4 + 20, so 40;
    # strain 3.9, so 5
    batch("b1", fill_step=0.5, kg=2.6),
    rows("mixes", {"day": MONDAY}, fresh_kg=2.6),
    rows("draws", {"day": MONDAY}, kg=2.6),
    lot(CURRANTS, MONDAY, cooked=2.6, left=9.4),
    lot(CURRANTS, TUESDAY, opening=9.4, left=4.4),
    lot(CURRANTS, WEDNESDAY, opening=4.4, left=4.4),
    stage("b1", StageKind.PREPARE, end=at("8:10")),
    stage("b1", StageKind.SOFTEN, end=at("8:55")),
    stage("b1", StageKind.STRAIN, start=at("8:55"), end=at("9:00")),
    goal("spoiled", 8.80),  # 4.4 × 2
    goal("money", 205.04),  # 3 × 40 ÷ 60 × 0.12 = 0.24 instead of 0.33
)
THREE.add(
    "juice",
    "juice is never boiled",
    dropped("batches", id="b4"),
    dropped("stages", batch="b4"),
    dropped("finishes", day=WEDNESDAY),
    rows("jars", {"day": WEDNESDAY}, made=0, left=12),
    goal("money", 204.53),  # 0.60 less
    goal("tidiness", 2.0),
)
THREE.add("juice", "a batch that softens is of another's juice", batch("b3", juice_of="b1"))
BUTTER.add("juice", "a whole batch is of another's juice", batch("b1", juice_of="b1"))
THREE.add("drip-stands", "one stand on the day that one is emptied and one filled", stands(1, 7.5))

# ---- a day's timetable: rules 18, 19, 21, 22 ----

THREE.add("stage-list", "softened for 50 min", stage("b1", StageKind.SOFTEN, start=at("8:20")))
THREE.add("stage-list", "not strained", dropped("stages", batch="b1", kind=StageKind.STRAIN))
THREE.add(
    "stage-list",
    "a wait before straining",
    moved(5, batch="b1", kind=StageKind.STRAIN),
    moved(5, batch="b1", kind=StageKind.WASH),
    finish("9:35"),
)
THREE.add(
    "stage-list",
    "jars for a batch that is not potted",
    added("stages", Stage(MONDAY, "b1", StageKind.LOAD_JARS, at("9:00"), at("9:05"), ("Ben",))),
)
THREE.add(
    "stage-list",
    "washed while it strains",
    moved(-5, batch="b1", kind=StageKind.WASH),
    stage("b1", StageKind.WASH, people=("Ben",)),  # Ann strains
    finish("9:25"),
)
CORDIAL.add(
    "stage-list",
    "cordial is tested for a set",
    added("stages", Stage(WEDNESDAY, "b4", StageKind.SET_TEST, at("9:40"), at("9:45"), ("Ann",))),
    moved(5, batch="b4", kind=StageKind.POT_UP),
    moved(5, batch="b4", kind=StageKind.WASH),
    finishes(WEDNESDAY, "10:05"),
)
BUTTER.add(
    "stage-list",
    "strained after it is boiled",
    stage("b1", StageKind.STRAIN, start=at("10:50"), end=at("11:05")),
    *(moved(-15, batch="b1", kind=kind) for kind in (StageKind.DISSOLVE, StageKind.BOIL)),
)
THREE.add("prepared-first", "prepared while it softens", moved(5, batch="b1", kind=StageKind.PREPARE))
THREE.add("pan-clash", "softened in the pan that boils", batch("b3", pan=hand.LARGE.name))
THREE.add(
    "ring-clash",
    "softened on the ring that boils",
    batch("b3", ring=hand.LEFT.name),
    goal("money", 204.36),  # 0.33 of gas instead of 1.10
)


def one_after_the_other(minutes: int) -> tuple[Change, ...]:
    """On Tuesday's left ring fruit is strained until 9:20; the juice comes on so many minutes after 8:00."""
    after = (moved(minutes, batch="b2", kind=kind) for kind, *_ in jelly.JUICE_LINES)
    before = (
        moved(-20, batch="b3", kind=kind) for kind in (StageKind.SOFTEN, StageKind.STRAIN, StageKind.WASH)
    )
    return (
        batch("b3", ring=hand.LEFT.name),
        *before,
        *after,
        *leaving("11:30", TUESDAY, "Ann", "Ben"),
        goal("money", 231.36),  # 0.77 less as above, 1 h × 27 more of pay
    )


INSIDE.add(NONE, "on the ring when straining ends", *one_after_the_other(80), finishes(TUESDAY, "11:30"))
THREE.add("ring-clash", "on the ring while it strains", *one_after_the_other(75), finishes(TUESDAY, "11:25"))

# ---- hands: rules 25, 27, 28 ----

THREE.add("hands", "strained by no cook", stage("b1", StageKind.STRAIN, people=("Ben",)))
THREE.add("hands", "softened by no cook", stage("b1", StageKind.SOFTEN, people=("Ben",)))
THREE.add("hands", "softened by nobody", stage("b1", StageKind.SOFTEN, people=()))
THREE.add(
    "two-places",
    "strains one pan and tests the other",
    *(moved(5, batch="b3", kind=kind) for kind in (StageKind.SOFTEN, StageKind.STRAIN, StageKind.WASH)),
    stage("b3", StageKind.WASH, people=("Ann",)),  # Ben pots up
)
THREE.add("two-places", "minds the boil and softens where one pan is the most", kitchen(pans_per_cook=1))
THREE.add(
    "people-while-boiling",
    "the second person goes home before straining ends",
    *leaving("9:15", MONDAY, "Ben"),
    goal("money", 190.13),  # 1.25 h × 12 = 15 less
)
INSIDE.add(
    NONE,
    "the second person goes home when straining ends",
    *leaving("9:20", MONDAY, "Ben"),
    goal("money", 191.13),  # 70 min × 12 = 14 less
)

BREAKS = [*THREE.all, *CORDIAL.all, *BUTTER.all]
