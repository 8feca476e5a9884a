"""Two-stage plans for batches: column generation over strips and over sheets of strips.

Gilmore and Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research 13 (1965) [from memory]. A row per
piece says how many are wanted, a row per kind of strip (length and height) that no more are filled than the sheets provide. Given prices,
one knapsack over widths finds the best filling of every kind of strip, one over heights the best set of strips for every sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.knapsack import Table, fill
from halfsilver.making.cutting.master import Column, Master, whole
from halfsilver.making.cutting.sheet_rows import names, strips, without
from halfsilver.making.cutting.sheet_task import Counts, SheetTask, SheetUse

Kind = tuple[int, int]  # length of the strip (a sheet's folded width), its folded height
MOST_STEPS = 6_000
MOST_FINE_STEPS = 40_000  # where strips are limited, a coarse grid would break the rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A filled strip: its kind and how many of each laying."""

    kind: Kind
    counts: Counts


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A sheet as a set of strips: stock number and how many of each height."""

    stock: int
    counts: Counts


@dataclass(slots=True)
class StripSearch:
    """Columns of one two-stage task, growing.

    Parameters
    ----------
    work : SheetTask
        The task, its manner with two stages.
    effort : Effort
        Amount of work.
    """

    work: SheetTask
    effort: Effort
    heights: list[int] = field(init=False)
    kinds: list[Kind] = field(init=False)
    grid: tuple[int, int] = field(init=False)
    columns: list[Strip | Stack] = field(default_factory=list)
    value: float = math.inf
    prices: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        work = self.work
        self.heights = sorted({laying.h for laying in work.layings if laying.h <= max(work.heights)})
        lengths = sorted({w for w in work.widths if w > 0})
        self.kinds = [(length, h) for length in lengths for h in self.heights]
        self.grid = self._step()

    @property
    def steps(self) -> int:
        """Most steps of a table."""
        return MOST_STEPS if self.work.instance.min_strip <= 1 else MOST_FINE_STEPS

    @property
    def holds(self) -> bool:
        """Whether the grid is fine enough for the narrowest strip."""
        across = max(self.work.heights) // math.gcd(*self.heights)
        return self.work.instance.min_strip <= 1 or (self.grid[1] == 1 and across <= self.steps)

    # -- the programme -----------------------------------------------------------------------------------------------------------

    def rows(self) -> list[tuple[float, float]]:
        """Pieces, kinds of strip, stock."""
        infinite = math.inf
        pieces = [(float(d), infinite) for d in self.work.demand]
        return (
            pieces + [(0.0, infinite)] * len(self.kinds) + [(-infinite, infinite if q is None else float(q)) for q in self.work.quantities]
        )

    def column(self, item: Strip | Stack) -> Column:
        """A strip or a sheet as a column."""
        pieces, places = len(self.work.demand), {kind: i for i, kind in enumerate(self.kinds)}
        entries: dict[int, float] = {}
        if isinstance(item, Strip):
            for laying, count in zip(self.work.layings, item.counts, strict=True):
                if count:
                    entries[laying.piece] = entries.get(laying.piece, 0.0) + count
            return 0.0, entries | {pieces + places[item.kind]: -1.0}
        for h, count in zip(self.heights, item.counts, strict=True):
            if count:
                entries[pieces + places[self.work.widths[item.stock], h]] = float(count)
        return self.work.costs[item.stock], entries | {pieces + len(self.kinds) + item.stock: 1.0}

    def generate(self) -> tuple[float, ...]:
        """Generate columns until no better one is found; the prices of the pieces."""
        pieces, kinds = len(self.work.demand), len(self.kinds)
        most = 10.0 * sum(self.work.costs) + 1.0
        master = Master(self.rows(), [(most, {i: 1.0}) for i in range(pieces)])
        seen: set[Strip | Stack] = set()
        relaxed = master.solve()
        for _ in range(self.effort.rounds):
            prices = [max(0.0, p) for p in relaxed.prices[:pieces]]
            strips_found, worth = self.strips(prices, list(relaxed.prices[pieces : pieces + kinds]))
            rents = list(relaxed.prices[pieces + kinds :])
            offers: list[Strip | Stack] = [*strips_found, *self.sheets(worth, rents)]
            new = [item for item in offers if item not in seen]
            if not new:
                break
            seen.update(new)
            self.columns += new
            for item in new:
                master.add(self.column(item))
            relaxed = master.solve()
        self.value, self.prices = relaxed.value, relaxed.prices
        return tuple(max(0.0, p) for p in relaxed.prices[:pieces])

    # -- pricing -----------------------------------------------------------------------------------------------------------------

    def strips(self, prices: Sequence[float], rents: Sequence[float]) -> tuple[list[Strip], dict[Kind, float]]:
        """Fillings worth more than their strip, and what the best filling of every kind is worth."""
        work = self.work
        found: list[Strip] = []
        worth: dict[Kind, float] = {}
        rent = dict(zip(self.kinds, rents, strict=True))
        order = sorted(range(len(work.layings)), key=lambda i: (work.layings[i].h, work.layings[i].w))
        for h, chosen, table, stop in self._tables(order, prices):
            for length in sorted({kind[0] for kind in self.kinds}):
                capacity, value = self._top(table, stop, length)
                worth[length, h] = max(value, 0.0, rent[length, h])
                if value > rent[length, h] + 1e-7:
                    counts = [0] * len(work.layings)
                    for i, count in zip(chosen, table.counts(capacity, len(chosen), stop), strict=True):
                        counts[i] = count
                    found.append(Strip(kind=(length, h), counts=tuple(counts)))
        return found, worth

    def _tables(self, order: list[int], prices: Sequence[float]) -> list[tuple[int, list[int], Table, int | None]]:
        """One table for all heights where any lower pane may lie in a strip, else one per height."""
        work = self.work
        if not work.manner.exact and work.instance.min_strip <= 1:
            stops = [sum(work.layings[i].h <= h for i in order) for h in self.heights]
            table = self._table(order, prices, stops)
            return [(h, order, table, number) for number, h in enumerate(self.heights)]
        result: list[tuple[int, list[int], Table, int | None]] = []
        for h in self.heights:
            chosen = [
                i
                for i in order
                if work.layings[i].h == h or (not work.manner.exact and work.layings[i].h < h and work.legal(h - work.layings[i].h))
            ]
            result.append((h, chosen, self._table(chosen, prices, ()), None))
        return result

    def _step(self) -> tuple[int, int]:
        """Divisor and grid step of the widths."""
        common = math.gcd(*(laying.w for laying in self.work.layings))
        return common, max(1, -(-(max(self.work.widths) // common) // self.steps))

    def _table(self, chosen: Sequence[int], prices: Sequence[float], stops: Sequence[int]) -> Table:
        common, step = self.grid
        layings = [self.work.layings[i] for i in chosen]
        sizes = [-(-(laying.w // common) // step) for laying in layings]
        demand = self.work.demand
        limits = [demand[laying.piece] for laying in layings]
        capacity = max(self.work.widths) // common // step
        return fill(
            sizes, limits, [prices[laying.piece] for laying in layings], capacity, stops=stops, full=self.work.instance.min_strip > 1
        )

    def _top(self, table: Table, stop: int | None, length: int) -> tuple[int, float]:
        common, step = self.grid
        best = table.best if stop is None else table.stops[stop][1]
        return self._allowed_top(best, length, common * step)

    def _allowed_top(self, best: Any, extent: int, unit: int) -> tuple[int, float]:
        """Best filling of an extent whose leftover is allowed."""
        if self.work.instance.min_strip <= 1:
            return extent // unit, float(best[extent // unit])
        import numpy as np

        instance = self.work.instance
        rest = extent - unit * np.arange(extent // unit + 1)
        fine = (rest <= instance.kerf) | (rest >= instance.kerf + instance.min_strip)
        values = np.where(fine, best[: len(rest)], -np.inf)
        capacity = int(values.argmax())
        return capacity, float(values[capacity])

    def sheets(self, worth: dict[Kind, float], rents: Sequence[float]) -> list[Stack]:
        """Sets of strips worth more than their sheet."""
        found = []
        for j, (length, height) in enumerate(zip(self.work.widths, self.work.heights, strict=True)):
            if length <= 0 or height <= 0:
                continue
            table, unit = self._heights(length, height, worth)
            capacity, value = self._allowed_top(table.best, height, unit)
            if value + min(0.0, rents[j]) > self.work.costs[j] * (1 + 1e-9) + 1e-7:
                found.append(Stack(stock=j, counts=table.counts(capacity, len(self.heights))))
        return found

    def _heights(self, length: int, height: int, worth: dict[Kind, float]) -> tuple[Table, int]:
        common = math.gcd(*self.heights)
        step = max(1, -(-(height // common) // self.steps))
        sizes = [-(-(h // common) // step) for h in self.heights]
        capacity = height // common // step
        values = [worth[length, h] for h in self.heights]
        limits = [sum(self.work.demand)] * len(sizes)
        return fill(sizes, limits, values, capacity, full=self.work.instance.min_strip > 1), common * step

    def worth(self, prices: Sequence[float]) -> list[float]:
        """For each stock size, no less than the dearest two-stage content at these prices; coarse grids are rounded outwards."""
        work = self.work
        common, step = self.grid
        order = sorted(range(len(work.layings)), key=lambda i: work.layings[i].h)
        layings = [work.layings[i] for i in order]
        table = fill(
            [max(1, laying.w // common // step) for laying in layings], [work.demand[laying.piece] for laying in layings],
            [prices[laying.piece] for laying in layings], -(-max(work.widths) // (common * step)),
            stops=[sum(laying.h <= h for laying in layings) for h in self.heights],
        )  # fmt: skip
        cross = math.gcd(*self.heights)
        result = []
        for length, height in zip(work.widths, work.heights, strict=True):
            if length <= 0 or height <= 0:
                result.append(0.0)
                continue
            coarse = max(1, -(-(height // cross) // self.steps))
            values = [float(best[-(-length // (common * step))]) for _, best in table.stops]
            top = -(-height // (cross * coarse))
            inner = fill([max(1, h // cross // coarse) for h in self.heights], [sum(work.demand)] * len(values), values, top)
            result.append(float(inner.best[top]))
        return result

    # -- whole numbers -----------------------------------------------------------------------------------------------------------

    def plan(self, nodes: int) -> list[SheetUse] | None:
        """Best whole-numbered use of the columns found within so many nodes, or None."""
        chosen = self._promising()
        use = whole(self.rows(), [self.column(item) for item in chosen], nodes=nodes)
        if use is None:
            return None
        filled: dict[Kind, list[Counts]] = {kind: [] for kind in self.kinds}
        for item, times in zip(chosen, use, strict=True):
            if isinstance(item, Strip):
                filled[item.kind] += [item.counts] * times
        stacks = [item for item, times in zip(chosen, use, strict=True) if isinstance(item, Stack) for _ in range(times)]
        uses = [self._use(stack, filled) for stack in stacks]
        return met(self.work, [one for one in uses if one is not None])

    def _promising(self) -> list[Strip | Stack]:
        """The columns that cost least beyond what they are worth in the linear programme."""

        def excess(item: Strip | Stack) -> float:
            cost, entries = self.column(item)
            return cost - sum(self.prices[row] * entry for row, entry in entries.items())

        order = sorted(range(len(self.columns)), key=lambda i: round(excess(self.columns[i]), 9))
        return [self.columns[i] for i in sorted(order[: self.effort.columns])]

    def _use(self, stack: Stack, filled: dict[Kind, list[Counts]]) -> SheetUse | None:
        work, kerf = self.work, self.work.instance.kerf
        rows = []
        total = [0] * len(work.demand)
        for h, count in zip(self.heights, stack.counts, strict=True):
            ready = filled[work.widths[stack.stock], h]
            for counts in [ready.pop() for _ in range(min(count, len(ready)))]:
                panes = [laying for laying, n in zip(work.layings, counts, strict=True) for _ in range(n)]
                panes.sort(key=lambda laying: (-laying.h, -laying.w))
                for laying in panes:
                    total[laying.piece] += 1
                rows.append((h - kerf, [(p.w - kerf, [(p.w - kerf, p.h - kerf, work.name(p))]) for p in panes]))
        rows = [row for row in rows if row[1]]
        if not rows:
            return None
        return SheetUse(stock=stack.stock, counts=tuple(total), content=strips(work.manner.direction, rows[::-1]))


def met(work: SheetTask, uses: Sequence[SheetUse]) -> list[SheetUse]:
    """The plan without panes that nobody asked for, and without sheets that are empty then."""
    surplus = [sum(use.counts[i] for use in uses) - wanted for i, wanted in enumerate(work.demand)]
    ids = [piece.id for piece in work.instance.pieces]
    result = []
    for use in sorted(uses, key=lambda use: sum(use.counts)):
        content, counts = use.content, list(use.counts)
        for i in range(len(ids)):
            while surplus[i] > 0 and counts[i]:
                surplus[i] -= 1
                counts[i] -= 1
                content = without(content, ids[i]) or ""
        if content and names(content):
            result.append(SheetUse(stock=use.stock, counts=tuple(counts), content=content))
    return result
