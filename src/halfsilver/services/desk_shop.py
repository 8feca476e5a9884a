"""The workshop as a record of the store: its files in every state they have been in, and read through a folder of copies."""

from __future__ import annotations

import hashlib
import re
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp
from typing import TYPE_CHECKING, Final

from halfsilver.errors import JobError, Problem, StoreError
from halfsilver.files.located import text_of
from halfsilver.store.store import Store
from halfsilver.store.values import ConflictError, Content, Kind, Made, NoSuchRecordError, State

if TYPE_CHECKING:
    from halfsilver.model.workshop import Workshop

RECORD: Final = "workshop"
BESIDE: Final = re.compile(r"spectra/[a-z0-9][a-z0-9_-]{0,59}\.csv|[a-z0-9][a-z0-9_-]{0,59}\.(edid|bin|hex)")
MOULDING: Final = re.compile(r"[a-z0-9][a-z0-9_-]{0,59}")
NAME: Final = re.compile(r"(spectra/)?[a-z0-9][a-z0-9_-]{0,59}\.(csv|yaml|txt|edid|bin|hex)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The workshop in one of its states.

    Parameters
    ----------
    workshop : Workshop
        The catalogues.
    folder : Path
        A copy of the files, under the digest of all of them.
    digest : str
        Of names and contents.
    state : State
        As it stands in the store: its date is the date of the prices.
    """

    workshop: Workshop
    folder: Path
    digest: str
    state: State


def shop_state(store: Store, made: Made) -> State:
    """The state of the workshop that stands; an empty store takes up the invented one first."""
    from halfsilver.files.workshop import DEFAULT, FILES

    try:
        return store.head(RECORD)
    except NoSuchRecordError:
        files = {name: (DEFAULT / name).read_bytes() for name in FILES if (DEFAULT / name).is_file()}
        try:
            return store.begin(RECORD, Kind.WORKSHOP, Content(title="Workshop", files=files), made)
        except StoreError as refusal:
            try:
                return store.head(RECORD)  # another window was quicker
            except NoSuchRecordError:
                raise refusal from None


def read_shop(store: Store, state: State, *, cache: Path) -> Shop:
    """The workshop of a state.

    Raises
    ------
    JobError
        With the problems of its files.
    """
    from halfsilver.files.workshop import read_workshop

    digest = digest_of(state.files)
    folder = copied(store, state.files, cache / digest[:32])
    return Shop(workshop=read_workshop(folder), folder=folder, digest=digest, state=state)


def digest_of(files: Mapping[str, str]) -> str:
    """Digest of names and contents, from the contents' own."""
    told = "\n".join(f"{name} {sha256}" for name, sha256 in sorted(files.items()))
    return hashlib.sha256(told.encode()).hexdigest()


def copied(store: Store, files: Mapping[str, str], folder: Path) -> Path:
    """A folder with these files; made beside its place and renamed, so that it is there whole or not at all."""
    if not folder.is_dir():
        _write({name: data for name, data in _contents(store, files).items() if NAME.fullmatch(name)}, folder)
    return folder


def _contents(store: Store, files: Mapping[str, str]) -> dict[str, bytes]:
    blobs = store.blobs(files.values())
    return {name: blobs[sha256] for name, sha256 in files.items()}


def _write(contents: Mapping[str, bytes], folder: Path) -> None:
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(mkdtemp(prefix="new-", dir=folder.parent))
    try:
        for name, data in contents.items():
            path = beside / name
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(data)
        beside.rename(folder)
    except OSError:
        if not folder.is_dir():  # else another was quicker, with the same contents
            raise
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def with_file(store: Store, name: str, data: bytes, made: Made, *, cache: Path, based_on: int) -> State:
    """The workshop with one file exchanged or added (errors as `with_files`)."""
    return with_files(store, {name: data}, made, cache=cache, based_on=based_on)


def with_files(store: Store, files: Mapping[str, bytes], made: Made, *, cache: Path, based_on: int) -> State:
    """The workshop with files exchanged or added, if it can still be read then.

    Raises
    ------
    JobError
        If a name is none of a workshop, or with the problems that the files would bring.
    ConflictError
        If somebody changed the workshop in between.
    """
    from halfsilver.files.workshop import FILES, read_workshop

    if bad := [name for name in files if name not in FILES and not BESIDE.fullmatch(name)]:
        raise JobError(_bad_name(name) for name in bad)
    head = store.head(RECORD)
    if head.number != based_on:
        raise ConflictError(based_on=based_on, head=head)
    contents = {**_contents(store, head.files), **files}
    kept = {**head.files, **{name: hashlib.sha256(data).hexdigest() for name, data in files.items()}}
    folder = cache / digest_of(kept)[:32]
    if not folder.is_dir():
        _write({key: value for key, value in contents.items() if NAME.fullmatch(key)}, folder)
    try:
        read_workshop(folder)
    except JobError as error:
        shutil.rmtree(folder, ignore_errors=True)
        raise JobError(_named(problem, folder) for problem in error.problems) from None
    return store.append(RECORD, Content(title="Workshop", files=contents), made, based_on=based_on)


def with_outline_of(
    store: Store, moulding: str, data: bytes, made: Made, *, file: str, unit: str, more: Mapping[str, bytes], cache: Path, based_on: int
) -> State:  # fmt: skip
    """The workshop with the outline of one moulding, from a drawing or a table of corners (errors as `with_files`).

    Parameters
    ----------
    store, made, cache, based_on
        As `with_files`.
    moulding : str
        Its id.
    data, file, unit : bytes, str, str
        As `halfsilver.files.outlines.outline_of`.
    more : mapping of str to bytes
        Files that come with it: a table of mouldings where this one is new.
    """
    from halfsilver.files.outlines import PROFILES, outline_of, with_outline

    if not MOULDING.fullmatch(moulding):
        words, advice = "The id of a moulding has small letters, digits and hyphens.", "Write it as mouldings.csv does."
        raise JobError([Problem(code="bad-id", path="moulding", read=moulding[:40], allowed=words, advice=advice)])
    points = outline_of(data, file=file, unit=unit)
    known = store.head(RECORD).files.get(PROFILES)
    table = text_of(store.blobs([known])[known], file=PROFILES) if known else "moulding,x,z\n,mm,mm\n"
    files = {**more, PROFILES: with_outline(table, moulding, points).encode()}
    return with_files(store, files, made, cache=cache, based_on=based_on)


def _named(problem: Problem, folder: Path) -> Problem:
    from dataclasses import replace

    return replace(problem, file=problem.file.removeprefix(f"{folder}/").removeprefix(f"{folder}\\"))


def _bad_name(name: str) -> Problem:
    from halfsilver.files.workshop import FILES

    return Problem(
        code="file-name", read=name[:60], allowed=f"A workshop holds {', '.join(FILES)}, tables under spectra/, and blocks of screens.",
        advice="Rename the file.",
    )  # fmt: skip
