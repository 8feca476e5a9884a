"""Steady heat balance of a case: its walls, its vents and its fan share what the screen and the lights set free.

One node of air inside, one inner and one outer face per wall. A wall that lies against the building wall gives off nothing and is left
out. The air is taken as mixed: next to the screen it is warmer than the mean, so leave a margin.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.heat import Facing, air_at, convection_w_m2k, radiation_w_m2
from halfsilver.engineering.vents import DISCHARGE, stack_flow_m3_s, vent_area_mm2
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

HOTTEST_DEGC = 99.0
NEAR = 1e-8  # of the bracket: far below what any reading tells apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A wall of the case that gives off heat to the room.

    Parameters
    ----------
    area_mm2 : float
        Area. [mm2]
    length_mm : float
        Height of a vertical wall; area over perimeter of a level one. [mm]
    thickness_mm : float
        Thickness. [mm]
    conductivity_w_mk : float
        1.0 for glass (EN 572-1, seen), about 0.15 for timber and board (practice). [W/mK]
    facing : {"vertical", "up", "down"}
        Where its outer face looks.
    emissivity : float
        Of both faces. [-]
    """

    area_mm2: float
    length_mm: float
    thickness_mm: float
    conductivity_w_mk: float
    facing: Facing = "vertical"
    emissivity: float = 0.9

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        positive(area_mm2=self.area_mm2, length_mm=self.length_mm)
        positive(thickness_mm=self.thickness_mm, conductivity_w_mk=self.conductivity_w_mk)
        within("emissivity", self.emissivity, 0, 1, "an emissivity")


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseBalance:
    """Temperatures and heats at rest.

    Parameters
    ----------
    air_degc, rise_k : float
        Air inside, and how far above the room. [degC, K]
    surface_degc, wall_w : tuple of float
        Outer face and heat of each wall. [degC, W]
    vent_m3_s, vent_w : float
        Air through vents and fan, and the heat it carries. [m3/s, W]
    """

    air_degc: float
    rise_k: float
    surface_degc: tuple[float, ...]
    wall_w: tuple[float, ...]
    vent_m3_s: float
    vent_w: float


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses zero, by false position (Anderson and Bjorck); the nearer end if it does not."""
    at_low, at_high, side = function(low), function(high), 0
    if at_low >= 0 or at_high <= 0:
        return low if at_low >= 0 else high
    reach = at_high - at_low
    for _ in range(80):
        x = (low * at_high - high * at_low) / (at_high - at_low)
        at_x = function(x)
        if abs(at_x) <= NEAR * reach or high - low <= NEAR:
            break
        if at_x < 0:
            at_high *= _lighter(at_x / at_low) if side < 0 else 1.0
            low, at_low, side = x, at_x, -1
        else:
            at_low *= _lighter(at_x / at_high) if side > 0 else 1.0
            high, at_high, side = x, at_x, 1
    return x


def _lighter(left: float) -> float:
    """Weight of an end that was kept twice, where the other's height fell to a share."""
    return 1 - left if left < 1 else 0.5


@lru_cache(maxsize=256)  # walls of a pair are equal, and every balance of one case begins at the same ends
@formula(name="heat.wall_face", source="series of film, wall and film", status="derived", unit="degC")
def wall_face_degc(*, wall: Wall, air_degc: float, room_degc: float) -> float:
    """Temperature of a wall's outer face.

    Parameters
    ----------
    wall : Wall
        The wall.
    air_degc : float
        Air inside, not colder than the room. [degC]
    room_degc : float
        Room. [degC]

    Returns
    -------
    float
        Outer face. [degC]

    References
    ----------
    Derived from `heat.convection_coefficient` and `heat.radiation` on both faces.
    """
    if air_degc <= room_degc:
        return room_degc

    def surplus(face: float) -> float:
        out = _outside_w_m2(wall=wall, face_degc=face, room_degc=room_degc)
        inner = face + out * wall.thickness_mm * 1e-3 / wall.conductivity_w_mk
        return out - (_inside_w_m2(wall=wall, face_degc=inner, air_degc=air_degc) if inner < air_degc else 0.0)

    return _root(surplus, room_degc, air_degc)


