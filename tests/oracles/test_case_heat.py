"""The heat balance of a case against a slow one of finite differences, with air and films of general libraries.

Each wall is cut into slices and marched in time until it rests, with films from `ht` (Churchill and Chu, McAdams) and air from CoolProp;
the air inside is one node that walls and vents cool. It shares no function with the balance it is held against.
"""

from __future__ import annotations

from functools import cache
from math import sqrt

import pytest

from halfsilver.engineering.casework import Wall, case_balance

SIGMA = 5.670374419e-8
SLICES = 4


@cache
def air(tenths):
    """Conductivity, Prandtl number and kinematic viscosity of air at so many tenths of a degree."""
    props = pytest.importorskip("CoolProp.CoolProp").PropsSI
    mu, k, cp, rho = (props(x, "T", 273.15 + tenths / 10, "P", 101_325, "Air") for x in "VLCD")
    return k, mu * cp / k, mu / rho


def film_w_m2k(air_degc, face_degc, length_m, facing):
    ht = pytest.importorskip("ht")
    mean = (air_degc + face_degc) / 2
    k, prandtl, viscosity = air(round(10 * mean))
    grashof = 9.80665 / (mean + 273.15) * abs(face_degc - air_degc) * length_m**3 / viscosity**2
    if facing == "vertical":
        return ht.Nu_vertical_plate_Churchill(prandtl, grashof) * k / length_m
    # A warm face that looks up helps the air; so does its inner side, a cold face that looks down.
    nusselt = ht.conv_free_immersed.Nu_horizontal_plate_McAdams(prandtl, max(grashof, 1e4 / prandtl), buoyancy=facing == "up")
    return nusselt * k / length_m


def radiant_w_m2k(one_degc, other_degc, emissivity):
    one, other = one_degc + 273.15, other_degc + 273.15
    return emissivity * SIGMA * (one**2 + other**2) * (one + other)


def passed_w(wall, inside, room, nodes):
    """Heat of a wall at rest, its slices relaxed from what they were."""
    step = wall.thickness_mm * 1e-3 / (SLICES - 1)
    conduct = wall.conductivity_w_mk / step
    length = wall.length_mm * 1e-3
    for _ in range(400):
        before = list(nodes)
        inner, outer = nodes[0], nodes[-1]
        gain = film_w_m2k(inside, inner, length, wall.facing) + radiant_w_m2k(inside, inner, wall.emissivity)
        loss = film_w_m2k(room, outer, length, wall.facing) + radiant_w_m2k(outer, room, wall.emissivity)
        nodes[0] = (gain * inside + conduct * nodes[1]) / (gain + conduct)
        for k in range(1, SLICES - 1):
            nodes[k] = (nodes[k - 1] + nodes[k + 1]) / 2
        nodes[-1] = (loss * room + conduct * nodes[-2]) / (loss + conduct)
        if max(abs(a - b) for a, b in zip(before, nodes, strict=True)) < 1e-5:
            break
    return wall.area_mm2 * 1e-6 * loss * (nodes[-1] - room)


def slowly(power, room, walls, vent_mm2, apart_mm):
    """Air inside by halving. Two equal vents act as one of the area over the root of two."""
    props = pytest.importorskip("CoolProp.CoolProp").PropsSI
    low, high = room, 99.0
    rho, cp = props("D", "T", room + 273.15, "P", 101_325, "Air"), props("C", "T", room + 273.15, "P", 101_325, "Air")
    nodes = [[room + 0.6 * (high - room) / 2] * SLICES for _ in walls]
    for _ in range(16):
        inside = (low + high) / 2
        lost = sum(passed_w(wall, inside, room, each) for wall, each in zip(walls, nodes, strict=True))
        flow = 0.65 * vent_mm2 * 1e-6 / sqrt(2) * sqrt(2 * 9.80665 * apart_mm * 1e-3 * (inside - room) / (inside + 273.15))
        lost += rho * cp * flow * (inside - room)
        low, high = (inside, high) if lost < power else (low, inside)
    return (low + high) / 2


FRONT = Wall(area_mm2=1.0e6, length_mm=770, thickness_mm=6, conductivity_w_mk=1.0, emissivity=0.837)
SIDES = Wall(area_mm2=1.2e5, length_mm=890, thickness_mm=57, conductivity_w_mk=0.15)
TOP = Wall(area_mm2=1.0e5, length_mm=33, thickness_mm=57, conductivity_w_mk=0.15, facing="up")


@pytest.mark.parametrize(
    ("power", "room", "walls", "vent", "apart"),
    [
        (40, 25, [FRONT], 0, 0),
        (60, 30, [FRONT, SIDES], 0, 0),
        (150, 28, [FRONT, SIDES], 7000, 600),
        (150, 28, [FRONT, SIDES, TOP], 40_000, 800),
    ],
)
def test_a_case_agrees_with_finite_differences(power, room, walls, vent, apart):
    found = case_balance(power_w=power, room_degc=room, walls=walls, low_vent_mm2=vent, high_vent_mm2=vent, vent_height_mm=apart)
    assert found.air_degc == pytest.approx(slowly(power, room, walls, vent, apart), abs=0.15)
