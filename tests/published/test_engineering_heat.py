"""Heat and damp: Bergman and others, ASHRAE, IEC 62368-1, published worked figures."""

import csv
from importlib.resources import files
from math import sqrt

import pytest

from halfsilver.engineering import casework, climate, heat, vents
from halfsilver.errors import RangeError


def rows(name):
    with files("halfsilver.data.engineering").joinpath(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))[1:]


def test_textbook_glass_screen():
    # Bergman, Lavine, Incropera, DeWitt, Example 9.2: 0.71 m, 232 degC in 23 degC: Ra 1.813e9, Nu 147, 7.0 W/m2K, 1060 W [memory; Nu seen]
    Ra = heat.rayleigh(
        rise_k=209, length_mm=710, expansion_per_k=1 / 400, viscosity_m2_s=26.4e-6, diffusivity_m2_s=38.3e-6, gravity_m_s2=9.8
    )
    assert Ra == pytest.approx(1.813e9, rel=5e-4)
    Nu = heat.nusselt_vertical(rayleigh_number=Ra, prandtl=0.69)
    assert Nu == pytest.approx(147, abs=0.5)
    h = heat.film_coefficient_w_m2k(nusselt=147, conductivity_w_mk=33.8e-3, length_mm=710)
    assert h == pytest.approx(7.0, abs=0.05)
    assert heat.surface_heat_w(coefficient_w_m2k=7.0, area_mm2=1020 * 710, rise_k=209) == pytest.approx(1060, abs=1)


def test_display_scale_plate():
    # 0.60 m, 40 degC in 25 degC, properties from CoolProp: Ra 2.771e8, Nu 82.9, h 3.70 [oracle]
    assert heat.convection_w_m2k(surface_degc=40, air_degc=25, length_mm=600) == pytest.approx(3.70, abs=0.005)


def test_level_plate_joins():
    # Bergman and others, Eq 9.30 to 9.32 [memory]: 0.54 Ra^(1/4), 0.15 Ra^(1/3), 0.27 Ra^(1/4)
    assert heat.nusselt_level(rayleigh_number=1e6, hot_side_up=True) == pytest.approx(0.54 * 1e6**0.25)
    assert heat.nusselt_level(rayleigh_number=1e9, hot_side_up=True) == pytest.approx(150)
    assert heat.nusselt_level(rayleigh_number=1e8, hot_side_up=False) == pytest.approx(27)
    assert heat.nusselt_level(rayleigh_number=1e7, hot_side_up=True) == pytest.approx(0.54 * 1e7**0.25)
    assert heat.nusselt_level(rayleigh_number=1.0001e7, hot_side_up=True) == pytest.approx(0.15 * 1.0001e7 ** (1 / 3))
    assert heat.nusselt_level(rayleigh_number=1e3, hot_side_up=False) == pytest.approx(2.7)


def test_a_cold_ceiling_works_as_a_warm_floor():
    warm_up = heat.convection_w_m2k(surface_degc=40, air_degc=30, length_mm=200, facing="up")
    cold_down = heat.convection_w_m2k(surface_degc=30, air_degc=40, length_mm=200, facing="down")
    assert cold_down == pytest.approx(warm_up)
    assert heat.convection_w_m2k(surface_degc=40, air_degc=30, length_mm=200, facing="down") < warm_up


def test_radiation():
    # ht.radiation.q_rad docstring: 0.85, 400 K to 305 K: 816.7821722650002 W/m2 [seen]
    found = heat.radiation_w_m2(emissivity=0.85, surface_degc=400 - 273.15, surroundings_degc=305 - 273.15)
    assert found == pytest.approx(816.782, abs=0.005)
    # 40 degC in 25 degC, 0.84: 81.65 W/m2
    assert heat.radiation_w_m2(emissivity=0.84, surface_degc=40, surroundings_degc=25) == pytest.approx(81.65, abs=0.005)


def test_stack_flow_of_two_equal_vents():
    # ASHRAE Fundamentals [seen]: Cd 0.65, 0.006 m2 each, 1 m apart, 35 in 25 degC: 2.200e-3 m3/s either way
    kw = {"inside_degc": 35, "outside_degc": 25}
    half = vents.stack_flow_m3_s(area_mm2=6000, height_mm=500, **kw)
    both = vents.stack_flow_m3_s(area_mm2=vents.vent_area_mm2(low_mm2=6000, high_mm2=6000), height_mm=1000, **kw)
    assert half == pytest.approx(2.200e-3, abs=5e-7)
    assert both == pytest.approx(half, rel=1e-12)
    assert vents.stack_flow_m3_s(area_mm2=6000, height_mm=500, inside_degc=20, outside_degc=25) == 0


def test_unequal_vents():
    # 1/Ae^2 = 1/A1^2 + 1/A2^2
    found = vents.vent_area_mm2(low_mm2=3000, high_mm2=4000, free_share=0.5)
    assert found == pytest.approx(0.5 / sqrt(1 / 3000**2 + 1 / 4000**2))
    assert vents.vent_area_mm2(low_mm2=0, high_mm2=4000) == 0


