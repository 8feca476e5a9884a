"""Definitions of pricing: markup, margin, labour rate, waste, whole units, rounding once.

Money and the shares that money is multiplied with are decimals. Percentages are shares: 0.35 for 35 %.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from math import ceil
from typing import Literal

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

ONE = Decimal(1)
SLACK = 1e-9


def _share(name: str, value: Decimal) -> None:
    if not (Decimal(0) <= value < ONE):
        raise RangeError(f"{name} must be from 0 to below 1, got {value}")


def _not_negative(name: str, value: Decimal) -> None:
    if value < 0:
        raise RangeError(f"{name} must be 0 or more, got {value}")


@formula(name="costing.price_from_markup", source="definition", status="derived", unit="money")
def price_from_markup(*, cost: Decimal, markup: Decimal) -> Decimal:
    """Price from cost and a markup on it.

    Parameters
    ----------
    cost : Decimal
        Cost. [money]
    markup : Decimal
        Share of the cost that is added. [-]

    Returns
    -------
    Decimal
        cost (1 + m). [money]

    References
    ----------
    Definition. Derived.

    Examples
    --------
    >>> price_from_markup(cost=Decimal(100), markup=Decimal("0.5"))
    Decimal('150.0')
    """
    _not_negative("markup", markup)
    return cost * (ONE + markup)


@formula(name="costing.margin_from_markup", source="definition", status="derived")
def margin_from_markup(*, markup: Decimal) -> Decimal:
    """Share of the price that a markup leaves.

    Parameters
    ----------
    markup : Decimal
        Share of the cost that is added. [-]

    Returns
    -------
    Decimal
        m/(1 + m). [-]

    References
    ----------
    Definition. Derived.
    """
    _not_negative("markup", markup)
    return markup / (ONE + markup)


@formula(name="costing.markup_from_margin", source="definition", status="derived")
def markup_from_margin(*, margin: Decimal) -> Decimal:
    """Markup that leaves a margin.

    Parameters
    ----------
    margin : Decimal
        Share of the price, below 1. [-]

    Returns
    -------
    Decimal
        g/(1 - g). [-]

    References
    ----------
    Definition. Derived.
    """
    _share("margin", margin)
    return margin / (ONE - margin)


@formula(name="costing.price_from_margin", source="definition", status="derived", unit="money")
def price_from_margin(*, cost: Decimal, margin: Decimal) -> Decimal:
    """Price from cost and the share of the price that must be left. Not the same as a markup of that share.

    Parameters
    ----------
    cost : Decimal
        Cost. [money]
    margin : Decimal
        Share of the price, below 1. [-]

    Returns
    -------
    Decimal
        cost/(1 - g), not rounded. [money]

    References
    ----------
    Definition. Derived.

    Examples
    --------
    >>> round_money(price_from_margin(cost=Decimal(100), margin=Decimal("0.4")))
    Decimal('166.67')
    """
    _share("margin", margin)
    return cost / (ONE - margin)


@formula(name="costing.margin", source="definition", status="derived")
def margin(*, cost: Decimal, price: Decimal) -> Decimal:
    """Share of a price that is left over its cost; negative at a loss.

    Parameters
    ----------
    cost, price : Decimal
        Both without tax; the price above 0. [money]

    Returns
    -------
    Decimal
        (price - cost)/price. [-]

    References
    ----------
    Definition. Derived.
    """
    if price <= 0:
        raise RangeError(f"price must be above 0, got {price}")
    return (price - cost) / price


@formula(name="costing.labour_rate", source="definition", status="derived", unit="money/h")
def labour_rate(*, wage: Decimal, burden: Decimal, utilisation: Decimal) -> Decimal:
    """What an hour of work on a job costs the shop.

    Parameters
    ----------
    wage : Decimal
        Hourly wage. [money/h]
    burden : Decimal
        What comes on top of wages, as a share of them; about 0.42 in US private industry (BLS, from memory). [-]
    utilisation : Decimal
        Share of the paid hours that are worked on jobs, above 0 to 1. [-]

    Returns
    -------
    Decimal
        wage (1 + burden)/utilisation. [money/h]

    References
    ----------
    Definition. Derived.

    Examples
    --------
    >>> round_money(labour_rate(wage=Decimal(25), burden=Decimal("0.42"), utilisation=Decimal("0.75")))
    Decimal('47.33')
    """
    _not_negative("burden", burden)
    if not (0 < utilisation <= 1):
        raise RangeError(f"utilisation must be above 0, at most 1, got {utilisation}")
    return wage * (ONE + burden) / utilisation


@formula(name="costing.burden_from_benefits", source="definition; BLS Employer Costs for Employee Compensation", status="memory")
def burden_from_benefits(*, benefits: Decimal) -> Decimal:
    """Burden on wages from the share of benefits in total compensation.

    Parameters
    ----------
    benefits : Decimal
        Share of the total; about 0.298 in US private industry. [-]

    Returns
    -------
    Decimal
        b/(1 - b). [-]

    References
    ----------
    Definition; 29.8 % of total compensation from memory.
    """
    _share("benefits", benefits)
    return benefits / (ONE - benefits)


@formula(name="costing.quantity_to_buy", source="definition", status="derived", unit="as given")
def quantity_to_buy(*, need: float, waste: float, waste_of: Literal["bought", "used"]) -> float:
    """How much to buy so that enough is left after waste.

    Parameters
    ----------
    need : float
        What ends in the piece, in any unit.
    waste : float
        Waste as a share. [-]
    waste_of : {"bought", "used"}
        What it is a share of; the two differ.

    Returns
    -------
    float
        need/(1 - waste), or need (1 + waste), in the unit of ``need``.

    References
    ----------
    Definition. Derived. 6.8 m with 15 %: 8.00 or 7.82 m.
    """
    if not (need >= 0 and 0 <= waste < 1):
        raise RangeError(f"need must be 0 or more and waste from 0 to below 1, got {need:g} and {waste:g}")
    if waste_of not in ("bought", "used"):
        raise RangeError(f"waste_of must be bought or used, got {waste_of}")
    return need / (1 - waste) if waste_of == "bought" else need * (1 + waste)


@formula(name="costing.whole_units", source="definition", status="derived")
def whole_units(*, quantity: float, unit: float) -> int:
    """How many whole units cover a quantity: boxes, reels, sticks.

    Parameters
    ----------
    quantity : float
        What is needed.
    unit : float
        What one unit holds, in the same measure.

    Returns
    -------
    int
        Units, rounded up.

    References
    ----------
    Definition. Derived.
    """
    if not (quantity >= 0 and unit > 0):
        raise RangeError(f"quantity must be 0 or more and unit above 0, got {quantity:g} and {unit:g}")
    return ceil(quantity / unit * (1 - SLACK))


@formula(name="costing.round_money", source="half up, once, on the total", status="practice", unit="money")
def round_money(amount: Decimal, *, places: int = 2) -> Decimal:
    """Round an amount half up (away from zero).

    Parameters
    ----------
    amount : Decimal
        Amount. [money]
    places : int
        Decimals of the currency.

    Returns
    -------
    Decimal
        Rounded. [money]

    References
    ----------
    Common practice.

    Examples
    --------
    >>> round_money(Decimal("33.335") * 3)
    Decimal('100.01')
    """
    return amount.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


@formula(name="costing.total", source="half up, once, on the total", status="practice", unit="money")
def total(amounts: Iterable[Decimal], *, places: int = 2) -> Decimal:
    """Sum of amounts, rounded once at the end.

    Parameters
    ----------
    amounts : iterable of Decimal
        Lines, not rounded. [money]
    places : int
        Decimals of the currency.

    Returns
    -------
    Decimal
        Rounded sum. [money]

    References
    ----------
    Common practice: three lines of 33.335 make 100.01, not 100.02.
    """
    return round_money(sum(amounts, Decimal(0)), places=places)
