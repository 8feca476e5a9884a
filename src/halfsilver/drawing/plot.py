"""From a view to ink: shapes to paper, dimensions and callouts placed, thin lines interrupted at texts."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from halfsilver.drawing import columns
from halfsilver.drawing.dimensions import dimension_ink, place_dimensions
from halfsilver.drawing.gaps import interrupted
from halfsilver.drawing.ink import Box, Ink, InkGroup, InkText, bounds, joined, leaves, shifted
from halfsilver.drawing.notes import caption_ink, leader_ink, text_ink
from halfsilver.drawing.scene import Callouts, Leader, Scene, Text, flat
from halfsilver.drawing.shapes import shapes_ink
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle
from halfsilver.drawing.view import Scale, Sheet, View

CLEAR_OF_TEXT_MM = 0.5


def plot_view(view: View, *, style: DrawingStyle = DEFAULT_STYLE, hatched: bool = True) -> InkGroup:
    """Everything a view prints.

    Parameters
    ----------
    view : View
        Scene, scale and place.
    style : DrawingStyle
        Look of the drawing.
    hatched : bool
        Whether hatches are drawn; leaving them out makes no view larger or smaller.

    Returns
    -------
    InkGroup
        Shapes first, then dimensions, leaders and callouts, texts last.
    """
    drawn = _at_origin(_unplaced(view), style, hatched)
    return replace(drawn, items=tuple(shifted(item, view.at_mm) for item in drawn.items))


def view_bounds(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> Box:
    """Left, bottom, right and top of everything the view prints, texts and dimensions included. [mm of paper]"""
    (x, y), (left, bottom, right, top) = view.at_mm, _laid_out(_unplaced(view), style)[1]
    return (x + left, y + bottom, x + right, y + top)


def least_bounds(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> Box:
    """A box that what the view prints fills at least, found without placing its callouts. [mm of paper]"""
    box = _without_callouts(_unplaced(view), style)[1]
    for column in flat(view.scene.items):
        if isinstance(column, Callouts):
            box = columns.least_bounds(column, around=box, style=style)
    return box


def _unplaced(view: View) -> View:
    return replace(view, at_mm=(0.0, 0.0))


# A view is fitted, then printed on its sheet, alone, and into another program's file: its ink is the same each time.
@lru_cache(maxsize=64)
def _at_origin(view: View, style: DrawingStyle, hatched: bool) -> InkGroup:
    over, _ = _laid_out(view, style)
    texts = [leaf for leaf in leaves(over) if isinstance(leaf, InkText)]
    ink = (*shapes_ink(view.scene.items, view, style, hatched=hatched), *over)
    return InkGroup(items=interrupted(ink, texts), kind="view", title=view.scene.title, data=(("scale", view.scale.text),))


@lru_cache(maxsize=64)
def _laid_out(view: View, style: DrawingStyle) -> tuple[tuple[Ink, ...], Box]:
    """What stands over the shapes, and how far all of it reaches; no hatch decides either."""
    plain, around = _without_callouts(view, style)
    over = list(plain)
    for item in flat(view.scene.items):
        if isinstance(item, Callouts):
            taken = [leaf.corners(pad_mm=CLEAR_OF_TEXT_MM) for leaf in leaves(over) if isinstance(leaf, InkText)]
            over.append(columns.plot_callouts(item, around=around, to_paper=view.paper, avoid=taken, style=style))
            around = joined([around, bounds(over[-1:])])
    if view.caption:
        shapes = bounds(shapes_ink(view.scene.items, view, style, hatched=False) or over)
        over.append(caption_ink(view, around=around, middle_mm=(shapes[0] + shapes[2]) / 2.0, style=style))
        around = joined([around, bounds(over[-1:])])
    return tuple(over), around


@lru_cache(maxsize=64)
def _without_callouts(view: View, style: DrawingStyle) -> tuple[tuple[Ink, ...], Box]:
    """What stands over the shapes at places of its own, and how far that and the shapes reach."""
    shapes = shapes_ink(view.scene.items, view, style, hatched=False)
    over: list[Ink] = [dimension_ink(p, style) for p in place_dimensions(view, style=style)]
    items = tuple(flat(view.scene.items))
    over += [leader_ink(item, view, style) for item in items if isinstance(item, Leader)]
    over += [text_ink(item, view, style) for item in items if isinstance(item, Text)]
    return tuple(over), bounds([*shapes, *over])


def plotted(sheet: Sheet, *, style: DrawingStyle = DEFAULT_STYLE) -> tuple[Ink, ...]:
    """All ink of a sheet: each view a group, then the items of the paper itself."""
    views = tuple(plot_view(view, style=style) for view in sheet.views)
    if not sheet.items:
        return views
    paper = View(scene=Scene(items=sheet.items), scale=Scale(1.0))
    return (*views, plot_view(paper, style=style))