def test_two_way_opening():
    # ASHRAE Fundamentals [seen]: 0.40 + 0.0045 |dT|
    assert vents.two_way_discharge(inside_degc=35, outside_degc=25) == pytest.approx(0.445)
    assert vents.two_way_discharge(inside_degc=15, outside_degc=25) == pytest.approx(0.445)


def test_stack_rise():
    # 120 W through the vents above at 25 degC: 28.10 K and 3.585e-3 m3/s; 10 K needs 0.0275 m2 each
    area = vents.vent_area_mm2(low_mm2=6000, high_mm2=6000)
    kw = {"area_mm2": area, "height_mm": 1000, "outside_degc": 25}
    rise = vents.stack_rise_k(power_w=120, **kw)
    assert rise == pytest.approx(28.10, abs=0.01)
    assert vents.stack_flow_m3_s(area_mm2=area, height_mm=1000, inside_degc=25 + rise, outside_degc=25) == pytest.approx(3.585e-3, abs=1e-6)
    assert vents.vent_needed_mm2(power_w=120, rise_k=10, height_mm=1000, outside_degc=25) == pytest.approx(27_500, abs=50)
    mesh = vents.vent_needed_mm2(power_w=120, rise_k=10, height_mm=1000, outside_degc=25, free_share=0.5)
    assert mesh == pytest.approx(55_000, abs=100)


def test_vent_needed_is_the_inverse_of_the_rise():
    each = vents.vent_needed_mm2(power_w=90, rise_k=8, height_mm=700, outside_degc=23)
    area = vents.vent_area_mm2(low_mm2=each, high_mm2=each)
    assert vents.stack_rise_k(power_w=90, area_mm2=area, height_mm=700, outside_degc=23) == pytest.approx(8, rel=1e-9)


def test_fan():
    # 120 W, 10 K, rho 1.204, cp 1006: 9.907e-3 m3/s = 21.0 CFM; CFM = 3.16 W/dT(F): 21.07
    flow = vents.fan_flow_m3_s(power_w=120, rise_k=10)
    assert flow == pytest.approx(9.907e-3, abs=1e-6)
    assert vents.cubic_feet_per_minute(flow_m3_s=flow) == pytest.approx(21.0, abs=0.05)
    assert vents.cubic_feet_per_minute(flow_m3_s=flow) == pytest.approx(3.16 * 120 / 18, rel=0.005)


def test_closed_box():
    # U 3 W/m2K, 2.0 m2, 120 W: 20 K
    assert heat.closed_rise_k(power_w=120, u_value_w_m2k=3, area_mm2=2e6) == pytest.approx(20)


def test_touch_limits():
    # IEC 62368-1 Table 38 TS1 [48 wood, 77 plastic, 70 metal seen; rest memory]
    names = ("worn", "held over 1 min", "held to 1 min", "touched to 10 s", "not to be touched")
    for name, row in zip(names, rows("touch_temperature.csv"), strict=True):
        for material in ("metal", "glass", "plastic", "wood"):
            assert heat.touch_limit_degc(material=material, contact=name) == float(row[material].split()[0])
    assert heat.touch_limit_degc(material="glass") == 71


WALLS = (
    casework.Wall(area_mm2=0.84e6, length_mm=700, thickness_mm=6, conductivity_w_mk=1.0, emissivity=0.84),
    casework.Wall(area_mm2=0.1e6, length_mm=40, thickness_mm=19, conductivity_w_mk=0.15, facing="up"),
    casework.Wall(area_mm2=0.1e6, length_mm=40, thickness_mm=19, conductivity_w_mk=0.15, facing="down"),
)


def test_case_without_walls_is_the_stack_rise():
    found = casework.case_balance(power_w=120, room_degc=25, walls=(), low_vent_mm2=6000, high_vent_mm2=6000, vent_height_mm=1000)
    assert found.rise_k == pytest.approx(28.10, abs=0.01)
    assert found.vent_w == pytest.approx(120, rel=1e-6)


def test_case_balances_and_its_wall_is_a_series_of_resistances():
    # first law; Fourier through each wall: what leaves its face passes the wall
    found = casework.case_balance(power_w=120, room_degc=25, walls=WALLS)
    assert sum(found.wall_w) + found.vent_w == pytest.approx(120, rel=1e-6)
    for wall, watts, face in zip(WALLS, found.wall_w, found.surface_degc, strict=True):
        inner = face + watts / (wall.area_mm2 * 1e-6) * wall.thickness_mm * 1e-3 / wall.conductivity_w_mk
        facing = {"up": "down", "down": "up"}.get(wall.facing, "vertical")
        h = heat.convection_w_m2k(surface_degc=inner, air_degc=found.air_degc, length_mm=wall.length_mm, facing=facing)
        flux = h * (found.air_degc - inner) + heat.radiation_w_m2(
            emissivity=wall.emissivity, surface_degc=found.air_degc, surroundings_degc=inner
        )
        assert flux * wall.area_mm2 * 1e-6 == pytest.approx(watts, rel=1e-5)


