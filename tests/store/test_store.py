"""Records, states, conflicts, packs: the same on both engines."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import text

from halfsilver.errors import StoreError
from halfsilver.store.database import Database
from halfsilver.store.migrate import HEAD, migrate, version_of
from halfsilver.store.store import Store
from halfsilver.store.tables import metadata
from halfsilver.store.values import ConflictError, Content, Kind, NoSuchRecordError, Pack
from stores import content, made


def test_every_state_stays_and_can_be_read_back(store: Store) -> None:
    for i, words in enumerate(("one", "two", "three")):
        if i == 0:
            store.begin("sky", Kind.JOB, content(words), made("begun"))
        else:
            store.append("sky", content(words, title=f"Sky {i}"), made(by="CD", words=words), based_on=i)
    history = store.history("sky")
    assert [(state.number, state.made.by, state.title) for state in history] == [
        (1, "AB", "Night sky"),
        (2, "CD", "Sky 1"),
        (3, "CD", "Sky 2"),
    ]
    assert [store.content(state).files["job.yaml"] for state in history] == [b"one", b"two", b"three"]
    back = store.append("sky", store.content(history[0]), made("restored"), based_on=3)
    assert store.content(store.head("sky")) == store.content(history[0])
    assert back.number == 4


def test_two_windows_on_one_job_get_a_choice(store: Store) -> None:
    store.begin("sky", Kind.JOB, content("one"), made("begun"))
    store.append("sky", content("mine"), made(by="AB"), based_on=1)
    with pytest.raises(ConflictError, match="you saw state 1, now state 2 stands, by AB") as caught:
        store.append("sky", content("theirs"), made(by="CD"), based_on=1)
    assert caught.value.head.number == 2
    assert [store.content(state).files["job.yaml"] for state in store.history("sky")] == [b"one", b"mine"]


def test_a_change_that_is_sent_twice_is_made_once(store: Store) -> None:
    store.begin("sky", Kind.JOB, content("one"), made("begun", token="begin-1"))
    assert store.begin("sky", Kind.JOB, content("one"), made("begun", token="begin-1")).number == 1
    first = store.append("sky", content("two"), made("measured", token="reading-1"), based_on=1)
    again = store.append("sky", content("two"), made("measured", token="reading-1"), based_on=1)
    assert first == again
    assert len(store.history("sky")) == 2


def test_many_writers_lose_nothing(store: Store) -> None:
    store.begin("sky", Kind.JOB, content(""), made("begun"))

    def add(who: int) -> None:
        for i in range(5):
            while True:
                head = store.head("sky")
                text = store.content(head).files["job.yaml"].decode() + f"{who}.{i} "
                try:
                    store.append("sky", content(text), made(by=str(who)), based_on=head.number)
                    break
                except ConflictError:
                    continue

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(add, range(4)))
    written = store.content(store.head("sky")).files["job.yaml"].decode().split()
    assert sorted(written) == sorted(f"{who}.{i}" for who in range(4) for i in range(5))
    assert store.head("sky").number == 21


def test_lists_and_search(store: Store) -> None:
    store.begin("a", Kind.JOB, content(title="Night sky", client="Town hall", stage="agreed", due_on="2026-05-01"), made("begun"))
    store.begin("b", Kind.JOB, content(title="Mirror 100 %", client="Town hall", stage="asked"), made("begun"))
    store.begin("c", Kind.JOB, content(title="Sky at noon", client="Harbour", stage="asked", due_on="2026-04-01"), made("begun"))
    store.begin("shop", Kind.WORKSHOP, content(title="Shop"), made("begun"))
    ids = lambda found: [state.record for state in found]  # noqa: E731
    assert ids(store.heads(Kind.JOB)) == ["c", "a", "b"]
    assert ids(store.heads(Kind.JOB, words="SKY")) == ["c", "a"]
    assert ids(store.heads(Kind.JOB, words="town sky")) == ["a"]
    assert ids(store.heads(Kind.JOB, words="100 %")) == ["b"]
    assert ids(store.heads(Kind.JOB, words="_")) == []
    assert ids(store.heads(Kind.JOB, stage="asked")) == ["c", "b"]
    assert ids(store.heads(Kind.JOB, most=1, skip=1)) == ["a"]
    assert store.standing(["c", "none", "a"]) == (store.head("a"), store.head("c"))


def test_search_knows_capitals_of_every_script(store: Store) -> None:
    store.begin("a", Kind.JOB, content(title="Зеркало", client="Ärztehaus"), made("begun"))
    for words in ("ärzte", "ÄRZTE", "зерк", "ЗЕРК"):
        assert [state.record for state in store.heads(Kind.JOB, words=words)] == ["a"], words


def test_packs_are_kept_under_their_revision(store: Store) -> None:
    store.begin("sky", Kind.JOB, content(), made("begun"))
    pack = Pack(record="sky", number=1, revision=1, at="2026-03-04T09:00:00Z", by="AB", date="2026-03-04", files={})
    kept = store.keep_pack(pack, {"shop.pdf": b"%PDF", "drawings/front.svg": b"<svg/>"})
    assert store.packs("sky") == (kept,)
    assert store.blobs(kept.files.values())[kept.files["shop.pdf"]] == b"%PDF"
    with pytest.raises(StoreError, match="was issued before and is never overwritten"):
        store.keep_pack(pack, {"shop.pdf": b"other"})


@pytest.mark.parametrize("name", ["", "../x", "a/../b", "/etc/passwd", "a\\b", "a//b", "a\nb", "x" * 201])
def test_a_file_name_that_leads_elsewhere_is_refused_and_nothing_is_written(store: Store, name: str) -> None:
    with pytest.raises(StoreError, match="cannot be a file's name"):
        store.begin("sky", Kind.JOB, Content(title="x", files={name: b""}), made("begun"))
    with pytest.raises(NoSuchRecordError):
        store.head("sky")


@pytest.mark.parametrize("record", ["", "A", "a b", "-a", "a" * 41, "ä"])
def test_an_id_is_plain(store: Store, record: str) -> None:
    with pytest.raises(StoreError, match="small letters"):
        store.begin(record, Kind.JOB, content(), made())


def test_an_id_is_given_once(store: Store) -> None:
    store.begin("sky", Kind.JOB, content(), made())
    with pytest.raises(StoreError, match="is taken"):
        store.begin("sky", Kind.JOB, content("other"), made())


@pytest.mark.parametrize("earlier", [None, "0001"])
def test_migrations_lead_from_every_earlier_form_to_what_the_tables_say(url: str, earlier: str | None) -> None:
    database = Database(url)
    if earlier is not None:
        migrate(database, to=earlier)
    if earlier == "0001":
        with database.writing() as connection:
            connection.execute(text("INSERT INTO record (id, kind, head) VALUES ('old', 'job', 1)"))
    migrate(database)
    with database.writing() as connection:
        assert version_of(connection) == HEAD
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        assert connection.execute(text("SELECT count(*) FROM record")).scalar() == (1 if earlier else 0)
    database.close()


def test_a_store_of_a_newer_program_is_left_alone(url: str) -> None:
    database = Database(url)
    migrate(database)
    with database.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    database.close()
    with pytest.raises(StoreError, match="written by a newer program"):
        Store(url)


def test_a_file_that_another_program_exchanged_takes_no_change(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    store = Store(f"sqlite:///{place}")
    store.begin("sky", Kind.JOB, content(), made())
    place.rename(tmp_path / "moved")
    with pytest.raises(StoreError, match="has gone"):
        store.append("sky", content("two"), made(), based_on=1)
    place.write_bytes((tmp_path / "moved").read_bytes())
    with pytest.raises(StoreError, match="exchanged by another program"):
        store.append("sky", content("two"), made(), based_on=1)
    store.close()


def test_a_file_that_is_no_store_is_named(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("not a store at all\n" * 100, encoding="utf-8")
    with pytest.raises(StoreError, match=r"notes\.txt: file is not a database\. This is not a store"):
        Store(f"sqlite:///{tmp_path / 'notes.txt'}")


@pytest.mark.parametrize("url", ["", "store.sqlite", "mysql://x/y", "sqlite"])
def test_an_address_that_leads_nowhere_is_told(url: str) -> None:
    with pytest.raises(StoreError, match="begins with sqlite:///"):
        Store(url)


@pytest.mark.skipif(not Path("/dev/full").exists() or os.geteuid() != 0, reason="are POSIX")
def test_a_full_disk_damages_nothing(tmp_path: Path) -> None:
    """The engine's own limit on pages stands for a disk without room: it answers with the same error."""
    store = Store(f"sqlite:///{tmp_path / 'store.sqlite'}")
    store.begin("sky", Kind.JOB, content("one"), made())
    with store.database.reading() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
    with store.database.engine.connect() as connection:
        connection.exec_driver_sql(f"PRAGMA max_page_count={pages + 2}")
    with pytest.raises(StoreError, match="The disk has no room: nothing was written"):
        store.append("sky", Content(title="x", files={"picture.png": os.urandom(1_000_000)}), made(), based_on=1)
    assert store.head("sky").number == 1
    store.close()
    again = Store(f"sqlite:///{tmp_path / 'store.sqlite'}")
    with again.database.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
    assert again.content(again.head("sky")).files["job.yaml"] == b"one"
    again.close()
