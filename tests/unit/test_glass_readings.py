"""Glass measured in the shop: readings become a sheet of the catalogue, and its uncertainty a range of what is predicted."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli
from halfsilver.errors import JobError
from halfsilver.files.workshop import copy_workshop, read_workshop

EXAMPLE = (Path(__file__).parents[2] / "examples" / "foyer.yaml").read_text(encoding="utf-8")
HEAD = "glass,quantity,bare,sheet,dark,reference,reference_error,meter,step,by,when\n,,lx,lx,lx,%,%,%,lx,,\n"
ROW = "own-6,Bought without papers,6,toughened,splitter,{T},{R},{P},2,1.52,2500,yes,,10,,\n"
READINGS = (
    "own-6,T,812,398,2,,,3,1,AB,2026-03-04\n"
    "own-6,T,815,405,2,,,3,1,AB,2026-03-04\n"
    "own-6,R_coated,640,352,1,90,1.5,3,1,AB,2026-03-04\n"
    "own-6,R_plain,640,331,1,90,1.5,3,1,AB,2026-03-04\n"
)


@pytest.fixture
def shop(tmp_path):
    folder = tmp_path / "shop"
    copy_workshop(folder)

    def made(readings: str, *, T: str = "", R: str = "", P: str = "", head: str = HEAD) -> Path:
        with (folder / "glass.csv").open("a", encoding="utf-8") as stream:
            stream.write(ROW.format(T=T, R=R, P=P))
        (folder / "glass_readings.csv").write_text(head + readings, encoding="utf-8")
        return folder

    return made


def problem(folder: Path):
    with pytest.raises(JobError) as caught:
        read_workshop(folder)
    (found,) = caught.value.problems
    return found


def test_readings_fill_the_empty_cells(shop):
    kind = read_workshop(shop(READINGS)).glass["own-6"]
    # By hand: T the mean of 396/810 and 403/813; R 0.9 x 351/639 and 0.9 x 330/639.
    assert pytest.approx((396 / 810 + 403 / 813) / 2, abs=1e-9) == kind.T
    assert kind.R_coated == pytest.approx(0.9 * 351 / 639, abs=1e-9)
    assert kind.R_plain == pytest.approx(0.9 * 330 / 639, abs=1e-9)
    assert kind.readings is not None
    assert kind.readings.T is not None
    assert kind.readings.T.readings == 2
    # About 0.03/root 3 x root 2 x value x 2, and for R the mirror's 1.5/90/root 3 beside it.
    assert kind.limit_of_t == pytest.approx(2 * 0.4923 * 0.03 * (2 / 3) ** 0.5, rel=0.08)
    assert kind.uncertainty == pytest.approx(2 * 0.4944 * (2 * 0.03**2 / 3 + (1.5 / 90) ** 2 / 3) ** 0.5, rel=0.02)


def test_what_was_measured_stands_for_what_is_printed(shop):
    kind = read_workshop(shop("own-6,T,100,20,0,,,3,,,\n", T="50", R="48", P="46")).glass["own-6"]
    assert (pytest.approx(0.2), pytest.approx(0.48), pytest.approx(0.46)) == (kind.T, kind.R_coated, kind.R_plain)
    assert kind.uncertainty == pytest.approx(0.02)  # printed: R was not measured
    assert kind.limit_of_t < 0.02


def test_the_unit_does_not_matter(shop):
    other = HEAD.replace("lx", "cd/m2")
    assert pytest.approx(0.2) == read_workshop(shop("own-6,T,100,20,0,,,3,,,\n", T="1", R="48", P="46", head=other)).glass["own-6"].T


def test_a_cell_that_nobody_measured_is_still_missing(shop):
    found = problem(shop("own-6,T,100,20,0,,,3,,,\n", R="48"))
    assert (found.path.rpartition(".")[2], Path(found.file).name) == ("R_plain", "glass.csv")


@pytest.mark.parametrize(
    ("readings", "code", "column", "words"),
    [
        ("own-6,T,100,120,0,,,3,,,\n", "reading-cannot-be", 13, "between 0 and 100 %"),
        ("own-6,T,0,0,0,,,3,,,\n", "reading-cannot-be", 9, "it must read more"),
        ("own-6,T,100,50,200,,,3,,,\n", "reading-cannot-be", 9, "it must read more"),
        ("own-6,T,100,50,0,90,,3,,,\n", "reference-for-t", 18, "no mirror is in the way"),
        ("own-7,T,100,50,0,,,3,,,\n", "not-in-catalogue", 1, "glass.csv"),
        ("own-6,Q,100,50,0,,,3,,,\n", "unknown-word", 7, "T, R_coated, R_plain"),
        ("own-6,T,100,fifty,0,,,3,,,\n", "unreadable", 13, ""),
        ("own-6,T,100,70,0,,,1,,,\nown-6,R_coated,100,40,0,100,,1,,,\n", "more-light-than-falls-on-it", 20, "more than their uncertainty"),
    ],
)
def test_readings_that_cannot_be_are_located(shop, readings, code, column, words):
    found = problem(shop(readings, T="20", R="40", P="20"))
    assert (found.code, Path(found.file).name, found.column) == (code, "glass_readings.csv", column)
    assert found.line == 2 + readings.count("\n")
    assert words in f"{found.allowed} {found.advice}"


def test_a_little_above_one_is_brought_down_and_said(shop):
    kind = read_workshop(shop("own-6,T,100,62,0,,,3,,,\nown-6,R_coated,100,40,0,100,,3,,,\n", P="38")).glass["own-6"]
    assert pytest.approx(1.0, abs=1e-9) == kind.T + kind.R_coated
    assert kind.readings is not None
    assert kind.readings.over == pytest.approx(0.02)


def run(*arguments: str) -> str:
    done = CliRunner().invoke(cli, list(arguments), catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.stdout


def test_from_readings_to_the_range_of_what_is_predicted(shop, tmp_path):
    """Twice as uncertain a meter widens the range of the picture by about as much; the value stays."""
    job = tmp_path / "job.yaml"
    job.write_text(EXAMPLE.replace("kind: split-t50-lam-6", "kind: own-6"), encoding="utf-8")
    assert "own-6" in job.read_text(encoding="utf-8")
    folder = shop(READINGS)
    found = {}
    for limit in ("6", "3"):
        (folder / "glass_readings.csv").write_text(HEAD + READINGS.replace(",3,1,", f",{limit},1,"), encoding="utf-8")
        run("predict", str(job), "--workshop", str(folder), "-o", str(tmp_path / "a.json"))
        told = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
        found[limit] = told["viewers"]["front"]["screen_gain"]
    assert found["3"]["low"] < found["3"]["value"] < found["3"]["high"]
    assert found["6"]["value"] == found["3"]["value"]
    assert found["6"]["high"] > found["3"]["high"]
    assert found["6"]["low"] < found["3"]["low"]
    rules = {one["rule"]: one["advice"] for one in json.loads(run("check", str(job), "--workshop", str(folder), "--json"))["findings"]}
    assert "T 49.2 % +- 2.5 % (2 readings)" in rules["glass.measured"]
