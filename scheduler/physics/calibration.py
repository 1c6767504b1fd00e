"""A kitchen's own measurements: what its refractometer and its logged batches say about the computed figures.

Both are least squares. What they find is used in place of nothing, never mixed with guesses: a shift of the
set temperature, and a factor on the minutes of the boil.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from scheduler.physics import ranges
from scheduler.physics.quantity import Array, Numbers
from scheduler.physics.setpoint import MOST_OFFSET_K, set_temperature_c

LEAST_BATCHES = 5
"""Logged batches from which on they count; with fewer, chance decides. Common practice, no source."""

COVERED_SHARE = 0.95
"""Share of batches to come that stay within the upper factor."""


@dataclass(frozen=True, slots=True)
class SetOffset:
    """Shift (K) of a kitchen's set temperatures, its standard error (None from one reading), readings."""

    kelvin: float
    error_k: float | None
    readings: int


@dataclass(frozen=True, slots=True)
class BoilFactor:
    """Factor on computed minutes of boiling: the average of a kitchen's batches, and the one to plan with.

    ``upper`` is the factor within which 95 of 100 batches to come stay; the plan uses it, so that minutes
    are not under-stated. With fewer than ``LEAST_BATCHES`` on record both are 1 and ``error`` is None.
    """

    factor: float
    error: float | None
    upper: float
    batches: int


def set_offset(
    celsius: Sequence[float] | Array,
    solids: Sequence[float] | Array,
    altitude_m: Numbers | None = None,
    *,
    hpa: Sequence[float] | Array | float | None = None,
) -> SetOffset:
    """Shift of the set temperature by readings of thermometer and refractometer at the boil.

    One reading or more: ``celsius`` at the boil, ``solids`` of the same spoonful once cold (fractions above
    0 and below 0.9), and the pressure, by altitude or by barometer (one for all or one each). The shift
    that leaves the least squares is their mean difference from the computed curve; its standard error is
    their scatter ÷ √readings. Raises ValueError out of range, and names a reading more than 5 K off.
    """
    read, thick = _paired("temperatures", celsius, "readings of solids", solids)
    pressure = None if hpa is None else np.asarray(hpa, dtype=np.float64)
    off = read - set_temperature_c(thick, altitude_m, hpa=pressure)
    remedy = "Check thermometer and refractometer, or leave this reading out."
    ranges.within("reading's difference from the curve", off, -MOST_OFFSET_K, MOST_OFFSET_K, "K", remedy)
    return SetOffset(float(off.mean()), _standard_error(off), off.size)


def boil_factor(
    computed_minutes: Sequence[float] | Array, observed_minutes: Sequence[float] | Array
) -> BoilFactor:
    """Regression of observed on computed minutes of boiling, one pair a logged batch (0 to 600 min).

    The line goes through nothing, and scatter is taken to grow with the minutes (weights 1 ÷ computed²),
    which makes the factor the mean of the batches' ratios. ``upper`` adds to it Student's t times the
    error of one batch to come. Raises ValueError out of range, and names a batch whose ratio is not 0.2 to 5.
    """
    computed, observed = _paired("computed minutes", computed_minutes, "observed minutes", observed_minutes)
    ranges.above("computed minutes", computed, 0, 600, "min", "Leave batches without a boil out.")
    ranges.above("observed minutes", observed, 0, 600, "min", "Give the minutes on the heat.")
    ratio = observed / computed
    remedy = "Check this batch's record, or leave it out."
    ranges.within("observed ÷ computed minutes", ratio, 0.2, 5, "", remedy)
    if ratio.size < LEAST_BATCHES:
        return BoilFactor(1.0, None, 1.0, ratio.size)
    factor, error = float(ratio.mean()), float(ratio.std(ddof=1)) / math.sqrt(ratio.size)
    one_batch = error * math.sqrt(ratio.size + 1)
    upper = factor + student_t(COVERED_SHARE, ratio.size - 1) * one_batch
    return BoilFactor(factor, error, upper, ratio.size)


def student_t(share: float, freedom: int) -> float:
    """Value below which ``share`` (0.5 to 0.99) of Student's t distribution lies, ``freedom`` 4 or more.

    Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.7.5, from memory; within 0.01 of
    tables to a share of 0.95. Raises ValueError out of range.
    """
    ranges.within("share", share, 0.5, 0.99, "as a fraction", "Give 95 % as 0.95.")
    ranges.within("degrees of freedom", freedom, 4, 1_000_000, "", "Five batches give four.")
    z = NormalDist().inv_cdf(share)
    a = (z**3 + z) / 4
    b = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    c = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    d = (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92_160
    return z + (a + (b + (c + d / freedom) / freedom) / freedom) / freedom


def _standard_error(values: Array) -> float | None:
    return float(values.std(ddof=1)) / math.sqrt(values.size) if values.size > 1 else None


def _paired(
    name: str, values: Sequence[float] | Array, other_name: str, others: Sequence[float] | Array
) -> tuple[Array, Array]:
    one, other = np.asarray(values, dtype=np.float64), np.asarray(others, dtype=np.float64)
    if one.ndim != 1 or one.shape != other.shape:
        raise ValueError(
            f"{one.size} {name} but {other.size} {other_name}; allowed: one each, in one list. Pair them up."
        )
    ranges.within(f"number of {name}", one.size, 1, 100_000, "", "Give one or more.")
    return one, other
