"""What is written on each piece as it comes off the saw: the side it becomes, so that sticks cut next to each other meet at a mitre."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from halfsilver.layout.design import Design
from halfsilver.making.stick_groups import SPARE
from halfsilver.model.making import CutGroup

WORDS = {"front-stick": "front frame", "rear-stick": "rear frame", "spacer-frame": "frame between"}
LEVEL, UPRIGHT = ("top", "bottom"), ("right", "left")


def piece_marks(design: Design, group: CutGroup) -> tuple[tuple[str, ...], ...]:
    """Marks of the pieces of a linear group, bar by bar in cutting order.

    Parameters
    ----------
    design : Design
        The design the group was planned for.
    group : CutGroup
        A group of sticks, battens, bars or strip.

    Returns
    -------
    tuple of tuple of str
        Such as ``front frame top``; with the number of the piece where the job makes several; empty for a group of sheets.

    Notes
    -----
    A frame's sticks are named in the order top, right, bottom, left: what is cut from one length goes round one frame as far as it
    reaches, so that grain and colour run through the mitre.
    """
    names = {piece: _names(design, group.piece_to_part[piece], piece) for piece in group.piece_to_part}
    used = dict.fromkeys(names, 0)
    marks = []
    for bar in cast("list[dict[str, Any]]", group.solution.get("bars", [])):
        row = []
        for cut in bar["cuts"]:
            piece = str(cut["piece"])
            row.append(next(_numbered(names[piece], used[piece], design.facts.job.quantity)))
            used[piece] += 1
        marks.append(tuple(row))
    return tuple(marks)


def _numbered(names: tuple[str, ...], index: int, quantity: int) -> Iterator[str]:
    several = quantity > 1 and names[0] != "spare"
    yield names[index % len(names)] + (f", piece {index // len(names) + 1}" if several else "")


def _names(design: Design, part: str, piece: str) -> tuple[str, ...]:
    if piece == SPARE:
        return ("spare",)
    if piece.startswith("strip"):
        return (piece.partition("-of-")[0].replace("-", " "),)
    head, _, length = part.rpartition("-")
    if head.startswith("batten-"):
        return (f"batten {length}",)  # told apart by its side, because the readings differ
    if part.startswith("bar-"):
        return ("bar left", "bar right") if length == "side" else ("bar top",)
    level = (design.ledger["outside.width"] >= design.ledger["outside.height"]) == (length == "long")
    return tuple(f"{WORDS.get(head, head)} {side}" for side in (LEVEL if level else UPRIGHT))
