"""Timber and its fasteners: FPL *Wood Handbook*, NDS 2018, AWC solved examples."""

import csv
from importlib.resources import files

import pytest

from halfsilver.engineering import fasteners as f
from halfsilver.engineering import timber as t
from halfsilver.errors import RangeError

IN = 25.4
LBF = 4.4482216152605


def rows(name):
    with files("halfsilver.data.engineering").joinpath(name).open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    return found[1:]


def lb_per_in(n_per_mm):
    return n_per_mm / LBF * IN


@pytest.mark.parametrize(("g", "m", "rho"), [(0.60, 12, 672), (0.40, 100, 800), (0.63, 12, 706)])
def test_density(g, m, rho):
    # Wood Handbook Table 4-6a [seen]; red oak 0.63 at 12 %
    assert t.density_kg_m3(specific_gravity=g, moisture_pct=m) == pytest.approx(rho, abs=0.5)


def test_density_column_of_the_species_table():
    # density = 1000 G (1 + 0.12), Eq 4-14 [seen]
    for row in rows("timber_species.csv"):
        if row["specific_gravity"]:
            found = t.density_kg_m3(specific_gravity=float(row["specific_gravity"]), moisture_pct=12)
            assert found == pytest.approx(float(row["density"]), abs=0.61)


def test_white_fir_example():
    # Wood Handbook chapter 13: 232 mm, 8 to 11 %, flat grain: 1.705 mm, board 233.7 mm [seen]
    grown = t.movement_mm(width_mm=232, coefficient_per_pct=0.00245, from_pct=8, to_pct=11)
    assert grown == pytest.approx(1.705, abs=5e-4)
    assert 232 + grown == pytest.approx(233.7, abs=0.05)
    assert t.movement_mm(width_mm=232, coefficient_per_pct=0.00112, from_pct=8, to_pct=11) == pytest.approx(0.780, abs=5e-4)


def test_drying_shrinks():
    assert t.movement_mm(width_mm=232, coefficient_per_pct=0.00245, from_pct=11, to_pct=8) == pytest.approx(-1.705, abs=5e-4)


@pytest.mark.parametrize(("start", "end"), [(6, 14), (14, 6)])
def test_movement_holds_to_6_and_14_per_cent(start, end):
    # Table 13-5 [seen]
    t.cross_grain_strain(coefficient_per_pct=0.002, from_pct=start, to_pct=end)


@pytest.mark.parametrize(("start", "end"), [(5.99, 10), (10, 14.01)])
def test_movement_is_refused_outside(start, end):
    with pytest.raises(RangeError, match="outside 6 to 14"):
        t.cross_grain_strain(coefficient_per_pct=0.002, from_pct=start, to_pct=end)


@pytest.mark.parametrize(("shrinkage", "coefficient"), [(7.8, 0.00274), (5.5, 0.00190), (9.9, 0.00353), (3.7, 0.00126), (9.5, 0.00338)])
def test_coefficient_from_shrinkage(shrinkage, coefficient):
    # Table 13-5: walnut, sugar maple, cherry, yellow birch [seen]
    assert t.coefficient_per_pct(shrinkage_pct=shrinkage) == pytest.approx(coefficient, abs=5.1e-6)


def test_equilibrium_moisture_agrees_with_the_printed_table():
    # Wood Handbook Table 4-2, 15 entries, printed to 0.1 [seen]
    table = rows("equilibrium_moisture.csv")
    assert len(table) == 15
    for row in table:
        found = t.equilibrium_moisture_pct(temperature_degc=(float(row["temperature"]) - 32) / 1.8, humidity=float(row["humidity"]) / 100)
        assert found == pytest.approx(float(row["moisture"]), abs=0.06)
        assert found == pytest.approx(float(row["by_equation"]), abs=6e-4)  # Eq 4-5, evaluated apart from this program


@pytest.mark.parametrize(("temperature", "humidity"), [(-2.1, 0.5), (130.1, 0.5), (20, -0.01), (20, 1.01)])
def test_equilibrium_moisture_is_refused_outside(temperature, humidity):
    # Table 4-2 runs from 30 to 270 degF
    with pytest.raises(RangeError, match="outside"):
        t.equilibrium_moisture_pct(temperature_degc=temperature, humidity=humidity)


def test_walnut_through_a_year():
    # 75 mm flat-sawn walnut, 21 degC, 30 to 55 %: 6.17 to 10.07 %, 0.80 mm
    low, high = (t.equilibrium_moisture_pct(temperature_degc=21, humidity=h) for h in (0.30, 0.55))
    assert (low, high) == pytest.approx((6.17, 10.07), abs=0.01)
    assert t.movement_mm(width_mm=75, coefficient_per_pct=0.00274, from_pct=low, to_pct=high) == pytest.approx(0.80, abs=0.005)


@pytest.mark.parametrize(("c", "gap"), [(0.00369, 2.35), (0.00158, 1.01)])
def test_mitre_opening(c, gap):
    # red oak 75 mm, 6 points, flat and quarter-sawn [derived]
    assert t.mitre_opening_mm(rail_width_mm=75, strain=c * 6) == pytest.approx(gap, abs=0.005)


def test_lag_screws_agree_with_table():
    # NDS 2018 Table 12.2A [seen], whole pounds per inch
    seen = 0
    for row in rows("nds_withdrawal.csv"):
        if row["fastener"] == "lag screw" and row["table_load"]:
            found = f.lag_withdrawal_n_per_mm(specific_gravity=float(row["gravity"]), diameter_mm=float(row["diameter"]) * IN)
            assert lb_per_in(found) == pytest.approx(float(row["table_load"]), abs=0.51)
            seen += 1
    assert seen >= 20


