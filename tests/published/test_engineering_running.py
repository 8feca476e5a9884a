"""A piece that runs: preferred numbers, energy, lumped capacity; the worth of a constant is tested by its own 1 %."""

from math import cosh, exp, sqrt

import pytest

from halfsilver.engineering import casework, ladder, running
from halfsilver.errors import RangeError


def test_mains_current_is_apparent_power_over_voltage():
    # 1440 W at 120 V with a power factor of 1 is 12 A, the continuous load of a 15 A circuit: NEC 210.20(A)
    assert running.mains_current_a(power_w=1440, voltage_v=120, power_factor=1) == pytest.approx(12)
    assert running.mains_current_a(power_w=108, voltage_v=120) == pytest.approx(1.0)  # 0.9: common practice


def test_fuses_are_the_preferred_numbers():
    # ISO 3, series R10: each step is the tenth root of ten, rounded: 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10
    for k, printed in enumerate((1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0)):
        assert printed in running.FUSES_A
        assert printed == pytest.approx(10 ** (k / 10), rel=0.013)
    # the same series a decade lower and higher
    assert running.FUSES_A == (0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0, 12.5, 16.0)


@pytest.mark.parametrize(("current", "fuse"), [(1.6, 2.0), (1.601, 2.5), (4.0, 5.0), (4.01, 6.3), (12.8, 16.0)])
def test_a_fuse_carries_125_percent(current, fuse):
    assert running.fuse_rating_a(current_a=current) == fuse


def test_no_fuse_above_the_series():
    with pytest.raises(RangeError, match="above 16 A"):
        running.fuse_rating_a(current_a=12.9)


def test_inrush_is_five_ratings():
    # IEC 60898-1: characteristic C may trip from five times its rating, B from three [memory]
    assert running.inrush_limit_a(breaker_a=15) == 75
    assert running.inrush_limit_a(breaker_a=16, multiple=3) == 48


def test_energy_of_a_year():
    assert running.energy_kwh(power_w=1000, duration_h=24) == 8760  # hours of a year
    with pytest.raises(RangeError, match="a day"):
        running.energy_kwh(power_w=1, duration_h=25)


def test_lumped_capacity():
    # First-order response (Bergman and others, ch 5): 63.2 % after one time constant, 95.0 % after three
    tau = running.time_constant_s(capacity_j_k=40_000, power_w=100, rise_k=20)
    assert tau == 8000
    assert running.warmed_share(time_s=tau, time_constant_s=tau) == pytest.approx(1 - exp(-1))
    assert running.warmed_share(time_s=3 * tau, time_constant_s=tau) == pytest.approx(0.950, abs=5e-4)


@pytest.mark.parametrize(("share", "constants"), [(0.5, 0.6931), (0.632121, 1.0), (0.950213, 3.0), (0.0, 0.0)])
def test_warming_is_the_response_solved_for_its_time(share, constants):
    # First-order response (Bergman and others, ch 5): half of the way after ln 2 time constants
    assert running.warming_time_s(share=share, time_constant_s=1000) == pytest.approx(1000 * constants, rel=1e-4)
    with pytest.raises(RangeError, match="share"):
        running.warming_time_s(share=1.0, time_constant_s=1000)


@pytest.mark.parametrize("length_m", [1, 4, 8])
def test_a_strip_with_resistors_is_a_fin(length_m):
    # A line with resistance r and conductance g for each metre, fed at one end: v(L)/v(0) = 1/cosh(L sqrt(r g)), as a fin with a still tip
    r, per_m, full, forward = 0.12, 0.4, 24.0, 17.4
    found = ladder.strip_ladder(
        segments=length_m * 100, segment_ohm=r / 100, segment_a=per_m / 100, full_v=full, forward_v=forward, supply_v=full, feeds=(0,),
        lead_ohm=1e-6,
    )  # fmt: skip
    assert found.dimmest == pytest.approx(1 / cosh(length_m * sqrt(r * per_m / (full - forward))), rel=5e-4)


WALL = casework.Wall(area_mm2=8e5, length_mm=800, thickness_mm=20, conductivity_w_mk=0.15)


def test_heat_of_a_wall_is_what_its_series_passes():
    face = casework.wall_face_degc(wall=WALL, air_degc=45, room_degc=25)
    passed = casework.wall_heat_w(wall=WALL, air_degc=45, room_degc=25)
    balance = casework.case_balance(power_w=passed, room_degc=25, walls=[WALL])
    assert balance.air_degc == pytest.approx(45, abs=1e-5)
    assert balance.surface_degc[0] == pytest.approx(face, abs=1e-5)
