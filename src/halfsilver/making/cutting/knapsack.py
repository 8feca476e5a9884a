"""Bounded knapsack by dynamic programming over whole sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A filled table: the best value within every capacity, and the choices that led there.

    Attributes
    ----------
    best : NDArray, shape (capacity + 1,)
        Best value within each capacity.
    stops : tuple of (int, NDArray)
        Rows used and best values at each stop asked for.
    """

    best: Any
    parts: tuple[tuple[int, int, int], ...]
    taken: Any
    stops: tuple[tuple[int, Any], ...] = ()

    def counts(self, capacity: int, kinds: int, stop: int | None = None) -> tuple[int, ...]:
        """How many of each kind the best content within a capacity has; with ``stop``, of what was best at that stop."""
        counts = [0] * kinds
        rows = len(self.parts) if stop is None else self.stops[stop][0]
        for row in range(rows - 1, -1, -1):
            kind, multiple, size = self.parts[row]
            if self.taken[row, capacity]:
                counts[kind] += multiple
                capacity -= size
        return tuple(counts)


def split(limit: int) -> list[int]:
    """Multiples whose sums reach every number up to the limit and none beyond: 1, 2, 4, ... and a rest."""
    parts, step = [], 1
    while limit > 0:
        parts.append(min(step, limit))
        limit -= parts[-1]
        step *= 2
    return parts


def fill(
    sizes: Sequence[int], limits: Sequence[int], values: Sequence[float], capacity: int, *, stops: Sequence[int] = (), full: bool = False
) -> Table:
    """Fill the table.

    Parameters
    ----------
    sizes : sequence of int
        Size of each kind, at least 1.
    limits : sequence of int
        How many of each kind there are.
    values : sequence of float
        Value of each kind; kinds of no value are left out.
    capacity : int
        Largest capacity asked for, at least 0.
    stops : sequence of int
        Rising numbers of kinds after which the best values are noted.
    full : bool
        Whether a content has to fill its capacity exactly (minus infinity where none does).

    Returns
    -------
    Table
        Best values and choices.
    """
    import numpy as np

    parts = tuple(
        (kind, multiple, multiple * size)
        for kind, (size, limit, value) in enumerate(zip(sizes, limits, values, strict=True))
        if value > 1e-12
        for multiple in split(min(limit, capacity // size))
    )
    best = np.full(capacity + 1, -np.inf) if full else np.zeros(capacity + 1)
    best[0] = 0.0
    taken = np.zeros((len(parts), capacity + 1), dtype=bool)
    noted: list[tuple[int, Any]] = []
    for row, (kind, multiple, size) in enumerate(parts):
        while len(noted) < len(stops) and stops[len(noted)] <= kind:
            noted.append((row, best.copy()))
        with_it = best[: capacity + 1 - size] + multiple * values[kind]
        better = with_it > best[size:] + 1e-10
        taken[row, size:] = better
        best[size:][better] = with_it[better]
    noted += [(len(parts), best)] * (len(stops) - len(noted))
    return Table(best=best, parts=parts, taken=taken, stops=tuple(noted))
