"""Column generation for bars, rounding dives, and the integer programme over the patterns found.

Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9 (1961) and 11 (1963) [from
memory]. One bounded knapsack per round prices every stock length at once. Bars with too many steps for a table are priced on a coarser
grid, pieces rounded up and bars down, so that every pattern can be cut; the bound is priced the other way round.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from halfsilver.making.cutting.bounds import dual_bound, rounded_up
from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.fold_bars import Folded
from halfsilver.making.cutting.knapsack import Table, fill, split
from halfsilver.making.cutting.linear_close import closing_patterns
from halfsilver.making.cutting.linear_quick import Pattern, pattern_cost, quick_plans
from halfsilver.making.cutting.master import Column, Master, whole

LEAST_CELLS = 20_000
MOST_MEMORY = 60_000_000
MOST_COLUMNS = 6_000
MOST_WAYS = 5_000  # up to so many sets of pieces all patterns are looked at
CLOSING = 2  # the dive after which the last gap is tried to be closed
THRESHOLDS = (0.9, 0.6, 0.45, 0.8, 0.7, 0.5, 0.99)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The cheapest plan found, if any, a bound, and whether all patterns there are were looked at."""

    plan: list[Pattern] | None
    bound: float
    exhausted: bool = False


@dataclass(slots=True, kw_only=True)
class ColumnSearch:
    """Patterns of one task, growing.

    Attributes
    ----------
    patterns : list of Pattern
        All patterns found so far, each once.
    bound : float
        Best bound so far.
    prices : tuple of float
        The pieces' prices in the linear programme of the whole task.
    rents : tuple of float
        What each stock size costs there beyond its price, as numbers of at most 0.
    """

    problem: Folded
    effort: Effort
    patterns: list[Pattern] = field(default_factory=list)
    seen: set[Pattern] = field(default_factory=set)
    bound: float = 0.0
    prices: tuple[float, ...] = ()
    rents: tuple[float, ...] = ()

    def add(self, pattern: Pattern) -> bool:
        """Keep a pattern if it is new."""
        if pattern in self.seen or not any(pattern[1]) or len(self.patterns) >= MOST_COLUMNS:
            return False
        self.seen.add(pattern)
        self.patterns.append(pattern)
        return True

    def rows(self, demand: Sequence[int], left: Sequence[int | None]) -> list[tuple[float, float]]:
        """Demand rows, then stock rows."""
        infinite = float("inf")
        return [(float(d), infinite) for d in demand] + [(-infinite, infinite if q is None else float(q)) for q in left]

    def column(self, pattern: Pattern) -> Column:
        """A pattern as a column of the master."""
        stock, counts = pattern
        entries = {i: float(c) for i, c in enumerate(counts) if c}
        return self.problem.costs[stock], entries | {len(counts) + stock: 1.0}

    def enumerate(self) -> bool:
        """Keep every pattern to which nothing can be added, if there are few pieces; whether they were few enough."""
        problem = self.problem
        ways = math.prod(wanted + 1 for wanted in problem.demand)
        if ways > MOST_WAYS:
            return False
        found: list[Pattern] = []
        for j, capacity in enumerate(problem.capacities):
            for counts in product(*(range(wanted + 1) for wanted in problem.demand)):
                room = capacity - sum(c * s for c, s in zip(counts, problem.sizes, strict=True))
                spare = (s for s, c, d in zip(problem.sizes, counts, problem.demand, strict=True) if c < d)
                if 0 <= room < min(spare, default=math.inf):
                    found.append((j, counts))
        if len(found) > self.effort.columns:
            return False
        for pattern in found:
            self.add(pattern)
        return True

    def generate(self, demand: Sequence[int], left: Sequence[int | None], rounds: int, *, whole_task: bool = False) -> dict[Pattern, float]:
        """Generate columns for a demand and return the use of patterns in the linear programme.

        Parameters
        ----------
        demand : sequence of int
            What is still wanted.
        left : sequence of int or None
            What is left of each stock size.
        rounds : int
            Most rounds of pricing.
        whole_task : bool
            Whether the demand is that of the whole task, so that the bound holds for it.
        """
        master = Master(self.rows(demand, left), self._spares(demand))
        usable: list[Pattern] = []
        for pattern in self.patterns:
            if all(c <= d for c, d in zip(pattern[1], demand, strict=True)):
                usable.append(pattern)
                master.add(self.column(pattern))
        spare = len(demand)
        relaxed = master.solve()
        for turn in range(rounds):
            prices = [max(0.0, price) for price in relaxed.prices[: len(demand)]]
            table, capacities = self._price(demand, prices)
            new = self._improving(table, capacities, demand, prices, relaxed.prices[len(demand) :], left)
            if whole_task and (not new or turn % 10 == 9):
                self.bound = max(self.bound, self._bound(prices))
                if rounded_up(self.bound, self.problem.costs, self.problem.quantities) >= relaxed.value - 1e-6 and not any(
                    x > 1e-6 for x in relaxed.columns[:spare]
                ):
                    break
            if not new:
                break
            for pattern in new:
                usable.append(pattern)
                master.add(self.column(pattern))
            relaxed = master.solve()
        if whole_task:
            self.prices = tuple(max(0.0, price) for price in relaxed.prices[: len(demand)])
            self.rents = tuple(min(0.0, rent) for rent in relaxed.prices[len(demand) :])
            self.bound = max(self.bound, self._bound(self.prices))
        return {pattern: x for pattern, x in zip(usable, relaxed.columns[spare:], strict=True) if x > 1e-7}

    def _spares(self, demand: Sequence[int]) -> list[Column]:
        """Columns that stand for a piece not cut, dearer than any way to cut it."""
        dear = [c / s for c, s in zip(self.problem.costs, self.problem.capacities, strict=True) if s > 0]
        most = 10.0 * (max(dear, default=1.0) or 1.0) * max(self.problem.capacities)
        return [(most, {i: 1.0}) for i in range(len(demand))]

    def _grid(self, demand: Sequence[int]) -> int:
        rows = sum(len(split(d)) for d in demand)
        cells = max(min(LEAST_CELLS, MOST_MEMORY // max(1, rows)), self.effort.cells // max(1, rows))
        return -(-max(self.problem.capacities) // cells)

    def _price(self, demand: Sequence[int], prices: Sequence[float]) -> tuple[Table, list[int]]:
        step = max(1, self._grid(demand))
        sizes = [-(-size // step) for size in self.problem.sizes]
        capacities = [capacity // step for capacity in self.problem.capacities]
        return fill(sizes, demand, prices, max(capacities)), capacities

    def _improving(
        self, table: Table, capacities: Sequence[int], demand: Sequence[int], prices: Sequence[float],
        rents: Sequence[float], left: Sequence[int | None],
    ) -> list[Pattern]:  # fmt: skip
        new = []
        for j, capacity in enumerate(capacities):
            gain = table.best[capacity] + min(0.0, rents[j]) - self.problem.costs[j]
            if left[j] == 0 or gain <= 1e-7 * max(1.0, self.problem.costs[j]):
                continue
            pattern = (j, table.counts(capacity, len(demand)))
            if self.add(pattern):
                new.append(pattern)
        return new

    def _bound(self, prices: Sequence[float]) -> float:
        problem = self.problem
        step = max(1, -(-max(problem.loose_capacities) * self._grid(problem.demand) // max(problem.capacities)))
        capacities = [-(-capacity // step) for capacity in problem.loose_capacities]
        table = fill([max(1, size // step) for size in problem.loose_sizes], problem.demand, prices, max(capacities))
        worth = [float(table.best[capacity]) for capacity in capacities]
        return dual_bound(prices, problem.demand, worth, problem.costs, problem.quantities)

    def dive(self, number: int) -> list[Pattern] | None:
        """Round the linear programme step by step, generating columns for what remains each time; every number goes another way."""
        threshold, dice = THRESHOLDS[number % len(THRESHOLDS)], number // len(THRESHOLDS)
        demand, left = list(self.problem.demand), list(self.problem.quantities)
        plan: list[Pattern] = []
        rounds = self.effort.rounds
        while any(demand):
            use = self.generate(demand, left, rounds)
            rounds = max(5, self.effort.rounds // 8)
            taken = self._take(use, demand, left, threshold, dice)
            dice = dice * 48271 % 2147483647
            if not taken:
                rest = quick_plans(self._rest(left), demand)
                return plan + rest[0] if rest else None
            plan += taken
        return plan

    def _take(self, use: dict[Pattern, float], demand: list[int], left: list[int | None], threshold: float, dice: int) -> list[Pattern]:
        """Fix whole parts, then what is nearly whole, at least one; demand and stock are reduced in place."""
        if not use:
            return []
        wanted = sorted(use, key=lambda p: (-(use[p] - int(use[p] + 1e-6)), -use[p], p))
        taken: list[Pattern] = []
        for pattern in sorted(use, key=lambda p: (-use[p], p)):
            taken += self._reduce(pattern, int(use[pattern] + 1e-6), demand, left)
        near = [p for p in wanted if use[p] - int(use[p] + 1e-6) >= threshold] or ([] if taken else [wanted[dice % min(len(wanted), 4)]])
        for pattern in near:
            taken += self._reduce(pattern, 1, demand, left)
        return taken

    def _reduce(self, pattern: Pattern, times: int, demand: list[int], left: list[int | None]) -> list[Pattern]:
        stock, counts = pattern
        fits = min((demand[i] // c for i, c in enumerate(counts) if c), default=0)
        quantity = left[stock]
        times = min(times, fits) if quantity is None else min(times, fits, quantity)
        for i, c in enumerate(counts):
            demand[i] -= times * c
        left[stock] = None if quantity is None else quantity - times
        return [pattern] * times

    def _rest(self, left: Sequence[int | None]) -> Folded:
        return replace(self.problem, quantities=tuple(left))

    def combine(self) -> list[Pattern] | None:
        """Best whole-numbered use of all patterns found; surplus pieces are left out of the bars they stand on."""
        problem = self.problem
        patterns = self._promising()
        rows = self.rows(problem.demand, problem.quantities)
        use = whole(rows, [self.column(pattern) for pattern in patterns], nodes=max(10, self.effort.nodes // 4))
        if use is None:
            return None
        return trimmed([pattern for pattern, times in zip(patterns, use, strict=True) for _ in range(times)], problem.demand)

    def _promising(self) -> list[Pattern]:
        """The patterns that cost least beyond what they are worth in the linear programme."""

        def excess(pattern: Pattern) -> float:
            stock, counts = pattern
            worth = sum(count * price for count, price in zip(counts, self.prices, strict=True))
            return round(self.problem.costs[stock] - self.rents[stock] - worth, 9)

        order = sorted(range(len(self.patterns)), key=lambda i: excess(self.patterns[i]))
        return [self.patterns[i] for i in sorted(order[: 2 * self.effort.columns])]


def trimmed(plan: Sequence[Pattern], demand: Sequence[int]) -> list[Pattern]:
    """The plan without what nobody asked for."""
    surplus = [sum(counts[i] for _, counts in plan) - wanted for i, wanted in enumerate(demand)]
    result = []
    for stock, counts in plan:
        drop = [min(extra, count) for extra, count in zip(surplus, counts, strict=True)]
        surplus = [extra - gone for extra, gone in zip(surplus, drop, strict=True)]
        rest = tuple(count - gone for count, gone in zip(counts, drop, strict=True))
        if any(rest):
            result.append((stock, rest))
    return result


def column_plan(problem: Folded, effort: Effort, start: Sequence[Pattern] | None) -> Found:
    """Best plan by column generation.

    Parameters
    ----------
    problem : Folded
        The task.
    effort : Effort
        Amount of work.
    start : sequence of Pattern or None
        A complete plan to better.

    Returns
    -------
    Found
        The cheapest plan, None if none was found, and the bound (not yet rounded up).
    """
    search = ColumnSearch(problem=problem, effort=effort)
    best = list(start) if start is not None else None
    for pattern in best or ():
        search.add(pattern)
    search.generate(problem.demand, problem.quantities, effort.rounds, whole_task=True)

    def done() -> bool:
        return best is not None and pattern_cost(problem, best) <= rounded_up(search.bound, problem.costs, problem.quantities) + 1e-6

    def better(plan: list[Pattern] | None) -> None:
        nonlocal best
        if plan is not None and (best is None or pattern_cost(problem, plan) < pattern_cost(problem, best) - 1e-9):
            best = plan
            for pattern in plan:
                search.add(pattern)

    dives = effort.dives
    if not done() and search.enumerate():
        better(search.combine())
        dives = 0
    for number in range(dives):
        if done():
            break
        better(search.dive(number))
        if number == min(CLOSING, dives - 1) and best is not None and not done():
            most = effort.columns * (3 if len(set(problem.costs)) == 1 else 1)
            for pattern in closing_patterns(problem, search.prices, pattern_cost(problem, best), most):
                search.add(pattern)
        if number in (0, CLOSING, dives - 1) and not done():
            better(search.combine())
    return Found(plan=best, bound=search.bound, exhausted=dives == 0)
