"""Amounts in the units of the reader's farm: published sizes, what is nothing, and who is asked."""

from __future__ import annotations

import pytest

from scheduler import languages
from scheduler.languages import BOTH, ENGLISH, IMPERIAL, METRIC, measures, speaking, units


def test_sizes_are_those_of_published_tables() -> None:
    """NIST Special Publication 811, appendix B (pound, ounce; °F); Weights and Measures Act 1985 (pint)."""
    assert pytest.approx(4.535924e-01, rel=1e-6) == measures.POUND
    assert pytest.approx(2.834952e-02, rel=1e-6) == measures.OUNCE
    assert pytest.approx(0.56826125, abs=1e-12) == measures.PINT
    assert [measures.fahrenheit(heat) for heat in (-40, 0, 37, 100)] == pytest.approx([-40, 32, 98.6, 212])
    assert measures.celsius(measures.fahrenheit(85.0)) == pytest.approx(85.0)


def test_everything_is_metric_where_nobody_asked_for_another() -> None:
    assert units() == METRIC
    told = measures.mass(6.3), measures.volume(12.5), measures.degrees(104.5), measures.quantity(5, "kg")
    assert told == ("6.3 kg", "12.5 l", "104.5 °C", "5 kg")
    assert measures.worded("frozen kg") == "frozen kg"
    assert measures.shown(6.3) == measures.in_kg(6.3) == measures.for_each(6.3) == 6.3


@pytest.mark.parametrize(
    ("kg", "told"),
    [
        (0.0, "0.0 lb"),
        (0.049, "0.0 lb"),
        (0.05, "1.8 oz"),
        (0.4521, "15.9 oz"),
        (0.4535, "1.0 lb"),  # 15.997 oz would be told as 16.0 oz
        (measures.POUND, "1.0 lb"),
        (-0.2, "-7.1 oz"),
        (12.0, "26.5 lb"),
        (1000.0, "2,204.6 lb"),
    ],
)
def test_a_mass_is_in_pounds_and_below_one_in_ounces(kg: float, told: str) -> None:
    with speaking(ENGLISH, IMPERIAL):
        assert measures.mass(kg) == told


def test_temperatures_volumes_and_goods() -> None:
    with speaking(ENGLISH, IMPERIAL):
        assert measures.degrees(104.5) == "220.1 °F"
        assert measures.degrees(85, None) == "185 °F"
        assert measures.degrees(-18, None) == "−0.4 °F"
        assert measures.volume(0.56826125) == "1 pt"
        assert measures.quantity(2.5, "litre") == "4.4 pt"
        # What has a unit of its own, or is weighed out in grams, stays as it is.
        assert [measures.quantity(5, unit) for unit in ("each", "g", "bag")] == ["5", "5 g", "5 bag"]
        assert measures.for_each(2.0) == pytest.approx(2.0 * 0.45359237)
        assert measures.in_kg(measures.shown(7.0)) == pytest.approx(7.0)


def test_paper_says_both_and_keeps_each_on_a_line() -> None:
    with speaking(ENGLISH, BOTH):
        assert measures.mass(12.0) == "12.0\u00a0kg (26\u00a0lb\u00a07\u00a0oz)"
        assert measures.mass(0.2) == "0.2\u00a0kg (7\u00a0oz)"
        assert measures.mass(0.4535) == "0.5\u00a0kg (1\u00a0lb)"
        assert measures.mass(0.0) == "0.0\u00a0kg (0\u00a0oz)"
        assert measures.degrees(85, None) == "85\u00a0°C (185\u00a0°F)"
        assert measures.symbol("kg") == "kg / lb"


def test_words_that_name_units_name_those_that_are_shown() -> None:
    with speaking(ENGLISH, IMPERIAL):
        assert measures.worded("kg as prepared, by kg; kgs stay") == "lb as prepared, by lb; kgs stay"
        assert measures.worded("The same in litres, at 3 °C") == "The same in pints, at 3 °F"
    with speaking("de", IMPERIAL):
        assert measures.worded("Liter je kg auf Blechen") == "Pints je lb auf Blechen"
        assert measures.mass(12.0) == "26,5 lb"


def test_what_is_written_or_sent_is_metric_whatever_the_reader_has(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(languages, "_unit_askers", [lambda: IMPERIAL])
    assert measures.mass(12.0) == "26.5 lb"
    with speaking(ENGLISH):
        assert measures.mass(12.0) == "12.0 kg"
    with speaking(ENGLISH, units=None):
        assert measures.mass(12.0) == "26.5 lb"
