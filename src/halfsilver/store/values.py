"""What the store holds, as frozen values.

A *record* is a job or the workshop. Its content is a handful of named files; every change adds a state of the record under the next
number, with who made it and when. Nothing is overwritten and nothing is removed: to go back is to append an old content once more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from halfsilver.errors import StoreError


class Kind(Enum):
    """What a record is."""

    JOB = "job"
    WORKSHOP = "workshop"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What a record holds in one of its states.

    Parameters
    ----------
    title, client : str
        For lists and search; the files have the last word.
    stage : str
        What has happened to the piece.
    due_on : str
        Date it is due, YYYY-MM-DD; empty if none.
    files : mapping of str to bytes
        Name to content: ``job.yaml`` and what it refers to, or a workshop's tables.
    """

    title: str
    client: str = ""
    stage: str = ""
    due_on: str = ""
    files: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """Who changed something, when, and what it was.

    Parameters
    ----------
    by : str
        Who.
    at : str
        When, UTC, ISO 8601; given by the caller.
    what : str
        Kind of change: ``begun``, ``edited``, ``measured``, ``moved``, ``restored``, ``imported``.
    words : str
        In words, for the history.
    token : str
        Key under which the sender may send the same change again without its being made twice; empty for none.
    """

    by: str
    at: str
    what: str
    words: str = ""
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """One state of a record, as it stands in the history.

    Parameters
    ----------
    record : str
        The record's id.
    kind : Kind
        What the record is.
    number : int
        1 for the first state.
    made : Made
        The change that led to it.
    title, client, stage, due_on : str
        As in `Content`.
    files : mapping of str to str
        Name of each file to the SHA-256 of its content.
    """

    record: str
    kind: Kind
    number: int
    made: Made
    title: str
    client: str
    stage: str
    due_on: str
    files: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A pack that was issued, and the state of the record it was made of.

    Parameters
    ----------
    record : str
        The record's id.
    number : int
        The state it was made of.
    revision : int
        The revision printed on its documents.
    at, by, date : str
        When and by whom it was made, and the date printed on it.
    files : mapping of str to str
        Path within the pack to the SHA-256 of its content.
    """

    record: str
    number: int
    revision: int
    at: str
    by: str
    date: str
    files: Mapping[str, str]


class NoSuchRecordError(StoreError):
    """There is no such record, state, file or pack."""


class ConflictError(StoreError):
    """Somebody changed the record in between: nothing was written, the sender has to choose.

    Parameters
    ----------
    based_on : int
        The state that the sender had before their eyes.
    head : State
        The state that stands now.
    """

    def __init__(self, *, based_on: int, head: State) -> None:
        self.based_on, self.head = based_on, head
        super().__init__(
            f"This was changed in between: you saw state {based_on}, now state {head.number} stands, by {head.made.by} at {head.made.at}."
        )
