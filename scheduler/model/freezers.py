"""Rules of the freezers: their room and rate, room kept free, and days on which one is out of use.

They bind the allocation alone: nothing that happens within a day depends on which freezer fruit lies in.
"""

from __future__ import annotations

from scheduler.cards import SCALE, Cards, rounded_down, rounded_up
from scheduler.domain.kitchen import Freezer
from scheduler.model.decisions import Decisions, total
from scheduler.model.freezer_boxes import box_units


def is_defrosted(cards: Cards, freezer: Freezer, day: int) -> bool:
    """Whether a freezer is emptied for defrosting by the end of a day: the defrost day and the one before."""
    on = freezer.defrost_on
    return on is not None and (on - cards.dates[day]).days in (0, 1)


def has_failed(cards: Cards, freezer: Freezer, day: int) -> bool:
    """Whether a freezer holds nothing at the end of a day because it has failed."""
    return freezer.fails_on is not None and freezer.fails_on <= cards.dates[day]


def must_be_cleared(cards: Cards, day: int) -> bool:
    """Whether fruit may be discarded before its date, as a freezer is defrosted or fails that day."""
    freezers = cards.kitchen.freezers
    return any(is_defrosted(cards, each, day) or each.fails_on == cards.dates[day] for each in freezers)


def freezers_in_use(cards: Cards, day: int) -> tuple[Freezer, ...]:
    """The freezers in which fruit may lie at the end of a day."""
    return tuple(
        freezer
        for freezer in cards.kitchen.freezers
        if not is_defrosted(cards, freezer, day) and not has_failed(cards, freezer, day)
    )


def most_left(cards: Cards, day: int) -> float:
    """Units that all freezers together may hold at the end of a day; infinite where nothing is kept free."""
    kitchen = cards.kitchen
    if kitchen.room_free_from is None or cards.dates[day] < kitchen.room_free_from:
        return float("inf")
    kg = sum(freezer.kg for freezer in kitchen.freezers) - kitchen.room_free_kg
    return rounded_down(kg, 1 / SCALE)


def freezers_have_room(x: Decisions) -> None:
    """freezer-room, freezer-litres, freezing-rate, of each freezer."""
    boxes = [fruit.box_volume for fruit in x.cards.fruits]
    for d in range(x.cards.days):
        for freezer, level, frozen in x.in_each_freezer(d):
            tray = rounded_up(freezer.tray_litres_per_kg * 1_000_000 / SCALE)
            x.model.add(total(level) <= rounded_down(freezer.kg, 1 / SCALE))
            space = [
                box * left + (tray - box) * new for box, left, new in zip(boxes, level, frozen, strict=True)
            ]
            x.model.add(total(space) <= rounded_down(freezer.litres * 1_000_000))
            x.model.add(total(frozen) <= rounded_down(freezer.freeze_kg_per_day, 1 / SCALE))


def fruit_lies_in_one_freezer_or_the_other(x: Decisions) -> None:
    """two-freezers: what is left and frozen is divided, and fruit lies that night where it was frozen."""
    for key, apart in x.second_level.items():
        new = x.second_frozen[key]
        x.model.add(new <= apart)
        x.model.add(new <= x.frozen[key])
        x.model.add(x.frozen[key] - new <= x.level[key] - apart)


def room_is_kept_free(x: Decisions) -> None:
    """room-kept-free, of all freezers together."""
    for d in range(x.cards.days):
        most = most_left(x.cards, d)
        if most < float("inf"):
            x.model.add(total(x.level[f, d] for f in range(len(x.cards.fruits))) <= int(most))


def fruit_has_boxes(x: Decisions) -> None:
    """freezer-boxes, part-full ones of a fruit put together."""
    fruits, kinds = x.cards.fruits, x.cards.kitchen.freezer_boxes
    for (f, d), boxes in x.boxes.items():
        box = fruits[f].box
        if box is not None:
            x.model.add(x.level[f, d] <= box_units(kinds[box]) * boxes)
    for d in range(x.cards.days):
        for b, kind in enumerate(kinds):
            mine = [x.boxes[f, d] for f, fruit in enumerate(fruits) if fruit.box == b and (f, d) in x.boxes]
            x.model.add(total(mine) <= kind.count)


def a_freezer_is_empty_while_it_is_defrosted(x: Decisions) -> None:
    """defrost-day."""
    for d in range(x.cards.days):
        for freezer, level, frozen in x.in_each_freezer(d):
            if is_defrosted(x.cards, freezer, d):
                x.model.add(total(level) <= 0)
                x.model.add(total(frozen) <= 0)


def a_freezer_that_failed_holds_nothing(x: Decisions) -> None:
    """freezer-failure."""
    for d in range(x.cards.days):
        for freezer, level, frozen in x.in_each_freezer(d):
            if has_failed(x.cards, freezer, d):
                x.model.add(total(level) <= 0)
                x.model.add(total(frozen) <= 0)


RULES = (
    freezers_have_room,
    fruit_lies_in_one_freezer_or_the_other,
    room_is_kept_free,
    fruit_has_boxes,
    a_freezer_is_empty_while_it_is_defrosted,
    a_freezer_that_failed_holds_nothing,
)
