"""Tapes, stacks and mitres."""

import pytest

from halfsilver.engineering import measuring as m
from halfsilver.errors import RangeError


@pytest.mark.parametrize(
    ("tape", "length", "limit"),
    [("I", 3000, 0.4), ("II", 3000, 0.9), ("III", 3000, 1.8), ("II", 2001, 0.9), ("II", 2000, 0.7), ("I", 100, 0.2), ("II", 3000.1, 1.1)],
)
def test_tape_classes(tape, length, limit):
    # OIML R 35, 2014/32/EU [memory]: I 0.1 + 0.1 L, II 0.3 + 0.2 L, III 0.6 + 0.4 L, L in whole metres rounded up
    assert m.tape_limit_mm(length_mm=length, tape_class=tape) == pytest.approx(limit, rel=1e-9)


def test_three_metres_read_in_inches_are_three_metres():
    assert m.tape_limit_mm(length_mm=3000 / 25.4 * 25.4, tape_class="II") == pytest.approx(0.9)


def test_reading():
    # half the division: 1/16 in is 1.5875 mm
    assert m.reading_limit_mm(division_mm=25.4 / 16) == pytest.approx(1.5875 / 2)


@pytest.mark.parametrize(
    ("limits", "worst", "likely", "tol"),
    [
        ([0.1] * 10, 1.0, 0.316, 5e-4),  # ten parts [seen]
        ([0.10, 0.05, 0.03, 0.05], 0.23, 0.126, 5e-4),  # housing stack, gap 3.00 [seen]
        ([0.005, 0.005, 0.003, 0.002], 0.015, 0.0079, 5e-5),  # the same in inches [seen]
    ],
)
def test_stacks(limits, worst, likely, tol):
    assert m.worst_case_mm(limits_mm=limits) == pytest.approx(worst, rel=1e-9)
    assert m.root_sum_square_mm(limits_mm=limits) == pytest.approx(likely, abs=tol)


def test_limits_add_whatever_their_sign():
    assert m.worst_case_mm(limits_mm=[-0.1, 0.1]) == pytest.approx(0.2)


@pytest.mark.parametrize(("sides", "angle"), [(4, 45), (5, 36), (6, 30), (8, 22.5)])
def test_saw_setting(sides, angle):
    # geometry: 180/n
    assert m.mitre_saw_angle_deg(sides=sides) == angle


def test_two_sides_make_no_frame():
    assert m.mitre_saw_angle_deg(sides=3) == 60
    assert m.mitre_saw_angle_deg() == 45
    with pytest.raises(RangeError, match="sides"):
        m.mitre_saw_angle_deg(sides=2)


@pytest.mark.parametrize(("inside", "rail", "sides", "outside"), [(600, 50, 4, 700), (300, 40, 6, 346.2)])
def test_long_points(inside, rail, sides, outside):
    # geometry: inside + 2 w tan(180/n)
    assert m.outside_length_mm(inside_mm=inside, rail_width_mm=rail, sides=sides) == pytest.approx(outside, abs=0.05)


def test_mitre_gap():
    # geometry: 70 x 1.4142 x tan 0.25 = 0.43 mm; eight cuts the same way leave 2 degrees
    assert m.mitre_gap_mm(rail_width_mm=70, error_deg=0.25) == pytest.approx(0.43195, rel=1e-4)
    assert m.mitre_gap_mm(rail_width_mm=70, error_deg=-0.25) == pytest.approx(0.43195, rel=1e-4)
    assert m.last_mitre_error_deg(error_deg=0.25) == 2.0


def test_square_from_diagonals():
    # 600 x 900 with 3 mm: 1081.7 x 3/(2 x 600 x 900) = 0.0030 rad = 0.17 degrees
    assert m.diagonal_mm(width_mm=600, height_mm=900) == pytest.approx(1081.7, abs=0.05)
    found = m.out_of_square_deg(width_mm=600, height_mm=900, difference_mm=3)
    assert found == pytest.approx(0.1722, abs=5e-5)
    assert m.square_tolerance_mm(width_mm=600, height_mm=900, error_deg=found) == pytest.approx(3.0)


def test_out_of_square_agrees_with_the_exact_parallelogram():
    # law of cosines, angle 90 +- 0.2 degrees
    from math import cos, radians, sqrt

    a, b, c = 600, 900, cos(radians(90 - 0.2))
    difference = sqrt(a * a + b * b + 2 * a * b * c) - sqrt(a * a + b * b - 2 * a * b * c)
    assert m.out_of_square_deg(width_mm=a, height_mm=b, difference_mm=difference) == pytest.approx(0.2, rel=1e-4)


def test_stock():
    # 3400 + 4 x 3.2 = 3412.8 mm
    assert m.stock_needed_mm(lengths_mm=[700, 700, 1000, 1000], kerf_mm=3.2) == pytest.approx(3412.8)


def test_rectangular_distribution():
    # JCGM 100, 4.3.7 [memory]: a/sqrt 3; 1.000 -> 0.577
    assert m.standard_uncertainty_mm(limit_mm=1) == pytest.approx(0.577, abs=5e-4)
