"""A kitchen's own measurements: what made-up readings put in comes out again, and faults are named."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from scheduler.physics import setpoint
from scheduler.physics.calibration import BoilFactor, boil_factor, set_offset, student_t

SOLIDS = np.array([0.60, 0.63, 0.65, 0.66, 0.68])
COMPUTED = np.array([12.0, 15.0, 18.0, 20.0, 25.0, 30.0])


def test_readings_on_a_shifted_curve_give_the_shift() -> None:
    read = setpoint.set_temperature_c(SOLIDS, 50.0, offset_k=0.6)
    found = set_offset(read, SOLIDS, 50.0)
    assert found.kelvin == pytest.approx(0.6)
    assert found.error_k == pytest.approx(0, abs=1e-9)
    assert found.readings == 5
    assert setpoint.solids_at(read[2], 50.0, offset_k=found.kelvin) == pytest.approx(0.65)


def test_no_other_shift_leaves_smaller_squares() -> None:
    read = setpoint.set_temperature_c(SOLIDS, 50.0) + np.array([0.3, 0.8, 0.5, 0.2, 0.9])
    found = set_offset(read, SOLIDS, 50.0)

    def squares(kelvin: float) -> float:
        return float(np.sum((read - setpoint.set_temperature_c(SOLIDS, 50.0, offset_k=kelvin)) ** 2))

    assert squares(found.kelvin) < min(squares(found.kelvin - 0.01), squares(found.kelvin + 0.01))
    # scatter about the mean 0.54: squares sum to 0.372, ÷ 4 and ÷ 5
    assert found.error_k == pytest.approx((0.372 / 4 / 5) ** 0.5)


def test_each_reading_may_have_its_own_pressure() -> None:
    pressures = np.array([985.0, 1000.0, 1013.0, 1020.0, 1030.0])
    read = setpoint.set_temperature_c(SOLIDS, hpa=pressures, offset_k=-0.4)
    assert set_offset(read, SOLIDS, hpa=pressures).kelvin == pytest.approx(-0.4)
    assert set_offset(list(read), list(SOLIDS), hpa=list(pressures)).kelvin == pytest.approx(-0.4)


def test_one_reading_shifts_but_has_no_error() -> None:
    found = set_offset([104.5], [0.65], 0.0)
    assert found.kelvin == pytest.approx(104.5 - setpoint.set_temperature_c(0.65, 0.0))
    assert found.error_k is None


def test_steady_batches_give_their_factor_without_doubt() -> None:
    found = boil_factor(COMPUTED, 1.25 * COMPUTED)
    assert found.factor == pytest.approx(1.25)
    assert found.error == pytest.approx(0, abs=1e-9)
    assert found.upper == pytest.approx(1.25)


def test_fewer_than_five_batches_change_nothing() -> None:
    assert boil_factor([20.0, 25.0, 18.0, 30.0], [30.0, 38.0, 26.0, 44.0]) == BoilFactor(1.0, None, 1.0, 4)


def test_the_factor_is_the_weighted_least_squares_line() -> None:
    observed = COMPUTED * np.array([1.1, 1.3, 1.2, 1.4, 1.0, 1.2])
    weights = 1 / COMPUTED**2
    line = float(np.sum(weights * COMPUTED * observed) / np.sum(weights * COMPUTED**2))
    assert boil_factor(COMPUTED, observed).factor == pytest.approx(line)


def test_the_upper_factor_covers_nineteen_batches_in_twenty() -> None:
    """Kitchens drawn with a true factor of 1.2 and a scatter of 15 %: the next stays within the upper."""
    draw = np.random.default_rng(5)
    covered = 0
    for _ in range(2000):
        ratios = draw.normal(1.2, 0.15, 8)
        found = boil_factor(np.full(7, 20.0), 20 * ratios[:7])
        assert found.error is not None
        covered += ratios[7] <= found.upper
    assert covered / 2000 == pytest.approx(0.95, abs=0.015)


def test_five_batches_worked_by_hand() -> None:
    """Ratios 1.1, 1.3, 1.2, 1.0, 1.4: mean 1.2, s² = 0.1 ÷ 4, upper 1.2 + 2.132 s √(1 + 1/5)."""
    found = boil_factor([20.0, 10.0, 30.0, 25.0, 15.0], [22.0, 13.0, 36.0, 25.0, 21.0])
    assert found.factor == pytest.approx(1.2)
    assert found.error == pytest.approx((0.1 / 4 / 5) ** 0.5)
    assert found.upper == pytest.approx(1.2 + 2.132 * (0.1 / 4 * 1.2) ** 0.5, abs=1e-3)


def test_more_batches_leave_less_error() -> None:
    pattern = [1.1, 1.3, 1.2, 1.0, 1.4]
    few = boil_factor([20.0] * 5, [20 * ratio for ratio in pattern])
    many = boil_factor([20.0] * 25, [20 * ratio for ratio in pattern * 5])
    assert many.factor == pytest.approx(few.factor)
    assert many.error is not None
    assert few.error is not None
    assert many.error < few.error / 2
    assert many.factor < many.upper < few.upper


def test_students_t_nears_the_normal_distribution() -> None:
    assert student_t(0.95, 1_000_000) == pytest.approx(1.64485, abs=1e-4)
    assert student_t(0.5, 4) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: set_offset([104.0, 115.0], [0.65, 0.65], 0.0), r"difference from the curve\[1\] is 11\.2"),
        (lambda: set_offset([104.0], [0.65, 0.66], 0.0), "1 temperatures but 2 readings of solids"),
        (lambda: set_offset([], [], 0.0), "number of temperatures is 0"),
        (lambda: set_offset([104.0, 104.0], [0.65, 65.0], 0.0), r"solids\[1\] is 65"),
        (lambda: boil_factor([20.0] * 6, [20.0] * 5 + [200.0]), r"observed ÷ computed minutes\[5\] is 10"),
        (lambda: boil_factor([20.0, 0.0], [20.0, 20.0]), r"computed minutes\[1\] is 0"),
        (lambda: boil_factor([20.0], [20.0, 21.0]), "1 computed minutes but 2 observed minutes"),
        (lambda: student_t(0.95, 3), "degrees of freedom is 3"),
        (lambda: student_t(95.0, 10), "share is 95"),
    ],
)
def test_faults_are_named(call: Callable[[], object], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)
