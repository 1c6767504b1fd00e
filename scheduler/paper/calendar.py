"""The wall calendar: batches on their rings to scale, who is in, what is due and what comes."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import groupby
from typing import Any

import segno

from scheduler.domain.scenario import Scenario
from scheduler.paper.lots import in_order, lot_marks
from scheduler.paper.marks import fruit_key, mark
from scheduler.plan_rows import OF_NO_BATCH, Batch, Part, Plan, Stage, StageKind
from scheduler.views import chore_tables, held_tables, trade_tables, words
from scheduler.views.charts.calendar import AFTER_THE_RING, ON_THE_RING

Data = dict[str, Any]


def calendar(plan: Plan, scenario: Scenario, size: str, square: str) -> Data | None:
    """The calendar of each week with a batch in it; ``square`` is an address for phones, or empty.

    None where nothing is cooked.
    """
    weeks = [list(days) for _, days in groupby(scenario.dates(), key=lambda day: day.isocalendar()[:2])]
    cooked = {batch.day for batch in plan.batches}
    shown = [week for week in weeks if cooked & set(week)]
    if not shown:
        return None
    kinds = {stage.kind for stage in plan.stages}
    marks = lot_marks(plan)
    return {
        "kind": "calendar",
        "size": size,
        "opens": min(scenario.kitchen.open, *(stage.start for stage in plan.stages)),
        "closes": max(scenario.kitchen.close, *(stage.end for stage in plan.stages)),
        "fruits": fruit_key(plan, scenario),
        "stages": [kind.value for kind in (*ON_THE_RING, *AFTER_THE_RING) if kind in kinds],
        "square": {"svg": _square(square)} if square else None,
        "weeks": [
            {
                "span": words.day_span(week[0], week[-1]),
                "days": [_day(day, plan, scenario, marks) for day in week],
            }
            for week in shown
        ],
    }


def _square(address: str) -> str:
    drawn = io.BytesIO()
    segno.make(address, micro=False).save(drawn, kind="svg", scale=4, border=4, light="#fff")
    return drawn.getvalue().decode()


def _day(day: date, plan: Plan, scenario: Scenario, marks: Mapping[str, str]) -> Data:
    batches = [batch for batch in in_order(plan) if batch.day == day]
    used = [ring.name for ring in scenario.kitchen.rings if any(b.ring == ring.name for b in batches)]
    return {
        "name": words.day_name(day),
        "batches": len(batches),
        "rings": [
            {
                "name": ring,
                "batches": [_batch(b, plan, scenario, marks[b.id]) for b in batches if b.ring == ring],
            }
            for ring in used
        ],
        "closed": [{"start": start, "end": end} for start, end in scenario.closed(day)],
        "notes": [
            {"head": head, "lines": lines}
            for head, lines in _notes(day, batches, plan, scenario).items()
            if lines
        ],
    }


def _batch(batch: Batch, plan: Plan, scenario: Scenario, lot: str) -> Data:
    """Bars in minutes, and what stands above them: in full, and ever shorter where there is less room."""
    stages = [stage for stage in plan.stages if stage.batch == batch.id]
    jars = words.jars(batch.jars) if batch.jars else "drips overnight"
    frozen = ", from the freezer" if batch.from_freezer else ""
    on = [stage for stage in stages if stage.kind in ON_THE_RING]
    return mark(batch, plan, scenario) | {
        "recipe": batch.recipe + frozen + ("" if batch.part is Part.WHOLE else f", {batch.part}"),
        "about": f"{jars}, {batch.pan}, {lot}",
        "who": _hands(stages),
        "short": [f"{jars}, {batch.pan}", jars, f"{batch.jars or ''}"],
        "start": min((stage.start for stage in on), default=scenario.kitchen.open),
        "on": [_bar(stage) for stage in on],
        "after": [_bar(stage) for stage in stages if stage.kind in AFTER_THE_RING],
    }


def _bar(stage: Stage) -> Data:
    return {"kind": stage.kind.value, "start": stage.start, "end": stage.end}


_AT = {
    "at the pan": frozenset(ON_THE_RING),
    "pot up": frozenset({StageKind.POT_UP}),
}


def _hands(stages: Sequence[Stage]) -> str:
    """``Aoife, Brendan at the pan; Donal pot up``."""
    told = []
    for what, kinds in _AT.items():
        names = dict.fromkeys(name for stage in stages if stage.kind in kinds for name in stage.people)
        if names:
            told.append(f"{what}: {', '.join(names)}")
    return "; ".join(told)


def _notes(day: date, batches: Iterable[Batch], plan: Plan, scenario: Scenario) -> dict[str, list[str]]:
    """What stands beside a day. Pay, prices and customers do not belong on a wall."""
    made: dict[str, int] = {}
    for batch in batches:
        if batch.jars:
            named = f"{words.letters(batch, plan, scenario)} {batch.recipe}"
            made[named] = made.get(named, 0) + batch.jars
    return {
        "In": _present(day, plan),
        "Jars": [f"{named} {count}" for named, count in made.items()],
        "Due": _due(day, plan, scenario),
        "Comes": _comes(day, plan, scenario),
        "Order today": [
            f"{bought.good}: {trade_tables.amount(bought, scenario)}"
            for bought in plan.purchases
            if bought.order_by == day
        ],
        "Besides": _besides(day, plan),
        "Take note": [
            *(words.closed(row) for row in scenario.closures if row.day == day),
            *(held_tables.out_of_use(row) for row in scenario.out if row.day == day),
        ],
    }


def _present(day: date, plan: Plan) -> list[str]:
    """Who is in and when, those with the same hours together."""
    hours: dict[str, list[str]] = {}
    for shift in sorted((s for s in plan.shifts if s.day == day), key=lambda s: (s.start, s.leaves)):
        hours.setdefault(f"{words.clock(shift.start)}–{words.clock(shift.leaves)}", []).append(shift.person)
    return [f"{when} {', '.join(people)}" for when, people in hours.items()]


def _besides(day: date, plan: Plan) -> list[str]:
    """Work of no batch: ``label jars 10:00–10:30, Maeve: 24 strawberry jam``."""
    kinds = dict.fromkeys(s.kind for s in plan.stages if s.day == day and s.kind in OF_NO_BATCH)
    return [f"{kind} {chore_tables.told_of(plan, day, kind)}" for kind in kinds]


def _due(day: date, plan: Plan, scenario: Scenario) -> list[str]:
    told = []
    for line in plan.orders:
        if line.due == day:
            missing = f", {line.jars - line.filled} missing" if line.filled < line.jars else ""
            told.append(
                f"{line.order}: {line.jars} {words.product(line.recipe, line.jar, scenario)}{missing}"
            )
    told += [
        f"shop: {row.jars} {words.product(row.recipe, row.jar, scenario)}"
        + (f", {row.missing} missing" if row.missing else "")
        for row in plan.shop
        if row.day == day
    ]
    return told


def _comes(day: date, plan: Plan, scenario: Scenario) -> list[str]:
    told = [
        f"{bought.good}: {trade_tables.amount(bought, scenario)}"
        for bought in plan.purchases
        if bought.arrives == day
    ]
    units = {good.name: good.unit for good in scenario.goods}
    for row in scenario.deliveries:
        if row.day == day:
            at = "" if row.at is None else f", {words.clock(row.at)}"
            told.append(f"{row.good}: {words.quantity(row.quantity, units[row.good])}{at}")
    return told
