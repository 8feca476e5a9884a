"""What is assumed rather than known, and what was not checked."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Origin
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Battens, Construction
from halfsilver.model.quantities import Auto

NOT_RUN = (
    (
        "appearance.numbers",
        "brightness, contrast, echoes and repeats of the lights",
        "`halfsilver predict` computes them; hold the chosen sheets before a lit screen in the room's own light as well.",
    ),
)


def assumptions(design: Design, show: Show) -> Iterator[Finding]:
    """One note for every entry, and every fact, that nobody gave."""
    for name, entry in design.ledger.entries.items():
        if entry.origin is Origin.ASSUMED and not design.ledger.is_measured(name):
            yield Finding(
                rule="assumed.entry",
                source="assumed",
                status="assumed",
                severity=Severity.NOTE,
                value=round(design.ledger[name], 3),
                unit=entry.unit,
                advice=f"Assumed: {entry.label} {show(design.ledger[name], entry.unit)} ({entry.source}).",
                entries=(name,),
            )
    for said in design.facts.screen.assumed if design.facts.job.screen else ():
        yield Finding(
            rule="assumed.screen",
            source="assumed",
            status="assumed",
            severity=Severity.NOTE,
            unit="1",
            advice=f"Assumed: {said}. Measure or look it up.",
        )


def place(design: Design, show: Show) -> Iterator[Finding]:
    """Facts of the place that other checks had to assume."""
    job = design.facts.job
    if job.place.walking_within is None:
        yield Finding(
            rule="assumed.walking",
            source="assumed",
            status="assumed",
            severity=Severity.NOTE,
            unit="1",
            advice="Assumed that people walk right up to the glass (place.walking_within).",
        )


def not_checked(design: Design, show: Show) -> Iterator[Finding]:
    """Checks that this version cannot make: listed, never silently passed."""
    for rule, what, meanwhile in NOT_RUN:
        yield Finding(
            rule=rule, source="none", status="assumed", severity=Severity.NOT_RUN, unit="1", advice=f"Not checked: {what}. {meanwhile}"
        )


def unused(design: Design, show: Show) -> Iterator[Finding]:
    """What the job says and this construction has no use for."""
    job = design.facts.job
    if job.construction is not Construction.HIDDEN_SCREEN:
        return
    said = {
        "gap": not isinstance(job.gap, Auto),
        "lights": job.lights is not None,
        "battens": job.battens != Battens(),
        "frame.rear": job.frame.rear is not None,
    }
    for key in (key for key, given in said.items() if given):
        yield Finding(
            rule="assumed.unused",
            source="the construction",
            status="derived",
            severity=Severity.NOTE,
            unit="1",
            advice=f"The job gives {key}, but a hidden screen has one sheet and one frame: it was not used.",
        )


RULES = (unused, assumptions, place, not_checked)
