"""The grid of cutting: whole numbers of 1/8000 mm, exact for 1/64 in (3175) and for 1 mm (8000)."""

from __future__ import annotations

from math import ceil, floor, sqrt

UNIT = "1/8000 mm"
PER_MM = 8000
SLACK = 1e-4  # of a unit: what binary fractions may be off


def piece_units(length_mm: float) -> int:
    """A piece on the grid, never shorter than asked. [1/8000 mm]

    Examples
    --------
    >>> piece_units(25.4 / 64), piece_units(1.0)
    (3175, 8000)
    """
    return ceil(length_mm * PER_MM - SLACK)


def stock_units(length_mm: float) -> int:
    """A stock length on the grid, never longer than it is. [1/8000 mm]"""
    return floor(length_mm * PER_MM + SLACK)


def mitre_kerf_units(kerf_mm: float) -> int:
    """What a cut at 45 degrees takes along the bar: kerf times the root of two, rounded up. [1/8000 mm]"""
    return ceil(kerf_mm * sqrt(2.0) * PER_MM - SLACK)
