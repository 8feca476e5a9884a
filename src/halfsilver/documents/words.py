"""Words from a job on their way into print: only signs that the shipped font has, and no longer than their place."""

from __future__ import annotations

import unicodedata

from halfsilver.drawing.fonts import SHIPPED_FONT, Weight
from halfsilver.drawing.lettering import width_mm

MISSING = "□"
ELLIPSIS = "…"
GREEK = range(0x384, 0x3CF)


def printable(text: str) -> str:
    r"""The text with every sign that the shipped font lacks replaced, by its plain letter where there is one.

    Examples
    --------
    >>> printable("Caf\u00e9 \u2460 \u5c71")
    'Café 1 □'
    """
    return " ".join("".join(_sign(sign) for sign in text).split())


def _sign(sign: str) -> str:
    if sign.isspace():
        return " "
    if _known(sign):
        return sign
    if unicodedata.category(sign) in ("Cc", "Cf", "Mn"):
        return ""
    plain = "".join(part for part in unicodedata.normalize("NFKD", sign) if _known(part))
    return plain or MISSING


def _known(sign: str) -> bool:
    return sign in SHIPPED_FONT.regular or ord(sign) in GREEK


def shortened(text: str, *, room_mm: float, size_mm: float, weight: Weight = Weight.REGULAR) -> str:
    """The printable text, cut off with an ellipsis where it is wider than its place.

    Parameters
    ----------
    text : str
        What a person wrote.
    room_mm : float
        Width at hand on paper. [mm]
    size_mm : float
        Height of a capital. [mm]
    weight : Weight
        Weight of the lettering.
    """
    whole = printable(text)
    if width_mm(whole, size_mm=size_mm, font=SHIPPED_FONT, weight=weight) <= room_mm:
        return whole
    kept = whole
    while kept and width_mm(kept + ELLIPSIS, size_mm=size_mm, font=SHIPPED_FONT, weight=weight) > room_mm:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def named(identity: str) -> str:
    """A catalogue's or a job's own short name, as it is printed on a drawing."""
    return shortened(identity, room_mm=42.0, size_mm=2.5)


def sentence(text: str) -> str:
    """The text with a capital first.

    Examples
    --------
    >>> sentence("front glass")
    'Front glass'
    """
    return text[:1].upper() + text[1:]
