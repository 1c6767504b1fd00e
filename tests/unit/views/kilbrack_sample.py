"""A hand-made week of the invented Kilbrack farm and a plan for it, small enough to check by eye.

The plan is for trying views: its kg balance and its stages are whole, but no solver made it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from scheduler.domain.scenario import Situation
from scheduler.plan_rows import (
    PLAN_SCHEMA,
    Batch,
    DayShift,
    Draw,
    Finish,
    FreezerDay,
    Goal,
    JarDay,
    LotDay,
    Mix,
    OrderLine,
    Plan,
    Purchase,
    Stage,
    StageKind,
    Timetables,
    totals,
)
from tests.unit.views.kilbrack_farm import JAR, LOSS, START, scenario

_BATCH_STAGES = (
    (StageKind.DISSOLVE, 15),
    (StageKind.BOIL, 25),
    (StageKind.SET_TEST, 5),
    (StageKind.REBOIL, 10),
    (StageKind.SET_TEST, 5),
    (StageKind.STAND, 10),
    (StageKind.POT_UP, 20),
)


def situation() -> Situation:
    return Situation(scenario(), START, "5a3c" * 16)


def plan() -> Plan:
    """Strawberries and raspberries come every day, gooseberries leave the freezer on Thursday."""
    bare = replace(_plan_rows(), habit=None)
    ours = totals(bare)
    habit = replace(
        ours,
        cooked=ours.cooked - 40,
        given_up=ours.given_up + 25,
        spoiled=ours.spoiled + 15,
        made=ours.made - 61,
        short=ours.short + 34,
    )
    return replace(bare, habit=habit)


def _plan_rows() -> Plan:
    days = [START + timedelta(days=i) for i in range(7)]
    batches = tuple(batch for i, day in enumerate(days) for batch in _batches(i, day))
    mixes = tuple(_mixes(batches))
    freezer = _freezer(days, mixes)
    stages, shifts = _work(days, batches)
    made = {(b.day, b.recipe): 0 for b in batches}
    for b in batches:
        made[b.day, b.recipe] += b.jars
    return Plan(
        schema=PLAN_SCHEMA,
        kitchen_id="kilbrack-kitchen",
        scenario="sample week",
        as_of=START,
        input_hash="5a3c" * 16,
        currency="EUR",
        method="exact",
        seed=0,
        seconds=11.4,
        status="feasible",
        timetables=Timetables(7, 2, 0),
        goals=(
            Goal("spoiled", "EUR", 130.0, 120.5, 120.5, 0.0, 9.5),
            Goal("short", "jars", 24.0, 24.0, 24.0, 0.0, 0.0),
            Goal("money", "EUR", 812.4, 812.4, 806.0, 0.0079, 8.1),
            Goal("tidiness", "starts", 15.0, 15.0, 15.0, 0, 0),
        ),
        lots=_lots(days, mixes, freezer),
        mixes=mixes,
        draws=_draws(mixes),
        freezer=freezer,
        batches=batches,
        stages=stages,
        shifts=shifts,
        finishes=tuple(Finish(day, 960, 930) for day in days),
        jars=_jars(days, made),
        orders=(
            OrderLine("O-1", "strawberry jam", JAR, days[3], 90, 90),
            OrderLine("O-2", "raspberry and redcurrant jam", JAR, days[4], 60, 48),
            OrderLine("O-3", "gooseberry jam", JAR, days[6], 40, 40),
        ),
        purchases=(
            Purchase("sugar", 80.0, days[4], days[2], 88.0),
            Purchase("jar 340", 300.0, days[5], days[2], 135.0),
        ),
    )


def _batches(i: int, day: date) -> list[Batch]:
    rows = [
        ("strawberry jam", False, "the big copper", "front left", 10.0, 46),
        ("strawberry jam", False, "steel twelve", "back left", 5.0, 23),
        ("raspberry and redcurrant jam", False, "steel twelve", "front right", 5.0, 22),
    ]
    if i == 3:
        rows.append(("gooseberry jam", True, "little one", "front right", 9.0, 40))
    if i == 6:
        rows = rows[:1]
    return [
        Batch(
            f"{day:%m%d}-{n}",
            day,
            recipe,
            from_freezer,
            pan,
            ring,
            1.0,
            kg,
            (jars,),
            round(kg * 0.9, 1),
            int(kg),
            0.0,
            104.4,
            88.2,
        )
        for n, (recipe, from_freezer, pan, ring, kg, jars) in enumerate(rows, 1)
    ]


def _mixes(batches: tuple[Batch, ...]) -> list[Mix]:
    shares = {
        "strawberry jam": (("strawberry", 1.0),),
        "gooseberry jam": (("gooseberry", 1.0),),
        "raspberry and redcurrant jam": (("raspberry", 0.7), ("redcurrant", 0.3)),
    }
    cooked: dict[tuple[date, str, bool], float] = {}
    for b in batches:
        key = (b.day, b.recipe, b.from_freezer)
        cooked[key] = cooked.get(key, 0.0) + b.kg
    return [
        Mix(day, recipe, frozen, fruit, 0.0 if frozen else kg * share, kg * share if frozen else 0.0)
        for (day, recipe, frozen), kg in cooked.items()
        for fruit, share in shares[recipe]
    ]


def _draws(mixes: tuple[Mix, ...]) -> tuple[Draw, ...]:
    return tuple(
        Draw(m.day, m.recipe, m.from_freezer, "gooseberry bag 2025", m.frozen_kg)
        if m.from_freezer
        else Draw(
            m.day, m.recipe, m.from_freezer, f"{m.fruit} table {m.day}", m.fresh_kg / (1 - LOSS[m.fruit])
        )
        for m in mixes
    )


def _freezer(days: list[date], mixes: tuple[Mix, ...]) -> tuple[FreezerDay, ...]:
    rows, level = [], 36.0
    for day in days:
        thawed = sum(m.frozen_kg for m in mixes if m.day == day)
        rows.append(
            FreezerDay(
                day,
                "gooseberry bag 2025",
                "gooseberry",
                date(2026, 8, 20),
                level,
                0.0,
                thawed,
                0.0,
                level - thawed,
            )
        )
        level -= thawed
    for start in days[:5]:
        for day in days[days.index(start) :]:
            new = 9.5 if day == start else 0.0
            rows.append(
                FreezerDay(
                    day,
                    f"strawberry frozen {start}",
                    "strawberry",
                    date(2027, 7, 6),
                    9.5 - new,
                    new,
                    0.0,
                    0.0,
                    9.5,
                )
            )
    return tuple(rows)


def _lots(days: list[date], mixes: tuple[Mix, ...], freezer: tuple[FreezerDay, ...]) -> tuple[LotDay, ...]:
    """Each pick is sold, cooked and frozen on its day; what is over is carried a day, then leaves."""
    rows = []
    for day in days:
        for fruit, arrived in (("strawberry", 50.0), ("raspberry", 24.0), ("redcurrant", 9.0)):
            lot = f"{fruit} table {day}"
            sold = {"strawberry": 20.0, "raspberry": 12.0, "redcurrant": 2.0}[fruit]
            cooked = sum(m.fresh_kg for m in mixes if (m.day, m.fruit) == (day, fruit)) / (1 - LOSS[fruit])
            frozen = sum(f.frozen for f in freezer if (f.day, f.fruit) == (day, fruit)) / (1 - LOSS[fruit])
            left = arrived - sold - cooked - frozen
            rows.append(LotDay(day, lot, fruit, "table", 0.0, arrived, sold, cooked, frozen, 0.0, 0.0, left))
            if day != days[-1]:
                spoiled, given_up = (left, 0.0) if fruit == "raspberry" else (0.0, left)
                rows.append(
                    LotDay(
                        day + timedelta(days=1),
                        lot,
                        fruit,
                        "table",
                        left,
                        0.0,
                        0.0,
                        0.0,
                        0.0,
                        given_up,
                        spoiled,
                        0.0,
                    )
                )
    return tuple(rows)


def _work(days: list[date], batches: tuple[Batch, ...]) -> tuple[tuple[Stage, ...], tuple[DayShift, ...]]:
    stages: list[Stage] = []
    for day in days:
        stages.append(Stage(day, "", StageKind.FREEZE, 750, 780, ("Noel",)))
        for n, b in enumerate(each for each in batches if each.day == day):
            cook, at = ("Aoife", "Declan")[n % 2], 600 + 25 * n + (100 if n == 3 else 0)
            if not b.from_freezer:
                stages.append(Stage(day, b.id, StageKind.PREPARE, 480 + 30 * n, 510 + 30 * n, ("Maeve",)))
            stages.append(Stage(day, b.id, StageKind.LOAD_JARS, at - 20, at - 10, ("Noel",)))
            for kind, minutes in _BATCH_STAGES:
                people = {StageKind.STAND: (), StageKind.POT_UP: ("Maeve", "Noel")}.get(kind, (cook,))
                stages.append(Stage(day, b.id, kind, at, at + minutes, people))
                at += minutes
            stages.append(Stage(day, b.id, StageKind.WASH, at, at + 15, ("Noel",)))
    shifts = tuple(
        DayShift(day, name, 480, 960, 30 if name == "Noel" else 0, 715 + 5 * i, 30)
        for day in days
        for i, name in enumerate(("Aoife", "Declan", "Maeve", "Noel"))
    )
    return tuple(stages), shifts


def _jars(days: list[date], made: dict[tuple[date, str], int]) -> tuple[JarDay, ...]:
    shipped = {
        (days[3], "strawberry jam"): 90,
        (days[4], "raspberry and redcurrant jam"): 48,
        (days[6], "gooseberry jam"): 40,
    }
    level = {"strawberry jam": 40, "raspberry and redcurrant jam": 12, "gooseberry jam": 0}
    rows = []
    for day in days:
        for recipe, before in level.items():
            new, out = made.get((day, recipe), 0), shipped.get((day, recipe), 0)
            level[recipe] = before + new - out
            rows.append(JarDay(day, recipe, JAR, new, out, level[recipe]))
    return tuple(rows)
