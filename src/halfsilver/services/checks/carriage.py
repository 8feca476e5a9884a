"""Carriage: the crate from the piece and its padding, what is billed, marks, pallets, and how it is handled."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering import carriage as tariff
from halfsilver.engineering import packing
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.scope import has, made_parts
from halfsilver.model.finding import Finding
from halfsilver.model.job import MountingKind, Scope
from halfsilver.model.making import Trade
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Assembly, known, panes, rough, together
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import KG_PER_LB, MM_PER_INCH

PARCEL_MM, PARCEL_GIRTH_MM, PARCEL_KG = 108 * MM_PER_INCH, 165 * MM_PER_INCH, 150 * KG_PER_LB
CRATE_FROM_M2, CRATE_FROM_KG = 0.7, 20.0  # glass or mass from which a crate rather than a box; common practice
MARKS = "this way up on four sides, fragile, keep dry, do not stack, centre of gravity (ISO 780, from memory)"


def _sent(design: Design) -> tuple[Assembly, tuple[float, float, float]]:
    """What leaves the shop under the job's scope, and its size as it stands: width, height, depth. [mm]"""
    ledger, job = design.ledger, design.facts.job
    parts = made_parts(design)
    if job.scope is Scope.COMPLETE:
        parts = design.parts
    body = together("sent", parts)
    if job.scope is Scope.GLASS_ONLY:
        sheets = panes(design)
        size = (
            max(ledger[f"{which}.glass.width"] for which in sheets),
            max(ledger[f"{which}.glass.height"] for which in sheets),
            sum(ledger[f"{which}.glass.thickness"] for which in sheets),
        )
        return body, size
    fixed = ledger.values.get("wall.fixing", 0.0) if job.mounting.kind is MountingKind.HUNG else 0.0
    return body, (ledger["outside.width"], ledger["outside.height"], ledger["outside.depth"] - fixed)


