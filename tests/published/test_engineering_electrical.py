"""Wire, supplies and strips: ASTM B258, NEC tables, rules and worked figures."""

import csv
from importlib.resources import files

import pytest

from halfsilver.engineering import ladder, supply, wiring
from halfsilver.errors import NoDesignError, RangeError


def rows(name):
    with files("halfsilver.data.engineering").joinpath(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))[1:]


def test_defining_gauges():
    # ASTM B258 [seen]: No. 36 is 0.005 in, No. 0000 is 0.460 in
    assert wiring.wire_diameter_mm(gauge=36) == pytest.approx(0.005 * 25.4, rel=1e-9)
    assert wiring.wire_diameter_mm(gauge=-3) == pytest.approx(0.460 * 25.4, rel=1e-9)


@pytest.mark.parametrize("row", rows("wire_gauge.csv"), ids=lambda r: r["gauge"])
def test_gauge_table(row):
    # ratio rule and IACS copper, last printed place
    d = wiring.wire_diameter_mm(gauge=int(row["gauge"]))
    assert d == pytest.approx(float(row["diameter"]), abs=6e-5)
    assert wiring.wire_area_mm2(diameter_mm=d) == pytest.approx(float(row["area"]), abs=6e-5)
    assert wiring.wire_ohm_per_km(diameter_mm=d) == pytest.approx(float(row["resistance_20"]), abs=6e-4)
    assert wiring.wire_ohm_per_km(diameter_mm=d, temperature_degc=75) == pytest.approx(float(row["resistance_75"]), abs=6e-4)


@pytest.mark.parametrize("row", rows("wire_table8.csv"), ids=lambda r: f"{r['gauge']} {r['stranding']}")
def test_table_8(row):
    # NEC chapter 9 Table 8 at 75 degC [seen but for three]
    found = wiring.table8_ohm_per_km(gauge=int(row["gauge"]), stranding=row["stranding"])
    assert found == float(row["resistance"])
    if row["stranding"] == "solid":  # the code's own rounding of area and resistance: 0.7 %
        d = wiring.wire_diameter_mm(gauge=int(row["gauge"]))
        assert wiring.wire_ohm_per_km(diameter_mm=d, temperature_degc=75) == pytest.approx(found, rel=0.007)


def test_table_8_starts_at_18():
    with pytest.raises(RangeError, match="18, 16, 14"):
        wiring.table8_ohm_per_km(gauge=20)


@pytest.mark.parametrize("row", rows("wire_limits.csv"), ids=lambda r: f"{r['gauge']} {r['use'][:8]}")
def test_conductor_limits(row):
    # NEC 402.5, 240.4(D), 310.16
    gauge, use = int(row["gauge"]), row["use"]
    names = (
        ["fixture wire"] if use.startswith("fixture") else [n for n, w in (("overcurrent", "overcurrent"), ("60 degC", "60 C")) if w in use]
    )
    for name in names:
        assert wiring.conductor_limit_a(gauge=gauge, use=name) == float(row["limit"])


def test_voltage_drop():
    # 24 V, 4 A, 5 m one way, 26.1 ohm/km: 1.044 V = 4.35 %, half, an eighth; 10 taps 0.574 V; 3 % run 3.448 m
    kw = {"length_mm": 5000, "current_a": 4, "ohm_per_km": 26.1}
    assert wiring.drop_point_v(**kw) == pytest.approx(1.044)
    assert wiring.drop_share(drop_v=1.044, supply_v=24) == pytest.approx(0.0435)
    assert wiring.drop_even_v(**kw) == pytest.approx(0.522)
    assert wiring.drop_even_two_ends_v(**kw) == pytest.approx(0.1305)
    assert wiring.tap_factor(taps=10) * 1.044 == pytest.approx(0.574, abs=5e-4)
    assert wiring.tap_factor(taps=1) == 1
    assert wiring.longest_run_mm(supply_v=24, share=0.03, current_a=4, ohm_per_km=26.1) == pytest.approx(3448, abs=0.5)
    with pytest.raises(RangeError, match="taps"):
        wiring.tap_factor(taps=0)


