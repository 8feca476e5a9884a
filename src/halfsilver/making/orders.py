"""Panes bought to size: ordered after measuring, never cut here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from halfsilver.layout.design import Design
from halfsilver.making.scope import made_parts, trade_of
from halfsilver.model.design import Part
from halfsilver.model.job import CoatedSide
from halfsilver.model.making import GlassOrder, Trade
from halfsilver.model.workshop import GlassMake

EDGES: Mapping[GlassMake, str] = {
    # Common practice: a pane is arrissed before it is toughened; the sharp edges of other panes are seamed for handling.
    GlassMake.TOUGHENED: "arrissed",
    GlassMake.LAMINATED: "seamed",
    GlassMake.FILMED: "seamed",
    GlassMake.FLOAT: "seamed",
    GlassMake.ACRYLIC: "scraped",
}


def which_pane(part: Part) -> str:
    """``front`` or ``rear``."""
    return part.id.partition("-")[0]


def coated_side(design: Design, which: str) -> CoatedSide:
    """Which way a pane's coating looks: as asked, else as the layout lays it."""
    return design.facts.coated_side(which)


def glass_orders(design: Design) -> Iterator[GlassOrder]:
    """Every pane in scope that the shop cannot cut: toughened, laminated or filmed."""
    ledger, glass = design.ledger, design.facts.workshop.glass
    for part in made_parts(design):
        if trade_of(part) is not Trade.GLASS or glass[part.material].cut_here:
            continue
        which, kind = which_pane(part), glass[part.material]
        yield GlassOrder(
            part=part.id,
            glass=kind.id,
            width_mm=part.size_mm[0],
            height_mm=part.size_mm[1],
            thickness_mm=kind.thickness,
            quantity=part.quantity * design.facts.job.quantity,
            edge=EDGES[kind.make],
            impact=kind.impact,
            coated_side=coated_side(design, which).value,
            lead_days=kind.lead_days,
            measured=all(ledger.is_measured(f"{which}.rebate.{d}") for d in ("width", "height")),
        )
