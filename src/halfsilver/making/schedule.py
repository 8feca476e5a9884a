"""When each step can begin: hands work on one step at a time, waiting times run by themselves, the earliest finish follows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from halfsilver.model.making import Scheduled, Step

CLOCK_DAY_MIN = 1440.0
MOST_TRIES = 4000


@dataclass(frozen=True, slots=True)
class _Task:
    """A step with its waiting time in working minutes and the longest way from its beginning to the end."""

    step: str
    work: float
    wait: float
    after: tuple[str, ...]
    tail: float


def schedule(steps: Sequence[Step], *, workers: int = 1, day_min: float = CLOCK_DAY_MIN) -> tuple[Scheduled, ...]:
    """Earliest times of all steps.

    Of the steps that can begin, the one with the longest way to the end goes first (critical path first). Where that is not shown to be
    the earliest finish for one pair of hands, a bounded search over the orders looks for a better one; it counts tries, not time, so the
    same steps give the same schedule.

    Parameters
    ----------
    steps : sequence of Step
        Every step's ``after`` names steps among them.
    workers : int
        How many pairs of hands work at the same time, each on one step.
    day_min : float
        Working time of a day: work stops for the night and goes on in the morning, waiting times run by the clock. 1440: work goes on
        round the clock. [min]

    Returns
    -------
    tuple of Scheduled
        In the order in which the steps begin; by the clock from the first morning, 1440 a working day. [min]

    Raises
    ------
    ValueError
        If steps wait for each other in a ring.
    """
    tasks = _tasks(steps, day_min)
    first = _listed(tasks, workers)
    if workers == 1 and finish_min(first) > _bound(tasks, workers) + 1e-9:
        first = min(first, _Search(tasks, finish_min(first)).best or first, key=finish_min)
    waits = {step.id: step.wait_min for step in steps}
    return tuple(_by_clock(one, waits[one.step], day_min) for one in first)


def worked_wait_min(wait_min: float, day_min: float) -> float:
    """Working minutes that pass during a waiting time by the clock, at most. [min]

    A whole day of waiting is a working day; a rest counts in full, but never more than a day's work, since the night helps.

    Examples
    --------
    >>> worked_wait_min(1440, 480), worked_wait_min(60, 480), worked_wait_min(16 * 60, 480), worked_wait_min(90, 1440)
    (480.0, 60.0, 480.0, 90.0)
    """
    days, rest = divmod(wait_min, CLOCK_DAY_MIN)
    return float(days * day_min + min(rest, day_min))


def finish_min(scheduled: Sequence[Scheduled]) -> float:
    """When everything is done, the last waiting time included. [min]"""
    return max((each.ready_min for each in scheduled), default=0.0)


def working_days(scheduled: Sequence[Scheduled]) -> int:
    """Working days until everything is done, a day begun counted whole. [d]"""
    return ceil(finish_min(scheduled) / CLOCK_DAY_MIN - 1e-9)


def bound_min(steps: Sequence[Step], *, workers: int = 1) -> float:
    """No schedule round the clock ends earlier: the longest way, or all work shared by all hands and the shortest wait. [min]"""
    return _bound(_tasks(steps, CLOCK_DAY_MIN), workers)


def _bound(tasks: dict[str, _Task], workers: int) -> float:
    longest = max((task.tail for task in tasks.values()), default=0.0)
    last = min((task.wait for task in tasks.values()), default=0.0)
    return max(longest, sum(task.work for task in tasks.values()) / workers + last)


def _tasks(steps: Sequence[Step], day_min: float) -> dict[str, _Task]:
    by_id = {step.id: step for step in steps}
    followers: dict[str, list[str]] = {name: [] for name in by_id}
    for step in steps:
        for before in step.after:
            followers[before].append(step.id)
    tasks: dict[str, _Task] = {}
    for name in reversed(_order(by_id)):
        step = by_id[name]
        wait = worked_wait_min(step.wait_min, day_min)
        tail = step.work_min + wait + max((tasks[after].tail for after in followers[name]), default=0.0)
        tasks[name] = _Task(name, step.work_min, wait, step.after, tail)
    return {name: tasks[name] for name in by_id}


def _order(by_id: dict[str, Step]) -> list[str]:
    order: list[str] = []
    left = dict(by_id)
    while left:
        found = [name for name, step in left.items() if all(before not in left for before in step.after)]
        if not found:
            raise ValueError(f"steps wait for each other: {', '.join(sorted(left))}")
        order.extend(found)
        for name in found:
            del left[name]
    return order


def _listed(tasks: dict[str, _Task], workers: int) -> tuple[Scheduled, ...]:
    """Critical path first."""
    free, ready, done = [0.0] * workers, dict[str, float](), list[Scheduled]()
    while len(done) < len(tasks):
        hand = min(range(workers), key=free.__getitem__)
        starts = dict(_starts(tasks, ready, free[hand]))
        soonest = min(starts.values())
        name = min((name for name, start in starts.items() if start <= soonest), key=lambda name: -tasks[name].tail)
        one = _placed(tasks[name], starts[name])
        free[hand], ready[name] = one.end_min, one.ready_min
        done.append(one)
    return tuple(sorted(done, key=lambda one: one.start_min))


def _starts(tasks: dict[str, _Task], ready: dict[str, float], free: float) -> Iterator[tuple[str, float]]:
    """When each step that is left and waits for nothing more can begin."""
    for name, task in tasks.items():
        if name not in ready and all(before in ready for before in task.after):
            yield name, max([free, *(ready[before] for before in task.after)])


def _placed(task: _Task, start: float) -> Scheduled:
    end = start + task.work
    return Scheduled(step=task.step, start_min=start, end_min=end, ready_min=end + task.wait)


def _by_clock(one: Scheduled, wait_min: float, day_min: float) -> Scheduled:
    """Working minutes on the clock: what begins at a day's end begins the next morning, what ends there ends that day."""
    days, rest = divmod(one.start_min, day_min)
    start = days * CLOCK_DAY_MIN + rest
    whole = max(ceil(one.end_min / day_min - 1e-9) - 1, 0)
    end = max(start, one.end_min + whole * (CLOCK_DAY_MIN - day_min))
    return Scheduled(step=one.step, start_min=start, end_min=end, ready_min=end + wait_min)


