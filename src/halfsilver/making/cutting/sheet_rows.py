"""Layouts of a sheet as nested rows, and their tree of cuts.

A row is a direction and parts in order, each a size along the row and a content: a further row or the id of a pane. What a row leaves
free at its end is waste. Sizes are real, without kerf; a kerf lies between parts.
"""

from __future__ import annotations

from typing import Literal

from halfsilver.making.cutting.instance import Sheet
from halfsilver.making.cutting.solution import Node

Direction = Literal["v", "h"]
Row = tuple[Direction, tuple[tuple[int, "Content"], ...]]
Content = str | Row


def other(direction: Direction) -> Direction:
    """The direction across."""
    return "v" if direction == "h" else "h"


def tree(sheet: Sheet, content: Content, kerf: int) -> Node:
    """The tree of cuts of a whole sheet.

    Parameters
    ----------
    sheet : Sheet
        The sheet; its trims are left outside.
    content : Content
        The layout.
    kerf : int
        Saw width. [unit]

    Returns
    -------
    Node
        The usable rectangle, cut up.
    """
    return _node(content, sheet.trim.left, sheet.trim.bottom, sheet.usable_width, sheet.usable_height, kerf)


def _node(content: Content, x: int, y: int, w: int, h: int, kerf: int) -> Node:
    if isinstance(content, str):
        return Node(x=x, y=y, w=w, h=h, piece=content)
    direction, parts = content
    along = direction == "v"
    extent = w if along else h
    if len(parts) == 1 and parts[0][0] == extent:
        return _node(parts[0][1], x, y, w, h, kerf)
    children, at = [], 0
    for size, inner in parts:
        children.append(_node(inner, x + at, y, size, h, kerf) if along else _node(inner, x, y + at, w, size, kerf))
        at += size + kerf
    if extent > at:
        rest = extent - at
        children.append(Node(x=x + at, y=y, w=rest, h=h, waste=True) if along else Node(x=x, y=y + at, w=w, h=rest, waste=True))
    return Node(x=x, y=y, w=w, h=h, cut=direction, children=tuple(children))


def strips(direction: Direction, sheet: list[tuple[int, list[tuple[int, list[tuple[int, int, str]]]]]]) -> Row:
    """A sheet of strips of stacks of panes.

    Parameters
    ----------
    direction : {"v", "h"}
        Direction of the first cuts.
    sheet : list
        Strips: (size across, stacks); a stack: (size along the strip, panes); a pane: (size along, size across, id).
    """
    across = other(direction)
    return direction, tuple(
        (high, (across, tuple((wide, (direction, tuple((h, (across, ((w, name),))) for w, h, name in panes))) for wide, panes in stacks)))
        for high, stacks in sheet
    )


def without(content: Content, name: str) -> Content | None:
    """A layout with one pane of this name left out; its place becomes waste. None if nothing is left."""
    if isinstance(content, str):
        return None if content == name else content
    direction, parts = content
    for i, (size, inner) in enumerate(parts):
        if name in names(inner):
            rest = without(inner, name)
            kept = parts[:i] + (((size, rest),) if rest is not None else ()) + parts[i + 1 :]
            return (direction, kept) if kept else None
    return content


def names(content: Content) -> list[str]:
    """Ids of all panes of a layout, in cutting order."""
    if isinstance(content, str):
        return [content]
    return [name for _, inner in content[1] for name in names(inner)]
