"""Bill and price: what is bought, worked, packed and added; cost, margin, price and tax. Decimals throughout, in one currency."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum


class LineKind(Enum):
    """What a line of the bill is."""

    MATERIAL = "material"
    HARDWARE = "hardware"
    LABOUR = "labour"
    PACKING = "packing"
    OVERHEAD = "overhead"
    CARRIAGE = "carriage"


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One line.

    Parameters
    ----------
    what : str
        In words.
    kind : LineKind
        What it is.
    quantity : Decimal
        How many or how much, in ``unit``.
    unit : str
        ``stick``, ``sheet``, ``m2``, ``m``, ``h``, ``each``, ``share`` ...
    each : Decimal
        Price of one unit. [money]
    total : Decimal
        Quantity times price, rounded to cents; negative for what goes back into the rack. [money]
    """

    what: str
    kind: LineKind
    quantity: Decimal
    unit: str
    each: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """The shop's own view: every line, and how cost becomes price.

    Parameters
    ----------
    currency : str
        Of every amount.
    pieces : int
        How many pieces it is for.
    lines : tuple of BillLine
        Their totals sum to ``cost`` exactly.
    cost, price, margin, tax, total : Decimal
        ``price`` is cost/(1 - margin share), rounded once; ``margin`` is price - cost; ``total`` is price + tax. [money]
    margin_share, tax_share : Decimal
        As asked in the job, or the workshop's. [-]
    taxable : Decimal
        What the tax is reckoned on. [money]
    deposit, balance : Decimal
        Due with the order, and before shipping; together the total. [money]
    valid_days : int
        How long the offer stands.
    missing : tuple of str
        What has no price and is therefore not in the cost.
    notes : tuple of str
        The rules that were used, in words.
    """

    currency: str
    pieces: int
    lines: tuple[BillLine, ...]
    cost: Decimal
    price: Decimal
    margin: Decimal
    margin_share: Decimal
    taxable: Decimal
    tax: Decimal
    tax_share: Decimal
    total: Decimal
    deposit: Decimal
    balance: Decimal
    valid_days: int
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def of(self, kind: LineKind) -> Decimal:
        """Sum of the lines of one kind. [money]"""
        return sum((line.total for line in self.lines if line.kind is kind), Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientBill:
    """What the client sees: what they get, what they do not, what they pay; no cost and no margin."""

    currency: str
    pieces: int
    included: tuple[str, ...]
    not_included: tuple[str, ...]
    price: Decimal
    tax: Decimal
    tax_share: Decimal
    total: Decimal
    deposit: Decimal
    balance: Decimal
    valid_days: int
