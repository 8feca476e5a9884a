"""The workshop: what it has and at which prices, each of its files in every state it has been in, and how a file is exchanged."""

from __future__ import annotations

import re
from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import JobError, Problem
from halfsilver.services.desk import Desk
from halfsilver.services.desk_shop import NAME, with_file, with_outline_of
from halfsilver.store.values import State
from halfsilver.web.forms import Form
from halfsilver.web.jobs import unknown
from halfsilver.web.shown import AtDesk, Who, show

router = APIRouter(include_in_schema=False, prefix="/workshop")
SHELVES = (
    ("glass", "Glass"), ("mouldings", "Mouldings"), ("lights", "Lights"), ("supplies", "Supplies"), ("hardware", "Hardware"),
    ("screens", "Screens measured here"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """One catalogue."""

    title: str
    entries: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopPage:
    """The workshop as it stands."""

    name: str
    state: State
    shelves: tuple[Shelf, ...]
    files: tuple[str, ...]
    history: tuple[State, ...]
    problems: tuple[Problem, ...] = ()
    kept: str = ""
    moulding: str = ""
    outlined: bool = False


@router.get("")
def shop(request: Request, desk: AtDesk, kept: str = "") -> Response:
    """What it has."""
    return show(request, "shop.html", _page(desk, kept=kept if NAME.fullmatch(kept) else ""))


@router.get("/{number}/{name:path}")
def file(desk: AtDesk, number: int, name: str) -> Response:
    """One file as it was in a state, to take away."""
    desk.shop()
    state = desk.store.state("workshop", number)
    sha256 = state.files.get(name)
    if sha256 is None:
        raise unknown("such file")
    plain = re.sub(r"[^a-z0-9._-]", "-", name.lower())
    headers = {"content-disposition": f'attachment; filename="{plain}"'}
    return Response(desk.store.blobs([sha256])[sha256], media_type="text/plain; charset=utf-8", headers=headers)


@router.post("")
def exchange(request: Request, desk: AtDesk, form: Form, who: Who) -> Response:
    """Put a file in the place of the one that stands, if the workshop can still be read then."""
    upload = form.files.get("file")
    name = _plain(upload.name) if upload else ""
    name = f"spectra/{name}" if form["folder"] == "spectra" else name
    try:
        data = form.file("file")
        made = desk.made(who, "edited", f"{name}: {form['words'][:200]}".rstrip(": "))
        with_file(desk.store, name, data, made, cache=desk.cache / "workshops", based_on=form.whole("based_on"))
    except JobError as error:
        return show(request, "shop.html", _page(desk, problems=error.problems), status=422)
    return RedirectResponse(f"/workshop?kept={name}", 303)


@router.post("/outline")
def outline(request: Request, desk: AtDesk, form: Form, who: Who) -> Response:
    """The outline of one moulding from a drawing or a table of corners; a new moulding comes with the table that names it."""
    table = form.files.get("table")
    more = {"mouldings.csv": table.data} if table is not None and table.data else {}
    moulding = form["moulding"].strip()
    try:
        data, file = form.file("outline"), _plain(form.files["outline"].name)[:60]
        made = desk.made(who, "edited", f"profiles.csv: {moulding[:60]} from {file}")
        with_outline_of(
            desk.store, moulding, data, made, file=file, unit=form["unit"], more=more,
            cache=desk.cache / "workshops", based_on=form.whole("based_on"),
        )  # fmt: skip
    except JobError as error:
        return show(request, "shop.html", _page(desk, problems=error.problems, moulding=moulding[:60], outlined=True), status=422)
    return RedirectResponse("/workshop?kept=profiles.csv", 303)


def _plain(name: str) -> str:
    return re.split(r"[/\\]", name)[-1].lower()


def _page(desk: Desk, *, problems: tuple[Problem, ...] = (), kept: str = "", moulding: str = "", outlined: bool = False) -> ShopPage:
    found = desk.shop()
    shelves = tuple(
        Shelf(title=title, entries=tuple((key, entry.name) for key, entry in getattr(found.workshop, name).items()))
        for name, title in SHELVES
    )
    return ShopPage(
        name=found.workshop.head.name, state=found.state, shelves=shelves, files=tuple(sorted(found.state.files)),
        history=tuple(reversed(desk.store.history("workshop")))[:60], problems=problems, kept=kept, moulding=moulding, outlined=outlined,
    )  # fmt: skip
