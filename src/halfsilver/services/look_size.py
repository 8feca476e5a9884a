"""How large a picture may be, as somebody writes it; light, so that a wrong size is told at once."""

from __future__ import annotations

import re
from typing import Final

from halfsilver.errors import JobError, Problem

SIZE: Final = "960x540"
MOST_PX: Final = 7680


def size_of(text: str, *, path: str, most_px: int = MOST_PX) -> tuple[int, int]:
    """Width and height of ``WIDTHxHEIGHT``. [px]

    Parameters
    ----------
    text : str
        As written.
    path : str
        Where it was written, for the problem.
    most_px : int
        The most of either.

    Raises
    ------
    JobError
        If it is none, or too large.

    Examples
    --------
    >>> size_of("1920x1080", path="--size")
    (1920, 1080)
    """
    match = re.fullmatch(r"([1-9]\d{0,4})x([1-9]\d{0,4})", text, re.ASCII)
    if match is None or max(map(int, match.groups())) > most_px:
        allowed = f"A size is WIDTHxHEIGHT in pixels, each 1 to {most_px}."
        raise JobError([Problem(code="bad-size", path=path, read=text[:40], allowed=allowed, advice=f"Write {SIZE}.")])
    return int(match[1]), int(match[2])
