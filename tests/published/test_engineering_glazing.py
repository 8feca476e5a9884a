"""Safety-glazing rules: IBC 2406, 16 CFR 1201, ANSI Z97.1, EN 12600, both sides of every printed limit."""

import pytest

from halfsilver.engineering import glazing
from halfsilver.errors import RangeError

IN = 25.4
FT_LBF_J = 1.35581795  # NIST SP 811, table B.8


def rule(*, area_sq_ft=12.0, bottom_in=10.0, top_in=60.0, walk_in=0.0):
    height_mm = (top_in - bottom_in) * IN
    return glazing.window_rule(
        width_mm=area_sq_ft * 144 * IN**2 / height_mm, height_mm=height_mm, bottom_edge_mm=bottom_in * IN, walking_distance_mm=walk_in * IN
    )


@pytest.mark.parametrize(
    ("change", "applies"),
    [
        ({}, True),
        ({"area_sq_ft": 9.00}, False), ({"area_sq_ft": 9.01}, True),
        ({"bottom_in": 18.0}, False), ({"bottom_in": 17.99}, True),
        ({"top_in": 36.0}, False), ({"top_in": 36.01}, True),
        ({"walk_in": 36.0}, True), ({"walk_in": 36.01}, False),
    ],
)  # fmt: skip
def test_window_rule_needs_all_four(change, applies):
    # IBC 2406.4.3, IRC R308.4.3: > 9 sq ft, bottom < 18 in, top > 36 in, walking surface within 36 in [seen]
    assert rule(**change).applies is applies


def test_window_rule_says_which_conditions_hold():
    found = rule(area_sq_ft=8, bottom_in=20)
    assert (found.large, found.low, found.high, found.near) == (False, False, True, True)


def test_nine_square_feet_in_square_metres():
    # 9 sq ft = 0.836 m2
    assert glazing.pane_area_sq_ft(width_mm=1000, height_mm=836.127) == pytest.approx(9.0, abs=5e-6)


def test_a_55_inch_opening_is_just_under_nine_square_feet():
    # 16:9, 55 in: 8.98 sq ft by geometry
    assert glazing.pane_area_sq_ft(width_mm=1217.59, height_mm=684.895) == pytest.approx(8.98, abs=0.005)


@pytest.mark.parametrize(
    ("backing", "cavity", "excepted"), [(True, False, True), (True, True, False), (False, False, False), (False, True, False)]
)
def test_mirror_exception_never_over_a_cavity(backing, cavity, excepted):
    # IBC 2406.1, exception [seen]
    assert glazing.mirror_exception(continuous_backing=backing, cavity_behind=cavity) is excepted


@pytest.mark.parametrize(("bottom_in", "water_in", "applies"), [(59.99, 60, True), (60, 60, False), (59.99, 60.01, False)])
def test_wet_rule(bottom_in, water_in, applies):
    # IBC 2406.4.5 [seen]
    assert glazing.wet_rule(bottom_edge_mm=bottom_in * IN, water_distance_mm=water_in * IN) is applies


@pytest.mark.parametrize(("bottom_in", "door_in", "applies"), [(59.99, 24, True), (60, 24, False), (59.99, 24.01, False)])
def test_beside_door_rule(bottom_in, door_in, applies):
    # IBC 2406.4.2 [memory]
    assert glazing.beside_door_rule(bottom_edge_mm=bottom_in * IN, door_distance_mm=door_in * IN) is applies


def test_class_a_is_accepted_only_outside_doors_and_wet_areas():
    # IBC 2406.2 [seen]
    assert glazing.accepted_tests(door_or_wet=True) == ("16 CFR 1201 Category II",)
    assert glazing.accepted_tests(door_or_wet=False) == ("16 CFR 1201 Category II", "ANSI Z97.1 Class A")


@pytest.mark.parametrize(
    ("area", "product", "category"),
    [(9.0, "door", "I"), (9.01, "door", "II"), (9.0, "storm door", "I"), (2.0, "patio door", "II"), (2.0, "tub or shower", "II")],
)
def test_cpsc_category_by_area(area, product, category):
    # 16 CFR 1201 [memory]
    assert glazing.cpsc_category(area_sq_ft=area, product=product) == category


def test_cpsc_energies():
    # 16 CFR 1201: 150 ft lbf [seen], 400 ft lbf [memory]
    assert glazing.cpsc_impact_j(category="I") == pytest.approx(150 * FT_LBF_J, rel=1e-6)
    assert glazing.cpsc_impact_j(category="II") == pytest.approx(400 * FT_LBF_J, rel=1e-6)


def test_ansi_energies():
    # ANSI Z97.1: 48, 18, 12 in of a 100 lb bag [memory]; class C 100 ft lbf [seen]
    found = [glazing.ansi_impact_j(impact_class=c) / FT_LBF_J for c in "ABC"]
    assert found == pytest.approx([400, 150, 100], rel=1e-6)


def test_pendulum_heights():
    # EN 12600: 190, 450, 1200 mm for class 3, 2, 1 [seen]
    assert [glazing.en12600_drop_mm(impact_class=c) for c in (3, 2, 1)] == [190, 450, 1200]
    with pytest.raises(RangeError, match="no class 4"):
        glazing.en12600_drop_mm(impact_class=4)
