"""Impossible and extreme optics: each ends in a located problem or a finding, through check, predict and look, and never in a traceback."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli
from halfsilver.errors import JobError, NoDesignError
from halfsilver.files.workshop import copy_workshop

EXAMPLES = Path(__file__).parents[2] / "examples"
FOYER = (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8")
ARCHIVE = (EXAMPLES / "archive-mirror.yaml").read_text(encoding="utf-8")
MIRROR = (EXAMPLES / "kit-mirror.yaml").read_text(encoding="utf-8")
GLASS = "measured,Measured,6,toughened,splitter,{T},{R},{R2},2,1.52,2500,yes,,0,,{spectrum}\n"
FULL = "wavelength,t,r_front,r_back\nnm,1,1,1\n"


@dataclass(frozen=True)
class Said:
    """What a verb ended in."""

    code: str = ""
    line: int = 0
    path: str = ""
    words: str = ""
    told: Any = None


@pytest.fixture
def run(tmp_path: Path) -> Callable[..., Said]:
    """A verb on a job, in a workshop with one more sheet if asked; predict gives its file, check its findings."""

    def go(verb: str, text: str, *, shop: Path | None = None, viewer: str = "one") -> Said:
        job, out = tmp_path / "job.yaml", tmp_path / ("a.json" if verb == "predict" else "p.png")
        job.write_text(text, encoding="utf-8")
        extra = {"check": ["--json"], "predict": ["-o", str(out)], "look": ["--viewer", viewer, "-o", str(out), "--size", "48x27"]}[verb]
        done = CliRunner().invoke(cli, [verb, str(job), *extra, *(["--workshop", str(shop)] if shop else [])])
        if isinstance(done.exception, JobError):
            problem = done.exception.problems[0]
            return Said(problem.code, problem.line, problem.path, f"{problem.allowed} {problem.advice}")
        if isinstance(done.exception, NoDesignError):
            return Said("no-design", words=str(done.exception))
        assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
        told = json.loads(out.read_text("utf-8")) if verb == "predict" else json.loads(done.stdout) if verb == "check" else out.read_bytes()
        return Said(told=told)

    return go


def viewed(text: str, *viewers: str) -> str:
    """The job with other viewers."""
    lines = text.splitlines(keepends=True)
    start = lines.index("viewers:\n") + 1
    end = next(k for k in range(start, len(lines)) if not lines[k].startswith("  - "))
    return "".join((*lines[:start], *(f"  - {{{one}}}\n" for one in viewers), *lines[end:]))


def shop_with(folder: Path, *, T: str = "30", R: str = "60", R2: str = "40", spectrum: str = "") -> Path:
    copy_workshop(folder)
    with (folder / "glass.csv").open("a", encoding="utf-8") as file:
        file.write(GLASS.format(T=T, R=R, R2=R2, spectrum="measured.csv" if spectrum else ""))
    if spectrum:
        (folder / "measured.csv").write_text(spectrum, encoding="utf-8")
    return folder


MEASURED = ARCHIVE.replace("split-t30-tough-6", "measured")
VERBS = ("check", "predict", "look")


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize(
    ("distance", "words"),
    [("0 mm", "10 mm"), ("-0.2 m", "0.01 m"), ("1 mm", "10 mm"), ("nan m", ""), ("1e400 m", "")],
    ids=["in the wall", "behind the wall", "touching", "no number", "too many digits"],
)
def test_a_viewer_inside_the_wall_is_a_problem_in_its_line(run, verb, distance, words):
    text = viewed(FOYER, f"id: one, distance: {distance}, eye_height: 1.6 m")
    said = run(verb, text)
    assert said.path == "viewers[0].distance"
    assert text.splitlines()[said.line - 1].startswith("  - {id: one")
    assert words in said.words


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize("gap", ["0 mm", "-5 mm"])
def test_no_gap_is_a_problem_in_its_line(run, verb, gap):
    text = FOYER.replace("\nlights:", f"\ngap: {gap}\nlights:")
    said = run(verb, text)
    assert (said.path, text.splitlines()[said.line - 1]) == ("gap", f"gap: {gap}")


@pytest.mark.parametrize("verb", VERBS)
def test_a_gap_too_small_for_the_frames_names_the_nearest(run, verb):
    said = run(verb, FOYER.replace("\nlights:", "\ngap: 0.01 mm\nlights:"))
    assert said.code == "no-design"
    assert "Nearest gap" in said.words


def test_without_a_viewer_it_is_said_that_nothing_was_computed(run):
    rules = {one["rule"]: one["severity"] for one in run("check", viewed(FOYER)).told["findings"]}
    assert rules["sight.viewers"] == "not-run"
    told = run("predict", viewed(FOYER)).told
    assert (told["viewers"], told["angles"]) == ({}, [])
    assert run("look", viewed(FOYER)).code == "no-such-viewer"


@pytest.mark.parametrize("text", [FOYER, ARCHIVE, MIRROR], ids=["lit screen", "hidden screen", "lit mirror"])
def test_grazing_looks_give_numbers_within_their_ranges(run, text):
    graze = viewed(text, "id: one, distance: 10 mm, sideways: 50 m, eye_height: 20 m")
    told = run("predict", graze).told
    viewer = told["viewers"]["one"]
    assert viewer["incidence_deg"] > 89.9
    for name, number in viewer.items():
        if isinstance(number, dict):
            assert number["low"] <= number["value"] <= number["high"], name
            assert number["value"] == pytest.approx(number["value"]), name
    if viewer.get("picture_share"):
        assert 0.0 <= viewer["picture_share"]["value"] <= 1.0
    assert run("look", graze).told.startswith(b"\x89PNG")


@pytest.mark.parametrize("text", [FOYER, ARCHIVE, MIRROR], ids=["lit screen", "hidden screen", "lit mirror"])
def test_a_room_without_light_is_computed_and_drawn(run, text):
    start = text.index("room: {")
    dark = text[:start] + "room: {wall_light: 0 lx, facing_light: 0 lx, facing_luminance: 0 cd/m2}" + text[text.index("}", start) + 1 :]
    dark = viewed(dark, "id: one, distance: 2 m, eye_height: 1.6 m")
    assert run("predict", dark).told["viewers"]["one"]["mirror_reflectance"]["value"] > 0
    assert run("look", dark).told.startswith(b"\x89PNG")


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize("numbers", [{"T": "60", "R": "50"}, {"T": "65", "R": "10", "R2": "40"}, {"T": "101", "R": "0"}, {"T": "-1"}])
def test_printed_numbers_that_give_more_light_than_falls_on_them_are_refused_in_their_row(run, tmp_path, verb, numbers):
    shop = shop_with(tmp_path / "shop", **numbers)
    said = run(verb, MEASURED, shop=shop)
    assert said.code in ("more-light-than-falls-on-it", "out-of-range")
    assert said.line == len((shop / "glass.csv").read_text(encoding="utf-8").splitlines())


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize("numbers", [{"R": ""}, {"R2": ""}, {"T": ""}], ids=["coated", "plain", "through"])
def test_numbers_of_one_side_only_are_refused_in_their_row(run, tmp_path, verb, numbers):
    shop = shop_with(tmp_path / "shop", **numbers)
    said = run(verb, MEASURED, shop=shop)
    assert said.code
    assert said.line == len((shop / "glass.csv").read_text(encoding="utf-8").splitlines())


BAD_SPECTRA = {
    "gain": (FULL + "380,0.5,0.6,0.4\n780,0.3,0.6,0.4\n", "1.02"),
    "one side": ("wavelength,t,r_front\nnm,1,1\n380,0.3,0.6\n780,0.3,0.6\n", "r_back"),
    "one cell": (FULL + "380,0.3,,0.4\n780,0.3,0.6,0.4\n", "must be"),
    "backwards": (FULL + "780,0.3,0.6,0.4\n380,0.3,0.6,0.4\n", "increase"),
    "twice": (FULL + "380,0.3,0.6,0.4\n380,0.3,0.6,0.4\n780,0.3,0.6,0.4\n", "increase"),
    "short": (FULL + "400,0.3,0.6,0.4\n700,0.3,0.6,0.4\n", "400 to 700"),
    "percent": (FULL + "380,30,60,40\n780,30,60,40\n", "between 0 and 1"),
    "no rows": (FULL, ""),
    "empty": ("", ""),
    "words": (FULL + "380,much,0.6,0.4\n780,0.3,0.6,0.4\n", "not a number"),
    "endless": (FULL + "380,inf,0.6,0.4\n780,nan,0.6,0.4\n", "not a number"),
    "micrometres": ("wavelength,t,r_front,r_back\num,1,1,1\n0.38,0.3,0.6,0.4\n0.78,0.3,0.6,0.4\n", "nm"),
}


@pytest.mark.parametrize("verb", ["predict", "look"])
@pytest.mark.parametrize("name", BAD_SPECTRA)
def test_a_spectrum_that_cannot_be_is_said_where_the_glass_is_named(run, tmp_path, verb, name):
    rows, words = BAD_SPECTRA[name]
    shop = shop_with(tmp_path / "shop", spectrum=rows or "\n")
    said = run(verb, viewed(MEASURED, "id: one, distance: 2 m, eye_height: 1.5 m"), shop=shop)
    assert (said.code, said.path) == ("bad-glass", "glass.front.kind")
    assert said.line > 1
    assert words in said.words


def test_a_spectrum_with_a_gap_is_used_and_the_gap_said(run, tmp_path):
    near = "".join(f"{nm},0.3,0.6,0.4\n" for nm in (*range(380, 461, 10), *range(600, 791, 10)))
    told = run("predict", MEASURED, shop=shop_with(tmp_path / "shop", spectrum=FULL + near)).told
    assert [one for one in told["assumed"] if "460 to 600 nm" in one]


def test_infrared_is_told_where_the_spectrum_reaches_it(run, tmp_path):
    rows = "".join(f"{nm},{0.3 if nm < 800 else 0.04},0.6,0.4\n" for nm in range(370, 1001, 10))
    told = run("predict", MEASURED, shop=shop_with(tmp_path / "shop", spectrum=FULL + rows)).told
    assert told["infrared"]["value"] == pytest.approx(0.04)
    assert (told["infrared"]["low"], told["infrared"]["high"]) == (pytest.approx(0.02), pytest.approx(0.06))
    assert run("predict", ARCHIVE).told.get("infrared") is None
