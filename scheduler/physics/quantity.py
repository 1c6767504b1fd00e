"""A quantity: one number, or an array of them, one entry a recipe (or a batch, or a spell).

Every function of the physics takes either and gives back the same: numbers for numbers, an array as soon as
one quantity is an array (shapes as NumPy broadcasts them). The few functions here are those that Python
spells differently for the two; numbers stay plain Python numbers, which are faster than arrays of one.
"""

from __future__ import annotations

import math
from typing import TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Numbers: TypeAlias = float | Array
Q = TypeVar("Q", float, Array)
"""``Q | float`` in, ``Q | float`` out: with numbers alone a type checker sees a float come back."""


def exp(value: Q | float) -> Q | float:
    """e to the power of ``value``."""
    return np.exp(value) if isinstance(value, np.ndarray) else math.exp(value)


def log(value: Q | float) -> Q | float:
    """Natural logarithm of ``value``, which is above 0."""
    return np.log(value) if isinstance(value, np.ndarray) else math.log(value)


def root(value: Q | float) -> Q | float:
    """Square root of ``value``, which is not below 0."""
    return np.sqrt(value) if isinstance(value, np.ndarray) else math.sqrt(value)


def power(base: Q | float, exponent: Q | float) -> Q | float:
    """``base``, not below 0, to the power of ``exponent``."""
    if isinstance(base, np.ndarray) or isinstance(exponent, np.ndarray):
        return np.power(base, exponent)
    return math.pow(base, exponent)


def ceil(value: Q | float) -> Q | float:
    """``value`` rounded up to a whole number."""
    return np.ceil(value) if isinstance(value, np.ndarray) else math.ceil(value)


def smaller(one: Q | float, other: Q | float) -> Q | float:
    """The smaller of two, entry by entry."""
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return np.minimum(one, other)
    return min(one, other)


def larger(one: Q | float, other: Q | float) -> Q | float:
    """The larger of two, entry by entry."""
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return np.maximum(one, other)
    return max(one, other)


def either(when: bool | NDArray[np.bool_], this: Q | float, that: Q | float) -> Q | float:
    """``this`` where ``when`` holds, otherwise ``that``, entry by entry: one is an array if ``when`` is."""
    if isinstance(this, np.ndarray) or isinstance(that, np.ndarray):
        return np.where(when, this, that)
    return this if when else that
