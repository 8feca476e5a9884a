"""Judging one sheet: a tree of cuts node by node, or a mere list of panes for which a scheme of cuts has to be found.

Stages are counted along every branch: each change of direction is a new one, and a sheet that starts in the other than the prescribed
first direction has used stage 1 without a cut.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.cutting.check_schemes import scheme_exists
from halfsilver.making.cutting.instance import FirstCut, Pane, Sheet, SheetInstance
from halfsilver.making.cutting.solution import Node, PlacedPane, SheetPlan
from halfsilver.making.cutting.violation import Violation


def sheet_violations(instance: SheetInstance, plan: SheetPlan, where: str) -> Iterator[Violation]:
    """Everything that is wrong on one sheet, taken by itself."""
    sheet = next((sheet for sheet in instance.stock if sheet.id == plan.stock), None)
    pieces = {piece.id: piece for piece in instance.pieces}
    for pane in plan.panes():
        if pane.piece in pieces:
            yield from _size(pieces[pane.piece], pane, where)
    if sheet is None:
        return
    misplaced = tuple(_apart(instance, sheet, plan.panes(), where))
    yield from misplaced
    if plan.tree is not None:
        yield from _root(sheet, plan.tree, where)
        yield from _tree(instance, plan.tree, None, 0, where)
    elif not misplaced:
        yield from _scheme(instance, sheet, plan.cuts, where)


def _size(piece: Pane, pane: PlacedPane, where: str) -> Iterator[Violation]:
    lies, wanted = (pane.w, pane.h), (piece.width, piece.height)
    if lies == wanted or (piece.rotate and lies == wanted[::-1]):
        return
    if lies == wanted[::-1]:
        yield Violation(code="turned", where=where, text=f"{piece.id!r} must not be turned.")
    else:
        text = f"{piece.id!r} is {pane.w} x {pane.h} here, {piece.width} x {piece.height} is wanted."
        yield Violation(code="wrong-size", where=where, text=text)


def _root(sheet: Sheet, root: Node, where: str) -> Iterator[Violation]:
    usable = (sheet.trim.left, sheet.trim.bottom, sheet.usable_width, sheet.usable_height)
    if (root.x, root.y, root.w, root.h) != usable:
        text = f"The tree covers {(root.x, root.y, root.w, root.h)}, the usable rectangle is {usable} (x, y, width, height)."
        yield Violation(code="outside", where=where, text=text)


def _tree(instance: SheetInstance, node: Node, above: str | None, stage: int, where: str) -> Iterator[Violation]:
    if node.cut is None:
        return
    if node.cut != above:
        stage += 1
        if above is None and instance.first_cut is not FirstCut.ANY and node.cut != instance.first_cut.value:
            stage += 1
    yield from _stage(instance, node, stage, where)
    yield from _row(instance, node, where)
    for child in node.children:
        yield from _tree(instance, child, node.cut, stage, where)


def _stage(instance: SheetInstance, node: Node, stage: int, where: str) -> Iterator[Violation]:
    if instance.stages is None or stage <= instance.stages:
        return
    kinds = sorted("piece" if child.piece is not None else "waste" if child.waste else "cut" for child in node.children)
    if instance.exact or kinds not in (["piece"], ["piece", "waste"]):
        text = f"The {node.cut} cut at x {node.x}, y {node.y} is stage {stage}; {instance.stages} are allowed."
        yield Violation(code="stages", where=where, text=text)


def _row(instance: SheetInstance, node: Node, where: str) -> Iterator[Violation]:
    """Children of a cut: in line, one kerf apart, spanning the node, no waste strip too narrow."""
    along = node.cut == "v"
    begin, end = (node.x, node.x + node.w) if along else (node.y, node.y + node.h)
    if not node.children:
        yield Violation(code="not-guillotine", where=where, text=f"The cut at x {node.x}, y {node.y} leaves nothing.")
        return
    reached: int | None = None
    for child in node.children:
        at, size = (child.x, child.w) if along else (child.y, child.h)
        spans = (child.y, child.h) == (node.y, node.h) if along else (child.x, child.w) == (node.x, node.w)
        if not spans or size <= 0:
            text = f"The part at x {child.x}, y {child.y} does not span the {node.cut} cut of x {node.x}, y {node.y}."
            yield Violation(code="not-guillotine", where=where, text=text)
        yield from _step(instance, at, begin if reached is None else reached, reached is None, where)
        if child.waste and size < instance.min_strip:
            text = f"The waste strip at x {child.x}, y {child.y} is {size} wide; it breaks cleanly from {instance.min_strip} on."
            yield Violation(code="strip", where=where, text=text)
        reached = at + size
    assert reached is not None
    if reached > end:
        yield Violation(code="outside", where=where, text=f"The parts end at {reached}, their rectangle at {end}.")
    elif end - reached > instance.kerf:
        yield Violation(code="not-guillotine", where=where, text=f"From {reached} to {end} the rectangle belongs to no part.")


def _step(instance: SheetInstance, at: int, reached: int, first: bool, where: str) -> Iterator[Violation]:
    due = reached if first else reached + instance.kerf
    if at == due:
        return
    code = "outside" if first and at < due else "overlap" if at < reached else "kerf" if at < due else "not-guillotine"
    yield Violation(code=code, where=where, text=f"A part begins at {at}, the cut before it ends at {due}.")


def _apart(instance: SheetInstance, sheet: Sheet, panes: tuple[PlacedPane, ...], where: str) -> Iterator[Violation]:
    """Where panes lie, whatever the cuts: inside the usable rectangle and a kerf apart."""
    left, bottom = sheet.trim.left, sheet.trim.bottom
    right, top = left + sheet.usable_width, bottom + sheet.usable_height
    for i, pane in enumerate(panes):
        place = f"{pane.piece!r} at {pane.x}, {pane.y}"
        if pane.x < left or pane.y < bottom or pane.x + pane.w > right or pane.y + pane.h > top or min(pane.w, pane.h) <= 0:
            yield Violation(code="outside", where=where, text=f"{place} leaves the usable rectangle {left}, {bottom} to {right}, {top}.")
        for other in panes[:i]:
            if _meet(pane, other, instance.kerf):
                code = "overlap" if _meet(pane, other, 0) else "kerf"
                text = f"{place} and {other.piece!r} at {other.x}, {other.y} lie less than a kerf of {instance.kerf} apart."
                yield Violation(code=code, where=where, text=text)


def _scheme(instance: SheetInstance, sheet: Sheet, panes: tuple[PlacedPane, ...], where: str) -> Iterator[Violation]:
    usable = (sheet.trim.left, sheet.trim.bottom, sheet.trim.left + sheet.usable_width, sheet.trim.bottom + sheet.usable_height)
    if not scheme_exists(instance, usable, panes):
        yield Violation(code="not-guillotine", where=where, text="No order of edge-to-edge cuts within the rules parts these panes.")


def _meet(a: PlacedPane, b: PlacedPane, kerf: int) -> bool:
    return a.x < b.x + b.w + kerf and b.x < a.x + a.w + kerf and a.y < b.y + b.h + kerf and b.y < a.y + a.h + kerf
