"""Whole jobs out of the store and into it: one archive with options, history and packs, or a plain job file."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from zipfile import is_zipfile

from halfsilver.errors import StoreError
from halfsilver.files.atomic import write_beside
from halfsilver.files.located import read_bytes, text_of
from halfsilver.services.desk import Desk
from halfsilver.services.desk_options import options
from halfsilver.store.archive import Counted, read_archive, write_archive
from halfsilver.store.store import Store


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
    StoreError
        If there is no such job, or the file is there already.
    """
    if path.exists():
        raise StoreError(f"{path}: this file is there already and is not overwritten. Name a new one.")
    data, counted = archive_of(store, job)
    write_beside(path, data)
    return counted


def import_file(store: Store, path: Path, *, cache: Path, by: str = "") -> Iterator[str]:
    """Take in a job file or an archive.

    Yields
    ------
    str
        Lines that say what was taken in.

    Raises
    ------
    JobError, StoreError
        If it is neither, or cannot be kept.
    """
    if is_zipfile(path):
        counted = read_archive(store, path)
        yield f"{path}: {counted.records} records with {counted.states} states and {counted.packs} packs"
        return
    desk = Desk(store=store, cache=cache)
    text = text_of(read_bytes(path), file=str(path))
    desk.reckoned_text(text, file=str(path))
    state = desk.begin(text, by=by, words=f"From the file {path.name}.", what="imported")
    yield f"{path}: taken in as {state.record}"
