"""Sheets of the catalogue that are given by their films."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli
from halfsilver.errors import JobError
from halfsilver.files.films import films
from halfsilver.files.workshop import copy_workshop, read_workshop
from halfsilver.optics.colour import luminous
from halfsilver.services.appearance.films import said_of_films, sheet_of_films

EXAMPLE = (Path(__file__).parents[2] / "examples" / "foyer.yaml").read_text(encoding="utf-8")
COLUMNS = ",body,films_coated,films_plain"


@pytest.fixture
def shop(tmp_path):
    """A workshop with one more sheet: its printed numbers, its pane, its films."""

    def made(printed: str, body: str, coated: str, plain: str = "", spectrum: str = "") -> Path:
        folder = tmp_path / "shop"
        copy_workshop(folder)
        path = folder / "glass.csv"
        head, units, *rows = path.read_text(encoding="utf-8").splitlines()
        own = f'own,By films,4,toughened,splitter,{printed},3,1.52,2500,yes,,10,,{spectrum},{body},"{coated}","{plain}"'
        path.write_text("\n".join([head + COLUMNS, units + ",,,", *(row + ",,," for row in rows), own, ""]), encoding="utf-8")
        return folder

    return made


def test_a_cell_of_films():
    assert films("") == ()
    assert films("titania 12; silica 35.5 nm") == (("titania", 12.0), ("silica", 35.5))


def test_the_coated_face_is_in_front(shop):
    """Chromium mirrors about twice as much from its coated face as through the glass; the printed numbers lie far off and it is said."""
    kind = read_workshop(shop("20,45,19", "clear_float", "chromium_film 5")).glass["own"]
    response = sheet_of_films(kind).response
    T, coated, plain = (float(luminous(one[0, 0])) for one in (response.T_front, response.R_front, response.R_back))
    assert coated > 1.9 * plain
    assert T + coated < 0.7
    assert "farther from what is printed" in said_of_films(kind)


def test_films_of_both_faces_quench_the_reflection(shop):
    """A broadband coating of four films on both faces leaves less than half a percent (common practice: below 1 %)."""
    four = "titania 12, silica 35, titania 110, silica 88"
    kind = read_workshop(shop("99,0.5,0.5", "low_iron_float", four, four)).glass["own"]
    response = sheet_of_films(kind).response
    assert float(luminous(response.R_front[0, 0])) < 0.005
    assert float(luminous(response.T_front[0, 0])) > 0.985
    assert "farther" not in said_of_films(kind)


@pytest.mark.parametrize(
    ("given", "column", "words"),
    [
        (("50,40,40", "clear_float", "niobium 58"), "films_coated", "Did you mean niobia?"),
        (("50,40,40", "clear_float", "niobia 58, silica"), "films_coated", "a material and its thickness in nm"),
        (("50,40,40", "clear_float", "silica 0"), "films_coated", "more than 0"),
        (("50,40,40", "clear_float", "", "silica 9000"), "films_plain", "at most 5000 nm"),
        (("50,40,40", "window", "silica 90"), "body", "Known materials"),
        (("50,40,40", "clear_float", "silica 90", "", "mouldings.csv"), "spectrum", "not by both"),
    ],
)
def test_films_that_cannot_be_are_located(shop, given, column, words):
    folder = shop(*given)
    with pytest.raises(JobError) as caught:
        read_workshop(folder)
    (problem,) = caught.value.problems
    assert (problem.code, problem.path, Path(problem.file).name) == ("films-cannot-be", f"own.{column}", "glass.csv")
    assert problem.line == len((folder / "glass.csv").read_text(encoding="utf-8").splitlines())
    assert words in problem.allowed


def test_a_job_with_two_sheets_of_films_is_predicted_by_spectra(shop, tmp_path):
    folder = shop("41,56,55", "low_iron_float", "niobia 58, silica 94")
    job = tmp_path / "job.yaml"
    text = EXAMPLE.replace("kind: split-t50-lam-6", "kind: own").replace("kind: split-t30-4", "kind: own")
    job.write_text(text, encoding="utf-8")
    arguments = ["predict", str(job), "--workshop", str(folder), "-o", str(tmp_path / "a.json")]
    done = CliRunner().invoke(cli, arguments, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    told = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    assert told["basis"] == "spectral"
    assert sum(one.startswith("own by its films: T ") for one in told["assumed"]) == 1
