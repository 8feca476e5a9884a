"""Lengths as a shop writes them: inches with fractions, feet and inches, millimetres.

Read: ``57 3/4 in``, ``57-3/4"``, ``57¾″``, ``57.75 in``, ``4' 9 3/4"``, ``4 ft 9 3/4 in``, ``1467 mm``, ``146.7 cm``, ``1.467 m``,
``-1/8 in``.
Fractions of an inch go down to 1/64; decimals to any place. A length without a unit is refused.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from halfsilver.errors import RangeError
from halfsilver.units.factors import MM_PER_FOOT, MM_PER_INCH, exact
from halfsilver.units.rounding import decimal_text, nearest_steps, on_step
from halfsilver.units.scales import Scale, read_scaled, write_scaled
from halfsilver.units.written import is_shop_fraction, mixed_text

LengthUnits = Literal["in", "mm"]

UNITS_8000_PER_MM: Final = 8000  # exact for 1/64 in (3175) and for every 1/1000 mm

LENGTH: Final = Scale(
    noun="A length",
    factors={"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": exact(MM_PER_INCH), "ft": exact(MM_PER_FOOT)},
    spellings={
        '"': "in", "inch": "in", "inches": "in", "'": "ft", "foot": "ft", "feet": "ft",
        "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
        "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
        "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    },
    examples=("in", "mm"),
    places=6,
    chain=("ft", "in"),
    fraction_unit="in",
)  # fmt: skip


def read_length_mm(text: str) -> float:
    r"""Read a length.

    Parameters
    ----------
    text : str
        A number with its unit; see the module's list.

    Returns
    -------
    float
        The float nearest to the exact value. [mm]

    Raises
    ------
    QuantityError
        If it is not a length; the code tells what is wrong with it (see :mod:`halfsilver.units.scales`).

    Examples
    --------
    >>> read_length_mm("57 3/4 in"), read_length_mm("4' 9 3/4\""), read_length_mm("1.467 m"), read_length_mm("-1/8 in")
    (1466.85, 1466.85, 1467.0, -3.175)
    """
    return read_scaled(text, LENGTH)[0]


def write_length(value_mm: float, *, units: LengthUnits, fraction: int = 32, feet: bool = False) -> str:
    """Write a length, rounded to the finest step first and split into whole and fraction afterwards.

    Parameters
    ----------
    value_mm : float
        Any finite length. [mm]
    units : str
        ``in`` writes inches with reduced fractions, ``mm`` millimetres to 0.1.
    fraction : int
        Denominator of the finest fraction of an inch: 1, 2, 4, 8, 16, 32 or 64.
    feet : bool
        Write whole feet apart, in inches only.

    Returns
    -------
    str
        Halves are rounded away from zero, so that a length and its negative show the same digits.

    Raises
    ------
    RangeError
        If the length is not finite or the fraction not one of these.

    Examples
    --------
    >>> write_length(1466.85, units="in"), write_length(1466.85, units="in", feet=True), write_length(1466.85, units="mm")
    ('57 3/4 in', '4 ft 9 3/4 in', '1466.9 mm')
    >>> write_length(11.98 * 25.4, units="in", fraction=16)
    '12 in'
    """
    if units == "mm":
        return f"{decimal_text(value_mm, 1)} mm"
    count = nearest_steps(value_mm, finest_step_mm(units=units, fraction=fraction))
    sign = "-" if count < 0 else ""
    inches = Fraction(abs(count), fraction)
    whole_feet, rest = divmod(inches, 12) if feet else (0, inches)
    words = [f"{whole_feet} ft"] if whole_feet else []
    if rest or not words:
        words.append(f"{mixed_text(rest)} in")
    return sign + " ".join(words)


def write_length_full(value_mm: float, *, units: LengthUnits) -> str:
    """Write a length as it is, for a file that is read again: inches on a 1/64 as fractions, all else with up to six decimals.

    Examples
    --------
    >>> write_length_full(1466.85, units="in"), write_length_full(1466.85, units="mm"), write_length_full(1467.0, units="in")
    ('57 3/4 in', '1466.85 mm', '57.755906 in')
    """
    if units == "in" and is_exact(value_mm, units="in", fraction=64):
        return write_length(value_mm, units="in", fraction=64)
    return write_scaled(value_mm, LENGTH, unit=units)


def is_exact(value_mm: float, *, units: LengthUnits, fraction: int = 32) -> bool:
    """Whether `write_length` shows a length as it is, not rounded (parameters as there).

    Examples
    --------
    >>> is_exact(1466.85, units="in"), is_exact(1466.85, units="mm")
    (True, False)
    """
    return on_step(value_mm, finest_step_mm(units=units, fraction=fraction))


def finest_step_mm(*, units: LengthUnits, fraction: int = 32) -> float:
    """The finest step that `write_length` shows. [mm]

    Examples
    --------
    >>> finest_step_mm(units="in", fraction=32), finest_step_mm(units="mm")
    (0.79375, 0.1)
    """
    if units == "mm":
        return 0.1
    if fraction != 1 and not is_shop_fraction(fraction):
        raise RangeError(f"The finest fraction of an inch is 1, 2, 4, 8, 16, 32 or 64, not {fraction}.")
    return MM_PER_INCH / fraction


def to_units_8000(value_mm: float) -> int:
    """A length in whole 1/8000 mm, the nearest one: the grid on which cutting is exact.

    Examples
    --------
    >>> to_units_8000(25.4 / 64), to_units_8000(1.0)
    (3175, 8000)
    """
    return nearest_steps(value_mm, 1.0 / UNITS_8000_PER_MM)


def from_units_8000(units: int) -> float:
    """The length of whole 1/8000 mm. [mm]"""
    return units / UNITS_8000_PER_MM
