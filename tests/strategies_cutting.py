"""Cutting tasks for tests, from a seed: small enough to be quick, varied enough to meet every rule."""

from __future__ import annotations

import random

from halfsilver.making.cutting.instance import (
    Bar,
    BarPiece,
    End,
    FirstCut,
    LinearInstance,
    MitreRule,
    Pane,
    Sheet,
    SheetInstance,
    Trim,
)


def linear_task(seed: int, *, mitred: bool | None = None) -> LinearInstance:
    """Several stock lengths, the offcuts few and cheap; ends square, mitred or mixed."""
    dice = random.Random(seed)
    kerf = dice.choice([0, 3, 5])
    mitre = MitreRule(kerf=-(-kerf * 3 // 2), nest=dice.choice([0, 40]), flip=dice.random() < 0.5)
    both = [End.SQUARE] if mitred is False else [End.MITRE] if mitred else [End.SQUARE, End.MITRE]
    trim = Trim(left=dice.choice([0, 10]), right=dice.choice([0, 15]))
    stock = [Bar(id="new", length=3000, cost=3000, trim=trim), Bar(id="short", length=2400, cost=2500, trim=trim)]
    stock += [
        Bar(id=f"rest{i}", length=length, qty=1, cost=0.3 * length, offcut=True)
        for i, length in enumerate(dice.sample(range(500, 2000), dice.randint(1, 3)))
    ]
    pieces = tuple(
        BarPiece(id=f"p{i}", length=dice.randint(150, 1400), qty=dice.randint(1, 4), left=dice.choice(both), right=dice.choice(both))
        for i in range(dice.randint(2, 6))
    )
    return LinearInstance(id=f"linear-{seed}", unit="mm", kerf=kerf, stock=tuple(stock), pieces=pieces, mitre=mitre)


def cut_up_bars(seed: int) -> tuple[LinearInstance, int]:
    """Full bars cut up at chance places: the pieces fill so many bars without waste."""
    dice = random.Random(seed)
    bars = dice.randint(3, 12)
    lengths: dict[int, int] = {}
    for _ in range(bars):
        left = 6000
        while left:
            length = dice.randint(500, 2500)
            length = left if left - length < 500 else length
            lengths[length] = lengths.get(length, 0) + 1
            left -= length
    pieces = tuple(BarPiece(id=f"p{length}", length=length, qty=qty) for length, qty in lengths.items())
    return LinearInstance(id=f"cut-up-{seed}", stock=(Bar(id="bar", length=6000, cost=1),), pieces=pieces), bars


def sheet_task(seed: int, *, panes: int = 8) -> SheetInstance:
    """Sheets with trim, kerf or score, narrowest strip, coated panes, a limit on stages, an offcut in the rack."""
    dice = random.Random(seed)
    kerf, strip = dice.choice([(0, 0), (0, 20), (4, 0), (4, 15)])
    trim = Trim(left=dice.choice([0, 12]), right=dice.choice([0, 8]), bottom=dice.choice([0, 10]), top=dice.choice([0, 5]))
    stock = (
        Sheet(id="full", width=2000, height=1500, cost=100, trim=trim),
        Sheet(id="half", width=1200, height=1000, cost=45, trim=trim),
        Sheet(id="rest", width=900, height=700, qty=1, cost=10, offcut=True),
    )
    pieces = []
    while sum(piece.qty for piece in pieces) < panes:
        width, height = dice.randint(120, 900), dice.randint(120, 700)
        pieces.append(Pane(id=f"p{len(pieces)}", width=width, height=height, qty=dice.randint(1, 2), rotate=dice.random() < 0.5))
    return SheetInstance(
        id=f"sheets-{seed}", unit="mm", kerf=kerf, stock=stock, pieces=tuple(pieces), stages=dice.choice([None, None, 3, 2]),
        exact=False, first_cut=dice.choice(list(FirstCut)), min_strip=strip,
    )  # fmt: skip
