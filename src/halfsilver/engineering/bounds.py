"""Guards: what a formula may be asked, and comparison with a printed limit."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf, isfinite
from typing import TypeVar

from halfsilver.errors import RangeError

K = TypeVar("K")
V = TypeVar("V")

# A length read from inches and back differs in its last bits; that must not push a piece at a limit over it.
RELATIVE_SLACK = 1e-9


def exceeds(value: float, limit: float) -> bool:
    """Whether ``value`` is more than ``limit`` by more than the noise of arithmetic."""
    return value - limit > RELATIVE_SLACK * max(abs(value), abs(limit))


def positive(**values: float) -> None:
    """Refuse a value that is not a finite number above zero.

    Raises
    ------
    RangeError
        Naming the first that is not.
    """
    for name, value in values.items():
        if not 0 < value < inf:
            raise RangeError(f"{name} must be above 0, got {value:g}")


def not_negative(**values: float) -> None:
    """Refuse a value that is not a finite number of at least zero.

    Raises
    ------
    RangeError
        Naming the first that is not.
    """
    for name, value in values.items():
        if not 0 <= value < inf:
            raise RangeError(f"{name} must be 0 or more, got {value:g}")


def within(name: str, value: float, low: float, high: float, source: str) -> None:
    """Refuse a value outside ``low`` to ``high``, both included.

    Raises
    ------
    RangeError
        Naming value, range and the source that sets it.
    """
    inside = low <= value <= high or not (exceeds(low, value) or exceeds(value, high))
    if not (inside and isfinite(value)):
        raise RangeError(f"{name} = {value:g} is outside {low:g} to {high:g}, the range of {source}")


def entry(table: Mapping[K, V], key: K, what: str) -> V:
    """The row of a table.

    Raises
    ------
    RangeError
        Naming the keys there are.
    """
    try:
        return table[key]
    except KeyError:
        known = ", ".join(str(k) for k in table)
        raise RangeError(f"no {what} {key!s}; there are: {known}") from None
