"""The day of two pans with other freezers, broken in what they hold: rules 8, 9, 51 and 57 to 60.

That day 1.8 kg of strawberries are frozen (7.2 litres on trays), and 1.6 kg of raspberries (3.2) are left.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from scheduler.domain.kitchen import Freezer, FreezerBox

from . import day_of_two_pans as two_pans
from .breaking import Breaks, Change, dropped, frozen, goal, kitchen, lot
from .day_of_two_pans import FROZEN_NEXT, FROZEN_TODAY
from .worked_days import MONDAY, PICKED_MONDAY, TUESDAY

NONE = ""
BOTH = Breaks(two_pans.SITUATION, two_pans.PLAN)
INSIDE = Breaks(two_pans.SITUATION, two_pans.PLAN)
"""Each of these breaks no rule."""

FIRST = two_pans.KITCHEN.freezer
SECOND = Freezer(kg=1.8, litres=7.2, freeze_kg_per_day=1.8, tray_litres_per_kg=4.0, name="small freezer")
"""Holds just what is frozen that day."""


def second(**values: Any) -> Change:
    """A second freezer, in which all that is frozen that day lies."""

    def change(situation: Any, plan: Any) -> Any:
        situation, plan = kitchen(second_freezer=replace(SECOND, **values))(situation, plan)
        return frozen(FROZEN_TODAY, in_second=1.8)(situation, plan)

    return change


def boxes(*kinds: tuple[str, float, int]) -> Change:
    """Strawberries are packed in the first kind of box (name, kg, count), raspberries in the last."""

    def change(situation: Any, plan: Any) -> Any:
        in_boxes = {"strawberry": kinds[0][0], "raspberry": kinds[-1][0]}
        scenario = situation.scenario
        fruits = tuple(replace(f, freezer_box=in_boxes.get(f.name, "")) for f in scenario.fruits)
        situation = replace(situation, scenario=replace(scenario, fruits=fruits))
        return kitchen(freezer_boxes=tuple(FreezerBox(*kind) for kind in kinds))(situation, plan)

    return change


def first(**values: Any) -> Change:
    return kitchen(freezer=replace(FIRST, **values))


# ---- room kept free: 3.4 kg are left ----

BOTH.add("room-kept-free", "a little less is free", kitchen(room_free_kg=0.1, room_free_from=MONDAY))
INSIDE.add(NONE, "just so much is free", first(kg=3.5), kitchen(room_free_kg=0.1, room_free_from=MONDAY))
INSIDE.add(NONE, "from tomorrow on", kitchen(room_free_kg=3.0, room_free_from=TUESDAY))
INSIDE.add(
    NONE,
    "of both freezers together",  # 3.4 + 1.8 − 3.4 = 1.8
    second(),
    kitchen(room_free_kg=1.8, room_free_from=MONDAY),
)
BOTH.add(
    "room-kept-free",
    "of both freezers together, too much",
    second(),
    kitchen(room_free_kg=1.9, room_free_from=MONDAY),
)

# ---- boxes: 1.8 kg of strawberries and 1.6 kg of raspberries are left ----

BOTH.add("freezer-boxes", "a box too few", boxes(("box", 0.9, 3)))
INSIDE.add(NONE, "just enough boxes", boxes(("box", 0.9, 4)))
BOTH.add("freezer-boxes", "each fruit fills its own", boxes(("box", 3.4, 1)))
INSIDE.add(NONE, "of each kind just enough", boxes(("small", 0.6, 3), ("large", 0.8, 2)))
BOTH.add("freezer-boxes", "of one kind too few", boxes(("small", 0.6, 2), ("large", 0.8, 2)))

# ---- two freezers ----

INSIDE.add(NONE, "each freezer just full", first(kg=1.6, litres=3.2, freeze_kg_per_day=0.0), second())
BOTH.add("freezer-room", "the first is too full", first(kg=1.5, litres=3.2), second())
BOTH.add("freezer-room", "the second is too full", second(kg=1.7))
BOTH.add("freezer-litres", "boxes in the first take too much room", first(litres=3.1), second())
BOTH.add("freezer-litres", "trays in the second take too much room", second(litres=7.1))
BOTH.add("freezing-rate", "the second freezes too much", second(freeze_kg_per_day=1.7))
BOTH.add("two-freezers", "there is no second freezer", frozen(FROZEN_NEXT, in_second=0.1))
BOTH.add(
    "two-freezers",
    "more lies in it than is left",
    second(kg=3.5, litres=12.0),
    frozen(FROZEN_NEXT, in_second=1.7),
)
INSIDE.add(NONE, "a lot lies in it whole", second(kg=3.4, litres=10.4), frozen(FROZEN_NEXT, in_second=1.6))
BOTH.add("two-freezers", "less than nothing lies in it", second(), frozen(FROZEN_NEXT, in_second=-0.1))

# ---- defrosting: nothing may be left or frozen on the day and on the one before ----

BOTH.add("defrost-day", "the only freezer, on the day", first(defrost_on=MONDAY))
BOTH.add("defrost-day", "the second one, on the day before", second(defrost_on=TUESDAY))
BOTH.add("defrost-day", "the first of two still holds a lot", first(defrost_on=TUESDAY), second())
INSIDE.add(NONE, "the day after tomorrow", first(defrost_on=TUESDAY + timedelta(days=1)))
INSIDE.add(NONE, "yesterday", first(defrost_on=MONDAY - timedelta(days=1)))
INSIDE.add(
    NONE,
    "all lies in the other",
    first(defrost_on=MONDAY),
    second(kg=3.4, litres=10.4),
    frozen(FROZEN_NEXT, in_second=1.6),
)
INSIDE.add(NONE, "the second is not used", kitchen(second_freezer=replace(SECOND, defrost_on=MONDAY)))

LOST = (  # what is frozen is given up instead; the rest of a lot is discarded
    dropped("freezer", lot=FROZEN_TODAY),
    dropped("stages", batch=""),
    lot(PICKED_MONDAY, frozen=0.0, given_up=2.5),
    frozen(FROZEN_NEXT, discarded=1.6, left=0.0),
    # strawberries: (1.0 + 0.5 + 2.5) × 2 = 8; left 0.5 × 2 = 1, wanted later: 8.00
    # raspberries: (0.3 + 1.6) × 3 = 5.70; left 0.7 × 3 = 2.10, all of it wanted later and of its whole life
    goal("spoiled", 13.7),
)
INSIDE.add(NONE, "the rest is discarded the evening before", *LOST, first(defrost_on=TUESDAY))
INSIDE.add(NONE, "the rest is discarded on the day", *LOST, first(defrost_on=MONDAY))
BOTH.add("frozen-date", "discarded too early", *LOST, first(defrost_on=TUESDAY + timedelta(days=1)))

# ---- failure ----

BOTH.add("freezer-failure", "it failed and still holds and freezes", first(fails_on=MONDAY))
BOTH.add("freezer-failure", "it failed before", first(fails_on=MONDAY - timedelta(days=1)))
INSIDE.add(NONE, "it fails tomorrow", first(fails_on=TUESDAY))
INSIDE.add(NONE, "what it held is lost", *LOST, first(fails_on=MONDAY))
BOTH.add("frozen-date", "lost a day before it fails", *LOST, first(fails_on=TUESDAY))
INSIDE.add(
    NONE,
    "what the other one holds is kept",
    first(fails_on=MONDAY),
    second(kg=3.4, litres=10.4),
    frozen(FROZEN_NEXT, in_second=1.6),
)
BOTH.add("freezer-failure", "the first of two still holds a lot", first(fails_on=MONDAY), second())

BREAKS = BOTH.all
