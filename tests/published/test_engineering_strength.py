"""Strength of glass: EN 16612, ASTM E1300, DIN 18008."""

import csv
from importlib.resources import files

import pytest

from halfsilver.engineering import strength as s
from halfsilver.errors import RangeError


def rows():
    with files("halfsilver.data.engineering").joinpath("glass_duration.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))[1:]


@pytest.mark.parametrize("row", rows(), ids=lambda r: r["duration"])
def test_duration_factor_agrees_with_the_table(row):
    # EN 16612:2019, printed to two places [seen in a transcription]
    assert s.duration_factor(duration_h=float(row["hours"])) == pytest.approx(float(row["factor"]), abs=0.0052)
    assert s.design_strength_mpa(kind="annealed", k_mod=float(row["factor"])) == pytest.approx(float(row["annealed"]), abs=0.005)


def test_duration_factor_stays_between_its_ends():
    assert s.duration_factor(duration_h=1 / 3600) == 1
    assert s.duration_factor(duration_h=1e9) == 0.29


@pytest.mark.parametrize(
    ("kind", "k_mod", "value"),
    [("annealed", 1.0, 25.0), ("annealed", 0.29, 7.25), ("toughened", 0.29, 69.75), ("heat-strengthened", 0.29, 7.25 + 25 / 1.2)],
)
def test_design_strength(kind, k_mod, value):
    # EN 16612:2019 [seen]: 25.0, 7.25, 69.75 MPa; heat-strengthened from 70 MPa by the same rule
    assert s.design_strength_mpa(kind=kind, k_mod=k_mod) == pytest.approx(value, rel=1e-9)


def test_surface_and_edge_factors():
    # EN 16612:2019 [seen]: 0.75 patterned, 0.6 sandblasted; 0.9 seamed, 0.8 as cut
    assert s.design_strength_mpa(kind="annealed", k_mod=1, surface="patterned") == pytest.approx(18.75)
    assert s.design_strength_mpa(kind="annealed", k_mod=1, surface="sandblasted") == pytest.approx(15.0)
    assert s.design_strength_mpa(kind="annealed", k_mod=1, edge="seamed") == pytest.approx(22.5)
    assert s.design_strength_mpa(kind="annealed", k_mod=1, edge="as cut") == pytest.approx(20.0)
    assert s.design_strength_mpa(kind="annealed", k_mod=1, edge="polished") == pytest.approx(25.0)
    assert s.design_strength_mpa(kind="toughened", k_mod=0.29, k_v=0.6) == pytest.approx(7.25 + 0.6 * 62.5)


def test_e1300():
    # NCSEA guide [seen]: 23.3/18.3, 46.6/36.5, 93.1/73.0 MPa; 30 days 0.426, so 9.92 MPa annealed
    found = [s.allowable_by_e1300_mpa(kind=k, at_edge=e) for k in ("annealed", "heat-strengthened", "toughened") for e in (False, True)]
    assert found == [23.3, 18.3, 46.6, 36.5, 93.1, 73.0]
    month = s.duration_factor_by_e1300(duration_s=30 * 86_400)
    assert month == pytest.approx(0.426, abs=5e-4)
    assert month * 23.3 == pytest.approx(9.92, abs=0.005)
    assert s.duration_factor_by_e1300(duration_s=3) == 1
    with pytest.raises(RangeError, match="duration_s"):
        s.duration_factor_by_e1300(duration_s=2.9)


def test_e1300_type_factors():
    # ASTM E1300 [memory]: 1, 2, 4 short; 0.43, 1.3, 3.0 long
    kinds = ("annealed", "heat-strengthened", "toughened")
    assert [s.type_factor_by_e1300(kind=k, long_load=False) for k in kinds] == [1, 2, 4]
    assert [s.type_factor_by_e1300(kind=k, long_load=True) for k in kinds] == [0.43, 1.3, 3.0]


def test_din():
    # DIN 18008-1 [memory]: 0.25 x 1.8 x 45/1.8 = 11.25; short 0.7 x 45 = 31.5; toughened 120/1.5 = 80
    assert s.design_strength_by_din_mpa(kind="annealed") == pytest.approx(11.25)
    assert s.design_strength_by_din_mpa(kind="annealed", duration="medium") == pytest.approx(18.0)
    assert s.design_strength_by_din_mpa(kind="annealed", duration="short") == pytest.approx(31.5)
    assert s.design_strength_by_din_mpa(kind="annealed", held_on_lines=False) == pytest.approx(6.25)
    assert s.design_strength_by_din_mpa(kind="toughened") == pytest.approx(80)


def test_relaxed_laminate_bends_four_times_as_much():
    # 3 + 3 with the interlayer relaxed against 6 solid: (6^3)/(2 x 3^3) = 4 [derived]
    assert s.laminated_thickness_mm(plies_mm=[3, 3], interlayers_mm=[0.76]) ** 3 == pytest.approx(6**3 / 4)
    # each ply carries half the load: 6 (M/2)/h^2 = 6 M/h_e^2, so h_e = h sqrt 2
    assert s.laminated_stress_thickness_mm(plies_mm=[3, 3], ply=0) == pytest.approx(3 * 2**0.5)


def test_fully_coupled_laminate_without_film_is_solid():
    # parallel-axis theorem
    assert s.laminated_thickness_mm(plies_mm=[3, 5], coupling=1) == pytest.approx(8)
    assert s.laminated_stress_thickness_mm(plies_mm=[4, 4], ply=1, coupling=1) == pytest.approx(8)


def test_film_keeps_the_plies_apart():
    # 4 + 1.52 + 4, full transfer: (2 x 64 + 12 x 2 x 4 x 2.76^2)^(1/3) by hand
    assert s.laminated_thickness_mm(plies_mm=[4, 4], interlayers_mm=[1.52], coupling=1) == pytest.approx((128 + 96 * 2.76**2) ** (1 / 3))


def test_interlayers_must_fit_the_plies():
    with pytest.raises(RangeError, match="one interlayer fewer"):
        s.laminated_thickness_mm(plies_mm=[3, 3], interlayers_mm=[0.38, 0.38])
