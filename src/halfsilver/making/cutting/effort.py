"""How much is searched: fixed amounts of work, never a clock, so that the same task gives the same plan on every machine."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

EffortName = Literal["quick", "usual", "long"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """Amounts of work.

    Parameters
    ----------
    rounds : int
        Rounds of column generation.
    dives : int
        Rounding dives after column generation.
    columns : int
        Most columns of a whole-numbered two-stage programme.
    nodes : int
        Nodes of a branch-and-bound search over generated patterns.
    cells : int
        Cells of a dynamic programme's table (grid steps times rows).
    beams : tuple of int
        Widths of the beam searches, in order; each is run once with every guide.
    mixes : int
        Mixes of sheets tried one after the other, for few panes.
    repairs : int
        Re-packings of a few sheets at once.
    joins : int
        Most panes for which all joins are enumerated.
    rented : int
        Queue size of the second engine; 0 leaves it out.
    """

    rounds: int
    dives: int
    columns: int
    nodes: int
    cells: int
    beams: tuple[int, ...]
    mixes: int
    repairs: int
    joins: int
    rented: int


EFFORTS: dict[EffortName, Effort] = {
    "quick": Effort(rounds=60, dives=1, columns=250, nodes=20, cells=2_000_000, beams=(64,), mixes=3, repairs=3, joins=8, rented=0),
    "usual": Effort(
        rounds=400, dives=7, columns=900, nodes=400, cells=6_000_000, beams=(24, 80, 200), mixes=8, repairs=60, joins=9, rented=128
    ),
    "long": Effort(
        rounds=1500,
        dives=14,
        columns=4000,
        nodes=4_000,
        cells=20_000_000,
        beams=(24, 80, 200, 800),
        mixes=30,
        repairs=160,
        joins=10,
        rented=1024,
    ),
}
