"""What an engine hands over: a plan that nobody has checked yet, its own name, and what it knows of the least cost."""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.making.cutting.bounds import Bound
from halfsilver.making.cutting.solution import Solution


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A plan before the checker has seen it.

    Parameters
    ----------
    solution : Solution or None
        The plan; None where only a bound was found.
    engine : str
        Name of the method.
    bound : Bound or None
        A cost that no plan can undercut.
    """

    solution: Solution | None
    engine: str
    bound: Bound | None = None
