"""What people write that is not a number with a unit: plain numbers, counts, dates, aspects, finest fractions, hole patterns.

Codes raised here: number-has-unit, not-whole, not-a-date, not-an-aspect, not-a-finest-fraction, not-a-pattern, and those of
:mod:`halfsilver.units.written`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from halfsilver.errors import QuantityError
from halfsilver.units.lengths import LENGTH
from halfsilver.units.rounding import decimal_text
from halfsilver.units.scales import read_scaled
from halfsilver.units.written import amount, checked, is_shop_fraction, shortened, signed

if TYPE_CHECKING:
    from datetime import date


def read_number(text: str) -> float:
    """Read a plain decimal number without a unit.

    Raises
    ------
    QuantityError
        For units, fractions, exponents, separators, and what is no number.

    Examples
    --------
    >>> read_number("-0.5")
    -0.5
    """
    spelled = checked(text, noun="A number", example="1.5")
    sign, digits = signed(spelled)
    if match := re.fullmatch(r"([0-9.,_/ -]*[0-9.]) ?[^0-9.,_/ -].*", digits):
        raise QuantityError("number-has-unit", read=text, allowed="This number has no unit.", advice=f"Write {sign}{match[1]}.")
    read = amount(digits, text=text)
    if read.parts:
        raise QuantityError(
            "fraction-needs-inch",
            read=text,
            allowed="Fractions are read for inches only.",
            advice=f"Write {sign}{decimal_text(float(read.value), 6)}.",
        )
    return float(-read.value if sign else read.value)


def read_count(text: str) -> int:
    """Read a whole number that is not negative."""
    value = read_number(text)
    if value < 0 or not value.is_integer() or "." in text:
        raise QuantityError(
            "not-whole", read=text, allowed="A count is a whole number, 0 or more.", advice=f"Write {max(0, round(value))}, for example."
        )
    return int(value)


def write_number(value: float) -> str:
    """Write a plain number with up to six decimals."""
    return decimal_text(value, 6)


def read_date(text: str) -> date:
    """Read a calendar date, ``2026-03-04``.

    Raises
    ------
    QuantityError
        For any other order or a day that does not exist.
    """
    from datetime import date  # only jobs with readings need it

    spelled = checked(text, noun="A date", example="2026-03-04")
    try:
        return date(*_numbers(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", spelled))
    except (TypeError, ValueError):
        raise QuantityError(
            "not-a-date", read=text, allowed="A date is year, month and day of the calendar (ISO 8601).", advice="Write it like 2026-03-04."
        ) from None


def read_date_text(text: str) -> str:
    """Read a calendar date and give it back as ISO text, which is what the model carries."""
    return read_date(text).isoformat()


def read_aspect(text: str) -> tuple[int, int]:
    """Read width to height, ``16:9``: two whole numbers from 1 to 999.

    Examples
    --------
    >>> read_aspect("16:9")
    (16, 9)
    """
    match = _numbers("([0-9]{1,3}) ?: ?([0-9]{1,3})", checked(text, noun="An aspect", example="16:9"))
    if not all(match):
        raise QuantityError(
            "not-an-aspect", read=text, allowed="An aspect is two whole numbers, width to height.", advice="Write it like 16:9."
        )
    return match[0], match[1]


def write_aspect(value: tuple[int, int]) -> str:
    """Write width to height."""
    return f"{value[0]}:{value[1]}"


def read_finest_fraction(text: str) -> int:
    """Read the finest fraction of an inch, ``1/32``, as its denominator: 2, 4, 8, 16, 32 or 64.

    Examples
    --------
    >>> read_finest_fraction("1/32")
    32
    """
    match = _numbers("1 ?/ ?([0-9]{1,3})", checked(text, noun="A finest fraction", example="1/32"))
    if not is_shop_fraction(match[0]):
        raise QuantityError(
            "not-a-finest-fraction",
            read=text,
            allowed="The finest fraction is 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64.",
            advice="Write it like 1/32.",
        )
    return match[0]


def write_finest_fraction(value: int) -> str:
    """Write a finest fraction from its denominator."""
    return f"1/{value}"


def read_pattern_mm(text: str) -> tuple[float, float]:
    """Read a hole pattern, width by height: ``400 x 400 mm`` or ``8 in x 8 in``. [mm]

    Examples
    --------
    >>> read_pattern_mm("400 x 200 mm")
    (400.0, 200.0)
    """
    spelled = checked(text, noun="A hole pattern", example="400 x 400 mm")
    halves = [half.strip() for half in re.split("[xX×]", spelled)]
    if len(halves) != 2 or not all(halves):
        raise QuantityError(
            "not-a-pattern", read=shortened(text), allowed="A hole pattern is width by height.", advice="Write it like 400 x 400 mm."
        )
    height_mm, unit = read_scaled(halves[1], LENGTH)
    width_mm, _ = read_scaled(f"{halves[0]} {unit}" if halves[0][-1].isdigit() else halves[0], LENGTH)
    return width_mm, height_mm


def write_pattern(value_mm: tuple[float, float]) -> str:
    """Write a hole pattern."""
    return f"{decimal_text(value_mm[0], 6)} x {decimal_text(value_mm[1], 6)} mm"


def _numbers(pattern: str, text: str) -> tuple[int, ...]:
    match = re.fullmatch(pattern, text)
    return tuple(int(group) for group in match.groups()) if match else (0,)
