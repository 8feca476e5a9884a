"""Amounts and units as people write them: one spelling for many characters, then pairs of amount and unit.

Nothing here knows a unit; :mod:`halfsilver.units.scales` does. Every number is read as an exact fraction.

Codes raised here: empty, too-long, not-a-number, exponent, decimal-comma, thousands-separator, decimal-and-fraction,
fraction-denominator, fraction-improper, unreadable.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import gcd
from typing import Final, Literal, NamedTuple

from halfsilver.errors import QuantityError

LONGEST: Final = 80

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_RAISED, _LOWERED = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"
_DIGITS = {ord(c): str(i) for digits in (_RAISED, _LOWERED) for i, c in enumerate(digits)}
_CHARACTERS = str.maketrans(
    _VULGAR
    | dict.fromkeys("−‐‑‒–", "-")
    | dict.fromkeys("′’‘ʹʼ´", "'")
    | dict.fromkeys("″”“„ʺ", '"')
    | dict.fromkeys("⁄∕", "/")
    | dict.fromkeys("\u200b\u2060\ufeff", "")
    | {"º": "°", "℃": "°C", "℉": "°F", "％": "%"}
)

_RUN = r"\.?[0-9][0-9.,_]*"
_PAIR = re.compile(
    rf"({_RUN}(?:(?: ?[-/] ?| ){_RUN})*) ?"  # amount: 57, 57 3/4, 57-3/4, .5
    r"""(["']|(?:[^0-9"'.,_+-]|\.(?![0-9]))+(?:[23](?= ?$))?|$)"""  # unit: a mark, or letters and signs, with a closing power
)
_DECIMAL = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_FRACTION = re.compile(r"(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+)")
_NO_NUMBERS = ("nan", "inf", "infinity", "∞")
_EXPONENT = re.compile(r"([0-9][0-9.]*)[eE]([+-]?[0-9]+)")


class Amount(NamedTuple):
    """One number without its sign.

    Parameters
    ----------
    value : Fraction
        Exact.
    parts : int
        Denominator as written; 0 for a decimal or a whole number.
    text : str
        As written, in plain characters.
    """

    value: Fraction
    parts: int
    text: str


# A sign, and pairs of amount and unit; the unit is empty where none stands.
Written = tuple[Literal["", "-"], tuple[tuple[Amount, str], ...]]


def plain(text: str) -> str:
    """One spelling for what keyboards and typesetting spell in many ways: spaces, primes, quotes, minus signs, fractions.

    Examples
    --------
    >>> plain("−57¾″")
    '-57 3/4"'
    """
    if not text.isascii():
        text = _typed(" ".join(text.split()))
    return " ".join(text.replace("''", '"').split())


def shortened(text: str, *, most: int = 40) -> str:
    """A text for a message, with an ellipsis when it is long."""
    return text if len(text) <= most else text[: most - 1] + "…"


def checked(text: str, *, noun: str, example: str) -> str:
    """The plain spelling of a text that is neither empty nor overlong nor a number word."""
    if len(text) > LONGEST:
        raise QuantityError(
            "too-long", read=shortened(text), allowed=f"{noun} has at most {LONGEST} characters.", advice=f"Write it like {example}."
        )
    spelled = plain(text)
    if not spelled:
        raise QuantityError("empty", read="", allowed=f"{noun} is due here.", advice=f"Write it like {example}.")
    if spelled.lstrip("+-. ").partition(" ")[0].lower() in _NO_NUMBERS:
        raise QuantityError("not-a-number", read=text, allowed=f"{noun} is a finite number.", advice=f"Write it like {example}.")
    if match := _EXPONENT.search(spelled):
        raise QuantityError(
            "exponent", read=text, allowed="Numbers are written out, without an exponent.", advice=_written_out(match, spelled)
        )
    return spelled


def split(text: str, *, noun: str, example: str) -> Written:
    """Sign, amounts and units of a text.

    Parameters
    ----------
    text : str
        As written.
    noun, example : str
        For messages: ``A length`` and ``57 3/4 in``.

    Raises
    ------
    QuantityError
        With one of the codes of this module.
    """
    spelled = checked(text, noun=noun, example=example)
    sign, rest = signed(spelled)
    rest = re.sub("(?<=['\"]) ?- ?(?=[.0-9])", " ", rest)
    pairs, place = [], 0
    while match := _PAIR.match(rest, place):
        unit = "".join(match[2].split()).replace(".", "")
        pairs.append((amount(match[1], text=text), unit))
        place = match.end() + (rest[match.end() : match.end() + 1] == " ")
    if place != len(rest) or not pairs:
        raise QuantityError("unreadable", read=text, allowed=f"{noun} is a number and its unit.", advice=f"Write it like {example}.")
    return sign, tuple(pairs)


def is_bare(text: str) -> bool:
    """Whether a text has nothing but a decimal number: no unit, no fraction."""
    return re.fullmatch("[-+]? ?[0-9.,_]+", plain(text)) is not None


def signed(spelled: str) -> tuple[Literal["", "-"], str]:
    """A leading minus, and the rest; a leading plus says nothing."""
    return ("-" if spelled[0] == "-" else ""), spelled[spelled[0] in "+-" :].lstrip()


def amount(written: str, *, text: str) -> Amount:
    """One number without sign or unit, in plain characters; ``text`` is what messages quote.

    Examples
    --------
    >>> amount("57-3/4", text="").value
    Fraction(231, 4)
    """
    if _DECIMAL.fullmatch(written):
        return Amount(value=Fraction(written), parts=0, text=written)
    if match := _FRACTION.fullmatch(written):
        return _mixed(match, text=text)
    raise _misspelled(written, text=text)


def mixed_text(value: Fraction) -> str:
    """A fraction that is not negative, as whole and reduced fraction.

    Examples
    --------
    >>> mixed_text(Fraction(231, 4)), mixed_text(Fraction(3, 4)), mixed_text(Fraction(23))
    ('57 3/4', '3/4', '23')
    """
    whole, part = divmod(value.numerator, value.denominator)
    fraction = f"{part}/{value.denominator}" if part else ""
    return f"{whole} {fraction}".strip() if whole or not part else fraction


def _typed(text: str) -> str:
    """Typeset characters as a keyboard would give them. The patterns are compiled at their first use, which most runs never see."""
    text = re.sub(f"(?<=[0-9])(?=[{''.join(_VULGAR)}]|[{_RAISED}]+[/⁄∕])", " ", text)
    text = re.sub(f"[{_RAISED}]+[/⁄∕][{_LOWERED}]+|(?<=[A-Za-z])[²³]", lambda match: match[0].translate(_DIGITS), text)
    return text.translate(_CHARACTERS)


def _mixed(match: re.Match[str], *, text: str) -> Amount:
    whole, over, under = int(match[1] or 0), int(match[2]), int(match[3])
    if under == 0:
        raise QuantityError("fraction-denominator", read=text, allowed="A fraction's lower number is not 0.", advice="Write one like 3/4.")
    value = whole + Fraction(over, under)
    if over >= under:
        advice = f"Write {plain(text).replace(match[0], mixed_text(value))}."
        raise QuantityError("fraction-improper", read=text, allowed="A fraction's upper number is less than its lower one.", advice=advice)
    return Amount(value=value, parts=under, text=match[0])


def _misspelled(written: str, *, text: str) -> QuantityError:
    spelled = plain(text)
    if groups := re.fullmatch(r"([0-9]{1,3}(?:[ ,_][0-9]{3})+)(\.[0-9]+)?", written):
        advice = f"Write {spelled.replace(written, re.sub('[ ,_]', '', written))}"
        if written.count(",") == 1 and not groups[2]:
            advice += f", or {spelled.replace(',', '.')} if the comma is a decimal comma"
        return QuantityError(
            "thousands-separator", read=text, allowed="Numbers are written without thousands separators.", advice=f"{advice}."
        )
    if re.fullmatch("[0-9]+,[0-9]+", written):
        return QuantityError(
            "decimal-comma", read=text, allowed="Decimals are written with a point.", advice=f"Write {spelled.replace(',', '.')}."
        )
    if "_" in written or "," in written:
        return QuantityError(
            "thousands-separator", read=text, allowed="Numbers are written without separators.", advice="Write them like 1467.5."
        )
    if "/" in written and "." in written:
        return QuantityError(
            "decimal-and-fraction", read=text, allowed="A number has decimals or a fraction, not both.", advice="Write 57.75 or 57 3/4."
        )
    return QuantityError(
        "unreadable", read=text, allowed="A number is decimal, or whole and fraction.", advice="Write it like 57.75 or 57 3/4."
    )


def _written_out(match: re.Match[str], spelled: str) -> str:
    power = int(match[2]) if len(match[2]) <= 2 else 99
    if abs(power) > 6 or not _DECIMAL.fullmatch(match[1]):
        return "Write it like 1467.5."
    places = max(0, len(match[1].partition(".")[2]) - power)
    number = f"{float(match[1]) * 10.0**power:.{places}f}"
    return f"Write {spelled.replace(match[0], number)}."


def is_shop_fraction(parts: int) -> bool:
    """Whether a denominator is one of 2, 4, 8, 16, 32 and 64."""
    return 2 <= parts <= 64 and gcd(parts, 64) == parts
