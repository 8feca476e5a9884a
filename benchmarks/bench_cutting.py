"""Cutting plans at three sizes, against the simplest rule that a person would follow: first fit by falling size.

The budgets beside the sizes are processor seconds on one core. They are printed, not asserted; that a plan is no dearer than the simple
rule is.
"""

from __future__ import annotations

import random

import pytest

from halfsilver.making.cutting.fold_bars import fold
from halfsilver.making.cutting.instance import Bar, BarPiece, LinearInstance, Pane, Sheet, SheetInstance, Trim
from halfsilver.making.cutting.linear_quick import fit, pattern_cost
from halfsilver.making.cutting.portfolio import solve
from halfsilver.making.cutting.sheet_shelves import shelf_plan
from halfsilver.making.cutting.sheet_task import manners, task, uses_cost

SIZES = {"job": (12, 1), "week": (20, 5), "month": (50, 10)}  # kinds of piece, copies; budgets 0.3 s, 5 s, 20 s


def sticks(kinds: int, copies: int) -> LinearInstance:
    dice = random.Random(kinds)
    stock = (Bar(id="long", length=4000, cost=40), Bar(id="short", length=3000, cost=31), Bar(id="rest", length=1700, qty=2, cost=5))
    pieces = tuple(BarPiece(id=f"p{i}", length=dice.randint(300, 1600), qty=copies) for i in range(kinds))
    return LinearInstance(id="sticks", kerf=4, stock=stock, pieces=pieces)


def panes(kinds: int, copies: int) -> SheetInstance:
    dice = random.Random(kinds)
    trim = Trim(left=15, right=15, bottom=15, top=15)
    pieces = tuple(
        Pane(id=f"p{i}", width=dice.randint(300, 1500), height=dice.randint(200, 900), qty=copies, rotate=i % 3 > 0) for i in range(kinds)
    )
    return SheetInstance(id="panes", stock=(Sheet(id="s", width=3210, height=2250, cost=100, trim=trim),), pieces=pieces, min_strip=20)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.benchmark(group="sticks")
def test_sticks(benchmark, size: str) -> None:
    instance = sticks(*SIZES[size])
    problem = fold(instance)
    simple = fit(problem, problem.demand, [2, 0, 1], best=False)
    result = benchmark.pedantic(solve, args=(instance,), kwargs={"effort": "quick" if size == "job" else "usual"}, rounds=1)
    assert simple is not None
    benchmark.extra_info |= {"over_first_fit": result.cost / pattern_cost(problem, simple), "over_bound": result.cost / result.bound.value}
    assert result.cost <= pattern_cost(problem, simple)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.benchmark(group="panes")
def test_panes(benchmark, size: str) -> None:
    instance = panes(*SIZES[size])
    simple = shelf_plan(task(instance, manners(instance)[0]), [0], tall=True)
    result = benchmark.pedantic(solve, args=(instance,), kwargs={"effort": "quick" if size == "job" else "usual"}, rounds=1)
    assert simple is not None
    benchmark.extra_info |= {"over_shelves": result.cost / uses_cost(instance, simple), "over_bound": result.cost / result.bound.value}
    assert result.cost <= uses_cost(instance, simple)


@pytest.mark.benchmark(group="first plan")
def test_the_first_plan_for_a_month_comes_at_once(benchmark) -> None:
    instance = panes(*SIZES["month"])
    plan = benchmark.pedantic(lambda: shelf_plan(task(instance, manners(instance)[0]), [0], tall=True), rounds=3)
    assert plan is not None
