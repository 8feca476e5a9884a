"""The findings as a letter to the maker: what stops, what wants a decision, what was noted, what was not looked at, who decides."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import groupby

from halfsilver.documents.drawings import papers
from halfsilver.documents.finding_words import HEADS
from halfsilver.documents.letter_entries import Entry, Workings, alike, entries, summed
from halfsilver.documents.letter_quantities import typographic
from halfsilver.documents.letter_words import STATUS_WORDS, UNCONFIRMED
from halfsilver.documents.more import template
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, sentence, shortened
from halfsilver.drawing.sheets import PAPERS
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Units

RUNNING_MM, RUNNING_CAPITAL_MM = 100.0, 2.05
NEVER = (
    "No check of this program looks at the wall itself and what runs in it; at fire, smoke and ways of escape; at earthquakes and "
    "vibration; at how screen, supply and lights fail, and whether the whole may bear a mark of approval; at radio and hearing aids; at "
    "what the pictures flash; at theft and damage done on purpose."
)
SIDE_NAMES = ("Left", "Right", "Top", "Bottom")
Row = dict[str, object]


def findings_pdf(
    design: Design, findings: Sequence[Finding], workings: Workings, *, show: Show, date: str, revision: int, version: str
) -> bytes:
    """The letter as a document of its own.

    Parameters
    ----------
    design : Design
        What is built.
    findings : sequence of Finding
        What the checks found, gravest first.
    workings : mapping of Finding to tuple of Working
        How it was worked out, where it was.
    show : Show
        Writes a value in the job's own units.
    date : str
        Date of issue, YYYY-MM-DD; also the file's own time stamp.
    revision : int
        Revision of the pack.
    version : str
        Version of the program.

    Raises
    ------
    RenderError
        If it cannot be typeset.
    """
    data = issued(design, date=date, revision=revision, version=version)
    return typeset("findings.typ", data, pictures={"look.typ": template("look.typ"), **letter_pages(design, findings, workings, show)})


def letter_pages(design: Design, findings: Sequence[Finding], workings: Workings, show: Show) -> Mapping[str, bytes]:
    """Files that a template includes to print the letter: ``letter.typ`` and what it reads."""
    told = letter(design, findings, workings, show)
    return {"letter.typ": template("letter.typ"), "letter.json": json.dumps(told, ensure_ascii=False).encode()}


def issued(design: Design, *, date: str, revision: int, version: str) -> Row:
    """What stands at the head and foot of every page."""
    job = design.facts.job
    return {
        "title": printable(job.title),
        "running": shortened(job.title, room_mm=RUNNING_MM, size_mm=RUNNING_CAPITAL_MM),
        "client": printable(job.client),
        "shop": printable(design.facts.workshop.head.name),
        "date": date,
        "revision": revision,
        "version": version,
        "digest": design.digest[:12],
        "units": f"inches, to 1/{job.fraction}" if job.units is Units.INCH else "millimetres",
        "paper": PAPERS[papers(job).words],
    }


def letter(design: Design, findings: Sequence[Finding], workings: Workings, show: Show) -> Row:
    """What the letter says.

    Returns
    -------
    dict
        ``opening``, ``groups`` of stops and cautions, ``notes`` by subject, ``full`` notes, ``open`` what was not checked, ``deciders``.
    """
    listed = entries(findings, workings)
    by = {severity: [entry for entry in listed if entry.finding.severity is severity] for severity in Severity}
    grave = [severity for severity in (Severity.STOP, Severity.CAUTION) if by[severity]]
    return {
        "opening": _opening(design, by),
        "groups": [_group(severity, by[severity], show) for severity in grave],
        "notes": _notes(by[Severity.NOTE], show),
        "full": [
            {"subject": subject, "items": [_item([entry], show) for entry in belonging]}
            for subject, belonging in groupby(by[Severity.NOTE], key=lambda entry: entry.subject)
        ],
        "open": [_left_open(group, show) for group in alike(by[Severity.NOT_RUN])],
        "never": NEVER,
        "deciders": _deciders([*by[Severity.STOP], *by[Severity.CAUTION], *by[Severity.NOT_RUN]]),
    }


def _opening(design: Design, by: Mapping[Severity, Sequence[Entry]]) -> str:
    stops, cautions, notes, left = (len(by[severity]) for severity in Severity)
    stopped = "nothing stops the work" if not stops else f"{_number(stops, 'finding stops', 'findings stop')} the work until settled"
    return (
        f"{stops + cautions + notes + left} checks belong to this design: {stopped}, "
        f"{_number(cautions, 'wants', 'want')} a decision, {notes} {'is' if notes == 1 else 'are'} noted, and "
        f"{left or 'none'} could not be made. "
        "Inputs, formulas and sources stand in the workings under the numbers in brackets."
    )


def _number(count: int, one: str, many: str) -> str:
    return f"{count or 'none'} {one if count == 1 else many}"


def _group(severity: Severity, listed: Sequence[Entry], show: Show) -> Row:
    head, lead = HEADS[severity]
    items = [_item(group, show) for group in alike(listed)]
    return {"severity": severity.value, "head": head, "lead": lead, "items": items}


def _item(group: Sequence[Entry], show: Show) -> Row:
    told = [entry.finding for entry in group]
    held = dict.fromkeys(", ".join(part for part in entry.held(show) if part) for entry in group)
    unknown = dict.fromkeys(STATUS_WORDS[one.status] for one in told if one.status in UNCONFIRMED)
    return {
        "title": group[0].title,
        "refs": ", ".join(entry.number for entry in group),
        "rule": told[0].rule,
        "entries": ", ".join(dict.fromkeys(printable(name) for one in told for name in one.entries)),
        "text": " ".join(sentence(typographic(printable(said))) for said in sides_together([one.advice for one in told])),
        "held": "; ".join(one for one in held if one),
        "source": "; ".join(dict.fromkeys(typographic(printable(one.source)) for one in told)),
        "unconfirmed": "; ".join(unknown),
    }


def _left_open(group: Sequence[Entry], show: Show) -> Row:
    """What was not checked, without saying so again, nor how well known what was not done is."""
    item = _item(group, show)
    return {**item, "text": sentence(str(item["text"]).removeprefix("Not checked: ")), "unconfirmed": ""}


def sides_together(told: Sequence[str]) -> list[str]:
    """Sentences that differ only in the side that they begin with, as one.

    Examples
    --------
    >>> sides_together(["Left: 2 mm of border show.", "Top: 2 mm of border show.", "Bottom: 5 mm show."])
    ['Left and top: 2 mm of border show.', 'Bottom: 5 mm show.']
    """
    sides: dict[str, list[str]] = {}
    for said in told:
        first, colon, rest = said.partition(": ")
        sides.setdefault(rest if colon and first in SIDE_NAMES else said, []).append(first if colon and first in SIDE_NAMES else "")
    return [f"{_listed(names)}: {said}" if any(names) else said for said, names in sides.items()]


def _listed(names: Sequence[str]) -> str:
    *most, last = [*names[:1], *(name.lower() for name in names[1:])]
    return f"{', '.join(most)} and {last}" if most else last


def _notes(listed: Sequence[Entry], show: Show) -> list[Row]:
    """Notes of each subject in one short paragraph; those that only tell what to do are named at its end."""
    rows = []
    for subject, belonging in groupby(listed, key=lambda entry: entry.subject):
        groups = alike(list(belonging))
        told = [group for group in groups if any(entry.finding.value is not None for entry in group)]
        words = [group for group in groups if group not in told]
        rows.append({"subject": subject, "told": [_short(g, show) for g in told], "words": [_short(g, show) for g in words]})
    return rows


def _short(group: Sequence[Entry], show: Show) -> Row:
    return {"text": typographic(summed(group, show)), "refs": ", ".join(entry.number for entry in group)}


def _deciders(listed: Sequence[Entry]) -> list[Row]:
    refs: dict[str, list[str]] = {}
    for entry in listed:
        refs.setdefault(sentence(entry.decides), []).append(entry.number)
    return [{"who": printable(who), "refs": ", ".join(numbers)} for who, numbers in refs.items()]
