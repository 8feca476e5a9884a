"""The example jobs: each is read without a problem and names only what the invented workshop has."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfsilver.files.decode import decode
from halfsilver.files.located import read_located
from halfsilver.files.workshop import read_workshop
from halfsilver.geometry.profile import Profile
from halfsilver.model.job import Job
from halfsilver.model.workshop import Workshop

EXAMPLES = Path(__file__).parents[2] / "examples"
INCH = 25.4


@pytest.fixture(scope="module")
def workshop() -> Workshop:
    return read_workshop()


def read(name: str) -> Job:
    return decode(read_located(EXAMPLES / name), Job, file=name)


@pytest.mark.parametrize("name", ["foyer.yaml", "foyer-measured.yaml", "archive-mirror.yaml"])
def test_an_example_names_only_what_the_workshop_has(workshop: Workshop, name: str) -> None:
    job = read(name)
    assert job.screen is not None
    assert job.screen.start in workshop.screens
    assert job.glass.front.kind in workshop.glass
    assert job.glass.rear is None or job.glass.rear.kind in workshop.glass
    assert job.frame.front.moulding in workshop.mouldings
    assert job.frame.rear is None or job.frame.rear.moulding in workshop.mouldings
    assert job.lights is None or job.lights.kind in workshop.lights
    assert {job.retainers.plates, job.retainers.bars} <= {None, *workshop.hardware}
    assert job.battens.stock is None or job.battens.stock in workshop.stock


def test_the_measured_foyer_is_the_foyer_with_readings() -> None:
    from dataclasses import replace

    plan, measured = read("foyer.yaml"), read("foyer-measured.yaml")
    assert replace(measured, measured=()) == plan
    assert {reading.name for reading in measured.measured} == {
        f"{frame}.rebate.{way}" for frame in ("front", "rear") for way in ("width", "height")
    }


def test_the_foyers_readings_lie_near_the_plan(workshop: Workshop) -> None:
    """Plan by hand: 53 1/4 + 1/8 = 53 3/8 in, 30 1/2 + 1/8 = 30 5/8 in; outside 2 x 2 1/4 in more, 57 7/8 x 35 1/8 in."""
    plan_mm = {"width": 53.375 * INCH, "height": 30.625 * INCH}
    job = read("foyer-measured.yaml")
    assert job.screen is not None
    assert job.screen.outline is not None
    assert job.fit.screen is not None
    assert job.screen.outline.width + job.fit.screen == pytest.approx(plan_mm["width"])
    assert job.screen.outline.height + job.fit.screen == pytest.approx(plan_mm["height"])
    body = Profile(workshop.mouldings["gallery-57"].profile).body_mm
    assert plan_mm["width"] + 2 * body == pytest.approx(57.875 * INCH)
    assert plan_mm["height"] + 2 * body == pytest.approx(35.125 * INCH)
    for reading in job.measured:
        assert reading.value == pytest.approx(plan_mm[reading.name.split(".")[-1]], abs=2.0), reading


def test_the_foyers_job_and_the_workshops_record_of_its_screen_agree(workshop: Workshop) -> None:
    job = read("foyer.yaml")
    assert job.screen is not None
    record = workshop.screens["screen-60a"].screen
    assert (job.screen.outline, job.screen.borders, job.screen.sticks_out) == (record.outline, record.borders, record.sticks_out)


def test_the_archives_frame_goes_into_its_recess(workshop: Workshop) -> None:
    """By hand: 1400 + 4 + 2 x 40 = 1484 mm and 6 mm of play; 900 + 4 + 80 = 984 mm and 6 mm."""
    job = read("archive-mirror.yaml")
    assert job.mounting.recess is not None
    assert job.mounting.recess.width >= 1484 + workshop.habits.recess_play
    assert job.mounting.recess.height >= 984 + workshop.habits.recess_play
