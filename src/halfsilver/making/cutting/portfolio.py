"""All engines on one task, and the best plan that the checker passes.

Better means: cheaper; then the larger single offcut; then fewer cuts. No plan is returned that the checker has not passed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from halfsilver.errors import NoDesignError
from halfsilver.making.cutting import linear, sheets
from halfsilver.making.cutting.bounds import Bound
from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.effort import EFFORTS, Effort, EffortName
from halfsilver.making.cutting.engine import Draft
from halfsilver.making.cutting.instance import Instance, LinearInstance
from halfsilver.making.cutting.ordering import in_sequence, ranks
from halfsilver.making.cutting.rented import rented_drafts
from halfsilver.making.cutting.solution import LinearSolution, SheetSolution, Solution, cut_count, largest_offcut, plan_cost, used_stock


@dataclass(frozen=True, slots=True, kw_only=True)
class CutResult:
    """A plan that the checker passed.

    Parameters
    ----------
    solution : Solution
        The plan.
    cost : float
        Sum of the costs of its stock.
    bound : Bound
        A cost that no plan can undercut.
    engines : tuple of str
        The engine the plan is from, then the others that took part.
    checked : bool
        True: the independent checker found nothing wrong.
    """

    solution: Solution
    cost: float
    bound: Bound
    engines: tuple[str, ...]
    checked: bool


Progress = Callable[[str, float], None]


def solve(instance: Instance, *, effort: EffortName = "usual", progress: Progress | None = None) -> CutResult:
    """Find a good plan.

    Parameters
    ----------
    instance : Instance
        The task.
    effort : {"quick", "usual", "long"}
        A fixed amount of search, not a time.
    progress : callable, optional
        Called with the engine's name and the cost of each better plan.

    Returns
    -------
    CutResult
        The best plan found; the same for the same task and effort.

    Raises
    ------
    NoDesignError
        If a piece fits no stock, or no plan was found that meets the demand from the stock there is.
    """
    _refuse(instance)
    if not any(piece.qty for piece in instance.pieces):
        return _nothing(instance)
    best: tuple[tuple[float, int, int], Solution, str] | None = None
    bound = Bound(value=0.0, kind="material")
    took_part: list[str] = []
    for draft in _drafts(instance, EFFORTS[effort]):
        if draft.bound is not None and draft.bound.value >= bound.value:
            bound = draft.bound
        solution = None if draft.solution is None else in_sequence(instance, draft.solution)
        if solution is None or check(instance, solution):
            continue
        took_part.append(draft.engine)
        rank = (round(plan_cost(instance, solution), 6), -largest_offcut(instance, solution), cut_count(instance, solution))
        if best is None or rank < best[0]:
            best = (rank, solution, draft.engine)
            if progress is not None:
                progress(draft.engine, rank[0])
    if best is None:
        raise NoDesignError("No plan was found that meets the demand.", nearest=_short(instance), advice="Add stock or split the batch.")
    _, solution, engine = best
    others = tuple(name for name in dict.fromkeys(took_part) if name != engine)
    return CutResult(solution=solution, cost=plan_cost(instance, solution), bound=bound, engines=(engine, *others), checked=True)


def _drafts(instance: Instance, effort: Effort) -> Iterator[Draft]:
    if instance.sequence and (solution := _in_turn(instance)) is not None:
        yield Draft(solution=solution, engine="in turn")
    if isinstance(instance, LinearInstance):
        yield from linear.linear_drafts(instance, effort)
    else:
        proved = False
        for draft in sheets.sheet_drafts(instance, effort):
            proved = draft.solution is not None and draft.bound is not None and plan_cost(instance, draft.solution) <= draft.bound.value
            yield draft
        if not proved:
            yield from rented_drafts(instance, effort)


def _in_turn(instance: Instance) -> Solution | None:
    """A plan that keeps every sequence: pieces of the same rank are planned by themselves, the ranks one after the other."""
    rank = ranks(instance)
    if rank is None:
        return None
    parts: list[Solution] = []
    used: Counter[str] = Counter()
    for number in sorted(set(rank.values())):
        part = _part(instance, {name for name, own in rank.items() if own == number}, used)
        try:
            parts.append(solve(part, effort="quick").solution)
        except NoDesignError:
            return None
        used.update(used_stock(parts[-1]))
    if isinstance(instance, LinearInstance):
        return LinearSolution(
            instance=instance.id, bars=tuple(bar for part in parts if isinstance(part, LinearSolution) for bar in part.bars)
        )
    sheets_of = (part.sheets for part in parts if isinstance(part, SheetSolution))
    return SheetSolution(instance=instance.id, sheets=tuple(sheet for some in sheets_of for sheet in some))


def _part(instance: Instance, names: set[str], used: Counter[str]) -> Instance:
    """The task of some pieces only, with the stock that is left."""
    if isinstance(instance, LinearInstance):
        bars = tuple(replace(bar, qty=None if bar.qty is None else bar.qty - used[bar.id]) for bar in instance.stock)
        rods = tuple(replace(piece, qty=piece.qty if piece.id in names else 0) for piece in instance.pieces)
        return replace(instance, stock=bars, pieces=rods, sequence=())
    stock = tuple(replace(sheet, qty=None if sheet.qty is None else sheet.qty - used[sheet.id]) for sheet in instance.stock)
    panes = tuple(replace(piece, qty=piece.qty if piece.id in names else 0) for piece in instance.pieces)
    return replace(instance, stock=stock, pieces=panes, sequence=())


def _refuse(instance: Instance) -> None:
    if isinstance(instance, LinearInstance) and (off := linear.off_the_marks(instance)):
        worst = next(piece for piece in instance.pieces if piece.id == off[0])
        step, low = instance.increment, worst.length // instance.increment * instance.increment
        raise NoDesignError(
            f"Piece {_names(off)} cannot be cut at the marks: its length is no multiple of {step}, the distance of the marks (increment).",
            nearest=f"Next to {worst.length} are {low} and {low + step}." if low else f"Next to {worst.length} is {step}.",
            advice="Make the piece a whole number of marks long, or change the increment.",
        )  # fmt: skip
    unfitting = linear.unfitting(instance) if isinstance(instance, LinearInstance) else sheets.unfitting(instance)
    if unfitting:
        raise NoDesignError(
            f"Piece {_names(unfitting)} fits no stock within trims, marks and narrowest strip.", nearest=_largest(instance),
            advice="Add a larger stock size or change the piece.",
        )  # fmt: skip


def _names(pieces: tuple[str, ...]) -> str:
    return ", ".join(repr(name) for name in pieces[:5])


def _largest(instance: Instance) -> str:
    if isinstance(instance, LinearInstance):
        return f"The longest usable length is {max(bar.usable for bar in instance.stock)}."
    sheet = max(instance.stock, key=lambda sheet: sheet.usable_width * sheet.usable_height)
    return f"The largest usable sheet is {sheet.usable_width} x {sheet.usable_height}."


def _short(instance: Instance) -> str:
    """Names the largest piece: the one that most often stays over when stock runs short."""
    if isinstance(instance, LinearInstance):
        largest = max((piece for piece in instance.pieces if piece.qty), key=lambda piece: piece.length).id
    else:
        largest = max((piece for piece in instance.pieces if piece.qty), key=lambda piece: piece.width * piece.height).id
    return f"The stock runs short; the largest piece wanted is {largest!r}."


def _nothing(instance: Instance) -> CutResult:
    linear_kind = isinstance(instance, LinearInstance)
    solution: Solution = LinearSolution(instance=instance.id, bars=()) if linear_kind else SheetSolution(instance=instance.id, sheets=())
    return CutResult(solution=solution, cost=0.0, bound=Bound(value=0.0, kind="material"), engines=(), checked=True)