class _Search:
    """Orders of the steps for one pair of hands, depth first; a branch that cannot end earlier than the best is left."""

    def __init__(self, tasks: dict[str, _Task], to_beat: float) -> None:
        self.tasks, self.to_beat, self.tries = tasks, to_beat, 0
        self.best: tuple[Scheduled, ...] = ()
        self._extend((), {}, 0.0)

    def _extend(self, done: tuple[Scheduled, ...], ready: dict[str, float], free: float) -> None:
        self.tries += 1
        if len(done) == len(self.tasks):
            self.best, self.to_beat = done, finish_min(done)
            return
        starts = dict(_starts(self.tasks, ready, free))
        # A step that could only begin after another one could be over leaves room for that one: it need not be tried first.
        latest = min(start + self.tasks[name].work for name, start in starts.items())
        for name in sorted(starts, key=lambda name: (starts[name], -self.tasks[name].tail)):
            if (starts[name] > free and starts[name] >= latest) or self.tries > MOST_TRIES:
                continue
            one = _placed(self.tasks[name], starts[name])
            known = {**ready, name: one.ready_min}
            if self._least(known, one.end_min) < self.to_beat - 1e-9:
                self._extend((*done, one), known, one.end_min)

    def _least(self, ready: dict[str, float], free: float) -> float:
        """No continuation ends earlier."""
        left = [task for name, task in self.tasks.items() if name not in ready]
        ways = [max([free, *(ready[before] for before in task.after if before in ready)]) + task.tail for task in left]
        work = free + sum(task.work for task in left) + min((task.wait for task in left), default=0.0)
        return max([work, *ways, *ready.values()])
