"""Material: whole sticks, sheets and rolls that the cut plan opens, less what is kept; and panes bought to size by area and edge.

The rule for waste: the job bears every stock piece it opens. A leftover that is long (or large and broad) enough goes back into the rack
and is taken off at a stated share of what as much of that stock piece cost. Everything else is waste and stays with the job.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import ROUND_CEILING, Decimal
from typing import Any, cast

from halfsilver.costing.price import line
from halfsilver.costing.rules import round_money
from halfsilver.ledger.shown import Show
from halfsilver.making.stock import rows_of
from halfsilver.model.bill import BillLine, LineKind
from halfsilver.model.making import CutGroup, CutPlan, GlassOrder
from halfsilver.model.workshop import Prices, StockForm, StockSize, Workshop

MM2_PER_M2 = 1_000_000.0
THOUSANDTH = Decimal("0.001")
WORDS = {StockForm.STICK: "stick", StockForm.SHEET: "sheet", StockForm.ROLL: "roll", StockForm.EACH: "each"}


def decimal(number: float, *, places: int = 3) -> Decimal:
    """A measured number as a decimal of so many places, never less than it is."""
    step = Decimal(1).scaleb(-places)
    return Decimal(repr(round(number, 9))).quantize(step, rounding=ROUND_CEILING)


def material_lines(plan: CutPlan, workshop: Workshop, *, show: Show) -> Iterator[BillLine]:
    """What is bought for a cut plan, less what is kept of it.

    Parameters
    ----------
    plan : CutPlan
        The plan.
    workshop : Workshop
        Its stock and prices.
    show : callable
        Writes lengths in the job's units.
    """
    for group in plan.groups:
        used = Counter(group.stock_to_row[opened["stock"]] for opened in _opened(group))
        for row_id, count in sorted(used.items()):
            row = workshop.stock[row_id]
            yield line(
                f"{group.name}, {size_words(row, show)}{' from the rack' if row.offcut else ''}",
                LineKind.MATERIAL, quantity=Decimal(count), unit=WORDS[row.form], each=Decimal(row.price),
            )  # fmt: skip
        yield from _kept_lines(group, workshop, show)


def size_words(row: StockSize, show: Show) -> str:
    """The size of a stock piece in words."""
    if row.form is StockForm.SHEET:
        return f"{show(row.width, 'mm')} × {show(row.height, 'mm')}"
    return show(row.length, "mm")


def _kept_lines(group: CutGroup, workshop: Workshop, show: Show) -> Iterator[BillLine]:
    kept: Counter[tuple[str, Decimal]] = Counter()
    for opened in _opened(group):
        row = workshop.stock[group.stock_to_row[opened["stock"]]]
        for words, share in leftovers(group, opened, row, workshop.prices, show):
            worth = round_money(Decimal(row.price) * decimal(share, places=6) * Decimal(repr(workshop.prices.keep_share)))
            kept[f"{group.name}, {words} back into the rack", worth] += 1
    for (words, worth), count in sorted(kept.items()):
        if worth:
            yield line(words, LineKind.MATERIAL, quantity=Decimal(count), unit="leftover", each=-worth)


def leftovers(
    group: CutGroup, opened: Mapping[str, Any], row: StockSize, prices: Prices, show: Show
) -> Iterator[tuple[str, float]]:  # fmt: skip
    """What is kept of one opened stock piece: its size in words, and its share of the whole piece."""
    if row.form is StockForm.SHEET:
        for node in _waste(opened["tree"]):
            wide, high = node["w"] * group.unit_mm, node["h"] * group.unit_mm
            if min(wide, high) >= prices.keep_length and wide * high >= prices.keep_area * MM2_PER_M2:
                yield f"{show(wide, 'mm')} × {show(high, 'mm')}", wide * high / (row.width * row.height)
        return
    rest = _rest_mm(group, opened)
    if rest >= prices.keep_length:
        yield show(rest, "mm"), rest / row.length


def _opened(group: CutGroup) -> list[dict[str, Any]]:
    return cast("list[dict[str, Any]]", group.solution.get("bars") or group.solution.get("sheets") or [])


def _waste(node: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    if node.get("waste"):
        yield node
    for child in node.get("children", ()):
        yield from _waste(child)


def _rest_mm(group: CutGroup, opened: Mapping[str, Any]) -> float:
    """What is left of a bar behind its last cut; its far end is not trimmed. [mm]"""
    bars = {bar["id"]: bar for bar in cast("list[dict[str, Any]]", group.instance["stock"])}
    mitre = cast("dict[str, int]", group.instance.get("mitre", {}))
    kerf = max(cast("int", group.instance["kerf"]), mitre.get("kerf", 0))
    end = max((cut["end"] for cut in opened["cuts"]), default=0)
    return max(0.0, float(bars[opened["stock"]]["length"] - end - kerf) * group.unit_mm)


def order_lines(plan: CutPlan, workshop: Workshop, *, show: Show) -> Iterator[BillLine | str]:
    """Panes bought to size: area at the price of a m2, and edges by the metre; as text what has no price."""
    for order in plan.orders:
        name = workshop.glass[order.glass].name
        row = next((row for row in rows_of(workshop, order.glass, StockForm.SHEET) if not row.offcut), None)
        if row is None:
            yield f"{name}, {order.part}: there is no price in the stock"
            continue
        per_m2 = round_money(Decimal(row.price) * Decimal(repr(MM2_PER_M2)) / Decimal(repr(row.width * row.height)))
        words = f"{name}, {show(order.width_mm, 'mm')} × {show(order.height_mm, 'mm')}, bought to size"
        yield line(words, LineKind.MATERIAL, quantity=_area(order, workshop.prices), unit="m2", each=per_m2)
        if Decimal(workshop.prices.glass_edge):
            metres = decimal(order.quantity * 2 * (order.width_mm + order.height_mm) / 1000)
            yield line(
                f"edges {order.edge}, {order.part}", LineKind.MATERIAL, quantity=metres, unit="m", each=Decimal(workshop.prices.glass_edge)
            )


def _area(order: GlassOrder, prices: Prices) -> Decimal:
    """Billed area of all panes of an order: each at least the least area. [m2]"""
    one = decimal(max(order.width_mm * order.height_mm / MM2_PER_M2, prices.glass_least))
    return (one * order.quantity).quantize(THOUSANDTH)
