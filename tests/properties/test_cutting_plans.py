"""Laws that hold for every cutting task."""

from __future__ import annotations

import hashlib
import json
import os
import random
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.errors import NoDesignError
from halfsilver.making.cutting.bounds import material_bound, rounded_up
from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.instance import (
    Bar,
    BarPiece,
    End,
    Instance,
    LinearInstance,
    MitreRule,
    Pane,
    Sheet,
    SheetInstance,
    Trim,
)  # fmt: skip
from halfsilver.making.cutting.knapsack import fill, split
from halfsilver.making.cutting.neutral import instance_from_dict, instance_to_dict, solution_from_dict, solution_to_dict
from halfsilver.making.cutting.portfolio import solve
from halfsilver.making.cutting.sheet_shelves import shelf_plans
from halfsilver.making.cutting.sheet_task import manners, task
from halfsilver.making.cutting.sheets import unfold
from halfsilver.making.cutting.solution import LinearSolution, SheetSolution, plan_cost
from strategies_cutting import linear_task, sheet_task

pytestmark = pytest.mark.cutting
ROOT = Path(__file__).resolve().parents[2]


def small_task(seed: int) -> Instance:
    return linear_task(seed) if seed % 2 else sheet_task(seed, panes=6)


@settings(max_examples=40)
@given(st.integers(1000, 100_000))
def test_every_plan_passes_the_checker_and_respects_the_bound(seed: int) -> None:
    instance = small_task(seed)
    result = solve(instance, effort="quick")
    assert check(instance, result.solution) == ()
    assert result.cost == plan_cost(instance, result.solution)
    assert result.bound.value <= result.cost + 1e-6
    assert result.checked


@settings(max_examples=40)
@given(st.integers(1000, 100_000))
def test_tasks_and_plans_survive_the_neutral_form(seed: int) -> None:
    instance = small_task(seed)
    solution = solve(instance, effort="quick").solution
    assert instance_from_dict(json.loads(json.dumps(instance_to_dict(instance)))) == instance
    assert solution_from_dict(json.loads(json.dumps(solution_to_dict(solution)))) == solution


@settings(max_examples=20)
@given(st.integers(1000, 100_000), st.integers(2, 7))
def test_a_finer_unit_changes_neither_cost_nor_bound(seed: int, factor: int) -> None:
    instance = linear_task(seed, mitred=False)
    finer = LinearInstance(
        id=instance.id, kerf=instance.kerf * factor,
        stock=tuple(
            replace(b, length=b.length * factor, trim=Trim(left=b.trim.left * factor, right=b.trim.right * factor)) for b in instance.stock
        ),
        pieces=tuple(BarPiece(id=p.id, length=p.length * factor, qty=p.qty) for p in instance.pieces),
    )  # fmt: skip
    coarse, fine = solve(instance, effort="quick"), solve(finer, effort="quick")
    assert (fine.cost, fine.bound) == (coarse.cost, coarse.bound)


@settings(max_examples=40)
@given(st.integers(0, 100_000))
def test_a_shelf_plan_can_be_cut_as_it_stands(seed: int) -> None:
    instance = sheet_task(seed, panes=12)
    for manner in manners(instance):
        for uses in shelf_plans(task(instance, manner)):
            assert check(instance, unfold(instance, uses)) == ()


def batch(seed: int) -> LinearInstance:
    """A month's mouldings: two stock lengths, offcuts in the rack, cheap but few."""
    dice = random.Random(seed)
    rests = [Bar(id=f"rest{i}", length=dice.randint(600, 2500), qty=1, cost=0, offcut=True) for i in range(6)]
    stock = [Bar(id="long", length=4000, cost=4000), Bar(id="short", length=3000, cost=3100)]
    stock += [Bar(id=bar.id, length=bar.length, qty=1, cost=0.3 * bar.length, offcut=True) for bar in rests]
    pieces = tuple(BarPiece(id=f"p{i}", length=dice.randint(300, 1500), qty=dice.randint(4, 20)) for i in range(15))
    return LinearInstance(id=f"batch-{seed}", kerf=4, stock=tuple(stock), pieces=pieces)


@pytest.mark.parametrize("seed", range(5))
def test_several_lengths_and_offcuts_end_within_a_hundredth_of_the_bound(seed: int) -> None:
    result = solve(batch(seed))
    assert result.bound.kind == "lp"
    assert result.bound.value <= result.cost <= 1.01 * result.bound.value


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 5), st.integers(0, 9)), min_size=1, max_size=6), st.integers(0, 30))
def test_the_knapsack_agrees_with_trying_everything(kinds: list[tuple[int, int, int]], capacity: int) -> None:
    best = {0: 0}
    for size, limit, value in kinds:
        reached = dict(best)
        for used, worth in best.items():
            for n in range(1, limit + 1):
                if used + n * size <= capacity:
                    reached[used + n * size] = max(reached.get(used + n * size, 0), worth + n * value)
        best = reached
    sizes, limits, values = ([kind[i] for kind in kinds] for i in range(3))
    table = fill(sizes, limits, values, capacity)
    counts = table.counts(capacity, len(kinds))
    assert table.best[capacity] == max(best.values())
    assert sum(c * v for c, v in zip(counts, values, strict=True)) == max(best.values())
    assert sum(c * s for c, s in zip(counts, sizes, strict=True)) <= capacity
    assert all(c <= limit for c, limit in zip(counts, limits, strict=True))


