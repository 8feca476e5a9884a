"""Whole jobs out of the store and into it: one archive with options, history and packs, or a plain job file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from io import BytesIO
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from halfsilver.errors import JobError, Problem, StoreError
from halfsilver.files.atomic import write_beside
from halfsilver.files.located import read_bytes, text_of
from halfsilver.services.desk import JOB, Desk
from halfsilver.services.desk_options import LETTERS, base_of, letter_of, options
from halfsilver.services.desk_values import Stage
from halfsilver.services.load import load_text
from halfsilver.store.archive import Counted, read_archive, write_archive
from halfsilver.store.archive_list import OF_A_JOB, WHOLE
from halfsilver.store.store import Store
from halfsilver.store.values import Kind, State

ZIP: Final = b"PK"  # how every ZIP begins, and no job file
MOST_JOBS: Final = 400
MOST_PROBLEMS: Final = 25
AT_ONCE: Final = 100  # texts that are held while they are looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What was taken in.

    Parameters
    ----------
    record : str
        Id of the job; of the first one, where an archive holds several.
    words : str
        What it was.
    """

    record: str
    words: str


def archive_of(store: Store, job: str) -> tuple[bytes, Counted]:
    """One job with its options, history and packs as an archive (raises `NoSuchRecordError`)."""
    target = BytesIO()
    records = [state.record for state in options(Desk(store=store, cache=Path()), job)]
    counted = write_archive(store, target, records=records)
    return target.getvalue(), counted


def export_job(store: Store, job: str, path: Path) -> Counted:
    """Write that archive to a new file.

    Raises
    ------
    JobError, StoreError
        If there is no such job, or the file is there already or cannot be written.
    """
    if path.exists() or path.is_symlink():
        raise StoreError(f"{path}: this file is there already and is not overwritten. Name a new one.")
    data, counted = archive_of(store, job)
    write_beside(path, data)
    return counted


def import_file(desk: Desk, path: Path, *, by: str = "") -> TakenIn:
    """Take in a file of one's own machine (errors as `taken_in`)."""
    is_archive = False
    if path.is_file():
        with path.open("rb") as stream:
            is_archive = stream.read(len(ZIP)) == ZIP
    return _archive_in(desk, path, name=str(path)) if is_archive else taken_in(desk, read_bytes(path), name=str(path), by=by)


def taken_in(desk: Desk, data: bytes, *, name: str, by: str = "") -> TakenIn:
    """Take in a job file, or an archive of whole jobs.

    Parameters
    ----------
    desk : Desk
        Whose store takes it in.
    data : bytes
        The file.
    name : str
        As problems show it.
    by : str
        Who brought it; the states of an archive keep the names they have.

    Raises
    ------
    JobError, StoreError
        If it is neither, or cannot be kept. The store is as it was then.
    """
    if data.startswith(ZIP):
        return _archive_in(desk, data, name=name)
    text = text_of(data, file=name)
    desk.reckoned_text(text, file=name)
    state = desk.begin(text, by=by, words=f"From the file {Path(name).name}.", what="imported")
    return TakenIn(record=state.record, words=f"taken in as {state.record}")


def _archive_in(desk: Desk, data: bytes | Path, *, name: str) -> TakenIn:
    """An archive is read into a store of its own first: only what can be worked with comes to the others."""
    with TemporaryDirectory(prefix="halfsilver-") as folder, Store(f"sqlite:///{Path(folder) / 'proof.sqlite'}") as proof:
        read_archive(proof, _source(data), name=name, limits=OF_A_JOB)
        found = proof.heads(Kind.JOB, most=MOST_JOBS)
        problems = tuple(islice(_unfit(desk, proof, found), MOST_PROBLEMS))
        if problems:
            raise JobError(replace(problem, file=name) for problem in problems)
    counted = read_archive(desk.store, _source(data), name=name, limits=OF_A_JOB)
    words = f"{counted.records} records with {counted.states} states and {counted.packs} packs"
    return TakenIn(record=min(state.record for state in found), words=words)


def _source(data: bytes | Path) -> BytesIO | Path:
    return data if isinstance(data, Path) else BytesIO(data)


def _unfit(desk: Desk, proof: Store, found: tuple[State, ...]) -> Iterator[Problem]:
    """Why the jobs of an archive could not be worked with."""
    if not found or len(found) == MOST_JOBS or proof.heads(Kind.WORKSHOP, most=1):
        words = f"An archive of jobs holds 1 to {MOST_JOBS - 1} of them, and no workshop."
        yield Problem(code="archive-no-job", allowed=words, advice="A backup is put back with `halfsilver restore`.")
        return
    ids = {state.record for state in found}
    for head in found:
        base, letter = base_of(head.record), letter_of(head.record).lower()
        if base not in ids or letter not in {"a", *LETTERS}:
            words = f"An option stands beside its job, under one of the letters {', '.join(LETTERS)}."
            yield Problem(code="archive-option", path="id", read=head.record, allowed=words, advice=WHOLE)
        history = proof.history(head.record)
        yield from _unfit_states(history)
        yield from _unreadable(proof, {state.files[JOB]: state for state in reversed(history) if JOB in state.files})
        yield from _unfit_head(desk, proof, head)


def _unfit_states(history: tuple[State, ...]) -> Iterator[Problem]:
    stages = {stage.value for stage in Stage}
    for state in history:
        if state.stage not in stages:
            words = f"A piece is {', '.join(stage.value for stage in Stage)}."
            yield Problem(code="unknown-stage", path=_place(state), read=state.stage[:40], allowed=words, advice=WHOLE)
        if JOB not in state.files:
            yield Problem(code="archive-lacks", path=_place(state), allowed=f"Every state of a job has its {JOB}.", advice=WHOLE)


def _unreadable(proof: Store, texts: Mapping[str, State]) -> Iterator[Problem]:
    """Texts that are none, each told at the first state that has it."""
    names = sorted(texts)
    for start in range(0, len(names), AT_ONCE):
        for sha256, data in proof.blobs(names[start : start + AT_ONCE]).items():
            try:
                text_of(data, file=JOB)
            except JobError as error:
                yield from _at(texts[sha256], error)


def _unfit_head(desk: Desk, proof: Store, head: State) -> Iterator[Problem]:
    try:
        held = proof.blobs(head.files.values())
        beside = {name: held[sha256] for name, sha256 in head.files.items()}
        load_text(text_of(beside.get(JOB, b""), file=JOB), file=JOB, workshop=desk.shop().workshop, beside=beside)
    except JobError as error:
        yield from _at(head, error)


def _at(state: State, error: JobError) -> Iterator[Problem]:
    for problem in error.problems[:3]:
        line = f", line {problem.line}" if problem.line else ""
        yield replace(problem, path=f"{_place(state)}: {problem.path or JOB}{line}", line=0, column=0)


def _place(state: State) -> str:
    return f"{state.record}, state {state.number}"
