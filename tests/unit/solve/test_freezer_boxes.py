"""Boxes are counted only of kinds that may run out."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from scheduler.cards import Cards
from scheduler.domain.kitchen import FreezerBox
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.model.freezer_boxes import box_units, may_run_out

WEEK = Path(__file__).parents[3] / "scenarios" / "glut-week"
HELD, BOX, FRUITS = 1.4, 0.3, 2
"""kg that the freezer and a box hold, and how many fruits are packed in boxes."""


def cards(boxes: int) -> Cards:
    situation = read_scenario(WEEK)
    farm = situation.scenario
    kitchen = replace(
        farm.kitchen,
        freezer=replace(farm.kitchen.freezer, kg=HELD),
        room_free_kg=0.0,
        room_free_from=None,
        freezer_boxes=(FreezerBox("box", BOX, boxes),),
    )
    fruits = tuple(replace(f, freezer_box="box" if n < FRUITS else "") for n, f in enumerate(farm.fruits))
    lots = tuple(lot for lot in farm.lots if lot.use_by is None)
    return make_cards(replace(situation, scenario=replace(farm, kitchen=kitchen, fruits=fruits, lots=lots)))


def most_needed() -> int:
    """By trying every way to fill the freezer, in units of 0.1 kg."""
    units, held = round(BOX * 10), round(HELD * 10)
    ways = (each for each in product(range(held + 1), repeat=FRUITS) if sum(each) <= held)
    return max(sum(-(-level // units) for level in each) for each in ways)


@pytest.mark.parametrize(("spare", "counted"), [(-1, True), (0, False), (1, False)])
def test_boxes_are_counted_where_there_may_be_too_few(spare: int, counted: bool) -> None:
    made = cards(most_needed() + spare)
    assert box_units(made.kitchen.freezer_boxes[0]) == round(BOX * 10)
    assert may_run_out(made, 0) is counted
    boxes = AllocationModel(made).x.boxes
    assert {f for f, _ in boxes} == (set(range(FRUITS)) if counted else set())
