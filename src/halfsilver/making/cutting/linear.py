"""Plans for bars: quick rules first, column generation to better them, remnants gathered last."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.cutting.bounds import Bound, material_bound, rounded_up
from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.engine import Draft
from halfsilver.making.cutting.fold_bars import Folded, fold, place
from halfsilver.making.cutting.instance import LinearInstance
from halfsilver.making.cutting.linear_columns import column_plan
from halfsilver.making.cutting.linear_quick import Pattern, pattern_cost, quick_plans
from halfsilver.making.cutting.linear_repack import gathered
from halfsilver.making.cutting.linear_repair import repaired
from halfsilver.making.cutting.solution import LinearSolution

MOST_KINDS = 1_500  # more different pieces are left to the quick rules


def unfitting(instance: LinearInstance) -> tuple[str, ...]:
    """Ids of wanted pieces that no bar can hold, however many there were."""
    step = max(1, instance.increment)
    longest = max((bar.usable // step * step for bar in instance.stock if bar.qty != 0), default=0)
    return tuple(piece.id for piece in instance.pieces if piece.qty and (piece.length > longest or piece.length % step))


def off_the_marks(instance: LinearInstance) -> tuple[str, ...]:
    """Ids of wanted pieces that are no whole number of marks long."""
    return tuple(piece.id for piece in instance.pieces if piece.qty and instance.increment and piece.length % instance.increment)


def linear_drafts(instance: LinearInstance, effort: Effort) -> Iterator[Draft]:
    """Plans of growing quality, the first one almost at once.

    Parameters
    ----------
    instance : LinearInstance
        The task; every piece fits some bar.
    effort : Effort
        Amount of work.

    Yields
    ------
    Draft
        A plan, perhaps none, the engine's name and a bound.
    """
    problem = fold(instance)
    bound = Bound(value=rounded_up(_material(problem), problem.costs, problem.quantities), kind="material")
    plans = quick_plans(problem, problem.demand)
    for plan in plans[:3]:
        yield Draft(solution=unfold(instance, gathered(problem, plan)), engine="fit", bound=bound)
    if sum(1 for wanted in problem.demand if wanted) > MOST_KINDS:
        return
    found = column_plan(problem, effort, plans[0] if plans else None)
    proven = rounded_up(found.bound, problem.costs, problem.quantities)
    best = Bound(value=proven, kind="lp") if proven >= bound.value else bound
    if found.plan is None:
        yield Draft(solution=None, engine="columns", bound=best)
        return
    yield Draft(solution=unfold(instance, gathered(problem, found.plan)), engine="columns", bound=best)
    if not found.exhausted and pattern_cost(problem, found.plan) > best.value + 1e-6:
        plan = repaired(problem, found.plan, effort, least=best.value)
        yield Draft(solution=unfold(instance, gathered(problem, plan)), engine="repair", bound=best)


def _material(problem: Folded) -> float:
    amount = sum(size * wanted for size, wanted in zip(problem.loose_sizes, problem.demand, strict=True))
    return material_bound(amount, problem.loose_capacities, problem.costs, problem.quantities)


def unfold(instance: LinearInstance, plan: list[Pattern]) -> LinearSolution:
    """Exact places of every pattern; stock in the instance's order, full bars first."""
    order = sorted(plan, key=lambda pattern: (pattern[0], [-count for count in pattern[1]]))
    return LinearSolution(instance=instance.id, bars=tuple(place(instance, instance.stock[stock], counts) for stock, counts in order))
