"""What is bought by the piece, at the price of its row in the stock."""

from __future__ import annotations

from decimal import Decimal
from typing import TypeAlias

from halfsilver.costing.price import line
from halfsilver.layout.design import Design
from halfsilver.model.bill import BillLine, LineKind
from halfsilver.model.workshop import StockForm, StockSize

Found: TypeAlias = BillLine | str


def bought(design: Design, item: str, words: str, count: int) -> Found:
    """A line for so many of one thing; as text where it has no price."""
    row = row_of(design, item)
    if row is None:
        return f"{words}: there is no price in the stock"
    return line(words, LineKind.HARDWARE, quantity=Decimal(count), unit="each", each=Decimal(row.price))


def row_of(design: Design, item: str) -> StockSize | None:
    """The cheapest fresh row of a thing that is not a sheet."""
    rows = sorted(
        (row for row in design.facts.workshop.stock.values() if row.of == item and not row.offcut and row.form is not StockForm.SHEET),
        key=lambda row: (Decimal(row.price), row.id),
    )
    return rows[0] if rows else None
