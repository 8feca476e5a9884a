"""Labels for the pieces: what it is, its size, and a code that tells job, revision and part."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.drawings import papers
from halfsilver.documents.more import template
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, sentence, shortened
from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.sheets import PAPERS
from halfsilver.errors import RenderError
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.fasteners import fasteners
from halfsilver.making.marks import piece_marks
from halfsilver.making.scope import made_parts, trade_of
from halfsilver.model.design import Part
from halfsilver.model.job import Scope
from halfsilver.model.making import CutGroup, CutPlan, Trade

ADDRESS_MOST = 120
CODE_SHARE = 0.72
SMALL_MM = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelGrid:
    """A sheet of labels, as many as go onto the paper, the grid in its middle. [mm]"""

    width_mm: float = 63.5
    height_mm: float = 38.1
    gap_x_mm: float = 2.5
    gap_y_mm: float = 0.0
    edge_mm: float = 4.0

    def places(self, paper: tuple[float, float]) -> tuple[tuple[float, float], ...]:
        """Upper left corner of each label, row by row, from the paper's upper left corner. [mm]

        Raises
        ------
        RenderError
            If not even one goes onto the paper.
        """
        columns = int((paper[0] - 2 * self.edge_mm + self.gap_x_mm) // (self.width_mm + self.gap_x_mm))
        rows = int((paper[1] - 2 * self.edge_mm + self.gap_y_mm) // (self.height_mm + self.gap_y_mm))
        if columns < 1 or rows < 1:
            raise RenderError(f"A label of {self.width_mm:g} x {self.height_mm:g} mm does not go onto the paper. Take a smaller one.")
        left = (paper[0] - columns * (self.width_mm + self.gap_x_mm) + self.gap_x_mm) / 2
        top = (paper[1] - rows * (self.height_mm + self.gap_y_mm) + self.gap_y_mm) / 2
        return tuple(
            (left + c * (self.width_mm + self.gap_x_mm), top + r * (self.height_mm + self.gap_y_mm))
            for r in range(rows)
            for c in range(columns)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One thing that gets a label: the part it is of, what is written on it, and its length where it is cut from a bar. [mm]

    ``holds`` tells what is in it, where it is a bag.
    """

    part: Part
    mark: str
    length_mm: float | None = None
    holds: str = ""


def payload(*, job: str, revision: int, part: str, base_address: str = "") -> str:
    """What a code says.

    Examples
    --------
    >>> payload(job="d96653bda52c", revision=2, part="rear-glass")
    'halfsilver:d96653bda52c/2/rear-glass'
    >>> payload(job="d96653bda52c", revision=2, part="rear-glass", base_address="https://shop.example/pieces/")
    'https://shop.example/pieces/d96653bda52c/2/rear-glass'
    """
    start = f"{base_address.rstrip('/')}/" if base_address else "halfsilver:"
    return f"{start}{job}/{revision}/{part}"


def pieces(design: Design, plan: CutPlan) -> Iterator[Piece]:
    """Every piece that the shop makes or buys, sticks by the side they become, and a kit's bags; a spare stick has no label."""
    parts = {part.id: part for part in made_parts(design)}
    cut: set[str] = set()
    for group in plan.groups:
        for piece in _of_group(design, group, parts):
            cut.add(piece.part.id)
            yield piece
    for part in parts.values():
        count = part.quantity * design.facts.job.quantity
        if part.id not in cut:
            yield from (Piece(part=part, mark=part.name + (f", {k} of {count}" if count > 1 else "")) for k in range(1, count + 1))
    if design.facts.job.scope is Scope.KIT:
        yield from _bags(design)


def _bags(design: Design) -> Iterator[Piece]:
    """A bag for each kind and place of fasteners."""
    for number, one in enumerate(fasteners(design), start=1):
        bag = Part(id=f"bag-{number}", name=one.place, material=one.id, size_mm=(), mass_kg=0.0, at_mm=(0.0, 0.0, 0.0))
        yield Piece(part=bag, mark=one.place, holds=f"{one.count * design.facts.job.quantity} × {one.name}")


