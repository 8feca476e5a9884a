"""Templates at full size: pockets and the lights' cable way on the back faces of the sticks, tiled where they are larger than the paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, pi, sin

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.drawings import papers
from halfsilver.documents.front_view import feed_word
from halfsilver.documents.more import template
from halfsilver.documents.relief import ENDS, relief_parts
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, sentence, shortened
from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.moves import mirrored
from halfsilver.drawing.scene import (
    Anchor,
    Axis,
    BreakLine,
    CentreLine,
    Circle,
    Dimension,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Scene,
    Side,
    Text,
)
from halfsilver.drawing.sheets import CHECKS, PAPERS
from halfsilver.drawing.style import Material, Role
from halfsilver.drawing.svg import sheet_svg
from halfsilver.drawing.view import Scale, Sheet, View
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.scope import has
from halfsilver.model.job import SticksOut, Units
from halfsilver.model.making import Trade

BESIDE_MM = 45.0
EDGE_MM, HEAD_MM, FOOT_MM, LAP_MM = 12.0, 26.0, 22.0, 10.0
ARC_STEPS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """One template: its drawing at full size, and what is said above it."""

    title: str
    said: str
    scene: Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """How a drawing is spread over pages of paper. [mm]"""

    page: tuple[float, float]
    room: tuple[float, float]
    columns: int
    rows: int


def tiling(size: tuple[float, float], paper: tuple[float, float]) -> Tiling:
    """The fewest pages, upright or across, each overlapping the next by a lap to glue.

    Examples
    --------
    >>> tiling((200, 80), (210, 297)).page, tiling((700, 80), (210, 297)).columns
    ((297, 210), 3)
    """
    found = []
    for page in (paper, paper[::-1]):
        room = (page[0] - 2 * EDGE_MM, page[1] - HEAD_MM - FOOT_MM)
        columns, rows = (_count(have, give) for have, give in zip(size, room, strict=True))
        found.append(Tiling(page=page, room=room, columns=columns, rows=rows))
    return min(found, key=lambda one: one.columns * one.rows)


def _count(size: float, room: float) -> int:
    return 1 if size <= room else ceil((size - LAP_MM) / (room - LAP_MM) - 1e-9)


def templates(sizes: Sizes) -> Iterator[Template]:
    """Every template that the job's scope asks for."""
    if not has(sizes.design, Trade.FRAME):
        return
    for part in relief_parts(sizes):
        yield relief_template(sizes, part)
    if "strip.path" in sizes and has(sizes.design, Trade.LIGHTS) and feed_word(sizes) is not None:
        yield way_template(sizes)


def relief_template(sizes: Sizes, part: SticksOut) -> Template:
    """A pocket on the stick's back face, the outer edge below, as it is seen from behind."""
    name, side, seat = f"relief.{part.id}", part.side.value, sizes.seat
    body, into = sizes[f"{seat}.moulding.body"], sizes[f"{name}.into_wall"]
    start, end = sizes[f"{name}.at"], sizes[f"{name}.at"] + sizes[f"{name}.width"]
    first, last = max(start - BESIDE_MM, 0.0), end + BESIDE_MM
    outline = rounded_pocket(start, end, wall=body, into=into, radius=sizes["relief.cutter"])
    items: list[Item] = [
        *stick_face(first, last, body),
        Polygon(points=outline, material=Material.VOID, open_edges=(len(outline) - 1,), name=name),
    ]
    items += [CentreLine(start=((start + end) / 2, 0), end=((start + end) / 2, body))]
    dim = sizes.dimension
    items += [
        dim(f"{name}.width", (start, body), (end, body), side=Side.ABOVE),
        dim(f"{name}.wall_left", (last, 0), (end, body - into), side=Side.RIGHT, chain="wall"),
        dim(f"{name}.into_wall", (end, body - into), (end, body), side=Side.RIGHT, chain="wall"),
    ]
    corner = ENDS[side][0]
    items += from_long_point(sizes, first, start, corner)
    said = (
        f"Back face of the {side} stick, {seat} frame. Pocket {sizes.text(f'{name}.height')} deep from this face, open to it. Its near edge"
        f" lies {sizes.text(f'{name}.at')} from the long point at the {_end_words(side, corner)}: measure that on the stick as well."
    )
    if side in ("bottom", "left"):
        items = [mirrored(item) for item in items]
    return Template(title=f"Pocket for the {printable(part.id)}", said=said, scene=Scene(items=tuple(items), title=f"Pocket {part.id}"))


