"""Bettering a bar plan: a few bars at a time are planned anew.

The emptiest bar and others picked by a fixed rule are taken out, their pieces planned again by column generation. A new plan for them is
kept when it is cheaper, or as cheap with the rest less evenly spread, which empties a bar in the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.fold_bars import Folded
from halfsilver.making.cutting.linear_columns import column_plan
from halfsilver.making.cutting.linear_quick import Pattern, pattern_cost
from halfsilver.making.cutting.linear_repack import gathered

MOST_BARS = 6
NEAR = 1.002  # cost over the least at which a plan is good enough


def repaired(problem: Folded, plan: Sequence[Pattern], effort: Effort, *, least: float) -> list[Pattern]:
    """The plan after so many re-plannings, never dearer.

    Parameters
    ----------
    problem : Folded
        The task.
    plan : sequence of Pattern
        A complete plan.
    effort : Effort
        Amount of work.
    least : float
        A cost that cannot be undercut; the search ends there.
    """
    bars = gathered(problem, plan)
    small = replace(effort, dives=1, rounds=60, nodes=min(effort.nodes, 30), columns=200)
    dice = 12345
    for turn in range(effort.repairs // 6):
        if len(bars) < 3 or pattern_cost(problem, bars) <= NEAR * least:
            break
        dice = (dice * 6364136223846793005 + 1442695040888963407) % 2**64
        chosen = _pick(problem, bars, 3 + turn % (MOST_BARS - 2), dice)
        old, rest = [bars[i] for i in chosen], [bar for i, bar in enumerate(bars) if i not in chosen]
        found = column_plan(_part(problem, old, rest), small, old).plan
        new = gathered(problem, found if found is not None else old)
        if _rank(problem, new) < _rank(problem, old):
            bars = rest + new
    return bars


def _pick(problem: Folded, bars: Sequence[Pattern], many: int, dice: int) -> list[int]:
    order = sorted(range(len(bars)), key=lambda i: (-_room(problem, bars[i]), i))
    chosen = [order.pop(0)]
    while order and len(chosen) < many:
        dice = (dice * 6364136223846793005 + 1442695040888963407) % 2**64
        chosen.append(order.pop((dice >> 33) % len(order)))
    return chosen


def _part(problem: Folded, old: Sequence[Pattern], rest: Sequence[Pattern]) -> Folded:
    used = [sum(stock == j for stock, _ in rest) for j in range(len(problem.costs))]
    left = tuple(None if q is None else q - u for q, u in zip(problem.quantities, used, strict=True))
    demand = tuple(sum(counts[i] for _, counts in old) for i in range(len(problem.sizes)))
    return replace(problem, demand=demand, quantities=left)


def _room(problem: Folded, bar: Pattern) -> int:
    return problem.capacities[bar[0]] - sum(c * s for c, s in zip(bar[1], problem.sizes, strict=True))


def _rank(problem: Folded, bars: Sequence[Pattern]) -> tuple[float, float]:
    return round(pattern_cost(problem, bars), 6), -float(sum(_room(problem, bar) ** 2 for bar in bars))
