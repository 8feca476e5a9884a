"""Sheets as SVG: millimetres, presentation attributes only, the shipped font named in every text, the same bytes each time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape
from math import cos, radians, sin

from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.ink import Ink, InkArc, InkGroup, InkPath, InkText
from halfsilver.drawing.lettering import runs
from halfsilver.drawing.plot import plotted
from halfsilver.drawing.scene import Point
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle, Pen
from halfsilver.drawing.view import Sheet, View


def number(value: float) -> str:
    """A length with at most three decimals and no needless zeros.

    Examples
    --------
    >>> number(2.50), number(-0.0001), number(10)
    ('2.5', '0', '10')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def sheet_svg(sheet: Sheet, *, style: DrawingStyle = DEFAULT_STYLE, paper: str = "") -> str:
    """A sheet as an SVG document.

    Parameters
    ----------
    sheet : Sheet
        What to write.
    style : DrawingStyle
        Look of the drawing.
    paper : str
        Colour of the paper, for example ``#ffffff``; empty leaves it clear.

    Returns
    -------
    str
        The document; its size and viewBox are millimetres of the paper.
    """
    width, height = number(sheet.width_mm), number(sheet.height_mm)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
        ' fill="none" stroke-linecap="round" stroke-linejoin="round">'
    ]
    if sheet.title:
        lines.append(f"<title>{escape(sheet.title, quote=False)}</title>")
    if paper:
        lines.append(f'<rect width="{width}" height="{height}" fill="{paper}"/>')
    lines += _elements(plotted(sheet, style=style), sheet.height_mm)
    return "\n".join([*lines, "</svg>", ""])


def view_svg(view: View, *, margin_mm: float = 5.0, style: DrawingStyle = DEFAULT_STYLE, paper: str = "") -> str:
    """One view alone, on paper just large enough for it."""
    return sheet_svg(sheet_of(view, margin_mm=margin_mm, style=style), style=style, paper=paper)


def _elements(items: Iterable[Ink], height: float) -> Iterator[str]:
    for item in items:
        match item:
            case InkGroup():
                yield from _group(item, height)
            case InkPath():
                if any(item.chains):
                    yield f'<path d="{_path_data(item, height)}"{_paint(item.pen, item.fill)}/>'
            case InkArc():
                yield _arc(item, height)
            case InkText():
                yield _text(item, height)


def _group(group: InkGroup, height: float) -> Iterator[str]:
    inner = list(_elements(group.items, height))
    if not inner:
        return
    named = [("kind", group.kind), ("name", group.name), *group.data]
    yield "<g" + "".join(f' data-{key}="{escape(value)}"' for key, value in named if value) + ">"
    if group.title:
        yield f"<title>{escape(group.title, quote=False)}</title>"
    yield from inner
    yield "</g>"


def _at(p: Point, height: float) -> str:
    return f"{number(p[0])} {number(height - p[1])}"


def _path_data(path: InkPath, height: float) -> str:
    end = "Z" if path.closed else ""
    return "".join("M" + "L".join(_at(p, height) for p in chain) + end for chain in path.chains if chain)


def _paint(pen: Pen | None, fill: str) -> str:
    text = f' fill="{fill}" fill-rule="evenodd"' if fill else ""
    if pen:
        text += f' stroke="{pen.colour}" stroke-width="{number(pen.width_mm)}"'
        if pen.dash_mm:
            text += f' stroke-dasharray="{" ".join(map(number, pen.dash_mm))}" stroke-linecap="butt"'
    return text


def _arc(arc: InkArc, height: float) -> str:
    (x, y), r, turn = arc.centre, arc.radius_mm, arc.end_deg - arc.start_deg
    if turn >= 360.0:
        return f'<circle cx="{number(x)}" cy="{number(height - y)}" r="{number(r)}"{_paint(arc.pen, arc.fill)}/>'
    ends = [(x + r * cos(radians(a)), y + r * sin(radians(a))) for a in (arc.start_deg, arc.end_deg)]
    large = 1 if turn > 180.0 else 0
    data = f"M{_at(ends[0], height)}A{number(r)} {number(r)} 0 {large} 0 {_at(ends[1], height)}"
    return f'<path d="{data}"{_paint(arc.pen, arc.fill)}/>'


def _text(text: InkText, height: float) -> str:
    anchor = {0.0: "start", 0.5: "middle", 1.0: "end"}[text.align]
    x, y = text.at[0], height - text.at[1]
    turn = f' transform="rotate({number(-text.rotation_deg)} {number(x)} {number(y)})"' if text.rotation_deg else ""
    bold = ' font-weight="700"' if text.weight is Weight.BOLD else ""
    em = text.font.em_mm(text.size_mm)
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-family="{text.font.family}" font-size="{number(em)}"{bold}'
        f' text-anchor="{anchor}" fill="{text.colour}"{turn}>{_runs(text, em)}</text>'
    )


def _runs(text: InkText, em: float) -> str:
    """The characters in their order; the small ones of a fraction in spans of their own."""
    pieces, height = [], 0.0
    for run in runs(text.text):
        rise = run.rise * text.size_mm
        if run.size == 1.0 and rise == height:
            pieces.append(escape(run.text, quote=False))
        else:
            drop = f' dy="{number(height - rise)}"' if rise != height else ""
            pieces.append(f'<tspan{drop} font-size="{number(em * run.size)}">{escape(run.text, quote=False)}</tspan>')
        height = rise
    return "".join(pieces)
