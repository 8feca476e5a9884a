"""When each step can begin: one pair of hands (or more) works, waiting times run by themselves, the earliest finish follows."""

from __future__ import annotations

from collections.abc import Sequence

from halfsilver.model.making import Scheduled, Step


def schedule(steps: Sequence[Step], *, workers: int = 1) -> tuple[Scheduled, ...]:
    """Earliest times of all steps.

    Parameters
    ----------
    steps : sequence of Step
        Every step's ``after`` names steps among them.
    workers : int
        How many pairs of hands work at the same time, each on one step.

    Returns
    -------
    tuple of Scheduled
        In the order in which the steps begin. Of the steps that can begin, the one with the longest way to the end goes first
        (critical path first, a list schedule). [min]

    Raises
    ------
    ValueError
        If steps wait for each other in a ring.
    """
    by_id = {step.id: step for step in steps}
    tail = _tails(by_id)
    free = [0.0] * workers
    ready: dict[str, float] = {}
    done: list[Scheduled] = []
    waiting = set(by_id)
    while waiting:
        open_steps = [name for name in waiting if all(before in ready for before in by_id[name].after)]
        hand = min(range(workers), key=lambda i: free[i])
        starts = {name: max([free[hand], *(ready[before] for before in by_id[name].after)]) for name in open_steps}
        first = min(starts.values())
        name = min((name for name in open_steps if starts[name] <= first), key=lambda name: (-tail[name], name))
        end = starts[name] + by_id[name].work_min
        free[hand] = end
        ready[name] = end + by_id[name].wait_min
        done.append(Scheduled(step=name, start_min=starts[name], end_min=end, ready_min=ready[name]))
        waiting.remove(name)
    return tuple(done)


def finish_min(scheduled: Sequence[Scheduled]) -> float:
    """When everything is done, the last waiting time included. [min]"""
    return max((each.ready_min for each in scheduled), default=0.0)


def _tails(by_id: dict[str, Step]) -> dict[str, float]:
    """Longest way from the beginning of each step to the end, work and waiting together. [min]"""
    followers: dict[str, list[str]] = {name: [] for name in by_id}
    for step in by_id.values():
        for before in step.after:
            followers[before].append(step.id)
    tail: dict[str, float] = {}
    for name in reversed(_order(by_id)):
        step = by_id[name]
        tail[name] = step.work_min + step.wait_min + max((tail[after] for after in followers[name]), default=0.0)
    return tail


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
