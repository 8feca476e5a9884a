"""How a job prints its values: lengths in its own units, counts whole, shares in percent."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from halfsilver.units.factors import MM_PER_INCH
from halfsilver.units.lengths import finest_step_mm, is_exact, write_length
from halfsilver.units.rounding import decimal_text

Show = Callable[[float, str], str]


def shower(*, units: Literal["in", "mm"], fraction: int) -> Show:
    """A function that writes a value with its unit.

    Parameters
    ----------
    units : {"in", "mm"}
        The job's units of length.
    fraction : int
        Denominator of the finest fraction of an inch in print.

    Returns
    -------
    callable
        Takes a value and its unit (mm, count, share, deg, kg). A length below the finest fraction is written in 64ths where
        that is exact, and in thousandths of an inch where it would read as nothing, as a glue line would.
    """
    finest = finest_step_mm(units=units, fraction=fraction)

    def show(value: float, unit: str) -> str:
        if unit == "mm":
            if units == "in" and 1e-9 < abs(value) < finest - 1e-9:
                if is_exact(value, units="in", fraction=64):
                    return write_length(value, units="in", fraction=64)
                if abs(value) < finest / 2:
                    return f"{decimal_text(value / MM_PER_INCH, 3)} in"
            return write_length(value, units=units, fraction=fraction)
        if unit == "share":
            return f"{decimal_text(100 * value, 1)} %"
        if unit == "count":
            return decimal_text(value, 3)
        return f"{decimal_text(value, 2)} {unit}".strip()

    return show


def in_inches(show: Show) -> bool:
    """Whether a job's lengths are written in inches."""
    return show(MM_PER_INCH, "mm").endswith("in")


def fine(show: Show, length_mm: float) -> str:
    """A small length finer than a rule shows it: a tenth of a millimetre, or thousandths of an inch in an inch job.

    Parameters
    ----------
    show : callable
        Writes values in the job's units.
    length_mm : float
        The length. [mm]

    Examples
    --------
    >>> fine(shower(units="in", fraction=32), 0.6), fine(shower(units="mm", fraction=32), 0.6)
    ('0.024 in', '0.6 mm')
    """
    return f"{decimal_text(length_mm / MM_PER_INCH, 3)} in" if in_inches(show) else f"{decimal_text(length_mm, 1)} mm"
