"""Sheets of glass and board in cutting order: what is scored, from which edge, what comes off, and which face is coated."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.cut_drawings import PaneShape, sheet_drawing
from halfsilver.documents.cut_rows import Row, Told
from halfsilver.documents.scores import Score, scores
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.drawing.style import Material
from halfsilver.drawing.svg import sheet_svg
from halfsilver.making.cutting.instance import Sheet, SheetInstance
from halfsilver.making.cutting.solution import PlacedPane, SheetPlan, SheetSolution
from halfsilver.making.orders import coated_side
from halfsilver.model.making import CutGroup
from halfsilver.model.workshop import GlassDuty, GlassKind
from halfsilver.units.rounding import decimal_text

SHEET_MM = 112.0
EDGES = (("left", "left"), ("right", "right"), ("bottom", "lower"), ("top", "upper"))


def panes_told(sizes: Sizes, group: CutGroup, instance: SheetInstance, solution: SheetSolution, *, room_mm: float) -> Told:
    """What the sheets of a group of panes say."""
    return _Sheets(sizes, group, instance).told(solution, room_mm)


class _Sheets:
    """One group's sheets; lengths of the instance come in its own unit."""

    def __init__(self, sizes: Sizes, group: CutGroup, instance: SheetInstance) -> None:
        self.sizes, self.group, self.instance = sizes, group, instance
        self.stock = {sheet.id: sheet for sheet in instance.stock}
        self.panes = {pane.id: pane for pane in instance.pieces}
        self.names = {part.id: sentence(printable(part.name.partition(",")[0])) for part in sizes.design.parts}

    def told(self, solution: SheetSolution, room_mm: float) -> Told:
        count = len(solution.sheets)
        orders = [scores(plan.tree) if plan.tree is not None else () for plan in solution.sheets]
        return Told(
            kind="sheet",
            facts=list(self.facts()),
            rows=[self.row(plan, orders[k], k + 1, count) for k, plan in enumerate(solution.sheets)],
            drawings=[self.drawing(plan, orders[k], room_mm) for k, plan in enumerate(solution.sheets)],
        )

    def show(self, units: int) -> str:
        return self.sizes.show(units * self.group.unit_mm, "mm")

    def glass(self) -> GlassKind | None:
        return self.sizes.design.facts.workshop.glass.get(self.group.material)

    def facts(self) -> Iterator[dict[str, str]]:
        kerf = self.instance.kerf
        yield {
            "label": "Cut",
            "value": f"Sawn; the blade takes {self.show(kerf)}" if kerf else "Scored and broken, edge to edge; nothing is lost",
        }
        if self.instance.min_strip:
            yield {"label": "Narrowest", "value": f"{self.show(self.instance.min_strip)} is the narrowest strip that still breaks cleanly"}

    def name(self, piece: str) -> str:
        part = self.group.piece_to_part.get(piece, piece)
        return self.names.get(part, sentence(printable(piece)))

    def row(self, plan: SheetPlan, order: tuple[Score, ...], number: int, count: int) -> Row:
        sheet = self.stock[plan.stock]
        name = printable(self.group.stock_to_row.get(sheet.id, sheet.id))
        return {
            "title": f"Sheet {number} of {count}: {self.show(sheet.width)} × {self.show(sheet.height)}",
            "source": f"{name}, an offcut from the rack" if sheet.offcut else name,
            "lead": self.trim(sheet),
            "rows": [self.score(one, len(order)) for one in order],
            "left": "" if order else "Only the places are known: set out the order of cuts before the first one.",
        }

    def trim(self, sheet: Sheet) -> str:
        cuts = [f"{word} edge {self.show(getattr(sheet.trim, side))}" for side, word in EDGES if getattr(sheet.trim, side)]
        if not cuts:
            return "Nothing is trimmed. Measures count from the edge that the cut before left."
        return f"Trim first: {', '.join(cuts)}. Measures then count from the edge that the cut before left."

    def score(self, one: Score, count: int) -> Row:
        names = ", ".join(self.name(piece) for piece in one.parts)
        off = (names if one.whole else f"Strip for: {names}") if names else "Waste"
        return {
            "number": str(one.number),
            "way": "up" if one.cut == "v" else "across",
            "measure": self.show(one.measure),
            "at": self.show(one.at),
            "off": off + (f"; leaves {self.name(one.last)}" if one.last else ""),
            "last": one.number == count,
        }

    def drawing(self, plan: SheetPlan, order: tuple[Score, ...], room_mm: float) -> bytes:
        sheet, unit = self.stock[plan.stock], self.group.unit_mm
        trim = sheet.trim
        usable = (trim.left, trim.bottom, sheet.width - trim.right, sheet.height - trim.top)
        drawn = sheet_drawing(
            [self.pane(pane) for pane in plan.panes()], order, unit_mm=unit, size_mm=(sheet.width * unit, sheet.height * unit),
            usable=(usable[0] * unit, usable[1] * unit, usable[2] * unit, usable[3] * unit), room_mm=(room_mm, SHEET_MM),
            material=Material.BACKING if self.glass() is None else Material.GLASS,
        )  # fmt: skip
        return sheet_svg(drawn).encode()

    def pane(self, pane: PlacedPane) -> PaneShape:
        unit, wanted = self.group.unit_mm, self.panes[pane.piece]
        turned = (pane.w, pane.h) != (wanted.width, wanted.height)
        words = (self.name(pane.piece), f"{self.show(pane.w)} × {self.show(pane.h)}", *self.faces(pane.piece, turned))
        return PaneShape(x=pane.x * unit, y=pane.y * unit, wide=pane.w * unit, high=pane.h * unit, words=words)

    def faces(self, piece: str, turned: bool) -> Iterator[str]:
        part, glass = self.group.piece_to_part.get(piece, piece), self.glass()
        which = part.partition("-")[0]
        if glass is not None and glass.duty is not GlassDuty.CLEAR and which in ("front", "rear"):
            behind = "screen.outline.width" not in self.sizes
            yield face_words(coated_side(self.sizes.design, which).value, no_screen=behind)
        if turned:
            yield "turned by a quarter"


def face_words(side: str, *, no_screen: bool) -> str:
    """Which way a pane's coated face looks; without a screen it looks to the back.

    Examples
    --------
    >>> face_words("screen", no_screen=True), face_words("cavity", no_screen=True)
    ('coated face to the back', 'coated face to the space between the panes')
    """
    if side == "cavity":
        return "coated face to the space between the panes"
    return f"coated face to the {'back' if side == 'screen' and no_screen else printable(side)}"


def used_share(instance: SheetInstance, solution: SheetSolution) -> str:
    """Share of the stock's area that becomes panes."""
    areas = {sheet.id: sheet.width * sheet.height for sheet in instance.stock}
    bought = sum(areas[plan.stock] for plan in solution.sheets)
    used = sum(pane.w * pane.h for plan in solution.sheets for pane in plan.panes())
    return f"{decimal_text(100 * used / bought, 1)} %" if bought else "0 %"
