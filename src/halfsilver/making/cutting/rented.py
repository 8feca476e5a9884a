"""The second engine: the general research solver PackingSolver, where it is installed (its wheels need Python 3.12).

It gets the folded task, kerf and trims already inside the sizes, in its deterministic mode with fixed queue sizes; a clock is only the
guard. What it returns is believed no more than any other plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from typing import Any

from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.engine import Draft
from halfsilver.making.cutting.instance import SheetInstance
from halfsilver.making.cutting.sheet_rows import Content, Direction, other
from halfsilver.making.cutting.sheet_task import SheetTask, SheetUse, manners, task
from halfsilver.making.cutting.sheets import unfold

GUARD_S = 120.0
MOST_PANES = 30
THOROUGH = 1_000  # queue size from which more panes, and two stages, on which it spends long, are given to it


def available() -> bool:
    """Whether the second engine can be loaded."""
    try:
        import_module("packingsolver.rectangleguillotine")
    except ImportError:
        return False
    return True


def rented_drafts(instance: SheetInstance, effort: Effort) -> Iterator[Draft]:
    """Plans of the second engine, one per manner of cutting; none where it is missing, left out, or cannot hold the rules."""
    thorough = effort.rented >= THOROUGH
    few = sum(piece.qty for piece in instance.pieces) <= MOST_PANES * (4 if thorough else 1)
    if not effort.rented or not few or instance.min_strip > 1 or not available():
        return
    ways = manners(instance)
    for manner in [way for way in ways if way.stages == ways[0].stages and (thorough or way.stages == 3)]:
        work = task(instance, manner)
        uses = _run(work, effort.rented)
        if uses is not None:
            yield Draft(solution=unfold(instance, uses), engine="packingsolver")


def _run(work: SheetTask, queue: int) -> list[SheetUse] | None:
    base, solver = import_module("packingsolver"), import_module("packingsolver.rectangleguillotine")
    builder = solver.InstanceBuilder()
    several = len(work.costs) > 1
    builder.set_objective(base.Objective.VariableSizedBinPacking if several else base.Objective.BinPacking)
    builder.set_number_of_stages(work.manner.stages)
    builder.set_cut_type(solver.CutType.Exact if work.manner.exact else solver.CutType.NonExact)
    builder.set_first_stage_orientation(solver.CutOrientation.Horizontal)
    stock = [j for j, w in enumerate(work.widths) if w > 0 and work.heights[j] > 0]
    for j in stock:
        quantity = work.quantities[j]
        copies = sum(work.demand) if quantity is None else min(quantity, sum(work.demand))
        builder.add_bin_type(work.widths[j], work.heights[j], cost=float(work.costs[j]), copies=copies)
    pieces = [i for i, wanted in enumerate(work.demand) if wanted]
    for i in pieces:
        laying = next(laying for laying in work.layings if laying.piece == i)
        builder.add_item_type(laying.w, laying.h, oriented=not work.instance.pieces[i].rotate, copies=work.demand[i])
    output = solver.optimize(builder.build(), _parameters(base, solver, queue))
    return _uses(work, output.solution, stock, pieces)


def _parameters(base: Any, solver: Any, queue: int) -> Any:
    parameters = solver.OptimizeParameters()
    parameters.verbosity_level, parameters.messages_to_stdout = 0, False
    parameters.optimization_mode = base.OptimizationMode.NotAnytimeDeterministic
    parameters.not_anytime_tree_search_queue_size = queue
    parameters.not_anytime_sequential_single_knapsack_subproblem_tree_search_queue_size = queue
    parameters.time_limit = GUARD_S
    return parameters


def _uses(work: SheetTask, solution: Any, stock: list[int], pieces: list[int]) -> list[SheetUse] | None:
    if not solution.full():
        return None
    uses = []
    for place in range(solution.number_of_different_bins()):
        sheet = solution.bin(place)
        nodes = list(sheet.nodes)
        counts = [0] * len(work.demand)
        for node in nodes:
            if not node.children and node.item_type_id >= 0:
                counts[pieces[node.item_type_id]] += 1
        content = _content(work, nodes, 0, pieces)
        if content is not None:
            uses += [SheetUse(stock=stock[sheet.bin_type_id], counts=tuple(counts), content=content)] * sheet.copies
    return uses


def _content(work: SheetTask, nodes: list[Any], at: int, pieces: list[int]) -> Content | None:
    """The layout below a node; waste at the end of a row is left to the row."""
    node = nodes[at]
    if not node.children and node.item_type_id >= 0:
        return str(work.instance.pieces[pieces[node.item_type_id]].id)
    below = [nodes[i] for i in node.children]
    if not below:
        return None
    along = all(child.b == node.b and child.t == node.t for child in below)
    parts = []
    for index, child in zip(node.children, below, strict=True):
        content = _content(work, nodes, index, pieces)
        size = (child.r - child.l if along else child.t - child.b) - work.instance.kerf
        if content is not None:
            parts.append((size, content))
    direction: Direction = other(work.manner.direction) if along else work.manner.direction
    return (direction, tuple(parts)) if parts else None
