"""Views as DXF: true size in millimetres, one layer per role, real dimension entities, the same bytes each time.

The drawing stands in model space at 1:1; lettering, ticks and dashes are as large as the view's scale asks, so that a print at
that scale looks like the sheet. Tints and hatches are left out: a machine or another drawing takes up edges. The ledger name of
a dimension or part rides along as extended data of the application ``HALFSILVER``.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING, Any

from halfsilver.drawing.dimensions import place_dimensions, raised_line
from halfsilver.drawing.ink import Ink, InkArc, InkGroup, InkPath, InkText
from halfsilver.drawing.plot import plot_view
from halfsilver.drawing.scene import Point
from halfsilver.drawing.stacks import Placed
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle, Pen, Role
from halfsilver.drawing.view import View

if TYPE_CHECKING:
    from ezdxf.document import Drawing

APPLICATION = "HALFSILVER"
DIMENSION_STYLE = "SHOP"
LETTERING = "SHOP"
TEXT_LAYER = "TEXT"
BY_LAYER = 256
LINE_WIDTHS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)


def view_dxf(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> str:
    """A view as the text of a DXF file (R2010).

    Parameters
    ----------
    view : View
        What to write; its place on the sheet is left out of account.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    str
        The file.
    """
    with _fixed_stamps():
        from ezdxf.filemanagement import new
        from ezdxf.units import MM

        document = new("R2010", units=MM)
        _prepare(document, view, style)
        writer = _Writer(document.modelspace(), view, style)
        writer.write(plot_view(view, style=style, hatched=False))
        for placed in place_dimensions(view, style=style):
            writer.dimension(placed)
        # The order of these two depends on the hash seed unless they are named first.
        for name in ("ACDBPLACEHOLDER", "LAYOUT"):
            document.classes.add_class(name)
        stream = StringIO()
        document.write(stream)
    return stream.getvalue()


@contextmanager
def _fixed_stamps() -> Iterator[None]:
    """No time stamps and no random identifiers in what is written inside."""
    from ezdxf import options  # type: ignore[attr-defined]

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def layer_of(role: Role) -> str:
    """Name of the layer of a role."""
    return role.value.upper()


def _prepare(document: Drawing, view: View, style: DrawingStyle) -> None:
    document.header["$MEASUREMENT"] = 1
    document.header["$LTSCALE"] = view.scale.denominator
    document.appids.add(APPLICATION)
    document.styles.add(LETTERING, font="Inter-Regular.ttf")
    for role, pen in style.pens.items():
        _layer(document, layer_of(role), pen)
    _layer(document, TEXT_LAYER, Pen(width_mm=0.18, colour=style.text_colour))
    document.dimstyles.add(
        DIMENSION_STYLE,
        dxfattribs={
            "dimtxt": style.text_mm,
            "dimscale": view.scale.denominator,
            "dimtsz": 0.0,
            "dimasz": style.tick_mm,
            "dimblk": "ARCHTICK",
            "dimclrd": BY_LAYER,
            "dimclre": BY_LAYER,
            "dimclrt": BY_LAYER,
            "dimexo": style.extension_gap_mm,
            "dimexe": style.overshoot_mm,
            "dimgap": style.text_gap_mm,
            "dimtad": 1,
            "dimtih": 0,
            "dimtoh": 0,
            "dimdec": 3,
            "dimzin": 8,
            "dimtxsty": LETTERING,
        },
    )


def _layer(document: Drawing, name: str, pen: Pen) -> None:
    linetype = "CONTINUOUS"
    if pen.dash_mm:
        linetype = name
        signed = [length if k % 2 == 0 else -length for k, length in enumerate(pen.dash_mm)]
        document.linetypes.add(linetype, pattern=[sum(pen.dash_mm), *signed], description=name.lower())
    layer = document.layers.add(name, linetype=linetype)
    layer.rgb = tuple(int(pen.colour[k : k + 2], 16) for k in (1, 3, 5))  # type: ignore[assignment]
    wanted = pen.width_mm * 100.0
    layer.dxf.lineweight = min(LINE_WIDTHS, key=lambda w: abs(w - wanted))


class _Writer:
    """Puts ink back to true size and into model space."""

    def __init__(self, space: Any, view: View, style: DrawingStyle) -> None:
        self.space, self.view, self.style = space, view, style

    def real(self, p: Point) -> Point:
        k, (x, y) = self.view.scale.denominator, self.view.at_mm
        return (round((p[0] - x) * k, 6), round((p[1] - y) * k, 6))

    def write(self, item: Ink, name: str = "") -> None:
        match item:
            case InkGroup() if item.kind != "dimension":
                for inner in item.items:
                    self.write(inner, item.name or name)
            case InkPath():
                self._path(item, name)
            case InkArc():
                self._arc(item, name)
            case InkText():
                self._text(item)
            case _:
                pass

    def _path(self, path: InkPath, name: str) -> None:
        if path.pen is None:
            return
        attributes = {"layer": layer_of(path.role)}
        for chain in path.chains:
            points = [self.real(p) for p in chain]
            if len(points) == 2 and not path.closed:
                entity = self.space.add_line(*points, dxfattribs=attributes)
            else:
                entity = self.space.add_lwpolyline(points, close=path.closed, dxfattribs=attributes)
            self._mark(entity, name)

    def _arc(self, arc: InkArc, name: str) -> None:
        centre, radius = self.real(arc.centre), arc.radius_mm * self.view.scale.denominator
        attributes = {"layer": layer_of(arc.role)}
        if arc.end_deg - arc.start_deg >= 360.0:
            entity = self.space.add_circle(centre, radius, dxfattribs=attributes)
        else:
            entity = self.space.add_arc(centre, radius, arc.start_deg, arc.end_deg, dxfattribs=attributes)
        self._mark(entity, name)

    def _text(self, text: InkText) -> None:
        from ezdxf.enums import TextEntityAlignment as Alignment

        height = text.size_mm * self.view.scale.denominator
        attributes = {"layer": TEXT_LAYER, "style": LETTERING, "rotation": text.rotation_deg}
        align = {0.0: Alignment.LEFT, 0.5: Alignment.CENTER, 1.0: Alignment.RIGHT}[text.align]
        self.space.add_text(text.text, height=height, dxfattribs=attributes).set_placement(self.real(text.at), align=align)

    def dimension(self, placed: Placed) -> None:
        frame, d, style = placed.frame, placed.dimension, self.style
        # Without a place of its own a text stands above the middle of its line.
        middle = placed.text_v + frame.text_up * style.text_mm / 2.0
        location = self.real(frame.paper(placed.text_u, middle)) if placed.raised else None
        dimension = self.space.add_linear_dim(
            base=self.real(frame.paper(placed.low, placed.line_v)),
            p1=d.start,
            p2=d.end,
            angle=frame.rotation_deg,
            text=d.text,
            location=location,
            dimstyle=DIMENSION_STYLE,
            dxfattribs={"layer": layer_of(Role.DIMENSION)},
        )
        self._mark(dimension.dimension, d.name)
        dimension.render()
        if placed.raised:
            self._path(raised_line(placed, style), "")

    def _mark(self, entity: Any, name: str) -> None:
        if name:
            entity.set_xdata(APPLICATION, [(1000, name)])
