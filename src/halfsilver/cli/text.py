"""Results as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from textwrap import wrap

from halfsilver.documents.letter_entries import Workings, alike, entries, summed
from halfsilver.documents.letter_quantities import pair
from halfsilver.documents.letter_words import STATUS_WORDS
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


def letter_lines(found: Sequence[Finding], workings: Workings, show: Show) -> Iterator[str]:
    """Findings by severity and subject: what stops or wants a decision in full, notes in few words."""
    listed = entries(found, workings)
    for severity, title in TITLES.items():
        group = [entry for entry in listed if entry.finding.severity is severity]
        if group:
            yield f"{title} ({len(group)})"
        for subject, belonging in groupby(group, key=lambda entry: entry.subject):
            yield f"  {subject}"
            if severity is Severity.NOTE:
                yield from _wrapped("; ".join(summed(alike_ones, show) for alike_ones in alike(list(belonging))) + ".", 4, 4)
                continue
            for entry in belonging:
                held = ", ".join(part for part in entry.held(show) if part)
                yield from _wrapped(f"{entry.finding.rule}: {entry.finding.advice}{f' [{held}]' if held else ''}", 4, 6)


def working_lines(found: Sequence[Finding], workings: Workings, show: Show) -> Iterator[str]:
    """Every finding in full under its number, with its workings."""
    for entry in entries(found, workings):
        finding = entry.finding
        yield f"{entry.number}  {entry.title} ({TITLES[finding.severity].lower()}, {finding.rule})"
        yield from _wrapped(finding.advice, 4, 4)
        if not entry.workings:
            yield from _wrapped(f"Source: {finding.source} ({STATUS_WORDS[finding.status]}).", 4, 6)
        for working in entry.workings:
            value, limit = pair(working.result, working.limit, working.unit or "1", show)
            yield from _wrapped(f"{working.title}: {working.formula}", 4, 6)
            yield from _wrapped(f"with {working.numbers()}", 6, 8)
            if working.put_in:
                yield from _wrapped(f"that is {working.put_in}", 6, 8)
            yield from _wrapped(f"= {value}{f', {working.side.value} {limit}' if limit else ''}", 6, 8)
            sources = "; ".join(dict.fromkeys(source for source in (working.source, working.limit_source) if source))
            yield from _wrapped(f"Source: {sources} ({STATUS_WORDS[working.status]}).", 6, 8)
            yield from _wrapped(f"Assumed: {'; '.join(working.assumptions) or 'nothing beside that'}. Confirms: {working.confirms}.", 6, 8)
        yield ""


def _wrapped(text: str, first: int, then: int) -> list[str]:
    return wrap(text, WIDTH, initial_indent=" " * first, subsequent_indent=" " * then, break_on_hyphens=False)


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
