"""Do the screen's data agree: outline against diagonal, the job against the workshop's record."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from halfsilver.engineering.panel import disagreement
from halfsilver.layout.design import Design
from halfsilver.layout.screens import picture_by_diagonal
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity

ONE_PERCENT = 0.01
HALF_MM = 0.5


def diagonal(design: Design, show: Show) -> Iterator[Finding]:
    """A stated diagonal must belong to the stated outline.

    A picture larger than the outline is a stop, one off by more than 1 % a caution.
    """
    if design.facts.job.screen is None:
        return
    screen, ledger = design.facts.screen.screen, design.ledger
    size = picture_by_diagonal(screen)
    if size is None:
        return
    wide, high = size
    entries = ("screen.outline.width", "screen.outline.height", "screen.picture.width", "screen.picture.height")
    over = max(wide - ledger["screen.outline.width"], high - ledger["screen.outline.height"])
    source = "geometry: width = D p/sqrt(p^2 + q^2)"
    if over > HALF_MM:
        yield Finding(
            rule="screen.diagonal",
            source=source,
            status="derived",
            severity=Severity.STOP,
            value=round(wide, 2),
            limit=round(ledger["screen.outline.width"], 2),
            unit="mm",
            advice=f"A stated diagonal of {show(screen.diagonal or 0.0, 'mm')} would have a picture of "
            f"{wide / 25.4:.1f} x {high / 25.4:.1f} in ({wide:.0f} x {high:.0f} mm), which cannot lie in an outline of "
            f"{show(ledger['screen.outline.width'], 'mm')} x {show(ledger['screen.outline.height'], 'mm')}. Measure "
            f"the screen with a tape.",
            entries=entries,
        )
        return
    seen = hypot(ledger["screen.picture.width"], ledger["screen.picture.height"])
    off = disagreement(trusted_mm=seen, other_mm=screen.diagonal or 0.0)
    if abs(off) > ONE_PERCENT:
        yield Finding(
            rule="screen.diagonal",
            source="tape beats diagonal; 1 % is common practice",
            status="practice",
            severity=Severity.CAUTION,
            value=round(abs(off), 4),
            limit=ONE_PERCENT,
            unit="1",
            advice=f"Outline and borders give a picture of {show(seen, 'mm')} diagonal, "
            f"{show(screen.diagonal or 0.0, 'mm')} is stated: {100 * abs(off):.1f} % apart. The outline and "
            f"borders count; measure again.",
            entries=entries,
        )


def record(design: Design, show: Show) -> Iterator[Finding]:
    """What the job says of the outline against the workshop's record of the same screen."""
    job = design.facts.job
    if job.screen is None or job.screen.start is None or job.screen.outline is None:
        return
    known = design.facts.workshop.screens[job.screen.start].screen.outline
    if known is None:
        return
    for d in ("width", "height", "depth"):
        mine, theirs = getattr(job.screen.outline, d), getattr(known, d)
        if mine and theirs and abs(disagreement(trusted_mm=mine, other_mm=theirs)) > ONE_PERCENT:
            yield Finding(
                rule="screen.record",
                source="1 % is common practice",
                status="practice",
                severity=Severity.CAUTION,
                value=round(mine, 2),
                limit=round(theirs, 2),
                unit="mm",
                advice=f"The job says the screen's {d} is {show(mine, 'mm')}, the workshop's record "
                f"{job.screen.start} says {show(theirs, 'mm')}. The job counts; measure again.",
                entries=(f"screen.outline.{d}",),
            )


RULES = (diagonal, record)
