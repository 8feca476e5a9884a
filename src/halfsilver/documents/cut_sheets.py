"""Cut sheets: every bar, roll and sheet in the order in which it is cut, and what the plan costs beside the least that any plan can."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from halfsilver.documents import bar_sheets, pane_sheets
from halfsilver.documents.cut_rows import Row, Told
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.making.cutting.instance import Instance, LinearInstance, SheetInstance
from halfsilver.making.cutting.neutral import instance_from_dict, solution_from_dict
from halfsilver.making.cutting.solution import LinearSolution, SheetSolution, Solution
from halfsilver.model.making import CutGroup, CutPlan
from halfsilver.units.money import Money, write_money

BOUNDS = {"lp": "bound by a relaxation of the task", "material": "bound by the material that goes in"}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheets:
    """What the template prints, and the drawings that it names."""

    groups: list[Row]
    missing: list[Row]
    pictures: dict[str, bytes]


def cut_sheets(sizes: Sizes, plan: CutPlan, *, room_mm: float) -> CutSheets:
    """Cut sheets of a plan.

    Parameters
    ----------
    sizes : Sizes
        The design, and how its job prints lengths.
    plan : CutPlan
        A group that the checker has not passed is named, but its plan is not shown.
    room_mm : float
        Width at hand for a drawing. [mm]
    """
    pictures: dict[str, bytes] = {}
    groups = [_group(sizes, group, f"cut-{k}", pictures, room_mm) for k, group in enumerate(plan.groups)]
    names = {part.id: printable(part.name) for part in sizes.design.parts}
    missing: list[Row] = [
        {
            "head": sentence(", ".join(names.get(part, printable(part)) for part in one.parts)),
            "why": printable(one.why),
            "advice": printable(one.advice),
        }
        for one in plan.missing
    ]
    return CutSheets(groups=groups, missing=missing, pictures=pictures)


def _group(sizes: Sizes, group: CutGroup, stem: str, pictures: dict[str, bytes], room_mm: float) -> Row:
    head: Row = {
        "head": sentence(printable(group.name)),
        "material": printable(group.material),
        "notes": [printable(n) for n in group.notes],
    }
    if not group.checked:
        return head | {"kind": "unchecked", "facts": [], "sheets": []}
    instance, solution = instance_from_dict(group.instance), solution_from_dict(group.solution)
    told, used = _told(sizes, group, instance, solution, room_mm)
    sheets: list[Row] = []
    for k, (row, drawing) in enumerate(zip(told.rows, told.drawings, strict=True)):
        sheets.append(row | {"drawing": f"{stem}-{k}.svg"})
        pictures[f"{stem}-{k}.svg"] = drawing
    return head | {"kind": told.kind, "facts": [*told.facts, *_economy(group, used)], "sheets": sheets}


def _told(sizes: Sizes, group: CutGroup, instance: Instance, solution: Solution, room_mm: float) -> tuple[Told, str]:
    if isinstance(instance, LinearInstance):
        assert isinstance(solution, LinearSolution)
        return bar_sheets.bars_told(sizes, group, instance, solution, room_mm=room_mm), bar_sheets.used_share(instance, solution)
    assert isinstance(instance, SheetInstance)
    assert isinstance(solution, SheetSolution)
    return pane_sheets.panes_told(sizes, group, instance, solution, room_mm=room_mm), pane_sheets.used_share(instance, solution)


def _economy(group: CutGroup, used: str) -> Iterator[dict[str, str]]:
    least = f"no plan costs less than {_amount(group.bound.value, group.cost_unit)}"
    kind = BOUNDS.get(group.bound.kind, printable(group.bound.kind))
    yield {"label": "Stock", "value": f"{_amount(group.cost, group.cost_unit)}; {least} ({kind}). {used} of it becomes pieces."}


def _amount(value: float, unit: str) -> str:
    """A cost of the plan in words; its unit is such as ``0.01 USD``."""
    step, _, currency = unit.rpartition(" ")
    try:
        return write_money(Money(Decimal(repr(value)) * Decimal(step or "1"), currency))
    except (InvalidOperation, ValueError):
        return f"{value:g} {printable(unit)}".strip()
