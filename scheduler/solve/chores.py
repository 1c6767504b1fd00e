"""Work beside the batches by habit: labels as soon as somebody is in, fruit taken out for tomorrow."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from scheduler.model.day import DayWork, label_minutes, take_out_minutes
from scheduler.solve.days import Days
from scheduler.solve.stocks import Stocks, made_on

Jar = tuple[int, int, int]
"""A jar without a label: the last chance to label it in time, the day of potting, its product."""


def waiting(k: Stocks, d: int) -> list[Jar]:
    """The jars potted before a day that have no label, by due and age.

    A jar is due within_days after potting, and for the order or the shop that it would be enough for, as
    far as anybody comes in until then.
    """
    labels = k.cards.kitchen.labels
    if labels is None:
        return []
    found = []
    for p, of in enumerate(k.cards.products):
        potted = [e for e in range(d) for _ in range(made_on(k, p, e))]
        done = sum(jars for (s, _), jars in k.labelled.items() if s == p)
        spare = of.jars_on_hand + done - sum(o.jars for o in k.cards.orders if o.product == p and o.due < d)
        asked = _asked(k, p, d)
        for n, e in enumerate(potted[done:], max(0, spare) + 1):
            dues = [e + labels.within_days, *(due for due, jars in asked if jars >= n)]
            chances = [chance for due in dues if (chance := _last_chance(k, due)) >= d]
            found.append((min(chances, default=k.cards.days), e, p))
    return sorted(found)


def _asked(k: Stocks, product: int, d: int) -> list[tuple[int, int]]:
    """From a day on, when orders and the shop ask for a product, and for how many jars by then."""
    orders = [(o.due, o.jars) for o in k.cards.orders if o.product == product and o.due >= d]
    shop = [(row.day, row.jars) for row in k.cards.shop if row.product == product and row.day >= d]
    left = [*((due, 0) for due, _ in orders), *shop]
    return [(day, n + sum(jars for due, jars in orders if due <= day)) for day, n in left]


def _last_chance(k: Stocks, due: int) -> int:
    """The last day up to one on which anybody comes in; the day itself where the plan does not reach it."""
    return due if due >= k.cards.days else max((d for d in k.working if d <= due), default=-1)


def due_jars(k: Stocks, d: int, work: DayWork, days: Days) -> int:
    """Jars whose labels cannot be put off beyond a day, as far as they fit beside a work."""
    return _fitting(k, work, 0, sum(due <= d for due, _, _ in waiting(k, d)), days)


def _fitting(k: Stocks, work: DayWork, low: int, high: int, days: Days) -> int:
    """The most jars, ``high`` at most, that can be labelled beside a work; ``low`` is known to fit."""
    tried = high
    while low < high:
        more = replace(work, labelling=label_minutes(k.cards, tried))
        if days.answer(more).timetable is None:
            high = tried - 1
        else:
            low = tried
        tried = (low + high + 1) // 2
    return low


def can_be_labelled(k: Stocks, d: int) -> bool:
    """Whether jars potted on a day find somebody to label them in time."""
    labels = k.cards.kitchen.labels
    return labels is None or _last_chance(k, d + labels.within_days) > d


def add_chores(k: Stocks, d: int, work: DayWork, days: Days) -> None:
    """Beside a day's work, labels that are due included: fruit is taken out for tomorrow if somebody can,
    then as much is labelled as fits, where anybody is in anyway."""
    minutes = take_out_minutes(k.cards)
    if minutes:
        with_it = replace(work, taking_out=minutes)
        if days.answer(with_it).timetable is None:
            k.thaws = 0.0
        else:
            work = with_it
    jars = waiting(k, d)
    most = len(jars) if work.batches or work.freezing or k.due_jars else 0
    done = _fitting(k, work, k.due_jars, most, days)
    k.labelled |= {(p, d): n for p, n in Counter(p for _, _, p in jars[:done]).items()}


def days_of_chores(k: Stocks) -> set[int]:
    """The days on which jars are labelled or fruit is taken out for the next."""
    found = {d for _, d in k.labelled}
    if take_out_minutes(k.cards):
        batches = k.cards.batches
        thaws = [m for m, card in enumerate(batches) if card.from_freezer and card.fruit]
        found |= {d - 1 for d, row in enumerate(k.count) if d and any(row[m] for m in thaws)}
    return found
