"""Archives through the page, the API and the verb: refused whole, in words, and nothing outside the store."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desks import EXAMPLES, Visitor, desk_in
from halfsilver.cli.main import main
from hostile.archives import entries_of, hostile_archives, unfit_archives, with_list

PAGE = "was not taken in, and nothing was changed"


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    with desk_in(tmp_path_factory.mktemp("good")) as desk:
        visitor = Visitor(desk)
        job = visitor.begin("kit-mirror.yaml")
        visitor.change(job, {"title": "Another name"})
        return visitor.get(f"/jobs/{job}/file/archive").content


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Visitor, Path]]:
    folder = tmp_path_factory.mktemp("there")
    with desk_in(folder) as desk:
        desk.shop()
        yield Visitor(desk), folder


def files_in(folder: Path) -> set[Path]:
    return {path for path in folder.rglob("*") if not path.name.startswith("store.sqlite")}


def test_every_hostile_archive_is_refused_on_the_page(there: tuple[Visitor, Path], good: bytes) -> None:
    visitor, folder = there
    before = files_in(folder)
    for name, (data, code) in (hostile_archives(good) | unfit_archives(good)).items():
        answer = visitor.post("/new/file", files={"file": (f"{name}.zip", data)})
        assert answer.status_code == 422, (name, answer.text[:300])
        assert PAGE in answer.text, name
        assert f'<span class="code">{code}</span>' in answer.text, (name, code)
        assert "Traceback" not in answer.text
        assert visitor.desk.jobs() == (), name
    assert files_in(folder) == before


def test_every_hostile_archive_is_refused_by_the_verb(tmp_path: Path, good: bytes, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "in"
    place.mkdir()
    store = f"sqlite:///{tmp_path / 'store.sqlite'}"
    for i, (name, (data, code)) in enumerate((hostile_archives(good) | unfit_archives(good)).items()):
        path = place / f"{i}.zip"
        path.write_bytes(data)
        with pytest.raises(SystemExit) as stop:
            main(["import", str(path), "--store", store])
        told = capsys.readouterr()
        assert stop.value.code == 2, name
        assert told.err.startswith(str(path)), name
        assert f"[{code}]" in told.err, (name, told.err)
        assert "Traceback" not in told.err
        path.unlink()
    assert list(place.iterdir()) == []
    with pytest.raises(SystemExit):
        main(["backup", str(tmp_path / "b.zip"), "--store", store])
    assert "0 records" in capsys.readouterr().out.replace("1 records, 1 states", "0 records")  # the invented workshop at most


def test_a_job_moves_whole_from_one_shop_to_another(there: tuple[Visitor, Path], tmp_path: Path) -> None:
    with desk_in(tmp_path) as desk:
        here = Visitor(desk)
        job = here.begin("kit-mirror.yaml")
        here.change(job, {"title": "Another name"})
        here.post(f"/jobs/{job}/options", {"name": "Beside it"})
        archive = here.get(f"/jobs/{job}/file/archive")
        assert archive.headers["content-disposition"] == f'attachment; filename="{job}.zip"'
        history = desk.store.history(job)
        options = {state.record for state in desk.store.heads(history[0].kind)}
    visitor, _ = there
    answer = visitor.post("/new/file", files={"file": ("../x.zip", archive.content)})
    assert answer.headers["location"] == f"/jobs/{job}/brief"
    assert visitor.desk.store.history(job) == history
    assert {state.record for state in visitor.desk.store.heads(history[0].kind)} == options
    assert visitor.get(answer.headers["location"]).status_code == 200
    assert visitor.get(f"/jobs/{job}/file/archive").content == archive.content
    again = visitor.post("/new/file", files={"file": ("x.zip", archive.content)})
    assert again.status_code == 422
    assert "archive-taken" in again.text
    assert visitor.desk.store.history(job) == history


@pytest.mark.parametrize("example", sorted(path.name for path in EXAMPLES.glob("*.yaml")))
def test_a_job_of_every_kind_comes_back_from_its_archive(tmp_path: Path, example: str) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    with desk_in(tmp_path / "one") as desk, desk_in(tmp_path / "two") as other:
        job = Visitor(desk).begin(example)
        archive = Visitor(desk).get(f"/jobs/{job}/file/archive").content
        assert Visitor(other).post("/new/file", files={"file": ("x.zip", archive)}).status_code == 303
        assert other.reckoned(other.head(job)).design.digest == desk.reckoned(desk.head(job)).design.digest


BITS = st.lists(st.tuples(st.integers(0, 10_000), st.integers(0, 255)), min_size=1, max_size=6)
FEW = settings(max_examples=25, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9), lambda inner: st.lists(inner, max_size=3), max_leaves=5
)


@FEW
@given(bits=BITS, cut=st.integers(0, 10_000), more=st.binary(max_size=60))
def test_any_damage_is_refused_or_does_not_matter(
    there: tuple[Visitor, Path], good: bytes, bits: list[tuple[int, int]], cut: int, more: bytes
) -> None:
    visitor, _ = there
    bad = bytearray(good)
    for at, value in bits:
        bad[at % len(bad)] = value
    at = cut % len(bad)
    for data in (bytes(bad), bytes(bad[:at]), bytes(bad[:at] + more + bad[at:])):
        answer = visitor.post("/new/file", files={"file": ("x.zip", data)})
        assert answer.status_code in {303, 422}, answer.text[:300]
        assert "Traceback" not in answer.text


@FEW
@given(table=st.sampled_from(["record", "state", "state_file"]), pick=st.integers(0, 99), value=JSON)
def test_any_value_is_refused_or_can_be_shown(there: tuple[Visitor, Path], good: bytes, table: str, pick: int, value: object) -> None:
    visitor, _ = there

    def change(told: dict[str, dict[str, list[dict[str, object]]]]) -> None:
        row = told["rows"][table][pick % len(told["rows"][table])]
        row[sorted(row)[pick % len(row)]] = value

    answer = visitor.post("/new/file", files={"file": ("x.zip", with_list(good, change))})
    assert answer.status_code in {303, 422}, answer.text[:300]
    if answer.status_code == 303:
        job = answer.headers["location"].split("/")[2]
        for page in ("brief", "history", "documents", "file"):
            assert visitor.get(f"/jobs/{job}/{page}").status_code == 200, (page, value)
    assert visitor.get("/").status_code == 200


def test_a_directory_without_end_is_not_read(there: tuple[Visitor, Path]) -> None:
    """Three hundred thousand names in twenty megabytes: the ending says how long the directory is."""
    visitor, _ = there
    one = io.BytesIO()
    with zipfile.ZipFile(one, "w") as archive:
        archive.writestr("blob/" + "a" * 64, b"")
    data = one.getvalue()
    at = data.find(b"PK\x01\x02")
    record, ending = data[at : data.find(b"PK\x05\x06")], bytearray(data[data.find(b"PK\x05\x06") :])
    many = record * 170_000
    ending[12:16] = len(many).to_bytes(4, "little")
    answer = visitor.post("/new/file", files={"file": ("x.zip", data[:at] + many + bytes(ending))})
    assert answer.status_code == 422
    assert "archive-too-many" in answer.text


def test_a_good_archive_has_what_the_list_says(good: bytes) -> None:
    assert len(entries_of(good)) == 3
