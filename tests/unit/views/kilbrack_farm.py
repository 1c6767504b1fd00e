"""The hand-made farm of the week in ``kilbrack_sample``."""

from __future__ import annotations

from datetime import date, timedelta

from scheduler.domain.fruit import Fruit, Grade, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, Heat, JarOven, Kitchen, Pan, Ring
from scheduler.domain.people import BreakRule, Person, Shift, Skill, WorkRules
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Scenario, Slack
from scheduler.domain.trade import Good, Order

START = date(2026, 7, 6)
JAR = "jar 340"
LOSS = {"strawberry": 0.05, "raspberry": 0.0, "redcurrant": 0.1, "gooseberry": 0.08}


def _fruit(name: str, letter: str, colour: str, rate: float) -> Fruit:
    return Fruit(
        name, letter, colour, 0.1, LOSS[name], rate, 4, 2, 6, "strawberry", 6.0, 2.5, 20.0, 12.0, 0.55
    )


def scenario() -> Scenario:
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
