"""Small tasks: is there a cheaper mix of sheets? Mixes are tried one after the other, the cheapest first.

A beam that may open any sheet seldom closes in on one awkward mix, such as the rack's leftover with one small sheet; told to make do with
just that mix, a narrow beam mostly can. The mixes tried are limited by number, never by time.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from itertools import islice

from halfsilver.making.cutting.instance import SheetInstance
from halfsilver.making.cutting.sheet_beam import Guide
from halfsilver.making.cutting.sheet_repair import laid
from halfsilver.making.cutting.sheet_task import SheetTask, SheetUse, allowed, uses_cost

MOST_PANES = 24
MOST_LOOKED_AT = 3_000
Mix = tuple[int, ...]


def mixes(instance: SheetInstance, *, least: float, below: float) -> Iterator[Mix]:
    """Sheets of each size whose cost lies from a bound to below a known plan's, cheapest first, if they might hold every pane.

    They might when their area suffices and each pane fits one of them. Where there are too many to look at, the last one is given untested,
    so the first mix is never dearer than the cheapest plan.

    Parameters
    ----------
    instance : SheetInstance
        The task.
    least, below : float
        No mix cheaper than the one, none as dear as the other.

    Yields
    ------
    tuple of int
        How many of each stock size.
    """
    stock, kerf = instance.stock, instance.kerf
    panes = sum(piece.qty for piece in instance.pieces)
    need = sum(piece.qty * (piece.width + kerf) * (piece.height + kerf) for piece in instance.pieces)
    areas = [(sheet.usable_width + kerf) * (sheet.usable_height + kerf) for sheet in stock]
    homes = [_homes(instance, number) for number, piece in enumerate(instance.pieces) if piece.qty]
    waiting: list[tuple[float, Mix, int]] = [(0.0, (0,) * len(stock), 0)]
    for number in range(MOST_LOOKED_AT):
        if not waiting:
            return
        cost, mix, last = heapq.heappop(waiting)
        room = sum(count * area for count, area in zip(mix, areas, strict=True))
        might = need <= room and all(any(mix[j] for j in some) for some in homes)
        if (might and cost >= least - 1e-9) or number == MOST_LOOKED_AT - 1:
            yield mix
        for j in range(last, len(stock)):
            limit, dearer = stock[j].qty, cost + stock[j].cost
            if dearer < below - 1e-9 and sum(mix) < panes and (limit is None or mix[j] < limit):
                heapq.heappush(waiting, (dearer, (*mix[:j], mix[j] + 1, *mix[j + 1 :]), j))


def _homes(instance: SheetInstance, number: int) -> frozenset[int]:
    """Stock sizes that can hold a piece by itself."""
    piece = instance.pieces[number]
    ways = [(piece.width, piece.height)] + ([(piece.height, piece.width)] if piece.rotate else [])
    return frozenset(
        j
        for j, sheet in enumerate(instance.stock)
        if any(allowed(instance, sheet.usable_width - w) and allowed(instance, sheet.usable_height - h) for w, h in ways)
    )


def mix_bound(work: SheetTask, uses: list[SheetUse], *, least: float) -> float:
    """A cost that no plan can undercut: of the cheapest mix that might do, at most this plan's; the old bound for a large task."""
    instance = work.instance
    if sum(work.demand) > MOST_PANES:
        return least
    best = uses_cost(instance, uses)
    first = next(mixes(instance, least=least, below=best), None)
    return best if first is None else max(least, sum(count * sheet.cost for count, sheet in zip(first, instance.stock, strict=True)))


def mixed(
    works: Sequence[SheetTask], uses: list[SheetUse], *, least: float, tries: int, guides: Sequence[Guide], width: int
) -> list[SheetUse] | None:
    """A cheaper plan than this one, on the cheapest mix that a beam can fill; None if none was found.

    Parameters
    ----------
    works : sequence of SheetTask
        The task in every manner of cutting allowed.
    uses : list of SheetUse
        A complete plan.
    least : float
        A cost that no plan can undercut.
    tries : int
        How many mixes are tried for as many panes as there may be; for fewer, accordingly more.
    guides : sequence of Guide
        What the beams go by, one after the other.
    width : int
        Width of the beams.
    """
    instance, demand = works[0].instance, works[0].demand
    if not 0 < sum(demand) <= MOST_PANES:
        return None
    for mix in islice(mixes(instance, least=least, below=uses_cost(instance, uses)), tries * MOST_PANES // sum(demand)):
        for guide in guides:
            for work in works:
                found = laid(work, demand, mix, guide, width)
                if found is not None:
                    return found
    return None
