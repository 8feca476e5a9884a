"""Bending of panes: Timoshenko Table 8, Roark Table 11.4, worked examples."""

import csv
from importlib.resources import files
from math import inf

import pytest

from halfsilver.engineering import plates as p
from halfsilver.errors import RangeError


def rows():
    with files("halfsilver.data.engineering").joinpath("plate_supported.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))[1:]


def aspect_of(row):
    return 1e5 if float(row["aspect"]) == inf else float(row["aspect"])


@pytest.mark.parametrize("row", rows(), ids=lambda r: r["aspect"])
def test_factors_agree_with_the_printed_table(row):
    # Timoshenko and Woinowsky-Krieger, 2nd ed., Table 8, nu 0.30; the same series at 0.22; half the last printed place
    plain, glass = (p.plate_factors(aspect=aspect_of(row), poisson=nu) for nu in (0.30, 0.22))
    assert plain.deflection == pytest.approx(float(row["deflection"]), abs=6e-6)
    assert (plain.moment_short, plain.moment_long) == pytest.approx(
        (float(row["moment_short_030"]), float(row["moment_long_030"])), abs=6e-5
    )
    assert (glass.moment_short, glass.moment_long) == pytest.approx(
        (float(row["moment_short_022"]), float(row["moment_long_022"])), abs=6e-5
    )


@pytest.mark.parametrize("row", [r for r in rows() if r["roark_stress"]], ids=lambda r: r["aspect"])
def test_roark_agrees_with_his_table_and_with_the_series(row):
    # Roark Table 11.4 case 1a [seen]; printed deflection factors are off the series by up to 0.6 %
    size = {"width_mm": 500, "height_mm": 500 * aspect_of(row), "thickness_mm": 6, "pressure_pa": 1000}
    stress, sag = p.plate_stress_by_roark_mpa(**size), p.plate_deflection_by_roark_mm(**size, modulus_mpa=70_000)
    assert stress == pytest.approx(float(row["roark_stress"]) * 1e-3 * (500 / 6) ** 2, rel=1e-9)
    assert sag == pytest.approx(float(row["roark_deflection"]) * 1e-3 * 500**4 / (70_000 * 6**3), rel=1e-9)
    assert stress == pytest.approx(p.plate_stress_mpa(**size, poisson=0.3), rel=0.001)
    assert sag == pytest.approx(p.plate_deflection_mm(**size, modulus_mpa=70_000, poisson=0.3), rel=0.006)


def test_roark_example():
    # a/b 1.4, 0.5 m, 6 mm, 1000 Pa, 70 GPa: 3.146 MPa, 0.318 mm [seen]
    size = {"width_mm": 700, "height_mm": 500, "thickness_mm": 6, "pressure_pa": 1000}
    assert p.plate_stress_by_roark_mpa(**size) == pytest.approx(3.146, abs=5e-4)
    assert p.plate_deflection_by_roark_mm(**size, modulus_mpa=70_000) == pytest.approx(0.318, abs=5e-4)


def test_between_two_entries_roark_goes_straight():
    size = {"height_mm": 1000, "thickness_mm": 10, "pressure_pa": 100}
    low, middle, high = (p.plate_stress_by_roark_mpa(width_mm=w, **size) for w in (1000, 1100, 1200))
    assert middle == pytest.approx((low + high) / 2)
    assert p.plate_deflection_by_roark_mm(width_mm=6000, **size) == pytest.approx(0.1421 * 1e-4 * 1e12 / (71_700 * 1000))


def test_glass_example():
    # 0.7 x 1.0 m, 4.57 mm, 500 Pa, 71.7 GPa, 0.22: D 599.3 N m; 1.457 mm; 5.267 MPa [derived]
    assert p.plate_rigidity_n_mm(thickness_mm=4.57) == pytest.approx(599.283e3, rel=1e-5)
    size = {"width_mm": 700, "height_mm": 1000, "thickness_mm": 4.57, "pressure_pa": 500}
    assert p.plate_deflection_mm(**size) == pytest.approx(1.457, abs=5e-4)
    assert p.plate_stress_mpa(**size) == pytest.approx(5.267, abs=5e-4)


def test_stage_example():
    # 6 mm at 45 degrees: 104.05 Pa; 0.8 x 1.4 m, 5.56 mm: 0.359 mm, 1.18 MPa [derived, with 9.81 m/s2]
    load = p.slope_load_pa(thickness_mm=6, slope_deg=45, gravity_m_s2=9.81)
    assert load == pytest.approx(104.05, abs=0.005)
    size = {"width_mm": 1400, "height_mm": 800, "thickness_mm": 5.56, "pressure_pa": load}
    assert p.plate_deflection_mm(**size) == pytest.approx(0.359, abs=5e-4)
    assert p.plate_stress_mpa(**size) == pytest.approx(1.18, abs=0.005)


def test_standard_gravity_is_the_default():
    # 2500 x 9.80665 x 0.006 lying flat; nothing upright
    assert p.slope_load_pa(thickness_mm=6, slope_deg=0) == pytest.approx(147.09975)
    assert p.slope_load_pa(thickness_mm=6, slope_deg=90) == pytest.approx(0, abs=1e-12)


def test_two_edges_are_the_long_strip():
    # beam: 5/384 q L^4/(E I), 1/8 q L^2/Z; a very long plate bends the same with nu = 0
    size = {"span_mm": 700, "thickness_mm": 4.57, "pressure_pa": 500}
    plate = {"width_mm": 700, "height_mm": 70_000, "thickness_mm": 4.57, "pressure_pa": 500, "poisson": 0.0}
    assert p.two_edge_deflection_mm(**size) == pytest.approx(p.plate_deflection_mm(**plate), rel=1e-9)
    assert p.two_edge_stress_mpa(**size) == pytest.approx(p.plate_stress_mpa(**plate), rel=1e-9)


def test_limits():
    # EN 16612 9.1.4 [seen]: smaller of span/65 and 50 mm; ASTM E1300 [seen]: L/175; linear to half the thickness
    assert p.deflection_limit_mm(span_mm=1300) == 20
    assert p.deflection_limit_mm(span_mm=3249) == pytest.approx(3249 / 65)
    assert p.deflection_limit_mm(span_mm=3251) == 50
    assert p.support_deflection_limit_mm(span_mm=1750) == 10
    assert p.linear_limit_mm(thickness_mm=5) == 2.5


@pytest.mark.parametrize(
    "beyond",
    [
        lambda: p.plate_factors(aspect=0.99),
        lambda: p.plate_factors(aspect=1, poisson=0.501),
        lambda: p.slope_load_pa(thickness_mm=6, slope_deg=90.1),
        lambda: p.slope_load_pa(thickness_mm=6, slope_deg=-0.1),
    ],
)
def test_beyond_its_range_a_plate_is_not_computed(beyond):
    with pytest.raises(RangeError, match="outside"):
        beyond()
