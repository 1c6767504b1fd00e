"""When a day's work can happen at all: what closed times and shifts offered leave of the kitchen's hours."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from scheduler.cards import SCALE, Cards
from scheduler.domain.days import Span
from scheduler.domain.held import HeldBatch
from scheduler.domain.people import Skill
from scheduler.model.given import places, without_place
from scheduler.model.stove import cooks_for


@dataclass(frozen=True, slots=True)
class Hours:
    """Minutes from midnight of one day: somebody's first arriving inside the kitchen's hours, their last
    leaving less the clean down, and per batch card that can be cooked at all its earliest and latest begin of
    cooking."""

    open: int
    close: int
    first: dict[int, int]
    last: dict[int, int]


def hours(cards: Cards, day: int) -> Hours:
    """The hours of a day if everybody came in for as long as they offer."""
    kitchen, rules = cards.kitchen, cards.scenario.work_rules
    offered = [staff for staff in cards.staff if staff.day == day]
    starts: dict[int, int] = {}
    leaves: dict[int, int] = {}
    for staff in offered:
        starts[staff.person] = min(staff.start, starts.get(staff.person, staff.start))
        leaves[staff.person] = max(staff.leave, leaves.get(staff.person, staff.leave))
    counted = {staff.person for staff in offered if cards.counts(staff)}
    with_skill = {
        skill: {staff.person for staff in offered if skill in staff.skills}
        for skill in (Skill.COOK, Skill.FILL)
    }
    heat = _together(starts, leaves, counted, kitchen.people_while_boiling)
    cook = _together(starts, leaves, with_skill[Skill.COOK], 1)
    fill = _together(starts, leaves, with_skill[Skill.FILL], kitchen.fillers)
    if heat is None or cook is None:
        return Hours(kitchen.open, kitchen.close, {}, {})
    stretches = open_stretches(cards, day)
    opens = max(stretches[0][0], min(starts.values()))
    closes = min(stretches[-1][1], max(leaves.values())) - kitchen.clean_down_minutes
    late = opens - kitchen.open
    first, last = {}, {}
    placeless = without_place(cards, day)
    for m, card in enumerate(cards.batches):
        if m in placeless or len(with_skill[Skill.COOK]) < cooks_for(rules, card):
            continue
        begin = max(cards.earliest(card) + late, heat[0], cook[0])
        end = min(closes - card.chain - card.wash, min(heat[1], cook[1]) - card.cooking)
        if card.pot:
            if fill is None:
                continue
            begin = max(begin, fill[0] - card.to_pot + card.standby)
            end = min(end, fill[1] - card.chain)
        ways = [(max(begin, since), min(end, until - card.chain)) for since, until in stretches]
        if ways := [way for way in ways if way[0] <= way[1]]:
            first[m], last[m] = ways[0][0], ways[-1][1]
    return Hours(opens, closes, first, last)


def open_stretches(cards: Cards, day: int) -> list[Span]:
    """The times of a day between which the kitchen is closed, in order."""
    kitchen = cards.kitchen
    marks = [kitchen.open, *chain.from_iterable(cards.closed[day]), kitchen.close]
    inside = [min(max(mark, kitchen.open), kitchen.close) for mark in marks]
    return [(since, until) for since, until in zip(inside[::2], inside[1::2], strict=True) if since < until]


def _together(
    starts: dict[int, int], leaves: dict[int, int], people: Iterable[int], need: int
) -> tuple[int, int] | None:
    """From when and until when ``need`` of the people may be in at once; None if there are too few."""
    arriving = sorted(starts[p] for p in people)
    leaving = sorted((leaves[p] for p in people), reverse=True)
    return (arriving[need - 1], leaving[need - 1]) if len(arriving) >= need else None


def can_meet(cards: Cards, row: HeldBatch) -> tuple[int, ...]:
    """The cards of which a batch can meet a held row, as far as its day's hours tell."""
    day = cards.dates.index(row.day)
    h = hours(cards, day)
    return tuple(
        m
        for m in sorted(h.first)
        if cards.scenario.recipes[(card := cards.batches[m]).recipe].name == row.recipe
        and (row.kg is None or abs(card.kg - round(row.kg * SCALE)) <= 1)
        and (row.start is None or h.first[m] <= row.start <= h.last[m])
        and any(row.stands(pan, ring) for pan, ring in places(cards, day, card))
    )
