"""The constructions by name: the only place that knows which there are."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from halfsilver.errors import JobError, Problem
from halfsilver.layout import hidden_screen, lit_mirror, lit_screen
from halfsilver.layout.choices import Choices
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.layout.sight import Edge
from halfsilver.model.job import Construction, Job
from halfsilver.model.workshop import Workshop

DESIGNS: Mapping[Construction, Callable[[Facts], Design]] = {
    Construction.LIT_SCREEN: lit_screen.design,
    Construction.LIT_MIRROR: lit_mirror.design,
    Construction.HIDDEN_SCREEN: hidden_screen.design,
}

SIGHT_EDGES: Mapping[Construction, Callable[[Facts], tuple[Edge, ...]]] = {
    Construction.LIT_SCREEN: lit_screen.sight_edges,
    Construction.HIDDEN_SCREEN: hidden_screen.sight_edges,
}


def lay_out(job: Job, workshop: Workshop, choices: Choices) -> Design:
    """The design of a job, with these decisions for what it leaves open.

    Raises
    ------
    JobError
        If the construction is not made yet, or the catalogues lack what the job names.
    NoDesignError
        If an asked size cannot hold what must go in.
    """
    if job.construction not in DESIGNS:
        made = ", ".join(sorted(construction.value for construction in DESIGNS))
        raise JobError(
            [
                Problem(
                    code="construction-not-made",
                    path="construction",
                    read=job.construction.value,
                    allowed=f"Laid out so far: {made}.",
                    advice="Choose one of them.",
                )
            ]
        )
    return DESIGNS[job.construction](Facts(job, workshop, choices))
