"""What is bought and what lies in the rack, as the stock of a cutting task.

Costs are whole cents. A leftover is cut already: only the saw's own kerf is lost at its ends and nothing at its edges. Without a price
it is planned at `LEFTOVER_SHARE` of what as much of fresh stock costs: at nothing, a large one would be burnt for small pieces.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from halfsilver.making.cutting.instance import Bar, Sheet, Trim
from halfsilver.making.grid import stock_units
from halfsilver.model.workshop import StockForm, StockSize, Workshop

LEFTOVER_SHARE = Fraction(3, 10)


def rows_of(workshop: Workshop, material: str, form: StockForm) -> tuple[StockSize, ...]:
    """Stock rows of a material in one form, fresh ones first, by size."""
    rows = (row for row in workshop.stock.values() if row.of == material and row.form is form)
    return tuple(sorted(rows, key=lambda row: (row.offcut, row.length, row.width * row.height, row.id)))


def is_plain(workshop: Workshop, row: StockSize) -> bool:
    """Whether a stock row is plain timber or board: of nothing that a catalogue describes."""
    return not any(row.of in known for known in (workshop.glass, workshop.mouldings, workshop.lights, workshop.supplies, workshop.hardware))


def plain_rows(workshop: Workshop, form: StockForm) -> tuple[StockSize, ...]:
    """Every row of plain timber (sticks) or board (sheets)."""
    return tuple(row for row in workshop.stock.values() if row.form is form and is_plain(workshop, row))


def plain_name(workshop: Workshop, material: str, otherwise: str) -> str:
    """The name of plain timber or board as the stock tells it, else other words with its id."""
    named = (row.name for row in workshop.stock.values() if row.of == material and row.name)
    return next(named, f"{otherwise} {material}")


def cents(price: str) -> int:
    """A price in whole cents, halves up.

    Examples
    --------
    >>> cents("49.60")
    4960
    """
    return int((Decimal(price) * 100).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def planned_cents(row: StockSize, rows: Iterable[StockSize]) -> int:
    """What a stock piece counts in the plan. [cents]"""
    asked = cents(row.price)
    if asked or not row.offcut:
        return asked
    fresh = [other for other in rows if not other.offcut and cents(other.price)]
    if not fresh:
        return 1
    rate = min(Fraction(cents(other.price)) / _amount(other) for other in fresh)
    return max(1, round(LEFTOVER_SHARE * rate * _amount(row)))


def _amount(row: StockSize) -> Fraction:
    """Length [mm] or area [mm2]."""
    return Fraction(row.length) if row.form is not StockForm.SHEET else Fraction(row.width) * Fraction(row.height)


def bars(rows: tuple[StockSize, ...], *, trim_mm: float, cut_units: int) -> Iterator[Bar]:
    """Sticks or rolls as bars.

    Parameters
    ----------
    rows : tuple of StockSize
        What there is.
    trim_mm : float
        Lost at each end of a fresh one. [mm]
    cut_units : int
        What one cut takes along the bar: lost at each end of a leftover. [1/8000 mm]
    """
    for row in rows:
        trim = cut_units if row.offcut else stock_units(trim_mm)
        yield Bar(
            id=row.id, length=stock_units(row.length), qty=_count(row), cost=planned_cents(row, rows), offcut=row.offcut,
            trim=Trim(left=trim, right=trim),
        )  # fmt: skip


def sheets(rows: tuple[StockSize, ...], *, trim_mm: float) -> Iterator[Sheet]:
    """Sheets; ``trim_mm`` is lost at each edge of a fresh one. [mm]"""
    for row in rows:
        edge = 0 if row.offcut else stock_units(trim_mm)
        yield Sheet(
            id=row.id, width=stock_units(row.width), height=stock_units(row.height), qty=_count(row), cost=planned_cents(row, rows),
            offcut=row.offcut, trim=Trim(left=edge, right=edge, bottom=edge, top=edge),
        )  # fmt: skip


def _count(row: StockSize) -> int | None:
    """How many there are; a leftover without a number is one."""
    return row.quantity or (1 if row.offcut else None)
