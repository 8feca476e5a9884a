"""Writing the neutral form: instances and solutions as plain dictionaries."""

from __future__ import annotations

from halfsilver.making.cutting.instance import Bar, Instance, LinearInstance, Sheet, Trim
from halfsilver.making.cutting.solution import LinearSolution, Node, SheetPlan, Solution


def instance_to_dict(instance: Instance) -> dict[str, object]:
    """Write one instance in the neutral form."""
    head: dict[str, object] = {"format": "cut-instance/1", "id": instance.id, "unit": instance.unit}
    if isinstance(instance, LinearInstance):
        head |= {
            "kind": "1d", "kerf": instance.kerf, "increment": instance.increment, "remnant_min": instance.remnant_min,
            "mitre": {"kerf": instance.mitre.kerf, "nest": instance.mitre.nest, "flip": instance.mitre.flip},
            "stock": [_bar(bar) for bar in instance.stock],
            "pieces": [
                {"id": p.id, "length": p.length, "qty": p.qty, "ends": {"left": p.left.value, "right": p.right.value}}
                for p in instance.pieces
            ],
        }  # fmt: skip
    else:
        head |= {
            "kind": "2d", "kerf": instance.kerf, "guillotine": True, "stages": instance.stages, "exact": instance.exact,
            "first_cut": instance.first_cut.value, "min_strip": instance.min_strip,
            "stock": [_sheet(sheet) for sheet in instance.stock],
            "pieces": [{"id": p.id, "width": p.width, "height": p.height, "qty": p.qty, "rotate": p.rotate} for p in instance.pieces],
        }  # fmt: skip
    if instance.sequence:
        head["sequence"] = [list(chain) for chain in instance.sequence]
    return head


def _stock(stock: Bar | Sheet) -> dict[str, object]:
    return {"id": stock.id, "qty": stock.qty, "cost": stock.cost, "offcut": stock.offcut}


def _bar(bar: Bar) -> dict[str, object]:
    return _stock(bar) | {"length": bar.length, "trim": {"start": bar.trim.left, "end": bar.trim.right}}


def _sheet(sheet: Sheet) -> dict[str, object]:
    return _stock(sheet) | {"width": sheet.width, "height": sheet.height, "trim": _trim(sheet.trim)}


def _trim(trim: Trim) -> dict[str, int]:
    return {"left": trim.left, "right": trim.right, "bottom": trim.bottom, "top": trim.top}


def solution_to_dict(solution: Solution) -> dict[str, object]:
    """Write one solution in the neutral form."""
    head: dict[str, object] = {"format": "cut-solution/1", "instance": solution.instance}
    if isinstance(solution, LinearSolution):
        head["bars"] = [
            {"stock": plan.stock, "cuts": [{"piece": c.piece, "start": c.start, "end": c.end, "flipped": c.flipped} for c in plan.cuts]}
            for plan in solution.bars
        ]
    else:
        head["sheets"] = [_sheet_plan(plan) for plan in solution.sheets]
    return head


def _sheet_plan(plan: SheetPlan) -> dict[str, object]:
    if plan.tree is not None:
        return {"stock": plan.stock, "tree": _node(plan.tree)}
    return {"stock": plan.stock, "cuts": [{"piece": c.piece, "x": c.x, "y": c.y, "w": c.w, "h": c.h} for c in plan.cuts]}


def _node(node: Node) -> dict[str, object]:
    place: dict[str, object] = {"x": node.x, "y": node.y, "w": node.w, "h": node.h}
    if node.cut is not None:
        return place | {"cut": node.cut, "children": [_node(child) for child in node.children]}
    return place | ({"piece": node.piece} if node.piece is not None else {"waste": True})
