"""One table of published and derived figures, each answered by a listed formula of the program.

``memory`` marks a value recalled and not found: such a row tests arithmetic and proves no standard.
"""

from __future__ import annotations

import importlib
import pkgutil
from decimal import Decimal
from math import cos, radians

import pytest

import halfsilver.costing.rules
import halfsilver.engineering

IN, LB, LBF, ZERO = 25.4, 0.45359237, 4.4482216152605, 273.15
PER_IN = IN / LBF  # N/mm to lb/in

# formula, inputs, factor from its result to the printed unit, expected, relative tolerance, source, status
CHECKS = [
    ("elec.wire_diameter", {"gauge": 18}, 1, 1.02369, 1e-4, "ASTM B258 ratio rule", "seen"),
    ("elec.wire_diameter", {"gauge": 36}, 1, 0.127, 1e-6, "ASTM B258, defining size", "seen"),
    ("elec.wire_resistance", {"diameter_mm": 1.02362}, 1, 20.9505, 1e-3, "IACS copper", "oracle"),
    (
        "elec.resistance_at",
        {"resistance_20": 20.948, "temperature_degc": 75},
        1, 25.4759, 2e-3, "IACS copper; Table 8 prints 25.5", "oracle",
    ),
    ("elec.drop_point", {"length_mm": 5000, "current_a": 4, "ohm_per_km": 26.1}, 1, 1.044, 1e-3, "Ohm's law with NEC Table 8", "seen"),
    ("elec.drop_even", {"length_mm": 5000, "current_a": 4, "ohm_per_km": 26.1}, 1, 0.522, 1e-3, "half rule", "derived"),
    ("elec.drop_even_two_ends", {"length_mm": 5000, "current_a": 4, "ohm_per_km": 26.1}, 1, 0.1305, 1e-3, "both ends fed", "derived"),
    ("elec.tap_factor", {"taps": 10}, 1, 0.55, 1e-6, "equal taps", "derived"),
    (
        "elec.longest_run",
        {"supply_v": 24, "share": 0.03, "current_a": 4, "ohm_per_km": 26.1},
        1e-3, 3.44828, 1e-3, "inverse of the drop", "derived",
    ),
    ("elec.class2_nameplate.current_a", {"voltage_v": 24}, 1, 4.16667, 1e-3, "NEC chapter 9 Table 11(B)", "memory"),
    ("elec.class2_nameplate.power_va", {"voltage_v": 12}, 1, 60, 1e-6, "NEC chapter 9 Table 11(B)", "memory"),
    ("elec.continuous_power", {"breaker_a": 15, "voltage_v": 120}, 1, 1440, 1e-6, "NEC 210.20(A)", "seen"),
    ("elec.continuous_power", {"breaker_a": 20, "voltage_v": 120}, 1, 1920, 1e-6, "NEC 210.20(A)", "seen"),
    (
        "heat.rayleigh",
        {"rise_k": 209, "length_mm": 710, "expansion_per_k": 0.0025, "viscosity_m2_s": 2.64e-5, "diffusivity_m2_s": 3.83e-5},
        1, 1.81438e9, 2e-3, "Bergman and others, Example 9.2", "memory",
    ),
    ("heat.nusselt_vertical", {"rayleigh_number": 1.813e9, "prandtl": 0.69}, 1, 147.119, 1e-3, "Churchill and Chu 1975", "seen"),
    (
        "heat.surface_heat",
        {"coefficient_w_m2k": 7.0, "area_mm2": 0.7242e6, "rise_k": 209},
        1, 1059.5, 2e-3, "Bergman, Example 9.2", "memory",
    ),
    (
        "heat.radiation",
        {"emissivity": 0.85, "surface_degc": 400 - ZERO, "surroundings_degc": 305 - ZERO},
        1, 816.783, 1e-5, "ht, q_rad", "seen",
    ),
    (
        "heat.stack_flow",
        {"area_mm2": 6000, "height_mm": 500, "inside_degc": 35, "outside_degc": 25, "gravity_m_s2": 9.81},
        1, 0.00220048, 1e-4, "ASHRAE Fundamentals", "seen",
    ),
    (
        "heat.stack_rise",
        {"power_w": 120, "area_mm2": 6000 / 2**0.5, "height_mm": 1000, "outside_degc": 25},
        1, 28.1033, 1e-3, "stack flow with the heat balance", "derived",
    ),
    ("heat.fan_flow", {"power_w": 120, "rise_k": 10, "outside_degc": 20}, 1, 0.00990733, 2e-4, "sensible heat balance", "derived"),
    ("glass.pane_mass", {"width_mm": 1200, "height_mm": 700, "thickness_mm": 6}, 1, 12.6, 1e-6, "EN 572-1", "seen"),
    ("glass.expansion", {"length_mm": 1200, "rise_k": 40}, 1, 0.432, 1e-6, "EN 572-1", "seen"),
    (
        "glass.plate_stress_by_roark",
        {"width_mm": 700, "height_mm": 500, "thickness_mm": 6, "pressure_pa": 1000},
        1, 3.14583, 1e-4, "Roark Table 11.4 case 1a", "seen",
    ),
    (
        "glass.plate_deflection_by_roark",
        {"width_mm": 700, "height_mm": 500, "thickness_mm": 6, "pressure_pa": 1000, "modulus_mpa": 70_000},
        1, 0.318287, 1e-4, "Roark Table 11.4 case 1a", "seen",
    ),
    ("glass.plate_rigidity", {"thickness_mm": 4.57}, 1e-3, 599.283, 1e-4, "plate theory", "derived"),
    (
        "glass.plate_deflection",
        {"width_mm": 700, "height_mm": 1000, "thickness_mm": 4.57, "pressure_pa": 500},
        1, 1.45697, 1e-3, "double series", "derived",
    ),
    (
        "glass.plate_stress",
        {"width_mm": 700, "height_mm": 1000, "thickness_mm": 4.57, "pressure_pa": 500},
        1, 5.26748, 1e-3, "double series", "derived",
    ),
    ("glass.slope_load", {"thickness_mm": 6, "slope_deg": 45, "gravity_m_s2": 9.81}, 1, 104.051, 1e-4, "self-weight", "derived"),
    (
        "glass.plate_deflection",
        {"width_mm": 800, "height_mm": 1400, "thickness_mm": 5.56, "pressure_pa": 104.051},
        1, 0.358708, 1e-3, "double series", "derived",
    ),
    ("glass.design_strength", {"kind": "annealed", "k_mod": 1.0}, 1, 25, 1e-6, "EN 16612:2019", "seen"),
    ("glass.design_strength", {"kind": "annealed", "k_mod": 0.29}, 1, 7.25, 1e-6, "EN 16612:2019", "seen"),
    ("glass.design_strength", {"kind": "toughened", "k_mod": 0.29}, 1, 69.75, 1e-6, "EN 16612:2019", "seen"),
    ("glass.duration_factor", {"duration_h": 1 / 6}, 1, 0.741563, 1e-3, "EN 16612:2019", "seen"),
    ("glass.duration_factor_by_e1300", {"duration_s": 2_592_000}, 1, 0.425567, 1e-3, "static fatigue exponent 16", "seen"),
    (
        "timber.movement",
        {"width_mm": 232, "coefficient_per_pct": 0.00245, "from_pct": 8, "to_pct": 11},
        1, 1.7052, 1e-4, "Wood Handbook ch 13", "seen",
    ),
    ("timber.coefficient", {"shrinkage_pct": 7.8}, 1, 0.00274262, 5e-3, "Wood Handbook Table 13-5", "seen"),
    ("timber.equilibrium_moisture", {"temperature_degc": 38 / 1.8, "humidity": 0.65}, 1, 11.9581, 5e-3, "Wood Handbook Eq 4-5", "seen"),
    ("timber.equilibrium_moisture", {"temperature_degc": 38 / 1.8, "humidity": 0.40}, 1, 7.69901, 5e-3, "Wood Handbook Eq 4-5", "seen"),
    ("timber.density", {"specific_gravity": 0.6, "moisture_pct": 12}, 1, 672, 1e-6, "Wood Handbook Table 4-6a", "seen"),
    ("timber.nail_withdrawal", {"specific_gravity": 0.42, "diameter_mm": 0.131 * IN}, PER_IN, 20.6668, 1e-3, "AWC example E2.1a", "seen"),
    (
        "timber.withdrawal",
        {"per_mm_n": 20.6668 / PER_IN, "thread_mm": 2.395 * IN, "duration": "ten years"},
        1 / LBF, 49.497, 1e-3, "AWC example E2.1a", "seen",
    ),
    ("timber.lag_withdrawal", {"specific_gravity": 0.55, "diameter_mm": 0.5 * IN}, PER_IN, 436.56, 1e-3, "NDS Table 12.2A", "seen"),
    (
        "timber.withdrawal",
        {"per_mm_n": 436.56 / PER_IN, "thread_mm": 2.1875 * IN, "duration": "ten years"},
        1 / LBF, 954.975, 1e-3, "AWC example E2.3", "seen",
    ),
    ("timber.screw_withdrawal", {"specific_gravity": 0.42, "diameter_mm": 0.19 * IN}, PER_IN, 95.5206, 1e-3, "NDS Eq 12.2-2", "seen"),
    (
        "timber.withdrawal",
        {"per_mm_n": 95.5206 / PER_IN, "thread_mm": 1.5 * IN},
        1 / LBF, 128.953, 1e-3, "NDS Table 2.3.2 permanent", "seen",
    ),
    ("timber.mitre_opening", {"rail_width_mm": 75, "strain": 0.02214}, 1, 2.3483, 1e-3, "geometry", "derived"),
    ("mount.pull_out", {"mass_kg": 30, "centre_from_wall_mm": 75, "fixing_to_contact_mm": 500}, 1, 44.1299, 1e-4, "moments", "derived"),
    ("mount.proof_load", {"mass_kg": 20}, 1, 784.532, 1e-4, "UL product standard clause 64", "seen"),
    ("mount.tip_base", {"centre_height_mm": 900}, 1e-3, 0.158694, 1e-4, "IEC 62368-1 8.6", "seen"),
    ("mount.push_level", {"mass_kg": 60}, 1, 76.4919, 1e-4, "IEC 62368-1 8.6", "seen"),
    ("viewing.least_element", {"farthest_mm": 10_500, "picture_height_mm": 1500}, 1, 0.035, 1e-6, "DISCAS example", "seen"),
    ("viewing.farthest_analytical", {"picture_height_mm": 1, "pixels_high": 1080}, 1, 3.18333, 1e-5, "DISCAS analytical", "memory"),
    ("viewing.distance_for_angle", {"width_mm": 16 / 337**0.5, "angle_deg": 30}, 1, 1.62638, 1e-4, "30 degree rule", "seen"),
    ("viewing.distance_for_angle", {"width_mm": 16 / 337**0.5, "angle_deg": 40}, 1, 1.19732, 1e-4, "40 degree rule", "seen"),
    ("panel.size.width_mm", {"diagonal_mm": 55 * IN, "aspect_width": 16, "aspect_height": 9}, 1, 1217.59, 1e-5, "geometry", "derived"),
    ("panel.size.height_mm", {"diagonal_mm": 55 * IN, "aspect_width": 16, "aspect_height": 9}, 1, 684.895, 1e-5, "geometry", "derived"),
    ("measuring.root_sum_square", {"limits_mm": [0.1] * 10}, 1, 0.316228, 1e-5, "root of the sum of squares", "seen"),
    ("measuring.root_sum_square", {"limits_mm": [0.10, 0.05, 0.03, 0.05]}, 1, 0.126095, 1e-5, "housing example", "seen"),
    ("measuring.tape_limit", {"length_mm": 3000, "tape_class": "II"}, 1, 0.9, 1e-6, "OIML R 35", "memory"),
    ("measuring.outside_length", {"inside_mm": 600, "rail_width_mm": 50}, 1, 700, 1e-6, "geometry", "derived"),
    ("measuring.mitre_gap", {"rail_width_mm": 70, "error_deg": 0.25}, 1, 0.43195, 1e-4, "geometry", "derived"),
    (
        "carriage.dimensional_weight",
        {"length_mm": 48 * IN, "width_mm": 36 * IN, "height_mm": 8 * IN},
        1, 99.4532, 1e-5, "common practice", "memory",
    ),
    ("carriage.dimensional_mass", {"length_mm": 1220, "width_mm": 910, "height_mm": 200}, 1, 44.408, 1e-5, "common practice", "memory"),
    (
        "carriage.freight_density",
        {"mass_kg": 500 * LB, "length_mm": 42 * IN, "width_mm": 48 * IN, "height_mm": 48 * IN},
        1, 8.92857, 1e-4, "freight example", "seen",
    ),
    (
        "lift.limit_from_multipliers",
        {"horizontal": 1, "vertical": 0.93, "distance": 1, "asymmetry": 0.71, "frequency": 0.13, "coupling": 1},
        1, 1.9743, 1e-3, "CCOHS example", "seen",
    ),
    (
        "lift.limit_from_multipliers",
        {"horizontal": 0.44, "vertical": 0.89, "distance": 0.86, "asymmetry": 1, "frequency": 1,
         "coupling": 0.95, "load_constant_kg": 51 * LB},
        1 / LB, 16.3168, 1e-3, "NIOSH 94-110 Example 1", "memory",
    ),
    (
        "lift.limit_from_multipliers",
        {"horizontal": 0.44, "vertical": 0.75, "distance": 0.86, "asymmetry": 1, "frequency": 1,
         "coupling": 1, "load_constant_kg": 51 * LB},
        1 / LB, 14.4738, 1e-3, "NIOSH 94-110 Example 1", "memory",
    ),
    (
        "lift.weight_limit.limit_kg",
        {"reach_mm": 400, "hands_mm": 400, "travel_mm": 600, "twist_deg": 30, "coupling": "fair"},
        1, 9.88885, 1e-4, "NIOSH 94-110", "seen",
    ),
    ("costing.price_from_markup", {"cost": Decimal(100), "markup": Decimal("0.5")}, 1, 150, 1e-6, "definition", "derived"),
    ("costing.margin_from_markup", {"markup": Decimal("0.5")}, 1, 0.333333, 2e-6, "definition", "derived"),
    ("costing.price_from_margin", {"cost": Decimal(100), "margin": Decimal("0.4")}, 1, 166.667, 1e-5, "definition", "derived"),
]  # fmt: skip


