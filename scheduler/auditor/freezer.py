"""Rules 6, 7, 10 and 11: what goes into the freezer and what comes out. All kg as prepared."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from scheduler.auditor.case import Case, grouped, making_name, repeated
from scheduler.auditor.finding import KG, Finding, kg, same
from scheduler.auditor.freezer_room import must_be_cleared
from scheduler.plan_rows import FreezerDay

LOSS_KG = 0.01 + 1e-9
"""Tolerance of the preparation loss, kg as prepared."""

PARTS = ("opening", "frozen", "thawed", "discarded", "left")


def _where(row: FreezerDay) -> str:
    return f"{row.day.isoformat()}, freezer lot {row.lot}"


def each_frozen_lot_has_one_row_a_day(case: Case) -> Iterator[Finding]:
    """Rule 6: no lot has two rows on a day, and a row's fruit is its lot's."""
    for lot, day in repeated(case.plan.freezer, lambda row: (row.lot, row.day)):
        where = f"{day.isoformat()}, freezer lot {lot}"
        yield Finding("freezer-balance", where, "more than one row", "one row")
    for row in case.plan.freezer:
        fruit = case.farm.frozen[row.lot].fruit.name
        if row.fruit != fruit:
            yield Finding("freezer-balance", _where(row), row.fruit, fruit)


def each_day_of_a_frozen_lot_balances(case: Case) -> Iterator[Finding]:
    """Rule 6: opening + frozen = thawed + discarded + left; nothing negative."""
    for row in case.plan.freezer:
        came, went = row.opening + row.frozen, row.thawed + row.discarded + row.left
        if not same(came, went):
            yield Finding("freezer-balance", _where(row), f"{kg(came)} in, {kg(went)} out", "equal")
        for part in PARTS:
            if getattr(row, part) < -KG:
                yield Finding(
                    "freezer-balance", f"{_where(row)}, {part}", kg(getattr(row, part)), "0 or more"
                )


def each_frozen_lot_opens_with_what_was_left(case: Case) -> Iterator[Finding]:
    """Rule 6: opening is the lot on hand or what was left the day before."""
    for name, lot in case.farm.frozen.items():
        before = lot.kg
        for day in case.farm.days:
            row = case.freezer_days.get((name, day))
            if row is None and before <= KG:
                continue
            opening = row.opening if row else 0.0
            if not same(opening, before):
                where = f"{day.isoformat()}, freezer lot {name}, opening"
                yield Finding("freezer-balance", where, kg(opening) if row else "no row", kg(before))
            before = row.left if row else 0.0


def a_lot_is_frozen_on_its_own_day_only(case: Case) -> Iterator[Finding]:
    """Rule 6."""
    for row in case.plan.freezer:
        own = case.farm.frozen[row.lot].frozen_on
        if row.frozen > KG and row.day != own:
            allowed = f"frozen on {own.isoformat()}" if own else "nothing frozen into a lot on hand"
            yield Finding("freezer-balance", _where(row), f"{kg(row.frozen)} frozen", allowed)


def freezing_loses_the_preparation_loss(case: Case) -> Iterator[Finding]:
    """Rule 7, for freezing: Q = P (1 − loss) for each fruit and day."""
    drawn: dict[tuple[date, str], float] = defaultdict(float)
    frozen: dict[tuple[date, str], float] = defaultdict(float)
    for lot_day in case.plan.lots:
        drawn[lot_day.day, case.farm.fresh[lot_day.lot].fruit.name] += lot_day.frozen
    for row in case.plan.freezer:
        frozen[row.day, case.farm.frozen[row.lot].fruit.name] += row.frozen
    for day, fruit in sorted(drawn.keys() | frozen.keys()):
        where = f"{day.isoformat()}, {fruit} for freezing"
        yield from _prepared(case, where, fruit, drawn[day, fruit], frozen[day, fruit])


def cooking_loses_the_preparation_loss(case: Case) -> Iterator[Finding]:
    """Rule 7, for cooking: the same for each making and fruit, with what it draws from fresh lots."""
    for making in sorted(case.draws.keys() | case.mixes.keys()):
        drawn: dict[str, float] = defaultdict(float)
        fresh: dict[str, float] = defaultdict(float)
        for draw in case.draws.get(making, []):
            if draw.lot in case.farm.fresh:
                drawn[case.farm.fresh[draw.lot].fruit.name] += draw.kg
        for mix in case.mixes.get(making, []):
            fresh[mix.fruit] += mix.fresh_kg
        for fruit in sorted(drawn.keys() | fresh.keys()):
            where = f"{making_name(making)}, {fruit}"
            yield from _prepared(case, where, fruit, drawn[fruit], fresh[fruit])


def _prepared(case: Case, where: str, fruit: str, picked: float, prepared: float) -> Iterator[Finding]:
    sound = picked * (1 - case.farm.fruits[fruit].preparation_loss)
    if not same(sound, prepared, LOSS_KG):
        found = f"{kg(picked)} as picked gave {kg(prepared)} prepared"
        yield Finding("preparation-loss", where, found, kg(sound))


def frozen_lots_go_by_their_date(case: Case) -> Iterator[Finding]:
    """Rule 10; where a freezer must be cleared, fruit may be discarded before its date (rules 59 and 60)."""
    clearing = {day for day in case.farm.days if must_be_cleared(case.farm.kitchen, day)}
    for row in case.plan.freezer:
        use_by = case.farm.frozen[row.lot].use_by
        if row.use_by != use_by:
            where = f"{_where(row)}, use by"
            yield Finding("frozen-date", where, row.use_by.isoformat(), use_by.isoformat())
        if row.day > use_by and row.thawed > KG:
            yield Finding("frozen-date", _where(row), f"{kg(row.thawed)} thawed", f"until {use_by}")
        if row.day >= use_by and row.left > KG:
            allowed = f"none left at the end of {use_by}"
            yield Finding("frozen-date", _where(row), f"{kg(row.left)} left", allowed)
        if row.day < use_by and row.day not in clearing and row.discarded > KG:
            found = f"{kg(row.discarded)} discarded"
            yield Finding("frozen-date", _where(row), found, f"none before {use_by}")


def what_is_dated_first_is_thawed_first(case: Case) -> Iterator[Finding]:
    """Rule 11: lots that come before one that is thawed end the day empty."""
    by_fruit = grouped(case.plan.freezer, lambda row: (row.day, case.farm.frozen[row.lot].fruit.name))
    for rows in by_fruit.values():
        kept: FreezerDay | None = None
        for row in sorted(rows, key=lambda row: (case.farm.frozen[row.lot].use_by, row.lot)):
            if row.thawed > KG and kept:
                allowed = f"first all of {kept.lot} ({kg(kept.left)} left)"
                yield Finding("frozen-first", _where(row), f"{kg(row.thawed)} thawed", allowed)
            if row.left > KG and not kept:
                kept = row


def fruit_frozen_today_is_not_thawed_today(case: Case) -> Iterator[Finding]:
    """Rule 11."""
    for row in case.plan.freezer:
        if row.thawed > KG and case.farm.frozen[row.lot].frozen_on == row.day:
            found = f"{kg(row.thawed)} thawed on the day it is frozen"
            yield Finding("frozen-first", _where(row), found, "from the next day on")
