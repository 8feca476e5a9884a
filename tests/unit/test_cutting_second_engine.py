"""The second engine where it is installed, and the program without it."""

from __future__ import annotations

import sys

import pytest

from conftest import second_engine
from halfsilver.making.cutting import rented
from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.effort import EFFORTS
from halfsilver.making.cutting.instance import FirstCut, Pane, Sheet, SheetInstance
from halfsilver.making.cutting.solution import plan_cost
from strategies_cutting import sheet_task

pytestmark = pytest.mark.cutting


def task(kerf: int, stages: int | None, first: FirstCut) -> SheetInstance:
    sizes = [(700, 400), (650, 380), (500, 300), (420, 420), (900, 250), (300, 280)]
    pieces = tuple(Pane(id=f"p{i}", width=w, height=h, qty=2, rotate=i % 2 == 0) for i, (w, h) in enumerate(sizes))
    return SheetInstance(
        id="i", kerf=kerf, stock=(Sheet(id="s", width=1500, height=1000, cost=1),), pieces=pieces, stages=stages, first_cut=first
    )


@second_engine
@pytest.mark.parametrize("kerf", [0, 4])
@pytest.mark.parametrize(("stages", "first"), [(None, FirstCut.ANY), (3, FirstCut.ALONG), (3, FirstCut.ACROSS)])
def test_its_plans_pass_the_checker(kerf: int, stages: int | None, first: FirstCut) -> None:
    instance = task(kerf, stages, first)
    drafts = list(rented.rented_drafts(instance, EFFORTS["usual"]))
    assert drafts
    for draft in drafts:
        assert draft.solution is not None
        assert check(instance, draft.solution) == ()
        assert plan_cost(instance, draft.solution) >= 2  # 1 884 600 of panes, 1 500 000 of sheet


@second_engine
def test_it_gives_the_same_plan_twice() -> None:
    instance = task(4, None, FirstCut.ANY)
    one, two = ([draft.solution for draft in rented.rented_drafts(instance, EFFORTS["usual"])] for _ in range(2))
    assert one == two


def test_without_it_nothing_is_missing_but_its_plans(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("packingsolver", "packingsolver.rectangleguillotine"):
        monkeypatch.setitem(sys.modules, name, None)
    assert not rented.available()
    assert list(rented.rented_drafts(task(0, None, FirstCut.ANY), EFFORTS["usual"])) == []


def test_two_stages_are_left_to_the_other_engines_unless_much_is_to_be_searched() -> None:
    assert list(rented.rented_drafts(task(0, 2, FirstCut.ACROSS), EFFORTS["usual"])) == []


def test_it_is_left_out_where_it_cannot_hold_the_narrowest_strip() -> None:
    narrow = next(task for task in map(sheet_task, range(50)) if task.min_strip > 1)
    assert list(rented.rented_drafts(narrow, EFFORTS["long"])) == []