@given(st.integers(0, 200))
def test_splitting_reaches_every_number(limit: int) -> None:
    sums = {0}
    for part in split(limit):
        sums |= {total + part for total in sums}
    assert sums == set(range(limit + 1))


@given(st.lists(st.tuples(st.integers(1, 60), st.one_of(st.none(), st.integers(0, 3))), min_size=1, max_size=4), st.integers(1, 150))
def test_a_bound_is_raised_to_a_sum_that_costs_can_form(stock: list[tuple[int, int | None]], bound: int) -> None:
    costs, quantities = [c for c, _ in stock], [q for _, q in stock]
    sums = {0}
    for cost, quantity in stock:
        most = 400 // cost if quantity is None else quantity
        sums = {total + n * cost for total in sums for n in range(most + 1) if total + n * cost <= 400}
    above = [total for total in sums if total >= bound]
    raised = rounded_up(bound, costs, quantities)
    assert raised >= bound
    if above:
        assert raised <= min(above)
        assert raised == min(above) or min(above) > bound + max(costs)
    assert material_bound(bound, costs, [1.0] * len(costs), [None] * len(costs)) == pytest.approx(bound / max(costs))


def test_the_same_task_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    program = (
        "import json, sys; sys.path[:0] = sys.argv[1:]\n"
        "from strategies_cutting import linear_task, sheet_task\n"
        "from halfsilver.making.cutting.neutral import solution_to_dict\n"
        "from halfsilver.making.cutting.portfolio import solve\n"
        "for task in (linear_task(7), sheet_task(6, panes=10), sheet_task(9, panes=10)):\n"
        "    result = solve(task, effort='quick')\n"
        "    sys.stdout.write(json.dumps([solution_to_dict(result.solution), result.cost, result.bound.value, result.engines]))\n"
    )
    marks = set()
    for seed in ("0", "1", "4242"):
        done = subprocess.run(
            [sys.executable, "-c", program, str(ROOT / "src"), str(ROOT / "tests")],
            env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True,
        )  # fmt: skip
        marks.add(hashlib.sha256(done.stdout).hexdigest())
        assert len(done.stdout) > 500
    assert len(marks) == 1


def mitred(*, nest: int, flip: bool, length: int = 1000, qty: int = 4) -> LinearInstance:
    piece = BarPiece(id="stick", length=length, qty=qty, left=End.MITRE, right=End.MITRE)
    return LinearInstance(
        id="m", kerf=4, stock=(Bar(id="b", length=4000, cost=1),), pieces=(piece,), mitre=MitreRule(kerf=6, nest=nest, flip=flip)
    )


def bars(instance: LinearInstance) -> int:
    solution = solve(instance).solution
    assert isinstance(solution, LinearSolution)
    return len(solution.bars)


def test_turned_neighbours_save_the_face_width() -> None:
    """Four sticks of 1000 need 4000 + 3 x 6 the same side up; turned, 3 x (60 - 6) less (worked by hand)."""
    assert bars(mitred(nest=60, flip=False)) == 2
    assert bars(mitred(nest=60, flip=True)) == 1
    assert bars(mitred(nest=60, flip=True, length=1040)) == 1  # 4160 - 162 = 3998
    assert bars(mitred(nest=60, flip=True, length=1041)) == 2  # 4164 - 162 = 4002


def test_mixed_ends_are_charged_the_larger_kerf_once() -> None:
    """Two square (kerf 4) and two mitred (kerf 6): 4 + 6 + 6 between them at best (worked by hand)."""
    square = BarPiece(id="s", length=1000, qty=2)
    mitre = BarPiece(id="m", length=992, qty=2, left=End.MITRE, right=End.MITRE)
    stock = (Bar(id="b", length=4000, cost=1),)
    rule = MitreRule(kerf=6)
    assert bars(LinearInstance(id="i", kerf=4, stock=stock, pieces=(square, mitre), mitre=rule)) == 1
    wider = BarPiece(id="m", length=993, qty=2, left=End.MITRE, right=End.MITRE)
    assert bars(LinearInstance(id="i", kerf=4, stock=stock, pieces=(square, wider), mitre=rule)) == 2


def test_light_strip_is_cut_at_its_marks() -> None:
    stock = (Bar(id="reel", length=5020, cost=1, trim=Trim(left=10)),)
    pieces = (BarPiece(id="long", length=1250, qty=2), BarPiece(id="short", length=600, qty=4))
    instance = LinearInstance(id="strip", stock=stock, pieces=pieces, increment=50)
    assert bars(instance) == 1
    with pytest.raises(NoDesignError, match="'odd'"):
        solve(LinearInstance(id="strip", stock=stock, pieces=(BarPiece(id="odd", length=1260, qty=1),), increment=50))


