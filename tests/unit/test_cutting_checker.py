"""The checker finds every kind of damage, in plans of every kind of task.

Each damage is done to a plan that the checker passes; what it is called is the checker's own vocabulary.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from halfsilver.errors import NoDesignError
from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.instance import Bar, BarPiece, FirstCut, LinearInstance, Pane, Sheet, SheetInstance, Trim
from halfsilver.making.cutting.portfolio import solve
from halfsilver.making.cutting.solution import (
    BarCut,
    BarPlan,
    LinearSolution,
    Node,
    PlacedPane,
    SheetPlan,
    SheetSolution,
)  # fmt: skip
from strategies_cutting import linear_task, sheet_task

pytestmark = pytest.mark.cutting

SHEET_PLANS = 120
BAR_PLANS = 80


@cache
def sheet_plan(seed: int) -> tuple[SheetInstance, SheetSolution]:
    instance = sheet_task(seed, panes=5)
    solution = solve(instance, effort="quick").solution
    assert isinstance(solution, SheetSolution)
    return instance, solution


@cache
def bar_plan(seed: int) -> tuple[LinearInstance, LinearSolution]:
    instance = linear_task(seed)
    solution = solve(instance, effort="quick").solution
    assert isinstance(solution, LinearSolution)
    return instance, solution


def codes(instance: SheetInstance | LinearInstance, solution: SheetSolution | LinearSolution) -> set[str]:
    return {violation.code for violation in check(instance, solution)}


def nodes(node: Node, path: tuple[int, ...] = ()) -> list[tuple[tuple[int, ...], Node]]:
    return [(path, node)] + [found for i, child in enumerate(node.children) for found in nodes(child, (*path, i))]


def put(root: Node, path: tuple[int, ...], change: Callable[[Node], Node]) -> Node:
    if not path:
        return change(root)
    children = list(root.children)
    children[path[0]] = put(children[path[0]], path[1:], change)
    return replace(root, children=tuple(children))


def with_tree(solution: SheetSolution, number: int, tree: Node) -> SheetSolution:
    sheets = list(solution.sheets)
    sheets[number] = replace(sheets[number], tree=tree)
    return replace(solution, sheets=tuple(sheets))


def listed(solution: SheetSolution) -> SheetSolution:
    return replace(solution, sheets=tuple(SheetPlan(stock=sheet.stock, cuts=sheet.panes()) for sheet in solution.sheets))


def spot(solution: SheetSolution, dice: random.Random, wanted: Callable[[Node], bool]) -> tuple[int, tuple[int, ...]] | None:
    """A sheet and a node below its root that is as wanted."""
    places = [
        (number, path)
        for number, sheet in enumerate(solution.sheets)
        if sheet.tree is not None
        for path, node in nodes(sheet.tree)
        if path and wanted(node)
    ]
    return dice.choice(places) if places else None


def changed(solution: SheetSolution, place: tuple[int, tuple[int, ...]], change: Callable[[Node], Node]) -> SheetSolution:
    tree = solution.sheets[place[0]].tree
    assert tree is not None
    return with_tree(solution, place[0], put(tree, place[1], change))


@pytest.mark.parametrize("seed", range(SHEET_PLANS))
def test_a_sheet_plan_passes_as_tree_and_as_list(seed: int) -> None:
    instance, solution = sheet_plan(seed)
    assert codes(instance, solution) == set()
    assert codes(instance, listed(solution)) == set()


@pytest.mark.parametrize("seed", range(SHEET_PLANS))
def test_damage_to_a_sheet_plan_is_found(seed: int) -> None:
    instance, solution = sheet_plan(seed)
    dice = random.Random(seed)
    step = dice.randint(1, 9)
    pane = spot(solution, dice, lambda node: node.piece is not None)
    if pane is not None:
        assert codes(instance, changed(solution, pane, lambda n: replace(n, x=n.x + step))) & {
            "not-guillotine",
            "outside",
            "kerf",
            "overlap",
        }
        assert codes(instance, changed(solution, pane, lambda n: replace(n, x=n.x - 10 * n.w))) & {"overlap", "outside", "not-guillotine"}
        assert "outside" in codes(instance, changed(solution, pane, lambda n: replace(n, w=n.w + 5000, h=n.h + 5000)))
        assert "missing" in codes(instance, changed(solution, pane, lambda n: replace(n, piece=None, waste=True)))
        assert "wrong-size" in codes(instance, changed(solution, pane, lambda n: replace(n, w=n.w - 1, h=n.h - 1)))
    assert "over-produced" in codes(instance, replace(solution, sheets=solution.sheets + solution.sheets[:1]))
    once = replace(
        instance, stock=tuple(replace(sheet, qty=0 if sheet.id == solution.sheets[0].stock else None) for sheet in instance.stock)
    )
    assert "stock-exceeded" in codes(once, solution)
    assert "unknown-stock" in codes(
        instance, replace(solution, sheets=(replace(solution.sheets[0], stock="nobody's"), *solution.sheets[1:]))
    )
    smaller = replace(instance, stock=tuple(replace(sheet, width=sheet.width + 40) for sheet in instance.stock))
    assert "outside" in codes(smaller, solution), "a tree that is not the whole usable rectangle of its sheet"


@pytest.mark.parametrize("seed", range(SHEET_PLANS))
def test_damage_to_kerf_strip_and_turning_is_found(seed: int) -> None:
    instance, solution = sheet_plan(seed)
    if any(len(node.children) > 1 for sheet in solution.sheets if sheet.tree for _, node in nodes(sheet.tree)):
        assert codes(replace(instance, kerf=instance.kerf + 3), solution) & {"kerf"}
    waste = [node for sheet in solution.sheets if sheet.tree for _, node in nodes(sheet.tree) if node.waste]
    if waste:
        assert "strip" in codes(replace(instance, min_strip=5000), solution)
        assert "not-guillotine" in codes(replace(instance, min_strip=5000), listed(solution))
    turned = {p.piece for sheet in solution.sheets for p in sheet.panes() for q in instance.pieces if q.id == p.piece and q.width != p.w}
    coated = replace(instance, pieces=tuple(replace(piece, rotate=False) for piece in instance.pieces))
    assert ("turned" in codes(coated, solution)) == bool(turned)
    swapped = [
        replace(sheet, tree=None, cuts=tuple(replace(pane, w=pane.h, h=pane.w) for pane in sheet.panes())) for sheet in solution.sheets
    ]
    assert "turned" in codes(coated, replace(solution, sheets=tuple(swapped))) or turned
    wrong = replace(solution.sheets[0], stock="half" if solution.sheets[0].stock != "half" else "full")
    assert "outside" in codes(instance, replace(solution, sheets=(wrong, *solution.sheets[1:])))


@pytest.mark.parametrize("seed", range(BAR_PLANS))
def test_damage_to_a_bar_plan_is_found(seed: int) -> None:
    instance, solution = bar_plan(seed)
    assert codes(instance, solution) == set()
    number = max(range(len(solution.bars)), key=lambda i: len(solution.bars[i].cuts))
    bar = solution.bars[number]

    def damaged(cuts: tuple[BarCut, ...]) -> set[str]:
        bars = list(solution.bars)
        bars[number] = replace(bar, cuts=cuts)
        return codes(instance, replace(solution, bars=tuple(bars)))

    first, *rest = bar.cuts
    assert "missing" in damaged(tuple(rest))
    assert "wrong-size" in damaged((replace(first, end=first.end + 1), *rest))
    assert "outside" in damaged((replace(first, start=-1, end=first.end - first.start - 1), *rest))
    assert "outside" in damaged((*rest, replace(first, start=9000, end=9000 + first.end - first.start)))
    assert "over-produced" in damaged((first, first, *rest))
    if rest:
        second = rest[0]
        assert damaged((first, replace(second, start=second.start - 1, end=second.end - 1), *rest[1:])) & {"kerf", "overlap"}
        assert "overlap" in damaged((first, replace(second, start=first.start, end=first.start + second.end - second.start), *rest[1:]))
        more = replace(instance, kerf=instance.kerf + 7, mitre=replace(instance.mitre, kerf=instance.mitre.kerf + 7))
        assert codes(more, solution) & {"kerf", "overlap"}
    if not instance.mitre.flip:
        assert "flipped" in damaged((replace(first, flipped=True), *rest))
    gone = replace(instance, stock=tuple(replace(stock, qty=0) for stock in instance.stock))
    assert "stock-exceeded" in codes(gone, solution)


def test_an_offcut_is_used_once_only() -> None:
    stock = (Bar(id="new", length=1000, cost=10), Bar(id="rest", length=500, qty=1, cost=1, offcut=True))
    instance = LinearInstance(id="i", stock=stock, pieces=(BarPiece(id="p", length=400, qty=2),))
    plan = BarPlan(stock="rest", cuts=(BarCut(piece="p", start=0, end=400),))
    assert codes(instance, LinearSolution(instance="i", bars=(plan, plan))) == {"stock-exceeded"}
    assert codes(instance, LinearSolution(instance="i", bars=(plan, replace(plan, stock="new")))) == set()


def test_marks_are_counted_from_the_start_of_the_usable_length() -> None:
    bar = Bar(id="strip", length=1010, cost=1, trim=Trim(left=10))
    instance = LinearInstance(id="i", stock=(bar,), pieces=(BarPiece(id="p", length=150, qty=1),), increment=50)
    on, off = (
        LinearSolution(instance="i", bars=(BarPlan(stock="strip", cuts=(BarCut(piece="p", start=x, end=x + 150),)),)) for x in (60, 50)
    )
    assert codes(instance, on) == set()
    assert codes(instance, off) == {"increment"}


def one_sheet(panes: list[tuple[int, int, int, int]], **rules: object) -> tuple[SheetInstance, SheetSolution]:
    pieces = tuple(Pane(id=f"p{i}", width=w, height=h, qty=1) for i, (_, _, w, h) in enumerate(panes))
    instance = SheetInstance(id="i", stock=(Sheet(id="s", width=30, height=30, cost=1),), pieces=pieces, **rules)  # type: ignore[arg-type]
    cuts = tuple(PlacedPane(piece=f"p{i}", x=x, y=y, w=w, h=h) for i, (x, y, w, h) in enumerate(panes))
    return instance, SheetSolution(instance="i", sheets=(SheetPlan(stock="s", cuts=cuts),))


PINWHEEL = [(0, 0, 20, 10), (20, 0, 10, 20), (10, 20, 20, 10), (0, 10, 10, 20), (10, 10, 10, 10)]


def test_the_pinwheel_cannot_be_cut_edge_to_edge() -> None:
    """Five panes round a middle one: the smallest layout without any edge-to-edge cut (common knowledge of the field)."""
    assert codes(*one_sheet(PINWHEEL)) == {"not-guillotine"}
    assert codes(*one_sheet(PINWHEEL[:2])) == set()


def test_stages_are_counted_for_a_mere_list() -> None:
    three = [(0, 0, 10, 10), (0, 10, 10, 20), (10, 0, 20, 30)]
    assert codes(*one_sheet(three, stages=2, exact=True)) == set()
    nested = [(0, 0, 30, 10), (0, 10, 10, 20), (10, 10, 20, 5), (10, 15, 20, 15)]
    assert codes(*one_sheet(nested, stages=3, exact=True)) == set()
    assert codes(*one_sheet(nested, stages=2, exact=True)) == {"not-guillotine"}


def test_a_waste_strip_may_be_reached_by_a_cut_away_from_every_pane() -> None:
    """Right edges 10 and 9, narrowest strip 3: the strip beside the 9 has to be cut loose at 12 or beyond, not at 10."""
    panes = [(0, 0, 10, 15), (0, 15, 9, 15), (15, 0, 15, 30)]
    assert codes(*one_sheet(panes, min_strip=3)) == set()
    assert codes(*one_sheet(panes, min_strip=7)) == {"not-guillotine"}


def test_pieces_in_the_wrong_order_are_found() -> None:
    pieces = (BarPiece(id="early", length=600, qty=1), BarPiece(id="late", length=600, qty=1))
    stock = (Bar(id="b", length=1000, cost=1),)
    instance = LinearInstance(id="i", stock=stock, pieces=pieces, sequence=(("early", "late"),))
    plans = [BarPlan(stock="b", cuts=(BarCut(piece=name, start=0, end=600),)) for name in ("early", "late")]
    assert codes(instance, LinearSolution(instance="i", bars=tuple(plans))) == set()
    assert codes(instance, LinearSolution(instance="i", bars=tuple(plans[::-1]))) == {"sequence"}


def corner(*, high: bool) -> Node:
    """A pane of 6 by 5 in the corner of 10 by 10: an ``h`` cut, then a ``v`` cut, then, if ``high``, one more ``h`` cut on it."""
    pane = Node(x=0, y=0, w=6, h=5, piece="p")
    waste = Node(x=6, y=0, w=4, h=7 if high else 5, waste=True)
    first = pane
    if high:
        first = Node(x=0, y=0, w=6, h=7, cut="h", children=(pane, Node(x=0, y=5, w=6, h=2, waste=True)))
    strip = Node(x=0, y=0, w=10, h=7 if high else 5, cut="v", children=(first, waste))
    above = Node(x=0, y=strip.h, w=10, h=10 - strip.h, waste=True)
    return Node(x=0, y=0, w=10, h=10, cut="h", children=(strip, above))


def deeper(tree: Node) -> Node:
    """The same with the pane's own rectangle one wider, so that yet another cut has to trim it."""
    strip, above = tree.children
    first, waste = strip.children
    assert first.cut == "h"
    wide = Node(x=0, y=0, w=7, h=5, cut="v", children=(first.children[0], Node(x=6, y=0, w=1, h=5, waste=True)))
    first = replace(first, w=7, children=(wide, replace(first.children[1], w=7)))
    strip = replace(strip, children=(first, replace(waste, x=7, w=3)))
    return replace(tree, children=(strip, above))


