"""From lines to a price.

Rounding, in this order and nowhere else: each line to cents when it is made; the price once; the tax once. Cost and total are sums.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from halfsilver.costing.rules import price_from_margin, round_money
from halfsilver.model.bill import Bill, BillLine, LineKind


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceTerms:
    """How cost becomes price.

    Parameters
    ----------
    margin : Decimal
        Share of the price, 0 to below 1. [-]
    tax : Decimal
        Rate. [-]
    tax_labour : bool
        Whether the whole price is taxed; otherwise the part of it that labour has in the cost is left out.
    deposit : Decimal
        Share of the total due with the order. [-]
    card_fee : Decimal
        What a card payment takes of the total. [-]
    """

    margin: Decimal
    tax: Decimal
    tax_labour: bool = True
    deposit: Decimal = Decimal("0.5")
    card_fee: Decimal = Decimal(0)


def line(what: str, kind: LineKind, *, quantity: Decimal, unit: str, each: Decimal) -> BillLine:
    """A line with its total, rounded half up to cents.

    Examples
    --------
    >>> line("pins", LineKind.HARDWARE, quantity=Decimal(18), unit="each", each=Decimal("0.01")).total
    Decimal('0.18')
    """
    return BillLine(what=what, kind=kind, quantity=quantity, unit=unit, each=each, total=round_money(quantity * each))


def share_line(what: str, *, of: Decimal, share: Decimal) -> BillLine:
    """An overhead line: a share of an amount."""
    return line(what, LineKind.OVERHEAD, quantity=share, unit="share", each=of)


def priced(
    lines: Iterable[BillLine],
    terms: PriceTerms,
    *,
    currency: str,
    pieces: int = 1,
    valid_days: int = 30,
    missing: tuple[str, ...] = (),
    notes: tuple[str, ...] = (),
) -> Bill:
    """The bill of these lines.

    Raises
    ------
    RangeError
        If the margin is not from 0 to below 1.
    """
    known = tuple(lines)
    cost = sum((one.total for one in known), Decimal("0.00"))
    price = round_money(price_from_margin(cost=cost, margin=terms.margin))
    labour = sum((one.total for one in known if one.kind is LineKind.LABOUR), Decimal(0))
    taxable = price if terms.tax_labour or not cost else round_money(price * (cost - labour) / cost)
    tax = round_money(taxable * terms.tax)
    total = price + tax
    deposit = round_money(total * terms.deposit)
    return Bill(
        currency=currency,
        pieces=pieces,
        lines=known,
        cost=cost,
        price=price,
        margin=price - cost,
        margin_share=terms.margin,
        taxable=taxable,
        tax=tax,
        tax_share=terms.tax,
        total=total,
        deposit=deposit,
        balance=total - deposit,
        valid_days=valid_days,
        missing=missing,
        notes=(*notes, *break_even(cost=cost, total=total, tax=tax, card_fee=terms.card_fee)),
    )


def break_even(*, cost: Decimal, total: Decimal, tax: Decimal, card_fee: Decimal) -> tuple[str, ...]:
    """A warning where the payment, less tax and card fee, does not cover the cost."""
    left = total - tax - round_money(total * card_fee)
    return (f"Paid by card, {left:.2f} is left after tax and fee: less than the cost of {cost:.2f}.",) if left < cost else ()
