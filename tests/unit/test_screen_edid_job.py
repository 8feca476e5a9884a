"""`screen.edid` in a job: found beside the job, used for colours and gamma, never for a size."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from edid_cases import EXAMPLE, changed, coded, screen_block
from halfsilver.errors import JobError
from halfsilver.files.workshop import copy_workshop, read_workshop
from halfsilver.optics.colour import chromaticity, xyz
from halfsilver.optics.still_content import as_shown
from halfsilver.services.appearance.screen_colours import gamma_of
from halfsilver.services.appearance.setting import case_of
from halfsilver.services.load import load, resolve

JOB = (Path(__file__).parents[2] / "examples" / "foyer.yaml").read_text(encoding="utf-8")
# ITU-R BT.2020, and SMPTE RP 431-2 with the white of D65: primaries, from memory.
WIDEST = ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046), (0.3127, 0.3290))
CINEMA = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060), (0.3127, 0.3290))


def written(folder: Path, name: str = "screen.bin", block: bytes | None = EXAMPLE) -> str:
    if block is not None:
        (folder / "screen.bin").write_bytes(block)
    job = folder / "job.yaml"
    job.write_text(JOB.replace("\nscreen:\n", f"\nscreen:\n  edid: {name}\n", 1), encoding="utf-8")
    return str(job)


def test_the_size_of_the_block_moves_nothing(tmp_path):
    (tmp_path / "plain.yaml").write_text(JOB, encoding="utf-8")
    plain, told = resolve(load(str(tmp_path / "plain.yaml"))), resolve(load(written(tmp_path)))
    assert told.digest == plain.digest
    assert dict(told.ledger.values) == dict(plain.ledger.values)


@pytest.mark.parametrize(("colours", "within"), [(CINEMA, 0.004), (WIDEST, 0.006)])
def test_the_screens_light_has_the_stated_colours(tmp_path, colours, within):
    """A primary may be moved a little towards white, since ten bits reach beyond the colours that light can have."""
    design = resolve(load(written(tmp_path, block=screen_block(width_mm=1330, height_mm=748, colours=coded(*colours)))))
    screen = case_of(design).setting.screen
    assert screen is not None
    for spectrum, xy in zip(screen.primaries, colours[:3], strict=True):
        np.testing.assert_allclose(chromaticity(xyz(spectrum)), xy, atol=within)
    white = np.asarray(screen.shares) @ screen.primaries
    np.testing.assert_allclose(chromaticity(xyz(white)), colours[3], atol=0.0006)
    assert sum(screen.shares) == pytest.approx(1.0)


def test_what_was_assumed_is_said(tmp_path):
    assert any("those of its EDID" in one for one in case_of(resolve(load(written(tmp_path)))).assumed)
    without = case_of(resolve(load(written(tmp_path, block=changed(b25=bytes(10)))))).assumed
    assert "screen primaries and white of sRGB, as its EDID gives no colours" in without


def test_gamma_turns_the_content(tmp_path):
    design = resolve(load(written(tmp_path, block=changed(b23=140))))
    assert gamma_of(design) == pytest.approx(2.4)
    # IEC 61966-2-1: code 0.5 is 0.2140 linear; 0.5^2.4 is 0.1895.
    grey = np.full((1, 1, 3), 0.21404, dtype=np.float32)
    np.testing.assert_allclose(as_shown(grey, gamma=2.4), 0.5**2.4, atol=1e-4)
    np.testing.assert_array_equal(as_shown(grey, gamma=None), grey)


@pytest.mark.parametrize("name", ["../screen.bin", "/etc/hostname", "a/../../screen.bin", "'C:\\screen.bin'", "'..\\screen.bin'", "link"])
def test_a_file_elsewhere_is_refused_with_its_place(tmp_path, name):
    (tmp_path / "screen.bin").write_bytes(EXAMPLE)
    folder = tmp_path / "jobs"
    folder.mkdir()
    if name == "link":
        try:
            (folder / "link").symlink_to(tmp_path / "screen.bin")
        except OSError:
            return
    with pytest.raises(JobError) as caught:
        load(written(folder, name, block=None))
    (problem,) = caught.value.problems
    assert (problem.code, problem.path) == ("file-outside", "screen.edid")
    assert Path(problem.file).name == "job.yaml"
    assert problem.line > 1


@pytest.mark.parametrize(("name", "block", "code"), [("none.bin", EXAMPLE, "file-missing"), (".", EXAMPLE, "file-is-folder")])
def test_a_missing_file_is_a_problem_of_the_job(tmp_path, name, block, code):
    with pytest.raises(JobError) as caught:
        load(written(tmp_path, name, block))
    (problem,) = caught.value.problems
    assert (problem.code, problem.path, Path(problem.file).name) == (code, "screen.edid", "job.yaml")
    assert problem.line > 1


def test_a_broken_block_is_a_problem_of_its_own_file(tmp_path):
    with pytest.raises(JobError) as caught:
        load(written(tmp_path, block=EXAMPLE[:127] + b"\0"))
    (problem,) = caught.value.problems
    assert (problem.code, problem.file, problem.path) == ("edid-sum", "screen.bin", "byte 127 (0x7f)")


def test_a_measured_screen_may_have_a_file_beside_the_workshop(tmp_path):
    folder = tmp_path / "shop"
    copy_workshop(folder)
    screens = folder / "screens.yaml"
    text = screens.read_text(encoding="utf-8").replace("    screen:\n", "    screen:\n      edid: 60a.bin\n", 1)
    screens.write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        read_workshop(folder)
    (problem,) = caught.value.problems
    assert (problem.code, problem.path, problem.read) == ("file-missing", "screens[0].screen.edid", "60a.bin")
    assert problem.line > 1
    (folder / "60a.bin").write_bytes(EXAMPLE[:127] + b"\0")
    with pytest.raises(JobError, match="edid-sum"):
        read_workshop(folder)
    (folder / "60a.bin").write_bytes(EXAMPLE)
    block = read_workshop(folder).screens["screen-60a"].screen.block
    assert block is not None
    assert block.name == "ABC LCD21"