@pytest.mark.parametrize(
    ("tree", "rules", "found"),
    [
        (corner(high=False), {"stages": 2, "exact": True}, set()),
        (corner(high=True), {"stages": 2, "exact": True}, {"stages"}),
        (corner(high=True), {"stages": 2, "exact": False}, set()),
        (deeper(corner(high=True)), {"stages": 2, "exact": False}, {"stages"}),
        (deeper(corner(high=True)), {"stages": 3, "exact": False}, set()),
        (deeper(corner(high=True)), {"stages": None}, set()),
        (corner(high=False), {"stages": 2, "exact": True, "first_cut": FirstCut.ALONG}, {"stages"}),
        (corner(high=False), {"stages": 3, "exact": True, "first_cut": FirstCut.ALONG}, set()),
        (corner(high=False), {"stages": 2, "exact": True, "first_cut": FirstCut.ACROSS}, set()),
    ],
)
def test_stages_are_counted_along_the_tree(tree: Node, rules: dict[str, Any], found: set[str]) -> None:
    pieces = (Pane(id="p", width=6, height=5, qty=1),)
    instance = SheetInstance(id="i", stock=(Sheet(id="s", width=10, height=10, cost=1),), pieces=pieces, **rules)
    solution = SheetSolution(instance="i", sheets=(SheetPlan(stock="s", tree=tree),))
    assert codes(instance, solution) == found
    assert codes(instance, listed(solution)) == set(), "one pane in a corner needs two cuts only"


def test_a_piece_off_the_marks_is_told_as_that() -> None:
    """Marks every 50: 150 is three of them, 170 lies between 150 and 200; neither is too long."""
    pieces = (BarPiece(id="on", length=150, qty=1), BarPiece(id="off", length=170, qty=1))
    instance = LinearInstance(id="i", stock=(Bar(id="strip", length=1000, cost=1),), pieces=pieces, increment=50)
    with pytest.raises(NoDesignError, match="'off' cannot be cut at the marks: its length is no multiple of 50") as told:
        solve(instance)
    assert "150 and 200" in str(told.value)
    with pytest.raises(NoDesignError, match="'long' fits no stock"):
        solve(replace(instance, pieces=(BarPiece(id="long", length=1050, qty=1),)))
