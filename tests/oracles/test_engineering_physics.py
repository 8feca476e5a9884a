"""Engineering rules against independent libraries and slow second derivations."""

from __future__ import annotations

from math import pi, sin

import pytest

from halfsilver.engineering import climate, heat, ladder, plates


@pytest.mark.parametrize(("aspect", "nu"), [(1.0, 0.3), (1.25, 0.22), (2.0, 0.22), (4.0, 0.3)])
def test_single_series_equals_naviers_double_series(aspect, nu):
    # Timoshenko and Woinowsky-Krieger, section 28: w = 16 q/(pi^6 D) sum sum sin sin/(m n (m^2/a^2 + n^2/b^2)^2), 300 odd terms each way
    a, b = 1.0, aspect
    w = mx = my = 0.0
    for m in range(1, 600, 2):
        for n in range(1, 600, 2):
            sign = sin(m * pi / 2) * sin(n * pi / 2)
            s = (m / a) ** 2 + (n / b) ** 2
            w += sign / (m * n * s * s)
            mx += sign * ((m / a) ** 2 + nu * (n / b) ** 2) / (m * n * s * s)
            my += sign * ((n / b) ** 2 + nu * (m / a) ** 2) / (m * n * s * s)
    found = plates.plate_factors(aspect=aspect, poisson=nu)
    assert found.deflection == pytest.approx(16 / pi**6 * w, rel=1e-6)
    assert (found.moment_short, found.moment_long) == pytest.approx((16 / pi**4 * mx, 16 / pi**4 * my), rel=2e-4)


def test_air_agrees_with_an_equation_of_state():
    props = pytest.importorskip("CoolProp.CoolProp").PropsSI
    for celsius in range(-20, 101, 5):
        T, P = celsius + 273.15, 101_325
        air = heat.air_at(temperature_degc=celsius)
        mu, k, cp, rho = (props(x, "T", T, "P", P, "Air") for x in "VLCD")
        on_entry = celsius % 20 == 0
        assert air.conductivity_w_mk == pytest.approx(k, rel=5e-5 if on_entry else 5e-4)
        assert air.viscosity_m2_s == pytest.approx(mu / rho, rel=1.2e-3)
        assert air.heat_capacity_j_kgk == pytest.approx(cp, rel=1e-4 if on_entry else 3e-4)
        assert air.density_kg_m3 == pytest.approx(rho, rel=1.0e-3)
        assert air.prandtl == pytest.approx(mu * cp / k, rel=1e-3)
        assert air.diffusivity_m2_s == pytest.approx(k / rho / cp, rel=1.5e-3)


@pytest.mark.parametrize("Ra", [1e2, 1e4, 1e6, 2.771e8, 1.8e9, 1e11])
@pytest.mark.parametrize("Pr", [0.69, 0.71])
def test_vertical_plate_agrees_with_ht(Ra, Pr):
    ht = pytest.importorskip("ht")
    assert heat.nusselt_vertical(rayleigh_number=Ra, prandtl=Pr) == pytest.approx(ht.Nu_vertical_plate_Churchill(Pr, Ra / Pr), rel=1e-9)


@pytest.mark.parametrize("Ra", [2e4, 5e6, 2e7, 1e9])
@pytest.mark.parametrize("up", [True, False])
def test_level_plate_agrees_with_ht(Ra, up):
    ht = pytest.importorskip("ht")
    theirs = ht.conv_free_immersed.Nu_horizontal_plate_McAdams(0.7, Ra / 0.7, buoyancy=up)
    assert heat.nusselt_level(rayleigh_number=Ra, hot_side_up=up) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(("hot", "cold"), [(40, 25), (60, 20), (25, 40)])
def test_radiation_agrees_with_ht(hot, cold):
    ht = pytest.importorskip("ht")
    ours = heat.radiation_w_m2(emissivity=0.84, surface_degc=hot, surroundings_degc=cold)
    assert ours == pytest.approx(ht.q_rad(0.84, hot + 273.15, cold + 273.15), rel=2e-6)  # the library keeps the 2014 constant


def test_standard_air_agrees_with_fluids():
    fluids = pytest.importorskip("fluids")
    assert heat.air_at(temperature_degc=15).density_kg_m3 == pytest.approx(fluids.ATMOSPHERE_1976(0).rho, rel=2e-4)


@pytest.mark.parametrize(
    ("t", "h"), [(5, 0.9), (15, 0.45), (15, 0.9), (25, 0.25), (25, 0.45), (25, 0.9), (35, 0.2), (35, 0.9)]
)  # above frost
def test_dew_point_agrees_with_coolprop(t, h):
    moist = pytest.importorskip("CoolProp.HumidAirProp")  # real-gas moist air (ASHRAE RP-1485), at one atmosphere
    theirs = moist.HAPropsSI("Tdp", "T", t + 273.15, "R", h, "P", 101325) - 273.15
    assert climate.dew_point_degc(temperature_degc=t, humidity=h) == pytest.approx(theirs, abs=0.05)


@pytest.mark.parametrize("regulated", [True, False])
@pytest.mark.parametrize("feeds", [(0,), (0, 30), (7, 22)])
def test_ladder_agrees_with_a_dense_solver(regulated, feeds):
    np = pytest.importorskip("numpy")
    optimize = pytest.importorskip("scipy.optimize")
    n, r, i0, full, forward, supply, lead = 30, 0.02, 0.08, 22.0, 16.0, 24.0, 0.05

    def current(v):
        x = max((v - forward) / (full - forward), 0)
        return i0 * (min(x, 1) if regulated else x)

    def kirchhoff(v):
        out = np.zeros_like(v)
        for k in range(2 * n):
            j = (v[k] - v[k + 1]) / (r / 2)
            out[k] += j
            out[k + 1] -= j
        for k in range(n):
            out[2 * k + 1] += current(v[2 * k + 1])
        for f in feeds:
            out[2 * f] -= (supply - v[2 * f]) / lead
        return out

    solved = optimize.root(kirchhoff, np.full(2 * n + 1, supply), tol=1e-12).x
    ours = ladder.strip_ladder(
        segments=n,
        segment_ohm=r,
        segment_a=i0,
        full_v=full,
        forward_v=forward,
        supply_v=supply,
        feeds=feeds,
        lead_ohm=lead,
        regulated=regulated,
    )
    assert ours.voltage_v == pytest.approx(tuple(solved[1::2]), abs=1e-7)
