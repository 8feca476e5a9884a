"""Screws, pins, hangers and feet: how many of which, each by a stated rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from halfsilver.engineering.fasteners import least_penetration_mm
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import shower
from halfsilver.making.scope import has, made_parts
from halfsilver.model.job import CarriedBy, MountingKind
from halfsilver.model.making import Trade
from halfsilver.model.workshop import Hardware, HardwareUse

PIN_END_MM = 25.4
PIN_SPACING_MM = 330.2  # gives the usual five and four pins on a piece a metre and a half wide
SCREWS = {"plate": 4, "bar": 4}
TIE_END_MM = 127.0  # clear of mitre, corner plate and cable way
TIE_SPACING_MM = 254.0
PANEL_SPACING_MM = 200.0
RAIL_FROM_KG = 10.0
HANGERS = 2
FEET = 2
HANGER_SPACING_MM = 100.0
PLAIN_SCREW_MM = 20.0
ENOUGH_MM = 25.4  # what holds thin metal or board to timber need not be longer: common practice
PLACES = ("plate", "bar", "panel")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """So many of one kind in one place; ``id`` is empty where the catalogue has none that fits, and the name says what to order."""

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


def ties_of(length_mm: float) -> int:
    """Screws that tie two frames along one outer side: 5 in from either corner and at most 10 in apart, two at least. Common practice.

    Examples
    --------
    >>> ties_of(1470.0), ties_of(892.2)
    (6, 4)
    """
    return 1 + max(1, ceil((length_mm - 2 * TIE_END_MM) / TIE_SPACING_MM - 1e-9))


def fasteners(design: Design) -> tuple[Fastener, ...]:
    """Fasteners of one piece, by scope."""
    return tuple(one for one in (*_pins(design), *_ties(design), *_screws(design), *_hangers(design), *_feet(design)) if one.count)


def _pins(design: Design) -> Iterator[Fastener]:
    if not (has(design, Trade.BATTENS) and has(design, Trade.GLASS)):
        return
    count = sum(part.quantity * pins_of(part.size_mm[0]) for part in made_parts(design) if part.id.startswith("batten"))
    if not count:
        return
    longest = design.ledger["screw.max.pin"]
    usual = design.facts.workshop.hardware.get(design.facts.habits.pin)
    pin = usual if usual and usual.length <= longest else _longest(design, HardwareUse.PIN, longest)
    told = _ordered(design, "pins", longest)
    yield _fastener(pin, "pins through the battens", count, _spread(design, "end of a batten", PIN_END_MM, PIN_SPACING_MM), told)


def _ties(design: Design) -> Iterator[Fastener]:
    """Screws from the back through the rear frame into the front one; they bite at least as deep as counts."""
    if "screw.max.tie" not in design.ledger or not (has(design, Trade.FRAME) and has(design, Trade.GLASS)):
        return
    ledger = design.ledger
    room, through = ledger["screw.max.tie"], ledger["screw.through.tie"]
    known = (item for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.SCREW and item.length <= room)
    deep = (item for item in known if item.length >= min(through + least_penetration_mm(diameter_mm=item.diameter), room))
    count = 2 * sum(ties_of(ledger[f"outside.{d}"]) for d in ("width", "height"))
    told = _ordered(design, "screws", room)
    rule = _spread(design, "corner", TIE_END_MM, TIE_SPACING_MM)
    yield _fastener(max(deep, key=_length, default=None), "screws from the rear frame into the front one", count, rule, told)


def _shown(design: Design, length_mm: float) -> str:
    """A length in the job's units."""
    return shower(units=design.facts.job.units.value, fraction=design.facts.job.fraction)(length_mm, "mm")


def _spread(design: Design, end: str, end_mm: float, spacing_mm: float) -> str:
    return f"{_shown(design, end_mm)} from each {end} and at most {_shown(design, spacing_mm)} apart"


def screws_in(design: Design, place: str) -> int:
    """Screws in one plate or bar: what the catalogue says of it, or the usual number."""
    item = design.facts.plate if place == "plate" else design.facts.bar
    return item.screws or SCREWS[place]


def _screws(design: Design) -> Iterator[Fastener]:
    for place in SCREWS:
        each = screws_in(design, place)
        parts = [part for part in made_parts(design) if part.id == place or part.id.startswith(f"{place}-")]
        if not parts:
            continue
        count = each * sum(part.quantity for part in parts)
        yield _holding(design, place, f"screws through the {place}s", count, f"{each} in each {place}")
    for panel in (part for part in made_parts(design) if part.id == "back-panel"):
        sides = [max(2, ceil(side / PANEL_SPACING_MM)) for side in panel.size_mm[:2]]
        rule = f"at most {_shown(design, PANEL_SPACING_MM)} apart all round"
        yield _holding(design, "panel", "screws round the back panel", 2 * sum(sides), rule)