@formula(name="heat.wall_heat", source="series of film, wall and film", status="derived", unit="W")
def wall_heat_w(*, wall: Wall, air_degc: float, room_degc: float) -> float:
    """Heat that a wall passes to the room.

    Parameters
    ----------
    wall, air_degc, room_degc
        As in `wall_face_degc`.

    Returns
    -------
    float
        Heat. [W]

    References
    ----------
    Derived, as `heat.wall_face`.
    """
    return _given_off_w(wall, wall_face_degc(wall=wall, air_degc=air_degc, room_degc=room_degc), room_degc)


def _given_off_w(wall: Wall, face_degc: float, room_degc: float) -> float:
    return wall.area_mm2 * 1e-6 * _outside_w_m2(wall=wall, face_degc=face_degc, room_degc=room_degc)


def _outside_w_m2(*, wall: Wall, face_degc: float, room_degc: float) -> float:
    h = convection_w_m2k(surface_degc=face_degc, air_degc=room_degc, length_mm=wall.length_mm, facing=wall.facing)
    return h * (face_degc - room_degc) + radiation_w_m2(emissivity=wall.emissivity, surface_degc=face_degc, surroundings_degc=room_degc)


def _inside_w_m2(*, wall: Wall, face_degc: float, air_degc: float) -> float:
    mirrored: dict[Facing, Facing] = {"vertical": "vertical", "up": "down", "down": "up"}  # the inner face looks the other way
    h = convection_w_m2k(surface_degc=face_degc, air_degc=air_degc, length_mm=wall.length_mm, facing=mirrored[wall.facing])
    return h * (air_degc - face_degc) + radiation_w_m2(emissivity=wall.emissivity, surface_degc=air_degc, surroundings_degc=face_degc)


@formula(
    name="heat.case_balance", source="steady balance of walls, stack flow and fan", status="derived",
    validity="mixed air, to 99 degC inside; a planning estimate",
)  # fmt: skip
def case_balance(
    *,
    power_w: float,
    room_degc: float,
    walls: Sequence[Wall],
    low_vent_mm2: float = 0.0,
    high_vent_mm2: float = 0.0,
    vent_height_mm: float = 0.0,
    free_share: float = 1.0,
    fan_m3_s: float = 0.0,
    discharge: float = DISCHARGE,
) -> CaseBalance:
    """Temperatures of a case in which heat is set free.

    Parameters
    ----------
    power_w : float
        Heat of screen, lights and supplies inside. [W]
    room_degc : float
        Room. [degC]
    walls : sequence of Wall
        Faces towards the room.
    low_vent_mm2, high_vent_mm2, vent_height_mm : float
        Vents below and above, and the distance of their middles. [mm2, mm]
    free_share, discharge : float
        As in `vent_area_mm2` and `stack_flow_m3_s`. [-]
    fan_m3_s : float
        Flow of a fan, which replaces the stack flow where it is larger. [m3/s]

    Returns
    -------
    CaseBalance

    Raises
    ------
    RangeError
        If the air inside would pass 99 degC: far outside what a screen bears.

    References
    ----------
    Derived. Without walls it agrees with `heat.stack_rise`.
    """
    not_negative(power_w=power_w, vent_height_mm=vent_height_mm, fan_m3_s=fan_m3_s)
    area = vent_area_mm2(low_mm2=low_vent_mm2, high_mm2=high_vent_mm2, free_share=free_share)
    room = air_at(temperature_degc=room_degc)

    @cache
    def balance(air_degc: float) -> CaseBalance:
        faces = tuple(wall_face_degc(wall=wall, air_degc=air_degc, room_degc=room_degc) for wall in walls)
        stack = stack_flow_m3_s(area_mm2=area, height_mm=vent_height_mm, inside_degc=air_degc, outside_degc=room_degc, discharge=discharge)
        flow = max(stack, fan_m3_s)
        return CaseBalance(
            air_degc=air_degc,
            rise_k=air_degc - room_degc,
            surface_degc=faces,
            wall_w=tuple(_given_off_w(wall, face, room_degc) for wall, face in zip(walls, faces, strict=True)),
            vent_m3_s=flow,
            vent_w=flow * room.density_kg_m3 * room.heat_capacity_j_kgk * (air_degc - room_degc),
        )

    def surplus(air_degc: float) -> float:
        state = balance(air_degc)
        return sum(state.wall_w) + state.vent_w - power_w

    if surplus(HOTTEST_DEGC) < 0:
        raise RangeError(f"{power_w:g} W cannot leave this case below {HOTTEST_DEGC:g} degC: add vents, a fan or area")
    return balance(_root(surplus, room_degc, HOTTEST_DEGC))
