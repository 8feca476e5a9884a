"""The workshop's folder: what comes with the program, what a damaged copy says, and the copy itself."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from halfsilver.errors import JobError, Problem
from halfsilver.files.workshop import DEFAULT, FILES, copy_workshop, read_workshop
from halfsilver.model.workshop import HardwareUse, StockForm, Workshop


@pytest.fixture(scope="module")
def workshop() -> Workshop:
    return read_workshop()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_workshop(tmp_path / "shop")
    return tmp_path / "shop"


def problems_of(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(JobError) as caught:
        read_workshop(folder)
    return caught.value.problems


def swap(old: str, new: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        assert text.count(old) >= 1, f"{old!r} is not there to be damaged"
        return text.replace(old, new, 1)

    return change


def place_of(text: str, marked: str) -> tuple[int, int]:
    """Line and column of what stands after the bar."""
    assert marked.replace("|", "") in text
    before = text[: text.index(marked.replace("|", "")) + marked.index("|")].split("\n")
    return len(before), len(before[-1]) + 1


def test_the_default_is_complete(workshop: Workshop) -> None:
    assert workshop.head.currency == "USD"
    assert {make.make.value for make in workshop.glass.values()} >= {"float", "toughened", "laminated", "acrylic"}
    assert {kind.duty.value for kind in workshop.glass.values()} == {"splitter", "mirror", "clear"}
    assert {thing.use for thing in workshop.hardware.values()} == set(HardwareUse)
    assert all(moulding.profile for moulding in workshop.mouldings.values())
    assert {size.form for size in workshop.stock.values()} == set(StockForm)
    assert set(workshop.screens) == {"screen-60a", "screen-42b"}


def test_everything_that_can_be_bought_has_a_dated_price(workshop: Workshop) -> None:
    bought = {size.of for size in workshop.stock.values()}
    for catalogue in (workshop.glass, workshop.mouldings, workshop.lights, workshop.supplies, workshop.hardware):
        assert set(catalogue) <= bought
    assert {size.dated for size in workshop.stock.values()} == {"2026-10-01"}


def test_bare_numbers_take_the_unit_of_their_column_and_cells_may_carry_their_own(workshop: Workshop) -> None:
    assert workshop.glass["split-t50-lam-6"].thickness == pytest.approx(6.76)
    assert pytest.approx(0.70) == workshop.glass["split-t70-4"].T
    assert workshop.lights["tape-24-100"].roll == pytest.approx(5000.0)  # its column is in metres
    assert workshop.lights["tunable-24-2in"].segment == pytest.approx(50.8)
    assert workshop.stock["gallery-57-8ft"].length == pytest.approx(8 * 304.8)
    assert (workshop.stock["batten-3-4"].width, workshop.stock["batten-3-4"].height) == pytest.approx((19.05, 25.4))


def test_an_empty_cell_is_an_absent_key(workshop: Workshop) -> None:
    assert workshop.hardware["plate-75"].diameter == 0.0
    assert workshop.mouldings["leaf-51"].plane_least == 0.0
    assert workshop.glass["split-t50-tough-6"].min_strip == 25.0


def test_no_sheet_gives_more_light_than_falls_on_it(workshop: Workshop) -> None:
    for kind in workshop.glass.values():
        assert kind.T + max(kind.R_coated, kind.R_plain) <= 1.0, kind.id


def test_an_absorbing_mirror_is_two_sheets_in_one(workshop: Workshop) -> None:
    chrome = [kind for name, kind in workshop.glass.items() if name.startswith("chrome")]
    assert chrome
    assert all(kind.R_coated > 2 * kind.R_plain and kind.R_coated + kind.T < 0.8 for kind in chrome)


def test_panes_with_an_impact_class_are_bought_to_size(workshop: Workshop) -> None:
    for kind in workshop.glass.values():
        assert bool(kind.impact) == (kind.make.value in ("toughened", "laminated")), kind.id
        assert not (kind.impact and kind.cut_here), kind.id
        assert kind.lead_days > 0 or kind.cut_here, kind.id


def test_a_measured_screen_agrees_with_itself(workshop: Workshop) -> None:
    for record in workshop.screens.values():
        screen = record.screen
        assert screen.outline is not None
        assert screen.borders is not None
        assert screen.aspect is not None
        assert screen.diagonal is not None
        width = screen.outline.width - screen.borders.left - screen.borders.right
        height = screen.outline.height - screen.borders.top - screen.borders.bottom
        assert width / height == pytest.approx(screen.aspect[0] / screen.aspect[1], rel=0.01)
        assert (width**2 + height**2) ** 0.5 == pytest.approx(screen.diagonal, rel=0.01)


def test_the_copy_reads_the_same(workshop: Workshop, folder: Path) -> None:
    assert sorted(path.name for path in folder.iterdir()) == sorted(FILES)
    assert read_workshop(folder) == workshop


def test_the_folder_of_the_program_holds_these_files_only() -> None:
    assert sorted(path.name for path in DEFAULT.iterdir() if not path.name.startswith("__")) == sorted(FILES)


def test_a_copy_never_overwrites(folder: Path) -> None:
    (folder / "glass.csv").write_text("mine")
    for name in FILES[2:]:
        (folder / name).unlink(missing_ok=name != "glass.csv")
    (folder / "glass.csv").write_text("mine")
    with pytest.raises(JobError) as caught:
        copy_workshop(folder)
    assert [(p.code, Path(p.file).name) for p in caught.value.problems] == [
        ("file-exists", "README.txt"), ("file-exists", "workshop.yaml"), ("file-exists", "glass.csv"),
    ]  # fmt: skip
    assert (folder / "glass.csv").read_text() == "mine"
    assert not (folder / "stock.csv").exists()


def test_a_copy_into_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "note").write_text("mine")
    with pytest.raises(JobError, match="folder-forbidden"):
        copy_workshop(tmp_path / "note")


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path / "nowhere")
    assert problem.code == "folder-missing"
    assert "workshop copy" in problem.advice


@pytest.mark.parametrize("name", [name for name in FILES if name not in ("README.txt", "glass_readings.csv")])
def test_a_missing_file_is_one_problem(folder: Path, name: str) -> None:
    (folder / name).unlink()
    (problem,) = problems_of(folder)
    assert (problem.code, Path(problem.file).name) == ("file-missing", name)
    assert "workshop copy" in problem.advice


@pytest.mark.parametrize("name", ["README.txt", "glass_readings.csv"])
def test_readme_and_readings_may_go(folder: Path, name: str) -> None:
    (folder / name).unlink()
    read_workshop(folder)


def without_third_column(text: str) -> str:
    return re.sub(r'(?m)^([^,]*,(?:"[^"]*"|[^,]*)),[^,]*', r"\1", text)


# Name, file, damage (old and new text, or a function), code (empty: whatever the reader of that quantity says), the damaged text with a
# bar before the place told, and a piece of what is said.
DAMAGE = [
    ("unknown column", "glass.csv", ("index", "indx"), "unknown-column", "uncertainty,|indx", "Did you mean index?"),
    ("needless column", "supplies.csv", ("mass", "weather"), "unknown-column", "efficiency,|weather", "Remove it."),
    ("doubled column", "lights.csv", (",roll", ",name"), "duplicate-column", "colour,|name", "Remove one"),
    ("missing column", "hardware.csv", without_third_column, "missing-column", "|id,name", "Add a column use"),
    ("wrong unit", "mouldings.csv", ("kg/m3", "kg/m2"), "wrong-unit", ",,,|kg/m2", "Write kg/m3"),
    ("unit of another kind", "profiles.csv", (",mm,mm", ",mm,deg"), "wrong-unit", ",mm,|deg", "Write mm"),
    ("no unit where one is due", "profiles.csv", (",mm,mm", ",mm,"), "missing-unit", "z\n,mm,|", "Write mm"),
    ("unit where none is", "glass.csv", (",,mm,,,", ",,mm,kg,,"), "wrong-unit", ",,mm,|kg", "Leave the cell empty"),
    ("another count", "lights.csv", ("lm/m", "lm/ft"), "wrong-unit", "V,|lm/ft", "Write lm/m"),
    ("another currency", "stock.csv", ("USD", "EUR"), "wrong-unit", "mm,|EUR", "USD"),
    ("unit row short", "hardware.csv", (",,,mm,mm,", ",,mm,mm,"), "unit-row-length", "|,,mm,mm", "12 cells; it has 11"),
    ("semicolons", "supplies.csv", lambda text: text.replace(",", ";"), "not-comma-separated", "|id;name", "comma-separated"),
    ("nothing", "supplies.csv", lambda _: "\n,,,\n", "empty-file", "|\n,,,", "Begin with: id,name"),
    ("a comma too many", "glass.csv", ("float,clear,90", "float,,clear,90"), "row-length", "|clear-4", "16 cells"),
    ("open quote", "mouldings.csv", ('"ash, white"', '"ash, white'), "table-quote", "|slope-44", "Close the quote"),
    ("words for a length", "lights.csv", ("50,1.8,8", "50,thin,8"), "", "50,|thin,8", "length"),
    ("fraction of a millimetre", "lights.csv", ("50,1.8,8", "50,1 3/4,8"), "fraction-needs-inch", "50,|1 3/4,8", "1.75"),
    ("too long a length", "lights.csv", ("50,1.8,8", "50,1.8e3,8"), "", "50,|1.8e3,8", ""),
    ("empty cell that is due", "hardware.csv", (",plate,2,75", ",,2,75"), "empty-value", 'leg 75 mm",|,2,75', "plate"),
    ("unknown word", "glass.csv", ("toughened,splitter", "toughned,splitter"), "unknown-word", ",|toughned,", "Did you mean toughened?"),
    ("neither yes nor no", "mouldings.csv", ("470,yes", "470,maybe"), "unknown-word", "470,|maybe", "yes, no"),
    ("more than all light", "glass.csv", ("68,66", "71,66"), "more-light-than-falls-on-it", "30,|71,66", "101 %"),
    ("spectrum not there", "glass.csv", (",0,40,\n", ",0,40,mine.csv\n"), "file-missing", ",0,40,|mine.csv", "spectrum"),
    ("same id", "supplies.csv", lambda text: text + "supply-12-60,Other,12,6,86,1,30\n", "duplicate-id", "|supply-12-60,Other", "line 3"),
    (
        "same id elsewhere",
        "hardware.csv",
        lambda text: text + "supply-24-60,Other,pad,3,,20,,,,100,,\n",
        "duplicate-id",
        "|supply-24-60,Other",
        "supplies.csv, line 4",
    ),
    (
        "stock of nothing",
        "stock.csv",
        ("slim-19-8ft,slim-19,", "slim-19-8ft,slim-91,"),
        "not-in-catalogue",
        "slim-19-8ft,|slim-91",
        "slim-19",
    ),
    (
        "outline of nothing",
        "profiles.csv",
        lambda text: text + "ghost-1,0,0\nghost-1,1,0\n",
        "not-in-catalogue",
        "|ghost-1,0,0",
        "Known mouldings",
    ),
    (
        "no outline",
        "mouldings.csv",
        lambda text: text + "new-1,New,pine,400,yes,0,no,\n",
        "moulding-without-profile",
        "|new-1",
        "profiles.csv",
    ),
    ("stick without length", "stock.csv", ("stick,10 ft", "stick,"), "stock-without-size", "\n|gallery-57-10ft", "length"),
    ("bad date", "stock.csv", ("2026-10-01", "1.10.2026"), "not-a-date", "49.60,|1.10.2026", "2026-03-04"),
    ("bad price", "stock.csv", ("49.60", "forty"), "", "|forty", ""),
    ("few points", "profiles.csv", ("plain-40,48,0\nplain-40,48,8\n", ""), "profile-too-few-points", "plain-40,|0,0", "five corners"),
    (
        "crossing",
        "profiles.csv",
        ("19,25.4,0\nslim-19,25.4,6.35", "19,25.4,6.35\nslim-19,25.4,0"),
        "profile-crosses-itself",
        "slim-19,|25.4,6.35",
        "order",
    ),
    (
        "no rebate",
        "profiles.csv",
        ("plain-40,40,8\nplain-40,40,45\n", "plain-40,48,45\n"),
        "profile-not-rebated",
        "plain-40,|48,45",
        "back does",
    ),
    (
        "off the origin",
        "profiles.csv",
        ("slim-19,0,0\nslim-19,25.4,0", "slim-19,0,1\nslim-19,25.4,1"),
        "profile-off-origin",
        "slim-19,|0,1",
        "off every z",
    ),
    (
        "unknown habit",
        "workshop.yaml",
        ("bar: bar-20x3", "bar: bar-20x30"),
        "not-in-catalogue",
        "bar: |bar-20x30",
        "Did you mean bar-20x3?",
    ),
    ("habit of another use", "workshop.yaml", ("pin: pin-23-1-1-4", "pin: plate-75"), "not-in-catalogue", "pin: |plate-75", "use as pin"),
    (
        "batten not there",
        "workshop.yaml",
        ("batten: batten-3-4", "batten: batten-9-9"),
        "not-in-catalogue",
        "batten: |batten-9-9",
        "batten-",
    ),
    ("unknown key", "workshop.yaml", ("glue_line", "glueline"), "unknown-key", "|glueline", "Did you mean glue_line?"),
    ("bare number", "workshop.yaml", ("kerf: 1/8 in", "kerf: 3"), "bare-number", "kerf: |3", "3 mm"),
    ("another kind of file", "workshop.yaml", ("workshop/1", "job/1"), "wrong-kind-of-file", "halfsilver: |job/1", "workshop/1"),
    ("screens of another kind", "screens.yaml", ("screens/1", "job/1"), "wrong-kind-of-file", "halfsilver: |job/1", "screens/1"),
    ("same screen", "screens.yaml", ("screen-42b", "screen-60a"), "duplicate-id", "|screen-60a\n    name: 42", "once"),
    (
        "screen from a screen",
        "screens.yaml",
        ("    screen:\n", "    screen:\n      from: screen-42b\n"),
        "screen-from-screen",
        "from: |screen-42b",
        "own sizes",
    ),
    ("badge on no side", "screens.yaml", ("side: bottom", "side: below"), "unknown-word", "side: |below", "bottom"),
]


@pytest.mark.parametrize(("name", "change", "code", "marked", "says"), [row[1:] for row in DAMAGE], ids=[row[0] for row in DAMAGE])
def test_each_damage_is_one_problem_in_its_place(
    folder: Path, name: str, change: tuple[str, str] | Callable[[str], str], code: str, marked: str, says: str
) -> None:
    path = folder / name
    text = path.read_text(encoding="utf-8")
    text = swap(*change)(text) if isinstance(change, tuple) else change(text)
    path.write_text(text, encoding="utf-8")
    (problem,) = problems_of(folder)
    assert Path(problem.file) == path
    assert problem.code == code or not code
    assert (problem.line, problem.column) == place_of(text, marked)
    assert says in f"{problem.allowed} {problem.advice} {problem.path}"


def test_the_problems_of_all_files_come_together(folder: Path) -> None:
    damage = (("glass.csv", "68,66", "71,66"), ("stock.csv", "stick,10 ft", "stick,"), ("workshop.yaml", "saw: 1/32 in", "saw: 1/32 mm"))
    for name, old, new in damage:
        (folder / name).write_text(swap(old, new)((folder / name).read_text()))
    (folder / "screens.yaml").unlink()
    assert {Path(p.file).name: p.code for p in problems_of(folder)} == {
        "workshop.yaml": "fraction-needs-inch", "screens.yaml": "file-missing", "glass.csv": "more-light-than-falls-on-it",
        "stock.csv": "stock-without-size",
    }  # fmt: skip


def test_a_row_with_a_mistake_leaves_no_dangling_references_behind(folder: Path) -> None:
    path = folder / "mouldings.csv"
    path.write_text(swap("470,yes", "470,maybe")(path.read_text()))
    assert [p.code for p in problems_of(folder)] == ["unknown-word"]


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
def test_a_spreadsheet_may_end_lines_its_own_way_and_begin_with_a_mark(folder: Path, workshop: Workshop, ending: str) -> None:
    for path in folder.glob("*.csv"):
        path.write_bytes(b"\xef\xbb\xbf" + path.read_text().replace("\n", ending).encode())
    assert read_workshop(folder) == workshop


def test_a_spreadsheet_may_quote_every_cell_and_add_empty_rows(folder: Path, workshop: Workshop) -> None:
    for path in folder.glob("*.csv"):
        rows = list(csv.reader(path.read_text().splitlines()))
        with path.open("w", newline="") as stream:
            csv.writer(stream, quoting=csv.QUOTE_ALL).writerows(rows)
            stream.write("," * (len(rows[0]) - 1) + "\r\n\r\n")
    assert read_workshop(folder) == workshop


def test_columns_may_stand_in_any_order(folder: Path, workshop: Workshop) -> None:
    for path in folder.glob("*.csv"):
        rows = [row[::-1] for row in csv.reader(path.read_text().splitlines())]
        with path.open("w", newline="") as stream:
            csv.writer(stream).writerows(rows)
    assert read_workshop(folder) == workshop


def test_an_optional_column_may_be_left_out(folder: Path) -> None:
    path = folder / "supplies.csv"
    rows = [row[:-1] for row in csv.reader(path.read_text().splitlines())]
    with path.open("w", newline="") as stream:
        csv.writer(stream).writerows(rows)
    assert {supply.inrush for supply in read_workshop(folder).supplies.values()} == {0.0}


def test_an_outline_may_run_the_other_way_round(folder: Path, workshop: Workshop) -> None:
    path = folder / "profiles.csv"
    head, units, *rows = path.read_text().splitlines()
    path.write_text("\n".join([head, units, *reversed(rows)]) + "\n")
    assert read_workshop(folder).mouldings == workshop.mouldings
