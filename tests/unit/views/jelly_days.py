"""The sample week with a redcurrant jelly in it: softened on Thursday, its juice boiled on Friday.

Somebody stands by on Friday to pot it up while its re-boil may not be needed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.kitchen import DripStands
from scheduler.domain.recipes import FruitShare
from scheduler.domain.scenario import Situation
from scheduler.law.composition import Kind
from scheduler.plan_rows import Batch, Mix, Part, Plan, Stage, StageKind
from tests.unit.views import kilbrack_sample as sample

THURSDAY, FRIDAY = date(2026, 7, 9), date(2026, 7, 10)
JELLY = "redcurrant jelly"
SOFTENED = Batch(
    "soft",
    THURSDAY,
    JELLY,
    False,
    "little one",
    "front left",
    1.0,
    4.0,
    (),
    0.0,
    0,
    0.0,
    0.0,
    0.0,
    Part.SOFTEN,
)
BOILED = Batch(
    "juice", FRIDAY, JELLY, False, "steel twelve", "back left", 0.8, 4.0, (14,), 3.2, 0, 0.0, 104.1, 88.0,
    Part.BOIL, "soft",
)  # fmt: skip
_FIRST = ((StageKind.SOFTEN, 45), (StageKind.STRAIN, 10))
_SECOND = (
    (StageKind.DISSOLVE, 20),
    (StageKind.BOIL, 25),
    (StageKind.SET_TEST, 5),
    (StageKind.REBOIL, 10),
    (StageKind.SET_TEST, 5),
    (StageKind.STAND, 10),
    (StageKind.POT_UP, 15),
)


def situation() -> Situation:
    """The sample's situation with drip stands and the jelly."""
    found = sample.situation()
    farm = found.scenario
    jelly = replace(
        farm.recipes[0], name=JELLY, fruits=(FruitShare("redcurrant", 1, 1),), kind=Kind.JELLY,
        soften_minutes=20, strained_share=0.6, water_per_kg=0.4, jars_on_hand=0,
    )  # fmt: skip
    kitchen = replace(farm.kitchen, drip_stands=DripStands(2, 8.0))
    return replace(found, scenario=replace(farm, recipes=(*farm.recipes, jelly), kitchen=kitchen))


def plan() -> Plan:
    """The sample's plan and both days of the jelly."""
    found = sample.plan()
    stages = [
        *_in_a_row(SOFTENED, 860, _FIRST),
        Stage(THURSDAY, "soft", StageKind.WASH, 915, 930, ("Noel",)),
        *_in_a_row(BOILED, 800, _SECOND),
        Stage(FRIDAY, "juice", StageKind.STAND_BY, 860, 875, ("Maeve",)),
        Stage(FRIDAY, "juice", StageKind.WASH, 890, 905, ("Noel",)),
    ]
    return replace(
        found,
        batches=(*found.batches, SOFTENED, BOILED),
        stages=(*found.stages, *stages),
        mixes=(*found.mixes, Mix(THURSDAY, JELLY, False, "redcurrant", 4.0, 0.0)),
    )


def _in_a_row(batch: Batch, at: int, kinds: tuple[tuple[StageKind, int], ...]) -> list[Stage]:
    stages = []
    for kind, minutes in kinds:
        people = {StageKind.STAND: (), StageKind.POT_UP: ("Maeve", "Noel")}.get(kind, ("Aoife",))
        stages.append(Stage(batch.day, batch.id, kind, at, at + minutes, people))
        at += minutes
    return stages