def crate(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Crate inside and outside, mass, what a carrier bills, freight class, pallets and marks."""
    habits, job = design.facts.habits, design.facts.job
    body, (width, height, depth) = _sent(design)
    if body.mass_kg <= 0 or depth <= 0:
        return
    cushion = known(job.handling.cushion, habits.crate_cushion)
    box = packing.crate(
        width_mm=width, height_mm=height, depth_mm=depth, cushion_mm=cushion.value, wall_mm=habits.crate_wall,
        density_kg_m3=habits.crate_density,
    )  # fmt: skip
    gross = body.mass_kg + box.mass_kg
    W, H, D = box.outside_mm
    size = {"length_mm": W, "width_mm": D, "height_mm": H}
    girth = tariff.length_and_girth_mm(**size)
    parcel = W <= PARCEL_MM and H <= PARCEL_MM and girth <= PARCEL_GIRTH_MM and gross <= PARCEL_KG
    billed_lb = tariff.billable_weight(actual=gross / KG_PER_LB, dimensional=tariff.dimensional_weight_lb(**size))
    billed_kg = tariff.billable_weight(actual=gross, dimensional=tariff.dimensional_mass_kg(**size))
    base, under = ruled(design, "pallet_mass"), ruled(design, "pallet_height")
    density = tariff.freight_density_lb_ft3(mass_kg=gross + base.value, length_mm=W, width_mm=D, height_mm=H + under.value)
    freight = tariff.freight_class(density_lb_ft3=density)
    count = packing.pallet_count(width_mm=W, depth_mm=D, mass_kg=gross)
    mark = mark_of(packing.crate)
    sheets = [part for part in made_parts(design) if part.id.endswith("-glass")]
    glass = sum(part.size_mm[0] * part.size_mm[1] * part.quantity for part in sheets) * 1e-6
    box_words = "crate" if glass > CRATE_FROM_M2 or body.mass_kg > CRATE_FROM_KG else "crate, or a double-walled box,"
    apart = " Counted as if put together; cut parts travel flat beside the panes." if job.scope is Scope.KIT else ""
    glazed = has(design, Trade.GLASS)
    yield Check(
        working=Working(
            rule="carriage.crate",
            title="mass of the packed crate",
            given=(
                Given(name="what is sent", symbol="m", value=body.mass_kg, unit="kg"),
                cushion.given("foam on each side", "c", "mm"),
                Given(name="boards", symbol="w", value=habits.crate_wall, unit="mm", origin="workshop"),
                Given(name="mass per volume of the boards", symbol="r", value=habits.crate_density, unit="kg/m3", origin="workshop"),
                Given(name="outside", symbol="Vo", value=W * H * D * 1e-9, unit="m3"),
                Given(name="inside", symbol="Vi", value=_volume_m3(box.inside_mm), unit="m3"),
                Given(name="freight density", symbol="pcf", value=density, unit="lb/ft3"),
                Given(name="length and girth", symbol="S", value=girth, unit="mm"),
                base.given("pallet or runners", "mp", "kg"),
                under.given("their height", "hp", "mm"),
            ),
            formula=f"m + {packing.CLEATS:g} r (Vo - Vi)",
            result=gross,
            unit="kg",
            source=mark.source,
            limit_source=mark_of(tariff.freight_class).source,
            status=weakest(mark.status, mark_of(tariff.freight_class).status, base.status, under.status),
            assumptions=(f"cleats weigh {100 * (packing.CLEATS - 1):.0f} % of the boards", "divisors 139 in3/lb and 5000 cm3/kg"),
            confirms="carrier, by the tariff in force",
        ),
        advice=f"Upright {box_words} for {body.mass_kg:.0f} kg: {' x '.join(rough(design, show, side) for side in box.inside_mm)} inside "
        f"({show(cushion.value, 'mm')} of foam), {' x '.join(rough(design, show, side) for side in box.outside_mm)} outside, "
        f"{gross:.0f} kg ({gross / KG_PER_LB:.0f} lb) packed. By size it is billed as {billed_kg} kg or {billed_lb} lb; "
        f"{'it may still go as a parcel' if parcel else 'too large or heavy for a parcel'}; as freight {density:.1f} lb/ft3, class "
        f"{freight:g}"
        f"{', and glass may be classed higher' if glazed else ''}. "
        f"{f'{count} stand on a 48 x 40 in pallet' if count else 'It is longer than a 48 x 40 in pallet'}. "
        f"Marks: {MARKS}{', and GLASS in words' if glazed else ''}.{apart}",
        entries=("outside.width", "outside.height", "outside.depth") if has(design, Trade.FRAME) else ("front.glass.width",),
    )  # fmt: skip
    if sheets:
        yield _foam(design, show, body, width, depth)


def _volume_m3(sides_mm: tuple[float, float, float]) -> float:
    wide, high, deep = sides_mm
    return wide * high * deep * 1e-9


def _foam(design: Design, show: Show, body: Assembly, width: float, depth: float) -> Check:
    pressure = packing.foam_pressure_kpa(mass_kg=body.mass_kg, length_mm=width, depth_mm=depth)
    mark, limit = mark_of(packing.foam_pressure_kpa), packing.FOAM_KPA
    cure = (
        "" if pressure <= limit
        else f"; stand it on a board {rough(design, show, depth * pressure / limit)} deep, or on denser foam"
    )  # fmt: skip
    abroad = "ISPM 15 treated timber for a crate that goes abroad. " if design.facts.job.terms.deliver_to else ""
    return Check(
        working=Working(
            rule="carriage.foam",
            title="pressure on the foam under the piece",
            given=(
                Given(name="mass", symbol="m", value=body.mass_kg, unit="kg"),
                Given(name="edge on the foam", symbol="l", value=width, unit="mm", origin="ledger"),
                Given(name="its depth", symbol="d", value=depth, unit="mm", origin="ledger"),
            ),
            formula="m g/(l d) <= 7 kPa",
            result=pressure,
            limit=limit,
            unit="kPa",
            source=mark.source,
            limit_source=PRACTICE,
            status=weakest(mark.status, "practice"),
            assumptions=("it stands on the whole of its lower edge",),
            confirms="packer",
        ),
        advice=f"Stood on edge it presses {pressure:.1f} kPa on its foam, which bears {limit:.0f} kPa{cure}. It travels and waits "
        "upright, never "
        f"flat and never on a corner; corners in protectors, film on the faces, nothing resting on screen or glass. {abroad}Gloves, eye "
        "protection and shoes for whoever handles glass; a trolley and two people at least.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (crate,)
