"""The offcut pass for bars: the same stock, with what is left gathered at one bar.

Two bars at a time: the fuller one takes the best filling out of both contents, the emptier one the rest, as long as the largest
remnant grows.
"""

from __future__ import annotations

from collections.abc import Sequence

from halfsilver.making.cutting.fold_bars import Folded
from halfsilver.making.cutting.linear_quick import Counts, Pattern

MOST_SUMS = 20_000


def gathered(problem: Folded, plan: Sequence[Pattern]) -> list[Pattern]:
    """The plan with a larger largest remnant, or as it was."""
    bars = list(plan)
    if not bars:
        return bars
    target = max(range(len(bars)), key=lambda b: (_room(problem, bars[b]), -b))
    for b in sorted(range(len(bars)), key=lambda b: -_room(problem, bars[b])):
        if b == target or not _room(problem, bars[b]):
            continue
        both = tuple(x + y for x, y in zip(bars[b][1], bars[target][1], strict=True))
        full = _fullest(problem, both, problem.capacities[bars[b][0]])
        if _length(problem, full) > _length(problem, bars[b][1]):
            rest = tuple(x - y for x, y in zip(both, full, strict=True))
            bars[b], bars[target] = (bars[b][0], full), (bars[target][0], rest)
    return [bar for bar in bars if any(bar[1])]


def _length(problem: Folded, counts: Counts) -> int:
    return sum(c * s for c, s in zip(counts, problem.sizes, strict=True))


def _room(problem: Folded, bar: Pattern) -> int:
    return problem.capacities[bar[0]] - _length(problem, bar[1])


def _fullest(problem: Folded, counts: Counts, capacity: int) -> Counts:
    """Fullest selection within a capacity, over the exact sums (at most so many of them)."""
    sums: dict[int, Counts] = {0: (0,) * len(counts)}
    for i, count in enumerate(counts):
        for _ in range(count):
            for total, chosen in sorted(sums.items(), reverse=True):
                new = total + problem.sizes[i]
                if new <= capacity and new not in sums and len(sums) < MOST_SUMS:
                    sums[new] = (*chosen[:i], chosen[i] + 1, *chosen[i + 1 :])
    return sums[max(sums)]
