"""Rules 8, 9, 51 and 57 to 60: what the freezers hold and freeze, when they must be empty. kg as prepared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.auditor.case import Case, grouped
from scheduler.auditor.finding import KG, Finding, kg
from scheduler.domain.kitchen import Freezer, Kitchen
from scheduler.plan_rows import FreezerDay

LITRES = 0.01
"""Tolerance of freezer litres: what 0.001 kg may take up on trays, with room to spare."""


@dataclass(frozen=True, slots=True)
class Held:
    """One freezer on one day: kg left of each row's lot in the evening, and of that kg frozen today."""

    where: str
    day: date
    freezer: Freezer
    left: tuple[float, ...]
    frozen: tuple[float, ...]
    rows: tuple[FreezerDay, ...]


def is_defrosted(freezer: Freezer, day: date) -> bool:
    """Rule 59: the defrost day, and the day before it."""
    return freezer.defrost_on is not None and day in (
        freezer.defrost_on,
        freezer.defrost_on - timedelta(days=1),
    )


def has_failed(freezer: Freezer, day: date) -> bool:
    """Rule 60: the day on which it fails, and every later one."""
    return freezer.fails_on is not None and day >= freezer.fails_on


def must_be_cleared(kitchen: Kitchen, day: date) -> bool:
    """Rules 59 and 60: the days on which fruit may be discarded before its date."""
    return any(is_defrosted(each, day) or day == each.fails_on for each in kitchen.freezers)


def kept_free_kg(kitchen: Kitchen, day: date) -> float:
    """Rule 57: kg that stay free at the end of a day."""
    first = kitchen.room_free_from
    return kitchen.room_free_kg if first is not None and day >= first else 0.0


def freezers_in_use(kitchen: Kitchen, day: date) -> list[Freezer]:
    """Those that may hold and freeze fruit on a day."""
    return [each for each in kitchen.freezers if not is_defrosted(each, day) and not has_failed(each, day)]


def most_left_kg(kitchen: Kitchen, day: date) -> float:
    """kg that may be left in all freezers together at the end of a day (rules 8, 57, 59, 60)."""
    whole = sum(freezer.kg for freezer in kitchen.freezers)
    in_use = sum(freezer.kg for freezer in freezers_in_use(kitchen, day))
    return min(in_use, whole - kept_free_kg(kitchen, day))


def most_litres(kitchen: Kitchen, day: date) -> float:
    """Litres of all freezers that may hold fruit on a day (rules 8, 59, 60)."""
    return sum(freezer.litres for freezer in freezers_in_use(kitchen, day))


def most_frozen_kg(kitchen: Kitchen, day: date) -> float:
    """kg that all freezers together may freeze on a day (rules 9, 59, 60)."""
    return sum(freezer.freeze_kg_per_day for freezer in freezers_in_use(kitchen, day))


def _held(case: Case) -> Iterator[Held]:
    """Each freezer on each day. Fruit lies that night where it was frozen."""
    kitchen = case.farm.kitchen
    for day, some in grouped(case.plan.freezer, lambda row: row.day).items():
        rows = tuple(some)
        for n, freezer in enumerate(kitchen.freezers):
            left = tuple(row.in_second if n else row.left - row.in_second for row in rows)
            frozen = tuple(
                (row.in_second if n else row.frozen - row.in_second) if row.frozen > KG else 0.0
                for row in rows
            )
            where = day.isoformat() + (f", {freezer.name}" if kitchen.second_freezer else "")
            yield Held(where, day, freezer, left, frozen, rows)


def what_is_left_fits_the_freezer_by_weight(case: Case) -> Iterator[Finding]:
    """Rule 8."""
    for held in _held(case):
        left, room = sum(held.left), held.freezer.kg
        if left > room + KG:
            yield Finding("freezer-room", held.where, f"{kg(left)} left", f"at most {kg(room)}")


