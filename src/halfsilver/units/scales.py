"""Kinds of quantity that are a number and a unit: their units, reading and writing.

A unit's inner value is ``number x factor + offset``; the offset serves temperatures alone.

Codes raised here: bare-number, unknown-unit, fraction-needs-inch, fraction-denominator, fraction-too-fine, mixed-units, part-too-large,
part-not-whole, and those of :mod:`halfsilver.units.written`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import reduce
from operator import add

from halfsilver.errors import QuantityError
from halfsilver.units.rounding import decimal_text
from halfsilver.units.written import Amount, is_shop_fraction, mixed_text, plain, split

_FINEST = 64


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Scale:
    """One kind of quantity.

    Parameters
    ----------
    noun : str
        With its article, as a sentence begins: ``A length``.
    factors : mapping
        Canonical unit to exact factor; the first one is the unit that is written by default.
    spellings : mapping
        Other spellings, in lower case, to canonical units; the canonical ones need not stand here.
    examples : tuple of str
        Units to suggest where one is missing.
    places : int
        Decimals kept when writing in the default unit.
    chain : tuple of str
        Units that may stand beside each other, greatest first.
    fraction_unit : str
        The unit that takes fractions; empty for none.
    hint : str
        What else to say where the unit is missing.
    offsets : mapping
        Canonical unit to what is added after the factor.
    """

    noun: str
    factors: Mapping[str, Fraction]
    spellings: Mapping[str, str] = field(default_factory=dict)
    examples: tuple[str, ...]
    places: int = 3
    chain: tuple[str, ...] = ()
    fraction_unit: str = ""
    hint: str = ""
    offsets: Mapping[str, Fraction] = field(default_factory=dict)

    @property
    def example(self) -> str:
        """A quantity of this kind, for messages."""
        return f"57 3/4 {self.fraction_unit}" if self.fraction_unit else f"12.5 {self.examples[0]}"

    def canonical(self, unit: str) -> str | None:
        """The canonical form of a written unit, or None."""
        if unit in self.factors:
            return unit
        lower = unit.lower()
        return self.spellings.get(lower) or next((name for name in self.factors if name.lower() == lower), None)


def read_scaled(text: str, scale: Scale) -> tuple[float, str]:
    """Read a number with its unit, or a chain such as feet and inches.

    Returns
    -------
    tuple of float and str
        The inner value, and the (last) unit in which it was written.

    Raises
    ------
    QuantityError
        With one of the codes of this module or of :mod:`halfsilver.units.written`.
    """
    sign, pairs = split(text, noun=scale.noun, example=scale.example)
    units = tuple(_unit(pair, first=pair is pairs[0], sign=sign, text=text, scale=scale) for pair in pairs)
    amounts = tuple(amount for amount, _ in pairs)
    for amount, unit in zip(amounts, units, strict=True):
        _check_fraction(amount, unit, sign=sign, text=text, scale=scale)
    if len(units) > 1:
        _check_chain(amounts, units, sign=sign, text=text, scale=scale)
    total = _total(amounts, units, scale=scale)
    return float((-total if sign else total) + scale.offsets.get(units[-1], 0)), units[-1]


def write_scaled(value: float, scale: Scale, *, unit: str = "", places: int | None = None) -> str:
    """An inner value in one unit, by default the scale's first, rounded half away from zero.

    Raises
    ------
    KeyError
        If the scale does not know the unit.
    RangeError
        If the value is not finite.
    """
    unit = unit or next(iter(scale.factors))
    number = (value - float(scale.offsets.get(unit, 0))) / float(scale.factors[unit])
    gap = "" if unit.startswith("°") and len(unit) == 1 else " "
    return decimal_text(number, scale.places if places is None else places) + gap + unit


def _total(amounts: tuple[Amount, ...], units: tuple[str, ...], *, scale: Scale) -> Fraction:
    return reduce(add, (amount.value * scale.factors[unit] for amount, unit in zip(amounts, units, strict=True)))


def _unit(pair: tuple[Amount, str], *, first: bool, sign: str, text: str, scale: Scale) -> str:
    amount, unit = pair
    canonical = scale.canonical(unit)
    if canonical:
        return canonical
    if unit:
        raise _unknown(unit, text=text, scale=scale)
    if not first:
        advice = f"Write {plain(text)} {scale.chain[-1]}." if scale.chain else f"Write the unit after {amount.text} too."
        raise QuantityError("bare-number", read=text, allowed=f"{scale.noun} carries its unit to the end.", advice=advice)
    if not amount.parts:
        wanted = " or ".join(f"{sign}{amount.text} {name}" for name in scale.examples)
    elif scale.fraction_unit:
        wanted = f"{sign}{amount.text} {scale.fraction_unit}"
    else:
        wanted = f"{sign}{decimal_text(float(amount.value), 3)} {scale.examples[0]}"
    raise QuantityError("bare-number", read=text, allowed=f"{scale.noun} carries its unit.", advice=f"Write {wanted}.{scale.hint}")


def _unknown(unit: str, *, text: str, scale: Scale) -> QuantityError:
    from halfsilver.units.words import nearest_word

    meant = nearest_word(unit, [*scale.factors, *scale.spellings]) if len(unit) > 2 else None
    names = list(scale.factors)
    listed = ", ".join(names[:-1]) + f" or {names[-1]}" if len(names) > 1 else names[0]
    wanted = meant or (names[0] if len(names) == 1 else "one of them")
    advice = f'Write {wanted} instead of "{unit}".'
    return QuantityError("unknown-unit", read=text, allowed=f"{scale.noun} is written in {listed}.", advice=advice)


def _check_fraction(amount: Amount, unit: str, *, sign: str, text: str, scale: Scale) -> None:
    if not amount.parts:
        return
    if unit != scale.fraction_unit:
        advice = f"Write {sign}{decimal_text(float(amount.value), 6 if is_shop_fraction(amount.parts) else 3)} {unit}."
        raise QuantityError("fraction-needs-inch", read=text, allowed="Fractions are read for inches only.", advice=advice)
    if is_shop_fraction(amount.parts):
        return
    near = mixed_text(Fraction(int(amount.value * _FINEST + Fraction(1, 2)), _FINEST))
    advice = f"Write {sign}{near} {unit}, the nearest 1/64, or {sign}{decimal_text(float(amount.value), 4)} {unit}."
    if amount.parts > _FINEST:
        raise QuantityError("fraction-too-fine", read=text, allowed="The finest fraction of an inch is 1/64.", advice=advice)
    allowed = "Fractions of an inch are halves, quarters, 8ths, 16ths, 32nds or 64ths."
    raise QuantityError("fraction-denominator", read=text, allowed=allowed, advice=advice)


def _check_chain(amounts: tuple[Amount, ...], units: tuple[str, ...], *, sign: str, text: str, scale: Scale) -> None:
    carried = sign + _carried(amounts, units, scale=scale)
    if tuple(unit for unit in scale.chain if unit in units) != units:
        beside = f", or {' and '.join(scale.chain)} in this order" if scale.chain else ""
        raise QuantityError("mixed-units", read=text, allowed=f"{scale.noun} has one unit{beside}.", advice=f"Write {carried}.")
    if any(amount.value.denominator != 1 for amount in amounts[:-1]):
        raise QuantityError(
            "part-not-whole", read=text, allowed=f"Only the {units[-1]} at the end may have a part.", advice=f"Write {carried}."
        )
    for great, amount, small in zip(units[:-1], amounts[1:], units[1:], strict=True):
        most = scale.factors[great] / scale.factors[small]
        if amount.value >= most:
            allowed = f"Beside {great} there are fewer than {most} {small}."
            raise QuantityError("part-too-large", read=text, allowed=allowed, advice=f"Write {carried}.")


def _carried(amounts: tuple[Amount, ...], units: tuple[str, ...], *, scale: Scale) -> str:
    """The sum in the same units of the scale's chain, greatest first; in the first unit alone when they make no chain."""
    rest = _total(amounts, units, scale=scale)
    order = [unit for unit in scale.chain if unit in units] if set(units) <= set(scale.chain) else [units[0]]
    words = []
    for unit in order[:-1]:
        whole, rest = divmod(rest, scale.factors[unit])
        words += [f"{whole} {unit}"] if whole else []
    last = rest / scale.factors[order[-1]]
    fraction = order[-1] == scale.fraction_unit and _FINEST % last.denominator == 0
    shown = mixed_text(last) if fraction else decimal_text(float(last), 4)
    return " ".join([*words, *([f"{shown} {order[-1]}"] if last or not words else [])])
