"""Which way the coated faces look, and whether the rear sheet of a lit mirror is a mirror."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CoatedSide, Construction
from halfsilver.model.workshop import GlassDuty
from halfsilver.services.checks.known import panes

PRACTICE = "common practice"


def painted_back(design: Design, show: Show) -> Iterator[Finding]:
    """A back-silvered mirror goes in with its painted back away from the viewer: turned round it shows its paint."""
    for which in panes(design):
        glass = design.facts.front_glass if which == "front" else design.facts.rear_glass
        side = design.facts.coated_side(which)
        if glass.duty is GlassDuty.MIRROR and side is not CoatedSide.SCREEN:
            yield Finding(
                rule="glass.painted_back",
                source=PRACTICE,
                status="practice",
                severity=Severity.STOP,
                value=glass.R_coated,
                limit=glass.R_plain,
                unit="1",
                advice=f"The coated face of {glass.id} is its painted back, and glass.{which}.coated_side says {side.value}: "
                f"it would show its paint, {100 * glass.R_coated:.0f} % thrown back instead of {100 * glass.R_plain:.0f} %. "
                "Write `coated_side: screen`, or leave it out.",
                entries=(f"{which}.glass.thickness",),
            )


def rear_mirror(design: Design, show: Show) -> Iterator[Finding]:
    """The rear sheet of a lit mirror is a full mirror; anything else lets light and view through to the back panel."""
    if design.facts.job.construction is not Construction.LIT_MIRROR or design.facts.rear_glass.duty is GlassDuty.MIRROR:
        return
    glass = design.facts.rear_glass
    yield Finding(
        rule="glass.rear_mirror",
        source=PRACTICE,
        status="practice",
        severity=Severity.CAUTION,
        value=glass.T,
        limit=0.0,
        unit="1",
        advice=f"The rear sheet {glass.id} lets {100 * glass.T:.0f} % through: the back panel shows behind the lights, and the "
        "repeats fade sooner. Choose a full mirror, or paint panel and packing black.",
        entries=("rear.glass.thickness",),
    )


RULES = (painted_back, rear_mirror)