def test_wood_screw_equation():
    # NDS 2018 Eq 12.2-2 [seen]: No. 10 in 0.42, 95.52 lb/in; 1.5 in, permanent: 128.95 lb = 573.6 N
    per_mm = f.screw_withdrawal_n_per_mm(specific_gravity=0.42, diameter_mm=0.19 * IN)
    assert lb_per_in(per_mm) == pytest.approx(95.5206, rel=1e-5)
    assert f.withdrawal_n(per_mm_n=per_mm, thread_mm=1.5 * IN) == pytest.approx(573.6, abs=0.05)


def test_nail_example():
    # AWC Structural Wood Design Solved Example Problems, E2.1a: 0.131 in, G 0.42, 2.395 in [seen]
    per_mm = f.nail_withdrawal_n_per_mm(specific_gravity=0.42, diameter_mm=0.131 * IN)
    assert lb_per_in(per_mm) == pytest.approx(20.667, abs=5e-4)
    assert f.withdrawal_n(per_mm_n=per_mm, thread_mm=2.395 * IN, duration="ten years") / LBF == pytest.approx(49.50, abs=0.005)


def test_lag_example():
    # AWC solved example E2.3: 1/2 in, G 0.55, 4 - 1.5 - 0.3125 = 2.1875 in: 954.97 lb = 4247.9 N [seen]
    per_mm = f.lag_withdrawal_n_per_mm(specific_gravity=0.55, diameter_mm=12.7)
    assert f.withdrawal_n(per_mm_n=per_mm, thread_mm=2.1875 * IN, duration="ten years") == pytest.approx(4247.9, abs=0.1)


@pytest.mark.parametrize(
    ("call", "inside_in", "outside_in"),
    [
        (f.nail_withdrawal_n_per_mm, (0.092, 0.375), (0.0919, 0.3751)),  # Table 12.2C [seen]
        (f.screw_withdrawal_n_per_mm, (0.138, 0.372), (0.1379, 0.3721)),  # No. 6 to 24 [seen]
        (f.lag_withdrawal_n_per_mm, (0.25, 1.25), (0.2499, 1.2501)),  # Table 12.2A
    ],
)
def test_diameters_outside_the_tables_are_refused(call, inside_in, outside_in):
    for d in inside_in:
        call(specific_gravity=0.5, diameter_mm=d * IN)
    for d in outside_in:
        with pytest.raises(RangeError, match="diameter_mm"):
            call(specific_gravity=0.5, diameter_mm=d * IN)


@pytest.mark.parametrize("call", [f.nail_withdrawal_n_per_mm, f.screw_withdrawal_n_per_mm, f.lag_withdrawal_n_per_mm])
def test_gravity_outside_the_tables_is_refused(call):
    # Tables 12.2A to C: 0.31 to 0.73 [seen]
    for g in (0.31, 0.73):
        call(specific_gravity=g, diameter_mm=0.3 * IN)
    for g in (0.309, 0.731):
        with pytest.raises(RangeError, match="specific_gravity"):
            call(specific_gravity=g, diameter_mm=0.3 * IN)


@pytest.mark.parametrize(("number", "inches"), [(6, 0.138), (8, 0.164), (10, 0.190), (12, 0.216), (14, 0.242)])
def test_screw_numbers(number, inches):
    # screw diameters [seen in part]
    assert f.screw_diameter_mm(number=number) / IN == pytest.approx(inches, abs=1e-9)


@pytest.mark.parametrize(
    ("duration", "factor"), [("permanent", 0.9), ("ten years", 1.0), ("two months", 1.15), ("seven days", 1.25), ("ten minutes", 1.6)]
)
def test_duration_factors(duration, factor):
    # NDS 2018 Table 2.3.2 [seen]
    assert f.duration_factor(duration=duration) == factor


def test_impact_is_no_duration_for_a_connection():
    with pytest.raises(RangeError, match="permanent, ten years"):
        f.duration_factor(duration="impact")


def test_end_grain():
    # NDS 2018 12.5.2 [seen]
    assert [f.end_grain_factor(fastener=k) for k in ("lag", "wood screw", "nail")] == [0.75, 0, 0]
    assert f.withdrawal_n(per_mm_n=10, thread_mm=20, duration="ten years", end_grain=0.75) == pytest.approx(150)


def test_least_penetration():
    # NDS 2018 chapter 12: 6 D [seen]
    assert f.least_penetration_mm(diameter_mm=4.826) == pytest.approx(28.956)


def test_combined_load_is_shear_flat_and_pull_upright():
    # NDS 2018 Eq 12.4-1 [seen]; at 45 degrees the harmonic form gives 2 W Z/(W + Z) / 2 x 2
    assert f.combined_load_n(withdrawal_load_n=500, lateral_load_n=300, angle_deg=0) == pytest.approx(300)
    assert f.combined_load_n(withdrawal_load_n=500, lateral_load_n=300, angle_deg=90) == pytest.approx(500)
    assert f.combined_load_n(withdrawal_load_n=500, lateral_load_n=300, angle_deg=45) == pytest.approx(2 * 500 * 300 / 800)


@pytest.mark.parametrize("angle", [-0.1, 90.1])
def test_combined_load_goes_from_flat_to_upright(angle):
    with pytest.raises(RangeError, match="outside 0 to 90"):
        f.combined_load_n(withdrawal_load_n=500, lateral_load_n=300, angle_deg=angle)


def test_ultimate_is_about_five_and_a_half_times_the_allowable_load():
    # Wood Handbook ch 8 [memory]: 15 700 / 2850
    allowable = f.screw_withdrawal_n_per_mm(specific_gravity=0.42, diameter_mm=4.826) * 38.1
    assert f.screw_ultimate_n(specific_gravity=0.42, diameter_mm=4.826, thread_mm=38.1) / allowable == pytest.approx(5.509, abs=5e-4)
