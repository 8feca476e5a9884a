"""Build steps of a piece, in the order of a good shop.

Each step is declared where its work is known (:mod:`halfsilver.making.frame_steps`, :mod:`halfsilver.making.case_steps`); here they are
chosen by scope and construction, put in order, and timed by the workshop's labour table.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from halfsilver.layout.design import Design
from halfsilver.making.case_steps import case_steps
from halfsilver.making.frame_steps import frame_steps
from halfsilver.making.scope import IN_SCOPE
from halfsilver.model.making import Step


def build_steps(design: Design) -> tuple[Step, ...]:
    """Every step of the job's scope, in an order in which it can be done.

    A step waits for those it names in ``after``; names that the scope leaves out fall away, and what they themselves waited for takes
    their place.
    """
    every = (*frame_steps(design), *case_steps(design))
    wanted = IN_SCOPE[design.facts.job.scope]
    kept = {step.id: step for step in every if step.trade in wanted or step.id == "pack"}
    waits = {step.id: step.after for step in every}
    return tuple(replace(step, after=tuple(dict.fromkeys(_standing(step.after, kept, waits)))) for step in kept.values())


def _standing(after: tuple[str, ...], kept: dict[str, Step], waits: dict[str, tuple[str, ...]]) -> Iterator[str]:
    for name in after:
        if name in kept:
            yield name
        else:
            yield from _standing(waits.get(name, ()), kept, waits)
