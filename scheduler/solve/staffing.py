"""Choosing staff cards outside the solver: everybody in, or the cheapest addition to one day."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from scheduler.cards import Cards, StaffCard

Staff = tuple[int, ...]


def allowed(cards: Cards, staff: Staff) -> bool:
    """Whether shifts, weekly hours and rest between days allow these staff cards together."""
    rest = cards.scenario.work_rules.rest_minutes
    by_person: dict[int, list[StaffCard]] = {}
    for i in staff:
        by_person.setdefault(cards.staff[i].person, []).append(cards.staff[i])
    for person, mine in by_person.items():
        mine.sort(key=lambda card: card.day)
        for card, after in pairwise(mine):
            if card.day == after.day:
                return False
            if after.day == card.day + 1 and after.start + 1440 - card.leave < rest:
                return False
        weeks: dict[tuple[int, int], int] = {}
        for card in mine:
            week = cards.dates[card.day].isocalendar()[:2]
            weeks[week] = weeks.get(week, 0) + card.present
        if max(weeks.values()) > round(cards.scenario.people[person].hours_week * 60):
            return False
    return True


def with_all_hands(cards: Cards, staff: Staff, days: tuple[int, ...]) -> Staff:
    """Give every person on ``days``, in that order, the longest presence that is still allowed."""
    for day in days:
        for i in sorted(on_day(cards, day), key=lambda i: -cards.staff[i].present):
            mine = [j for j in staff if cards.staff[j].person == cards.staff[i].person]
            same = [j for j in mine if cards.staff[j].day == day]
            if all(_covers(cards.staff[i], cards.staff[j]) for j in same):
                tried = [j for j in mine if j not in same] + [i]
                if allowed(cards, tuple(tried)):
                    staff = (*(j for j in staff if j not in same), i)
    return tuple(sorted(staff))


def on_day(cards: Cards, day: int) -> list[int]:
    """Indices of the staff cards offered on a day."""
    return [i for i, card in enumerate(cards.staff) if card.day == day]


def _covers(more: StaffCard, less: StaffCard) -> bool:
    return more.start <= less.start and more.leave >= less.leave and more.present > less.present


def additions(cards: Cards, staff: Staff, day: int) -> Iterator[Staff]:
    """Staff with one person more, or longer, on a day: cheapest first; at last everybody."""
    tries = []
    for i in on_day(cards, day):
        person = cards.staff[i].person
        same = [j for j in staff if (cards.staff[j].day, cards.staff[j].person) == (day, person)]
        if all(_covers(cards.staff[i], cards.staff[j]) for j in same) and i not in staff:
            changed = (*(j for j in staff if j not in same), i)
            if allowed(cards, changed):
                extra = cards.staff[i].pay - sum(cards.staff[j].pay for j in same)
                tries.append((extra, tuple(sorted(changed))))
    yield from (changed for _, changed in sorted(tries))
    everybody = with_all_hands(cards, staff, (day,))
    if everybody != staff:
        yield everybody