def _end_words(side: str, end: str) -> str:
    return f"viewer's {end} end" if side in ("bottom", "top") else f"{end} end"


def stick_face(first: float, last: float, body: float) -> Iterator[Item]:
    """The stick's back face between outer edge and rebate wall; mitred where it begins at the long point."""
    foot: Point = (first, 0.0)
    head: Point = (first + body, body) if first == 0.0 else (first, body)
    open_ends = (1,) if first == 0.0 else (1, 3)
    yield Polygon(
        points=(foot, (last, 0), (last, body), head), material=Material.PICTURE, open_edges=open_ends, name="stick", title="Stick"
    )
    yield BreakLine(start=(last, -3), end=(last, body + 3))
    if first > 0.0:
        yield Line(start=(first, -3), end=(first, body + 3), role=Role.CUT)
    yield Text(
        at=((first + last) / 2, 0), text="outer edge of the stick on this line", anchor=Anchor.TOP_CENTRE, shift_mm=(0, -1.5), size_mm=2.0
    )


def rounded_pocket(start: float, end: float, *, wall: float, into: float, radius: float) -> tuple[Point, ...]:
    """Outline of a pocket in the rebate wall: its inner corners as round as the cutter leaves them.

    Examples
    --------
    >>> rounded_pocket(0, 50, wall=40, into=10, radius=0)
    ((0, 40), (0, 30), (50, 30), (50, 40))
    """
    r = min(radius, into, (end - start) / 2)
    if r <= 0:
        return ((start, wall), (start, wall - into), (end, wall - into), (end, wall))
    floor = wall - into
    turns = [pi / 2 * k / ARC_STEPS for k in range(ARC_STEPS + 1)]
    near = [(start + r - r * sin(pi / 2 - t), floor + r - r * sin(t)) for t in turns]
    far = [(end - x + start, y) for x, y in reversed(near)]
    return ((start, wall), *near, *far, (end, wall))


def from_long_point(sizes: Sizes, first: float, start: float, end: str) -> Iterator[Item]:
    """Where the template's straight end lies on the stick."""
    if first <= 0.0:
        yield Dimension(start=(0, 0), end=(start, 0), text=sizes.show(start, "mm"), side=Side.BELOW)
        return
    words = f"this line: {sizes.show(first, 'mm')}\nfrom the long point, {end}"
    yield Text(at=(first, 0), text=words, anchor=Anchor.TOP_CENTRE, shift_mm=(0, -7.0), size_mm=2.0)


