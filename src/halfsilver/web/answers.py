"""What the API's answers share: documents exactly as the command line writes them, refusals as ``problems``."""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import Path, Query, Response
from pydantic import BaseModel, ConfigDict, Field

from halfsilver.services.records import as_text

MOST_TEXT: Final = 1 << 20
REFUSALS: Final[dict[int | str, dict[str, Any]]] = {
    422: {"description": "Something in the input has to be mended: a `problems` document.", "content": {"application/json": {}}},
    404: {"description": "There is no such job, state or document.", "content": {"application/json": {}}},
    409: {"description": "Another state stands by now: nothing was written.", "content": {"application/json": {}}},
    400: {"description": "The request cannot be read.", "content": {"application/json": {}}},
    503: {"description": "The store cannot be used.", "content": {"application/json": {}}},
}

JobText = Annotated[str, Field(max_length=MOST_TEXT, description="the text of a job file")]
Short = Annotated[str, Field(max_length=200)]
JobId = Annotated[str, Path(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$", description="id of a job in the store")]
Name = Annotated[str, Path(max_length=100, description="a name of the ledger")]
Words = Annotated[str, Query(max_length=100)]
StateNumber = Annotated[int, Field(ge=1, lt=2**31)]


class Asked(BaseModel):
    """A body: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", strict=True)


class JobAsked(Asked):
    """A job that is not in the store."""

    job: JobText
    file: Short = "job.yaml"


def as_json(told: dict[str, Any], status: int = 200) -> Response:
    """A document as JSON text, the same bytes as on the command line."""
    return Response(as_text(told), status, media_type="application/json")


def as_png(data: bytes) -> Response:
    """A picture."""
    return Response(data, media_type="image/png")


def as_zip(data: bytes, *, name: str = "") -> Response:
    """Files in one; under a name where a browser shall keep it."""
    headers = {"content-disposition": f'attachment; filename="{name}"'} if name else {}
    return Response(data, media_type="application/zip", headers=headers)
