"""The appendix of workings: every check with its inputs, formula, numbers, result, limit, sources, assumptions, and who confirms it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from halfsilver.documents.letter import Row, issued
from halfsilver.documents.letter_entries import Entry, Workings, entries
from halfsilver.documents.letter_quantities import pair, quantity, typographic
from halfsilver.documents.letter_words import STATUS_WORDS, UNCONFIRMED
from halfsilver.documents.more import template
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, sentence
from halfsilver.documents.workings_formula import formula_runs, numbers_runs, symbol_runs
from halfsilver.engineering.working import Given, Working
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding

KEY = re.compile(r"\b(?:case|fit|frame|glass|handling|lights|mounting|place|room|rules|screen|supplies|workshop)\.[a-z_]+(?:\.[a-z_]+)*\b")
NOTHING = "nothing beside the inputs above"
ORIGINS = {
    "asked": "asked in the job", "ledger": "ledger of sizes", "derived": "derived", "measured": "measured",
    "assumed": "assumed: unconfirmed",
}  # fmt: skip


def workings_pdf(
    design: Design, findings: Sequence[Finding], workings: Workings, *, show: Show, date: str, revision: int, version: str
) -> bytes:
    """The appendix as a PDF, of what `halfsilver.documents.letter.findings_pdf` takes.

    Raises
    ------
    RenderError
        If it cannot be typeset.
    """
    data = {**issued(design, date=date, revision=revision, version=version), "chapters": chapters(findings, workings, show)}
    return typeset("workings.typ", data, pictures={"look.typ": template("look.typ")})


def chapters(findings: Sequence[Finding], workings: Workings, show: Show) -> list[Row]:
    """Entries by subject, as the template prints them."""
    grouped = groupby(entries(findings, workings), key=lambda entry: (entry.number.partition(".")[0], entry.subject))
    return [
        {"subject": subject, "number": number, "entries": [_entry(one, show) for one in listed]} for (number, subject), listed in grouped
    ]


def _entry(entry: Entry, show: Show) -> Row:
    finding = entry.finding
    value, limit = entry.held(show)
    keys = _keys(entry)
    return {
        "number": entry.number,
        "title": entry.title,
        "severity": finding.severity.value,
        "rule": finding.rule,
        "advice": sentence(typographic(printable(finding.advice))),
        "value": value,
        "limit": limit,
        "source": typographic(printable(finding.source)),
        "status": STATUS_WORDS[finding.status],
        "unconfirmed": finding.status in UNCONFIRMED,
        "entries": ", ".join(map(printable, finding.entries)),
        "decides": printable(sentence(entry.decides)),
        "keys": ", ".join(keys),
        "workings": [_working(working, show) for working in entry.workings],
    }


def _keys(entry: Entry) -> tuple[str, ...]:
    """Keys of the job that would take the place of what was assumed or is unconfirmed."""
    origins = (one.origin for working in entry.workings for one in working.given)
    told = " ".join((*(words for working in entry.workings for words in working.assumptions), *origins, entry.finding.advice))
    return tuple(dict.fromkeys(KEY.findall(told)))


def _working(working: Working, show: Show) -> Row:
    value, limit = pair(working.result, working.limit, working.unit or "1", show)
    return {
        "title": printable(sentence(working.title)),
        "given": [_given(one, show) for one in working.given],
        "formula": formula_runs(working.formula, working.given),
        "numbers": numbers_of(working),
        "result": value,
        "limit": f"{working.side.value} {limit}" if limit else "",
        "use": _use(working),
        "share": min(working.use, 1.0) if working.use is not None else -1.0,
        "broken": working.holds is False,
        "source": typographic(printable(working.source)),
        "limit_source": typographic(printable(_limit_source(working))),
        "status": STATUS_WORDS[working.status],
        "unconfirmed": working.status in UNCONFIRMED,
        "assumptions": [typographic(printable(words)) for words in working.assumptions or (NOTHING,)],
        "confirms": printable(sentence(working.confirms)),
    }


def numbers_of(working: Working) -> list[dict[str, str]]:
    """The formula with its numbers: as the check wrote it down, or with each input in its place."""
    if working.put_in:
        return [{"text": typographic(printable(working.put_in)), "at": ""}]
    return numbers_runs(working.formula, working.given)


def _limit_source(working: Working) -> str:
    if working.limit is None:
        return "no limit: a value to know"
    return working.limit_source or working.source


def _use(working: Working) -> str:
    """How much of the limit is used up; nothing where it cannot be told as a share, as of degrees that begin where water freezes."""
    if working.use is None or not working.limit or working.use > 99.0 or working.use < 0.0 or working.unit == "degC":
        return ""
    return f"{100 * working.use:.0f} %"


def _given(one: Given, show: Show) -> Row:
    return {
        "name": printable(sentence(one.name)),
        "symbol": symbol_runs(one.symbol),
        "value": quantity(one.value, one.unit, show),
        "origin": typographic(printable(ORIGINS.get(one.origin, one.origin))),
        "unconfirmed": "assumed" in one.origin or "memory" in one.origin,
    }
