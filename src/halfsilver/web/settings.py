"""Who sits at this desk, and its lamp: kept in cookies, nothing more."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from halfsilver.web.forms import Form, token_of
from halfsilver.web.shown import LAMPS, YEAR_S, keep_visitor

router = APIRouter(include_in_schema=False)


@router.post("/who")
def who(form: Form) -> Response:
    """Remember a name for the history."""
    name = "".join(c for c in form["who"] if c.isprintable()).strip()[:40]
    response = _back(form["back"])
    response.set_cookie("who", name.encode("utf-8").decode("latin-1"), max_age=YEAR_S, samesite="strict", httponly=True)
    return response


@router.post("/lamp")
def lamp(form: Form) -> Response:
    """Light, dark, or as the system says."""
    response = _back(form["back"])
    response.set_cookie("lamp", form["lamp"] if form["lamp"] in LAMPS else "auto", max_age=YEAR_S, samesite="strict", httponly=True)
    return response


@router.get("/token")
def token(request: Request) -> Response:
    """A token of this start, for a page that was open while the program started anew."""
    response = JSONResponse({"token": token_of(request)})
    keep_visitor(request, response)
    return response


def _back(path: str) -> Response:
    """Back to a page of ours; anything that could lead elsewhere leads to the jobs."""
    plain = path.startswith("/") and not path.startswith("//") and "\\" not in path and path.isprintable()
    return RedirectResponse(path if plain else "/", 303)
