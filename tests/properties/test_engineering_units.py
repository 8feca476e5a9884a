"""Units cannot be mixed up: every rule takes its numbers by name, and the rules of loads and glass keep their dimensions."""

from __future__ import annotations

import importlib
import inspect
import pkgutil

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import halfsilver.engineering
from halfsilver.engineering import bars, glass, leaning, mounting, plates, spacing, standing, sticks, strength
from halfsilver.model.formula import Formula

REGISTRY = pint.UnitRegistry()
SUFFIXES = {
    "_kg_m3": "kg/m^3", "_m_s2": "m/s^2", "_n_mm": "N*mm", "_mm": "mm", "_n": "N", "_mpa": "MPa", "_pa": "Pa", "_kg": "kg",
}  # fmt: skip


def rules():
    names = (info.name for info in pkgutil.iter_modules(halfsilver.engineering.__path__, "halfsilver.engineering."))
    for module in map(importlib.import_module, names):
        for thing in vars(module).values():
            if isinstance(getattr(thing, "__formula__", None), Formula) and thing.__module__ == module.__name__:
                yield thing


def test_every_rule_takes_its_numbers_by_name():
    found = list(rules())
    assert len(found) > 100
    for rule in found:
        kinds = {parameter.name: parameter.kind for parameter in inspect.signature(rule).parameters.values()}
        assert set(kinds.values()) <= {inspect.Parameter.KEYWORD_ONLY}, f"{rule.__name__}: {kinds}"


def suffix(name):
    return next((unit for ending, unit in SUFFIXES.items() if name.endswith(ending)), "")


def scale(unit, length, mass, time):
    """What a number in a unit is multiplied by when the measures of length, mass and time change."""
    parts = REGISTRY.parse_units(unit).dimensionality if unit else {}
    by = {"[length]": length, "[mass]": mass, "[time]": time}
    factor = 1.0
    for name, power in parts.items():
        factor *= by[name] ** float(power)
    return factor


STEEL = {"modulus_mpa": 200_000.0}
PANE = {"width_mm": 900.0, "height_mm": 1300.0, "thickness_mm": 5.0}
# A rule, its numbers, the unit of its result; none hides a constant with a dimension.
CASES = [
    (bars.bending_stress_mpa, {"load_n": 70.0, "lever_mm": 40.0, "width_mm": 20.0, "thickness_mm": 3.0}, "MPa"),
    (bars.lip_deflection_mm, {"load_n": 70.0, "arm_mm": 40.0, "width_mm": 700.0, "thickness_mm": 3.0, **STEEL}, "mm"),
    (bars.span_deflection_mm, {"load_n": 70.0, "span_mm": 700.0, "width_mm": 20.0, "thickness_mm": 3.0, **STEEL}, "mm"),
    (bars.screw_pull_n, {"load_n": 70.0, "arm_mm": 40.0, "foot_mm": 20.0, "screws": 4}, "N"),
    (bars.allowable_stress_mpa, {"yield_mpa": 250.0}, "MPa"),
    (spacing.screw_spacing_mm, {"diameter_mm": 4.2, "which": "along"}, "mm"),
    (sticks.screw_edge_mm, {"diameter_mm": 4.2}, "mm"),
    (sticks.mitre_pull_n, {"load_n": 300.0}, "N"),
    (sticks.stick_deflection_mm, {"load_n": 300.0, "span_mm": 1300.0, "depth_mm": 33.0, "height_mm": 50.0, "modulus_mpa": 8000.0}, "mm"),
    (leaning.patch_deflection_mm, {**PANE, "load_n": 222.0, "modulus_mpa": 71_700.0}, "mm"),
    (leaning.patch_stress_mpa, {**PANE, "load_n": 222.0, "radius_mm": 50.0}, "MPa"),
    (plates.plate_deflection_mm, {**PANE, "pressure_pa": 500.0, "modulus_mpa": 71_700.0}, "mm"),
    (plates.plate_stress_mpa, {**PANE, "pressure_pa": 500.0}, "MPa"),
    (plates.plate_deflection_by_roark_mm, {**PANE, "pressure_pa": 500.0, "modulus_mpa": 71_700.0}, "mm"),
    (plates.plate_stress_by_roark_mpa, {**PANE, "pressure_pa": 500.0}, "MPa"),
    (plates.plate_rigidity_n_mm, {"thickness_mm": 5.0, "modulus_mpa": 71_700.0}, "N*mm"),
    (plates.two_edge_deflection_mm, {"span_mm": 900.0, "thickness_mm": 5.0, "pressure_pa": 500.0, "modulus_mpa": 71_700.0}, "mm"),
    (plates.two_edge_stress_mpa, {"span_mm": 900.0, "thickness_mm": 5.0, "pressure_pa": 500.0}, "MPa"),
    (plates.slope_load_pa, {"thickness_mm": 5.0, "slope_deg": 45.0, "density_kg_m3": 2500.0, "gravity_m_s2": 9.81}, "Pa"),
    (plates.linear_limit_mm, {"thickness_mm": 5.0}, "mm"),
    (plates.support_deflection_limit_mm, {"span_mm": 900.0}, "mm"),
    (strength.laminated_thickness_mm, {"plies_mm": [3.0, 3.0], "interlayers_mm": [0.76], "coupling": 0.1}, "mm"),
    (strength.laminated_stress_thickness_mm, {"plies_mm": [3.0, 3.0], "ply": 0, "interlayers_mm": [0.76], "coupling": 0.1}, "mm"),
    (glass.pane_mass_kg, {**PANE, "density_kg_m3": 2500.0}, "kg"),
    (glass.frame_clearance_mm, {"glass_tolerance_mm": 1.6, "rebate_tolerance_mm": 1.0, "growth_mm": 0.4}, "mm"),
    (mounting.load_share, {"fixings": 3, "off_centre_mm": 50.0, "spread_mm": 800.0}, ""),
    (standing.tip_base_mm, {"centre_height_mm": 900.0}, "mm"),
]  # fmt: skip
measure = st.floats(0.2, 5.0)


