"""The case of a design as a heat balance sees it: what is set free inside, its walls, its openings, and what has to be warmed.

The screen's back, or in a lit mirror the space between the sheets, is one room of mixed air. A piece on its wall gives nothing off through
its back; in a recess nothing through its edges either; a standing one through the screen's back as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from halfsilver.engineering.casework import CaseBalance, Wall, case_balance
from halfsilver.errors import RangeError
from halfsilver.layout.design import Design
from halfsilver.making.wiring import wiring_plan
from halfsilver.model.job import MountingKind, SupplyPlace
from halfsilver.model.workshop import GlassKind, GlassMake
from halfsilver.services.checks.known import Known, known
from halfsilver.services.checks.ruled import ruled

TIMBER_W_MK = 0.15  # common practice
GLASS_W_MK, ACRYLIC_W_MK = 1.0, 0.19  # EN 572-1 [seen]; common practice
BACK_MM, BACK_W_MK = 1.0, 50.0  # sheet metal of a screen's back
SLOT_HEIGHT = 2 / 3  # of the outside: mean distance of the lower half of a slot all round from its upper half
WARMEST_DEGC = 30.0
SPECIFIC_J_KGK = {"glass": 720.0, "timber": 1600.0, "metal": 460.0, "screen": 900.0}  # glass EN 572-1 [memory], the rest common practice
MM2_PER_M2 = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Openings:
    """What lets warm air out: free areas below and above, their distance, and a fan. [mm2, mm, m3/s]"""

    low_mm2: float
    high_mm2: float
    apart_mm: float
    fan_m3_s: float
    origin: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Casing:
    """A case with what warms it.

    Parameters
    ----------
    power_w : float or None
        Set free inside at full picture and full light; None where the screen's power is not known. [W]
    sources : tuple of str
        What that is made of, in words.
    room : Known
        Warmest room. [degC]
    walls : tuple of Wall
        Faces towards the room.
    openings : Openings
        Vents and fan.
    capacity_j_k : float
        Of everything inside. [J/K]
    supply_inside : Known
        1 where the supply is in the case.
    """

    power_w: float | None
    sources: tuple[str, ...]
    room: Known
    walls: tuple[Wall, ...]
    openings: Openings
    capacity_j_k: float
    supply_inside: Known

    def balance(self, *, blocked: bool = False) -> CaseBalance | None:
        """Temperatures at rest, with openings and fan or with neither; None where it would pass 99 degC inside."""
        if self.power_w is None:
            raise RangeError("the screen's power is not known")
        still = Openings(low_mm2=0.0, high_mm2=0.0, apart_mm=0.0, fan_m3_s=0.0, origin="")
        vents = still if blocked else self.openings
        try:
            return case_balance(
                power_w=self.power_w,
                room_degc=self.room.value,
                walls=self.walls,
                low_vent_mm2=vents.low_mm2,
                high_vent_mm2=vents.high_mm2,
                vent_height_mm=vents.apart_mm,
                fan_m3_s=vents.fan_m3_s,
            )
        except RangeError:
            return None


def casing(design: Design) -> Casing:
    """The case of a design."""
    job = design.facts.job
    parts = tuple(_heat(design))
    unknown = any(power is None for _, power in parts)
    asked = job.lights.supply_place if job.lights else None
    return Casing(
        power_w=None if unknown else sum(power or 0.0 for _, power in parts),
        sources=tuple(f"{what} {power:.0f} W" for what, power in parts if power is not None),
        room=known(job.room.warmest, max(WARMEST_DEGC, job.room.temperature or 0.0)),
        walls=tuple(_walls(design)),
        openings=_openings(design),
        capacity_j_k=sum(part.mass_kg * part.quantity * specific_j_kgk(part.id) for part in design.parts),
        supply_inside=known(None if asked is None else float(asked is SupplyPlace.CASE), 1.0),
    )


def specific_j_kgk(part_id: str) -> float:
    """Specific heat of a part. [J/kgK]"""
    kind = "glass" if part_id.endswith("-glass") else "screen" if part_id == "screen" else "timber"
    return SPECIFIC_J_KGK["metal" if part_id.startswith(("plate", "bar-")) else kind]


def _heat(design: Design) -> Iterator[tuple[str, float | None]]:
    """What sets heat free inside, at its most; all of the light is counted as heat. [W]"""
    job = design.facts.job
    if job.screen is not None:
        power = design.facts.screen.screen.power
        most = None if power is None else power.maximum if power.maximum is not None else power.typical
        yield "screen", most
    plan = wiring_plan(design)
    if plan is not None:
        yield "lights", plan.power_w
        if job.lights is not None and job.lights.supply_place is not SupplyPlace.OUTSIDE:
            yield "loss of the supply", plan.power_w * (1 / (plan.supply.efficiency if plan.supply else 0.85) - 1)


def _pane(kind: GlassKind) -> float:
    """Resistance of a pane. [m2K/W]"""
    return kind.thickness * 1e-3 / (ACRYLIC_W_MK if kind.make is GlassMake.ACRYLIC else GLASS_W_MK)


def _front(design: Design) -> tuple[float, float]:
    """Thickness and resistance between the case and the viewer. [mm, m2K/W]"""
    facts = design.facts
    thickness, resistance = facts.front_glass.thickness, _pane(facts.front_glass)
    if facts.job.screen is None:
        return thickness, resistance
    if "gap" in design.ledger:
        thickness += facts.rear_glass.thickness + design.ledger["gap"]
        resistance += _pane(facts.rear_glass) + ruled(design, "still_air").value
    return thickness, resistance + ruled(design, "still_air_thin").value


def _walls(design: Design) -> Iterator[Wall]:
    ledger, kind = design.ledger, design.facts.job.mounting.kind
    wide, high = ledger["outside.width"], ledger["outside.height"]
    sight = ledger["front.sight.width"] * ledger["front.sight.height"]
    thickness, resistance = _front(design)
    yield Wall(
        area_mm2=sight, length_mm=ledger["front.sight.height"], thickness_mm=thickness,
        conductivity_w_mk=thickness * 1e-3 / resistance, emissivity=ruled(design, "glass_emissivity").value,
    )  # fmt: skip
    deep, body = ledger["depth.back"], ledger["front.moulding.body"]
    yield Wall(area_mm2=wide * high - sight, length_mm=high, thickness_mm=deep, conductivity_w_mk=TIMBER_W_MK)
    if kind is not MountingKind.RECESSED:
        yield Wall(area_mm2=2 * deep * high, length_mm=high, thickness_mm=body, conductivity_w_mk=TIMBER_W_MK)
        across = wide * deep / (2 * (wide + deep))
        yield Wall(area_mm2=wide * deep, length_mm=across, thickness_mm=body, conductivity_w_mk=TIMBER_W_MK, facing="up")
        yield Wall(area_mm2=wide * deep, length_mm=across, thickness_mm=body, conductivity_w_mk=TIMBER_W_MK, facing="down")
    if kind is MountingKind.STANDING and design.facts.job.screen is not None:
        yield Wall(area_mm2=wide * high, length_mm=high, thickness_mm=BACK_MM, conductivity_w_mk=BACK_W_MK)


def _openings(design: Design) -> Openings:
    asked, (slot, origin) = design.facts.job.case, _slot(design)
    low = slot if asked.low is None else asked.low * MM2_PER_M2
    high = design.ledger["outside.height"] * (SLOT_HEIGHT if asked.low is None else 1.0)
    return Openings(
        low_mm2=low,
        high_mm2=low if asked.high is None else asked.high * MM2_PER_M2,
        apart_mm=high if asked.apart is None else asked.apart,
        fan_m3_s=(asked.fan or 0.0) * 1e-3,
        origin=origin if asked.low is None else "asked",
    )


def _slot(design: Design) -> tuple[float, str]:
    """Half of the slot all round a hung frame, or round one in its recess; none where the back is closed or stands free. [mm2]"""
    facts, ledger = design.facts, design.ledger
    wide, high = ledger["outside.width"], ledger["outside.height"]
    if facts.job.screen is None:
        return 0.0, "closed by the back panel"
    match facts.job.mounting.kind:
        case MountingKind.HUNG:
            free = ruled(design, "slot_free")
            return free.value * facts.habits.wall_fixing * (wide + high), f"{free.origin}, {100 * free.value:.0f} % of the slot at the wall"
        case MountingKind.RECESSED:
            recess = facts.job.mounting.recess
            play = min(recess.height - high, recess.width - wide) if recess else facts.habits.recess_play
            return max(play, 0.0) / 2 * (wide + high), "the slot between frame and recess"
        case _:
            return 0.0, "none given"
