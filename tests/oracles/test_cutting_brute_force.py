"""Slow and obvious second answers for small cutting tasks."""

from __future__ import annotations

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.instance import Bar, BarPiece, LinearInstance, Pane, Sheet, SheetInstance
from halfsilver.making.cutting.portfolio import solve
from halfsilver.making.cutting.solution import PlacedPane, SheetPlan, SheetSolution

pytestmark = pytest.mark.cutting

Box = tuple[int, int, int, int]


def parted(boxes: frozenset[Box]) -> bool:
    """Whether some sequence of edge-to-edge cuts parts all boxes: every line between them is tried."""
    if len(boxes) <= 1:
        return True
    for axis in (0, 1):
        for line in {box[axis] for box in boxes}:
            before = frozenset(box for box in boxes if box[axis + 2] <= line)
            after = frozenset(box for box in boxes if box[axis] >= line)
            if before and after and len(before) + len(after) == len(boxes) and parted(before) and parted(after):
                return True
    return False


def scattered(seed: int) -> list[Box]:
    """Boxes on a 6 by 6 grid that do not meet."""
    dice = random.Random(seed)
    boxes: list[Box] = []
    for _ in range(40):
        x, y = dice.randint(0, 5), dice.randint(0, 5)
        new = (x, y, dice.randint(x + 1, min(6, x + 3)), dice.randint(y + 1, min(6, y + 3)))
        if all(new[2] <= b[0] or b[2] <= new[0] or new[3] <= b[1] or b[3] <= new[1] for b in boxes):
            boxes.append(new)
    return boxes


def judged(boxes: list[Box]) -> bool:
    pieces = tuple(Pane(id=f"p{i}", width=b[2] - b[0], height=b[3] - b[1], qty=1) for i, b in enumerate(boxes))
    instance = SheetInstance(id="i", stock=(Sheet(id="s", width=6, height=6, cost=1),), pieces=pieces)
    cuts = tuple(PlacedPane(piece=f"p{i}", x=b[0], y=b[1], w=b[2] - b[0], h=b[3] - b[1]) for i, b in enumerate(boxes))
    return not check(instance, SheetSolution(instance="i", sheets=(SheetPlan(stock="s", cuts=cuts),)))


def test_the_checker_agrees_with_trying_every_line() -> None:
    answers = [(judged(boxes), parted(frozenset(boxes))) for boxes in map(scattered, range(400))]
    assert [ours for ours, _ in answers] == [theirs for _, theirs in answers]
    assert {ours for ours, _ in answers} == {True, False}, "both answers have to occur"


def cheapest_bars(lengths: list[int], stock: list[tuple[int, int]]) -> int:
    """Least cost over every way to group the pieces."""
    best: dict[int, int] = {0: 0}
    everything = (1 << len(lengths)) - 1
    one = {}
    for group in range(1, everything + 1):
        total = sum(length for i, length in enumerate(lengths) if group >> i & 1)
        costs = [cost for length, cost in stock if length >= total]
        if costs:
            one[group] = min(costs)
    for done in range(1, everything + 1):
        low = done & -done
        group = done
        options = []
        while group:
            if group & low and group in one and done ^ group in best:
                options.append(one[group] + best[done ^ group])
            group = (group - 1) & done
        if options:
            best[done] = min(options)
    return best[everything]


@settings(max_examples=40)
@given(lengths=st.lists(st.integers(10, 100), min_size=1, max_size=7), cost=st.integers(60, 140))
def test_small_bar_tasks_are_solved_to_the_optimum(lengths: list[int], cost: int) -> None:
    stock = [(100, 100), (130, cost)]
    pieces = tuple(BarPiece(id=f"p{i}", length=length, qty=1) for i, length in enumerate(lengths))
    bars = tuple(Bar(id=f"b{length}", length=length, cost=price) for length, price in stock)
    result = solve(LinearInstance(id="i", stock=bars, pieces=pieces), effort="quick")
    assert result.cost == cheapest_bars(lengths, stock)
    assert result.bound.value <= result.cost


def fits_one_sheet(panes: list[tuple[int, int]], width: int, height: int) -> bool:
    """Whether panes can be cut from one sheet: every order of panes at every first line, by recursion over halvings."""
    if not panes:
        return True
    if len(panes) == 1:
        return panes[0][0] <= width and panes[0][1] <= height
    for many in range(1, len(panes)):
        for part in itertools.combinations(range(len(panes)), many):
            some = [panes[i] for i in part]
            rest = [panes[i] for i in range(len(panes)) if i not in part]
            for line in range(1, width):
                if fits_one_sheet(some, line, height) and fits_one_sheet(rest, width - line, height):
                    return True
            for line in range(1, height):
                if fits_one_sheet(some, width, line) and fits_one_sheet(rest, width, height - line):
                    return True
    return False


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(1, 7), st.integers(1, 7)), min_size=2, max_size=4))
def test_few_panes_fill_one_sheet_exactly_when_it_is_possible(panes: list[tuple[int, int]]) -> None:
    pieces = tuple(Pane(id=f"p{i}", width=w, height=h, qty=1) for i, (w, h) in enumerate(panes))
    instance = SheetInstance(id="i", stock=(Sheet(id="s", width=8, height=8, cost=1),), pieces=pieces)
    assert (solve(instance, effort="quick").cost == 1) == fits_one_sheet(panes, 8, 8)
