"""The cut plan of a design: every material's task solved, checked, and put down in the neutral form; panes bought to size as orders."""

from __future__ import annotations

from halfsilver.errors import NoDesignError
from halfsilver.layout.design import Design
from halfsilver.making.cutting.effort import EffortName
from halfsilver.making.cutting.neutral import instance_to_dict, solution_to_dict
from halfsilver.making.cutting.portfolio import CutResult, solve
from halfsilver.making.grid import PER_MM
from halfsilver.making.groups import cut_tasks
from halfsilver.making.orders import glass_orders
from halfsilver.making.tasks import CutTask
from halfsilver.model.making import Bound, CutGroup, CutPlan, MissingStock


def cut_plan(design: Design, *, effort: EffortName = "quick") -> CutPlan:
    """Plan everything that is cut for a job.

    Parameters
    ----------
    design : Design
        The resolved job. Its scope says which parts are the shop's, its quantity how often.
    effort : {"quick", "usual", "long"}
        A fixed amount of search, not a time.

    Returns
    -------
    CutPlan
        One group per material, each passed by the independent checker; the orders of panes bought to size; and each material for which
        no plan exists, with what would do.
    """
    found = cut_tasks(design)
    solved = [_solved(task, effort, design.facts.workshop.head.currency) for task in found.tasks]
    return CutPlan(
        groups=tuple(one for one in solved if isinstance(one, CutGroup)),
        orders=tuple(glass_orders(design)),
        missing=(*found.missing, *(one for one in solved if isinstance(one, MissingStock))),
    )


def _solved(task: CutTask, effort: EffortName, currency: str) -> CutGroup | MissingStock:
    try:
        return _group(task, solve(task.instance, effort=effort), currency)
    except NoDesignError as error:
        return MissingStock(
            material=task.material,
            parts=tuple(dict.fromkeys(task.piece_to_part.values())),
            rule="cutting.stock_runs_short",
            why=f"What there is of {task.name} does not yield every piece: {error.limit}",
            advice=f"{error.advice} A stock row without a quantity counts as bought whenever it is wanted.",
        )


def _group(task: CutTask, result: CutResult, currency: str) -> CutGroup:
    return CutGroup(
        material=task.material,
        name=task.name,
        unit_mm=1 / PER_MM,
        instance=instance_to_dict(task.instance),
        solution=solution_to_dict(result.solution),
        cost=result.cost,
        bound=Bound(value=result.bound.value, kind=result.bound.kind),
        engines=result.engines,
        checked=result.checked,
        piece_to_part=dict(task.piece_to_part),
        stock_to_row={stock.id: stock.id for stock in task.instance.stock},
        cost_unit=f"0.01 {currency}",
        notes=task.notes,
    )
