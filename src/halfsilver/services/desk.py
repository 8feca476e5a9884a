"""The desk: what may be done to the jobs of a shop, on a store that keeps every state they have been in.

Every change names who made it, when, and what it was; it is based on the state its sender saw, and gives way to a choice where another
state stands by then. Pages, the API and the command line ask here.
"""

from __future__ import annotations

import hashlib
import re
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Final

from halfsilver.errors import JobError, Problem, QuantityError
from halfsilver.files.located import text_of
from halfsilver.services.desk_reckoned import Reckoned, Shelf
from halfsilver.services.desk_shop import Shop, read_shop, shop_state
from halfsilver.services.desk_values import Clash, Difference, Stage, TooLate, differences, leaves
from halfsilver.store.store import Store
from halfsilver.store.values import ConflictError, Content, Kind, Made, State

if TYPE_CHECKING:
    from halfsilver.model.job import Job

JOB: Final = "job.yaml"
VIEWERS: Final = "viewers"
OPTION: Final = "--"  # between a job's id and the letter of one of its options
LONGEST_WORDS: Final = 2000
MOST_JOBS: Final = 20_000


def clock() -> str:
    """Now, UTC, ISO 8601."""
    return datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


@dataclass(frozen=True, kw_only=True)
class Desk:
    """A store with what it takes to reckon its jobs.

    Parameters
    ----------
    store : Store
        Where everything is kept.
    cache : Path
        A folder for copies, which may be emptied at any time.
    now : callable
        Says when it is.
    shelf : Shelf
        The jobs that were reckoned last.
    """

    store: Store
    cache: Path
    now: Callable[[], str] = clock
    shelf: Shelf = field(default_factory=Shelf)
    _shops: dict[str, Shop] = field(default_factory=dict, repr=False)
    _turns: dict[str, Lock] = field(default_factory=dict, repr=False)

    # Looking -------------------------------------------------------------------------------------------------------

    def jobs(self, *, words: str = "", stage: str = "") -> tuple[State, ...]:
        """The standing states of all jobs, those due first at the top; options stand with their job, not here."""
        return tuple(state for state in self.store.heads(Kind.JOB, words=words, stage=stage, most=MOST_JOBS) if OPTION not in state.record)

    def head(self, record: str) -> State:
        """The state of a job that stands.

        Raises
        ------
        NoSuchRecordError
            If there is no such job.
        """
        return self.store.head(record)

    def text(self, state: State) -> str:
        """The job's text in a state."""
        sha256 = state.files[JOB]
        return text_of(self.store.blobs([sha256])[sha256], file=JOB)

    def shop(self, number: int = 0) -> Shop:
        """The workshop as it stands, or as it was in one of its states (errors as `read_shop`)."""
        made = Made(by="desk", at=self.now(), what="begun", words="The invented workshop, as a beginning.")
        state = self.store.state("workshop", number) if number else shop_state(self.store, made)
        key = f"{state.number}"
        if key not in self._shops:
            self._shops[key] = read_shop(self.store, state, cache=self.cache / "workshops")
        return self._shops[key]

    def reckoned(self, state: State) -> Reckoned:
        """The job of a state with what follows from it, held against the workshop as it stands.

        Raises
        ------
        JobError
            If the job or the workshop cannot be read.
        """
        return self.reckoned_text(self.text(state), beside=state.files)

    def reckoned_text(self, text: str, *, beside: Mapping[str, str] | None = None, file: str = JOB) -> Reckoned:
        """The job of a text, such as a draft that nobody has kept yet (errors as `reckoned`).

        Parameters
        ----------
        text : str
            Of a job file.
        beside : mapping of str to str, optional
            Files that it may name, by their SHA-256 in the store.
        file : str
            Name that problems show.
        """
        from halfsilver.services.load import load_text

        shop, named = self.shop(), beside or {}
        others = {name: sha256 for name, sha256 in sorted(named.items()) if name != JOB}
        key = hashlib.sha256("\0".join((file, text, shop.digest, *others, *others.values())).encode()).hexdigest()

        def make() -> Reckoned:
            blobs = self.store.blobs(others.values())
            files = {name: blobs[sha256] for name, sha256 in others.items()}
            return Reckoned(load_text(text, file=file, workshop=shop.workshop, folder=shop.folder, beside=files))

        return self.shelf.get(key, make)

    # Changing ------------------------------------------------------------------------------------------------------

    def begin(self, text: str, *, by: str, words: str, due_on: str = "", what: str = "begun", token: str = "") -> State:
        """A new job of a text.

        Raises
        ------
        JobError
            If the text is no job, or the date none.
        """
        job = self.reckoned_text(text).loaded.job
        content = Content(
            title=job.title, client=job.client, stage=Stage.ASKED.value, due_on=_date(due_on), files={JOB: text.encode()}
        )  # fmt: skip
        return self.store.begin(new_id(job.title), Kind.JOB, content, self.made(by, what, words, token=token))

    def change(
        self, record: str, values: Mapping[str, str], *, based_on: int, by: str, words: str = "", token: str = ""
    ) -> State | TooLate:
        """Set values at key paths of a job; an empty value takes the key out.

        Parameters
        ----------
        record : str
            The job.
        values : mapping of str to str
            Key path to the value as written.
        based_on : int
            The state that the sender saw.
        by, words, token : str
            Who, in which words, and the key under which the same change may be sent again.

        Returns
        -------
        State or TooLate
            The state that stands now; or, where another stands than the sender saw, what there is to choose from.

        Raises
        ------
        JobError
            If a value cannot be read, or the file not be changed. Nothing is written then.
        """
        changed = edited(self.text(self.store.state(record, based_on)), values)
        return self.write(record, changed, based_on=based_on, by=by, words=words, token=token)

    def write(self, record: str, changed: str, *, based_on: int, by: str, words: str = "", token: str = "") -> State | TooLate:
        """Keep a new text of a job (parameters, result and errors as `change`)."""
        seen = self.store.state(record, based_on)
        text = self.text(seen)
        if changed == text:
            return self.head(record)
        found = differences(text, changed)
        job = self.reckoned_text(changed, beside=seen.files).loaded.job
        content = self._content(seen, job, changed)
        try:
            return self.store.append(
                record,
                content,
                self.made(by, "edited", words or told(found) or "Words and layout of the file.", token=token),
                based_on=based_on,
            )
        except ConflictError as conflict:
            return self._too_late(seen, conflict.head, {d.path: d.now for d in found})

    def move(self, record: str, *, stage: str, due_on: str, based_on: int, by: str) -> State:
        """Say what has happened to a piece, and when it is due.

        Raises
        ------
        ConflictError
            If another state stands by now.
        JobError
            If there is no such stage or date.
        """
        seen = self.store.state(record, based_on)
        steps = [step for step in Stage if step.value == stage]
        if not steps:
            allowed = f"A piece is {', '.join(step.value for step in Stage)}."
            raise JobError([Problem(code="unknown-stage", path="stage", read=stage[:40], allowed=allowed, advice="Choose one of them.")])
        due_on = _date(due_on)
        if (stage, due_on) == (seen.stage, seen.due_on):
            return self.head(record)
        content = replace(self.store.content(seen), stage=stage, due_on=due_on)
        said = [f"{seen.stage} → {stage}"] if stage != seen.stage else []
        said += [f"due {due_on or 'any time'}"] if due_on != seen.due_on else []
        return self.store.append(record, content, self.made(by, "moved", ", ".join(said)), based_on=based_on)

    def restore(self, record: str, number: int, *, based_on: int, by: str) -> State:
        """Append what a job was in one of its states once more (errors as `move`)."""
        content = self.store.content(self.store.state(record, number))
        return self.store.append(record, content, self.made(by, "restored", f"State {number} stands again."), based_on=based_on)

    def attach(self, record: str, name: str, data: bytes, *, values: Mapping[str, str], based_on: int, by: str, words: str) -> State:
        """Put a file beside the job, and set what names it.

        Raises
        ------
        ConflictError
            If another state stands by now.
        JobError
            If the job cannot be read with it.
        """
        from halfsilver.services.load import load_text

        seen = self.store.state(record, based_on)
        held = self.store.content(seen)
        changed = edited(self.text(seen), values)
        files = {**held.files, name: data, JOB: changed.encode()}
        load_text(changed, file=JOB, workshop=self.shop().workshop, beside=files)
        return self.store.append(record, replace(held, files=files), self.made(by, "edited", words), based_on=based_on)

    def differs(self, was: State, now: State) -> tuple[Difference, ...]:
        """What differs between two states of a job."""
        found = list(differences(self.text(was), self.text(now)))
        found += [Difference(path=name, was=a, now=b) for name, a, b in _beside(was, now) if a != b]
        return tuple(found)

    def turn(self, record: str) -> Lock:
        """A lock for those who would otherwise only meet at the store, again and again: readings of one job."""
        return self._turns.setdefault(record, Lock())

    def made(self, by: str, what: str, words: str, *, token: str = "") -> Made:
        """Who changes something, now."""
        return Made(by=by.strip() or "desk", at=self.now(), what=what, words=words[:LONGEST_WORDS], token=token[:80])

    def _content(self, seen: State, job: Job, text: str) -> Content:
        held = self.store.content(seen)
        return replace(held, title=job.title, client=job.client, files={**held.files, JOB: text.encode()})

    def _too_late(self, seen: State, head: State, values: Mapping[str, str]) -> TooLate:
        was, stands = leaves(self.text(seen)), leaves(self.text(head))
        clashes = tuple(
            Clash(path=path, was=was.get(path, ""), theirs=stands.get(path, ""), mine=mine) for path, mine in values.items()
        )  # fmt: skip
        return TooLate(based_on=seen.number, head=head, values=dict(values), clashes=clashes, theirs=self.differs(seen, head))


