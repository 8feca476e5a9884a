"""Glass measured in the shop with a lux or luminance meter: shares as ratios of readings, with their uncertainty.

Scalars only and without NumPy, so that the reader of a workshop may call them. First order throughout (JCGM 100): every input counts as
independent of the others. That is cautious for the meter, whose calibration is the same in both readings and cancels.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

GUM = "JCGM 100:2008 (GUM)"
COVERAGE = 2.0  # about 95 %


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertain:
    """A value with its standard uncertainty, both in the value's unit."""

    value: float
    standard: float

    @property
    def expanded(self) -> float:
        """Twice the standard uncertainty, about 95 % (JCGM 100, 6.2)."""
        return COVERAGE * self.standard


@formula(name="meter.combined", source=f"{GUM}, equation (10)", status="memory", validity="independent inputs, first order")
def combined(*, sensitivities: Sequence[float], standards: Sequence[float]) -> float:
    """Combined standard uncertainty: root of the sum of (c_i u_i)^2.

    Parameters
    ----------
    sensitivities : list of float
        How much the result changes with each input.
    standards : list of float
        Standard uncertainty of each input.

    Examples
    --------
    >>> round(combined(sensitivities=[1, 1, 1, 1], standards=[25, 9.7, 2.9, 16.6]))  # JCGM 100, H.1.4, in nm
    32
    """
    if len(sensitivities) != len(standards):
        raise RangeError(f"{len(sensitivities)} sensitivities stand beside {len(standards)} uncertainties.")
    if not all(u >= 0 for u in standards):
        raise RangeError("A standard uncertainty is 0 or more.")
    return sqrt(fsum((c * u) ** 2 for c, u in zip(sensitivities, standards, strict=True)))


@formula(
    name="meter.ratio", source=f"{GUM}, 4.3.7 and equation (10), on a ratio of readings", status="derived", unit="1",
    validity="one meter, steady lamp, straight on; readings in one unit",
)  # fmt: skip
def meter_ratio(
    *,
    sheet: float,
    bare: float,
    dark: float = 0.0,
    meter: float = 0.0,
    step: float = 0.0,
    reference: float = 1.0,
    reference_limit: float = 0.0,
) -> Uncertain:
    """Transmittance from readings with and without a sheet, or reflectance from readings off the sheet and off a reference mirror.

    y = reference (sheet - dark)/(bare - dark).

    Parameters
    ----------
    sheet, bare, dark : float
        Readings with the sheet, without it (off the reference mirror), and with the lamp covered, all in one unit.
    meter : float
        Limit of error of one reading, as a share of it; all values between equally likely. [-]
    step : float
        Last digit of the display, in the unit of the readings.
    reference, reference_limit : float
        Reflectance of the reference mirror and its limit of error; 1 and 0 for a transmittance. [-]

    Raises
    ------
    RangeError
        If a reading is negative, or the bare one is not above the dark one.

    Examples
    --------
    >>> found = meter_ratio(sheet=241, bare=500, dark=1, meter=0.03)
    >>> round(found.value, 4), round(found.standard, 4)
    (0.481, 0.0118)
    """
    given = {"sheet": sheet, "bare": bare, "dark": dark, "meter": meter, "step": step, "reference_limit": reference_limit}
    for name, value in given.items():
        if not 0 <= value < float("inf"):
            raise RangeError(f"{name} is {value:g}; it must be 0 or more.", path=name)
    if not bare > dark:
        raise RangeError(f"Without the sheet the meter reads {bare:g}, in the dark {dark:g}: it must read more.", path="bare")
    if not 0 < reference <= 1:
        raise RangeError(f"reference is {reference:g}; a mirror throws back more than 0 and at most 1.", path="reference")
    lit = bare - dark
    y = reference * (sheet - dark) / lit
    digit = step / 2 / sqrt(3)
    of_reading = [sqrt((meter * one / sqrt(3)) ** 2 + digit**2) for one in (sheet, bare, dark)]
    standard = combined(
        sensitivities=(reference / lit, y / lit, (y - reference) / lit, y / reference), standards=(*of_reading, reference_limit / sqrt(3))
    )
    return Uncertain(value=y, standard=standard)


def mean_of(found: Sequence[Uncertain]) -> Uncertain:
    """Mean of repeated measurements of one share.

    What the meter may be off by is the same each time and does not average out; the scatter does (JCGM 100, 4.2.3: s/root of n).

    Raises
    ------
    RangeError
        If there are none.
    """
    if not found or not all(isfinite(one.value) for one in found):
        raise RangeError("A mean needs at least one value.")
    count = len(found)
    value = fsum(one.value for one in found) / count
    systematic = fsum(one.standard**2 for one in found) / count
    scatter = fsum((one.value - value) ** 2 for one in found) / (count - 1) / count if count > 1 else 0.0
    return Uncertain(value=value, standard=sqrt(systematic + scatter))


def within_one(T: Uncertain, R: Uncertain) -> tuple[float, float] | None:
    """T and R brought to a sum of 1 where they exceed it within their expanded uncertainty; as they are below 1; None beyond.

    The excess is shared out by their variances, as least squares with the sum as a constraint do.
    """
    over = T.value + R.value - 1
    if over <= 0:
        return T.value, R.value
    variance = T.standard**2 + R.standard**2
    if over > COVERAGE * sqrt(variance):
        return None
    part = T.standard**2 / variance
    return T.value - part * over, R.value - (1 - part) * over
