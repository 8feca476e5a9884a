"""Laws that hold for every input of the engineering rules."""

from math import inf

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from halfsilver.engineering import (
    access,
    casework,
    fasteners,
    glazing,
    ladder,
    lifting,
    measuring,
    mounting,
    plates,
    strength,
    timber,
    vents,
)

side = st.floats(200, 2500)
thickness = st.floats(2, 20)
more = st.floats(1.001, 4)


@given(side, side, thickness, more, st.floats(1, 2000))
def test_thicker_glass_never_bends_more(w, h, t, k, q):
    kw = {"width_mm": w, "height_mm": h, "pressure_pa": q}
    assert plates.plate_deflection_mm(thickness_mm=t * k, **kw) < plates.plate_deflection_mm(thickness_mm=t, **kw)
    assert plates.plate_stress_mpa(thickness_mm=t * k, **kw) < plates.plate_stress_mpa(thickness_mm=t, **kw)


@given(side, side, thickness, st.floats(1, 2000))
def test_turning_a_pane_changes_nothing(w, h, t, q):
    kw = {"thickness_mm": t, "pressure_pa": q}
    assert plates.plate_deflection_mm(width_mm=w, height_mm=h, **kw) == plates.plate_deflection_mm(width_mm=h, height_mm=w, **kw)


@given(side, side, thickness, st.floats(1, 2000))
def test_four_edges_never_bend_more_than_two(w, h, t, q):
    four = plates.plate_deflection_mm(width_mm=w, height_mm=h, thickness_mm=t, pressure_pa=q, poisson=0.0)
    two = plates.two_edge_deflection_mm(span_mm=min(w, h), thickness_mm=t, pressure_pa=q)
    assert four <= two * (1 + 1e-9)


@given(st.floats(1, 20), st.floats(0, 0.5))
def test_a_longer_plate_never_bends_less(aspect, nu):
    near, far = (plates.plate_factors(aspect=a, poisson=nu).deflection for a in (aspect, aspect * 1.05))
    assert far >= near - 1e-12


@given(st.lists(st.floats(2, 10), min_size=2, max_size=4), st.floats(0, 1), st.floats(0, 1))
def test_more_shear_transfer_never_bends_more(plies, a, b):
    low, high = sorted((a, b))
    relaxed, stiff = (strength.laminated_thickness_mm(plies_mm=plies, coupling=c) for c in (low, high))
    assert stiff >= relaxed - 1e-9
    assert max(plies) < relaxed <= sum(plies) + 1e-9


@given(st.floats(1e-3, 4e5), more)
def test_a_longer_load_never_finds_more_strength(hours, k):
    assert strength.duration_factor(duration_h=hours * k) <= strength.duration_factor(duration_h=hours)


@given(st.floats(1, 200), more, st.floats(1, 300), st.floats(100, 2000), st.integers(1, 6))
def test_heavier_is_never_easier_to_hang(mass, k, e, h, n):
    kw = {"centre_from_wall_mm": e, "fixing_to_contact_mm": h, "fixings": n}
    assert mounting.pull_out_n(mass_kg=mass * k, **kw) > mounting.pull_out_n(mass_kg=mass, **kw)
    assert mounting.proof_load_n(mass_kg=mass * k) >= mounting.proof_load_n(mass_kg=mass)
    assert mounting.shear_n(mass_kg=mass * k, fixings=n) > mounting.shear_n(mass_kg=mass, fixings=n)


@given(st.floats(1, 200), st.floats(1, 500), st.floats(200, 3000), st.floats(0, 222))
def test_deeper_and_with_a_person_never_pulls_less(mass, e, h, pull):
    base = mounting.pull_out_n(mass_kg=mass, centre_from_wall_mm=e, fixing_to_contact_mm=h)
    assert mounting.pull_out_n(mass_kg=mass, centre_from_wall_mm=e * 1.1, fixing_to_contact_mm=h) > base
    assert mounting.pull_out_n(mass_kg=mass, centre_from_wall_mm=e, fixing_to_contact_mm=h, person_pull_n=pull, person_at_mm=h) >= base


@given(st.floats(50, 4000), st.floats(100, 1000), st.floats(0, 1000))
def test_studs_counted_stay_within_the_bounds(width, spacing, offset):
    found = mounting.studs_crossed(width_mm=width, spacing_mm=spacing)
    inside = sum(1 for k in range(100) if offset <= k * spacing <= offset + width)
    assert found.least <= inside <= found.most or abs(width / spacing - round(width / spacing)) < 1e-6


@given(st.floats(10, 5000), st.floats(10, 5000), st.floats(0, 90))
def test_combined_load_lies_between_shear_and_pull(pull, shear, angle):
    found = fasteners.combined_load_n(withdrawal_load_n=pull, lateral_load_n=shear, angle_deg=angle)
    assert min(pull, shear) * (1 - 1e-9) <= found <= max(pull, shear) * (1 + 1e-9)


@given(st.floats(0.31, 0.72), st.floats(3.6, 9.4))
def test_denser_timber_and_thicker_screws_hold_more(g, d):
    call = fasteners.screw_withdrawal_n_per_mm
    assert call(specific_gravity=g + 0.01, diameter_mm=d) > call(specific_gravity=g, diameter_mm=d)
    assert call(specific_gravity=g, diameter_mm=d + 0.04) > call(specific_gravity=g, diameter_mm=d)


