"""Options: up to four ways to make one piece, side by side."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import HalfsilverError, Problem
from halfsilver.model.results import OptionRecord
from halfsilver.services.desk import Desk
from halfsilver.services.desk_options import add_option, compared, letter_of, take_option
from halfsilver.store.values import State
from halfsilver.web.forms import Form
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, money, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/options")
MONEY: Final = ("price", "with tax")


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One option, with its numbers or the reason why it has none."""

    state: State
    letter: str
    record: OptionRecord | None
    problems: tuple[Problem, ...] = ()
    front: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionsPage:
    """Options side by side."""

    job: JobHead
    page: str
    ways: tuple[Way, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@router.get("")
def beside(request: Request, job: Job, desk: AtDesk) -> Response:
    """All ways there are."""
    ways = tuple(_way(desk, state) for state in job.options)
    return show(request, "options.html", OptionsPage(job=job, page="brief", ways=ways, rows=_rows(ways)))


@router.post("")
def add(job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """One more, as a copy of this."""
    made = add_option(desk, job.id, by=who, name=form["name"])
    return RedirectResponse(f"/jobs/{made.record}/brief", 303)


@router.post("/take")
def take(job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Make this one the job."""
    take_option(desk, job.id, based_on=form.whole("based_on"), by=who)
    return RedirectResponse(f"/jobs/{job.base}/brief", 303)


def _way(desk: Desk, state: State) -> Way:
    try:
        record = compared(desk, (state,)).options[0]
        return Way(state=state, letter=letter_of(state.record), record=record)
    except HalfsilverError as error:
        return Way(state=state, letter=letter_of(state.record), record=None, problems=problems_of(error))


def _rows(ways: tuple[Way, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Rows of the table: what differs is what people look for, so each row says all of them."""
    from halfsilver.model.results import CompareRecord
    from halfsilver.services.compare import table

    good = [way.record for way in ways if way.record is not None]
    told = list(table(CompareRecord(options=tuple(good))))[2:] if good else []
    at = {way.letter: i for i, way in enumerate(way for way in ways if way.record is not None)}
    return tuple((row[0], tuple(_cell(row[0], row[1 + at[way.letter]]) if way.letter in at else "" for way in ways)) for row in told)


def _cell(name: str, words: str) -> str:
    """A cell as a page sets it: money in thousands, numbers as far as anybody reads them."""
    if name in MONEY:
        amount, _, rest = words.partition(" ")
        return money(amount, rest)
    if name == "construction":
        return words.replace("-", " ")
    with suppress(ValueError):
        return f"{float(words):.3g}"
    return words.replace(" x ", " × ")
