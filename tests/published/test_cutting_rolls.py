"""Worked examples of the cutting stock problem whose least number of rolls is published, and tasks whose optimum is known by their making.

Sources: V. Chvatal, *Linear Programming*, 1983, chapter 13 (453 rolls) [from memory]; the paper-roll example of the public encyclopedia's
article on the cutting stock problem, 13 widths from 5600 mm master rolls (73 rolls) [from memory].
"""

from __future__ import annotations

import pytest

from halfsilver.making.cutting.instance import Bar, BarPiece, LinearInstance
from halfsilver.making.cutting.portfolio import solve
from halfsilver.making.cutting.solution import used_stock
from strategies_cutting import cut_up_bars

pytestmark = pytest.mark.cutting

CHVATAL = {45: 97, 36: 610, 31: 395, 14: 211}
PAPER = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def rolls(length: int, demand: dict[int, int]) -> LinearInstance:
    pieces = tuple(BarPiece(id=f"w{width}", length=width, qty=qty) for width, qty in demand.items())
    return LinearInstance(id="rolls", stock=(Bar(id="roll", length=length, cost=1),), pieces=pieces)


@pytest.mark.parametrize("effort", ["quick", "usual"])
@pytest.mark.parametrize(("length", "demand", "least"), [(100, CHVATAL, 453), (5600, PAPER, 73)], ids=["chvatal", "paper"])
def test_published_examples_need_exactly_the_published_number_of_rolls(
    length: int, demand: dict[int, int], least: int, effort: str
) -> None:
    result = solve(rolls(length, demand), effort=effort)
    assert len(used_stock(result.solution)) == least
    assert result.bound.value == least
    assert result.bound.kind == "lp"


@pytest.mark.parametrize("seed", range(20))
def test_bars_cut_up_are_put_together_again_without_waste(seed: int) -> None:
    instance, bars = cut_up_bars(seed)
    assert len(used_stock(solve(instance).solution)) == bars
