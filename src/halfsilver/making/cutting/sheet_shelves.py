"""First complete plans for sheets, at once: shelves filled by falling height.

Every pane is set so that all leftovers are allowed as they are, so the plan can be cut at any moment; no later pane is needed to mend it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from halfsilver.making.cutting.sheet_rows import strips
from halfsilver.making.cutting.sheet_task import Laying, SheetTask, SheetUse


@dataclass(slots=True)
class _Shelf:
    height: int
    used: int = 0
    panes: list[Laying] = field(default_factory=list)


@dataclass(slots=True)
class _Open:
    stock: int
    used: int = 0
    shelves: list[_Shelf] = field(default_factory=list)


def shelf_plan(work: SheetTask, order: Sequence[int], *, tall: bool) -> list[SheetUse] | None:
    """Shelves by falling height.

    Parameters
    ----------
    work : SheetTask
        The task.
    order : sequence of int
        Stock numbers in the order in which new sheets are opened.
    tall : bool
        How panes that may be turned are laid: standing or lying, where both fit.

    Returns
    -------
    list of SheetUse or None
        A complete plan, None if the stock did not suffice.
    """
    left = {j: work.quantities[j] for j in order}
    sheets: list[_Open] = []
    before: list[Laying] | None = None
    shelf: int | None = 0
    open_sheet: int | None = 0
    for ways in _queue(work, tall=tall):
        if ways is not before:
            before, shelf, open_sheet = ways, 0, 0
        shelf = _on_shelf(work, sheets, ways, shelf)
        if shelf is not None:
            continue
        open_sheet = _on_sheet(work, sheets, ways, open_sheet)
        if open_sheet is None and not _new_sheet(work, sheets, left, order, ways):
            return None
        shelf = open_sheet = len(sheets) - 1 if open_sheet is None else open_sheet
    return [_use(work, sheet) for sheet in sheets]


def _queue(work: SheetTask, *, tall: bool) -> list[list[Laying]]:
    ways: dict[int, list[Laying]] = {}
    for laying in work.layings:
        ways.setdefault(laying.piece, []).append(laying)
    for several in ways.values():
        several.sort(key=lambda laying: -laying.h if tall else laying.h)
    queue = [several for piece, several in ways.items() for _ in range(work.demand[piece])]
    return sorted(queue, key=lambda several: (-several[0].h, -several[0].w))


def _on_shelf(work: SheetTask, sheets: list[_Open], ways: list[Laying], begin: int | None) -> int | None:
    """Lay a pane on the first shelf that takes it, from a sheet on (earlier ones refused its like); the sheet, or None."""
    if begin is None:
        return None
    for number in range(begin, len(sheets)):
        sheet = sheets[number]
        for shelf in sheet.shelves:
            for laying in ways:
                level = laying.h == shelf.height if _level(work) else laying.h <= shelf.height and work.legal(shelf.height - laying.h)
                if level and work.legal(work.widths[sheet.stock] - shelf.used - laying.w):
                    shelf.panes.append(laying)
                    shelf.used += laying.w
                    return number
    return None


def _level(work: SheetTask) -> bool:
    return work.manner.exact and work.manner.stages == 2


def _on_sheet(work: SheetTask, sheets: list[_Open], ways: list[Laying], begin: int | None) -> int | None:
    """Open a shelf on the first sheet that has room, from a sheet on; the sheet, or None."""
    if begin is None:
        return None
    return next((number for number in range(begin, len(sheets)) if any(_shelf(work, sheets[number], laying) for laying in ways)), None)


def _shelf(work: SheetTask, sheet: _Open, laying: Laying) -> bool:
    if not (work.legal(work.heights[sheet.stock] - sheet.used - laying.h) and work.legal(work.widths[sheet.stock] - laying.w)):
        return False
    sheet.shelves.append(_Shelf(height=laying.h, used=laying.w, panes=[laying]))
    sheet.used += laying.h
    return True


def _new_sheet(work: SheetTask, sheets: list[_Open], left: dict[int, int | None], order: Sequence[int], ways: list[Laying]) -> bool:
    for j in order:
        quantity = left[j]
        for laying in ways:
            sheet = _Open(stock=j)
            if quantity != 0 and _shelf(work, sheet, laying):
                left[j] = None if quantity is None else quantity - 1
                sheets.append(sheet)
                return True
    return False


def _use(work: SheetTask, sheet: _Open) -> SheetUse:
    kerf = work.instance.kerf
    counts = [0] * len(work.demand)
    rows = []
    for shelf in sheet.shelves:
        for laying in shelf.panes:
            counts[laying.piece] += 1
        panes = sorted(shelf.panes, key=lambda laying: (-laying.h, -laying.w))
        rows.append((shelf.height - kerf, [(p.w - kerf, [(p.w - kerf, p.h - kerf, work.name(p))]) for p in panes]))
    return SheetUse(stock=sheet.stock, counts=tuple(counts), content=strips(work.manner.direction, rows))


def shelf_plans(work: SheetTask) -> list[list[SheetUse]]:
    """Shelf plans over several orders of opening sheets, cheapest first."""
    stock = [j for j in range(len(work.costs)) if work.widths[j] > 0 and work.heights[j] > 0]
    area = {j: work.widths[j] * work.heights[j] for j in stock}
    orders = [
        sorted(stock, key=lambda j: (work.costs[j] / area[j], -area[j])), sorted(stock, key=lambda j: -area[j]),
        sorted(stock, key=lambda j: area[j]),
        *([j, *(i for i in stock if i != j)] for j in stock[: 8 if sum(work.demand) <= 200 else 0]),
    ]  # fmt: skip
    plans = [shelf_plan(work, order, tall=tall) for order in orders for tall in (True, False)]
    return sorted((plan for plan in plans if plan is not None), key=lambda plan: sum(work.costs[use.stock] for use in plan))
