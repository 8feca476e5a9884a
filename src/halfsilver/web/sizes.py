"""Sizes: the ledger with the reason for every entry, what to measure, and drawings on which a tapped dimension leads to its reason."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfsilver.errors import HalfsilverError, Problem
from halfsilver.ledger.explain import GIVEN, Why, why
from halfsilver.ledger.ledger import Entry, Kind
from halfsilver.ledger.tolerance import Tolerance, tolerance
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.load import is_measurable
from halfsilver.web.jobs import unknown
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/sizes")
PLACES: Final = (
    ("outside", "Outside and mass"), ("front", "Front frame and pane"), ("rear", "Rear frame and pane"), ("gap", "Gap and depths"),
    ("depth", "Gap and depths"), ("batten", "Battens and strip"), ("strip", "Battens and strip"), ("screen", "The screen"),
    ("cover", "The screen"), ("reach", "The screen"), ("hidden", "What is hidden"), ("window", "What is hidden"), ("relief", "Pockets"),
    ("bar", "Holding it in"), ("retainer", "Holding it in"), ("backing", "Holding it in"), ("fit", "Play"), ("allowance", "Allowances"),
)  # fmt: skip
LEAST_MM: Final = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One entry of the ledger."""

    name: str
    label: str
    shown: str
    origin: str
    off: str
    measurable: bool
    measured: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing that can be chosen."""

    name: str
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One entry explained.

    Parameters
    ----------
    why : Why
        Sentence and tree.
    rows : tuple of (depth, Why, again)
        The tree as lines; what was told above is only named.
    spread : Tolerance or None
        How far it may be off.
    measurable : bool
        Whether a reading may take its place.
    """

    why: Why
    label: str
    rows: tuple[tuple[int, Why, bool], ...]
    spread: Tolerance | None
    measurable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SizesPage:
    """The ledger, a drawing, and perhaps one entry explained."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...] = ()
    groups: tuple[tuple[str, tuple[Row, ...]], ...] = ()
    to_measure: tuple[Row, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    drawing: str = ""
    picture: str = ""
    named: tuple[tuple[str, str], ...] = ()
    told: Told | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyPart:
    """One entry explained, as a part of the page."""

    job: JobHead
    told: Told


@router.get("")
def sizes(request: Request, job: Job, desk: AtDesk, drawing: str = "front", name: str = "") -> Response:
    """The ledger."""
    try:
        reckoned = desk.reckoned(job.state)
        page = _page(job, reckoned, drawing, name)
    except HalfsilverError as error:
        page = SizesPage(job=job, page="sizes", problems=problems_of(error))
    return show(request, "sizes.html", page)


@router.get("/why/{name}")
def reason(request: Request, job: Job, desk: AtDesk, name: str) -> Response:
    """Why one entry is what it is: a part of the page for a script, the whole page without one."""
    reckoned = desk.reckoned(job.state)
    if name not in reckoned.design.ledger:
        raise unknown("such size")
    if request.headers.get("hx-request"):
        return show(request, "why_part.html", WhyPart(job=job, told=_told(reckoned, name)))
    return show(request, "sizes.html", _page(job, reckoned, "front", name))


@router.get("/drawing/{name}.svg")
def drawing_file(job: Job, desk: AtDesk, name: str) -> Response:
    """One drawing alone."""
    reckoned = desk.reckoned(job.state)
    if name not in reckoned.scenes:
        raise unknown("such drawing")
    return Response(reckoned.svg(name), media_type="image/svg+xml")


def _page(job: JobHead, reckoned: Reckoned, drawing: str, name: str) -> SizesPage:
    ledger, scenes = reckoned.design.ledger, reckoned.scenes
    rows = [_row(reckoned, entry) for entry in ledger.entries.values()]
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(_place(row.name), []).append(row)
    order = list(dict.fromkeys(title for _, title in PLACES))
    picked = drawing if drawing in scenes else "front"
    picture = reckoned.svg(picked)
    dimensions = [found for found in dict.fromkeys(re.findall(r'data-name="([^"]+)"', picture)) if found in ledger]
    return SizesPage(
        job=job, page="sizes", groups=tuple((title, tuple(groups[title])) for title in (*order, "More") if title in groups),
        to_measure=tuple(row for row in rows if row.measurable and _worth_measuring(row.name)),
        drawings=tuple(Drawing(name=one, title=scene.title) for one, scene in scenes.items()), drawing=picked, picture=picture,
        named=tuple((found, ledger.entries[found].label) for found in dimensions), told=_told(reckoned, name) if name in ledger else None,
    )  # fmt: skip


def _worth_measuring(name: str) -> bool:
    """Openings, panes and the screen: what is measured before something is cut from it."""
    return name.startswith(("front.rebate.", "rear.rebate.", "front.glass.", "rear.glass.", "screen.outline.")) and name.count(".") == 2


def _place(name: str) -> str:
    first = name.partition(".")[0]
    return next((title for prefix, title in PLACES if first == prefix), "More")


def _row(reckoned: Reckoned, entry: Entry) -> Row:
    ledger, shown = reckoned.design.ledger, reckoned.show
    spread = tolerance(ledger, entry.name) if entry.kind is not Kind.TARGET else None
    return Row(
        name=entry.name, label=entry.label, shown=shown(ledger[entry.name], entry.unit), origin=GIVEN[ledger.origin(entry.name)],
        off=f"± {spread.worst_mm:.1f} mm" if spread is not None and spread.worst_mm > LEAST_MM else "",
        measurable=is_measurable(ledger, entry.name), measured=ledger.is_measured(entry.name),
    )  # fmt: skip


def _told(reckoned: Reckoned, name: str) -> Told:
    ledger = reckoned.design.ledger
    found = why(ledger, name, show=reckoned.show)
    return Told(
        why=found, label=ledger.entries[name].label, rows=tuple(_lines(found, 0, set())), spread=found.tolerance,
        measurable=is_measurable(ledger, name),
    )  # fmt: skip


def _lines(node: Why, depth: int, told: set[str]) -> list[tuple[int, Why, bool]]:
    again = node.name in told and bool(node.inputs)
    told.add(node.name)
    rows = [(min(depth, 9), node, again)]
    for inner in () if again else node.inputs:
        rows += _lines(inner, depth + 1, told)
    return rows
