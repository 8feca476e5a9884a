"""Kerf, trim and mitre folded into plain lengths, and patterns unfolded into exact places.

n square pieces need n - 1 kerfs, so each piece is charged its length and one kerf, and each bar credited one kerf. Mitred pieces are
charged the mitre's kerf, less the face width where neighbours may be turned over. With mixed ends the pieces are cut in the order square,
mitred, mixed; then the charges below cover every gap. ``relaxed`` charges no gap more than it can cost at least, for bounds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from halfsilver.making.cutting.instance import Bar, BarPiece, End, LinearInstance
from halfsilver.making.cutting.solution import BarCut, BarPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """A cutting task without kerf: whole sizes into whole capacities.

    Attributes
    ----------
    sizes, demand : tuple of int
        Of every piece.
    capacities : tuple of int
        Of every stock size; 0 when nothing fits.
    costs : tuple of float
        Of every stock size.
    quantities : tuple of (int or None)
        Of every stock size.
    loose_sizes, loose_capacities : tuple of int
        The same for bounds: no pattern that can be cut breaks them.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    capacities: tuple[int, ...]
    costs: tuple[float, ...]
    quantities: tuple[int | None, ...]
    loose_sizes: tuple[int, ...]
    loose_capacities: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaps:
    """Gap between two ends, rounded up to the marks: both square, both mitred, one of each."""

    square: int
    mitre: int
    mixed: int
    nested: bool


def gaps(instance: LinearInstance) -> Gaps:
    """The gaps of an instance; nesting only where no piece is too short for it."""
    rule, step = instance.mitre, max(1, instance.increment)
    mitred = [piece.length for piece in instance.pieces if End.MITRE in (piece.left, piece.right)]
    nested = rule.flip and rule.nest > 0 and min(mitred, default=0) >= 2 * rule.nest
    mitre = rule.kerf - rule.nest if nested else rule.kerf
    return Gaps(square=_up(instance.kerf, step), mitre=_up(mitre, step), mixed=_up(max(instance.kerf, rule.kerf), step), nested=nested)


def _up(value: int, step: int) -> int:
    return -(-value // step) * step


def fold(instance: LinearInstance) -> Folded:
    """Fold an instance; pieces keep their order, stock too."""
    gap, step = gaps(instance), max(1, instance.increment)
    least = _up(instance.mitre.kerf - instance.mitre.nest, step) if instance.mitre.flip else gap.mitre
    ends = {end for piece in instance.pieces for end in (piece.left, piece.right)}
    if len(ends) == 1:
        credit = 2 * (gap.square if ends == {End.SQUARE} else gap.mitre)
    else:
        credit = 2 * min(gap.square, gap.mitre, gap.square + gap.mitre - gap.mixed, gap.mixed)
    most = 2 * max(gap.square if End.SQUARE in ends else least, least if End.MITRE in ends else gap.square)
    usable = [bar.usable // step * step for bar in instance.stock]
    return _reduced(
        instance,
        [2 * (piece.length + _charge(piece, gap)) for piece in instance.pieces],
        [max(0, 2 * length + credit) for length in usable],
        [max(1, 2 * piece.length + _least_charge(piece, gap.square, least)) for piece in instance.pieces],
        [max(0, 2 * length + most) for length in usable],
    )


def _least_charge(piece: BarPiece, square: int, mitre: int) -> int:
    """Twice what a piece's two ends cost at least."""
    return sum(square if end is End.SQUARE else mitre for end in (piece.left, piece.right))


def _charge(piece: BarPiece, gap: Gaps) -> int:
    if piece.left is piece.right:
        return gap.square if piece.left is End.SQUARE else gap.mitre
    return gap.mixed


def _reduced(
    instance: LinearInstance, sizes: Sequence[int], capacities: Sequence[int], loose: Sequence[int], loose_capacities: Sequence[int]
) -> Folded:
    tight, slack = max(1, math.gcd(*sizes)), max(1, math.gcd(*loose))
    return Folded(
        sizes=tuple(size // tight for size in sizes), demand=tuple(piece.qty for piece in instance.pieces),
        capacities=tuple(capacity // tight for capacity in capacities), costs=tuple(bar.cost for bar in instance.stock),
        quantities=tuple(bar.qty for bar in instance.stock), loose_sizes=tuple(size // slack for size in loose),
        loose_capacities=tuple(capacity // slack for capacity in loose_capacities),
    )  # fmt: skip


def place(instance: LinearInstance, bar: Bar, counts: Sequence[int]) -> BarPlan:
    """Exact places of a pattern on a bar.

    Parameters
    ----------
    instance : LinearInstance
        The task.
    bar : Bar
        The bar.
    counts : sequence of int
        How many of each piece.

    Returns
    -------
    BarPlan
        Pieces from the bar's start: square ones, mitred ones, mixed ones, each by falling length.
    """
    gap, step = gaps(instance), max(1, instance.increment)
    row = [piece for piece, count in zip(instance.pieces, counts, strict=True) for _ in range(count)]
    row.sort(key=lambda piece: (_rank(piece), -piece.length, piece.id))
    cuts: list[BarCut] = []
    before: BarPiece | None = None
    flipped = False
    for piece in row:
        at = bar.trim.left
        if before is not None:
            turn = gap.nested and before.right is End.MITRE and piece.left is End.MITRE
            flipped = flipped != turn
            at = bar.trim.left + _up(cuts[-1].end + _between(instance, before, piece, turn=turn) - bar.trim.left, step)
        cuts.append(BarCut(piece=piece.id, start=at, end=at + piece.length, flipped=flipped))
        before = piece
    return BarPlan(stock=bar.id, cuts=tuple(cuts))


def _rank(piece: BarPiece) -> int:
    return {(End.SQUARE, End.SQUARE): 0, (End.MITRE, End.MITRE): 1}.get((piece.left, piece.right), 2)


def _between(instance: LinearInstance, before: BarPiece, after: BarPiece, *, turn: bool) -> int:
    ends = {before.right, after.left}
    if ends == {End.SQUARE}:
        return instance.kerf
    if ends == {End.MITRE}:
        return instance.mitre.kerf - (instance.mitre.nest if turn else 0)
    return max(instance.kerf, instance.mitre.kerf)
