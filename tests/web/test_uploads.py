"""Files sent by mistake or in bad faith: no crash, no traceback shown, no hang, nothing outside the store."""

from __future__ import annotations

import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desks import EXAMPLES, Visitor
from halfsilver.cli.main import cli
from hostile.drawings import drawing, hostile_drawings, polyline
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


@pytest.mark.parametrize("name", sorted(hostile_drawings()))
def test_a_hostile_drawing_is_refused_in_words(visitor: Visitor, name: str) -> None:
    data, code = hostile_drawings()[name]
    number = visitor.desk.shop().state.number
    answer = visitor.post("/workshop/outline", {"based_on": str(number), "moulding": "slim-19"}, files={"outline": ("a.dxf", data)})
    calm(answer)
    assert answer.status_code == 422
    assert f'<span class="code">{code}</span>' in answer.text
    assert 'value="slim-19"' in answer.text
    assert visitor.desk.shop().state.number == number


@pytest.mark.parametrize("data", [drawing(polyline()), b"x,z\nmm,mm\n0,0\n26,0\n26,5\n20,5\n20,30\n0,30\n"])
def test_an_outline_from_the_page_is_that_of_the_command_line(visitor: Visitor, tmp_path: Path, data: bytes) -> None:
    from halfsilver.files.workshop import copy_workshop, read_workshop

    visitor.desk.shop()
    done = visitor.post("/workshop/outline", {"based_on": "1", "moulding": "slim-19"}, files={"outline": ("a.dxf", data)})
    assert done.status_code == 303, done.text
    copy_workshop(tmp_path / "shop")
    (tmp_path / "a.dxf").write_bytes(data)
    CliRunner().invoke(cli, ["workshop", "profile", str(tmp_path / "shop"), "slim-19", str(tmp_path / "a.dxf")], catch_exceptions=False)
    shop = visitor.desk.shop()
    assert shop.workshop.mouldings["slim-19"].profile == read_workshop(tmp_path / "shop").mouldings["slim-19"].profile
    assert shop.state.made.words == "profiles.csv: slim-19 from a.dxf"


def test_a_new_moulding_comes_with_its_row(visitor: Visitor) -> None:
    state = visitor.desk.shop().state
    table = visitor.desk.store.blobs([state.files["mouldings.csv"]])[state.files["mouldings.csv"]].decode()
    row = next(line for line in table.splitlines() if line.startswith("slim-19,"))
    files = {
        "outline": ("a.dxf", drawing(polyline())),
        "table": ("mouldings.csv", f"{table}{row.replace('slim-19', 'slim-20')}\n".encode()),
    }
    alone = visitor.post("/workshop/outline", {"based_on": "1", "moulding": "slim-20"}, files={"outline": files["outline"]})
    assert alone.status_code == 422
    assert "not-in-catalogue" in alone.text
    done = visitor.post("/workshop/outline", {"based_on": "1", "moulding": "slim-20"}, files=files)
    assert done.status_code == 303, done.text
    assert len(visitor.desk.shop().workshop.mouldings["slim-20"].profile) == 6
    for moulding in ("", "../x", "a,b", 'a"', "a\nb", "é"):
        bad = visitor.post("/workshop/outline", {"based_on": "2", "moulding": moulding}, files={"outline": files["outline"]})
        assert bad.status_code == 422


@FEW
@given(data=st.binary(max_size=400), at=st.integers(0, 400))
def test_any_bytes_as_an_outline(fuzzed: tuple[Visitor, str], data: bytes, at: int) -> None:
    visitor, _ = fuzzed
    good = drawing(polyline())
    number = str(visitor.desk.shop().state.number)
    for bad in (data, good[:at] + data + good[at:]):
        calm(visitor.post("/workshop/outline", {"based_on": number, "moulding": "slim-19"}, files={"outline": ("x", bad)}))


LONG = {
    "letters": b"a " * 200_000, "heading": b"q" * 500_000, "bytes": b"00 " * 170_000, "colons": b"a:" * 250_000, "commas": b"," * 500_000,
    "lines": b"\n" * 500_000, "quotes": b'"' * 500_000, "brackets": b"[" * 500_000, "digits": b"9" * 500_000,
}  # fmt: skip


@pytest.mark.parametrize("what", sorted(LONG))
def test_nothing_long_is_read_for_long(visitor: Visitor, what: str) -> None:
    """Each reader's work is bounded: half a megabyte of one sign was once enough to keep a reader busy for hours."""
    job, data = visitor.begin(), LONG[what]
    for path, field in ((f"/jobs/{job}/file/edid", "file"), (f"/jobs/{job}/file/content", "file"), ("/new/file", "file")):
        calm(visitor.post(path, {"based_on": visitor.number(job)}, files={field: ("x", data)}))
    fields = {"based_on": str(visitor.desk.shop().state.number), "moulding": "slim-19"}
    calm(visitor.post("/workshop/outline", fields, files={"outline": ("x", data)}))
    for name in ("glass.csv", "profiles.csv", "workshop.yaml", "screens.yaml"):
        calm(visitor.post("/workshop", fields, files={"file": (name, data)}))


def test_an_outline_of_thousands_of_corners_is_refused_in_time(visitor: Visitor) -> None:
    table = visitor.desk.store.blobs([visitor.desk.shop().state.files["profiles.csv"]])
    rows = "".join(f"slim-19,{i % 97},{i // 97}\n" for i in range(18_000))
    text = next(iter(table.values())).decode() + rows
    answer = visitor.post("/workshop", {"based_on": "1"}, files={"file": ("profiles.csv", text.encode())})
    assert answer.status_code == 422
    assert "profile-too-many-points" in answer.text
