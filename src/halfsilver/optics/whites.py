"""Colour temperature: the black body's colours, and the temperature that a colour comes nearest to."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula
from halfsilver.optics.colour import chromaticity, xyz
from halfsilver.optics.standard import WAVELENGTH_NM

Real = NDArray[np.float64]
# Second radiation constant, 2019 SI: h c/k. [m K]
C2_M_K = 1.438776877e-2
LEAST_K, MOST_K = 1000.0, 25_000.0


def black_body(temperature_k: ArrayLike, *, wavelength_nm: ArrayLike = WAVELENGTH_NM) -> Real:
    """Relative spectral power of a black body (1 at 560 nm), shape (..., wavelengths).

    References
    ----------
    Planck's law; CIE 15 uses c2 = 1.4388e-2 m K for colours, which moves no digit shown here.
    """
    temperature = np.asarray(temperature_k, dtype=float)[..., None]
    metres = np.asarray(wavelength_nm, dtype=float) * 1e-9
    return np.asarray((560e-9 / metres) ** 5 * np.expm1(C2_M_K / (560e-9 * temperature)) / np.expm1(C2_M_K / (metres * temperature)))


def black_body_xy(temperature_k: float) -> Real:
    """Chromaticity x, y of a black body.

    Raises
    ------
    RangeError
        Outside 1000 to 25 000 K.
    """
    if not LEAST_K <= temperature_k <= MOST_K:
        raise RangeError(f"A colour temperature is {temperature_k:g} K; it must be between {LEAST_K:g} and {MOST_K:g} K.")
    return chromaticity(xyz(black_body(temperature_k)))


@formula(
    name="colour.temperature_mccamy", source="McCamy, Color Research and Application 17 (1992) 142-144", status="memory", unit="K",
    validity="whites near the black body, 2800 to 6500 K",
)  # fmt: skip
def temperature_by_mccamy(*, x: float, y: float) -> float:
    """Correlated colour temperature by a cubic in one slope. [K]

    Examples
    --------
    >>> round(temperature_by_mccamy(x=0.31272, y=0.32903), 1), round(temperature_by_mccamy(x=0.44757, y=0.40745), 1)
    (6503.8, 2857.3)
    """
    if y == 0.1858:
        raise RangeError("The formula has no value at y = 0.1858.")
    n = (x - 0.3320) / (0.1858 - y)
    return 449 * n**3 + 3525 * n**2 + 6823.3 * n + 5520.33


@formula(
    name="colour.temperature", source="CIE 15: nearest black body in CIE 1960 u, v", status="oracle", unit="K",
    validity="1000 to 25 000 K, within 0.05 of the black body",
)  # fmt: skip
def temperature_k(*, x: float, y: float) -> float:
    """Correlated colour temperature: that of the nearest black body in the u, v diagram of 1960. [K]

    Raises
    ------
    RangeError
        If the colour is farther than 0.05 from every black body, where the notion means nothing (CIE 15).

    Examples
    --------
    >>> round(temperature_k(x=0.44757, y=0.40745))
    2856
    """
    mired, places = _locus()
    here = _uv(np.array([x, y]))
    far = np.sum((places - here) ** 2, axis=-1)
    nearest = int(np.clip(np.argmin(far), 1, mired.size - 2))
    before, at, after = far[nearest - 1 : nearest + 2]
    # The square of the distance is a parabola close to its least value.
    step = (before - after) / (2 * (before - 2 * at + after))
    if at > 0.05**2 or not abs(step) <= 1:
        raise RangeError(f"x {x:g}, y {y:g} is not a white: no black body from {LEAST_K:g} to {MOST_K:g} K lies near.")
    return float(1e6 / (mired[nearest] + step * (mired[1] - mired[0])))


def tint(xy: Sequence[float] | Real) -> float:
    """Distance from the black body in u, v of 1960, above zero on the green side (Duv)."""
    here = _uv(np.asarray(xy, dtype=float))
    there = _uv(black_body_xy(temperature_k(x=float(xy[0]), y=float(xy[1]))))
    return float(np.copysign(np.hypot(*(here - there)), here[1] - there[1]))


@cache
def _locus() -> tuple[Real, Real]:
    mired = np.arange(1e6 / MOST_K, 1e6 / LEAST_K + 1, 1.0)
    return mired, _uv(chromaticity(xyz(black_body(1e6 / mired))))


def _uv(xy: Real) -> Real:
    x, y = xy[..., 0], xy[..., 1]
    scale = -2 * x + 12 * y + 3
    return np.stack((4 * x / scale, 6 * y / scale), axis=-1)
