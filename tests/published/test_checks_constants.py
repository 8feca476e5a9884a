"""What the checks hold a design against, value by value, with where each is from; one per cent off any of them is seen here."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from halfsilver.making import wiring as plan
from halfsilver.services.checks import carriage, casing, damp, heat, mains, openings, people, place, ruled, seasons, timber, wiring

IN, LB, FT = 25.4, 0.45359237, 304.8

# Module, name, value, source. "practice" is common practice in the trade, "memory" was recalled and not found, "assumed" is neither.
VALUES = [
    (heat, "BARE_W_M", 10.0, "practice: above about 10 W/m a strip wants metal behind it"),
    (heat, "SWING_K", 40.0, "practice: from the coldest store to running in summer"),
    (heat, "ACRYLIC.value", 70e-6, "practice: 3.36 mm on 1.2 m over 40 K"),
    (openings, "MM2_PER_SQ_IN", IN * IN, "definition of the inch"),
    (casing, "TIMBER_W_MK", 0.15, "practice: timber and board across the grain"),
    (casing, "GLASS_W_MK", 1.0, "EN 572-1, seen"),
    (casing, "ACRYLIC_W_MK", 0.19, "practice"),
    (casing, "BACK_MM", 1.0, "practice: sheet metal of a screen's back"),
    (casing, "BACK_W_MK", 50.0, "practice: steel"),
    (casing, "SLOT_HEIGHT", 2 / 3, "geometry: mean height of the halves of a slot all round"),
    (casing, "WARMEST_DEGC", 30.0, "assumed: a warm room in summer"),
    (casing, "SPECIFIC_J_KGK.glass", 720.0, "EN 572-1, memory"),
    (casing, "SPECIFIC_J_KGK.timber", 1600.0, "practice"),
    (casing, "SPECIFIC_J_KGK.metal", 460.0, "practice: steel"),
    (casing, "SPECIFIC_J_KGK.screen", 900.0, "practice"),
    (wiring, "HOURS", 12.0, "assumed: opening hours of a public place"),
    (wiring, "VOLTS_APART", 0.5, "practice: supplies are rated in whole volts"),
    (plan, "DIMMEST", 0.85, "practice: a difference that is hardly seen along a strip"),
    (plan, "LEAD_MM", 2000.0, "assumed"),
    (plan, "LEAD_DROP", 0.03, "notes to NEC 210.19, memory"),
    (plan, "LINK_MM", 150.0, "practice: a corner link with its ends"),
    (plan, "RAIL_MM", 0.07, "practice: copper of 2 oz/ft2 is 70 um"),
    (plan, "RAIL_SHARE", 0.4, "practice: each rail of a strip's width"),
    (plan, "COPPER_OHM_MM", 1.7241e-5, "IACS, 100 %, at 20 degC"),
    (plan, "FORWARD_SHARE", 0.75, "practice"),
    (plan, "IN_RANGE_SHARE", 0.9, "practice"),
    (damp, "COLD_DEGC", 5.0, "assumed: a van in winter"),
    (damp, "SATURATED_K", 0.1, "assumed: what is this near to the room's dew point does not dry there"),
    (damp, "STILL_W_M2K", 9.0, "derived: convection 3.7 and radiation 5.4 W/m2K of an upright face in still air"),
    (damp, "FOAM_W_MK", 0.04, "practice: polyethylene foam"),
    (damp, "LEAST_FILM", 0.01, "practice"),
    (damp, "WET", 0.75, "practice"),
    (timber, "GLUE_PCT", (6.0, 8.5), "practice: 6 to 8 % before gluing for interiors, a little more in a damp shop"),
    (timber, "GLUE_DEGC", 10.0, "practice: white glue above 10 degC"),
    (timber, "OPEN_MM", 0.5, "practice: a gap that is seen across a room"),
    (seasons, "ROOM_DEGC", 21.0, "practice: 70 degF"),
    (seasons, "DRIEST", 0.30, "practice: 30 to 50 % is an indoor year, 60 % a damp one"),
    (seasons, "DAMPEST", 0.60, "the same"),
    (people, "GAZE_DEG", 15.0, "comfortable upward gaze, seen"),
    (people, "WALL_REFLECTANCE", 0.5, "practice: a light wall"),
    (people, "SLACK_MM", 600.0, "practice"),
    (people, "HARD_TO_BEAR", 28.0, "CIE 117: 28 is just intolerable, seen in handbooks"),
    (people, "LADDER_MM", 2000.0, "practice: reach from the floor"),
    (people, "FLASHES_HZ", 3, "WCAG 2.3.1"),
    (carriage, "PARCEL_MM", 108 * IN, "practice: usual tariff, longest side"),
    (carriage, "PARCEL_GIRTH_MM", 165 * IN, "practice: usual tariff, length and girth"),
    (carriage, "PARCEL_KG", 150 * LB, "practice: usual tariff"),
    (carriage, "CRATE_FROM_M2", 0.7, "practice: glass from which a crate is usual"),
    (carriage, "CRATE_FROM_KG", 20.0, "practice: mass from which a crate is usual"),
    (ruled, "DEFAULTS.power_factor", 0.9, "practice"),
    (ruled, "DEFAULTS.inrush_multiple", 5.0, "IEC 60898-1, characteristic C, memory"),
    (ruled, "DEFAULTS.lead_drop", 0.03, "notes to NEC 210.19, memory"),
    (ruled, "DEFAULTS.cord_share", 0.8, "NEC 210.23, memory"),
    (ruled, "DEFAULTS.fixed_share", 0.5, "NEC 210.23, memory"),
    (ruled, "DEFAULTS.tub_distance", 3 * FT, "NEC 410.10(D), memory"),
    (ruled, "DEFAULTS.tub_height", 8 * FT, "NEC 410.10(D), memory"),
    (ruled, "DEFAULTS.still_air", 0.18, "EN ISO 6946 table 2, 25 mm, memory"),
    (ruled, "DEFAULTS.still_air_thin", 0.11, "EN ISO 6946 table 2, 5 mm, memory"),
    (ruled, "DEFAULTS.glass_emissivity", 0.837, "EN 673, corrected, memory"),
    (ruled, "DEFAULTS.slot_free", 0.5, "assumed"),
    (ruled, "DEFAULTS.touch_glass", 71.0, "IEC 62368-1 Table 38, memory"),
    (ruled, "DEFAULTS.metal_growth", 23.0, "EN 1999-1-1, memory"),
    (ruled, "DEFAULTS.mould_humidity", 0.8, "ISO 13788, memory"),
    (ruled, "DEFAULTS.pane_warmed", 20.0, "assumed"),
    (ruled, "DEFAULTS.clear_width", 36 * IN, "ADA 403.5.1, memory"),
    (ruled, "DEFAULTS.side_reach_deep", 46 * IN, "ADA 308.3.2, memory"),
    (ruled, "DEFAULTS.side_reach_over", 34 * IN, "ADA 308.3.2, memory"),
    (ruled, "DEFAULTS.mirror_edge", 35 * IN, "ADA 603.3, memory"),
    (ruled, "DEFAULTS.glare", 22.0, "EN 12464-1, memory"),
    (ruled, "DEFAULTS.flicker", 1250.0, "IEEE 1789-2015, memory"),
    (ruled, "DEFAULTS.camera", 3000.0, "IEEE 1789-2015, memory"),
    (ruled, "DEFAULTS.class2_current", 5.0, "NEC chapter 9 Table 11(B), memory"),
    (ruled, "DEFAULTS.person_push", 222.0, "practice: 50 lbf"),
    (ruled, "DEFAULTS.timber_stiffness", 8.0, "Wood Handbook, soft hardwoods, memory"),
    (ruled, "DEFAULTS.timber_creep", 2.0, "NDS 3.5.2, unseasoned or damp, memory"),
    (ruled, "DEFAULTS.thermal_shock", 40.0, "EN 572-1, memory"),
    (ruled, "DEFAULTS.steel_yield", 250.0, "ASTM A36"),
    (ruled, "DEFAULTS.aluminium_yield", 110.0, "6063-T5, memory"),
    (ruled, "DEFAULTS.team_of_two", 2 / 3, "HSE L23, memory"),
    (ruled, "DEFAULTS.team_of_three", 1 / 2, "HSE L23, memory"),
    (ruled, "DEFAULTS.beside_door", 24 * IN, "IBC 2406.4.2, memory"),
    (ruled, "DEFAULTS.sloped_glass", 15.0, "IBC 2405.1, memory"),
    (ruled, "DEFAULTS.pallet_mass", 20.0, "assumed"),
    (ruled, "DEFAULTS.pallet_height", 150.0, "assumed"),
]  # fmt: skip


def held(module, name):
    first, _, rest = name.partition(".")
    value = getattr(module, first)
    if not rest:
        return value
    found = value[rest] if isinstance(value, dict) else getattr(value, rest)
    return found[0] if isinstance(found, tuple) else found


@pytest.mark.parametrize(("module", "name", "value", "source"), VALUES, ids=[f"{m.__name__.rpartition('.')[2]}.{n}" for m, n, *_ in VALUES])
def test_a_value_is_what_its_source_says(module, name, value, source):
    assert held(module, name) == pytest.approx(value, rel=1e-9), source


@pytest.mark.parametrize("module", [heat, openings, casing, wiring, mains, damp, timber, seasons, people, place, carriage])
def test_no_value_of_a_check_is_left_out(module):
    told = {name.partition(".")[0] for owner, name, *_ in VALUES if owner is module}
    named = set()
    for node in ast.parse(Path(module.__file__).read_text(encoding="utf-8")).body:
        targets = node.targets if isinstance(node, ast.Assign) else []
        numbers = [one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, int | float)]
        if any(number not in (0, 1, True, False) for number in numbers):
            named |= {name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name)}
    assert named - told - {"MM2_PER_M2"} == set()


@pytest.mark.parametrize(("name", "depth_m"), [("still_air", 0.025), ("still_air_thin", 0.005)])
def test_still_air_follows_from_the_standards_own_sum(name, depth_m):
    # EN ISO 6946 annex B [memory]: 1/(ha + hr), ha the greater of 1.25 and 0.025/d, hr = 4 sigma T^3/(2/0.9 - 1) at 10 degC
    across = max(1.25, 0.025 / depth_m)
    radiant = 4 * 5.670374e-8 * 283.15**3 / (2 / 0.9 - 1)
    assert ruled.DEFAULTS[name][0] == pytest.approx(1 / (across + radiant), abs=0.005)


def test_no_value_that_a_workshop_may_change_is_left_out():
    assert {name.partition(".")[2] for owner, name, *_ in VALUES if owner is ruled} == set(ruled.DEFAULTS)
