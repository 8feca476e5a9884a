"""Stray light: what the strip round the cavity throws on the rear sheet, and through it on the screen's face.

From a point of the rear sheet the strip on a wall repeats upwards: itself at z, its image in the front sheet at 2 g - z, then both
again 2 g higher, and so on. Each meets the sheet at another angle, the first nearly grazing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.optics.colour import OBSERVER
from halfsilver.optics.sheets import Sheet

Real = NDArray[np.float64]
IMAGES = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Two facing runs of strip, each so far from the middle and so long."""

    distance_mm: float
    half_length_mm: float


def run_illuminance_lx(*, luminance_cd_m2: float, width_mm: float, height_mm: ArrayLike, run: Run) -> Real:
    """Illuminance from one run of matt strip on a plane so far below it, opposite the run's middle. [lx]

    L w d h times the integral of 1/(d^2 + h^2 + x^2)^2 along the run: both cosines, inverse square, the strip narrow.

    Examples
    --------
    >>> long = run_illuminance_lx(luminance_cd_m2=1000, width_mm=10, height_mm=20, run=Run(distance_mm=300, half_length_mm=1e6))
    >>> round(float(long), 3)  # pi L w d h/(2 r^3)
    3.468
    """
    d, h, a = run.distance_mm, np.asarray(height_mm, dtype=float), run.half_length_mm
    r = np.hypot(d, h)
    along = a / (r**2 * (r**2 + a**2)) + np.arctan(a / r) / r**3
    return np.asarray(luminance_cd_m2 * width_mm * d * h * along)


def through_rear_lx(
    *, front: Sheet, rear: Sheet, spectrum: Real, luminance_cd_m2: float, width_mm: float, from_rear_mm: float, gap_mm: float,
    behind_mm: float, runs: Sequence[Run],
) -> float:  # fmt: skip
    """Illuminance on a screen behind the rear sheet, opposite the middle, from all runs and all their images. [lx]

    Each image is weighted with what the sheets make of its light at its own angle, s and p apart. The sheets' grid of angles must
    reach up to grazing.
    """
    k = np.arange(IMAGES)
    height = 2 * gap_mm * (k // 2) + np.where(k % 2 == 0, from_rear_mm, 2 * gap_mm - from_rear_mm) + behind_mm
    passed, front_mirror, rear_mirror = (
        _luminous(one, spectrum) for one in (rear.response.T_front, front.response.R_back, rear.response.R_front)
    )
    total = 0.0
    for run in runs:
        at = np.degrees(np.arctan2(run.distance_mm, height))
        T2, R1, R2 = (
            np.stack([np.interp(at, front.incidence_deg, one) for one in values]) for values in (passed, front_mirror, rear_mirror)
        )
        weight = (T2 * R1 ** ((k + 1) // 2) * R2 ** (k // 2)).mean(axis=0)
        total += 2 * float(weight @ run_illuminance_lx(luminance_cd_m2=luminance_cd_m2, width_mm=width_mm, height_mm=height, run=run))
    return total


def _luminous(values: Real, spectrum: Real) -> Real:
    """Values (2, angles, wavelengths) weighted with a light and the eye: (2, angles)."""
    weight = spectrum * OBSERVER[:, 1]
    return np.asarray(values @ (weight / weight.sum()))
