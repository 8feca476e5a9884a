"""Job files: read whole, with all their problems at once, and written so that they read back the same."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.decode import decode
from halfsilver.files.encode import encode_file
from halfsilver.files.located import MappingNode, ScalarNode, locate, read_located
from halfsilver.model.job import Job

FORMAT: Final = "job/1"


def read_job(path: str | Path) -> Job:
    """The job of a file.

    Raises
    ------
    JobError
        With every problem of the file.
    """
    return job_of(read_located(path), file=str(path))


def job_from_text(text: str, *, file: str = "") -> Job:
    """The job of a text, as from a form or the store (errors as `read_job`).

    Examples
    --------
    >>> job_from_text("halfsilver: job/2")
    Traceback (most recent call last):
        ...
    halfsilver.errors.JobError: :1:13  halfsilver = "job/2"  [newer-version]
      This program reads job/1.  Use a newer program, or write the file again for job/1.
    """
    return job_of(locate(text, file=file), file=file)


def job_of(node: MappingNode, *, file: str = "") -> Job:
    """The job of a located tree (errors as `read_job`)."""
    check_format(node, FORMAT, file=file)
    return decode(node, Job, file=file)


def write_job(job: Job) -> str:
    """A job as the text of a job file, in its own units; what stands at its default is left out."""
    return encode_file(job, units=job.units.value)


def check_format(node: MappingNode, wanted: str, *, file: str) -> None:
    """Check the key ``halfsilver`` before anything else: a file of another kind would only give a heap of unknown keys.

    Raises
    ------
    JobError
        If the key is missing, or names another kind or version.
    """
    found = node.get("halfsilver")
    kind = wanted.partition("/")[0]
    if found is None:
        code, read, advice = "missing-key", "", f"Add `halfsilver: {wanted}` as the first line."
    elif not isinstance(found, ScalarNode):
        code, read, advice = "wrong-shape", "", f"Write `halfsilver: {wanted}`."
    elif found.text == wanted:
        return
    elif re.fullmatch(rf"{kind}/[0-9]{{1,9}}", found.text):
        code, read, advice = "newer-version", found.text, f"Use a newer program, or write the file again for {wanted}."
    elif re.fullmatch(r"[a-z_]{1,40}/[0-9]{1,9}", found.text):
        code, read, advice = "wrong-kind", found.text, f"Give a {kind} file, or write `halfsilver: {wanted}` if it is one."
    else:
        code, read, advice = "unknown-format", found.text[:60], f"Write `halfsilver: {wanted}`."
    place = (found or node).start
    words = f"This program reads {wanted}." if read else f"The key halfsilver says kind and version of the file: {wanted}."
    raise JobError(
        [Problem(code=code, file=file, line=place.line, column=place.column, path="halfsilver", read=read, allowed=words, advice=advice)]
    )
