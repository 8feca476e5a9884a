"""The verb look on job files: who looks, what the screen shows, what is written, and what it says when it cannot."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from halfsilver.cli.main import cli
from halfsilver.errors import JobError
from halfsilver.services.content import content_of, read_content

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
SMALL = ("--size", "96x54")


def look(*arguments: str | Path) -> Result:
    return CliRunner().invoke(cli, ["look", *map(str, arguments)], catch_exceptions=True)


def problem_of(result: Result):
    assert isinstance(result.exception, JobError), result.exception
    assert result.exception.exit_code == 2
    return result.exception.problems[0]


def changed(tmp_path: Path, old: str, new: str, *, name: str = "foyer") -> Path:
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "job.yaml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_a_job_is_drawn_with_its_linear_values(tmp_path: Path) -> None:
    picture, linear = tmp_path / "p.png", tmp_path / "p.npy"
    result = look(EXAMPLES / "foyer.yaml", "--viewer", "side", "-o", picture, "--linear", linear, *SMALL)
    assert result.exit_code == 0, result.output
    values = np.load(linear, allow_pickle=False)
    assert (values.dtype, values.shape) == (np.float32, (54, 96, 3))
    assert values.min() >= 0
    with Image.open(picture) as image:
        assert (image.size, image.mode) == ((96, 54), "RGB")
        assert "cd/m2 is white" in image.info["Description"]


@pytest.mark.parametrize("place", ["distance: 100 mm, sideways: 20 m", "distance: 50 mm, sideways: 5 m"])
def test_from_so_far_aside_that_the_lips_close_the_piece_is_still_drawn(tmp_path: Path, place: str) -> None:
    job, linear = changed(tmp_path, "distance: 2.5 m, sideways: 600 mm", place), tmp_path / "p.npy"
    result = look(job, "--viewer", "side", "-o", tmp_path / "p.png", "--linear", linear, *SMALL)
    assert result.exit_code == 0, result.output
    assert np.isfinite(np.load(linear, allow_pickle=False)).all()


def test_the_only_viewer_need_not_be_named(tmp_path: Path) -> None:
    assert look(EXAMPLES / "kit-mirror.yaml", "-o", tmp_path / "p.png", *SMALL).exit_code == 0


def test_among_several_viewers_one_is_asked_for_by_name(tmp_path: Path) -> None:
    problem = problem_of(look(EXAMPLES / "foyer.yaml", "-o", tmp_path / "p.png", *SMALL))
    assert (problem.code, problem.path) == ("which-viewer", "viewers")
    assert problem.line > 1
    assert all(word in problem.allowed for word in ("front", "side", "child"))
    assert not (tmp_path / "p.png").exists()


def test_an_unknown_viewer_has_its_place(tmp_path: Path) -> None:
    problem = problem_of(look(EXAMPLES / "foyer.yaml", "--viewer", "frnt", "-o", tmp_path / "p.png"))
    assert (problem.code, problem.line > 1, problem.advice) == ("no-such-viewer", True, "Did you mean front?")


@pytest.mark.parametrize("named", [(), ("--viewer", "front")])
def test_a_job_without_viewers_says_so(tmp_path: Path, named: tuple[str, ...]) -> None:
    text = (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8")
    start, end = text.index("viewers:"), text.index("# A batten wider")
    path = tmp_path / "job.yaml"
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    assert "names no viewer" in problem_of(look(path, *named, "-o", tmp_path / "p.png")).allowed


@pytest.mark.parametrize("distance", ["0 mm", "-100 mm", "1 mm"])
def test_a_viewer_in_the_piece_or_the_wall_is_refused_at_its_place(tmp_path: Path, distance: str) -> None:
    path = changed(tmp_path, "front, distance: 2.5 m", f"front, distance: {distance}")
    problem = problem_of(look(path, "--viewer", "front", "-o", tmp_path / "p.png"))
    assert (problem.path, problem.line > 1) == ("viewers[0].distance", True)


def test_no_gap_is_refused_at_its_place(tmp_path: Path) -> None:
    path = changed(tmp_path, "battens: {", "gap: 0 mm\nbattens: {")
    assert problem_of(look(path, "--viewer", "front", "-o", tmp_path / "p.png")).path == "gap"


@pytest.mark.parametrize("state", ["on", "dark", "lights", "all"])
def test_a_room_without_light_is_drawn_all_the_same(tmp_path: Path, state: str) -> None:
    path = changed(
        tmp_path, "wall_light: 120 lx, facing_light: 80 lx, facing_luminance: 15 cd/m2",
        "wall_light: 0 lx, facing_light: 0 lx, facing_luminance: 0 cd/m2",
    )  # fmt: skip
    assert look(path, "--viewer", "front", "--state", state, "-o", tmp_path / "p.png", *SMALL).exit_code == 0


@pytest.mark.parametrize(("word", "code"), [("nowhere", "no-content"), ("nowhere.png", "bad-image"), ("README.md", "bad-image")])
def test_content_that_is_none_is_said_with_the_option(tmp_path: Path, word: str, code: str) -> None:
    given = ROOT / word if word.endswith(".md") else word
    result = look(EXAMPLES / "foyer.yaml", "--viewer", "front", "--content", given, "-o", tmp_path / "p.png", *SMALL)
    assert (problem_of(result).code, problem_of(result).path) == (code, "--content")


def test_a_broken_picture_file_is_a_problem_and_says_the_same_each_time(tmp_path: Path) -> None:
    Image.new("RGB", (40, 40), (9, 99, 199)).save(tmp_path / "whole.png")
    broken = tmp_path / "broken.png"
    broken.write_bytes((tmp_path / "whole.png").read_bytes()[:60])
    said = set()
    for _ in range(2):
        with pytest.raises(JobError) as caught:
            read_content(broken)
        said.add(caught.value.problems[0].text())
    assert len(said) == 1


def test_a_picture_file_stands_on_the_screen_with_its_own_proportions(tmp_path: Path) -> None:
    # A square of pure green on a 16:9 screen leaves black at both sides: green beside the middle, none near the edges.
    Image.new("RGB", (300, 300), (0, 255, 0)).save(tmp_path / "square.png")
    made = []
    for content in (str(tmp_path / "square.png"), "bars"):
        linear = tmp_path / "p.npy"
        arguments = ("--viewer", "front", "--state", "on", "--content", content, "-o", tmp_path / "p.png", "--linear", linear, *SMALL)
        assert look(EXAMPLES / "foyer.yaml", *arguments).exit_code == 0
        made.append(np.load(linear)[27])
    square, bars = made
    green = square[:, 1] - square[:, 0]
    assert green[48] > 20
    assert green[20] < 2
    assert not np.array_equal(square, bars)


def test_picture_files_of_other_kinds_are_read(tmp_path: Path) -> None:
    Image.new("RGBA", (4, 4), (255, 255, 255, 0)).save(tmp_path / "clear.png")
    assert np.all(read_content(tmp_path / "clear.png") == 0)
    Image.fromarray(np.full((4, 4), 65535, dtype=np.uint16)).save(tmp_path / "deep.png")
    assert read_content(tmp_path / "deep.png") == pytest.approx(1.0)
    assert content_of("grid") == "grid"


def test_a_scene_takes_no_content(tmp_path: Path) -> None:
    scene = tmp_path / "s.json"
    scene.write_text('{"schema": "halfsilver/scene/1"}', encoding="utf-8")
    assert problem_of(look(scene, "--content", "grid", "-o", tmp_path / "p.png")).code == "content-of-scene"


def test_progress_of_a_large_picture_goes_to_standard_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("halfsilver.cli.looking.LARGE_PX", 1000)
    result = look(EXAMPLES / "kit-mirror.yaml", "-o", tmp_path / "p.png", "--size", "400x225")
    assert result.stderr.splitlines()[-1] == "drawing 100 %"
    assert "drawing" not in result.stdout


def test_the_same_bytes_in_other_processes_and_on_other_numbers_of_threads(tmp_path: Path) -> None:
    script = (
        "import sys\n"
        "from halfsilver.services import pictures\n"
        "from halfsilver.services.look_job import job_picture\n"
        "pictures._processors = lambda: int(sys.argv[2])\n"
        "sys.stdout.buffer.write(job_picture(sys.argv[1], viewer='side', width_px=320, height_px=180)[1])\n"
    )
    made = set()
    for threads, seed in (("1", "0"), ("3", "77")):
        environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", script, str(EXAMPLES / "foyer.yaml"), threads]
        made.add(subprocess.run(command, check=True, capture_output=True, env=environment).stdout)
    assert len(made) == 1
