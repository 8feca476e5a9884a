"""The pages on a real PostgreSQL, and on an embedded store that something is wrong with."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from desks import EXAMPLES, NOW, Visitor, desk_in
from halfsilver.services.desk import Desk
from halfsilver.store import database
from halfsilver.store.store import Store
from stores import postgres_programs, postgresql


@pytest.fixture(scope="module")
def server() -> Iterator[str]:
    if postgres_programs() is None:
        pytest.skip("needs a PostgreSQL server")
    with postgresql() as url:
        yield url


@pytest.fixture
def on_postgresql(server: str, tmp_path: Path) -> Iterator[Visitor]:
    with Store(server) as store:
        yield Visitor(Desk(store=store, cache=tmp_path / "cache", now=lambda: NOW))


def test_the_way_of_a_job_on_postgresql(on_postgresql: Visitor, tmp_path: Path) -> None:
    here = on_postgresql
    job = here.begin("kit-mirror.yaml")
    other = Visitor(here.desk)  # the window beside it

    assert here.change(job, {"title": "Mine"}, based_on="1").status_code == 303
    late = other.change(job, {"title": "Theirs"}, based_on="1")
    assert late.status_code == 409
    assert "Mine" in late.text
    assert "Theirs" in late.text
    assert here.desk.head(job).number == 2

    sent = {"name": "front.rebate.width", "value": "1 mm", "sure": True, "token": "reading-1"}
    ledger = here.get(f"/api/jobs/{job}/resolve").json()["ledger"]
    sent |= {"value": f"{ledger['front.rebate.width']['value_mm'] + 0.5:.2f} mm"}
    for _ in range(2):
        taken = here.client.post(f"/api/jobs/{job}/measure", json=sent)
        assert (taken.status_code, taken.json()["number"]) == (201, 3), taken.text

    moved = here.post(f"/jobs/{job}/move", {"stage": "agreed", "due_on": "2026-05-01", "based_on": "3", "back": "/"})
    assert moved.status_code == 303
    assert here.post(f"/jobs/{job}/options", {"name": "Beside it"}).status_code == 303

    from halfsilver.services.desk_packs import make_pack

    make_pack(here.desk, here.desk.head(job), date="2026-03-04", by="AB", pictures=False)
    page = here.get(f"/jobs/{job}/documents")
    assert f"/jobs/{job}/documents/1/shop.pdf" in page.text
    assert here.get(f"/jobs/{job}/documents/1/shop.pdf").content.startswith(b"%PDF")

    history = here.get(f"/jobs/{job}/history").text
    assert all(f"/history/{number}" in history for number in (1, 2, 3, 4))
    assert here.post(f"/jobs/{job}/history/1/restore", {"based_on": "4"}).status_code == 303
    assert here.desk.head(job).number == 5
    assert here.desk.text(here.desk.head(job)) == (EXAMPLES / "kit-mirror.yaml").read_text("utf-8")
    for path in ("/", "/workshop", *(f"/jobs/{job}/{name}" for name in ("brief", "sizes", "findings", "price", "documents", "bench"))):
        assert here.get(path, follow_redirects=True).status_code == 200, path
    assert job in here.get("/", params={"q": "endless"}).text

    archive = here.get(f"/jobs/{job}/file/archive").content
    with desk_in(tmp_path) as desk:
        elsewhere = Visitor(desk)
        assert elsewhere.post("/new/file", files={"file": ("a.zip", archive)}).status_code == 303
        assert desk.store.history(job) == here.desk.store.history(job)
        assert desk.store.packs(job) == here.desk.store.packs(job)
        second = elsewhere.begin("foyer.yaml")
        back = elsewhere.get(f"/jobs/{second}/file/archive").content
    assert here.post("/new/file", files={"file": ("b.zip", back)}).headers["location"] == f"/jobs/{second}/brief"
    assert here.get(f"/jobs/{second}/brief").status_code == 200
    assert "archive-taken" in here.post("/new/file", files={"file": ("b.zip", back)}).text


def test_text_that_postgresql_cannot_hold_is_no_fault(on_postgresql: Visitor) -> None:
    job = on_postgresql.begin("kit-mirror.yaml")
    for words in ("a\x00b", "\ud800", "\x1b[31m", "é" * 5000):
        told = on_postgresql.post("/who", {"who": words.encode("utf-8", "replace").decode(), "back": "/"})
        assert told.status_code == 303
        answer = on_postgresql.change(job, {"title": words.encode("utf-8", "replace").decode()})
        assert answer.status_code in {303, 422}, answer.text[:300]
        sent = {"values": {"client": "x"}, "based_on": 1, "by": words.replace("\ud800", ""), "token": words.replace("\ud800", "")[:90]}
        assert on_postgresql.client.post(f"/api/jobs/{job}/change", json=sent).status_code < 500
        assert on_postgresql.get("/", params={"q": words.replace("\ud800", "")[:90]}).status_code == 200


def test_a_store_that_another_program_holds_says_so_and_loses_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(database, "BUSY_MS", 50)
    with desk_in(tmp_path) as desk:
        visitor = Visitor(desk)
        job = visitor.begin("kit-mirror.yaml")
        holder = sqlite3.connect(tmp_path / "store.sqlite", isolation_level=None)
        holder.execute("BEGIN IMMEDIATE")
        answer = visitor.change(job, {"title": "Mine"})
        assert answer.status_code == 503
        assert "Another program holds the store. Nothing was written; try again." in answer.text
        assert visitor.get(f"/jobs/{job}/brief").status_code == 200  # looking needs no right to write
        told = visitor.client.post(f"/api/jobs/{job}/move", json={"stage": "agreed", "based_on": 1})
        assert told.status_code == 503
        assert told.json()["schema"] == "halfsilver/problems/1"
        holder.execute("ROLLBACK")
        holder.close()
        assert visitor.change(job, {"title": "Mine"}).status_code == 303
        assert [state.number for state in desk.store.history(job)] == [1, 2]


def test_a_store_that_a_synchronising_program_exchanged_says_so_on_the_page(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    with desk_in(tmp_path) as desk:
        visitor = Visitor(desk)
        job = visitor.begin("kit-mirror.yaml")
        assert visitor.change(job, {"title": "Mine"}).status_code == 303
        place.rename(tmp_path / "moved.sqlite")
        gone = visitor.change(job, {"title": "Later"}, based_on="2")
        assert gone.status_code == 503
        assert "the store’s file has gone" in gone.text.replace("&#39;", "’").replace("store's", "store’s")
        place.write_bytes((tmp_path / "moved.sqlite").read_bytes())
        exchanged = visitor.change(job, {"title": "Later"}, based_on="2")
        assert exchanged.status_code == 503
        assert "exchanged by another program" in exchanged.text
        assert "Nothing was written" in exchanged.text.replace("\n", " ")
        for path in (f"/jobs/{job}/bench", f"/api/jobs/{job}"):
            assert visitor.get(path, follow_redirects=True).status_code in {200, 503}
        reading = visitor.client.post(f"/api/jobs/{job}/measure", json={"name": "front.rebate.width", "value": "500 mm", "sure": True})
        assert reading.status_code == 503
        place.unlink()
        (tmp_path / "moved.sqlite").rename(place)  # put back: everything acknowledged is there
        assert visitor.change(job, {"title": "Later"}, based_on="2").status_code == 303
        assert [state.title for state in desk.store.history(job)][1:] == ["Mine", "Later"]


def test_a_full_disk_is_said_on_the_page_and_loses_nothing(tmp_path: Path) -> None:
    with desk_in(tmp_path) as desk:
        visitor = Visitor(desk)
        job = visitor.begin("kit-mirror.yaml")
        with desk.store.database.reading() as connection:
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        desk.store.close()
        with desk.store.database.engine.connect() as connection:
            connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")
        text = (EXAMPLES / "kit-mirror.yaml").read_text("utf-8") + "".join(f"# {i} {i * 7919}\n" for i in range(20_00))
        answer = visitor.post(f"/jobs/{job}/file", {"text": text, "based_on": "1"})
        assert answer.status_code == 503
        assert "The disk has no room: nothing was written" in answer.text
        assert desk.head(job).number == 1
        assert visitor.get(f"/jobs/{job}/brief").status_code == 200
