"""A design at a glance: the front without its dimensions for a document's first page, and a picture of a whole design for a web page."""

from __future__ import annotations

from halfsilver.documents.front_view import front_view
from halfsilver.documents.sections import section
from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.fit import fitted, sheet_of
from halfsilver.drawing.png import png
from halfsilver.drawing.scene import Callouts, CentreLine, Circle, Dimension, Item, Leader, Scene, Text
from halfsilver.drawing.style import Role
from halfsilver.drawing.svg import sheet_svg
from halfsilver.drawing.view import Scale, Sheet, View
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show

GLANCE_MM, GLANCE_SCALES = (62.0, 50.0), tuple(Scale(d) for d in (2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 200.0))
PICTURE_MM, PICTURE_PX = (548.0, 200.0), 2192


def bare(scene: Scene) -> Scene:
    """The same shapes without a word."""
    kept: tuple[Item, ...] = tuple(item for item in scene.items if not isinstance(item, (Dimension, Callouts, Leader, Text)))
    return Scene(items=kept, title=scene.title)


def plain(scene: Scene) -> Scene:
    """Only what is seen: no word, no centre line, nothing hidden."""
    kept = tuple(
        item for item in bare(scene).items if not isinstance(item, (CentreLine, Circle)) and getattr(item, "role", None) is not Role.HIDDEN
    )
    return Scene(items=kept, title=scene.title)


def glance(sizes: Sizes) -> Sheet:
    """The front, small and without a word."""
    width, height = GLANCE_MM
    return sheet_of(fitted(plain(front_view(sizes)), box=(0, 0, width, height), scales=GLANCE_SCALES), margin_mm=0.5)


def picture_png(design: Design, show: Show) -> bytes:
    """Front view and a section side by side.

    Parameters
    ----------
    design : Design
        What is shown.
    show : Show
        Writes a value in the job's own units.

    Returns
    -------
    bytes
        A PNG picture on white.

    Raises
    ------
    RenderError
        If the drawings do not fit the picture, or cannot be turned into one.
    """
    sizes, (width, height) = Sizes(design, show), PICTURE_MM
    middle = 0.43 * width
    front = bare(front_view(sizes))
    outside = tuple(item for item in front_view(sizes).items if isinstance(item, Dimension) and item.name.startswith("outside."))
    views: tuple[View, ...] = (
        fitted(
            Scene(items=(*front.items, *outside), title=front.title),
            box=(6, 6, middle - 6, height - 6),
            scales=(Scale(8.0), *GLANCE_SCALES),
        ),
        fitted(section(sizes, "left"), box=(middle, 6, width - 6, height - 6), scales=(Scale(1.0), Scale(1.5), Scale(2.0), Scale(4.0))),
    )
    sheet = Sheet(width_mm=width, height_mm=height, views=views, title="A design: its front and a section")
    return png(sheet_svg(sheet), width_px=PICTURE_PX)
