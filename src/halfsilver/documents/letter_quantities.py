"""Quantities and running text of findings as a letter prints them: the job's units, proper signs, no more figures than are known."""

from __future__ import annotations

import re

from halfsilver.ledger.shown import Show, fine, in_inches
from halfsilver.units.factors import MM_PER_INCH

KG_PER_LB = 0.45359237
N_PER_LBF = 4.4482216152605
MM2_PER_SQ_IN = MM_PER_INCH**2
FIGURES = 3
SMALL_MM = 2.0
SIGNS = (
    (re.compile("`"), ""),
    (re.compile(r"\bdegC\b"), "°C"),
    (re.compile(r"\bdegF\b"), "°F"),
    (re.compile(r"\b(mm|cm|m|W/m|cd/m|lm/m)2(?=K?\b)"), r"\1²"),
    (re.compile(r"\b(mm|cm|m|kg/m|lb/ft)3\b"), r"\1³"),
    (re.compile(r"(?<=\d) deg\b"), "°"),
    (re.compile(r"\bohm\b"), "Ω"),
    (re.compile(r"(?<=\d)%"), " %"),
    (re.compile(r" <= "), " ≤ "),
    (re.compile(r" >= "), " ≥ "),
    (re.compile(r"(?<=\d) x (?=\d)"), " × "),
    (re.compile(r"\bWood Handbook \(GTR-282\) "), "Wood Handbook (GTR-282), "),
)


def typographic(text: str) -> str:
    """The text with the signs that print has and a keyboard lacks.

    Examples
    --------
    >>> typographic("39 degC, 12 cm2, 32.5% of 2 x 3")
    '39 °C, 12 cm², 32.5 % of 2 × 3'
    """
    for sign, printed in SIGNS:
        text = sign.sub(printed, text)
    return text


def figures(value: float, count: int = FIGURES) -> str:
    """A number with so many figures, whole from a hundred on.

    Examples
    --------
    >>> figures(191.2), figures(0.65432), figures(5981.7), figures(-0.45), figures(3.0)
    ('191', '0.654', '5982', '-0.45', '3')
    """
    if abs(value) >= 10**count:
        return f"{value:.0f}"
    return f"{value:.{count}g}" if abs(value) >= 1e-4 or not value else f"{value:.1e}"


def quantity(value: float | None, unit: str, show: Show) -> str:
    """A value with its unit, in an inch job with what an inch shop reads beside it.

    Parameters
    ----------
    value : float, optional
        In ``unit``; nothing is printed for None.
    unit : str
        Unit; ``1`` or empty for a pure number.
    show : Show
        Writes lengths in the job's own units.
    """
    if value is None:
        return ""
    if unit == "mm":
        return show(value, "mm")
    also = _inch_shop(value, unit) if value and in_inches(show) else ""
    plain = typographic(f"{figures(value)} {'' if unit in ('', '1') else unit}".strip())
    return f"{plain} ({also})" if also else plain


def pair(value: float | None, limit: float | None, unit: str, show: Show) -> tuple[str, str]:
    """A value and its limit: pure numbers up to one in percent, small lengths finer than a rule shows."""
    if unit in ("", "1") and value is not None and limit is not None and max(abs(value), abs(limit)) <= 1.0:
        return f"{figures(100 * value)} %", f"{figures(100 * limit)} %"
    if unit == "mm" and value is not None and limit is not None and max(abs(value), abs(limit)) < SMALL_MM:
        return fine(show, value), fine(show, limit)
    return quantity(value, unit, show), quantity(limit, unit, show)


def _inch_shop(value: float, unit: str) -> str:
    if unit == "kg":
        return f"{figures(value / KG_PER_LB)} lb"
    if unit == "N":
        return f"{figures(value / N_PER_LBF)} lbf"
    if unit == "degC":
        return f"{value * 1.8 + 32:.0f} °F"
    if unit == "mm2":
        return f"{figures(value / MM2_PER_SQ_IN)} sq in"
    return ""
