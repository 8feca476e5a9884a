"""Labour and rates of a workshop: read with their units, and damaged rows named with their place."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfsilver.errors import JobError, Problem
from halfsilver.files.workshop import copy_workshop, read_workshop


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_workshop(tmp_path / "shop")
    return tmp_path / "shop"


def refused(folder: Path, file: str, old: str, new: str) -> Problem:
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(JobError) as caught:
        read_workshop(folder)
    (problem,) = caught.value.problems
    assert Path(problem.file).name == file
    assert problem.line > 0
    return problem


def test_minutes_take_the_unit_of_their_column_and_waits_their_own(folder: Path) -> None:
    workshop = read_workshop(folder)
    assert workshop.labour["plane"].fixed == 600
    assert workshop.labour["paint"].wait == 24 * 3600
    assert workshop.labour["plane"].wait == 0
    assert workshop.day_min == 480
    assert workshop.rates["glass"].hour == "64.00"


def test_a_rate_that_is_not_there(folder: Path) -> None:
    problem = refused(folder, "labour.csv", "glass\n", "glas\n")
    assert problem.read == "glas"
    assert "glass" in problem.advice + problem.allowed


def test_an_operation_that_stands_twice(folder: Path) -> None:
    assert refused(folder, "labour.csv", "\nmitre,", "\nplane,").code == "duplicate-id"


def test_an_hour_in_another_currency(folder: Path) -> None:
    assert "USD" in refused(folder, "rates.csv", ",,USD", ",,EUR").allowed


def test_a_day_longer_than_a_day(folder: Path) -> None:
    assert refused(folder, "workshop.yaml", "day: 8 h", "day: 80 h").path == "day"
