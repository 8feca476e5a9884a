"""Options: copies of a job that stand beside it, up to four ways to make one piece."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from halfsilver.errors import JobError, Problem
from halfsilver.services.desk import JOB, OPTION, Desk
from halfsilver.store.values import Kind, NoSuchRecordError, State

if TYPE_CHECKING:
    from halfsilver.model.results import CompareRecord

LETTERS: Final = ("b", "c", "d")


def base_of(record: str) -> str:
    """The job that an option belongs to; a job itself is its own."""
    return record.partition(OPTION)[0]


def letter_of(record: str) -> str:
    """Capital letter of an option; A for the job itself."""
    return (record.partition(OPTION)[2] or "a").upper()


def options(desk: Desk, record: str) -> tuple[State, ...]:
    """A job and its options, the job first (raises `NoSuchRecordError`)."""
    base = base_of(record)
    found = desk.store.standing((base, *(f"{base}{OPTION}{letter}" for letter in LETTERS)))
    if not found or found[0].record != base:
        raise NoSuchRecordError(f'There is no "{base[:50]}" in the store.')
    return found


def add_option(desk: Desk, record: str, *, by: str, name: str = "") -> State:
    """A further option, which begins as a copy.

    Raises
    ------
    JobError
        If there are four already.
    """
    from halfsilver.files.edit import set_values

    base, source = base_of(record), desk.head(record)
    taken = {state.record for state in options(desk, base)}
    letter = next((one for one in LETTERS if f"{base}{OPTION}{one}" not in taken), "")
    if not letter:
        allowed = f"A job and {len(LETTERS)} options stand side by side."
        raise JobError([Problem(code="too-many-options", allowed=allowed, advice="Change one of them instead.")])
    held = desk.store.content(source)
    title = name.strip()[:120] or f"{desk.head(base).title}: option {letter.upper()}"
    text = set_values(desk.text(source), {"title": title}, file=JOB)
    content = replace(held, title=title, files={**held.files, JOB: text.encode()})
    words = f"Begun as a copy of {letter_of(record)}, state {source.number}."
    return desk.store.begin(f"{base}{OPTION}{letter}", Kind.JOB, content, desk.made(by, "begun", words))


def take_option(desk: Desk, record: str, *, based_on: int, by: str) -> State:
    """Make an option the job; what the job was before stays in its history.

    Raises
    ------
    ConflictError
        If the job was changed in between.
    """
    from halfsilver.files.edit import set_values

    base = desk.head(base_of(record))
    source = desk.head(record)
    held = desk.store.content(source)
    text = set_values(desk.text(source), {"title": base.title}, file=JOB)
    content = replace(held, title=base.title, stage=base.stage, due_on=base.due_on, files={**held.files, JOB: text.encode()})
    words = f"Option {letter_of(record)}, state {source.number}, was chosen."
    return desk.store.append(base.record, content, desk.made(by, "edited", words), based_on=based_on)


def compared(desk: Desk, records: tuple[State, ...]) -> CompareRecord:
    """Jobs side by side (errors as `Desk.reckoned` and its design)."""
    from halfsilver.model.results import CompareRecord
    from halfsilver.services.compare import option

    rows = []
    for state in records:
        reckoned = desk.reckoned(state)
        rows.append(replace(option(reckoned.loaded, reckoned.design), job=state.record))
    return CompareRecord(options=tuple(rows))
