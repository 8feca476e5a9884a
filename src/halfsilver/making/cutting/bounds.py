"""How cheap a plan could be at best.

Two kinds are told apart: ``lp`` rests on prices per piece for which no pattern is worth more than it costs (a feasible solution of the
dual of the pattern programme), ``material`` on length or area alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

MOST_SUMS = 4_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A cost that no plan can undercut, and how it was found."""

    value: float
    kind: Literal["lp", "material"]


def dual_bound(
    prices: Sequence[float], demand: Sequence[int], worth: Sequence[float], costs: Sequence[float], quantities: Sequence[int | None]
) -> float:
    """Least cost that follows from any prices of at least 0 per piece.

    Parameters
    ----------
    prices : sequence of float
        Price of each piece.
    demand : sequence of int
        How many of each are wanted.
    worth : sequence of float
        For each stock size, no less than the dearest content that one of it can hold at these prices.
    costs : sequence of float
        Cost of each stock size.
    quantities : sequence of int or None
        How many there are of each; None without limit.

    Returns
    -------
    float
        The bound.

    Notes
    -----
    Scaled by t so that no unlimited size holds more than it costs, the prices are feasible for the dual; what a limited size holds above
    its cost is paid back once per piece of it: t sum(price x demand) - sum(quantity x max(0, t worth - cost)).
    """
    total = sum(price * wanted for price, wanted in zip(prices, demand, strict=True))
    free = [cost / value for value, cost, quantity in zip(worth, costs, quantities, strict=True) if quantity is None and value > cost]
    scale = min(1.0, *free) if free else 1.0
    rows = zip(worth, costs, quantities, strict=True)
    back = sum(quantity * max(0.0, scale * value - cost) for value, cost, quantity in rows if quantity is not None)
    return max(0.0, scale * total - back)


def material_bound(amount: int, sizes: Sequence[int], costs: Sequence[float], quantities: Sequence[int | None]) -> float:
    """Least cost of stock that holds an amount of material when it could be melted together.

    Parameters
    ----------
    amount : int
        Material of all pieces.
    sizes, costs, quantities : sequences
        Of each stock size: what it holds, its cost, how many there are (None without limit).

    Returns
    -------
    float
        The bound.
    """
    cost = 0.0
    for size, each, quantity in sorted(
        ((s, c, q) for s, c, q in zip(sizes, costs, quantities, strict=True) if s > 0), key=lambda row: row[1] / row[0]
    ):
        take = amount if quantity is None else min(amount, size * quantity)
        cost += take * each / size
        amount -= take
    return cost


def rounded_up(bound: float, costs: Sequence[float], quantities: Sequence[int | None]) -> float:
    """The bound raised to the next sum that the costs of stock can add up to.

    Parameters
    ----------
    bound : float
        A cost that no plan can undercut.
    costs, quantities : sequences
        Of each stock size; quantity None without limit.

    Returns
    -------
    float
        The least sum of costs that is not below the bound; where there are too many sums to look at, the next multiple of the
        costs' common divisor.
    """
    step = common_step(costs)
    if step <= 0:
        return bound
    units = [int(Decimal(str(cost)) / step) for cost in costs]
    least = math.ceil(Decimal(bound) / step - Decimal("1e-6"))
    most = least + max(units)
    if most <= MOST_SUMS:
        sums = _sums(units, quantities, most) >> least
        least += (sums & -sums).bit_length() - 1 if sums else 0
    return float(least * step)


def _sums(units: Sequence[int], quantities: Sequence[int | None], most: int) -> int:
    """All sums up to ``most``, as the set bits of a number."""
    mask, sums = (1 << (most + 1)) - 1, 1
    for unit, quantity in zip(units, quantities, strict=True):
        left = most // unit if unit else 0
        left = left if quantity is None else min(left, quantity)
        times = 1
        while left > 0:
            sums |= (sums << (unit * min(times, left))) & mask
            left -= times
            times *= 2
    return sums


def common_step(costs: Sequence[float]) -> Decimal:
    """Greatest number of which every cost is a multiple; 0 when all are 0."""
    exact = [Decimal(str(cost)) for cost in costs if cost > 0]
    if not exact:
        return Decimal(0)
    finest = max(0, *(-int(number.as_tuple().exponent) for number in exact))
    scale = Decimal(10) ** finest
    return Decimal(math.gcd(*(int(number * scale) for number in exact))) / scale
