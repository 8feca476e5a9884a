"""How a price moved between two revisions, and which kind of line moved it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from halfsilver.model.bill import Bill, LineKind
from halfsilver.model.results import ChangeRecord

ZERO = Decimal(0)
AMOUNTS = {"cost": "cost", "price": "price", "tax": "tax", "total": "total with tax"}


def price_changes(old: Mapping[str, Any], bill: Bill) -> Iterator[ChangeRecord]:
    """Cost, price, tax and total that moved; nothing where the old bill cannot be read.

    Parameters
    ----------
    old : mapping
        The previous ``bill.json``.
    bill : Bill
        The new bill.
    """
    was = {name: _amount(old.get(name)) for name in AMOUNTS}
    currency = str(old.get("currency", ""))
    if any(amount is None for amount in was.values()):
        return
    because = "; ".join(_causes(old, bill))
    for name, label in AMOUNTS.items():
        now = getattr(bill, name)
        if was[name] != now or currency != bill.currency:
            yield ChangeRecord(
                name=f"bill.{name}", label=label, was=f"{was[name]:.2f} {currency}", now=f"{now:.2f} {bill.currency}",
                reason=because if name in ("cost", "price") else "", roots=(),
            )  # fmt: skip


def _causes(old: Mapping[str, Any], bill: Bill) -> Iterator[str]:
    """What moved it: terms first, then kinds of lines, the largest difference first."""
    for name, label in (("margin_share", "margin"), ("tax_share", "tax")):
        before, now = old.get(name), float(getattr(bill, name))
        if isinstance(before, int | float) and abs(before - now) > 1e-9:
            yield f"{label} {100 * before:g} % -> {100 * now:g} %"
    if old.get("pieces") != bill.pieces:
        yield f"{old.get('pieces')} -> {bill.pieces} pieces"
    sums = _by_kind(old)
    moved = [(kind, bill.of(kind) - sums[kind]) for kind in LineKind if bill.of(kind) != sums[kind]]
    for kind, difference in sorted(moved, key=lambda pair: (-abs(pair[1]), pair[0].value)):
        yield f"{kind.value} {difference:+.2f}"


def _by_kind(old: Mapping[str, Any]) -> dict[LineKind, Decimal]:
    sums = dict.fromkeys(LineKind, ZERO)
    lines = old.get("lines")
    for row in lines if isinstance(lines, list) else ():
        amount = _amount(row.get("total")) if isinstance(row, dict) else None
        known = [kind for kind in LineKind if isinstance(row, dict) and kind.value == row.get("kind")]
        if amount is not None and known:
            sums[known[0]] += amount
    return sums


def _amount(told: Any) -> Decimal | None:
    try:
        amount = Decimal(told) if isinstance(told, str) else None
    except InvalidOperation:
        return None
    return amount if amount is not None and amount.is_finite() else None
