"""A doubtful reading is questioned; expected causes are worked out by hand from the planned 53 3/8 in x 30 5/8 in rebate."""

from __future__ import annotations

import pytest

from desks import Visitor

INCH = 25.4


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("front.rebate.width", "54 3/8 in", "inch-slip"),  # one inch more than planned
        ("front.rebate.width", "51 3/8 in", "inch-slip"),
        ("front.rebate.width", "53.375 mm", "other-unit"),  # inches written as millimetres
        ("front.rebate.width", "1355.7 in", "other-unit"),  # millimetres written as inches
        ("front.rebate.height", "53 3/8 in", "swapped"),
        ("front.rebate.width", "44 7/8 in", "far-off"),
    ],
)
def test_a_slip_is_questioned_and_written_down_only_when_confirmed(visitor: Visitor, name: str, value: str, code: str) -> None:
    from halfsilver.services.desk_readings import take_reading

    job = visitor.begin()
    taken = take_reading(visitor.desk, job, name=name, value=value)
    assert taken.state is None
    assert [doubt.code for doubt in taken.doubts] == [code]
    assert visitor.number(job) == "1"


def test_a_reading_near_its_plan_is_not_questioned_and_what_moved_is_told(visitor: Visitor) -> None:
    from halfsilver.services.desk_readings import take_reading

    job = visitor.begin()
    taken = take_reading(visitor.desk, job, name="front.rebate.width", value="53 5/16 in", at="middle")
    assert taken.state is not None
    assert any("front glass width" in line for line in taken.lines)


def test_a_confirmed_one_is_written_down(visitor: Visitor) -> None:
    job = visitor.begin()
    asked = visitor.post(f"/jobs/{job}/history/measure", {"name": "front.rebate.width", "value": "52 3/8 in"})
    assert "Look once more" in asked.text
    assert "It is right" in asked.text
    done = visitor.post(f"/jobs/{job}/history/measure", {"name": "front.rebate.width", "value": "54 3/8 in", "sure": "yes", "key": "a"})
    assert "Written down" in done.text or done.status_code == 422  # such a frame may not have a design any more
