"""How a page is shown: the templates, what every page knows, and what stands before a page of a job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Final

from fastapi import Depends, Request
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from starlette.responses import HTMLResponse, Response

from halfsilver import __version__
from halfsilver.services.desk import Desk
from halfsilver.services.desk_options import base_of, letter_of, options
from halfsilver.services.desk_values import Stage
from halfsilver.store.values import State
from halfsilver.web.forms import COOKIE, token_of, visitor_of
from halfsilver.web.gathered import gathered
from halfsilver.web.pages import Page, pages

HERE: Final = Path(__file__).resolve().parent
YEAR_S: Final = 365 * 24 * 3600
LAMPS: Final = ("auto", "light", "dark")


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What every page knows.

    Parameters
    ----------
    token : str
        For its forms.
    who : str
        Name of the person at this desk; empty until it is given.
    lamp : str
        ``light``, ``dark``, or ``auto``: as the system says.
    here : str
        Path of the page.
    today : str
        The date, YYYY-MM-DD.
    version : str
        Of the program.
    """

    token: str
    who: str
    lamp: str
    here: str
    today: str
    version: str = __version__


@dataclass(frozen=True, slots=True, kw_only=True)
class JobHead:
    """What stands above every page of a job.

    Parameters
    ----------
    state : State
        The state that stands.
    base : str
        Id of the job; that of an option's job for an option.
    options : tuple of State
        The job and its options.
    pages : tuple of Page
        Along its ruler.
    stages : tuple of Stage
        All there are.
    """

    state: State
    base: str
    options: tuple[State, ...]
    pages: tuple[Page, ...]
    stages: tuple[Stage, ...] = tuple(Stage)

    @property
    def id(self) -> str:
        """Id of the record."""
        return self.state.record

    @property
    def letter(self) -> str:
        """Capital letter of the option; A for the job."""
        return letter_of(self.state.record)


def desk_of(request: Request) -> Desk:
    """The desk behind the pages."""
    desk: Desk = request.app.state.desk
    return desk


AtDesk = Annotated[Desk, Depends(desk_of)]


def job_head(job: str, desk: AtDesk) -> JobHead:
    """The job of a path (raises `NoSuchRecordError`)."""
    record = job[:40]
    standing = options(desk, record)
    state = next((one for one in standing if one.record == record), None) or desk.head(record)
    return JobHead(state=state, base=base_of(record), options=standing, pages=pages())


Job = Annotated[JobHead, Depends(job_head)]


def who_of(request: Request) -> str:
    """Name of the person at this desk."""
    return request.cookies.get("who", "").encode("latin-1", "ignore").decode("utf-8", "ignore")[:40].strip()


Who = Annotated[str, Depends(who_of)]


def frame_of(request: Request) -> Frame:
    """What this page knows of its visitor."""
    lamp = request.cookies.get("lamp", "")
    return Frame(
        token=token_of(request), who=who_of(request), lamp=lamp if lamp in LAMPS else "auto", here=request.url.path,
        today=desk_of(request).now()[:10],
    )  # fmt: skip


def show(request: Request, template: str, context: Any, *, status: int = 200, headers: Mapping[str, str] | None = None) -> HTMLResponse:
    """A page.

    Parameters
    ----------
    request : Request
        What was asked.
    template : str
        Its template.
    context : dataclass
        What the template may name: its fields, and ``frame``.
    status : int
        Of the answer.
    headers : mapping, optional
        More headers.
    """
    told = {f.name: getattr(context, f.name) for f in fields(context)}
    text = environment().get_template(template).render(frame=frame_of(request), **told)
    response = HTMLResponse(text, status, headers)
    keep_visitor(request, response)
    return response


def keep_visitor(request: Request, response: Response) -> None:
    """Set the visitor's cookie where it is new."""
    visitor = visitor_of(request)
    if request.state.is_new_visitor:
        response.set_cookie(COOKIE, visitor, max_age=YEAR_S, httponly=True, samesite="strict")


@cache
def environment() -> Environment:
    """The templates; what is undefined is a fault, and every text is escaped."""
    made = Environment(
        loader=FileSystemLoader(HERE / "templates"), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters |= {"day": day, "moment": moment, "money": money, "capital": capital, "sized": sized, "gathered": gathered}
    made.globals |= {"asset": asset, "svg": Markup}
    return made


@cache
def asset(name: str) -> str:
    """Address of a static file; it changes with its content, so that browsers may keep it."""
    import hashlib

    digest = hashlib.sha256((HERE / "static" / name).read_bytes()).hexdigest()[:10]
    return f"/static/{name}?{digest}"


def day(text: str) -> str:
    """A date as people read it.

    Examples
    --------
    >>> day("2026-03-04")
    '4 Mar 2026'
    """
    if not text:
        return ""
    found = date.fromisoformat(text[:10])
    return f"{found.day} {found:%b %Y}"


def moment(text: str) -> str:
    """A moment of the store as people read it."""
    found = datetime.fromisoformat(text)
    return f"{found.day} {found:%b %Y, %H:%M} UTC"


def money(amount: Any, currency: str = "") -> str:
    """An amount with thousands set apart.

    Examples
    --------
    >>> money("1234.5", "USD")
    '1 234.50 USD'
    """
    return f"{float(amount):,.2f} {currency}".replace(",", " ").strip()


def capital(text: str) -> str:
    """A text with a capital letter first."""
    return text[:1].upper() + text[1:]


def sized(count: int) -> str:
    """A number of bytes in few signs."""
    return f"{count / 1024**2:.1f} MB" if count > 900_000 else f"{max(1, round(count / 1024))} kB"