def _of_group(design: Design, group: CutGroup, parts: dict[str, Part]) -> Iterator[Piece]:
    bars = cast("list[dict[str, Any]]", group.solution.get("bars", []))
    for bar, marks in zip(bars, piece_marks(design, group), strict=False):
        for cut, mark in zip(bar["cuts"], marks, strict=True):
            part = parts.get(group.piece_to_part[str(cut["piece"])])
            if part is not None and mark != "spare":
                yield Piece(part=part, mark=mark, length_mm=(cut["end"] - cut["start"]) * group.unit_mm)


def labels_pdf(
    design: Design,
    plan: CutPlan,
    *,
    show: Show,
    job: str,
    date: str,
    revision: int,
    base_address: str = "",
    grid: LabelGrid | None = None,
) -> bytes:
    """A sheet of labels as a PDF.

    Parameters
    ----------
    design : Design
        Whose parts they are.
    plan : CutPlan
        Tells which stick becomes which side.
    show : Show
        Writes a value in the job's own units.
    job : str
        Short digest that names the job.
    date : str
        Date of issue, YYYY-MM-DD.
    revision : int
        Revision of the pack.
    base_address : str
        What stands before job, revision and part in the codes, such as the address of the shop's own server; empty for plain text.
    grid : LabelGrid, optional
        Size and distances of the labels.

    Returns
    -------
    bytes
        The same for the same arguments, anywhere and at any time.

    Raises
    ------
    RenderError
        If a label does not go onto the paper, or the address is too long for a code of this size.
    """
    if len(base_address) > ADDRESS_MOST or not base_address.isascii() or any(sign.isspace() for sign in base_address):
        raise RenderError(f"The address for the codes must be plain letters without spaces, at most {ADDRESS_MOST}: {base_address[:60]!r}.")
    sizes, laid = Sizes(design, show), grid or LabelGrid()
    paper = PAPERS[papers(design.facts.job).words]
    known = tuple(pieces(design, plan))
    codes = {
        part: code_svg(payload(job=job, revision=revision, part=part, base_address=base_address))
        for part in dict.fromkeys(piece.part.id for piece in known)
    }
    names = {part: f"code-{k}.svg" for k, part in enumerate(codes)}
    data: Row = {
        "title": printable(design.facts.job.title),
        "date": date,
        "paper": paper,
        "label": [laid.width_mm, laid.height_mm],
        "code_mm": CODE_SHARE * min(laid.height_mm, laid.width_mm),
        "places": laid.places(paper),
        "labels": [_label(sizes, piece, names, laid, revision=revision, job=job) for piece in known],
    }
    return typeset("labels.typ", data, pictures={"look.typ": template("look.typ")} | {names[part]: svg for part, svg in codes.items()})


def code_svg(text: str) -> bytes:
    """A QR code as SVG, with the quiet border of four modules that ISO/IEC 18004 asks for."""
    import segno

    stream = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        stream, kind="svg", border=4, xmldecl=False, omitsize=True, dark="#000000", light="#ffffff"
    )
    return stream.getvalue()


def _label(sizes: Sizes, piece: Piece, names: dict[str, str], grid: LabelGrid, *, revision: int, job: str) -> dict[str, str]:
    room = grid.width_mm - CODE_SHARE * min(grid.height_mm, grid.width_mm) - 5.5
    return {
        "mark": sentence(printable(piece.mark))[:60],
        "size": "\n".join(_size(sizes, piece)),
        "job": shortened(sizes.design.facts.job.title, room_mm=room * 0.97, size_mm=SMALL_MM, weight=Weight.BOLD),
        "revision": f"Revision {revision}",
        "digest": job,
        "part": printable(piece.part.id),
        "code": names[piece.part.id],
    }


def _size(sizes: Sizes, piece: Piece) -> Sequence[str]:
    """Size in two lines: a stick by its length and its section, a pane by its face and its thickness; a bag by what it holds."""
    if piece.holds:
        return (piece.holds,)
    shown = [sizes.show(size, "mm") for size in piece.part.size_mm]
    if piece.length_mm is not None:
        return sizes.show(piece.length_mm, "mm"), " × ".join(shown[1:])
    flat = trade_of(piece.part) in (Trade.GLASS, Trade.BACKING)
    first = 2 if flat else 1
    return tuple(line for line in (" × ".join(shown[:first]), " × ".join(shown[first:])) if line)
