"""Bars, their screws, spacing of screws, rows of fixings and standing pieces: figures from handbooks and by hand."""

import pytest

from halfsilver.engineering import bars, mounting, spacing, standing
from halfsilver.engineering.standing import standing_workings
from halfsilver.engineering.workings import STUD, Timber, hanging_workings
from halfsilver.errors import RangeError

IN = 25.4


def test_metals_of_bars():
    # ASTM A36: yield 36 ksi, 250 MPa, 29 000 ksi, 200 GPa (seen in a public transcription); 6063-T5: 16 ksi, 110 MPa, 10 100 ksi (memory).
    assert (bars.STEEL.yield_mpa, bars.STEEL.modulus_mpa) == pytest.approx((36 * 6.894757, 29_000 * 6.894757), rel=0.01)
    assert (bars.ALUMINIUM.yield_mpa, bars.ALUMINIUM.modulus_mpa) == pytest.approx((16 * 6.894757, 10_100 * 6.894757), rel=0.005)
    assert (bars.STEEL.yield_mpa, bars.STEEL.modulus_mpa) == (250, 200_000)
    assert (bars.ALUMINIUM.yield_mpa, bars.ALUMINIUM.modulus_mpa) == (110, 69_600)
    # EN 1991-1-1 Table A.4 (memory): steel 77 to 78.5, aluminium 27 kN/m3
    assert [bars.metal_of(density_kg_m3=d).name for d in (2700, 4999, 5000, 7850)] == ["aluminium", "aluminium", "steel", "steel"]
    assert [bars.metal_of(density_kg_m3=d).name for d in (2000, 12_000)] == ["aluminium", "steel"]
    for beyond in (1999, 12_001):
        with pytest.raises(RangeError, match="metals of bars"):
            bars.metal_of(density_kg_m3=beyond)


def test_allowable_bending_of_plain_steel():
    # AISC 360, allowable strength design, 1.67 (memory): 36 ksi carry 21.6 ksi, as the older books print it; 250 MPa 149.7
    assert bars.allowable_stress_mpa(yield_mpa=36) == pytest.approx(21.6, abs=0.05)
    assert bars.allowable_stress_mpa(yield_mpa=250) == pytest.approx(149.7, abs=0.05)


def test_a_bar_on_two_supports():
    # AISC beam diagrams, case 7, load in the middle: M = P L/4, deflection P L^3/(48 E I). 100 N, 600 mm, 25 x 6 mm of steel:
    # Z = 150 mm3, 100 MPa; I = 450 mm4: 100 x 2.16e8/(48 x 2e5 x 450) = 5.0 mm.
    assert bars.bending_stress_mpa(load_n=100, lever_mm=600 / 4, width_mm=25, thickness_mm=6) == pytest.approx(100)
    assert bars.span_deflection_mm(load_n=100, span_mm=600, width_mm=25, thickness_mm=6, modulus_mpa=200_000) == pytest.approx(5.0)


def test_a_bar_held_along_one_edge():
    # AISC beam diagrams, case 22, load at the free end: M = P a, deflection P a^3/(3 E I). 100 N, 60 mm, 12 x 3 mm: I = 27 mm4, Z = 18 mm3.
    assert bars.bending_stress_mpa(load_n=100, lever_mm=60, width_mm=12, thickness_mm=3) == pytest.approx(6000 / 18)
    bent = bars.lip_deflection_mm(load_n=100, arm_mm=60, width_mm=12, thickness_mm=3, modulus_mpa=200_000)
    assert bent == pytest.approx(100 * 60**3 / (3 * 200_000 * 27))


def test_screws_of_a_pried_bar():
    # Moments about the foot's outer edge: 100 N at 30 + 10 mm against four screws at 10 mm.
    assert bars.screw_pull_n(load_n=100, arm_mm=30, foot_mm=20, screws=4) == pytest.approx(100 * 40 / (4 * 10))


