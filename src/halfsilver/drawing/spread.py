"""Placing labels along a line so that none overlap and each is as near its own place as can be."""

from __future__ import annotations

import itertools
from collections.abc import Sequence


def spread(wanted: Sequence[float], sizes: Sequence[float], *, clear: float, room: tuple[float, float] | None = None) -> list[float]:
    """Centres of labels in the given order, at least ``clear`` apart.

    Parameters
    ----------
    wanted : sequence of float
        Where each centre would like to be, in rising order. [mm]
    sizes : sequence of float
        Extent of each label along the line. [mm]
    clear : float
        Least distance between neighbours. [mm]
    room : tuple of float, optional
        Where the labels should stay; left out of account when they do not go in. [mm]

    Returns
    -------
    list of float
        Centres, rising; the sum of squared displacements is the least possible. [mm]

    Notes
    -----
    With the label sizes taken off, the condition is that the places rise: an isotonic regression, solved by pooling
    adjacent violators.

    Examples
    --------
    >>> spread([0.0, 0.0], [10.0, 10.0], clear=2.0)
    [-6.0, 6.0]
    """
    steps = [0.0]
    for a, b in itertools.pairwise(sizes):
        steps.append(steps[-1] + (a + b) / 2.0 + clear)
    pools: list[tuple[float, int]] = []
    for want, step in zip(wanted, steps, strict=False):
        mean, count = want - step, 1
        while pools and pools[-1][0] > mean:
            other, weight = pools.pop()
            mean, count = (mean * count + other * weight) / (count + weight), count + weight
        pools.append((mean, count))
    free = [mean for mean, count in pools for _ in range(count)]
    if room and free:
        low, high = room[0] + sizes[0] / 2.0, room[1] - sizes[-1] / 2.0 - steps[-1]
        free = [min(max(place, low), high) for place in free] if low <= high else free
    return [place + step for place, step in zip(free, steps, strict=False)]
