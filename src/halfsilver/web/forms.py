"""Forms: where they come from is proved by a signed token, and what they carry is read with limits.

The token signs the visitor's cookie with a secret that is made anew at every start. A form that was open while the program started
anew is not lost: it is shown again, with what was typed, to be sent once more.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Final

from fastapi import Depends, Request
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from halfsilver.errors import JobError, Problem

COOKIE: Final = "desk"
TOKEN: Final = "token"
HEADER: Final = "x-desk-token"
MOST_FIELDS, MOST_FILES = 400, 8
MOST_PART_BYTES: Final = 2 * 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload:
    """A file of a form."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Posted:
    """What a form carried.

    Parameters
    ----------
    values : mapping of str to str
        Fields by name; the last one counts.
    files : mapping of str to Upload
        Files by field; those left empty are not there.
    """

    values: Mapping[str, str] = field(default_factory=dict)
    files: Mapping[str, Upload] = field(default_factory=dict)

    def __getitem__(self, name: str) -> str:
        return self.values.get(name, "")

    def whole(self, name: str) -> int:
        """A field that holds a whole number.

        Raises
        ------
        HTTPException
            If it does not.
        """
        text = self[name]
        if not text.isdecimal() or len(text) > 9:
            raise HTTPException(400, "A number is missing in this form. Load the page again.")
        return int(text)

    def file(self, name: str) -> bytes:
        """What was sent in a field of files.

        Raises
        ------
        JobError
            If nothing was.
        """
        upload = self.files.get(name)
        if upload is None or not upload.data:
            raise JobError([Problem(code="file-missing", path=name, allowed="No file was chosen.", advice="Choose one first.")])
        return upload.data

    def under(self, prefix: str) -> Iterator[tuple[str, str]]:
        """Fields whose names begin with a prefix, without it."""
        return ((name.removeprefix(prefix), value) for name, value in self.values.items() if name.startswith(prefix))


class StaleForm(Exception):  # noqa: N818  (not a fault: the form is shown again)
    """A form without a token of this start."""

    def __init__(self, posted: Posted) -> None:
        self.posted = posted


def visitor_of(request: Request) -> str:
    """The visitor's cookie; a fresh one where there is none, which the answer sets."""
    known: str | None = getattr(request.state, "visitor", None)
    if known is None:
        sent = request.cookies.get(COOKIE, "")
        fresh = not (len(sent) == 32 and sent.isalnum())
        known = request.state.visitor = secrets.token_hex(16) if fresh else sent
        request.state.is_new_visitor = fresh
    return known


def token_of(request: Request) -> str:
    """The token that a form of this visitor carries."""
    return hmac.new(request.app.state.secret, visitor_of(request).encode(), hashlib.sha256).hexdigest()


async def posted_form(request: Request) -> Posted:
    """What a form carried, once its token was looked at.

    Raises
    ------
    StaleForm
        If the token is none of this start.
    """
    try:
        form = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=MOST_PART_BYTES)
    except (ValueError, KeyError, UnicodeError):
        raise HTTPException(400, "This form cannot be read. Load the page again.") from None
    values = {name: value for name, value in form.items() if isinstance(value, str) and name != TOKEN}
    uploads = [(name, value) for name, value in form.items() if isinstance(value, UploadFile)]
    files = {name: Upload(name=value.filename or "", data=await value.read()) for name, value in uploads}
    posted = Posted(values=values, files={name: one for name, one in files.items() if one.data or one.name})
    sent = request.headers.get(HEADER) or form.get(TOKEN)
    await form.close()
    if not isinstance(sent, str) or not hmac.compare_digest(sent.encode(), token_of(request).encode()):
        raise StaleForm(posted)
    return posted


Form = Annotated[Posted, Depends(posted_form)]
