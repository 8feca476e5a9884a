"""How many sheets are needed at least, beyond what their area says.

Sizes are passed through dual feasible functions: whatever fits side by side keeps a sum of at most 1. So the sum of f(width) g(height)
over all panes is a number of sheets that no layout can undercut, whatever the cuts. Families after Fekete and Schepers, "New classes of
fast lower bounds for bin packing problems", Mathematical Programming 91 (2001) [from memory].
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from halfsilver.making.cutting.bounds import Bound, material_bound, rounded_up
from halfsilver.making.cutting.sheet_task import SheetTask

Scale = Callable[[Fraction], float]
MOST_THRESHOLDS = 24


def area_bound(work: SheetTask) -> Bound:
    """Bound from the panes' area and from scaled areas; both are of the kind ``material``."""
    instance = work.instance
    kerf = instance.kerf
    amount = sum(piece.qty * (piece.width + kerf) * (piece.height + kerf) for piece in instance.pieces)
    sizes = [max(0, w) * max(0, h) for w, h in zip(work.widths, work.heights, strict=True)]
    plain = rounded_up(material_bound(amount, sizes, work.costs, work.quantities), work.costs, work.quantities)
    cheapest = min((c for c, size in zip(work.costs, sizes, strict=True) if size > 0), default=0.0)
    scaled = rounded_up(cheapest * least_sheets(work), work.costs, work.quantities)
    return Bound(value=max(plain, scaled), kind="material")


def least_sheets(work: SheetTask) -> int:
    """Sheets needed at least, if every one were as wide as the widest and as high as the highest."""
    import numpy as np

    W, H = max(work.widths), max(work.heights)
    if min(W, H) <= 0:
        return 0
    ways: dict[int, list[tuple[Fraction, Fraction]]] = {}
    for laying in work.layings:
        if work.demand[laying.piece] and laying.w <= W and laying.h <= H:
            ways.setdefault(laying.piece, []).append((Fraction(laying.w, W), Fraction(laying.h, H)))
    wanted = np.array([work.demand[piece] for piece in ways], dtype=float)
    both = [[several[0] for several in ways.values()], [several[-1] for several in ways.values()]]
    across = _scales(sorted({w for side in both for w, _ in side}))
    up = _scales(sorted({h for side in both for _, h in side}))
    f = [np.array([[scale(w) for w, _ in side] for scale in across]) for side in both]
    g = [np.array([[scale(h) for _, h in side] for scale in up]) for side in both]
    best = max(float((np.minimum(f[0][i] * g[0], f[1][i] * g[1]) @ wanted).max()) for i in range(len(across)))
    return math.ceil(best - 1e-6)


def _scales(sizes: list[Fraction]) -> list[Scale]:
    half = [size for size in sizes if size <= Fraction(1, 2)]
    thresholds = half[:: max(1, -(-len(half) // MOST_THRESHOLDS))]
    return [float, *(_stepped(k) for k in (1, 2, 3, 4)), *(_cut_off(t) for t in thresholds), *(_counted(t) for t in thresholds)]


def _stepped(k: int) -> Scale:
    """X where (k + 1) x is whole, else whole part of (k + 1) x over k."""
    return lambda x: float(x) if ((k + 1) * x).denominator == 1 else math.floor((k + 1) * x) / k


def _cut_off(threshold: Fraction) -> Scale:
    """Small sizes count nothing, those that leave less than the threshold count whole."""
    return lambda x: 1.0 if x > 1 - threshold else 0.0 if x < threshold else float(x)


def _counted(threshold: Fraction) -> Scale:
    """Sizes above one half by how many thresholds fit beside them, others from the threshold on as one of so many."""
    most = math.floor(1 / threshold)

    def scale(x: Fraction) -> float:
        if x > Fraction(1, 2):
            return 1 - math.floor((1 - x) / threshold) / most
        return 1 / most if x >= threshold else 0.0

    return scale
