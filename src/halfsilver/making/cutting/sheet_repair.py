"""Bettering a sheet plan: a few sheets at a time are laid anew, and sheets of several plans are combined.

A few sheets, the emptiest and others picked by a fixed rule, are taken out; a beam search lays their panes again. A new layout is kept
when it is cheaper, or as cheap with the waste less evenly spread, which empties a sheet in the end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from halfsilver.making.cutting.master import whole
from halfsilver.making.cutting.sheet_beam import GUIDES, Beam, Guide
from halfsilver.making.cutting.sheet_columns import met
from halfsilver.making.cutting.sheet_joins import joined_plan
from halfsilver.making.cutting.sheet_task import SheetTask, SheetUse, uses_cost

MOST_PANES = 70
Worth = tuple[float, float]


def laid(work: SheetTask, demand: Sequence[int], quantities: Sequence[int | None], guide: Guide, width: int) -> list[SheetUse] | None:
    """One beam search for part of the demand."""
    some = tuple(laying for laying in work.layings if demand[laying.piece])
    return Beam(replace(work, layings=some), guide).run(demand, quantities, width)


def joined(work: SheetTask, demand: Sequence[int], quantities: Sequence[int | None]) -> list[SheetUse] | None:
    """All joins for part of the demand."""
    instance = work.instance
    pieces = tuple(replace(piece, qty=wanted) for piece, wanted in zip(instance.pieces, demand, strict=True))
    stock = tuple(replace(sheet, qty=quantity) for sheet, quantity in zip(instance.stock, quantities, strict=True))
    return joined_plan(replace(instance, pieces=pieces, stock=stock))


def repaired(
    works: Sequence[SheetTask], uses: list[SheetUse], *, times: int, width: int, joins: int, enough: Callable[[float], bool]
) -> list[SheetUse]:
    """The plan after so many re-layings, never dearer.

    Parameters
    ----------
    works : sequence of SheetTask
        The task in every manner of cutting allowed.
    uses : list of SheetUse
        A complete plan.
    times : int
        How many re-layings are tried.
    width : int
        Width of their beams.
    joins : int
        Most panes for which all joins are tried instead, where stages are free.
    enough : callable
        Whether a cost cannot be bettered.
    """
    dice = 12345
    known: dict[tuple[tuple[int, ...], tuple[int | None, ...]], list[SheetUse] | None] = {}
    for turn in range(times):
        if len(uses) < 2 or enough(uses_cost(works[0].instance, uses)):
            break
        dice = (dice * 6364136223846793005 + 1442695040888963407) % 2**64
        chosen = _pick(works[0], uses, 2 + turn % 4, dice)
        old = [uses[i] for i in chosen]
        rest = [use for i, use in enumerate(uses) if i not in chosen]
        work = works[turn // 2 % len(works)]
        demand = [sum(use.counts[i] for use in old) for i in range(len(work.demand))]
        guide = Guide(offset=GUIDES[turn % 2][0], power=GUIDES[turn % 2][1])
        if work.instance.stages is None and rest and sum(demand) <= joins and turn % 2 and (len(known) < times // 4):
            task = tuple(demand), tuple(_left(work, rest))
            if task not in known:
                known[task] = joined(work, *task)
            new = known[task]
        else:
            new = laid(work, demand, _left(work, rest), guide, width)
        if new is not None and _rank(work, new) < _rank(work, old):
            uses = rest + new
    return uses


def _pick(work: SheetTask, uses: Sequence[SheetUse], many: int, dice: int) -> list[int]:
    order = sorted(range(len(uses)), key=lambda i: (_fill(work, uses[i]), i))
    chosen: list[int] = []
    panes = 0
    candidates = [order.pop(dice % min(len(order), 3))]
    while order:
        dice = dice * 6364136223846793005 % 2**64 + 1442695040888963407
        candidates.append(order.pop((dice >> 33) % len(order)))
    for i in candidates:
        size = sum(uses[i].counts)
        if len(chosen) < many and (panes + size <= MOST_PANES or len(chosen) < 2):
            chosen.append(i)
            panes += size
    return chosen


def _left(work: SheetTask, rest: Sequence[SheetUse]) -> list[int | None]:
    used = [sum(use.stock == j for use in rest) for j in range(len(work.costs))]
    return [None if q is None else q - u for q, u in zip(work.quantities, used, strict=True)]


def _fill(work: SheetTask, use: SheetUse) -> float:
    """Share of the sheet that becomes panes."""
    area = sum(count * piece.width * piece.height for count, piece in zip(use.counts, work.instance.pieces, strict=True))
    sheet = work.instance.stock[use.stock]
    return area / (sheet.width * sheet.height)


def _rank(work: SheetTask, uses: Sequence[SheetUse]) -> Worth:
    return round(uses_cost(work.instance, list(uses)), 6), -round(sum(_fill(work, use) ** 2 for use in uses), 9)


def combined(work: SheetTask, pool: Sequence[SheetUse], nodes: int) -> list[SheetUse] | None:
    """The cheapest plan made of sheets that stand in any plan found so far."""
    kinds: dict[tuple[int, tuple[int, ...]], SheetUse] = {}
    for use in pool:
        kinds.setdefault((use.stock, use.counts), use)
    uses = list(kinds.values())
    pieces = len(work.demand)
    infinite = float("inf")
    rows = [(float(d), infinite if work.instance.min_strip <= 1 else float(d)) for d in work.demand]
    rows += [(-infinite, infinite if q is None else float(q)) for q in work.quantities]
    columns = [(work.costs[use.stock], {i: float(c) for i, c in enumerate(use.counts) if c} | {pieces + use.stock: 1.0}) for use in uses]
    times = whole(rows, columns, nodes=nodes)
    return None if times is None else met(work, [use for use, n in zip(uses, times, strict=True) for _ in range(n)])
