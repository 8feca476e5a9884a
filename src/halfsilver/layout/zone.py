"""From a design to what stands before its picture, as numbers that one eye or a whole room of eyes can be traced through."""

from __future__ import annotations

from halfsilver.geometry.openings import SIDES, Aperture, Opening, Rectangle
from halfsilver.layout.constructions import SIGHT_EDGES
from halfsilver.layout.design import Design
from halfsilver.layout.seat import ACROSS
from halfsilver.layout.sight import Edge


def aperture_of(design: Design) -> Aperture | None:
    """The openings, sheets and picture of a design; None where there is no picture.

    The same edges, with the same readings and deviations at their middle, as the ledger's ``hidden.<side>`` are made of; counted from
    the middle of the outside.
    """
    edges_of = SIGHT_EDGES.get(design.facts.job.construction)
    if edges_of is None or "depth.picture" not in design.ledger:
        return None
    kinds = [design.facts.front_glass, *([design.facts.rear_glass] if design.facts.job.glass.rear else [])]
    values = design.ledger.values
    return Aperture(
        openings=tuple(_opening(design, edge) for edge in edges_of(design.facts)),
        picture_mm=picture_mm(design),
        depth_mm=values["depth.picture"],
        sheets=tuple((values[f"{which}.glass.thickness"], kind.index) for which, kind in zip(("front", "rear"), kinds, strict=False)),
    )


def picture_mm(design: Design) -> Rectangle:
    """Left, right, bottom and top of the picture, from the middle of the outside. [mm]"""
    return _from_insets(design, {side: _outline(design, side) + design.ledger[f"screen.border.{side}"] for side in SIDES})


def _outline(design: Design, side: str) -> float:
    return design.ledger[f"screen.offset.{side}.actual"]


def _opening(design: Design, edge: Edge) -> Opening:
    values = design.ledger.values
    reach = edge.reach.value(values)
    insets = {side: values[f"{edge.frame}.wall.{ACROSS[side]}"] + reach for side in SIDES}
    return Opening(
        label=edge.label, depth_mm=edge.depth.value(values), edges_mm=_from_insets(design, insets), sheets_before=edge.sheets_before
    )


def _from_insets(design: Design, insets: dict[str, float]) -> Rectangle:
    """Places of four edges that lie so far inside the outside's."""
    wide, high = design.ledger["outside.width"] / 2, design.ledger["outside.height"] / 2
    return insets["left"] - wide, wide - insets["right"], insets["bottom"] - high, high - insets["top"]
