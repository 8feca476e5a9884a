"""The independent judge of a cutting plan.

It shares no code with whatever made the plan and believes nothing in it: demand, stock, sizes, kerf, trim, order and the possibility
of every cut are worked out again from the instance. Bars are judged in ``check_bars``, sheets in ``check_sheets``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from halfsilver.making.cutting.check_bars import bar_violations
from halfsilver.making.cutting.check_sheets import sheet_violations
from halfsilver.making.cutting.instance import Instance, LinearInstance, SheetInstance
from halfsilver.making.cutting.solution import LinearSolution, SheetSolution, Solution
from halfsilver.making.cutting.violation import Violation


def check(instance: Instance, solution: Solution) -> tuple[Violation, ...]:
    """Everything that is wrong with a plan.

    Parameters
    ----------
    instance : Instance
        The task.
    solution : Solution
        The plan.

    Returns
    -------
    tuple of Violation
        Empty when the plan can be cut and meets the demand exactly.
    """
    if isinstance(instance, LinearInstance) and isinstance(solution, LinearSolution):
        plans = [(plan.stock, [cut.piece for cut in plan.cuts]) for plan in solution.bars]
        own = [violation for i, plan in enumerate(solution.bars) for violation in bar_violations(instance, plan, f"bar {i + 1}")]
    elif isinstance(instance, SheetInstance) and isinstance(solution, SheetSolution):
        plans = [(sheet.stock, [pane.piece for pane in sheet.panes()]) for sheet in solution.sheets]
        own = [violation for i, sheet in enumerate(solution.sheets) for violation in sheet_violations(instance, sheet, f"sheet {i + 1}")]
    else:
        return (Violation(code="wrong-kind", where="plan", text="Bars and sheets are mixed up: the plan is not of the instance's kind."),)
    return (*_name(instance, solution), *_stock(instance, plans), *_demand(instance, plans), *_order(instance, plans), *own)


Plans = Sequence[tuple[str, list[str]]]


def _name(instance: Instance, solution: Solution) -> Iterator[Violation]:
    if instance.id and solution.instance and instance.id != solution.instance:
        yield Violation(code="wrong-instance", where="plan", text=f"The plan is for {solution.instance!r}, not for {instance.id!r}.")


def _stock(instance: Instance, plans: Plans) -> Iterator[Violation]:
    have = {stock.id: stock.qty for stock in instance.stock}
    for name, used in Counter(stock for stock, _ in plans).items():
        quantity = have.get(name, 0)
        if name not in have:
            yield Violation(code="unknown-stock", where=name, text=f"There is no stock {name!r}.")
        elif quantity is not None and used > quantity:
            yield Violation(code="stock-exceeded", where=name, text=f"{name!r} is used {used} times, there are {quantity}.")


def _demand(instance: Instance, plans: Plans) -> Iterator[Violation]:
    made = Counter(piece for _, pieces in plans for piece in pieces)
    asked = {piece.id: piece.qty for piece in instance.pieces}
    for name in made.keys() - asked.keys():
        yield Violation(code="unknown-piece", where=name, text=f"Nobody asked for a piece {name!r}.")
    for name, quantity in asked.items():
        if made[name] < quantity:
            yield Violation(code="missing", where=name, text=f"{name!r}: {made[name]} of {quantity} are cut.")
        elif made[name] > quantity:
            yield Violation(code="over-produced", where=name, text=f"{name!r}: {made[name]} are cut, {quantity} are wanted.")


def _order(instance: Instance, plans: Plans) -> Iterator[Violation]:
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    for number, (_, pieces) in enumerate(plans):
        for piece in pieces:
            first.setdefault(piece, number)
            last[piece] = number
    for chain in instance.sequence:
        for before, after in pairwise(chain):
            if before in last and after in first and first[after] < last[before]:
                text = f"{after!r} is cut on number {first[after] + 1}, {before!r} only on {last[before] + 1}."
                yield Violation(code="sequence", where=after, text=text)
