"""Rules 1 to 5: what becomes of the fresh fruit, lot by lot and day by day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.auditor.case import Case, repeated
from scheduler.auditor.finding import KG, Finding, kg, same
from scheduler.domain.fruit import Grade
from scheduler.domain.kitchen import Thaw
from scheduler.plan_rows import LotDay

PARTS = ("opening", "arrived", "sold", "cooked", "frozen", "given_up", "spoiled", "left")


def _where(row: LotDay) -> str:
    return f"{row.day.isoformat()}, lot {row.lot}"


def _within(life: int) -> str:
    return f"at most {life} days" if life >= 0 else "none: its life was over before it came to the chiller"


def each_lot_has_one_row_a_day(case: Case) -> Iterator[Finding]:
    """Rule 1: no lot has two rows on a day, and a row's fruit and grade are its lot's."""
    for lot, day in repeated(case.plan.lots, lambda row: (row.lot, row.day)):
        yield Finding("lot-balance", f"{day.isoformat()}, lot {lot}", "more than one row", "one row")
    for row in case.plan.lots:
        lot_of = case.farm.fresh[row.lot]
        if (row.fruit, row.grade) != (lot_of.fruit.name, lot_of.grade):
            allowed = f"{lot_of.fruit.name} {lot_of.grade}"
            yield Finding("lot-balance", _where(row), f"{row.fruit} {row.grade}", allowed)


def each_day_of_a_lot_balances(case: Case) -> Iterator[Finding]:
    """Rule 1: opening + arrived = sold + cooked + frozen + given up + spoiled + left; nothing negative."""
    for row in case.plan.lots:
        came = row.opening + row.arrived
        went = row.sold + row.cooked + row.frozen + row.given_up + row.spoiled + row.left
        if not same(came, went):
            yield Finding("lot-balance", _where(row), f"{kg(came)} in, {kg(went)} out", "equal")
        for part in PARTS:
            if getattr(row, part) < -KG:
                yield Finding("lot-balance", f"{_where(row)}, {part}", kg(getattr(row, part)), "0 or more")


def each_lot_opens_with_what_was_left(case: Case) -> Iterator[Finding]:
    """Rule 1: opening is the lot on hand or what was left the day before."""
    for name, lot in case.farm.fresh.items():
        before = lot.kg if lot.on_hand else 0.0
        for day in case.farm.days:
            row = case.lot_days.get((name, day))
            opening = row.opening if row else 0.0
            if not same(opening, before):
                where = f"{day.isoformat()}, lot {name}, opening"
                yield Finding("lot-balance", where, kg(opening) if row else "no row", kg(before))
            before = row.left if row else 0.0


def each_pick_arrives_on_its_day(case: Case) -> Iterator[Finding]:
    """Rule 1: a pick arrives whole on its day, and nothing arrives otherwise."""
    for name, lot in case.farm.fresh.items():
        if not lot.on_hand and (name, lot.picked) not in case.lot_days and lot.kg > KG:
            where = f"{lot.picked.isoformat()}, lot {name}, arrived"
            yield Finding("lot-balance", where, "no row", kg(lot.kg))
    for row in case.plan.lots:
        lot = case.farm.fresh[row.lot]
        expected = lot.kg if row.day == lot.picked and not lot.on_hand else 0.0
        if not same(row.arrived, expected):
            yield Finding("lot-balance", f"{_where(row)}, arrived", kg(row.arrived), kg(expected))


def only_table_grade_within_sell_life_is_sold(case: Case) -> Iterator[Finding]:
    """Rule 2."""
    for row in case.plan.lots:
        lot = case.farm.fresh[row.lot]
        if row.sold <= KG:
            continue
        if lot.grade != Grade.TABLE:
            yield Finding("sell-life", _where(row), f"{kg(row.sold)} of {lot.grade} sold", "table grade")
        if lot.age(row.day) > lot.sell_days:
            found = f"{kg(row.sold)} sold at {lot.age(row.day)} days"
            yield Finding("sell-life", _where(row), found, _within(lot.sell_days))


def fruit_is_frozen_within_peak_life(case: Case) -> Iterator[Finding]:
    """Rule 2."""
    for row in case.plan.lots:
        lot = case.farm.fresh[row.lot]
        if row.frozen > KG and lot.age(row.day) > lot.peak_days:
            found = f"{kg(row.frozen)} frozen at {lot.age(row.day)} days"
            yield Finding("freeze-peak", _where(row), found, _within(lot.peak_days))


def fruit_is_cooked_within_cook_life(case: Case) -> Iterator[Finding]:
    """Rule 2."""
    for row in case.plan.lots:
        lot = case.farm.fresh[row.lot]
        if row.cooked > KG and lot.age(row.day) > lot.cook_days:
            found = f"{kg(row.cooked)} cooked at {lot.age(row.day)} days"
            yield Finding("cook-life", _where(row), found, _within(lot.cook_days))


def fruit_spoils_at_the_end_of_its_last_day(case: Case) -> Iterator[Finding]:
    """Rule 3: nothing spoils before the last day; nothing is carried past it; what came too late spoils."""
    for row in case.plan.lots:
        last = case.farm.fresh[row.lot].last_day
        if row.day < last and row.spoiled > KG:
            yield Finding("spoiled", _where(row), f"{kg(row.spoiled)} spoiled", f"none before {last}")
        if row.day >= last and row.left > KG:
            yield Finding("spoiled", _where(row), f"{kg(row.left)} left", f"none, its last day is {last}")
        if row.day > last and row.given_up > KG:
            found = f"{kg(row.given_up)} given up"
            yield Finding("spoiled", _where(row), found, f"spoiled, its last day was {last}")


def sales_stay_within_punnet_demand(case: Case) -> Iterator[Finding]:
    """Rule 4."""
    sold: dict[tuple[str, date], float] = defaultdict(float)
    for row in case.plan.lots:
        sold[case.farm.fresh[row.lot].fruit.name, row.day] += row.sold
    for (fruit, day), total in sold.items():
        demand = case.farm.demand.get((fruit, day), 0.0)
        if total > demand + KG:
            where = f"{day.isoformat()}, {fruit}"
            yield Finding("punnet-demand", where, f"{kg(total)} sold", f"at most {kg(demand)}")


def what_is_left_fits_the_chiller(case: Case) -> Iterator[Finding]:
    """Rule 5: what is left in the evening, and what thaws for the next day."""
    left: dict[date, float] = defaultdict(float)
    for row in case.plan.lots:
        left[row.day] += row.left
    for frozen in case.plan.freezer if case.farm.kitchen.thaw == Thaw.OVERNIGHT else ():
        if frozen.day > case.farm.first:
            left[frozen.day - timedelta(days=1)] += frozen.thawed
    room = case.farm.kitchen.chiller.kg
    for day, total in left.items():
        if total > room + KG:
            yield Finding("chiller-room", day.isoformat(), f"{kg(total)} in it", f"at most {kg(room)}")
