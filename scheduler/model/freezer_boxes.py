"""Boxes of frozen fruit: what one holds, and whether there may be too few."""

from __future__ import annotations

from scheduler.cards import SCALE, Cards, rounded_down
from scheduler.domain.kitchen import FreezerBox


def box_units(box: FreezerBox) -> int:
    """Units that a box holds."""
    return rounded_down(box.kg, 1 / SCALE)


def may_run_out(cards: Cards, kind: int) -> bool:
    """Whether the freezers, full, could need more boxes of a kind than there are: each of its fruits has one
    box at most that is not full."""
    box, units = cards.kitchen.freezer_boxes[kind], box_units(cards.kitchen.freezer_boxes[kind])
    fruits = sum(fruit.box == kind for fruit in cards.fruits)
    held = sum(rounded_down(freezer.kg, 1 / SCALE) for freezer in cards.kitchen.freezers)
    return box.count < (held + fruits * (units - 1)) // units
