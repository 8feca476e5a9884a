"""Screws, pins and hangers: how many of which, each by a stated rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from halfsilver.layout.design import Design
from halfsilver.making.scope import has, made_parts
from halfsilver.model.job import CarriedBy, MountingKind
from halfsilver.model.making import Trade
from halfsilver.model.workshop import Hardware, HardwareUse

PIN_END_MM = 25.4
PIN_SPACING_MM = 330.2  # gives the usual five and four pins on a piece a metre and a half wide
SCREWS = {"plate": 4, "bar": 4}
PANEL_SPACING_MM = 200.0
RAIL_FROM_KG = 10.0
HANGERS = 2
PLAIN_SCREW_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """So many of one kind in one place; ``id`` is empty where the catalogue has none that fits."""

    id: str
    name: str
    place: str
    count: int
    rule: str


def pins_of(length_mm: float) -> int:
    """Pins along one batten: 1 in from either end and at most 13 in apart. Common practice.

    Examples
    --------
    >>> pins_of(1355.7), pins_of(739.8)
    (5, 4)
    """
    return 1 + max(1, ceil((length_mm - 2 * PIN_END_MM) / PIN_SPACING_MM - 1e-9))


def fasteners(design: Design) -> tuple[Fastener, ...]:
    """Fasteners of one piece, by scope."""
    return tuple(one for one in (*_pins(design), *_screws(design), *_hangers(design)) if one.count)


def _pins(design: Design) -> Iterator[Fastener]:
    if not (has(design, Trade.BATTENS) and has(design, Trade.GLASS)):
        return
    count = sum(part.quantity * pins_of(part.size_mm[0]) for part in made_parts(design) if part.id.startswith("batten"))
    longest = design.ledger["screw.max.pin"] if "screw.max.pin" in design.ledger else float("inf")
    usual = design.facts.workshop.hardware.get(design.facts.habits.pin)
    pin = usual if usual and usual.length <= longest else _longest(design, HardwareUse.PIN, longest)
    yield _fastener(pin, "pins through the battens", count, "1 in from each end of a batten and at most 13 in apart")


def _screws(design: Design) -> Iterator[Fastener]:
    for place, each in SCREWS.items():
        parts = [part for part in made_parts(design) if part.id == place or part.id.startswith(f"{place}-")]
        if not parts:
            continue
        screw = _longest(design, HardwareUse.SCREW, _most(design, place))
        count = each * sum(part.quantity for part in parts)
        yield _fastener(screw, f"screws through the {place}s", count, f"{each} in each {place}")
    for panel in (part for part in made_parts(design) if part.id == "back-panel"):
        sides = [max(2, ceil(side / PANEL_SPACING_MM)) for side in panel.size_mm[:2]]
        screw = _longest(design, HardwareUse.SCREW, _most(design, "panel"))
        yield _fastener(screw, "screws round the back panel", 2 * sum(sides), f"at most {PANEL_SPACING_MM:g} mm apart all round")


def _hangers(design: Design) -> Iterator[Fastener]:
    mounting = design.facts.job.mounting
    if mounting.kind is not MountingKind.HUNG or mounting.carried_by is not CarriedBy.FRAME or not has(design, Trade.RETAINERS):
        return
    known = sorted((item for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.HANGER), key=_length)
    heavy = design.mass_kg >= RAIL_FROM_KG
    hanger = (known[-1] if heavy else known[0]) if known else None
    yield _fastener(hanger, "hangers", HANGERS, f"two; the longest kind from {RAIL_FROM_KG:g} kg on")


def _most(design: Design, place: str) -> float:
    """Longest screw in a place, where the ledger limits it. [mm]"""
    return design.ledger.values.get(f"screw.max.{place}", PLAIN_SCREW_MM)


def _longest(design: Design, use: HardwareUse, most_mm: float) -> Hardware | None:
    fitting = (item for item in design.facts.workshop.hardware.values() if item.use is use and 0 < item.length <= most_mm)
    return max(fitting, key=_length, default=None)


def _length(item: Hardware) -> tuple[float, str]:
    return item.length, item.id


def _fastener(item: Hardware | None, place: str, count: int, rule: str) -> Fastener:
    return Fastener(id=item.id if item else "", name=item.name if item else "none that fits", place=place, count=count, rule=rule)
