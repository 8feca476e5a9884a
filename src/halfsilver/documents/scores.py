"""A sheet's tree of cuts as the order in which it is scored and broken, or sawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from halfsilver.making.cutting.solution import Node


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """One cut from edge to edge of what is left of the sheet. [unit of the instance]

    Parameters
    ----------
    number : int
        Its place in the order.
    cut : {"v", "h"}
        Up the sheet, or across it.
    at, start, end : int
        Where it runs: its x (its y for a cut across), and from where to where along it, from the sheet's lower left corner.
    measure : int
        What is measured from the edge that the cut before left: the width of what comes off.
    parts : tuple of str
        Pieces in what comes off, in the order in which they come free; empty for waste.
    whole : bool
        What comes off is a piece of its final size, or waste: it is not cut again.
    last : str
        The piece that is left on the other side when this cut is the last of its rectangle; empty otherwise.
    """

    number: int
    cut: Literal["v", "h"]
    at: int
    start: int
    end: int
    measure: int
    parts: tuple[str, ...]
    whole: bool
    last: str = ""


def scores(tree: Node) -> tuple[Score, ...]:
    """Every cut of a sheet in the order of work: one rectangle's strips are all parted before the first of them is cut further."""
    found = (item for node in tree.walk() for item in _of(node))
    return tuple(replace(item, number=number) for number, item in enumerate(found, start=1))


def _of(node: Node) -> Iterator[Score]:
    """The cuts of one rectangle, not yet numbered."""
    if node.cut is None:
        return
    upright = node.cut == "v"
    edge = node.x + node.w if upright else node.y + node.h
    for k, child in enumerate(node.children):
        size, at = (child.w, child.x + child.w) if upright else (child.h, child.y + child.h)
        final = k == len(node.children) - 1
        if final and at >= edge:
            continue
        start, end = (node.y, node.y + node.h) if upright else (node.x, node.x + node.w)
        rest = node.children[k + 1] if k + 2 == len(node.children) else None
        last = (rest.piece or "") if rest is not None else ""
        yield Score(
            number=0, cut=node.cut, at=at, start=start, end=end, measure=size, parts=_pieces(child), whole=child.cut is None, last=last
        )


def _pieces(node: Node) -> tuple[str, ...]:
    return tuple(inner.piece for inner in node.walk() if inner.piece is not None)