def edited(text: str, values: Mapping[str, str]) -> str:
    """A job's text with values set, and those that are empty taken out; a viewer without a name goes, one with a new name comes."""
    from halfsilver.files.edit import set_values, with_item, without_item, without_values

    known = leaves(text)
    given = {path: value.strip() for path, value in values.items() if known.get(path, "") != value.strip()}
    items: dict[int, dict[str, str]] = {}
    for path in [path for path in given if path.startswith(f"{VIEWERS}[")]:
        at, _, key = path.removeprefix(f"{VIEWERS}[").partition("].")
        if at.isdecimal() and (f"{VIEWERS}[{at}].id" not in known or not values.get(f"{VIEWERS}[{at}].id", "-").strip()):
            items.setdefault(int(at), {})[key] = given.pop(path)
    text = set_values(text, {path: value for path, value in given.items() if value}, file=JOB)
    text = without_values(text, [path for path, value in given.items() if not value], file=JOB)
    for index in sorted(items, reverse=True):
        if f"{VIEWERS}[{index}].id" in known:
            text = without_item(text, VIEWERS, index, file=JOB)
    for index in sorted(items):
        said = {key: value for key, value in items[index].items() if value}
        if f"{VIEWERS}[{index}].id" not in known and said:
            text = with_item(text, VIEWERS, said, file=JOB)
    return text


def told(found: Sequence[Difference]) -> str:
    """A change in words, key by key."""
    some = [f"{d.path}: {d.was or 'not given'} → {d.now or 'not given'}" for d in found[:12]]
    return "; ".join(some) + (f"; and {len(found) - 12} more" if len(found) > 12 else "")


def new_id(title: str) -> str:
    """An id that nobody else has: a few letters of the title, and chance."""
    plain = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:24].strip("-") or "job"
    return f"{plain}-{secrets.token_hex(3)}"


def _date(text: str) -> str:
    if not text.strip():
        return ""
    from halfsilver.units.quantities import read_quantity

    try:
        found: str = read_quantity("date", text.strip())
    except QuantityError as error:
        raise JobError([error.at(file="", line=0, column=0, path="due")]) from None
    return found


def _beside(was: State, now: State) -> list[tuple[str, str, str]]:
    names = sorted({*was.files, *now.files} - {JOB})
    kept = [(f"file {name}", was.files.get(name, "")[:8], now.files.get(name, "")[:8]) for name in names]
    return [("stage", was.stage, now.stage), ("due", was.due_on, now.due_on), *kept]