@pytest.mark.parametrize(
    ("volts", "amps", "va"),
    [(12, 5.0, 60), (20, 5.0, 100), (20.01, 100 / 20.01, 100), (24, 4.1667, 100), (48, 2.0833, 100), (60, 1.6667, 100)],
)
def test_class_2(volts, amps, va):
    # NEC chapter 9 Table 11(B) [100 VA seen, rest memory]
    found = supply.class2_nameplate(voltage_v=volts)
    assert (found.current_a, found.power_va) == pytest.approx((amps, va), rel=1e-4)


def test_class_2_ends_at_60_volts():
    with pytest.raises(RangeError, match="outside 0 to 60"):
        supply.class2_nameplate(voltage_v=60.1)


@pytest.mark.parametrize(
    ("volts", "amps", "va"), [(12, 8, 60), (20, 8, 100), (20.1, 8, 100), (30, 8, 100), (30.1, 150 / 30.1, 100), (60, 2.5, 100)]
)
def test_limited_power_source(volts, amps, va):
    # IEC 60950-1 Table 2B [seen]
    found = supply.limited_power_source(voltage_v=volts)
    assert (found.current_a, found.power_va) == pytest.approx((amps, va))


@pytest.mark.parametrize(
    "beyond",
    [
        lambda: supply.limited_power_source(voltage_v=60.1),
        lambda: supply.class2_channels(power_w=10, derate=1.001),
        lambda: supply.supply_rating_w(power_w=10, headroom=0.0099),
        lambda: wiring.wire_diameter_mm(gauge=41),
        lambda: wiring.wire_diameter_mm(gauge=-4),
        lambda: wiring.resistance_at(resistance_20=1, temperature_degc=150.1),
        lambda: wiring.resistance_at(resistance_20=1, temperature_degc=-50.1),
    ],
)
def test_beyond_its_range_a_rule_is_not_computed(beyond):
    with pytest.raises(RangeError, match="outside"):
        beyond()


def test_class_2_voltage():
    # NEC chapter 9 Table 11 note 4 [wet seen]: 30 V, 12.4 V interrupted; 60 V dry [memory]
    assert supply.class2_voltage_limit_v(wet=False) == 60
    assert supply.class2_voltage_limit_v(wet=True) == 30
    assert supply.class2_voltage_limit_v(wet=True, interrupted=True) == 12.4


def test_strip_supply_example():
    # 4.2 m x 14.4 W/m = 60.48 W; supply 60.48/0.8 = 75.6 W, one Class 2 channel
    power = supply.strip_power_w(length_mm=4200, power_w_per_m=14.4)
    assert power == pytest.approx(60.48)
    assert supply.supply_rating_w(power_w=power) == pytest.approx(75.6)
    assert [supply.class2_channels(power_w=p) for p in (0, 60.48, 80, 80.1, 160, 160.1)] == [1, 1, 1, 2, 2, 3]


def test_continuous_loads():
    # NEC article 100: 3 h or more; 210.20(A): 15 A at 120 V carries 1440 W, 20 A 1920 W [seen]
    assert supply.is_continuous(duration_h=3)
    assert not supply.is_continuous(duration_h=2.99)
    assert supply.continuous_power_w(breaker_a=15, voltage_v=120) == pytest.approx(1440)
    assert supply.continuous_power_w(breaker_a=20, voltage_v=120) == pytest.approx(1920)
    assert supply.branch_rating_a(continuous_a=12) == pytest.approx(15)
    assert supply.branch_rating_a(continuous_a=8, other_a=3) == pytest.approx(13)
    # NEC 210.23 [memory]
    assert supply.branch_share(fixed=True) == 0.5
    assert supply.branch_share(fixed=False) == 0.8


@pytest.mark.parametrize(("volts", "amps", "fits"), [(60, 25, True), (60.1, 25, False), (60, 25.1, False)])
def test_low_voltage_lighting(volts, amps, fits):
    # NEC article 411 [seen]
    assert supply.fits_low_voltage_lighting(voltage_v=volts, current_a=amps) is fits


def test_whole_segments():
    # cut only at the marks; common practice
    assert [supply.whole_segments(run_mm=r, segment_mm=50) for r in (49.9, 50, 999, 1000)] == [0, 1, 19, 20]


