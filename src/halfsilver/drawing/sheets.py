"""Sheets with a border, a title block and a line to check the print by; lengths are millimetres of the paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.ink import Box
from halfsilver.drawing.lettering import width_mm, wrapped
from halfsilver.drawing.scene import Anchor, Item, Line, Text, rectangle
from halfsilver.drawing.style import DEFAULT_STYLE, GREY, DrawingStyle, Role
from halfsilver.drawing.view import Sheet, View
from halfsilver.errors import RenderError
from halfsilver.units.factors import MM_PER_INCH

PAPERS: dict[str, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "A2": (420.0, 594.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}
MARGIN_MM, PAD_MM = 10.0, 2.5
LABEL_MM, ROW_MM, TITLE_SHARE = 1.7, 9.5, 0.5
CHECK_ROOM_MM = 9.0
CHECKS = {False: (100.0, "100 mm"), True: (4 * MM_PER_INCH, "4 in")}


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What stands along the foot of a sheet.

    Parameters
    ----------
    title : str
        What the sheet shows.
    cells : tuple of (str, str)
        Label and value: job, scale, units, revision, tolerances, date, sheet.
    inches : bool
        Whether the print is checked with a tape in inches.
    """

    title: str
    cells: tuple[tuple[str, str], ...]
    inches: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """The block laid out: rows of cells, and the width left for the title."""

    rows: tuple[tuple[tuple[str, str], ...], ...]
    title: str
    title_mm: float
    height_mm: float


def landscape(paper: str) -> tuple[float, float]:
    """Width and height of a paper laid across. [mm]

    Examples
    --------
    >>> landscape("A4")
    (297.0, 210.0)
    """
    width, height = PAPERS[paper]
    return (height, width)


def room(*, width_mm: float, height_mm: float, block: TitleBlock, style: DrawingStyle = DEFAULT_STYLE) -> Box:
    """The part of a framed sheet that is free for views. [mm]"""
    strip = _strip(block, width_mm - 2 * MARGIN_MM, style)
    foot = MARGIN_MM + strip.height_mm + CHECK_ROOM_MM
    return (MARGIN_MM + PAD_MM, foot, width_mm - MARGIN_MM - PAD_MM, height_mm - MARGIN_MM - PAD_MM)


def framed(
    views: Sequence[View],
    *,
    width_mm: float,
    height_mm: float,
    block: TitleBlock,
    items: Sequence[Item] = (),
    style: DrawingStyle = DEFAULT_STYLE,
) -> Sheet:
    """A sheet with border, title block and check line.

    Parameters
    ----------
    views : sequence of View
        Placed within `room`.
    width_mm, height_mm : float
        The paper. [mm]
    block : TitleBlock
        What the foot says.
    items : sequence of Item
        Notes on the paper itself, in millimetres from its lower left corner.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    Sheet
        Ready to be written.

    Raises
    ------
    RenderError
        If the title block does not go onto the paper.
    """
    inner = width_mm - 2 * MARGIN_MM
    strip = _strip(block, inner, style)
    border = rectangle(x_mm=MARGIN_MM, y_mm=MARGIN_MM, width_mm=inner, height_mm=height_mm - 2 * MARGIN_MM, role=Role.FRAME)
    check = _check_line(MARGIN_MM + PAD_MM + 1.0, MARGIN_MM + strip.height_mm + 3.0, inches=block.inches)
    own = (border, *_block_items(strip, inner, style), *check)
    return Sheet(width_mm=width_mm, height_mm=height_mm, views=tuple(views), items=(*own, *items), title=block.title)


def _strip(block: TitleBlock, inner: float, style: DrawingStyle) -> _Strip:
    """The fewest rows of cells that leave the title its room."""
    for count in range(1, len(block.cells) + 1):
        rows = _shared(block.cells, count)
        for_cells = max(sum(_cell_mm(cell, style) for cell in row) for row in rows)
        title_mm = max(inner - for_cells, 0.0)
        if title_mm < min(inner * (1 - TITLE_SHARE), _title_mm(block.title, style)):
            continue
        taken = min(title_mm, max(_title_mm(block.title, style), inner * 0.2))
        title = wrapped(block.title, room_mm=taken - 2 * PAD_MM, size_mm=style.title_mm, font=style.font, weight=Weight.BOLD)
        lines = title.count("\n") + 1
        height = max(count * ROW_MM, style.title_mm * style.line_spacing * lines + 2 * PAD_MM)
        return _Strip(rows=rows, title=title, title_mm=taken, height_mm=height)
    raise RenderError(f"The title block of '{block.title}' does not go onto {inner:.0f} mm of paper. Take a larger sheet or shorter words.")


def _shared(cells: tuple[tuple[str, str], ...], count: int) -> tuple[tuple[tuple[str, str], ...], ...]:
    each = -(-len(cells) // count)
    return tuple(cells[k : k + each] for k in range(0, len(cells), each))


def _cell_mm(cell: tuple[str, str], style: DrawingStyle) -> float:
    label = width_mm(cell[0], size_mm=LABEL_MM, font=style.font)
    return max(label, width_mm(cell[1], size_mm=style.text_mm, font=style.font)) + 2 * PAD_MM


def _title_mm(title: str, style: DrawingStyle) -> float:
    return width_mm(title, size_mm=style.title_mm, font=style.font, weight=Weight.BOLD) + 2 * PAD_MM + 2.0


def _block_items(strip: _Strip, inner: float, style: DrawingStyle) -> list[Item]:
    left, foot, head = MARGIN_MM, MARGIN_MM, MARGIN_MM + strip.height_mm
    items: list[Item] = [
        Line(start=(left, head), end=(left + inner, head), role=Role.FRAME),
        Text(
            at=(left + PAD_MM, (foot + head) / 2.0),
            text=strip.title,
            anchor=Anchor.MIDDLE_LEFT,
            size_mm=style.title_mm,
            weight=Weight.BOLD,
        ),
    ]
    row_mm = strip.height_mm / len(strip.rows)
    for k, row in enumerate(strip.rows):
        top = head - k * row_mm
        if k:
            items.append(Line(start=(left + strip.title_mm, top), end=(left + inner, top), role=Role.THIN))
        items += _row_items(row, left + strip.title_mm, left + inner, top, row_mm, style)
    return items


def _row_items(row: tuple[tuple[str, str], ...], left: float, right: float, top: float, height: float, style: DrawingStyle) -> list[Item]:
    widths = [_cell_mm(cell, style) for cell in row]
    stretch = (right - left) / sum(widths)
    items: list[Item] = []
    x, middle = left, top - height / 2.0
    for (label, value), width in zip(row, widths, strict=True):
        items += [
            Line(start=(x, top), end=(x, top - height), role=Role.THIN),
            Text(at=(x + PAD_MM, middle + 1.5), text=label, size_mm=LABEL_MM, colour=GREY),
            Text(at=(x + PAD_MM, middle - 2.9), text=value, size_mm=style.text_mm),
        ]
        x += width * stretch
    return items


def _check_line(x: float, y: float, *, inches: bool) -> list[Item]:
    long, words = CHECKS[inches]
    ends = (x, x + long)
    return [
        Line(start=(ends[0], y), end=(ends[1], y), role=Role.THIN),
        *(Line(start=(e, y - 1.2), end=(e, y + 1.2), role=Role.THIN) for e in ends),
        Text(
            at=((ends[0] + ends[1]) / 2.0, y + 1.0),
            text=f"{words} on paper: measure it before trusting the print",
            anchor=Anchor.BASE_CENTRE,
            size_mm=LABEL_MM,
            colour=GREY,
        ),
    ]