def _holding(design: Design, place: str, where: str, count: int, rule: str) -> Fastener:
    """Screws that hold metal or board: the longest that neither comes through nor is longer than need be."""
    most = min(_most(design, place), ENOUGH_MM)
    return _fastener(_longest(design, HardwareUse.SCREW, most), where, count, rule, _ordered(design, "screws", most))


def _hangers(design: Design) -> Iterator[Fastener]:
    mounting = design.facts.job.mounting
    if mounting.kind is not MountingKind.HUNG or mounting.carried_by is not CarriedBy.FRAME or not has(design, Trade.RETAINERS):
        return
    known = sorted((item for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.HANGER), key=_length)
    heavy = design.mass_kg >= RAIL_FROM_KG
    hanger = (known[-1] if heavy else known[0]) if known else None
    rule = f"two; the longest kind from {RAIL_FROM_KG:g} kg on"
    yield _fastener(hanger, "hangers", HANGERS, rule, "hangers to be ordered")
    if hanger is None:
        return
    each = hanger.screws or 1 + max(1, ceil(hanger.length / HANGER_SPACING_MM))
    most = hanger.thickness + _timber(design) - design.facts.habits.screw_cover
    screw = _stoutest(design, most)
    spread = "" if hanger.screws else f", at most {_shown(design, HANGER_SPACING_MM)} apart"
    rule = f"{each} in each{spread}, as stout and as long as the timber allows"
    yield _fastener(screw, "screws through the hangers", HANGERS * each, rule, _ordered(design, "screws", most))


def _feet(design: Design) -> Iterator[Fastener]:
    """Two feet, as long as the piece is deep with what they reach out, and what keeps it from tipping."""
    job = design.facts.job
    if job.mounting.kind is not MountingKind.STANDING or not has(design, Trade.RETAINERS):
        return
    hardware, base = design.facts.workshop.hardware.values(), job.mounting.base
    needed = design.ledger["outside.depth"] + (base.front + base.back if base else 0.0)
    long = [item for item in hardware if item.use is HardwareUse.FOOT and item.length >= needed - 1e-6]
    words = _shown(design, needed)
    foot = min(long, key=_length, default=None)
    yield _fastener(foot, "feet", FEET, f"two, the shortest of {words} at least", f"feet of {words} at least, to be ordered")
    strap = next((item for item in hardware if item.use is HardwareUse.RESTRAINT), None)
    yield _fastener(strap, "restraint against tipping", 1, "one near the top, fastened to the building", "strap or bracket to be ordered")


def _timber(design: Design) -> float:
    """Timber behind a hanger: the seat's frame, and of a frame glued to it what stands beside its rebate at least. [mm]"""
    values = design.ledger.values
    own = min((values[name] for name in (f"screw.timber.{place}" for place in PLACES) if name in values), default=PLAIN_SCREW_MM)
    return own + (values["front.moulding.rebate_depth"] if "rear.moulding.body" in values else 0.0)


def _most(design: Design, place: str) -> float:
    """Longest screw in a place, where the ledger limits it. [mm]"""
    return design.ledger.values.get(f"screw.max.{place}", PLAIN_SCREW_MM)


def _longest(design: Design, use: HardwareUse, most_mm: float) -> Hardware | None:
    fitting = (item for item in design.facts.workshop.hardware.values() if item.use is use and 0 < item.length <= most_mm)
    return max(fitting, key=_length, default=None)


def _stoutest(design: Design, most_mm: float) -> Hardware | None:
    """The thickest screw, and of those the longest that does not come through."""
    screws = (item for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.SCREW and 0 < item.length <= most_mm)
    return max(screws, key=lambda item: (item.diameter, *_length(item)), default=None)


def _length(item: Hardware) -> tuple[float, str]:
    return item.length, item.id


def _ordered(design: Design, what: str, most_mm: float) -> str:
    """What to order where the catalogue has none that fits."""
    job = design.facts.job
    return f"{what} to be ordered, at most {shower(units=job.units.value, fraction=job.fraction)(most_mm, 'mm')} long"


def _fastener(item: Hardware | None, place: str, count: int, rule: str, otherwise: str) -> Fastener:
    return Fastener(id=item.id if item else "", name=item.name if item else otherwise, place=place, count=count, rule=rule)