def listed():
    names = [info.name for info in pkgutil.iter_modules(halfsilver.engineering.__path__, "halfsilver.engineering.")]
    modules = [halfsilver.costing.rules, *map(importlib.import_module, names)]
    found = {}
    for module in modules:
        for thing in vars(module).values():
            mark = getattr(thing, "__formula__", None)
            if mark is not None and thing.__module__ == module.__name__:
                assert mark.name not in found, f"{mark.name} is listed twice"
                found[mark.name] = thing
    return found


LISTED = listed()


@pytest.mark.parametrize(("name", "inputs", "factor", "expected", "tolerance", "source", "status"), CHECKS)
def test_listed_formula_gives_the_published_figure(name, inputs, factor, expected, tolerance, source, status):
    base, _, part = name.partition(".")
    quantity, _, field = part.partition(".")
    result = LISTED[f"{base}.{quantity}"](**inputs)
    value = float(getattr(result, field) if field else result) * factor
    assert value == pytest.approx(expected, rel=tolerance), f"{source} [{status}]"


def test_every_formula_says_where_it_is_from():
    for name, function in LISTED.items():
        mark = function.__formula__
        assert mark.source, name
        assert "References" in function.__doc__, f"{name} names no reference"
        assert "Returns" in function.__doc__, name
        assert name.count(".") == 1, name


def test_a_remembered_value_says_so():
    for name, function in LISTED.items():
        if function.__formula__.status == "memory":
            said = (function.__doc__ + function.__formula__.validity).lower()
            assert "memory" in said or "practice" in said, f"{name} is from memory and does not say so"


def test_published_factors_reproduce_the_series_printed_beside_them():
    # Navier series: alpha 0.0072731, beta 0.0748373 at 1/0.7 and nu 0.22; 0.0090833, 0.0910791 at 1.75; cos 45 degrees of self-weight
    first, second = (LISTED["glass.plate_factors"](aspect=a, poisson=0.22) for a in (1 / 0.7, 1.75))
    assert (first.deflection, first.moment_short) == pytest.approx((0.0072731, 0.0748373), rel=1e-5)
    assert (second.deflection, second.moment_short) == pytest.approx((0.0090833, 0.0910791), rel=1e-5)
    assert LISTED["glass.slope_load"](thickness_mm=6, slope_deg=45) == pytest.approx(2500 * 9.80665 * 0.006 * cos(radians(45)))