def test_the_last_kerf_may_run_off_the_end() -> None:
    """n pieces need n - 1 kerfs: 3 x 332 + 2 x 2 = 1000."""
    stock = (Bar(id="b", length=1000, cost=1),)
    assert bars(LinearInstance(id="i", kerf=2, stock=stock, pieces=(BarPiece(id="p", length=332, qty=3),))) == 1
    assert bars(LinearInstance(id="i", kerf=2, stock=stock, pieces=(BarPiece(id="p", length=333, qty=3),))) == 2


def test_a_bar_of_many_steps_is_still_filled_exactly() -> None:
    """1/8000 mm and lengths without a common divisor: two bars of 3 m, cut up at odd places."""
    lengths = [7_999_999, 8_000_003, 7_999_998, 11_111_111, 12_888_889]
    pieces = tuple(BarPiece(id=f"p{i}", length=length, qty=1) for i, length in enumerate(lengths))
    instance = LinearInstance(id="i", stock=(Bar(id="b", length=24_000_000, cost=1),), pieces=pieces)
    result = solve(instance)
    assert (result.cost, result.bound.value) == (2, 2)


def sheets(instance: SheetInstance) -> int:
    solution = solve(instance, effort="quick").solution
    assert isinstance(solution, SheetSolution)
    return len(solution.sheets)


def test_a_strip_that_would_not_break_is_never_left() -> None:
    """A pane 10 short of the sheet: with a narrowest strip of 20 it cannot be cut from it at all."""
    stock = (Sheet(id="s", width=1000, height=800, cost=1),)
    pane = Pane(id="pane", width=990, height=400, qty=2)
    assert sheets(SheetInstance(id="i", stock=stock, pieces=(pane,))) == 1
    with pytest.raises(NoDesignError, match="'pane'"):
        solve(SheetInstance(id="i", stock=stock, pieces=(pane,), min_strip=20))


def test_coated_panes_are_not_turned_and_plain_ones_are() -> None:
    stock = (Sheet(id="s", width=1000, height=600, cost=1),)
    assert sheets(SheetInstance(id="i", stock=stock, pieces=(Pane(id="p", width=600, height=500, qty=2, rotate=True),))) == 1
    assert sheets(SheetInstance(id="i", stock=stock, pieces=(Pane(id="p", width=600, height=500, qty=2),))) == 2


def test_kerf_and_trim_are_paid_once_each() -> None:
    """2 x 495 + kerf 4 + trims 2 x 3 = 1000 across and along (worked by hand)."""
    trim = Trim(left=3, right=3, bottom=3, top=3)
    stock = (Sheet(id="s", width=1000, height=1000, cost=1, trim=trim),)
    assert sheets(SheetInstance(id="i", kerf=4, stock=stock, pieces=(Pane(id="p", width=495, height=495, qty=4),))) == 1
    assert sheets(SheetInstance(id="i", kerf=5, stock=stock, pieces=(Pane(id="p", width=495, height=495, qty=4),))) == 4


def test_a_cheap_offcut_goes_first_and_is_not_shredded_for_nothing() -> None:
    stock = (Sheet(id="new", width=2000, height=1000, cost=20), Sheet(id="rest", width=600, height=600, qty=1, cost=1, offcut=True))
    instance = SheetInstance(id="i", stock=stock, pieces=(Pane(id="p", width=500, height=500, qty=1),))
    assert solve(instance, effort="quick").cost == 1


def test_pieces_in_sequence_are_cut_in_that_order() -> None:
    stock = (Bar(id="b", length=1000, cost=1),)
    pieces = tuple(BarPiece(id=name, length=length, qty=2) for name, length in (("late", 600), ("early", 550), ("free", 300)))
    instance = LinearInstance(id="i", stock=stock, pieces=pieces, sequence=(("early", "late"),))
    solution = solve(instance).solution
    assert check(instance, solution) == ()
    with pytest.raises(NoDesignError):
        solve(LinearInstance(id="i", stock=stock, pieces=pieces, sequence=(("early", "late"), ("late", "early"))))


def test_too_little_stock_is_said_and_not_papered_over() -> None:
    stock = (Bar(id="rest", length=1000, qty=2, cost=1),)
    with pytest.raises(NoDesignError, match="'p'"):
        solve(LinearInstance(id="i", stock=stock, pieces=(BarPiece(id="p", length=600, qty=3),)))
    with pytest.raises(NoDesignError, match="'p'"):
        solve(
            SheetInstance(
                id="i", stock=(Sheet(id="s", width=9, height=9, qty=1, cost=1),), pieces=(Pane(id="p", width=5, height=5, qty=2),)
            )
        )


def test_nothing_wanted_needs_nothing() -> None:
    result = solve(LinearInstance(id="i", stock=(Bar(id="b", length=9, cost=1),), pieces=(BarPiece(id="p", length=5, qty=0),)))
    assert (result.cost, result.solution) == (0, LinearSolution(instance="i", bars=()))
