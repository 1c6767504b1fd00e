"""Worked examples of mass balance with one printed answer, E01 to E15, and densities of syrup.

Tolerances are half of the last figure that the source prints, unless the source says about.
"""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.physics import solids
from scheduler.physics.composition import composition
from tests.outside.check import Check

POUND_KG = 0.45359237

SLIDES = "Balances sin reaccion quimica (slides giving the answer)"
BRIEF = "Practical Action brief KnO 100247, Jams, jellies and marmalades"
EXERCISE = "Ejercicios mermelada (Spanish exercise)"


def checks() -> Iterator[Check]:
    yield from _problems()
    yield from _exercise()
    yield from _recipes()
    yield from _juice()
    yield from _densities()


def _problems() -> Iterator[Check]:
    # fruit of 15 % solids, fruit to sugar 45:55, boiled to one third water
    ours = solids.fruit_per_jam(0.15, 45.0, 55.0, 2 / 3)
    yield Check("E01", "fruit in 1 kg of strawberry jam", "kg", 0.486, ours, 0.0005, SLIDES)
    # 10 % solids, 45:55, boiled to 40 % water
    ours = solids.water_off_kg(1.0, 0.10, 55 / 45, 0.60)
    source = "Raspberry jam problem and answer"
    yield Check("E03", "water boiled off per kg of raspberries", "kg", 1 / 54, ours, 1e-6, source)
    # 10 kg of fruit at 10 %, 10 kg sugar, 60 g pectin, 55 g citric acid, to 68 °Brix; the brief rounds up
    jam = solids.jam_kg(10.0, 0.10, 10.0, 0.68, other_solids_kg=0.060 + 0.055)
    yield Check("E05 solids", "solids of ten and ten", "kg", 11.115, jam * 0.68, 0.0005, BRIEF)
    yield Check("E05 jam", "jam of ten and ten", "kg", 16.4, jam, 0.1, BRIEF)
    # 30 % solids, 60:40, to 75 %; the answer is printed as a formula
    ours = solids.fruit_per_jam(0.30, 60.0, 40.0, 0.75)
    source = "Chemical engineering question bank, blackberry jam"
    yield Check("E07", "fruit in 1 kg of blackberry jam", "kg", 75 / (30 + 100 * 40 / 60), ours, 1e-6, source)
    ours = 100 * solids.fruit_per_jam(0.12, 1.0, 0.0, 0.48)
    yield Check("E08", "juice of 12 % for 100 kg of 48 %", "kg", 400, ours, 1e-6, SLIDES)
    source = "Sweetened concentrated orange juice question, book answer"
    ours = solids.water_off_kg(1000.0, 0.05, 0.0, 0.10)
    yield Check("E09 water", "water off 1000 kg of juice, 5 to 10 %", "kg", 500, ours, 0.05, source)
    ours = solids.sugar_for_share(solids.jam_kg(1000.0, 0.05, 0.0, 0.10), 0.02)
    yield Check("E09 sugar", "sugar for 2 % of the product", "kg", 10.2, ours, 0.05, source)
    ours = solids.sugar_for_share(2.0, 0.60)
    source = "Mathematics blog on the FAO rule of 60 % sugar"
    yield Check("E10", "sugar for 2 kg of juice, 60 % of the mix", "kg", 3.0, ours, 0.05, source)


def _exercise() -> Iterator[Check]:
    """200 kg picked, 3.5 % lost, 12 % solids, to 250.9 kg of solids; 429.59 kg at 60.46 % go to 65 %."""
    fruit = solids.prepared_kg(200.0, 0.035)
    yield Check("E06 fruit", "prepared fruit of 200 kg", "kg", 193, fruit, 0.5, EXERCISE)
    of_fruit = 0.65 * solids.jam_kg(fruit, 0.12, 0.0, 0.65)
    yield Check("E06 solids", "solids of the fruit", "kg", 23.16, of_fruit, 0.005, EXERCISE)
    yield Check("E06 sugar", "sugar to add", "kg", 227.74, 250.9 - of_fruit, 0.005, EXERCISE)
    jam = solids.jam_kg(429.59, 0.6046, 0.0, 0.65)
    yield Check("E06 jam", "jam at 65 %", "kg", 399.58, jam, 0.01, EXERCISE)
    yield Check("E06 potted", "jam after a loss of 1 %", "kg", 395.59, jam * 0.99, 0.01, EXERCISE)
    yield Check("E06 jars", "jars of 350 g", "jars", 1130, solids.jars(jam, 0.01, 0.35), 0, EXERCISE)


def _recipes() -> Iterator[Check]:
    """Yields that recipes state with "about", ours at 65 % solids (the brief's at its 68 °Brix)."""
    for check, fruit, kg, fruit_solids, sugar, yields, tolerance, source in (
        ("E11", "blackberry", 1.5, 0.10, 1.5, 2.5, 0.1, "Sugar maker's recipe, blackberry jam"),
        ("E12", "blackcurrant", 1.8, 0.14, 2.7, 4.5, 0.1, "Blackcurrant jam recipe answer"),
        (
            "E13", "blackcurrant", 2.375 * POUND_KG, 0.14, 3 * POUND_KG, 5 * POUND_KG, 0.1,
            "Recipe card, jam of blackcurrant, damson or gooseberry",
        ),
    ):  # fmt: skip
        ours = solids.jam_kg(kg, fruit_solids, sugar, 0.65)
        yield Check(check, f"{fruit} jam, stated yield", "kg", yields, ours, tolerance, source)
    ours = solids.jam_kg(1.5, 0.11, 1.5, 0.68)
    yield Check("E14", "apricot jam, stated yield", "kg", 2.4, ours, 0.1, BRIEF)


def _juice() -> Iterator[Check]:
    """Juice for jelly: what the standard takes for its natural strength.

    The standard turns soluble solids into juice by a factor; a hundredth of it undone is the strength that it
    takes for natural. Ours is the middle of the range that the fruit is said to fall in, with half its width.
    """
    source = "21 CFR 150.140 Fruit jelly, factors by fruit"
    for fruit, factor in {
        "strawberry": 12.5, "gooseberry": 12.0, "blackberry": 10.0, "raspberry": 9.5, "redcurrant": 9.5,
        "plum": 7.0, "sour cherry": 7.0,
    }.items():  # fmt: skip
        held = composition(fruit)
        ours, half = 50 * (held.solids_low + held.solids_high), 50 * (held.solids_high - held.solids_low)
        yield Check(
            f"{fruit} juice", "soluble solids of its natural strength", "%", 100 / factor, ours, half, source
        )


def _densities() -> Iterator[Check]:
    """What sugar adds to the room a mix takes, dissolved: density of syrup from our volumes."""
    source = "Sugar handbook appendix, Table A.1, pure sucrose solutions at 20 °C"
    for percent, density in {10: 1039.98, 15: 1061.04, 20: 1082.87}.items():
        ours = 1000 / solids.mix_litres(0.0, percent / 100, 1 - percent / 100)
        yield Check(f"syrup of {percent} %", "density", "kg/m³", density, ours, 5, source)
    source = "Mohos, Confectionery and Chocolate Engineering (2010), Appendix 2"
    sugar = 203.9 / 303.9
    ours = 1000 / solids.mix_litres(0.0, sugar, 1 - sugar)
    yield Check("saturated syrup at 20 °C", "density", "kg/m³", 1328, ours, 5, source)
