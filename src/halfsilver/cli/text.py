"""Results as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity

TITLES = {Severity.STOP: "Stop", Severity.CAUTION: "Caution", Severity.NOTE: "Note", Severity.NOT_RUN: "Not checked"}
WIDTH = 110


def headline(design: Design, show: Show) -> Iterator[str]:
    """What it is and its sizes, in a few lines."""
    job, ledger = design.facts.job, design.ledger

    def size(name: str, *directions: str) -> str:
        return " x ".join(show(ledger[f"{name}.{d}"], "mm") for d in directions)

    yield f"{job.title}: {job.construction.value}, {job.scope.value}, {job.mounting.kind.value}"
    yield f"  outside      {size('outside', 'width', 'height', 'depth')}, {design.mass_kg:.1f} kg complete"
    for which in ("front", "rear"):
        if f"{which}.glass.width" in ledger:
            thick = show(ledger[f"{which}.glass.thickness"], "mm")
            yield f"  {which + ' glass':13}{size(f'{which}.glass', 'width', 'height')}, {thick} thick"
    if "gap" in ledger:
        lit = f"{ledger['strip.segments']:.0f} segments of light, {show(ledger['strip.length'], 'mm')}"
        yield f"  gap          {show(ledger['gap'], 'mm')}; {lit}"
    if "hidden.share" in ledger:
        hidden = f"{100 * ledger['hidden.share']:.1f} % hidden from the worst viewer"
        yield f"  picture      {size('screen.picture', 'width', 'height')}; {hidden}"


def finding_lines(found: Sequence[Finding]) -> Iterator[str]:
    """Findings grouped by severity, gravest first."""
    for severity, title in TITLES.items():
        group = [finding for finding in found if finding.severity is severity]
        if group:
            yield f"{title} ({len(group)})"
            for finding in group:
                yield from wrap(
                    f"{finding.rule}: {finding.advice} [{finding.source}]", WIDTH, initial_indent="  ", subsequent_indent="    "
                )
