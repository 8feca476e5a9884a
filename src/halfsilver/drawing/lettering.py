"""Text as it is set: fractions of an inch raised and lowered, and how wide and high a text becomes.

``53 1/4 in`` stays that sequence of characters in every writer; only size and height of its pieces differ, so that it can
be read back from a drawing or a PDF.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from halfsilver.drawing.fonts import FontMetrics, Weight

FRACTION = re.compile(r"(?<![\d/])(\d{1,3})/(2|4|8|16|32|64|128)(?![\d/])")
SMALL, SLASH, RAISE, SINK = 0.66, 0.9, 0.42, -0.08
DESCENDERS = frozenset("gjpqyQ,;()[]|_")


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive characters of one size.

    ``size`` is relative to the text's own, ``rise`` is the height of the baseline in heights of a capital.
    """

    text: str
    size: float = 1.0
    rise: float = 0.0


@lru_cache(maxsize=4096)
def runs(text: str) -> tuple[Run, ...]:
    """Pieces of one line of text, the fractions of an inch in it set small.

    Examples
    --------
    >>> [run.text for run in runs("53 1/4 in")]
    ['53 ', '1', '/', '4', ' in']
    >>> "".join(run.text for run in runs("53 1/4 in"))
    '53 1/4 in'
    """
    pieces: list[Run] = []
    end = 0
    for match in FRACTION.finditer(text):
        numerator, denominator = match.groups()
        # The space before it keeps its full width: a narrow one is lost when the text of a PDF is copied.
        pieces += [Run(text[end : match.start()])] if match.start() > end else []
        pieces += [Run(numerator, SMALL, RAISE), Run("/", SLASH), Run(denominator, SMALL, SINK)]
        end = match.end()
    return (*pieces, Run(text[end:])) if end < len(text) or not pieces else tuple(pieces)


@lru_cache(maxsize=4096)
def width_mm(text: str, *, size_mm: float, font: FontMetrics, weight: Weight = Weight.REGULAR) -> float:
    """Width of a text, the widest of its lines. [mm]

    Parameters
    ----------
    text : str
        One or several lines.
    size_mm : float
        Height of a capital. [mm]
    font : FontMetrics
        Widths of the characters.
    weight : Weight
        Weight of the lettering.

    Returns
    -------
    float
        Width on paper. [mm]
    """
    return max(_line_width_mm(line, size_mm=size_mm, font=font, weight=weight) for line in text.split("\n"))


def _line_width_mm(line: str, *, size_mm: float, font: FontMetrics, weight: Weight) -> float:
    return sum(font.advance_mm(run.text, size_mm=size_mm * run.size, weight=weight) for run in runs(line))


def below_mm(text: str, *, size_mm: float) -> float:
    """How far a line reaches below its baseline. [mm]"""
    if DESCENDERS & set(text):
        return 0.32 * size_mm
    return (0.12 if "/" in text else 0.03) * size_mm


def above_mm(text: str, *, size_mm: float) -> float:
    """How far a line reaches above its baseline. [mm]"""
    return (1.12 if "/" in text or "(" in text else 1.05) * size_mm


def wrapped(text: str, *, room_mm: float, size_mm: float, font: FontMetrics, weight: Weight = Weight.REGULAR) -> str:
    """The text with line breaks at its spaces, so that no line is wider than the room if its words allow it.

    Parameters
    ----------
    text : str
        What is to be set; line breaks in it stay.
    room_mm : float
        Width at hand. [mm]
    size_mm : float
        Height of a capital. [mm]
    font : FontMetrics
        Widths of the characters.
    weight : Weight
        Weight of the lettering.

    Returns
    -------
    str
        The same words.
    """
    lines: list[str] = []
    for paragraph in text.split("\n"):
        lines.append("")
        for word in paragraph.split(" "):
            longer = f"{lines[-1]} {word}" if lines[-1] else word
            if lines[-1] and width_mm(longer, size_mm=size_mm, font=font, weight=weight) > room_mm:
                lines.append(word)
            else:
                lines[-1] = longer
    return "\n".join(lines)
