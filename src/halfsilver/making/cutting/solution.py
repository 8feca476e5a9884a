"""A cutting plan: which piece comes out of which bar or sheet, and where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from halfsilver.making.cutting.instance import Instance, LinearInstance, SheetInstance


@dataclass(frozen=True, slots=True, kw_only=True)
class BarCut:
    """One piece on a bar by its outer extents from the bar's start. [unit of the instance]"""

    piece: str
    start: int
    end: int
    flipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPlan:
    """One bar and what is cut from it, from its start on."""

    stock: str
    cuts: tuple[BarCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A rectangle of a sheet: cut into ``children``, or a piece, or waste. [unit of the instance]

    Children of a ``v`` cut stand side by side and span the height; of an ``h`` cut they lie one above the other.
    """

    x: int
    y: int
    w: int
    h: int
    cut: Literal["v", "h"] | None = None
    children: tuple[Node, ...] = ()
    piece: str | None = None
    waste: bool = False

    def walk(self) -> Iterator[Node]:
        """The node and all below it, in cutting order."""
        yield self
        for child in self.children:
            yield from child.walk()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPane:
    """A pane on a sheet by its lower left corner and size as it lies. [unit of the instance]"""

    piece: str
    x: int
    y: int
    w: int
    h: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One sheet: its tree of cuts, or, from elsewhere, only where the panes lie."""

    stock: str
    tree: Node | None = None
    cuts: tuple[PlacedPane, ...] = ()

    def panes(self) -> tuple[PlacedPane, ...]:
        """Where the panes lie."""
        if self.tree is None:
            return self.cuts
        return tuple(
            PlacedPane(piece=node.piece, x=node.x, y=node.y, w=node.w, h=node.h) for node in self.tree.walk() if node.piece is not None
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearSolution:
    """The plan of a linear task."""

    instance: str
    bars: tuple[BarPlan, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSolution:
    """The plan of a sheet task."""

    instance: str
    sheets: tuple[SheetPlan, ...]


Solution = LinearSolution | SheetSolution


def used_stock(solution: Solution) -> tuple[str, ...]:
    """Ids of the stock pieces in the order of cutting, one entry per piece used."""
    plans = solution.bars if isinstance(solution, LinearSolution) else solution.sheets
    return tuple(plan.stock for plan in plans)


def plan_cost(instance: Instance, solution: Solution) -> float:
    """Sum of the costs of the stock used. [currency or unit of the instance's costs]"""
    cost = {stock.id: stock.cost for stock in instance.stock}
    return sum(cost[name] for name in used_stock(solution))


def largest_offcut(instance: Instance, solution: Solution) -> int:
    """Largest single leftover: a length [unit] for bars, an area [unit squared] for sheets; 0 when nothing is left."""
    if isinstance(instance, LinearInstance) and isinstance(solution, LinearSolution):
        bars = {bar.id: bar for bar in instance.stock}
        return max((remnant(instance, bars[plan.stock].length - bars[plan.stock].trim.right, plan) for plan in solution.bars), default=0)
    assert isinstance(solution, SheetSolution)
    trees = (plan.tree for plan in solution.sheets if plan.tree is not None)
    return max((node.w * node.h for tree in trees for node in tree.walk() if node.waste), default=0)


def remnant(instance: LinearInstance, usable_end: int, plan: BarPlan) -> int:
    """What is left of a bar behind its last cut. [unit]"""
    if not plan.cuts:
        return usable_end
    kerf = max(instance.kerf, instance.mitre.kerf)
    return max(0, usable_end - max(cut.end for cut in plan.cuts) - kerf)


def cut_count(instance: Instance, solution: Solution) -> int:
    """How often the saw or the cutter is set down, edge trims not counted."""
    if isinstance(solution, LinearSolution):
        return sum(len(plan.cuts) for plan in solution.bars)
    assert isinstance(instance, SheetInstance)
    trees = (plan.tree for plan in solution.sheets if plan.tree is not None)
    return sum(_node_cuts(node, instance.kerf) for tree in trees for node in tree.walk())


def _node_cuts(node: Node, kerf: int) -> int:
    if node.cut is None or not node.children:
        return 0
    last = node.children[-1]
    rest = node.x + node.w - last.x - last.w if node.cut == "v" else node.y + node.h - last.y - last.h
    return len(node.children) - 1 + (rest > 0)