def way_template(sizes: Sizes) -> Template:
    """Groove across batten and front frame at the feed, and the hole through the stick behind it, as seen from behind."""
    word = feed_word(sizes)
    assert word is not None
    row, column = word.value.split("-")
    body, wide, at = sizes["front.moulding.body"], sizes["batten.width"], sizes["cable.at"]
    last, middle, way = at + BESIDE_MM, sizes["cable.middle"], sizes["cable.width"]
    half = way / 2
    items: list[Item] = [
        *stick_face(0.0, last, body),
        Polygon(
            points=((body, body), (last, body), (last, body + wide), (body, body + wide)),
            material=Material.PICTURE, open_edges=(1,), name="batten", title="Batten",
        ),
        Polyline(points=((at - half, middle), (at - half, body + wide)), role=Role.CUT),
        Polyline(points=((at + half, middle), (at + half, body + wide)), role=Role.CUT),
        Circle(centre=(at, middle), radius_mm=half, name="cable way", title="Hole"),
        CentreLine(start=(at, 0), end=(at, body + wide)),
        CentreLine(start=(at - way, middle), end=(at + way, middle)),
        Dimension(start=(0, 0), end=(at, middle), text=sizes.show(at, "mm"), side=Side.BELOW),
        Dimension(start=(last, 0), end=(at, middle), text=sizes.show(middle, "mm"), axis=Axis.VERTICAL, side=Side.RIGHT),
        Dimension(start=(at - half, body + wide), end=(at + half, body + wide), text=sizes.show(way, "mm"), side=Side.ABOVE),
    ]  # fmt: skip
    if column == ("left" if row == "bottom" else "right"):
        items = [mirrored(item) for item in items]
    size = sizes.show(way, "mm")
    said = (
        f"{sentence(row)} stick at the feed, viewer's {column} end, laid on from behind. In the back of the front frame and its batten: a"
        f" groove {size} wide and as deep, from the batten's inner face to the circle. In the rear frame: a hole through the body at the"
        " circle, before the frames are joined. Clear of plates, screws and pins; edges eased. Place and width are common practice: move"
        " them where the lead asks for it."
    )
    return Template(title="Cable way of the lights", said=said, scene=Scene(items=tuple(items), title="Cable way"))


def templates_pdf(design: Design, *, show: Show, date: str, revision: int, version: str) -> bytes | None:
    """Templates at full size as a PDF; None where the job has none.

    Parameters
    ----------
    design : Design
        What is built.
    show : Show
        Writes a value in the job's own units.
    date : str
        Date of issue, YYYY-MM-DD.
    revision : int
        Revision of the pack.
    version : str
        Version of the program.

    Returns
    -------
    bytes or None
        The same for the same arguments, anywhere and at any time.

    Raises
    ------
    RenderError
        If the document cannot be typeset.
    """
    sizes, job = Sizes(design, show), design.facts.job
    known = tuple(templates(sizes))
    if not known:
        return None
    paper = PAPERS[papers(job).words]
    sheets = [drawn(one.scene) for one in known]
    data: Row = {
        "title": printable(job.title),
        "running": shortened(job.title, room_mm=90.0, size_mm=2.05),
        "date": date,
        "revision": revision,
        "version": version,
        "digest": design.digest[:12],
        "edge": EDGE_MM,
        "head": HEAD_MM,
        "foot": FOOT_MM,
        "check": CHECKS[design.facts.job.units is Units.INCH],
        "pages": [
            page
            for k, (one, sheet) in enumerate(zip(known, sheets, strict=True))
            for page in _pages(one, sheet, f"template-{k}.svg", paper)
        ],
    }
    pictures = {f"template-{k}.svg": sheet_svg(sheet).encode() for k, sheet in enumerate(sheets)}
    return typeset("full_size.typ", data, pictures={"look.typ": template("look.typ")} | pictures)


def drawn(scene: Scene) -> Sheet:
    """A scene at full size on paper just large enough."""
    return sheet_of(View(scene=scene, scale=Scale(1.0)), margin_mm=2.0)


def _pages(one: Template, sheet: Sheet, name: str, paper: tuple[float, float]) -> Iterator[Row]:
    """The pages of one template, row by row."""
    laid = tiling((sheet.width_mm, sheet.height_mm), paper)
    count = laid.columns * laid.rows
    for r in range(laid.rows):
        for c in range(laid.columns):
            at = (c * (laid.room[0] - LAP_MM), r * (laid.room[1] - LAP_MM))
            yield {
                "title": one.title,
                "said": one.said,
                "place": f"page {r * laid.columns + c + 1} of {count}: row {r + 1}, column {c + 1}" if count > 1 else "",
                "page": laid.page,
                "room": laid.room,
                "size": [sheet.width_mm, sheet.height_mm],
                "shift": at,
                "drawing": name,
                "lap_left": LAP_MM if c else 0,
                "lap_top": LAP_MM if r else 0,
            }
