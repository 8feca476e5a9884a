"""A cutting task solved or a plan checked, as the documents that every face gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from halfsilver.model.results import CutCheckRecord, ViolationRecord
from halfsilver.services.records import document

if TYPE_CHECKING:
    from halfsilver.making.cutting.instance import Instance
    from halfsilver.making.cutting.portfolio import CutResult
    from halfsilver.making.cutting.solution import Solution


def plan_document(result: CutResult) -> dict[str, Any]:
    """A plan in the neutral form, with its cost, its bound and what made it."""
    from halfsilver.making.cutting.neutral import solution_to_dict

    return {
        **solution_to_dict(result.solution), "cost": result.cost, "bound": {"value": result.bound.value, "kind": result.bound.kind},
        "engines": list(result.engines), "checked": result.checked,
    }  # fmt: skip


def check_document(task: Instance, plan: Solution) -> dict[str, Any]:
    """What the checker says of a plan; the cost is null where the plan uses stock that does not exist."""
    from halfsilver.making.cutting.checker import check
    from halfsilver.making.cutting.solution import plan_cost, used_stock

    found = check(task, plan)
    known = {stock.id for stock in task.stock}.issuperset(used_stock(plan))
    violations = tuple(ViolationRecord(code=one.code, where=one.where, text=one.text) for one in found)
    cost = plan_cost(task, plan) if known else None
    told = document("cut_check", CutCheckRecord(feasible=not found, cost=cost, violations=violations))
    return {**told, "cost": cost}