# NDS commentary, Table C12.1.5.7, from memory: wood side members undrilled and drilled, steel side members undrilled and drilled.
SPACING = {
    "edge": (2.5, 2.5, 2.5, 2.5), "end, pulled": (15, 10, 10, 5), "end, pressed": (10, 5, 5, 3), "along": (15, 10, 10, 5),
    "across": (10, 5, 5, 2.5), "rows": (5, 3, 3, 2.5),
}  # fmt: skip


@pytest.mark.parametrize("which", sorted(SPACING))
def test_spacing_of_wood_screws(which):
    cases = [(False, False), (True, False), (False, True), (True, True)]
    found = [spacing.screw_spacing_mm(diameter_mm=0.190 * IN, which=which, drilled=d, under_steel=s) / (0.190 * IN) for d, s in cases]
    assert found == pytest.approx(SPACING[which])


def test_the_hardest_loaded_of_a_row():
    # A beam on two props: the nearer takes 1/2 + x/L. Four bolts at -150, -50, 50, 150 with 60 mm off: 1/4 + 60 x 150/50 000 = 0.43.
    share = mounting.load_share
    assert share(fixings=2, off_centre_mm=100, spread_mm=1000) == pytest.approx(0.6)
    assert share(fixings=2, off_centre_mm=-100, spread_mm=1000) == pytest.approx(0.6)
    assert share(fixings=4, off_centre_mm=60, spread_mm=300) == pytest.approx(0.43)
    assert share(fixings=3, off_centre_mm=0, spread_mm=800) == pytest.approx(1 / 3)
    assert share(fixings=1, off_centre_mm=60, spread_mm=0) == 1


def test_an_uneven_row_loads_its_screws_more():
    common = {
        "mass_kg": 30, "centre_from_wall_mm": 75, "fixing_to_contact_mm": 500, "fixings": 2, "screw_number": 10, "thread_mm": 38.1,
        "stud_gravity": 0.42, "lateral_load_n": 400,
    }  # fmt: skip
    timber = Timber(name="rail", screws="screws", origin="scale", assumed="side grain")
    even, uneven = hanging_workings(**common, timber=STUD), hanging_workings(**common, uneven=1.2, timber=timber)
    assert [b.result / a.result for a, b in zip(even[:3], uneven[:3], strict=True)] == pytest.approx([1.2] * 3)
    assert any(one.name == "gravity of the rail" for one in uneven[0].given)


# IEC 62368-1 8.6 (seen): half the weight down, at most 100 N, and 13 % sideways, at most 250 N, up to 1.5 m high.
# 60 kg, 588.4 N, 200 mm inside: 117.68 N m hold it. 100 N press down on what stands out by 300 mm: 30 N m.
def test_pressed_down_and_pushed_at_once():
    assert standing.righting_moment_n_m(mass_kg=60, base_mm=200) == pytest.approx(117.68, abs=0.005)
    found = standing_workings(mass_kg=60, base_mm=200, centre_height_mm=900, overhang_mm=300, over="back edge")
    _, push, down = found
    assert (down.result, down.limit) == pytest.approx((30.0, 117.68), abs=0.005)
    assert push.result == pytest.approx((117.68 - 30) / 1.5, abs=0.005)  # 58.5 N: below the 76.5 N of 13 %
    assert [one.holds for one in found] == [True, False, True]
    assert all("back edge" in one.title for one in found)


@pytest.mark.parametrize(("overhang", "holds"), [(1176, True), (1177, False)])
def test_either_side_of_what_tips_by_pressing_down(overhang, holds):
    # 117.68 N m over 100 N: 1176.8 mm
    assert standing_workings(mass_kg=60, base_mm=200, centre_height_mm=900, overhang_mm=overhang)[2].holds is holds


def test_what_is_pressed_down_too_far_out_tips_without_a_push():
    assert standing.push_to_tip_n(mass_kg=60, base_mm=200, push_height_mm=1500, down_n=100, overhang_mm=1200) == 0


def test_no_stand_is_tilted_flat():
    with pytest.raises(RangeError, match="tilt test"):
        standing.tip_base_mm(centre_height_mm=900, tilt_deg=89.1)
