"""Keys: a result as one whole number, so that ranking is sorting and equal is equal.

From the left: the group of the result (finishers before the capped, both before modified
work), the result in it, the tie-break split. The lowest is best.
"""

from callroom.model import Mass
from callroom.model.mass import GRAMS_PER_POUND

FINISHED, CAPPED, MODIFIED = 0, 1, 2
"""Groups of results, best first; work done lighter or easier adds `MODIFIED` to its group."""

SPLIT_BITS = 64
RESULT_BITS = 128
MOST = (1 << RESULT_BITS) - 1
LATEST = (1 << SPLIT_BITS) - 2
"""Stands for a missing split [ms]: later than any clock will ever show."""

LOAD_DECIMALS = 15
"""Decimals of a kilogram or pound that are compared; no plate has as many."""

_SCALE: int = 10**LOAD_DECIMALS
_PER_KILOGRAM = GRAMS_PER_POUND.denominator * 1000
_PER_POUND = GRAMS_PER_POUND.numerator


def fewest_first(group: int, result: int, split: int) -> int:
    """Return the key of a result of which less is better."""
    if result >> RESULT_BITS or split >> SPLIT_BITS:
        result, split = _bounded(result, MOST), _bounded(split, LATEST)
    return (group << RESULT_BITS) + result << SPLIT_BITS | split


def most_first(group: int, result: int, split: int) -> int:
    """Return the key of a result of which more is better."""
    if result >> RESULT_BITS or split >> SPLIT_BITS:
        result, split = _bounded(result, MOST), _bounded(split, LATEST)
    return (group << RESULT_BITS) + MOST - result << SPLIT_BITS | split


def _bounded(number: int, most: int) -> int:
    """Return what is too large or below nought as the nearest that can be: a slip of typing."""
    return min(max(number, 0), most)


def load_units(mass: Mass) -> int:
    """Return a mass in a whole number of units so small that kilograms and pounds are exact.

    The unit is 10 ** -20 g: a pound is 453.59237 g, and its 15th decimal still counts.
    """
    over, under = mass.amount.as_integer_ratio()
    per_unit = _PER_POUND if mass.unit == "lb" else _PER_KILOGRAM
    return over * _SCALE // under * per_unit


def modified(key: int) -> int:
    """Return the key of the same result, done lighter or easier than prescribed."""
    return key + (MODIFIED << (RESULT_BITS + SPLIT_BITS))


def same_result(one: int, other: int) -> bool:
    """Return whether two keys are of results that only a split could part."""
    return one >> SPLIT_BITS == other >> SPLIT_BITS
