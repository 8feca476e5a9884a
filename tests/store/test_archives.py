"""Archives and backups: written while others write, proved by restoring, and refused when they are not what they say."""

from __future__ import annotations

import io
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from halfsilver.errors import JobError, StoreError
from halfsilver.store.archive import back_up, read_archive, write_archive
from halfsilver.store.archive_list import OF_A_JOB
from halfsilver.store.store import Store
from halfsilver.store.tables import blob
from halfsilver.store.values import Kind, NoSuchRecordError, Pack
from hostile.archives import hostile_archives
from stores import content, made, others_writing


def filled(store: Store) -> None:
    store.begin("sky", Kind.JOB, content("one"), made("begun", token="t-1"))
    store.append("sky", content("two"), made(words="wider"), based_on=1)
    store.begin("hall", Kind.JOB, content("three", title="Hall"), made("begun"))
    pack = Pack(record="sky", number=2, revision=1, at="2026-03-04T09:00:00Z", by="AB", date="2026-03-04", files={})
    store.keep_pack(pack, {"shop.pdf": b"%PDF"})


def packed(path: Path) -> bytes:
    with Store(f"sqlite:///{path}") as store:
        filled(store)
        return archived(store)


@pytest.fixture
def empty(tmp_path: Path) -> Any:
    opened = Store(f"sqlite:///{tmp_path / 'other.sqlite'}")
    yield opened
    opened.close()


def archived(store: Store, *records: str) -> bytes:
    target = io.BytesIO()
    write_archive(store, target, records=records or None)
    return target.getvalue()


def test_a_job_moves_to_another_store_with_all_it_has_been(store: Store, empty: Store) -> None:
    filled(store)
    counted = read_archive(empty, io.BytesIO(archived(store, "sky")))
    assert (counted.records, counted.states, counted.packs, counted.contents) == (1, 2, 1, 3)
    assert empty.history("sky") == store.history("sky")
    assert empty.packs("sky") == store.packs("sky")
    assert empty.content(empty.head("sky")) == store.content(store.head("sky"))
    with pytest.raises(NoSuchRecordError):
        empty.head("hall")


def test_the_same_records_give_the_same_bytes(store: Store) -> None:
    filled(store)
    assert archived(store) == archived(store)


def test_what_is_there_already_is_never_touched(store: Store) -> None:
    filled(store)
    packed = archived(store)
    before = store.history("sky")
    with pytest.raises(JobError, match=r'"hall".*archive-taken'):
        read_archive(store, io.BytesIO(packed))
    assert store.history("sky") == before


def test_a_restored_backup_takes_the_place_of_everything(store: Store) -> None:
    filled(store)
    packed, before = archived(store), store.history("sky")
    store.append("sky", content("later"), made(), based_on=2)
    read_archive(store, io.BytesIO(packed), replace=True)
    assert store.history("sky") == before


def test_a_backup_taken_while_others_write_restores_clean(store: Store, empty: Store, tmp_path: Path) -> None:
    filled(store)
    with others_writing(store, "sky"):
        for i in range(3):
            back_up(store, tmp_path / f"backup-{i}.zip")
    for i in range(3):
        read_archive(empty, tmp_path / f"backup-{i}.zip", replace=True)
        states = empty.history("sky")
        assert [state.number for state in states] == list(range(1, len(states) + 1))
        assert all(empty.content(state).files for state in states)
    assert list(tmp_path.glob(".*")) == []


def test_a_backup_never_overwrites(store: Store, tmp_path: Path) -> None:
    (tmp_path / "b.zip").write_bytes(b"mine")
    with pytest.raises(StoreError, match="is not overwritten"):
        back_up(store, tmp_path / "b.zip")
    assert (tmp_path / "b.zip").read_bytes() == b"mine"


with TemporaryDirectory() as _folder:
    GOOD = packed(Path(_folder) / "store.sqlite")
NAMED = sorted(hostile_archives(GOOD))


@pytest.mark.parametrize("name", NAMED)
def test_a_damaged_or_hostile_archive_is_refused_whole(empty: Store, name: str) -> None:
    data, code = hostile_archives(GOOD)[name]
    with pytest.raises(JobError) as caught:
        read_archive(empty, io.BytesIO(data), name="brought.zip", limits=OF_A_JOB)
    problem = caught.value.problems[0]
    assert problem.code == code, problem
    assert problem.file == "brought.zip"
    assert problem.allowed
    assert problem.advice
    assert problem.read.isprintable()
    assert empty.heads(Kind.JOB) == ()
    with empty.database.reading() as connection:
        assert connection.execute(select(func.count()).select_from(blob)).scalar() == 0


def test_the_engine_does_not_matter_to_a_refusal(store: Store) -> None:
    for data, code in hostile_archives(GOOD).values():
        if code in {"archive-content", "archive-lacks", "archive-taken"}:  # found while it is being written
            with pytest.raises(JobError):
                read_archive(store, io.BytesIO(data))
    assert store.heads(Kind.JOB) == ()


def test_a_restore_that_is_refused_leaves_what_was_there(store: Store) -> None:
    filled(store)
    before = store.history("sky")
    with pytest.raises(JobError):
        read_archive(store, io.BytesIO(hostile_archives(GOOD)["other content"][0]), replace=True)
    assert store.history("sky") == before


@settings(max_examples=40)
@given(data=st.binary(max_size=400), cut=st.integers(0, 4000))
def test_any_bytes_are_refused_in_words(data: bytes, cut: int, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.getbasetemp()
    store = Store(f"sqlite:///{folder / 'fuzz.sqlite'}")
    try:
        if not store.heads(Kind.JOB):
            filled(store)
        whole = archived(store)
        for bad in (data, whole[:cut] if cut < len(whole) else whole[:-1], whole[:cut] + data + whole[cut + len(data) :]):
            with pytest.raises(JobError):
                read_archive(store, io.BytesIO(bad))
    finally:
        store.close()