STRIP = {"segments": 100, "segment_ohm": 0.01, "segment_a": 0.06, "full_v": 24, "forward_v": 18, "supply_v": 24}


@pytest.mark.parametrize("taps", [1, 2, 10, 37])
def test_regulated_ladder_is_the_tap_factor(taps):
    # n equal taps, the last at the far end: (n + 1)/(2 n) of the end-load case [derived]; the lead stands for the first half pitch
    found = ladder.strip_ladder(
        segments=taps, segment_ohm=0.02, segment_a=0.1, full_v=5, forward_v=3, supply_v=24, feeds=[0], lead_ohm=0.01, regulated=True
    )
    end_load = 0.1 * taps * 0.02 * taps
    assert 24 - found.voltage_v[-1] == pytest.approx(wiring.tap_factor(taps=taps) * end_load, rel=1e-6)


def test_fine_regulated_ladder_is_the_half_rule_and_the_eighth_rule():
    # half rule and both-ends rule [derived], in the limit of many segments
    kw = {
        "segments": 1000,
        "segment_ohm": 0.001,
        "segment_a": 0.004,
        "full_v": 5,
        "forward_v": 3,
        "supply_v": 24,
        "lead_ohm": 1e-6,
        "regulated": True,
    }
    end_load = 4.0 * 1.0
    assert 24 - min(ladder.strip_ladder(**kw, feeds=[0]).voltage_v) == pytest.approx(end_load / 2, rel=1e-4)
    assert 24 - min(ladder.strip_ladder(**kw, feeds=[0, 1000]).voltage_v) == pytest.approx(end_load / 8, rel=1e-4)


def test_resistor_segments_follow_the_transmission_line():
    # continuous ladder: u'' = g r u, far end open: u(x)/u(0) = cosh(k (L - x))/cosh(k L), k = sqrt(r g) [derived]
    from math import cosh, sqrt

    found = ladder.strip_ladder(**(STRIP | {"segments": 1000, "segment_ohm": 0.001, "segment_a": 0.006}), feeds=[0], lead_ohm=1e-6)
    k = sqrt(0.001 * 0.006 / 6)
    assert found.share[-1] / found.share[0] == pytest.approx(cosh(k * 0.5) / cosh(k * 999.5), rel=1e-6)


def test_what_is_fed_is_what_is_drawn():
    # Kirchhoff
    found = ladder.strip_ladder(**STRIP, feeds=[10, 60, 100], lead_ohm=0.05)
    assert sum(found.feed_a) == pytest.approx(sum(0.06 * s for s in found.share), rel=1e-8)
    assert found.power_w == pytest.approx(24 * sum(found.feed_a))


def test_below_regulation_and_below_forward_voltage():
    found = ladder.strip_ladder(**(STRIP | {"supply_v": 17}), feeds=[0])
    assert set(found.share) == {0.0}
    assert found.dimmest == 0
    half = ladder.strip_ladder(**(STRIP | {"supply_v": 21, "segments": 1, "segment_ohm": 1e-6}), feeds=[0], lead_ohm=1e-6, regulated=True)
    assert half.share[0] == pytest.approx(0.5, rel=1e-6)


def test_fewest_feeds():
    one = ladder.fewest_feeds(**STRIP, dimmest_share=0.85)
    assert one.feeds == (50,)
    two = ladder.fewest_feeds(**STRIP, dimmest_share=0.9)
    assert len(two.feeds) == 2
    assert two.dimmest >= 0.9
    corners = ladder.fewest_feeds(**STRIP, dimmest_share=0.85, allowed=[0, 30, 100])
    assert corners.feeds == (30, 100)  # at most 35 segments from a feed; 50 with both ends, 100 with the start alone
    with pytest.raises(NoDesignError, match="no placement of up to 1 feeds"):
        ladder.fewest_feeds(**STRIP, dimmest_share=0.95, most=1)


@pytest.mark.parametrize(("feeds", "text"), [([], "at least one feed"), ([0, 0], "joint of its own"), ([101], "joints of the strip")])
def test_feeds_must_be_joints(feeds, text):
    with pytest.raises(RangeError, match=text):
        ladder.strip_ladder(**STRIP, feeds=feeds)
