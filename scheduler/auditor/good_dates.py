"""Rule 61: goods on hand go by their dates, the soonest first; what is left after its date is lost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from scheduler.auditor.case import Case
from scheduler.auditor.finding import KG, Finding
from scheduler.auditor.store import goods_coming, goods_used
from scheduler.domain.trade import Good


@dataclass(frozen=True, slots=True)
class Dated:
    """What is on hand of a good up to one date, in the good's unit, and how much of it is past that date."""

    good: str
    use_by: date
    on_hand: float
    lost: float


def nothing_is_used_past_its_date(case: Case) -> Iterator[Finding]:
    for name, good in case.farm.goods.items():
        for day, quantity in _day_by_day(case, good)[1].items():
            where = f"{day.isoformat()}, {name}"
            yield Finding("good-date", where, f"{quantity:g} used past its date", "none")


def lost_by_date(case: Case) -> list[Dated]:
    """What a plan leaves of goods when their dates pass within it, by good and date."""
    return [
        Dated(name, use_by, parts_on_hand(good)[use_by], quantity)
        for name, good in case.farm.goods.items()
        for use_by, quantity in sorted(_day_by_day(case, good)[0].items())
        if quantity > KG
    ]


def parts_on_hand(good: Good) -> dict[date, float]:
    """What is on hand of a good by the last day on which it may be used; ``date.max`` for no date."""
    parts: dict[date, float] = defaultdict(float)
    parts[good.opened_use_by or date.max] += good.opened
    parts[good.best_before or date.max] += good.on_hand - good.opened
    return dict(parts)


def _day_by_day(case: Case, good: Good) -> tuple[dict[date, float], dict[date, float]]:
    """What is left of a good when each date has passed; and what each day uses of that nevertheless.

    What is short besides is for rule 33 to say.
    """
    used, came = goods_used(case), goods_coming(case)
    parts = parts_on_hand(good)
    lost: dict[date, float] = {}
    late: dict[date, float] = {}
    for day in case.farm.days:
        lost |= {use_by: parts.pop(use_by) for use_by in list(parts) if use_by < day}
        parts[date.max] = parts.get(date.max, 0.0) + came.get((good.name, day), 0.0)
        need = used.get((good.name, day), 0.0)
        for use_by in sorted(parts):
            part = min(need, parts[use_by])
            parts[use_by] -= part
            need -= part
        past = min(need, sum(lost.values()) - sum(late.values()))
        if past > KG:
            late[day] = past
    return lost, late
