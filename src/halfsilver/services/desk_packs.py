"""Packs: made of a state of a job, compared with the one before, and kept."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping, Sequence
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from halfsilver.services.desk import Desk
from halfsilver.services.load import Loaded
from halfsilver.store.values import Pack, State

COMPARED: Final = ("manifest.json", "design.json", "bill.json", "changes.json")
ONE_TIME: Final = (1980, 1, 1, 0, 0, 0)


def make_pack(
    desk: Desk, state: State, *, date: str, by: str, others: Sequence[State] = (), pictures: bool = True,
    say: Callable[[str], None] = lambda stage: None,
) -> Pack:  # fmt: skip
    """Make the pack of a state and keep it; the last one again where nothing differs from it.

    Parameters
    ----------
    desk : Desk
        Where the job is.
    state : State
        Of which it is made.
    date : str
        Printed on the documents, YYYY-MM-DD.
    by : str
        Who asked for it.
    others : sequence of State
        Options that the client sees beside it.
    pictures : bool
        Whether stills are drawn.
    say : callable
        Told the name of each stage as it begins.

    Raises
    ------
    JobError, NoDesignError, RenderError, StoreError
        If it cannot be made or kept.
    """
    from halfsilver.services.pack import write_pack

    kept = desk.store.packs(state.record)
    with TemporaryDirectory(prefix="halfsilver-") as place:
        folder = Path(place) / "pack"
        if kept:
            folder.mkdir()
            _put(folder, pack_files(desk, kept[-1], COMPARED))
        loaded = desk.reckoned(state).loaded
        beside = [desk.reckoned(other).loaded for other in others]
        written = write_pack(loaded, str(folder), date=date, others=beside, pictures=pictures, say=say)
        if kept and written.revision == kept[-1].revision:
            return kept[-1]
        say("Keeping")
        files = {name: (folder / name).read_bytes() for name in written.files}
    pack = Pack(
        record=state.record, number=state.number, revision=written.revision, at=desk.now(), by=by or "desk", date=date, files={}
    )  # fmt: skip
    return desk.store.keep_pack(pack, files)


def packed(loaded: Loaded, *, date: str, pictures: bool) -> bytes:
    """The pack of a job that is not in the store, as a ZIP (errors as `make_pack`)."""
    from halfsilver.services.pack import write_pack

    with TemporaryDirectory(prefix="halfsilver-") as place:
        folder = Path(place) / "pack"
        written = write_pack(loaded, str(folder), date=date, pictures=pictures)
        return zipped({name: (folder / name).read_bytes() for name in written.files})


def pack_files(desk: Desk, pack: Pack, names: Sequence[str] | None = None) -> dict[str, bytes]:
    """Contents of a pack by path, all or those named."""
    wanted = {name: sha256 for name, sha256 in pack.files.items() if names is None or name in names}
    blobs = desk.store.blobs(wanted.values())
    return {name: blobs[sha256] for name, sha256 in wanted.items()}


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Files as one ZIP, the same bytes every time."""
    target = BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted(files.items()):
            archive.writestr(zipfile.ZipInfo(name, ONE_TIME), data, zipfile.ZIP_DEFLATED)
    return target.getvalue()


def _put(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        (folder / name).write_bytes(data)
