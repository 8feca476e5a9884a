"""Closing the last gap for bars: all patterns that a cheaper plan could contain.

Given prices that no pattern outweighs, a plan cheaper than the best one contains no pattern whose price lacks more than
the difference between the cost aimed at and the bound. Where that leaves few patterns they are all listed and combined.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from halfsilver.making.cutting.bounds import common_step, dual_bound
from halfsilver.making.cutting.fold_bars import Folded
from halfsilver.making.cutting.knapsack import fill

MOST_VISITS = 400_000
MOST_KINDS = 200
MOST_CELLS = 8_000_000


@dataclass(slots=True)
class _Listing:
    """Depth-first listing of the contents worth at least ``need`` within a capacity."""

    sizes: Sequence[int]
    limits: Sequence[int]
    values: Sequence[float]
    rest: Sequence[Any]
    most: int
    visits: int = 0
    found: list[tuple[int, ...]] = field(default_factory=list)

    def go(self, at: int, room: int, need: float, counts: list[int]) -> bool:
        """List what can still be reached from here; False when the budget is spent."""
        self.visits += 1
        if self.visits > MOST_VISITS or len(self.found) > self.most:
            return False
        if at == len(self.sizes):
            self.found.append(tuple(counts))
            return True
        for count in range(min(self.limits[at], room // self.sizes[at]), -1, -1):
            left, missing = room - count * self.sizes[at], need - count * self.values[at]
            if self.rest[at][left] < missing:
                continue
            counts.append(count)
            sound = self.go(at + 1, left, missing, counts)
            counts.pop()
            if not sound:
                return False
        return True


def closing_patterns(problem: Folded, prices: Sequence[float], best: float, most: int) -> list[tuple[int, tuple[int, ...]]]:
    """Every pattern that a plan cheaper than ``best`` can contain; empty if they are too many to list.

    Parameters
    ----------
    problem : Folded
        The task.
    prices : sequence of float
        Prices of the pieces, at least 0.
    best : float
        Cost of the best plan known.
    most : int
        So many patterns of one stock size are too many.

    Returns
    -------
    list of Pattern
        The patterns.
    """
    order = sorted(range(len(prices)), key=lambda i: -problem.sizes[i])
    top = max(problem.capacities)
    if len(order) > MOST_KINDS or len(order) * top > MOST_CELLS:
        return []
    backwards = order[::-1]
    table = fill(
        [problem.sizes[i] for i in backwards], [problem.demand[i] for i in backwards], [prices[i] for i in backwards], top,
        stops=range(len(order) + 1),
    )  # fmt: skip
    rest = [best_values for _, best_values in table.stops][::-1][1:]
    worth = [float(table.best[capacity]) for capacity in problem.capacities]
    bound = dual_bound(prices, problem.demand, worth, problem.costs, problem.quantities)
    gap = best - float(common_step(problem.costs)) - bound
    free = [c / w for w, c, q in zip(worth, problem.costs, problem.quantities, strict=True) if q is None and w > c]
    scale = min(1.0, *free) if free else 1.0
    listing = _Listing([problem.sizes[i] for i in order], [problem.demand[i] for i in order], [prices[i] for i in order], rest, most)
    patterns = []
    for j, capacity in enumerate(problem.capacities):
        need = max(problem.costs[j], scale * worth[j]) - gap
        listing.found = []
        if not listing.go(0, capacity, need / scale - 1e-9, []):
            return []
        places = {kind: place for place, kind in enumerate(order)}
        patterns += [(j, tuple(counts[places[i]] for i in range(len(order)))) for counts in listing.found]
    return patterns
