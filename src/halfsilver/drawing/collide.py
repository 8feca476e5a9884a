"""Finding texts that stand on other texts or on lines, with the widths of the shipped font."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from halfsilver.drawing.gaps import GIVES_WAY, Quad, span_inside
from halfsilver.drawing.ink import Ink, InkPath, InkText, leaves
from halfsilver.drawing.plot import plot_view, plotted
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle
from halfsilver.drawing.view import Sheet, View

SLACK_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """A text that stands on something: on another text, or on a line of the role named."""

    text: str
    other: str
    on_text: bool


def overlaps(view: View | Sheet, *, style: DrawingStyle = DEFAULT_STYLE) -> tuple[Overlap, ...]:
    """Texts of a view or sheet that stand on other texts or on lines; empty when all is well.

    Parameters
    ----------
    view : View or Sheet
        What is to be checked.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    tuple of Overlap
        Extension, centre, sight, hatch and leader lines are not counted: they give way to texts.
    """
    ink: Iterable[Ink] = (plot_view(view, style=style),) if isinstance(view, View) else plotted(view, style=style)
    parts = list(leaves(ink))
    texts = [(part, part.corners(pad_mm=-SLACK_MM)) for part in parts if isinstance(part, InkText)]
    found = [
        Overlap(text=a.text, other=b.text, on_text=True)
        for k, (a, box_a) in enumerate(texts)
        for b, box_b in texts[k + 1 :]
        if quads_meet(box_a, box_b)
    ]
    lines = [part for part in parts if isinstance(part, InkPath) and part.pen and part.role not in GIVES_WAY]
    for text, box in texts:
        roles = {line.role.value for line in lines if _runs_through(line, box)}
        found += [Overlap(text=text.text, other=role, on_text=False) for role in sorted(roles)]
    return tuple(found)


def quads_meet(a: Quad, b: Quad) -> bool:
    """Whether two rectangles of any direction share area."""
    return not any(_apart(p, q, a, b) for quad in (a, b) for p, q in itertools.pairwise(quad))


def _apart(p: tuple[float, float], q: tuple[float, float], a: Quad, b: Quad) -> bool:
    nx, ny = q[0] - p[0], q[1] - p[1]
    on_a, on_b = [x * nx + y * ny for x, y in a], [x * nx + y * ny for x, y in b]
    return max(on_a) <= min(on_b) or max(on_b) <= min(on_a)


def _runs_through(line: InkPath, box: Quad) -> bool:
    xs, ys = [x for x, _ in box], [y for _, y in box]
    left, bottom, right, top = min(xs), min(ys), max(xs), max(ys)
    for chain in line.chains:
        ring: Sequence[tuple[float, float]] = (*chain, chain[0]) if line.closed else chain
        for a, b in itertools.pairwise(ring):
            if max(a[0], b[0]) < left or min(a[0], b[0]) > right or max(a[1], b[1]) < bottom or min(a[1], b[1]) > top:
                continue
            if span_inside((a, b), box):
                return True
    return False
