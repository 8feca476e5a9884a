"""The shop's document: what is built, from which drawings, from which parts, what to measure, and what to mind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from halfsilver.documents.caution_words import cautions
from halfsilver.documents.dimension_table import dimension_groups, readings_to_take
from halfsilver.documents.drawings import Drawn, drawn, papers, sheets
from halfsilver.documents.finding_words import counts, finding_groups
from halfsilver.documents.letter import letter_pages
from halfsilver.documents.letter_entries import Workings
from halfsilver.documents.looks import Look, look_rows
from halfsilver.documents.more import template
from halfsilver.documents.part_table import part_groups
from halfsilver.documents.picture import glance
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.summary import assumed, headline, sentence_of, viewer_rows
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, shortened
from halfsilver.drawing.sheets import PAPERS, landscape
from halfsilver.drawing.svg import sheet_svg
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding
from halfsilver.model.job import Units

RUNNING_MM, RUNNING_CAPITAL_MM = 100.0, 2.05


def shop_pdf(
    design: Design,
    findings: Sequence[Finding],
    *,
    show: Show,
    date: str,
    revision: int,
    version: str,
    workings: Workings | None = None,
    more: Mapping[str, bytes] | None = None,
    done: Drawn | None = None,
    looks: Sequence[Look] = (),
) -> bytes:
    """The shop's document as a PDF.

    Parameters
    ----------
    design : Design
        What is built.
    findings : sequence of Finding
        What the checks found.
    show : Show
        Writes a value in the job's own units.
    date : str
        Date of issue, YYYY-MM-DD; also the file's own time stamp.
    revision : int
        Revision of the pack.
    version : str
        Version of the program.
    workings : mapping of Finding to tuple of Working, optional
        How the findings were worked out; the letter of findings draws on it.
    more : mapping of str to bytes, optional
        Further pages, as `halfsilver.documents.more.more_pages` gives them.
    done : Drawn, optional
        The drawings, where they are fitted already.
    looks : sequence of Look
        Stills of the finished piece.

    Returns
    -------
    bytes
        The same for the same arguments, anywhere and at any time.

    Raises
    ------
    RenderError
        If a drawing does not fit its paper, or the document cannot be typeset.
    """
    job, sizes = design.facts.job, Sizes(design, show)
    framed = list(sheets(done or drawn(design, show), date=date, revision=revision))
    pages = {f"sheet-{k}.svg": sheet_svg(sheet).encode() for k, sheet in enumerate(framed)}
    chosen = papers(job)
    seen, stills = look_rows(sizes, looks)
    data = {
        "title": printable(job.title),
        "running": shortened(job.title, room_mm=RUNNING_MM, size_mm=RUNNING_CAPITAL_MM),
        "client": printable(job.client),
        "date": date,
        "revision": revision,
        "version": version,
        "digest": design.digest[:12],
        "units": f"inches, to 1/{job.fraction}" if job.units is Units.INCH else "millimetres",
        "paper": PAPERS[chosen.words],
        "sheet": landscape(chosen.drawings),
        "sheets": [[name, sheet.title] for name, sheet in zip(pages, framed, strict=True)],
        "glance": "glance.svg",
        "sentence": sentence_of(design),
        "headline": headline(sizes),
        "viewers": viewer_rows(sizes),
        "assumed": assumed(sizes),
        "counts": counts(findings),
        "findings": finding_groups(findings, show),
        "parts": part_groups(sizes),
        "readings": readings_to_take(sizes),
        "dimensions": dimension_groups(sizes),
        "cautions": cautions(job.scope),
        "more": more is not None,
        "charts": "charts.typ" in (more or {}),
        "looks": seen,
    }
    told = letter_pages(design, findings, workings or {}, show)
    drawings = {**pages, "glance.svg": sheet_svg(glance(sizes)).encode()}
    pictures = {"look.typ": template("look.typ"), **told, **drawings, **(more or {}), **stills}
    return typeset("shop.typ", data, pictures=pictures)
