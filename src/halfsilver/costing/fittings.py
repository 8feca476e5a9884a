"""Hardware by scope: plates, fasteners, pads, hangers and what feeds the lights; and what a piece uses up in glue and paint."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from halfsilver.costing.buying import Found, bought, row_of
from halfsilver.costing.price import line
from halfsilver.costing.rules import whole_units
from halfsilver.costing.wires import wiring_lines
from halfsilver.layout.design import Design
from halfsilver.making.fasteners import fasteners
from halfsilver.making.scope import has, made_parts
from halfsilver.model.bill import BillLine, LineKind
from halfsilver.model.making import Trade
from halfsilver.model.workshop import HardwareUse


def hardware_lines(design: Design) -> Iterator[Found]:
    """Every piece of hardware of the job; as text what has no price or does not exist."""
    quantity = design.facts.job.quantity
    for part in made_parts(design):
        if part.id == "plate":
            yield bought(design, part.material, part.name, part.quantity * quantity)
    for fastener in fasteners(design):
        if not fastener.id:
            yield f"{fastener.place}: the catalogue has none that fits; {fastener.count} {fastener.name}"
            continue
        yield bought(design, fastener.id, f"{fastener.name}, {fastener.place}", fastener.count * quantity)
    yield from _pads(design)
    yield from wiring_lines(design)


def _pads(design: Design) -> Iterator[Found]:
    """Foam on the bars, round the pane that the screen must not touch, and on the packing behind a mirror; whole rolls."""
    made = made_parts(design)
    runs = {
        "between bars and screen": sum(part.size_mm[0] * part.quantity for part in made if part.id.startswith("bar-")),
        "between pane and screen": _spacer_mm(design),
        "between mirror and packing": sum(part.size_mm[0] * part.quantity for part in made if part.id.startswith("packing-")),
    }
    length = sum(runs.values())
    pad = next((item for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.PAD), None)
    if not length or pad is None:
        return
    row = row_of(design, pad.id)
    if row is None or not row.length:
        yield f"{pad.name}: there is no price in the stock"
        return
    rolls = whole_units(quantity=length * design.facts.job.quantity, unit=row.length)
    places = " and ".join(place for place, run in runs.items() if run)
    yield line(f"{pad.name}, {places}", LineKind.HARDWARE, quantity=Decimal(rolls), unit="roll", each=Decimal(row.price))


def _spacer_mm(design: Design) -> float:
    """Length of the spacer all round the edge of the pane before the screen, where setting the screen is in the scope. [mm]"""
    if design.facts.job.screen is None or not has(design, Trade.SCREEN):
        return 0.0
    which = "rear" if "rear.glass.width" in design.ledger else "front"
    return 2 * (design.ledger[f"{which}.glass.width"] + design.ledger[f"{which}.glass.height"])


def sundry_lines(design: Design) -> Iterator[BillLine]:
    """Glue, paint, tape and cloths where there is timber in the scope; packing by piece and by face."""
    prices, quantity = design.facts.workshop.prices, Decimal(design.facts.job.quantity)
    if has(design, Trade.FRAME) and Decimal(prices.sundries):
        yield line("glue, paint, abrasives and cloths", LineKind.MATERIAL, quantity=quantity, unit="piece", each=Decimal(prices.sundries))


def packing_lines(design: Design) -> Iterator[BillLine]:
    """A crate by piece, and by area of its face."""
    prices, quantity, ledger = design.facts.workshop.prices, design.facts.job.quantity, design.ledger
    yield line("packing", LineKind.PACKING, quantity=Decimal(quantity), unit="piece", each=Decimal(prices.packing))
    what = "outside" if has(design, Trade.FRAME) else "front.glass"
    face = ledger[f"{what}.width"] * ledger[f"{what}.height"] * 1e-6
    area = Decimal(repr(round(face * quantity, 3)))
    yield line("packing by area of the face", LineKind.PACKING, quantity=area, unit="m2", each=Decimal(prices.packing_area))