@given(st.floats(0, 100), st.floats(0.05, 0.9))
def test_damper_air_makes_damper_wood(temperature, humidity):
    dry, damp = (timber.equilibrium_moisture_pct(temperature_degc=temperature, humidity=h) for h in (humidity, humidity + 0.05))
    assert damp > dry


@given(st.lists(st.floats(0, 10), min_size=1, max_size=20))
def test_likely_limit_never_passes_the_worst_case(limits):
    assert measuring.root_sum_square_mm(limits_mm=limits) <= measuring.worst_case_mm(limits_mm=limits) * (1 + 1e-12)


@given(st.floats(0, 3000), st.floats(0, 1000), st.floats(0, 1000))
def test_what_stands_out_further_never_gains(bottom, a, b):
    near, far = sorted((a, b))
    assert access.protrusion_excess_mm(depth_mm=far, bottom_edge_mm=bottom) >= access.protrusion_excess_mm(
        depth_mm=near, bottom_edge_mm=bottom
    )


@given(side, side, st.floats(0, 2000), st.floats(0, 2000))
def test_a_smaller_pane_never_calls_for_more(w, h, bottom, walk):
    big = glazing.window_rule(width_mm=w, height_mm=h, bottom_edge_mm=bottom, walking_distance_mm=walk)
    small = glazing.window_rule(width_mm=w / 2, height_mm=h, bottom_edge_mm=bottom, walking_distance_mm=walk)
    assert big.applies or not small.applies


@given(st.floats(1, 500), st.floats(500, 1e5), more, st.floats(100, 2000), st.floats(-10, 40))
def test_more_vent_is_never_hotter(power, area, k, height, room):
    kw = {"power_w": power, "height_mm": height, "outside_degc": room}
    assert vents.stack_rise_k(area_mm2=area * k, **kw) < vents.stack_rise_k(area_mm2=area, **kw)


GLASS = casework.Wall(area_mm2=0.8e6, length_mm=700, thickness_mm=6, conductivity_w_mk=1.0, emissivity=0.84)


@settings(max_examples=25)
@given(st.floats(5, 100), st.floats(0, 2e4), st.floats(0, 2e4), st.floats(0, 35))
def test_more_vent_or_wall_never_heats_a_case(power, a, b, room):
    few, many = sorted((a, b))
    kw = {"power_w": power, "room_degc": room, "vent_height_mm": 700}
    tight, open_ = (casework.case_balance(walls=[GLASS], low_vent_mm2=v, high_vent_mm2=v, **kw) for v in (few, many))
    assert open_.rise_k <= tight.rise_k + 1e-6
    assert all(room - 1e-6 <= t <= tight.air_degc + 1e-6 for t in tight.surface_degc)
    two = casework.case_balance(walls=[GLASS, GLASS], low_vent_mm2=few, high_vent_mm2=few, **kw)
    assert two.rise_k <= tight.rise_k + 1e-6


strips = st.fixed_dictionaries(
    {
        "segments": st.integers(1, 60),
        "segment_ohm": st.floats(1e-3, 0.1),
        "segment_a": st.floats(0.01, 0.1),
        "full_v": st.floats(12, 24),
        "forward_v": st.floats(6, 11),
        "supply_v": st.floats(20, 28),
        "regulated": st.booleans(),
    }
)


@settings(max_examples=50)
@given(strips)
def test_a_longer_strip_is_never_brighter_at_its_end(kw):
    short = ladder.strip_ladder(**kw, feeds=[0])
    long = ladder.strip_ladder(**(kw | {"segments": kw["segments"] + 5}), feeds=[0])
    assert long.share[-1] <= short.share[-1] + 1e-9
    assert all(a >= b - 1e-9 for a, b in zip(long.voltage_v, long.voltage_v[1:], strict=False))


@settings(max_examples=50)
@given(strips, st.data())
def test_another_feed_never_dims_and_current_is_kept(kw, data):
    one = ladder.strip_ladder(**kw, feeds=[0])
    joint = data.draw(st.integers(1, kw["segments"]))
    two = ladder.strip_ladder(**kw, feeds=[0, joint])
    assert all(b >= a - 1e-7 for a, b in zip(one.voltage_v, two.voltage_v, strict=True))
    drawn = kw["segment_a"] * sum(two.share)
    assert sum(two.feed_a) == pytest.approx(drawn, rel=1e-6, abs=1e-8)


@given(st.floats(100, 800), st.floats(0, 1800), st.floats(0, 1800), st.floats(0, 140))
def test_a_limit_never_passes_the_load_constant(reach, hands, travel, twist):
    found = lifting.weight_limit(reach_mm=reach, hands_mm=hands, travel_mm=travel, twist_deg=twist)
    assert 0 <= found.limit_kg <= 23
    assume(found.limit_kg > 0)
    assert lifting.lifting_index(load_kg=found.limit_kg, limit_kg=found.limit_kg) == 1
    assert found.limit_kg < inf
