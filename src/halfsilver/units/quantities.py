"""One registry: how each kind of quantity is read and written, keyed by the kinds of :class:`halfsilver.model.quantities.Quantity`.

``READERS[kind](WRITERS[kind](value))`` gives the value back to the smallest step that the writer shows. A percentage is read with its
sign only (``2 %``; a bare ``0.02`` is refused, because nobody can tell which of the two was meant); a kind of its own, ``share``, takes
both ``0.02`` and ``2 %`` for properties that suppliers print as a number from 0 to 1.

Code raised here: out-of-range.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache, partial
from typing import Any, Final

from halfsilver.errors import QuantityError
from halfsilver.units.kinds import SCALES
from halfsilver.units.lengths import write_length_full
from halfsilver.units.money import Money, read_amount, read_currency, read_money, write_money
from halfsilver.units.rounding import decimal_text, down_to, up_to
from halfsilver.units.scales import read_scaled, write_scaled
from halfsilver.units.values import (
    read_aspect,
    read_count,
    read_date_text,
    read_finest_fraction,
    read_number,
    read_pattern_mm,
    write_aspect,
    write_finest_fraction,
    write_number,
    write_pattern,
)
from halfsilver.units.written import is_bare, mixed_text

_NEAR = 1e-9  # what floats may lose between a bound and the same bound in another unit, relative


@lru_cache(maxsize=4096)  # a workshop's tables say the same few things many times
def read_quantity(kind: str, text: str, *, least: float | None = None, most: float | None = None) -> Any:
    """Read one quantity and hold it against its bounds.

    Parameters
    ----------
    kind : str
        A key of `READERS`.
    text : str
        As written.
    least, most : float, optional
        Bounds in the inner unit, inclusive.

    Returns
    -------
    object
        The inner value: a float for most kinds, else int, str, tuple or Money.

    Raises
    ------
    QuantityError
        If it cannot be read, or lies beyond a bound (``out-of-range``; the range is told in the unit that was written).
    KeyError
        If the kind is unknown.

    Examples
    --------
    >>> read_quantity("temperature", "104 degF", least=-40.0, most=120.0)
    40.0
    """
    value, unit = _read(kind, text)
    number = _size(value)
    if number is not None and not _within(number, least=least, most=most):
        raise _out_of_range(number, kind=kind, text=text, unit=unit, least=least, most=most)
    return value


def write_quantity(kind: str, value: Any, *, unit: str = "", places: int | None = None) -> str:
    """Write one quantity; a unit of the kind and the decimals may be chosen for kinds that have units.

    Examples
    --------
    >>> write_quantity("mass", 21.0), write_quantity("mass", 21.0, unit="lb", places=1), write_quantity("percent", 0.02)
    ('21 kg', '46.3 lb', '2 %')
    """
    if kind in SCALES and (unit or places is not None):
        return write_scaled(value, SCALES[kind], unit=unit, places=places)
    return WRITERS[kind](value)


def write_duration(time_s: float) -> str:
    """Write a duration to the second, in hours, minutes and seconds.

    Examples
    --------
    >>> write_duration(5400.0), write_duration(30.0)
    ('1 h 30 min', '30 s')
    """
    whole_s = round(float(decimal_text(time_s, 0)))
    minutes, seconds = divmod(abs(whole_s), 60)
    hours, minutes = divmod(minutes, 60)
    words = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (seconds, "s")) if count]
    return ("-" if whole_s < 0 else "") + (" ".join(words) or "0 s")


def _read(kind: str, text: str) -> tuple[Any, str]:
    if kind in SCALES and not (kind == "share" and is_bare(text)):
        return read_scaled(text, SCALES[kind])
    return READERS[kind](text), ""


def _read_kind(kind: str, text: str) -> object:
    return read_scaled(text, SCALES[kind])[0]


def _read_share(text: str) -> object:
    return read_number(text) if is_bare(text) else _read_kind("share", text)


def _size(value: object) -> float | None:
    if isinstance(value, Money):
        return float(value.amount)
    return float(value) if isinstance(value, int | float) else None


def _within(value: float, *, least: float | None, most: float | None) -> bool:
    return (least is None or value >= least - _NEAR * abs(least)) and (most is None or value <= most + _NEAR * abs(most))


def _out_of_range(value: float, *, kind: str, text: str, unit: str, least: float | None, most: float | None) -> QuantityError:
    low = None if least is None else _bound(least, kind=kind, unit=unit, inward=up_to)
    high = None if most is None else _bound(most, kind=kind, unit=unit, inward=down_to)
    if low is not None and high is not None:
        allowed = f"From {low} to {high}."
    else:
        allowed = f"{low} or more." if high is None else f"{high} or less."
    below = least is not None and value < least
    advice = f"Write {low} or more." if below else f"Write {high} or less."
    return QuantityError("out-of-range", read=text, allowed=allowed, advice=advice)


def _bound(bound: float, *, kind: str, unit: str, inward: Callable[[float, float], float]) -> str:
    """A bound in the unit that was written, rounded towards the allowed side so that following it always works."""
    scale = SCALES.get(kind) if unit else None
    if scale is None:
        return decimal_text(bound, 6)
    number = (bound - float(scale.offsets.get(unit, 0))) / float(scale.factors[unit])
    if unit == scale.fraction_unit:
        shown = inward(number, 1 / 64)
        return ("-" if shown < 0 else "") + f"{mixed_text(Fraction(round(abs(shown) * 64), 64))} {unit}"
    places = 2 if abs(number) >= 1 else 6
    return f"{decimal_text(inward(number, 10.0**-places), places)} {unit}"


def _write_length_mm(value_mm: float) -> str:
    return write_length_full(value_mm, units="mm")


READERS: Final[Mapping[str, Callable[[str], object]]] = {
    **{kind: partial(_read_kind, kind) for kind in SCALES},
    "share": _read_share,
    "money": read_money,
    "amount": read_amount,
    "currency": read_currency,
    "number": read_number,
    "count": read_count,
    "date": read_date_text,
    "aspect": read_aspect,
    "fraction": read_finest_fraction,
    "pattern": read_pattern_mm,
}

WRITERS: Final[Mapping[str, Callable[[Any], str]]] = {
    **{kind: partial(write_scaled, scale=scale) for kind, scale in SCALES.items()},
    "length": _write_length_mm,
    "duration": write_duration,
    "money": write_money,
    "amount": str,
    "currency": str,
    "number": write_number,
    "count": str,
    "date": str,
    "aspect": write_aspect,
    "fraction": write_finest_fraction,
    "pattern": write_pattern,
}
