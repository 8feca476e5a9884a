"""Values that checks rest on and that nobody has confirmed: the workshop's own under ``rules``, or else a default that says so."""

from __future__ import annotations

from halfsilver.engineering import access, bars, glare, glazing, heat, lifting, mounting, running, sticks, supply, warm_edges
from halfsilver.engineering.constants import GLASS_EMISSIVITY
from halfsilver.layout.design import Design
from halfsilver.making.wiring import LEAD_DROP
from halfsilver.services.checks.known import Known
from halfsilver.units.factors import MM_PER_FOOT

MEMORY, PRACTICE, ASSUMED = "from memory", "common practice", "assumed"

DEFAULTS: dict[str, tuple[float, str]] = {
    "power_factor": (running.POWER_FACTOR, PRACTICE),
    "inrush_multiple": (running.INRUSH_MULTIPLE, MEMORY),  # IEC 60898-1, characteristic C
    "lead_drop": (LEAD_DROP, MEMORY),  # notes to NEC 210.19
    "cord_share": (supply.branch_share(fixed=False), MEMORY),  # NEC 210.23
    "fixed_share": (supply.branch_share(fixed=True), MEMORY),  # the same
    "tub_distance": (3 * MM_PER_FOOT, MEMORY),  # NEC 410.10(D), 406.9(C)
    "tub_height": (8 * MM_PER_FOOT, MEMORY),  # the same
    "still_air": (0.18, MEMORY),  # upright layer of 25 mm: EN ISO 6946 table 2. [m2K/W]
    "still_air_thin": (0.11, MEMORY),  # of 5 mm: the same. [m2K/W]
    "glass_emissivity": (GLASS_EMISSIVITY, MEMORY),  # EN 673
    "slot_free": (0.5, ASSUMED),  # of the slot behind the frame that the hanging rail leaves open
    "touch_glass": (heat.touch_limit_degc(material="glass"), MEMORY),  # IEC 62368-1 Table 38
    "metal_growth": (23.0, MEMORY),  # aluminium: EN 1999-1-1, 3.2.5. [1e-6/K]
    "mould_humidity": (0.80, MEMORY),  # ISO 13788
    "pane_warmed": (20.0, ASSUMED),  # pane over the shop's air when it runs. [K]
    "clear_width": (access.CLEAR_WIDTH_MM, MEMORY),  # ADA 403.5.1
    "side_reach_deep": (access.SIDE_DEEP_HIGH_MM, MEMORY),  # ADA 308.3.2
    "side_reach_over": (access.SIDE_OVER_MM, MEMORY),  # the same
    "mirror_edge": (access.mirror_bottom_limit_mm(over_basin=False), MEMORY),  # ADA 603.3
    "glare": (glare.GLARE_LIMIT, MEMORY),  # EN 12464-1, halls and lounges
    "flicker": (glare.LOW_RISK_HZ, MEMORY),  # IEEE 1789-2015
    "person_push": (mounting.PERSON_PULL_N, PRACTICE),  # 50 lbf. [N]
    "timber_stiffness": (sticks.TIMBER_MODULUS_MPA / 1000, MEMORY),  # [GPa]
    "timber_creep": (sticks.CREEP, MEMORY),
    "thermal_shock": (warm_edges.SHOCK_K["annealed"], MEMORY),  # EN 572-1. [K]
    "steel_yield": (bars.STEEL.yield_mpa, ASSUMED),  # ASTM A36; the alloy is assumed. [MPa]
    "aluminium_yield": (bars.ALUMINIUM.yield_mpa, MEMORY),  # 6063-T5. [MPa]
    "team_of_two": (lifting.TEAM[2], MEMORY),  # HSE L23
    "team_of_three": (lifting.TEAM[3], MEMORY),  # the same
    "beside_door": (glazing.BESIDE_DOOR_MM, MEMORY),  # IBC 2406.4.2
    "sloped_glass": (glazing.SLOPED_DEG, MEMORY),  # IBC 2405.1. [deg]
    "camera": (glare.CAMERA_HZ, MEMORY),  # the same
    "class2_current": (supply.CLASS_2_LOW_A, MEMORY),  # to 20 V: NEC chapter 9 Table 11(B). [A]
    "pallet_mass": (20.0, ASSUMED),
    "pallet_height": (150.0, ASSUMED),
}


def ruled(design: Design, name: str) -> Known:
    """A value of a rule: what the workshop found in the publication, or the program's default with how little is known of it.

    Parameters
    ----------
    design : Design
        Tells the workshop.
    name : str
        Key under ``rules`` in ``workshop.yaml``.
    """
    written: float | None = getattr(design.facts.workshop.head.rules, name)
    default, how = DEFAULTS[name]
    return Known(value=default, origin=f"{how}: rules.{name}") if written is None else Known(value=written, origin="workshop")
