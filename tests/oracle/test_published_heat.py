"""Heating, boiling off and cooling against published figures; the source stands beside each."""

from __future__ import annotations

import pytest

from scheduler.physics import boil, cooling

# Fast Company, induction versus gas quart-boiling test: one US quart of water needs 317 BTU in theory.
# That is 60 to 212 °F, which the test does not print but its 317 BTU imply.
QUART_KG = 0.946353 * 0.999
START_C, BOILING_C = (60 - 32) / 1.8, 100.0
BTU_KJ = 1.05506


@pytest.mark.parametrize(
    ("kw", "minutes", "used_kj", "percent"),
    [
        (2.05149, 8.5, 992 * BTU_KJ, 32.0),  # gas, 7000 BTU/h for 8.5 min
        (1.3, 5.83333, 430 * BTU_KJ, 73.7),  # induction, 0.126 kWh
    ],
)
def test_quart_of_water_to_the_boil(kw: float, minutes: float, used_kj: float, percent: float) -> None:
    """The source's efficiencies follow from its energies, and with them its minutes from ours."""
    assert kw * minutes * 60 == pytest.approx(used_kj, rel=0.005)
    alone = boil.heat_up_minutes(0, 0.1, 0, QUART_KG, START_C, BOILING_C, kw, 1.0)
    ideal_kj = alone * 60 * kw
    assert ideal_kj == pytest.approx(317 * BTU_KJ, rel=0.005)
    assert 100 * 317 * BTU_KJ / used_kj == pytest.approx(percent, abs=0.1)
    ours = boil.heat_up_minutes(0, 0.1, 0, QUART_KG, START_C, BOILING_C, kw, percent / 100)
    assert ours == pytest.approx(minutes, rel=0.01)


@pytest.mark.parametrize(
    ("heat", "low", "high"), [("gas", 0.32, 0.44), ("electric", 0.74, 0.80), ("induction", 0.737, 0.85)]
)
def test_efficiencies_lie_among_the_published(heat: str, low: float, high: float) -> None:
    """US DOE tests (40, 74, 84 %), CalMTA fact sheet (32, 85 %), SCHOTT (44, 80, up to 84 %)."""
    assert low <= boil.EFFICIENCY[heat] <= high


@pytest.mark.parametrize(
    ("fruit", "water", "published"),
    [
        ("strawberry", 0.899, 4.02),
        ("raspberry", 0.806, 3.98),
        ("blackberry", 0.848, 3.89),
        ("blueberry", 0.823, 3.81),
        ("sour cherry", 0.837, 3.85),
        ("sweet cherry", 0.804, 3.73),
    ],
)
def test_specific_heat_of_fruit(fruit: str, water: float, published: float) -> None:
    """Freezing point and properties of foods (ASHRAE-type table), kJ/(kg K) above freezing; water content
    from USDA Agriculture Handbook 66. Fruit is not syrup, and the tables differ in their fruit: 6.5 %."""
    assert boil.specific_heat(1 - water, 20) == pytest.approx(published, rel=0.065), fruit


def test_syrup_takes_more_heat_than_water_and_crystals_apart() -> None:
    """Mohos, Confectionery and Chocolate Engineering (2010), Appendix 2: 0.2712 + 0.00103 t kcal/(kg K).

    That is for crystals; dissolved sugar holds more heat than crystals do (from memory), so the sum of
    the parts is taken as a floor, and a fifth above it as a ceiling.
    """
    crystals = 4.1868 * (0.2712 + 0.00103 * 50)
    for solids in (0.3, 0.5, 0.65):
        parts = solids * crystals + (1 - solids) * 4.18
        assert parts < boil.specific_heat(solids, 50) < 1.2 * parts


def test_a_domestic_preserving_pan_boils_off_what_cooks_see() -> None:
    """Common kitchen practice, from memory: 1 to 2.5 kg/h from a 9 litre pan on a strong domestic ring."""
    kg_per_hour = 60 / boil.boil_minutes(1, 3.0, boil.EFFICIENCY["gas"], 30, 0)
    assert 1.0 <= kg_per_hour <= 2.5


@pytest.mark.parametrize("minutes", [10, 15])
def test_open_pan_of_8_kg(minutes: float) -> None:
    """Common practice, from memory, no published source: 14 to 28 K in 10 to 15 minutes; covered a third to
    somewhat more than half of that."""
    open_loss = 104.5 - cooling.temperature_after(minutes, 104.5, 8, 36, 22, covered=False)
    covered_loss = 104.5 - cooling.temperature_after(minutes, 104.5, 8, 36, 22)
    assert 14 <= open_loss <= 28
    assert 1 / 3 <= covered_loss / open_loss <= 0.55


def test_covered_pan_of_10_kg() -> None:
    """Common practice, from memory, no published source: 88 to 92 °C after 20 minutes off the heat."""
    assert 88 <= cooling.temperature_after(20, 104.5, 10, 36, 22, covered=True) <= 92