def what_is_left_fits_the_freezer_by_volume(case: Case) -> Iterator[Finding]:
    """Rule 8: boxed fruit, and fruit of today that still lies on trays."""
    for held in _held(case):
        litres, trays = 0.0, held.freezer.tray_litres_per_kg
        for row, left, frozen in zip(held.rows, held.left, held.frozen, strict=True):
            boxed = 1 / case.farm.frozen[row.lot].fruit.frozen_kg_per_litre
            litres += left * boxed + frozen * (trays - boxed)
        if litres > held.freezer.litres + LITRES:
            found, allowed = f"{litres:.2f} litres", f"at most {held.freezer.litres:g} litres"
            yield Finding("freezer-litres", held.where, found, allowed)


def freezing_stays_within_its_rate(case: Case) -> Iterator[Finding]:
    """Rule 9."""
    for held in _held(case):
        frozen, rate = sum(held.frozen), held.freezer.freeze_kg_per_day
        if frozen > rate + KG:
            yield Finding("freezing-rate", held.where, f"{kg(frozen)} frozen", f"at most {kg(rate)}")


def room_is_kept_free(case: Case) -> Iterator[Finding]:
    """Rule 57."""
    kitchen = case.farm.kitchen
    for day, rows in grouped(case.plan.freezer, lambda row: row.day).items():
        free = kept_free_kg(kitchen, day)
        left, most = sum(row.left for row in rows), sum(each.kg for each in kitchen.freezers) - free
        if free and left > most + KG:
            allowed = f"at most {kg(most)}, to keep {kg(free)} free"
            yield Finding("room-kept-free", day.isoformat(), f"{kg(left)} left", allowed)


def fruit_has_boxes(case: Case) -> Iterator[Finding]:
    """Rule 51: part-full boxes of a fruit are put together."""
    for day, rows in grouped(case.plan.freezer, lambda row: row.day).items():
        for box in case.farm.kitchen.freezer_boxes:
            kg_of: dict[str, float] = {}
            for row in rows:
                if case.farm.frozen[row.lot].fruit.freezer_box == box.name:
                    kg_of[row.fruit] = kg_of.get(row.fruit, 0.0) + row.left
            used = sum(box.needed(left) for left in kg_of.values())
            if used > box.count:
                where = f"{day.isoformat()}, {box.name}"
                yield Finding("freezer-boxes", where, f"{used} boxes in use", f"at most {box.count}")


def the_second_freezer_holds_a_part(case: Case) -> Iterator[Finding]:
    """Rule 58: of each lot no less than nothing and no more than is left, and nothing where there is none."""
    for row in case.plan.freezer:
        most = row.left if case.farm.kitchen.second_freezer else 0.0
        if not -KG <= row.in_second <= most + KG:
            where = f"{row.day.isoformat()}, freezer lot {row.lot}"
            found = f"{kg(row.in_second)} in the second freezer"
            yield Finding("two-freezers", where, found, f"0 to {kg(most)}")


def a_freezer_is_empty_while_it_is_defrosted(case: Case) -> Iterator[Finding]:
    """Rule 59."""
    for held in _held(case):
        if is_defrosted(held.freezer, held.day):
            yield from _emptied(
                held, "defrost-day", f"nothing, as it is defrosted on {held.freezer.defrost_on}"
            )


def a_freezer_that_failed_holds_nothing(case: Case) -> Iterator[Finding]:
    """Rule 60."""
    for held in _held(case):
        if has_failed(held.freezer, held.day):
            yield from _emptied(held, "freezer-failure", f"nothing, as it fails on {held.freezer.fails_on}")


def _emptied(held: Held, rule: str, allowed: str) -> Iterator[Finding]:
    for kg_there, what in ((sum(held.left), "left"), (sum(held.frozen), "frozen")):
        if kg_there > KG:
            yield Finding(rule, held.where, f"{kg(kg_there)} {what}", allowed)
