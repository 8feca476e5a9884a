"""Schedules of small random graphs against every order there is, and waiting times against a clock."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.making.schedule import bound_min, finish_min, schedule, worked_wait_min, working_days
from halfsilver.model.making import Step, Trade

MINUTES = st.integers(0, 60).map(float)


@st.composite
def graphs(draw: st.DrawFn, most: int) -> tuple[Step, ...]:
    """Steps that wait for some of those before them, in a list that may be in any order."""
    count = draw(st.integers(1, most))
    made = []
    for i in range(count):
        after = tuple(f"s{j}" for j in range(i) if draw(st.integers(0, 3)) == 0)
        work, wait = draw(MINUTES), draw(st.one_of(st.just(0.0), MINUTES))
        made.append(Step(id=f"s{i}", title="", trade=Trade.FRAME, work_min=work, wait_min=wait, after=after))
    return tuple(draw(st.permutations(made)))


def best_finish(steps: tuple[Step, ...]) -> float:
    """Earliest finish for one pair of hands over all orders: each step begins as soon as its order and its predecessors allow."""
    best = float("inf")
    for order in permutations(steps):
        ready: dict[str, float] = {}
        at = 0.0
        for step in order:
            if any(before not in ready for before in step.after):
                break
            at = max([at, *(ready[before] for before in step.after)]) + step.work_min
            ready[step.id] = at + step.wait_min
        else:
            best = min(best, max(ready.values()))
    return best


@settings(max_examples=150, deadline=None)
@given(steps=graphs(6))
def test_one_pair_of_hands_finishes_as_early_as_any_order(steps: tuple[Step, ...]) -> None:
    assert finish_min(schedule(steps)) == pytest.approx(best_finish(steps))


@settings(max_examples=150, deadline=None)
@given(steps=graphs(12), workers=st.integers(1, 3))
def test_work_never_overlaps_more_than_the_hands_and_waits_are_kept(steps: tuple[Step, ...], workers: int) -> None:
    planned = schedule(steps, workers=workers)
    by_id, when = {step.id: step for step in steps}, {one.step: one for one in planned}
    assert sorted(when) == sorted(by_id)
    assert [one.start_min for one in planned] == sorted(one.start_min for one in planned)
    for one in planned:
        step = by_id[one.step]
        assert one.end_min == pytest.approx(one.start_min + step.work_min)
        assert one.ready_min == pytest.approx(one.end_min + step.wait_min)
        assert all(one.start_min >= when[before].ready_min - 1e-9 for before in step.after)
    for one in planned:
        at_work = [other for other in planned if other.start_min <= one.start_min < other.end_min - 1e-9]
        assert len(at_work) <= workers
    assert finish_min(planned) >= bound_min(steps, workers=workers) - 1e-9
    assert schedule(steps, workers=workers) == planned


@settings(max_examples=100, deadline=None)
@given(steps=graphs(8))
def test_the_bound_is_never_above_the_best(steps: tuple[Step, ...]) -> None:
    longest: dict[str, float] = {}
    left = list(steps)
    while left:  # the longest way, counted forwards
        step = next(step for step in left if all(before in longest for before in step.after))
        longest[step.id] = max([0.0, *(longest[before] for before in step.after)]) + step.work_min + step.wait_min
        left.remove(step)
    assert bound_min(steps) >= max(longest.values()) - 1e-9
    assert finish_min(schedule(steps, workers=len(steps))) == pytest.approx(max(longest.values()))


def worked_between(start: float, end: float, day: float) -> float:
    """Working minutes of a clock between two times; work goes from the hour 0 of each day for `day` minutes."""

    def worked(at: float) -> float:
        whole, rest = divmod(at, 1440.0)
        return whole * day + min(rest, day)

    return worked(end) - worked(start)


@given(start=st.floats(0, 5000), wait=st.floats(0, 10_000), day=st.sampled_from([60.0, 240.0, 480.0, 600.0, 1440.0]))
def test_a_wait_by_the_clock_never_takes_more_of_the_working_time(start: float, wait: float, day: float) -> None:
    assert worked_between(start, start + wait, day) <= worked_wait_min(wait, day) + 1e-6


@given(days=st.integers(0, 40), day=st.sampled_from([240.0, 480.0, 600.0]))
def test_whole_days_of_waiting_are_working_days(days: int, day: float) -> None:
    assert worked_wait_min(days * 1440.0, day) == days * day


def test_steps_in_a_ring_are_refused() -> None:
    ring = [Step(id=a, title="", trade=Trade.FRAME, work_min=1.0, after=(b,)) for a, b in (("a", "b"), ("b", "a"))]
    with pytest.raises(ValueError, match="a, b"):
        schedule(ring)


def test_days_begun_count_whole() -> None:
    steps = [
        Step(id="a", title="", trade=Trade.FRAME, work_min=60.0, wait_min=2880.0),
        Step(id="b", title="", trade=Trade.FRAME, work_min=30.0, after=("a",)),
    ]
    planned = schedule(steps, day_min=480.0)
    assert finish_min(planned) == 60 + 2 * 1440 + 30
    assert working_days(planned) == 3
    assert working_days(()) == 0


def test_work_stops_for_the_night() -> None:
    steps = [Step(id=a, title="", trade=Trade.FRAME, work_min=300.0, after=b) for a, b in (("a", ()), ("b", ("a",)))]
    planned = schedule(steps, day_min=480.0)
    assert [(one.start_min, one.end_min) for one in planned] == [(0, 300), (300, 1440 + 120)]
    assert schedule(steps[:1], day_min=300.0)[0].end_min == 300  # what ends at a day's end ends that day


@settings(max_examples=150, deadline=None)
@given(steps=graphs(8), day=st.sampled_from([60.0, 240.0, 480.0]), longer=st.sampled_from([1.0, 30.0]))
def test_by_the_clock_waits_are_kept_and_work_is_done_in_working_hours(steps: tuple[Step, ...], day: float, longer: float) -> None:
    steps = tuple(replace(step, wait_min=step.wait_min * longer) for step in steps)
    planned = schedule(steps, day_min=day)
    by_id, when = {step.id: step for step in steps}, {one.step: one for one in planned}
    for one in planned:
        step = by_id[one.step]
        assert worked_between(one.start_min, one.end_min, day) == pytest.approx(step.work_min)
        assert one.start_min % 1440 < day
        assert one.ready_min == pytest.approx(one.end_min + step.wait_min)
        assert all(one.start_min >= when[before].ready_min - 1e-6 for before in step.after)
    for a, b in pairwise(planned):
        assert b.start_min >= a.end_min - 1e-6
