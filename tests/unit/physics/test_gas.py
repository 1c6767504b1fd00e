"""Heat in bottled gas."""

from __future__ import annotations

import pytest

from scheduler.physics import gas


def test_net_heat_of_propane_from_heats_of_formation() -> None:
    """C3H8 + 5 O2 = 3 CO2 + 4 H2O (steam). Heats of formation (kJ/mol) of chemistry handbooks, from memory:

    propane −103.8, carbon dioxide −393.5, steam −241.8; 44.10 g/mol. Bottled gas holds a little less heat.
    """
    burnt = 3 * 393.5 + 4 * 241.8 - 103.8
    assert gas.kwh(1.0) == pytest.approx(burnt / 44.10 / 3.6, abs=0.1)


def test_kg_and_kwh_are_one_another_turned_round() -> None:
    assert gas.propane_kg(gas.kwh(11.0)) == pytest.approx(11.0)


def test_less_than_no_gas_is_refused() -> None:
    with pytest.raises(ValueError, match="gas"):
        gas.kwh(-1.0)
