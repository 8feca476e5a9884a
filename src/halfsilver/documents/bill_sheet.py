"""The shop's view of the bill: every line by kind, and how cost becomes price."""

from __future__ import annotations

from decimal import Decimal

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.words import printable, sentence
from halfsilver.model.bill import Bill, BillLine, LineKind
from halfsilver.units.money import Money, write_money

HEADS = {
    LineKind.MATERIAL: "Material",
    LineKind.HARDWARE: "Hardware",
    LineKind.LABOUR: "Labour",
    LineKind.PACKING: "Packing",
    LineKind.OVERHEAD: "Overhead",
    LineKind.CARRIAGE: "Carriage",
}


UNITS = {"m2": "m²"}


def amount(value: Decimal) -> str:
    """An amount to the cent, a thin space between thousands.

    Examples
    --------
    >>> amount(Decimal("12345.5")).split(), amount(Decimal("-3"))
    (['12', '345.50'], '-3.00')
    """
    number = write_money(Money(value, "XXX")).removesuffix(" XXX")
    whole, _, cents = number.partition(".")
    return f"{int(whole.lstrip('-')):,}".replace(",", "\u2009").join(("-" if number.startswith("-") else "", f".{cents}"))


def share(value: Decimal) -> str:
    """A share in percent.

    Examples
    --------
    >>> share(Decimal("0.35")), share(Decimal("0.0825"))
    ('35 %', '8.25 %')
    """
    return f"{(value * 100).normalize():f} %"


def bill_rows(bill: Bill) -> Row:
    """What the template prints of a bill."""
    return {
        "lead": f"Pieces: {bill.pieces}; amounts in {printable(bill.currency)}. Not for the client.",
        "groups": [
            {"head": head, "rows": rows, "total": amount(bill.of(kind))}
            for kind, head in HEADS.items()
            if (rows := [_line(line) for line in bill.lines if line.kind is kind])
        ],
        "sums": [
            {"label": "Cost", "value": amount(bill.cost), "strong": False},
            {"label": f"Margin, {share(bill.margin_share)} of the price", "value": amount(bill.margin), "strong": False},
            {"label": "Price", "value": amount(bill.price), "strong": True},
            {"label": f"Tax, {share(bill.tax_share)} of {amount(bill.taxable)}", "value": amount(bill.tax), "strong": False},
            {"label": "Total", "value": amount(bill.total), "strong": True},
            {"label": "Due with the order", "value": amount(bill.deposit), "strong": False},
            {"label": "Due before shipping", "value": amount(bill.balance), "strong": False},
        ],
        "valid": f"The offer stands for {bill.valid_days} days." if bill.valid_days else "",
        "missing": [printable(what) for what in bill.missing],
        "notes": [printable(note) for note in bill.notes],
    }


def _line(line: BillLine) -> dict[str, str]:
    return {
        "what": sentence(printable(line.what)),
        "quantity": _quantity(line),
        "each": f"{line.each.normalize():f}" if line.unit == "share" else amount(line.each),
        "total": amount(line.total),
    }


def _quantity(line: BillLine) -> str:
    if not line.quantity:
        return "0"
    if line.unit == "share":
        return f"{share(line.quantity)} of"
    return f"{line.quantity.normalize():f} {UNITS.get(line.unit, printable(line.unit))}".strip()
