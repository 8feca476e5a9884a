"""Reading and writing cutting tasks and plans as JSON, every problem with its line and column.

A task stands alone in its file or in a pack of several, addressed ``FILE.json#ID``.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from halfsilver.errors import JobError, Problem
from halfsilver.files.atomic import write_beside
from halfsilver.making.cutting.instance import Instance
from halfsilver.making.cutting.neutral import instance_from_dict, solution_from_dict
from halfsilver.making.cutting.solution import Solution

MOST_BYTES = 64 * 1024 * 1024


def read_instance(address: str) -> Instance:
    """Read one cutting task.

    Parameters
    ----------
    address : str
        ``FILE.json``, or ``FILE.json#ID`` for one of a pack.

    Returns
    -------
    Instance
        The task.

    Raises
    ------
    JobError
        If the file cannot be read or does not hold such a task; with every problem found.
    """
    name, _, wanted = address.partition("#")
    text, data = _load(name)
    prefix, one = _choose(name, data, wanted)
    try:
        return instance_from_dict(one)
    except JobError as error:
        raise JobError(_placed(name, text, prefix, error.problems)) from None


def read_solution(path: str) -> Solution:
    """Read one plan.

    Raises
    ------
    JobError
        If the file cannot be read or does not hold a plan; with every problem found.
    """
    text, data = _load(path)
    try:
        return solution_from_dict(data)
    except JobError as error:
        raise JobError(_placed(path, text, "", error.problems)) from None


def write_json(path: str, document: object) -> None:
    """Write a document so that the file is either the old one or the whole new one.

    Raises
    ------
    JobError
        If the place cannot be written.
    """
    write_beside(path, (json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode())


def _load(name: str) -> tuple[str, object]:
    path = Path(name)
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _failure("file-too-large", name, f"At most {MOST_BYTES // 2**20} MB are read.")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise _failure("file-not-read", name, f"The file cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError as error:
        raise _failure("file-not-text", name, f"The file is not UTF-8 text (byte {error.start}).") from None
    try:
        return text, json.loads(text, parse_constant=_no_constant, object_pairs_hook=_unique)
    except json.JSONDecodeError as error:
        raise _failure("json-syntax", name, f"{error.msg}.", line=error.lineno, column=error.colno) from None
    except RecursionError:
        raise _failure("json-too-deep", name, "Lists and objects are nested too deeply.") from None
    except ValueError as error:
        raise _failure("json-value", name, f"{error}.") from None


def _failure(code: str, name: str, allowed: str, *, line: int = 0, column: int = 0) -> JobError:
    return JobError([Problem(code=code, file=name, line=line, column=column, read=name, allowed=allowed)])


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number here")


def _unique(pairs: list[tuple[str, object]]) -> dict[str, object]:
    table = dict(pairs)
    if len(table) < len(pairs):
        names = [key for key, _ in pairs]
        raise ValueError(f"the key {next(key for key in names if names.count(key) > 1)!r} stands twice in one object")
    return table


def _choose(name: str, data: object, wanted: str) -> tuple[str, object]:
    """The task asked for and the path that leads to it."""
    if not isinstance(data, dict) or data.get("format") != "cut-pack/1":
        found = data.get("id") if isinstance(data, dict) else None
        if wanted and found != wanted:
            raise _missing(name, wanted, [found])
        return "", data
    entries = data.get("instances")
    entries = entries if isinstance(entries, list) else []
    names = [entry.get("id") if isinstance(entry, dict) else None for entry in entries]
    if not wanted and len(entries) == 1:
        return "instances.0", entries[0]
    if wanted not in names:
        raise _missing(name, wanted, names)
    at = names.index(wanted)
    return f"instances.{at}", entries[at]


def _missing(name: str, wanted: str, names: list[object]) -> JobError:
    known = ", ".join(str(one) for one in names[:8] if one) + (", ..." if len(names) > 8 else "")
    problem = Problem(
        code="cut-no-such-instance", file=name, path="id", read=wanted, allowed=f"The file holds: {known or 'no task'}.",
        advice="Write FILE.json#ID with one of these.",
    )  # fmt: skip
    return JobError([problem])


def _placed(name: str, text: str, prefix: str, problems: Iterable[Problem]) -> list[Problem]:
    placed = []
    for problem in problems:
        path = ".".join(part for part in (prefix, problem.path) if part)
        line, column = locate(text, path)
        placed.append(replace(problem, file=name, line=line, column=column, path=path))
    return placed


def locate(text: str, path: str) -> tuple[int, int]:
    """Line and column, from 1, of the value at a dotted path; of the deepest part of the path that exists.

    Parameters
    ----------
    text : str
        Valid JSON.
    path : str
        Keys and list positions, for example ``pieces.3.width``.
    """
    at = _skip(text, 0)
    for part in path.split(".") if path else ():
        inner = _inside(text, at, part)
        if inner is None:
            break
        at = inner
    return text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)


def _skip(text: str, at: int) -> int:
    while at < len(text) and text[at] in " \t\r\n":
        at += 1
    return at


def _inside(text: str, at: int, part: str) -> int | None:
    """Where the value of a key or list position begins inside the object or list that begins at ``at``."""
    decoder = json.JSONDecoder()
    if text[at] not in "{[":
        return None
    keyed = text[at] == "{"
    at, number = _skip(text, at + 1), 0
    while at < len(text) and text[at] not in "}]":
        key = str(number)
        if keyed:
            key, at = decoder.raw_decode(text, at)
            at = _skip(text, _skip(text, at) + 1)
        if key == part:
            return at
        _, at = decoder.raw_decode(text, at)
        at = _skip(text, at)
        at = _skip(text, at + 1) if text[at : at + 1] == "," else at
        number += 1
    return None
