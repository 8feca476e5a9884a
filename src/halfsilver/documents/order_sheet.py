"""The order for panes that are bought to size: what to ask for, and what has to be measured before it is sent."""

from __future__ import annotations

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.pane_sheets import face_words
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.model.making import CutPlan, GlassOrder

PLACES = (("width", ("top", "middle", "bottom")), ("height", ("left", "middle", "right")))


def order_rows(sizes: Sizes, plan: CutPlan) -> list[Row]:
    """One card per pane that is bought to size."""
    return [_card(sizes, order) for order in plan.orders]


def _card(sizes: Sizes, order: GlassOrder) -> Row:
    glass = sizes.design.facts.workshop.glass.get(order.glass)
    names = {part.id: sentence(printable(part.name)) for part in sizes.design.parts}
    face = face_words(order.coated_side, no_screen="screen.outline.width" not in sizes)
    size = f"{sizes.show(order.width_mm, 'mm')} × {sizes.show(order.height_mm, 'mm')}"
    return {
        "head": names.get(order.part, sentence(printable(order.part))),
        "size": size,
        "measured": order.measured,
        "facts": [
            {"label": "Glass", "value": f"{printable(glass.name)} ({printable(order.glass)})" if glass else printable(order.glass)},
            {"label": "Quantity", "value": str(order.quantity)},
            {"label": "Width × height", "value": size},
            {"label": "Thickness", "value": thickness_text(sizes, order.thickness_mm)},
            {"label": "Edges", "value": printable(order.edge)},
            {"label": "Impact class", "value": printable(order.impact) or "none asked: the authority may ask for one"},
            {"label": "Coated face", "value": face.removeprefix("coated face ")},
            {"label": "Lead time", "value": f"{order.lead_days} days" if order.lead_days else "from stock"},
        ],
        "readings": _readings(sizes, order.part.partition("-")[0]),
        "clearance": _clearance(sizes),
    }


def thickness_text(sizes: Sizes, thickness_mm: float) -> str:
    """A pane's thickness: glass is sold by the millimetre, whatever the job's units."""
    shown = sizes.show(thickness_mm, "mm")
    own = f"{thickness_mm:g} mm"
    return own if shown == own else f"{own} (about {shown})"


def _readings(sizes: Sizes, which: str) -> list[Row]:
    """The opening's readings in both directions, with boxes for those not taken."""
    rows: list[Row] = []
    for direction, places in PLACES:
        name = f"{which}.rebate.{direction}"
        if name not in sizes:
            continue
        read = [(place, sizes.design.ledger.reading_at(name, place)) for place in places]
        boxes = [{"place": place, "value": "" if value is None else sizes.show(value, "mm")} for place, value in read]
        rows.append({"label": f"{which.capitalize()} opening, {direction}", "planned": sizes.text(name), "boxes": boxes})
    return rows


def _clearance(sizes: Sizes) -> str:
    if "fit.glass" not in sizes:
        return ""
    return f"The pane is smaller than the least reading of its opening by {sizes.text('fit.glass')}, both sides together."
