"""A hand-made week of the invented Kilbrack farm and a plan for it, small enough to check by eye.

The plan is for trying views: its kg balance and its stages are whole, but no solver made it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from scheduler.domain.fruit import Fruit, Grade, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, Heat, JarOven, Kitchen, Pan, Ring
from scheduler.domain.people import BreakRule, Person, Shift, Skill, WorkRules
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Scenario, Situation, Slack
from scheduler.domain.trade import Good, Order
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

START = date(2026, 7, 6)
JAR = "jar 340"
LOSS = {"strawberry": 0.05, "raspberry": 0.0, "redcurrant": 0.1, "gooseberry": 0.08}
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
    return Situation(_scenario(), START, "5a3c" * 16)


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


def _fruit(name: str, letter: str, colour: str, rate: float) -> Fruit:
    return Fruit(
        name, letter, colour, 0.1, LOSS[name], rate, 4, 2, 6, "strawberry", 6.0, 2.5, 20.0, 12.0, 0.55
    )


def _scenario() -> Scenario:
    fruits = (
        _fruit("strawberry", "S", "#c8252c", 18),
        _fruit("raspberry", "R", "#a8325e", 30),
        _fruit("redcurrant", "C", "#e0452f", 20),
        _fruit("gooseberry", "G", "#7c9a3c", 15),
    )
    recipes = (
        _recipe("strawberry jam", (FruitShare("strawberry", 1, 1),), 40),
        _recipe(
            "raspberry and redcurrant jam",
            (FruitShare("raspberry", 0.6, 0.8), FruitShare("redcurrant", 0.2, 0.4)),
            12,
        ),
        _recipe("gooseberry jam", (FruitShare("gooseberry", 1, 1),), 0),
    )
    days = [START + timedelta(days=i) for i in range(7)]
    picks = tuple(
        Lot(f"{name} table {day}", name, Grade.TABLE, kg, Place.CHILLER, day)
        for day in days
        for name, kg in (("strawberry", 50.0), ("raspberry", 24.0), ("redcurrant", 9.0))
    )
    people = (
        Person("Aoife", frozenset({Skill.PREPARE, Skill.COOK}), 18, 27, 44),
        Person("Declan", frozenset({Skill.COOK, Skill.FILL}), 16, 24, 40),
        Person("Maeve", frozenset({Skill.PREPARE, Skill.FILL}), 15, 22.5, 40),
        Person("Noel", frozenset({Skill.PREPARE, Skill.FILL}), 15, 22.5, 40),
    )
    return Scenario(
        "sample week",
        "Kilbrack",
        "kilbrack-kitchen",
        "EUR",
        START,
        7,
        _kitchen(),
        WorkRules((BreakRule(270, 15), BreakRule(360, 30)), 270, 660),
        Slack(0.02, 2, 0.02, 0.01),
        fruits,
        recipes,
        (
            Lot(
                "gooseberry bag 2025",
                "gooseberry",
                Grade.KITCHEN,
                36.0,
                Place.FREEZER,
                date(2025, 7, 20),
                date(2026, 8, 20),
            ),
        ),
        picks,
        tuple(PunnetDemand(day, "strawberry", 20.0) for day in days),
        people,
        tuple(Shift(p.name, day, 480, 960, 60) for day in days for p in people),
        (
            Order("O-1", "the farm shop", "strawberry jam", JAR, 90, START + timedelta(days=3), 4.5, 1),
            Order(
                "O-2",
                "Kilbrack café",
                "raspberry and redcurrant jam",
                JAR,
                60,
                START + timedelta(days=4),
                5.0,
                2,
            ),
            Order("O-3", "the farm shop", "gooseberry jam", JAR, 40, START + timedelta(days=6), 4.5, 1),
        ),
        (Good("sugar", "kg", 120, 1.1, 2), Good("jar 340", "jars", 400, 0.45, 3)),
        (),
    )


def _recipe(name: str, fruits: tuple[FruitShare, ...], on_hand: int) -> Recipe:
    return Recipe(
        name,
        fruits,
        0.9,
        0.05,
        1.0,
        0.0,
        0.64,
        3.2,
        1.0,
        10,
        45,
        0.03,
        JAR,
        "lid 63",
        0.34,
        on_hand,
        800,
        "hot fill",
    )


def _kitchen() -> Kitchen:
    pans = (
        Pan("the big copper", 24, 42, 0.5),
        Pan("steel twelve", 12, 34, 0.5),
        Pan("little one", 8, 28, 0.5),
    )
    rings = tuple(
        Ring(name, Heat.GAS, kw, 0.5, size)
        for name, kw, size in (("front left", 6, 45), ("front right", 6, 45), ("back left", 4, 36))
    )
    return Kitchen(
        480,
        1080,
        60,
        19,
        pans,
        rings,
        2,
        JarOven(90, 10, 20, 90),
        Chiller(200, 3),
        Freezer(120, 320, 25, 3.5),
        (1.0, 0.75),
        2,
        2,
        2,
        80,
        5,
        10,
        10,
        15,
        0.8,
        0.9,
        85,
        "",
        0.2,
        1,
        0.12,
        0.3,
    )


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
