"""Every step of a design, chosen by its scope and put in order.

What a construction has is seen from its parts and its ledger, so nothing here knows which construction it handles.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from halfsilver.layout.design import Design
from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.case import backing_steps, case_steps
from halfsilver.making.steps.ends import end_steps, pack_step
from halfsilver.making.steps.frame import frame_steps
from halfsilver.making.steps.lights import light_steps
from halfsilver.making.steps.panes import batten_steps, paint_steps, pane_steps
from halfsilver.making.steps.screen import retainer_steps, screen_steps
from halfsilver.model.making import Step


def build_steps(design: Design) -> tuple[Step, ...]:
    """Build steps of one piece, in an order in which they can be done.

    Parameters
    ----------
    design : Design
        The resolved job; its workshop's labour table gives working and waiting times.

    Returns
    -------
    tuple of Step
        Only trades of the job's scope. ``after`` names steps that are among them: where the scope leaves one out, what that one waited
        for takes its place.

    Raises
    ------
    JobError
        If the labour table lacks an operation.
    """
    bench = Bench(design)
    every = tuple(_all(bench))
    waits = {step.id: step.after for step in every}
    kept = {step.id: step for step in every if bench.has(step.trade)}
    steps = [replace(step, after=tuple(dict.fromkeys(_standing(step.after, kept, waits)))) for step in kept.values()]
    followed = {name for step in steps for name in step.after}
    return (*steps, pack_step(bench, after=tuple(step.id for step in steps if step.id not in followed)))


def _all(bench: Bench) -> Iterator[Step]:
    """Everything the construction asks for, in the order of a good shop."""
    yield from frame_steps(bench)
    yield from pane_steps(bench)
    yield from batten_steps(bench)
    yield from backing_steps(bench)
    yield from retainer_steps(bench)
    yield from light_steps(bench)
    yield from paint_steps(bench)
    yield from case_steps(bench)
    yield from screen_steps(bench)
    yield from end_steps(bench)


def _standing(after: tuple[str, ...], kept: Mapping[str, Step], waits: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """Names in ``after`` that are in the scope; for one that is not, those that it waited for itself."""
    for name in after:
        if name in kept:
            yield name
        else:
            yield from _standing(waits.get(name, ()), kept, waits)
