"""Bars and rolls in cutting order: stops, hands and running measures; strip by the count of its segments."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.cut_drawings import BarShape, bar_drawing
from halfsilver.documents.cut_rows import Row, Told
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.drawing.style import Material
from halfsilver.drawing.svg import sheet_svg
from halfsilver.making.cutting.instance import Bar, End, LinearInstance
from halfsilver.making.cutting.solution import BarPlan, LinearSolution, remnant
from halfsilver.making.marks import piece_marks
from halfsilver.model.making import CutGroup
from halfsilver.units.rounding import decimal_text

HANDS = {
    (True, True): "Mitred both ends",
    (True, False): "Mitre left, square right",
    (False, True): "Square left, mitre right",
    (False, False): "Square both ends",
}


def bars_told(sizes: Sizes, group: CutGroup, instance: LinearInstance, solution: LinearSolution, *, room_mm: float) -> Told:
    """What the sheets of a linear group say, one per bar or roll."""
    return _Bars(sizes, group, instance).told(solution, room_mm)


class _Bars:
    """One group's bars; lengths of the instance come in its own unit."""

    def __init__(self, sizes: Sizes, group: CutGroup, instance: LinearInstance) -> None:
        self.sizes, self.group, self.instance = sizes, group, instance
        self.stock = {bar.id: bar for bar in instance.stock}
        self.pieces = {piece.id: piece for piece in instance.pieces}
        self.mitred = any(End.MITRE in (piece.left, piece.right) for piece in instance.pieces)

    def told(self, solution: LinearSolution, room_mm: float) -> Told:
        marks = piece_marks(self.sizes.design, self.group)
        count = len(solution.bars)
        rows = [self.row(plan, marks[k], k + 1, count) for k, plan in enumerate(solution.bars)]
        drawings = [self.drawing(plan, marks[k], room_mm) for k, plan in enumerate(solution.bars)]
        return Told(kind="roll" if self.instance.increment else "bar", facts=list(self.facts()), rows=rows, drawings=drawings)

    def show(self, units: int) -> str:
        return self.sizes.show(units * self.group.unit_mm, "mm")

    def facts(self) -> Iterator[dict[str, str]]:
        if self.instance.increment:
            yield {"label": "Segment", "value": f"{self.show(self.instance.increment)}; cut only at the marks"}
            return
        yield {"label": "Blade", "value": f"takes {self.show(self.instance.kerf)}" + self.mitre_words()}
        if self.mitred:
            hold = "Outer edge against the fence, face up. The drawings look down on the table: the fence is above, the start at the left."
            yield {"label": "Hold", "value": hold}

    def mitre_words(self) -> str:
        return f", {self.show(self.instance.mitre.kerf)} along the bar at a mitre" if self.mitred else ""

    def row(self, plan: BarPlan, marks: tuple[str, ...], number: int, count: int) -> Row:
        bar = self.stock[plan.stock]
        what = "Roll" if self.instance.increment else "Length"
        name = printable(self.group.stock_to_row.get(bar.id, bar.id))
        return {
            "title": f"{what} {number} of {count}: {self.show(bar.length)}",
            "source": f"{name}, an offcut from the rack" if bar.offcut else name,
            "lead": self.lead(bar),
            "rows": [self.piece(plan, bar, marks, k) for k in range(len(plan.cuts))],
            "left": self.left(plan, bar),
        }

    def lead(self, bar: Bar) -> str:
        return f"Trim the start by {self.show(bar.trim.left)}; running measures count from the end as bought." if bar.trim.left else ""

    def piece(self, plan: BarPlan, bar: Bar, marks: tuple[str, ...], k: int) -> Row:
        cut = plan.cuts[k]
        piece = self.pieces[cut.piece]
        ends = (piece.left is End.MITRE, piece.right is End.MITRE)
        again = k > 0 and plan.cuts[k - 1].end - plan.cuts[k - 1].start == cut.end - cut.start
        row: Row = {
            "number": str(k + 1),
            "mark": sentence(printable(marks[k])),
            "length": self.show(cut.end - cut.start),
            "again": again,
            "ends": list(ends),
            "flipped": cut.flipped,
            "hand": HANDS[ends] + (", turned over" if cut.flipped else ""),
            "from": self.show(cut.start),
            "to": self.show(cut.end),
        }
        return row | self.segments(bar, cut.start, cut.end)

    def segments(self, bar: Bar, start: int, end: int) -> Row:
        step = self.instance.increment
        if not step:
            return {}
        return {
            "segments": str((end - start) // step),
            "mark_from": str((start - bar.trim.left) // step),
            "mark_to": str((end - bar.trim.left) // step),
        }

    def left(self, plan: BarPlan, bar: Bar) -> str:
        rest = remnant(self.instance, bar.length - bar.trim.right, plan)
        if not rest:
            return "Nothing is left."
        if self.instance.increment:
            return f"Left on the roll: {self.show(rest)}, {rest // self.instance.increment} segments."
        keep = rest >= self.instance.remnant_min > 0
        return f"Left over: {self.show(rest)}. {'Mark it and put it into the rack.' if keep else 'Waste.'}"

    def drawing(self, plan: BarPlan, marks: tuple[str, ...], room_mm: float) -> bytes:
        bar, unit = self.stock[plan.stock], self.group.unit_mm
        shapes = [
            BarShape(
                start=cut.start * unit, end=cut.end * unit, left=self.pieces[cut.piece].left is End.MITRE,
                right=self.pieces[cut.piece].right is End.MITRE, flipped=cut.flipped, number=k + 1, text=sentence(printable(marks[k])),
            )
            for k, cut in enumerate(plan.cuts)
        ]  # fmt: skip
        sheet = bar_drawing(
            shapes, length_mm=bar.length * unit, trims=(bar.trim.left * unit, bar.trim.right * unit), face_mm=self.face_mm(),
            room_mm=room_mm, material=self.material(),
        )  # fmt: skip
        return sheet_svg(sheet).encode()

    def face_mm(self) -> float:
        owners = set(self.group.piece_to_part.values())
        return max((part.size_mm[1] for part in self.sizes.design.parts if part.id in owners and len(part.size_mm) > 1), default=20.0)

    def material(self) -> Material:
        if self.instance.increment:
            return Material.LIGHT
        metal = self.group.material in self.sizes.design.facts.workshop.hardware
        return Material.METAL if metal else Material.TIMBER_LONG


def used_share(instance: LinearInstance, solution: LinearSolution) -> str:
    """Share of the stock that becomes pieces."""
    lengths = {bar.id: bar.length for bar in instance.stock}
    bought = sum(lengths[plan.stock] for plan in solution.bars)
    used = sum(cut.end - cut.start for plan in solution.bars for cut in plan.cuts)
    return f"{decimal_text(100 * used / bought, 1)} %" if bought else "0 %"
