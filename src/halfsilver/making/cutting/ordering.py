"""Order of bars and sheets, where pieces must not be cut on an earlier one than others."""

from __future__ import annotations

from itertools import pairwise

from halfsilver.making.cutting.instance import Instance
from halfsilver.making.cutting.solution import LinearSolution, SheetSolution, Solution


def in_sequence(instance: Instance, solution: Solution) -> Solution | None:
    """The same plan with its bars or sheets in an order that keeps every sequence; None where no order does."""
    if not instance.sequence:
        return solution
    if isinstance(solution, LinearSolution):
        places = _order(instance, [{cut.piece for cut in bar.cuts} for bar in solution.bars])
        return None if places is None else LinearSolution(instance=solution.instance, bars=tuple(solution.bars[i] for i in places))
    places = _order(instance, [{pane.piece for pane in sheet.panes()} for sheet in solution.sheets])
    return None if places is None else SheetSolution(instance=solution.instance, sheets=tuple(solution.sheets[i] for i in places))


def ranks(instance: Instance) -> dict[str, int] | None:
    """For every piece how many others, one after the other, have to come before it; None if a sequence bites its tail."""
    pairs = [(before, after) for chain in instance.sequence for before, after in pairwise(chain)]
    rank = {piece.id: 0 for piece in instance.pieces}
    for _ in range(len(rank) + 1):
        late = [(before, after) for before, after in pairs if rank[after] <= rank[before]]
        if not late:
            return rank
        for before, after in late:
            rank[after] = max(rank[after], rank[before] + 1)
    return None


def _order(instance: Instance, contents: list[set[str]]) -> list[int] | None:
    pairs = [(before, after) for chain in instance.sequence for before, after in pairwise(chain)]
    waiting = list(range(len(contents)))
    result: list[int] = []
    while waiting:
        ready = next((i for i in waiting if not _blocked(pairs, contents, waiting, i)), None)
        if ready is None:
            return None
        waiting.remove(ready)
        result.append(ready)
    return result


def _blocked(pairs: list[tuple[str, str]], contents: list[set[str]], waiting: list[int], i: int) -> bool:
    """Whether a plan still waiting holds something that has to come before what plan i holds."""
    return any(after in contents[i] and any(before in contents[j] for j in waiting if j != i) for before, after in pairs)