@pytest.mark.parametrize(("rule", "numbers", "unit"), CASES, ids=[case[0].__name__ for case in CASES])
@settings(max_examples=10)
@given(length=measure, mass=measure, time=measure)
def test_a_rule_says_the_same_in_other_measures(rule, numbers, unit, length, mass, time):
    def other(name, value):
        by = scale(suffix(name), length, mass, time)
        return [one * by for one in value] if isinstance(value, list) else value * by if suffix(name) else value

    found = rule(**{name: other(name, value) for name, value in numbers.items()})
    assert found == pytest.approx(rule(**numbers) * scale(unit, length, mass, time), rel=1e-9)


@pytest.mark.parametrize(
    ("rule", "numbers"),
    [
        (mounting.pull_out_n, {"mass_kg": 30.0, "centre_from_wall_mm": 75.0, "fixing_to_contact_mm": 500.0}),
        (standing.push_to_tip_n, {"mass_kg": 60.0, "base_mm": 200.0, "push_height_mm": 1500.0}),
    ],
)
@given(length=measure, mass=measure)
def test_weights_follow_mass_and_not_length(rule, numbers, length, mass):
    # Earth's pull is fixed, so that a force goes with the mass alone here.
    other = {name: value * (mass if name.endswith("_kg") else length) for name, value in numbers.items()}
    assert rule(**other) == pytest.approx(rule(**numbers) * mass, rel=1e-9)


def test_a_wrong_power_is_noticed():
    def wrong(*, load_n, lever_mm, width_mm, thickness_mm):
        return bars.bending_stress_mpa(load_n=load_n, lever_mm=lever_mm, width_mm=width_mm, thickness_mm=thickness_mm) * thickness_mm

    _, numbers, unit = CASES[0]
    other = {name: value * scale(suffix(name), 2.0, 1.0, 1.0) for name, value in numbers.items()}
    assert wrong(**other) != pytest.approx(wrong(**numbers) * scale(unit, 2.0, 1.0, 1.0))
