"""Judging one bar: sizes, trims, marks, and the gap between every two pieces.

A gap is measured between outer extents. Two mitres that face each other with one piece turned over run parallel, so there the gap may
be negative by the face width of the profile.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.cutting.instance import Bar, BarPiece, End, LinearInstance
from halfsilver.making.cutting.solution import BarCut, BarPlan
from halfsilver.making.cutting.violation import Violation

Known = list[tuple[BarCut, BarPiece]]


def bar_violations(instance: LinearInstance, plan: BarPlan, where: str) -> Iterator[Violation]:
    """Everything that is wrong on one bar, taken by itself."""
    bar = next((bar for bar in instance.stock if bar.id == plan.stock), None)
    pieces = {piece.id: piece for piece in instance.pieces}
    known = sorted(((cut, pieces[cut.piece]) for cut in plan.cuts if cut.piece in pieces), key=lambda pair: (pair[0].start, pair[0].end))
    if bar is None:
        return
    for cut, piece in known:
        yield from _alone(instance, bar, cut, piece, where)
    yield from _neighbours(instance, known, where)


def _alone(instance: LinearInstance, bar: Bar, cut: BarCut, piece: BarPiece, where: str) -> Iterator[Violation]:
    if cut.end - cut.start != piece.length:
        text = f"{piece.id!r} is {cut.end - cut.start} long here, {piece.length} is wanted."
        yield Violation(code="wrong-size", where=where, text=text)
    low, high = bar.trim.left, bar.length - bar.trim.right
    if cut.start < low or cut.end > high:
        yield Violation(code="outside", where=where, text=f"{piece.id!r} from {cut.start} to {cut.end} leaves the usable {low} to {high}.")
    if cut.flipped and not instance.mitre.flip:
        yield Violation(code="flipped", where=where, text=f"{piece.id!r} is turned over, which this profile does not allow.")
    if instance.increment and ((cut.start - low) % instance.increment or (cut.end - low) % instance.increment):
        text = f"{piece.id!r} from {cut.start} to {cut.end} is off the marks, every {instance.increment} from {low}."
        yield Violation(code="increment", where=where, text=text)


def _neighbours(instance: LinearInstance, known: Known, where: str) -> Iterator[Violation]:
    for i, (cut, piece) in enumerate(known):
        for other, after in known[i + 1 :]:
            gap, least = other.start - cut.end, _least_gap(instance, cut, piece, other, after)
            if gap < least:
                code = "overlap" if gap < min(0, least) else "kerf"
                text = (
                    f"{piece.id!r} ends at {cut.end}, {after.id!r} begins at {other.start}: the gap is {gap}, at least {least} is needed."
                )
                yield Violation(code=code, where=where, text=text)
            if gap > 2 * (instance.mitre.nest + instance.mitre.kerf + instance.kerf):
                break


def _least_gap(instance: LinearInstance, cut: BarCut, piece: BarPiece, other: BarCut, after: BarPiece) -> int:
    ends = {piece.right, after.left}
    rule = instance.mitre
    if ends == {End.SQUARE}:
        return instance.kerf
    if ends == {End.MITRE}:
        return rule.kerf - rule.nest if rule.flip and cut.flipped != other.flipped else rule.kerf
    return max(instance.kerf, rule.kerf)
