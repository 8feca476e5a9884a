"""Openings of the case: the least that keep the limit, and what happens when they are blocked."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from halfsilver.engineering import vents
from halfsilver.engineering.casework import HOTTEST_DEGC, wall_heat_w
from halfsilver.engineering.heat import air_at, kelvin
from halfsilver.engineering.working import Given, Limit, Working, mark_of
from halfsilver.layout.design import Design
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Units
from halfsilver.services.checks.casing import Casing
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import warmth

BALANCE = "steady balance of walls and stack flow (ASHRAE Fundamentals)"
PROBE = "maker of the screen; a probe in the finished case"
MM2_PER_SQ_IN = 645.16


def _area(design: Design, area_mm2: float, *, up: bool = False) -> str:
    whole = ceil if up else round
    metric = f"{whole(area_mm2 / 100)} cm2"
    return f"{whole(10 * area_mm2 / MM2_PER_SQ_IN) / 10:.1f} sq in ({metric})" if design.facts.job.units is Units.INCH else metric


def openings(design: Design, box: Casing, limit: float) -> Check | Finding:
    """The least openings that keep the limit: what the walls do not carry at the limit has to leave with air."""
    mark, there = mark_of(vents.vent_needed_mm2), box.openings
    rise, have = limit - box.room.value, min(there.low_mm2, there.high_mm2)
    if rise <= 0:
        return Finding(
            rule="heat.vent", source=mark.source, status=mark.status, severity=Severity.STOP, value=box.room.value, limit=limit,
            unit="degC",
            advice=f"The room itself comes to {box.room.value:g} degC, the limit inside is {limit:g} degC: no opening helps. Cool "
            "the room, or choose a screen that bears more.",
        )  # fmt: skip
    assert box.power_w is not None
    by_walls = sum(wall_heat_w(wall=wall, air_degc=limit, room_degc=box.room.value) for wall in box.walls)
    rest, by_fan = max(box.power_w - by_walls, 0.0), _fan_heat_w(box, rise)
    left = 0.0 if by_fan >= rest else rest  # a fan and warmth do not add up: the stronger of them drives the air
    needed = vents.vent_needed_mm2(power_w=left, rise_k=rise, height_mm=there.apart_mm, outside_degc=box.room.value) if left else 0.0
    flow = vents.fan_flow_m3_s(power_w=left, rise_k=rise, outside_degc=box.room.value)
    by = f"the walls{' and the fan' if there.fan_m3_s and not left else ''}"
    weak = f", and the fan there is {by_fan:.0f} W, too little" if there.fan_m3_s else ""
    said = (
        f"At the limit of {warmth(design, limit)} {by} carry {box.power_w - left:.0f} W of {box.power_w:.0f} W{weak}. The rest needs "
        f"{_area(design, needed, up=True)} free low down and as much high up, or a fan that moves {ceil(1e4 * flow) / 10:.1f} l/s "
        f"({ceil(vents.cubic_feet_per_minute(flow_m3_s=flow))} cfm) as fitted; there are {_area(design, have)} each "
        f"({there.origin}). Mesh counts by its open share, 0.5 to 0.8. Low openings in the lower edge, high ones in the upper, "
        "neither into the other's stream (case.low, case.high, case.fan)."
        if left
        else f"At the limit of {warmth(design, limit)} {by} carry all of {box.power_w:.0f} W. "
        f"{'The fan wants its own way in and out, free.' if there.fan_m3_s else 'Openings are not needed for that.'}"
    )
    return Check(
        working=Working(
            rule="heat.vent",
            title="smaller of the openings below and above",
            given=(
                Given(name="heat", symbol="P", value=box.power_w, unit="W"),
                Given(name=f"through {by} at the limit", symbol="Pw", value=box.power_w - left, unit="W"),
                Given(name="rise allowed", symbol="dT", value=rise, unit="K"),
                Given(name="distance of the openings", symbol="H", value=there.apart_mm, unit="mm"),
            ),
            formula="A >= (P - Pw)/(rho cp dT) x sqrt(2)/(Cd sqrt(2 g H dT/Ti))",
            put_in=_vent_numbers(box, left, rise, needed),
            result=have,
            limit=needed if left else None,
            side=Limit.AT_LEAST,
            unit="mm2",
            source=mark.source,
            limit_source=mark.source,
            status="assumed" if "assumed" in there.origin else mark.status,
            assumptions=(f"openings: {there.origin}", "warmth alone drives the air", "nothing stands before them"),
            confirms=PROBE,
        ),
        advice=said,
        entries=("outside.width", "outside.height"),
    )


def _vent_numbers(box: Casing, left_w: float, rise_k: float, needed_mm2: float) -> str:
    """What the openings have to carry, as the formula reads it."""
    room, inside = air_at(temperature_degc=box.room.value), kelvin(box.room.value + rise_k)
    if not left_w:
        return f"A >= {left_w:.3g} W: nothing is left for openings"
    carried = f"{left_w:.4g} W/({room.density_kg_m3:.4g} kg/m3 x {room.heat_capacity_j_kgk:.4g} J/kgK x {rise_k:.3g} K)"
    driven = f"({vents.DISCHARGE:g} sqrt(2 x 9.807 m/s2 x {box.openings.apart_mm * 1e-3:.3g} m x {rise_k:.3g} K/{inside:.4g} K))"
    return f"A >= {carried} x sqrt(2)/{driven} = {needed_mm2:.4g} mm2"


def _fan_heat_w(box: Casing, rise_k: float) -> float:
    room = air_at(temperature_degc=box.room.value)
    return box.openings.fan_m3_s * room.density_kg_m3 * room.heat_capacity_j_kgk * rise_k


def blocked(design: Design, box: Casing, limit: float, whose: str) -> Check | Finding:
    """What happens when nobody looks after it: the fan stands still, openings are covered."""
    state = box.balance(blocked=True)
    inside = f"it would pass {HOTTEST_DEGC:g} degC inside" if state is None else f"the air inside comes to {warmth(design, state.air_degc)}"
    said = (
        f"{_stopped(design, box)}With its openings blocked{' as well' if box.openings.fan_m3_s else ''} {inside}; the {whose} "
        f"bears {warmth(design, limit)}. A thermal switch in the upper edge, set to that at most, or the screen's own protection, has to "
        "turn it off then. Keep curtains, dust and shelves away from the openings, clean them with the glass, and say so on a label at the "
        "back."
    )
    if state is None:
        return Finding(
            rule="heat.blocked",
            source=BALANCE,
            status="derived",
            severity=Severity.CAUTION,
            value=HOTTEST_DEGC,
            limit=limit,
            unit="degC",
            advice=said,
        )
    return Check(
        working=Working(
            rule="heat.blocked",
            title="air inside with its openings blocked",
            given=(Given(name="heat", symbol="P", value=box.power_w or 0.0, unit="W"), box.room.given("warmest room", "To", "degC")),
            formula="To + dT, P = sum(walls)",
            put_in=f"{box.room.value:.4g} degC + {state.rise_k:.3g} K; {box.power_w or 0.0:.4g} W = {sum(state.wall_w):.4g} W",
            result=state.air_degc,
            limit=limit,
            unit="degC",
            source=BALANCE,
            limit_source=f"data sheet of the {whose}",
            status="derived",
            assumptions=("no air comes or goes", "the screen does not turn itself down"),
            confirms=PROBE,
        ),
        advice=said,
    )


def _stopped(design: Design, box: Casing) -> str:
    """With the openings free and the fan still, where there is one."""
    if not box.openings.fan_m3_s:
        return ""
    state = replace(box, openings=replace(box.openings, fan_m3_s=0.0)).balance()
    told = f"would pass {HOTTEST_DEGC:g} degC" if state is None else f"comes to {warmth(design, state.air_degc)}"
    return f"With the fan stopped the air inside {told}. "