def test_fan_replaces_a_weaker_stack():
    found = casework.case_balance(power_w=120, room_degc=20, walls=(), fan_m3_s=9.907e-3)
    assert found.rise_k == pytest.approx(10, abs=0.01)


def test_no_way_out_is_refused():
    with pytest.raises(RangeError, match="add vents"):
        casework.case_balance(power_w=1, room_degc=25, walls=())
    assert casework.case_balance(power_w=0, room_degc=25, walls=WALLS).rise_k == pytest.approx(0)


@pytest.mark.parametrize(("t", "hpa"), [(0, 6.112), (20, 23.39), (40, 73.85)])
def test_saturation_pressure(t, hpa):
    # ASHRAE Fundamentals, psychrometrics table 3: 0.6112, 2.3388, 7.3838 kPa [memory]
    assert climate.saturation_hpa(temperature_degc=t) == pytest.approx(hpa, rel=0.003)


@pytest.mark.parametrize(("t", "rh", "dew"), [(25, 0.5, 13.9), (20, 0.6, 12.0), (23, 1.0, 23.0)])
def test_dew_point(t, rh, dew):
    # ASHRAE psychrometric chart, to 0.1 K [memory]
    assert climate.dew_point_degc(temperature_degc=t, humidity=rh) == pytest.approx(dew, abs=0.06)


@pytest.mark.parametrize(("t", "grams"), [(0, 4.85), (10, 9.41), (20, 17.30), (30, 30.38)])
def test_water_in_saturated_air(t, grams):
    # Steam tables, saturated vapour: specific volume 206.0, 106.3, 57.76, 32.88 m3/kg, so 4.85, 9.41, 17.31, 30.41 g/m3
    assert climate.vapour_density_g_m3(temperature_degc=t, humidity=1.0) == pytest.approx(grams, rel=0.005)
    assert climate.vapour_density_g_m3(temperature_degc=t, humidity=0.4) == pytest.approx(0.4 * grams, rel=0.005)


@pytest.mark.parametrize(("t", "rh", "dew"), [(25, 0.5, 13.9), (20, 0.6, 12.0)])
def test_drier_air_is_the_inverse_of_the_dew_point(t, rh, dew):
    # ASHRAE psychrometric chart, to 0.1 K [memory]
    assert climate.drier_humidity(temperature_degc=t, dew_degc=dew) == pytest.approx(rh, abs=0.003)
    with pytest.raises(RangeError, match="dew_degc"):
        climate.drier_humidity(temperature_degc=t, dew_degc=t + 0.1)


def test_at_its_dew_point_the_surface_is_wet():
    dew = climate.dew_point_degc(temperature_degc=23, humidity=0.45)
    assert climate.surface_humidity(temperature_degc=23, humidity=0.45, surface_degc=dew) == pytest.approx(1, rel=1e-9)
    assert climate.surface_humidity(temperature_degc=23, humidity=0.45, surface_degc=23) == pytest.approx(0.45)


@pytest.mark.parametrize(
    "beyond",
    [
        lambda: climate.saturation_hpa(temperature_degc=60.1),
        lambda: climate.saturation_hpa(temperature_degc=-45.1),
        lambda: climate.dew_point_degc(temperature_degc=60.1, humidity=0.5),
        lambda: climate.dew_point_degc(temperature_degc=-45.1, humidity=0.5),
        lambda: climate.dew_point_degc(temperature_degc=20, humidity=0.0),
        lambda: heat.nusselt_vertical(rayleigh_number=1.001e12, prandtl=0.7),
        lambda: heat.nusselt_level(rayleigh_number=1.001e11, hot_side_up=True),
        lambda: heat.air_at(temperature_degc=100.1),
        lambda: heat.air_at(temperature_degc=-20.1),
    ],
)
def test_beyond_its_range_a_rule_is_not_computed(beyond):
    with pytest.raises(RangeError, match="outside"):
        beyond()


def test_painted_timber_is_the_usual_wall():
    # emissivity about 0.9, common practice
    assert casework.Wall(area_mm2=1, length_mm=1, thickness_mm=1, conductivity_w_mk=1).emissivity == 0.9


def test_glass_emissivity():
    # EN 673 corrected emissivity of uncoated glass [memory]
    from halfsilver.engineering.constants import GLASS_EMISSIVITY

    assert GLASS_EMISSIVITY == 0.837


def test_the_table_of_air_has_the_steps_it_is_read_by():
    # CoolProp gives its entries, every 20 K (tests/oracles); a case is not computed beyond the last
    assert [row[0] for row in heat.AIR] == [-20.0, 0.0, 20.0, 40.0, 60.0, 80.0, 100.0]
    assert heat.AIR_STEP_K == 20.0
    assert casework.HOTTEST_DEGC == 99.0  # below the last entry, so that the films of its faces stay in the table
