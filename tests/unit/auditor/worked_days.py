"""What the plans worked by hand share: fruit, recipe, pan, ring, people, and how rows are written.

Everything is at sea level, with the chiller at 0 °C, so that a fruit's lives at the chiller's temperature
are its lives at 0 °C, and water boils at 99.97 °C (IAPWS steam tables). At 65 % solids syrup boils 3.79 K
higher (3.9 K at 65 °Brix in the textbook Experimental Cookery), so the set temperature is 103.77 °C.

The card of 4.9 kg of strawberries in the large pan on the left ring, worked by hand:

    mix       1 kg of fruit and 1 kg of sugar take 1 + 1 ÷ 1.587 = 1.6301 litres
    kg        16 litres × 0.5 = 8 litres; 8 ÷ 1.6301 = 4.9077, so 4.9 kg
    jam       solids 4.9 × 0.10 + 4.9 = 5.39 kg; 5.39 ÷ 0.65 = 8.2923 kg
    jars      8.2923 × 0.98 ÷ 0.34 = 23.90, so 23
    store     sugar 4.9 kg; lemons 4.9 × 1, so 5; pectin 4.9 × 5 g = 24.5, so 25 g
    prepare   4.9 ÷ 0.98 = 5.0 kg as picked; 5.0 ÷ 8 kg/h × 60 = 37.5 min, so 40: two pieces of 20
    dissolve  9.8 kg, 55 % solids at (0 + 99.97) ÷ 2 = 49.99 °C:
              4.1868 − 55 × (0.0251 − 0.000075 × 49.99) = 3.0125 kJ/(kg K)
              9.8 × 3.0125 × 99.97 = 2951 kJ; ÷ (3 kW × 0.5) ÷ 60 = 32.8 min, so 35
    water off 9.8 − 8.2923 = 1.5077 kg
    boil      1.5 kW ÷ 2256.5 kJ/kg = 2.393 kg/h (the surface would give 50 × 0.1257 m² = 6.3 kg/h);
              1.5077 ÷ 2.393 × 60 = 37.8 min, so 40
    re-boils  0.8 set at the first test, 0.8 are to stay within the minutes: none
    pot up    23 jars ÷ (1 filler × 120 an hour) × 60 = 11.5 min, so 15
    last jar  heat off for 5 + 5 + 15 = 25 min = 1500 s; area 0.12566 m²; 8.2923 kg ÷ 1330 kg/m³ ÷ 0.12566
              = 0.0496 m deep; side 0.4 π × 0.0496 = 0.06235 m²; 34 × 0.12566 + 14 × 0.06235 = 5.1455 W/K;
              exp(−1500 × 5.1455 ÷ (8.2923 × 2900)) = 0.7255; 20 + 83.77 × 0.7255 = 80.77 °C, above 70
    energy    3 kW × (35 + 40) ÷ 60 h × 0.12 (gas) = 0.45
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import Any

from scheduler.domain.fruit import Fruit
from scheduler.domain.kitchen import Chiller, Freezer, Heat, JarOven, Kitchen, Pan, Ring
from scheduler.domain.people import BreakRule, WorkRules
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Scenario, Situation, Slack
from scheduler.plan_rows import (
    PLAN_SCHEMA,
    Batch,
    DayShift,
    Draw,
    Finish,
    FreezerDay,
    Goal,
    LotDay,
    Plan,
    Stage,
    StageKind,
    Timetables,
)

MONDAY = date(2026, 7, 6)
TUESDAY = date(2026, 7, 7)
PICKED_MONDAY = "strawberry table 2026-07-06"

LARGE = Pan("large pan", litres=16.0, diameter_cm=40.0, fill=0.5)
SMALL = Pan("small pan", litres=8.0, diameter_cm=30.0, fill=0.5)
LEFT = Ring("left ring", Heat.GAS, kw=3.0, efficiency=0.5, largest_pan_cm=40.0)
RIGHT = Ring("right ring", Heat.INDUCTION, kw=3.0, efficiency=0.5, largest_pan_cm=40.0)

STRAWBERRY = Fruit(
    name="strawberry",
    letter="S",
    colour="crimson",
    solids=0.10,
    preparation_loss=0.02,
    prepare_kg_per_hour=8.0,
    sell_days=1.0,
    peak_days=1.0,
    cook_days=3.0,
    keeps_like="strawberry",
    table_value=5.0,
    kitchen_value=2.0,
    wanted_later_kg=0.294,
    freezer_months=10.0,
    frozen_kg_per_litre=0.5,
)

JAR = "jar 340 g"

STRAWBERRY_JAM = Recipe(
    name="strawberry jam",
    fruits=(FruitShare("strawberry", 1.0, 1.0),),
    sugar_per_kg=1.0,
    water_per_kg=0.0,
    lemons_per_kg=1.0,
    pectin_g_per_kg=5.0,
    final_solids=0.65,
    ph=3.2,
    frozen_share=0.0,
    dissolve_minutes=15,
    longest_boil_minutes=60,
    pan_loss=0.02,
    jar=JAR,
    lid="lid 63 mm",
    jar_kg=0.34,
    jars_on_hand=0,
    most_jars=60,
    heat_step="hot fill",
)

KITCHEN = Kitchen(
    open=480,
    close=840,
    altitude_m=0.0,
    room_c=20.0,
    pans=(LARGE,),
    rings=(LEFT,),
    heatproof_places=0,
    oven=JarOven(jars=24, load_minutes=5, heat_minutes=20, hot_minutes=60),
    chiller=Chiller(kg=10.0, celsius=0.0),
    freezer=Freezer(kg=10.0, litres=40.0, freeze_kg_per_day=2.0, tray_litres_per_kg=4.0),
    fill_steps=(0.5, 1.0),
    pans_per_cook=2,
    people_while_boiling=2,
    fillers=1,
    jars_per_filler_hour=120.0,
    set_test_minutes=5,
    reboil_minutes=10,
    stand_minutes=5,
    wash_minutes=10,
    first_set_share=0.8,
    keep_share=0.8,
    potting_limit_c=70.0,
    potting_process="the kitchen's written process for potting at 70 °C",
    older_share=0.2,
    settle_days=1,
    keep_hot=True,
    gas_price_kwh=0.12,
    electricity_price_kwh=0.40,
)

WORK_RULES = WorkRules(breaks=(BreakRule(270, 15),), longest_stretch_minutes=270, rest_minutes=660)

LARGE_BATCH = Batch(
    id="b1",
    day=MONDAY,
    recipe="strawberry jam",
    from_freezer=False,
    pan="large pan",
    ring="left ring",
    fill_step=1.0,
    kg=4.9,
    filled=(23,),
    sugar_kg=4.9,
    lemons=5,
    pectin_g=25,
    set_temperature_c=103.77,
    last_jar_c=80.77,
)


def at(clock: str) -> int:
    """Minutes from midnight of a time such as ``9:05``."""
    hours, minutes = clock.split(":")
    return 60 * int(hours) + int(minutes)


def scenario(**parts: Any) -> Scenario:
    """A scenario of the worked kitchen, without picks, people or trade but for ``parts``."""
    bare = Scenario(
        name="worked by hand",
        farm="Kilbrack",
        kitchen_id="kilbrack",
        currency="EUR",
        start=MONDAY,
        days=1,
        kitchen=KITCHEN,
        work_rules=WORK_RULES,
        slack=Slack(0.0, 0.0, 0.0, 0.0),
        fruits=(STRAWBERRY,),
        recipes=(STRAWBERRY_JAM,),
        lots=(),
        picks=(),
        punnets=(),
        people=(),
        shifts=(),
        orders=(),
        goods=(),
        deliveries=(),
    )
    return replace(bare, **parts)


def situation(scenario: Scenario) -> Situation:
    return Situation(scenario, as_of=scenario.start, input_hash="worked by hand")


def plan(goals: dict[str, float], **rows: Any) -> Plan:
    """A plan with the header of the worked situation, these goals and ``rows``."""
    units = {"short": "jars", "tidiness": "starts"}
    bare = Plan(
        schema=PLAN_SCHEMA,
        kitchen_id="kilbrack",
        scenario="worked by hand",
        as_of=MONDAY,
        input_hash="worked by hand",
        currency="EUR",
        method="exact",
        seed=1,
        seconds=0.1,
        status="optimal",
        timetables=Timetables(1, 0, 0),
        goals=tuple(
            Goal(name, units.get(name, "money"), value, best=value, bound=value, gap=0.0, slack=0.0)
            for name, value in goals.items()
        ),
        lots=(),
        mixes=(),
        draws=(),
        freezer=(),
        batches=(),
        stages=(),
        shifts=(),
        finishes=(),
        jars=(),
        orders=(),
        purchases=(),
    )
    return replace(bare, **rows)


def lot_day(day: date, lot: str, **kg: float) -> LotDay:
    """A row of a fresh lot; what is not given is 0. Fruit and grade are the first words of its name."""
    fruit, grade = lot.split()[:2]
    parts = ("opening", "arrived", "sold", "cooked", "frozen", "given_up", "spoiled", "left")
    return LotDay(day, lot, fruit, grade, **{part: kg.get(part, 0.0) for part in parts})


def freezer_day(lot: str, use_by: date, **kg: float) -> FreezerDay:
    """Monday's row of a frozen lot; what is not given is 0."""
    parts = ("opening", "frozen", "thawed", "discarded", "left")
    return FreezerDay(
        MONDAY, lot, lot.partition(" ")[0], use_by, **{part: kg.get(part, 0.0) for part in parts}
    )


def draw(lot: str, kg: float, recipe: str, day: date = MONDAY) -> Draw:
    return Draw(day, recipe, False, lot, kg)


def shift(day: date, person: str, start: str, end: str) -> DayShift:
    """A shift without overtime or break."""
    return DayShift(day, person, at(start), at(end), 0, None, 0)


def stages(day: date, batch: str, lines: Iterable[tuple[StageKind, str, str, str]]) -> tuple[Stage, ...]:
    """Stages of a batch from (kind, start, end, people) with people as one text."""
    return tuple(
        Stage(day, batch, kind, at(start), at(end), tuple(people.split()))
        for kind, start, end, people in lines
    )


def finish(day: date, ends: str) -> Finish:
    return Finish(day, at(ends), at(ends))
