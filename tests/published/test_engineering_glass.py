"""Panes and panels: EN 572, ASTM E1300 thickness, geometry of a screen."""

import csv
from importlib.resources import files

import pytest

from halfsilver.engineering import glass, panel
from halfsilver.errors import RangeError


def rows(name):
    with files("halfsilver.data.engineering").joinpath(name).open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    return found[1:]  # the first row holds the units


@pytest.mark.parametrize(("w", "h", "t", "mass"), [(1200, 700, 6, 12.6), (550, 950, 4, 5.225), (1000, 1000, 1, 2.5)])
def test_pane_mass(w, h, t, mass):
    # EN 572-1: 2500 kg/m3, so 2.5 kg/m2 per mm [seen]
    assert glass.pane_mass_kg(width_mm=w, height_mm=h, thickness_mm=t) == pytest.approx(mass, rel=1e-9)


def test_acrylic_mass_and_growth():
    # common practice: 1190 kg/m3; 70e-6 per K, so 1.2 m over 40 K moves 3.36 mm
    from halfsilver.engineering.constants import ACRYLIC_DENSITY_KG_M3, ACRYLIC_EXPANSION_PER_K

    mass = glass.pane_mass_kg(width_mm=1000, height_mm=1000, thickness_mm=1, density_kg_m3=ACRYLIC_DENSITY_KG_M3)
    assert mass == pytest.approx(1.19, rel=1e-9)
    growth = glass.expansion_mm(length_mm=1200, rise_k=40, expansion_per_k=ACRYLIC_EXPANSION_PER_K)
    assert growth == pytest.approx(3.36, abs=0.005)


def test_glass_growth_has_the_sign_of_the_change():
    # EN 572-1: 9e-6 per K; 1.2 m over 40 K: 0.432 mm [seen]
    assert glass.expansion_mm(length_mm=1200, rise_k=40) == pytest.approx(0.432, rel=1e-9)
    assert glass.expansion_mm(length_mm=1200, rise_k=-40) == pytest.approx(-0.432, rel=1e-9)


def test_least_thickness_agrees_with_the_table():
    # ASTM E1300 / C1036 designation table [seen in a public transcription]
    for row in rows("glass_thickness.csv"):
        if row["least"]:
            assert glass.least_thickness_mm(nominal_mm=float(row["nominal"])) == float(row["least"])
        else:
            with pytest.raises(RangeError, match="nominal thickness"):
                glass.least_thickness_mm(nominal_mm=float(row["nominal"]))


def test_thickness_tolerance_agrees_with_the_table():
    # EN 572-2 [memory]
    for row in rows("glass_thickness.csv"):
        if row["tolerance"]:
            assert glass.thickness_tolerance_mm(nominal_mm=float(row["nominal"])) == float(row["tolerance"])


def test_mass_column_of_the_table():
    # 2.5 kg/m2 per mm, EN 572-1 [seen]
    for row in rows("glass_thickness.csv"):
        found = glass.pane_mass_kg(width_mm=1000, height_mm=1000, thickness_mm=float(row["nominal"]))
        assert found == pytest.approx(float(row["mass_per_area"]), abs=0.005)


def test_frame_clearance():
    # derived: 1.6 (ASTM C1036, memory) + 1.0 + 0.4 = 3.0 mm worst case on a 1.2 m side
    assert glass.frame_clearance_mm(glass_tolerance_mm=1.6, rebate_tolerance_mm=1.0, growth_mm=0.4) == pytest.approx(3.0)


def test_strips_and_holes():
    # common practice: ten thicknesses or 12 mm; EN 12150-1 [memory]: 2 t to the edge, 6 t to a corner
    assert glass.least_strip_mm(thickness_mm=1.1) == 12
    assert glass.least_strip_mm(thickness_mm=3) == 30
    assert glass.hole_edge_distance_mm(thickness_mm=6) == 12
    assert glass.hole_edge_distance_mm(thickness_mm=6, at_corner=True) == 36


@pytest.mark.parametrize(
    ("p", "q", "width", "height"),
    [(16, 9, 0.871576, 0.490261), (16, 10, 0.847998, 0.529999), (4, 3, 0.8, 0.6), (64, 27, 0.921364, 0.388701), (1, 1, 0.707107, 0.707107)],
)
def test_width_and_height_over_diagonal(p, q, width, height):
    # geometry, to the printed sixth place
    size = panel.size_from_diagonal(diagonal_mm=1, aspect_width=p, aspect_height=q)
    assert (size.width_mm, size.height_mm) == pytest.approx((width, height), abs=5e-7)


def test_common_panels():
    # geometry, table of common sizes to its printed tenth of a millimetre
    for row in rows("panel_16x9.csv"):
        size = panel.size_from_diagonal(diagonal_mm=float(row["diagonal"]) * 25.4, aspect_width=16, aspect_height=9)
        assert (size.width_mm, size.height_mm) == pytest.approx((float(row["width"]), float(row["height"])), abs=0.051)


def test_pixel_density():
    # 55 in, 3840 wide: 80.1 pixels per inch
    assert panel.pixels_per_inch(width_mm=1217.59, pixels=3840) == pytest.approx(80.1, abs=0.05)


def test_one_per_cent_rule():
    # common practice: warn beyond 1 %
    assert not panel.sources_disagree(trusted_mm=1000, other_mm=1010)
    assert panel.sources_disagree(trusted_mm=1000, other_mm=1010.1)
    assert panel.sources_disagree(trusted_mm=1000, other_mm=989.9)
    assert panel.disagreement(trusted_mm=1000, other_mm=980) == pytest.approx(0.02)
