"""Rounding to a step: the guard, halves, negatives; and the nearest word."""

from __future__ import annotations

import pytest

from halfsilver.errors import RangeError
from halfsilver.units.rounding import decimal_text, down_to, nearest, nearest_steps, on_step, up_to
from halfsilver.units.words import nearest_word

STEP = 25.4 / 32


@pytest.mark.parametrize("hair", [0.0, 1e-10, -1e-10, 7e-7, -7e-7])
def test_a_hair_beside_a_step_is_on_it(hair: float) -> None:
    value = 53.25 * 25.4 + hair
    assert down_to(value, STEP) == 1352.55
    assert up_to(value, STEP) == 1352.55
    assert on_step(value, STEP)


def test_more_than_a_hair_is_not() -> None:
    assert down_to(1352.55 - 2e-6, STEP) == pytest.approx(1352.55 - STEP, abs=1e-9)
    assert up_to(1352.55 + 2e-6, STEP) == pytest.approx(1352.55 + STEP, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "down", "near", "up"),
    [(10.4, 10, 10, 11), (10.5, 10, 11, 11), (-10.5, -11, -11, -10), (-10.4, -11, -10, -10), (0.0, 0, 0, 0)],
)
def test_directions(value: float, down: float, near: float, up: float) -> None:
    assert (down_to(value, 1.0), nearest(value, 1.0), up_to(value, 1.0)) == (down, near, up)


def test_halves_that_floats_miss_still_go_up() -> None:
    # 1.005 is stored a little below itself; half away from zero of the written number is 1.01.
    assert decimal_text(1.005, 2) == "1.01"
    assert decimal_text(-1.005, 2) == "-1.01"
    assert decimal_text(2.5, 0) == "3"
    assert decimal_text(100.0, 0) == "100"
    assert decimal_text(0.05, 3) == "0.05"
    assert nearest_steps(-0.4, 1.0) == 0


@pytest.mark.parametrize("arguments", [(float("nan"), 1.0), (float("inf"), 1.0), (1.0, 0.0), (1.0, -1.0), (1.0, float("nan"))])
def test_what_cannot_be_rounded(arguments: tuple[float, float]) -> None:
    with pytest.raises(RangeError, match="finite value and a step"):
        down_to(*arguments)


def test_the_word_that_was_meant() -> None:
    known = ["mounting", "moulding", "centre_height", "glass"]
    assert nearest_word("mouting", known) == "mounting"
    assert nearest_word("centre-height", known) == "centre_height"
    assert nearest_word("GLAS", known) == "glass"
    assert nearest_word("battens", known) is None
    assert nearest_word("", known) is None
