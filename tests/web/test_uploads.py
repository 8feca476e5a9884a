"""Files sent by mistake or in bad faith: no crash, no traceback shown, no hang, nothing outside the store."""

from __future__ import annotations

import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desks import EXAMPLES, Visitor
from hostile.files import hostile_files

NAMES = [
    "../../../etc/passwd",
    "..\\..\\windows\\win.ini",
    "/etc/passwd",
    "C:\\x.csv",
    "glass.csv\x00.exe",
    "con",
    ".",
    "..",
    "a" * 4000 + ".csv",
    "%2e%2e%2fglass.csv",
]
FEW = settings(max_examples=25, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))


def calm(answer: object) -> None:
    assert answer.status_code < 500, answer.text[:300]  # type: ignore[attr-defined]
    assert "Traceback" not in answer.text  # type: ignore[attr-defined]
    assert 'File "' not in answer.text  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", sorted(hostile_files()))
def test_a_hostile_job_file_is_refused_in_words(visitor: Visitor, name: str) -> None:
    data, code = hostile_files()[name]
    answer = visitor.post("/new/file", files={"file": (name, data)})
    calm(answer)
    assert answer.status_code in {413, 422}
    assert answer.status_code == 413 or code in answer.text
    assert visitor.desk.jobs() == ()


@pytest.mark.parametrize("name", NAMES)
def test_a_name_leads_nowhere(visitor: Visitor, tmp_path: Path, name: str) -> None:
    before = {path for path in tmp_path.rglob("*") if path.is_file()}
    visitor.desk.shop()
    answer = visitor.post("/workshop", {"based_on": "1"}, files={"file": (name, b"id,name\n,\n")})
    calm(answer)
    assert answer.status_code in {400, 422}
    new = {path for path in tmp_path.rglob("*") if path.is_file()} - before
    assert all("cache" in path.parts or path.name.startswith("store.sqlite") for path in new)
    calm(visitor.post("/new/file", files={"file": (name, (EXAMPLES / "foyer.yaml").read_bytes())}))


def test_a_file_of_the_workshop_that_cannot_be_read_changes_nothing(visitor: Visitor) -> None:
    visitor.desk.shop()
    answer = visitor.post("/workshop", {"based_on": "1"}, files={"file": ("glass.csv", b"id,name\n,\nx,y\n")})
    assert answer.status_code == 422
    assert "nothing was changed" in answer.text
    assert visitor.desk.shop().state.number == 1
    assert str(visitor.desk.cache) not in answer.text


def test_new_prices_are_dated_and_reckoned_with(visitor: Visitor) -> None:
    job = visitor.begin()
    before = visitor.desk.reckoned(visitor.desk.head(job)).making.bill.cost
    table = visitor.desk.store.blobs([visitor.desk.shop().state.files["workshop.yaml"]])
    text = next(iter(table.values())).decode()
    changed = text.replace("hour:", "hour:", 1).replace("day: 8 h", "day: 7 h")
    done = visitor.post("/workshop", {"based_on": "1", "words": "shorter days"}, files={"file": ("workshop.yaml", changed.encode())})
    assert done.status_code == 303, done.text
    assert visitor.desk.shop().state.number == 2
    assert visitor.desk.reckoned(visitor.desk.head(job)).making.bill.cost == before  # days tell how long it takes, not what it costs
    assert visitor.get("/workshop/1/workshop.yaml").text == text


@FEW
@given(data=st.one_of(st.binary(max_size=600), st.binary(max_size=300).map(lambda tail: b"\x00\xff\xff\xff\xff\xff\xff\x00" + tail)))
def test_any_bytes_as_a_screens_block_or_a_picture(fuzzed: tuple[Visitor, str], data: bytes) -> None:
    visitor, job = fuzzed
    for what in ("edid", "content"):
        answer = visitor.post(f"/jobs/{job}/file/{what}", {"based_on": visitor.number(job)}, files={"file": ("x.bin", data)})
        calm(answer)


@FEW
@given(data=st.binary(max_size=2000))
def test_any_bytes_as_a_job_or_a_table(fuzzed: tuple[Visitor, str], data: bytes) -> None:
    visitor, _ = fuzzed
    calm(visitor.post("/new/file", files={"file": ("job.yaml", data)}))
    for name in ("glass.csv", "profiles.csv", "screens.yaml"):
        number = str(visitor.desk.shop().state.number)
        calm(visitor.post("/workshop", {"based_on": number}, files={"file": (name, data)}))


@pytest.fixture(scope="module")
def fuzzed(tmp_path_factory: pytest.TempPathFactory) -> object:
    from desks import desk_in

    with desk_in(tmp_path_factory.mktemp("fuzz")) as desk:
        visitor = Visitor(desk)
        yield visitor, visitor.begin()


def test_a_picture_is_kept_as_pixels_alone(visitor: Visitor) -> None:
    from PIL import Image

    job = visitor.begin()
    target = BytesIO()
    Image.new("RGB", (64, 36), (200, 10, 10)).save(target, "JPEG", comment=b"secret place")
    answer = visitor.post(f"/jobs/{job}/file/content", {"based_on": "1"}, files={"file": ("me.jpg", target.getvalue())})
    assert answer.status_code == 303, answer.text
    kept = visitor.get(f"/jobs/{job}/file/beside/content.png")
    assert kept.content.startswith(b"\x89PNG")
    assert b"secret place" not in kept.content


def test_a_picture_that_unpacks_to_too_much_is_refused(visitor: Visitor) -> None:
    from PIL import Image

    job = visitor.begin()
    target = BytesIO()
    Image.new("1", (20_000, 20_000)).save(target, "PNG")
    assert len(target.getvalue()) < 200_000
    answer = visitor.post(f"/jobs/{job}/file/content", {"based_on": "1"}, files={"file": ("bomb.png", target.getvalue())})
    assert answer.status_code == 422


def test_an_archive_is_no_job_file(visitor: Visitor) -> None:
    target = BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("../../job.yaml", "x" * 10_000_000)
    answer = visitor.post("/new/file", files={"file": ("job.zip", target.getvalue())})
    calm(answer)
    assert answer.status_code == 422
