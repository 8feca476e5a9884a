"""First complete plans for bars, at once and always: fitting by falling size, and filling bar after bar.

A plan here is a list of patterns: the number of the stock size, and how many of each piece. All work on folded sizes.
"""

from __future__ import annotations

from collections.abc import Sequence

from halfsilver.making.cutting.fold_bars import Folded

MOST_BEST_FIT = 3_000

Counts = tuple[int, ...]
Pattern = tuple[int, Counts]


def pattern_cost(problem: Folded, plan: Sequence[Pattern]) -> float:
    """Cost of the bars of a plan."""
    return sum(problem.costs[stock] for stock, _ in plan)


def quick_plans(problem: Folded, demand: Sequence[int]) -> list[list[Pattern]]:
    """All plans that the simple rules find, cheapest first; empty if none met the demand from the stock there is."""
    stock = [j for j in range(len(problem.costs)) if problem.capacities[j] > 0]
    dear = sorted(stock, key=lambda j: (problem.costs[j] / problem.capacities[j], -problem.capacities[j]))
    long = sorted(stock, key=lambda j: (-problem.capacities[j], problem.costs[j]))
    rules = (False, True) if sum(demand) <= MOST_BEST_FIT else (False,)
    plans = [fit(problem, demand, order, best=best) for order in (dear, long) for best in rules]
    plans += [fill_up(problem, demand, exponent) for exponent in (1.0, 1.05)]
    return sorted((shrunk(problem, plan) for plan in plans if plan is not None), key=lambda plan: pattern_cost(problem, plan))


def fit(problem: Folded, demand: Sequence[int], order: Sequence[int], *, best: bool) -> list[Pattern] | None:
    """First-fit or best-fit by falling size; a new bar is the first of ``order`` that is left and long enough."""
    left = {j: problem.quantities[j] for j in order}
    bars: list[tuple[int, list[int]]] = []
    room: list[int] = []
    for piece in sorted(range(len(demand)), key=lambda i: -problem.sizes[i]):
        size, begin = problem.sizes[piece], 0
        for _ in range(demand[piece]):
            open_bars = (b for b in range(begin, len(bars)) if room[b] >= size)
            bar = min(open_bars, key=room.__getitem__, default=None) if best else next(open_bars, None)
            if bar is None:
                stock = next((j for j in order if left[j] != 0 and problem.capacities[j] >= size), None)
                if stock is None:
                    return None
                quantity = left[stock]
                left[stock] = None if quantity is None else quantity - 1
                bars.append((stock, [0] * len(demand)))
                room.append(problem.capacities[stock])
                bar = len(bars) - 1
            begin = 0 if best else bar
            bars[bar][1][piece] += 1
            room[bar] -= size
    return [(stock, tuple(counts)) for stock, counts in bars]


def fill_up(problem: Folded, demand: Sequence[int], exponent: float) -> list[Pattern] | None:
    """Fill bar after bar, each time the stock size with the lowest cost per filled length; long pieces weigh a little more."""
    left, stock_left = list(demand), list(problem.quantities)
    plan: list[Pattern] = []
    while any(left):
        offers = [
            (problem.costs[j] / sum(c * problem.sizes[i] ** exponent for i, c in enumerate(counts)), j, counts)
            for j in range(len(problem.costs))
            if stock_left[j] != 0
            for counts in [_greedy(problem, left, problem.capacities[j])]
            if any(counts)
        ]
        if not offers:
            return None
        _, j, counts = min(offers)
        quantity = stock_left[j]
        times = min(left[i] // c for i, c in enumerate(counts) if c)
        times = times if quantity is None else min(times, quantity)
        stock_left[j] = None if quantity is None else quantity - times
        left = [have - times * c for have, c in zip(left, counts, strict=True)]
        plan += [(j, counts)] * times
    return plan


def _greedy(problem: Folded, left: Sequence[int], capacity: int) -> Counts:
    """Longest first, and the last place by the piece that fits it best."""
    counts = [0] * len(left)
    for i in sorted(range(len(left)), key=lambda i: -problem.sizes[i]):
        counts[i] = min(left[i], capacity // problem.sizes[i])
        capacity -= counts[i] * problem.sizes[i]
    return tuple(counts)


def shrunk(problem: Folded, plan: Sequence[Pattern]) -> list[Pattern]:
    """The same contents, each on the cheapest stock that is left and long enough."""
    left = list(problem.quantities)
    for stock, _ in plan:
        quantity = left[stock]
        left[stock] = None if quantity is None else quantity - 1
    result = []
    for stock, counts in plan:
        size = sum(c * s for c, s in zip(counts, problem.sizes, strict=True))
        fits = [j for j in range(len(left)) if problem.capacities[j] >= size and (left[j] != 0 or j == stock)]
        new = min(fits, key=lambda j: (problem.costs[j], problem.capacities[j]))
        for j, change in ((stock, 1), (new, -1)):
            quantity = left[j]
            left[j] = None if quantity is None else quantity + change
        result.append((new, counts))
    return result
