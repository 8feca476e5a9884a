"""Rounding to a step, with a guard against floats that lie a hair beside it.

53.25 in is 1352.55 mm, and a chain of sums may bring it out as 1352.5499999999997. Cutting it down to the next 1/32 in would then lose a
whole step for nothing. So a value within `GUARD` of a step from a step counts as lying on it. For 1/32 in that is 0.8 nm, far below
anything a shop can cut, and far above what floats lose while a value is below 1e9 steps.
"""

from __future__ import annotations

import math
from typing import Final

from halfsilver.errors import RangeError

GUARD: Final = 1e-6  # in steps
LEAST_STEP: Final = 1e-6
CLEAN_PLACES: Final = 9  # results are whole steps cleaned to this many decimals, so that 1704 x 25.4/32 prints as 1352.55


def down_to(value: float, step: float) -> float:
    """The greatest multiple of a step that is not above a value.

    Parameters
    ----------
    value : float
        Any finite number; for a negative one "down" is still towards minus infinity.
    step : float
        At least 1e-6, in the unit of ``value``.

    Returns
    -------
    float
        In the unit of ``value``.

    Raises
    ------
    RangeError
        If the value is not finite or the step too small.

    Examples
    --------
    >>> down_to(1352.5499999999997, 25.4 / 32)
    1352.55
    >>> down_to(1352.5, 25.4 / 32)
    1351.75625
    """
    return _multiple(math.floor(_steps(value, step) + GUARD), step)


def up_to(value: float, step: float) -> float:
    """The least multiple of a step that is not below a value; parameters and errors as for `down_to`.

    Examples
    --------
    >>> up_to(10.0000001, 10.0)
    10.0
    >>> up_to(10.1, 10.0)
    20.0
    """
    return _multiple(math.ceil(_steps(value, step) - GUARD), step)


def nearest(value: float, step: float) -> float:
    """The multiple of a step nearest to a value, halves away from zero; parameters and errors as for `down_to`.

    Examples
    --------
    >>> nearest(0.5, 1.0), nearest(-0.5, 1.0), nearest(2.5, 1.0)
    (1.0, -1.0, 3.0)
    """
    return _multiple(nearest_steps(value, step), step)


def nearest_steps(value: float, step: float) -> int:
    """How many steps the value nearest to a multiple makes; parameters and errors as for `down_to`.

    Examples
    --------
    >>> nearest_steps(12.97, 1 / 32)
    415
    """
    steps = _steps(value, step)
    count = math.floor(abs(steps) + 0.5 + GUARD)
    return -count if steps < 0 else count


def on_step(value: float, step: float) -> bool:
    """Whether a value is a multiple of a step, within the guard."""
    steps = _steps(value, step)
    return abs(steps - round(steps)) <= GUARD


def decimal_text(value: float, places: int) -> str:
    """A number rounded half away from zero, without trailing zeros or a minus on zero.

    Parameters
    ----------
    value : float
        A finite number.
    places : int
        Most decimals, 0 to 6.

    Examples
    --------
    >>> decimal_text(1466.85, 1), decimal_text(1467.0, 1), decimal_text(-0.01, 1)
    ('1466.9', '1467', '0')
    """
    scale = 10**places
    count = nearest_steps(value, 1.0 / scale)
    whole, part = divmod(abs(count), scale)
    digits = f"{part:0{places}d}".rstrip("0") if part else ""
    return ("-" if count < 0 else "") + str(whole) + (f".{digits}" if digits else "")


def _steps(value: float, step: float) -> float:
    if not math.isfinite(value) or not step >= LEAST_STEP:
        raise RangeError(f"Rounding takes a finite value and a step of at least {LEAST_STEP:g}: got {value!r} and {step!r}.")
    return value / step


def _multiple(count: int, step: float) -> float:
    return round(count * step, CLEAN_PLACES)
