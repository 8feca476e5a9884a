"""From XYZ to the numbers of a picture file: sRGB with a stated exposure.

A lit strip outshines the rest by more than a picture can show. What lies above white is cut at white, and a colour outside
the gamut is moved straight towards the grey of the same luminance until it fits; both keep the luminance order.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import exp

import numpy as np
from numpy.typing import ArrayLike, NDArray

Real = NDArray[np.float64]

# IEC 61966-2-1, XYZ to linear sRGB: the inverse of the matrix of its primaries and D65 white.
SRGB_TO_XYZ = np.array(
    [
        [0.4123907992659593, 0.3575843393838780, 0.1804807884018343],
        [0.2126390058715104, 0.7151686787677559, 0.0721923153607337],
        [0.0193308187155918, 0.1191947797946260, 0.9505321522496607],
    ]
)
XYZ_TO_SRGB = np.linalg.inv(SRGB_TO_XYZ)
GREY = SRGB_TO_XYZ[1]


def linear_srgb(XYZ: ArrayLike, *, white_cd_m2: float) -> Real:
    """Linear sRGB of absolute XYZ, shape (..., 3), where ``white_cd_m2`` becomes 1. May leave 0 to 1."""
    return np.asarray(np.asarray(XYZ, dtype=float) @ XYZ_TO_SRGB.T / white_cd_m2)


def in_gamut(linear: ArrayLike) -> Real:
    """Linear sRGB brought into 0 to 1: cut at white, then moved towards grey of the same luminance as far as needed."""
    colour = np.asarray(linear, dtype=float)
    grey = np.clip(colour @ GREY, 0.0, 1.0)[..., None]
    apart = colour - grey
    room = np.where(apart > 0, 1.0 - grey, grey)
    with np.errstate(divide="ignore", invalid="ignore"):
        keep = np.where(np.abs(apart) > room, room / np.abs(apart), 1.0).min(axis=-1, keepdims=True)
    return np.asarray(np.clip(grey + keep * apart, 0.0, 1.0))


def encoded(linear: ArrayLike) -> Real:
    """Values of sRGB, 0 to 1, of linear ones.

    References
    ----------
    IEC 61966-2-1:1999, the two-part curve (secondary).
    """
    value = np.clip(np.asarray(linear, dtype=float), 0.0, 1.0)
    return np.asarray(np.where(value <= 0.0031308, 12.92 * value, 1.055 * value ** (1 / 2.4) - 0.055))


def exposure_for(luminance: Iterable[ArrayLike]) -> tuple[float, float]:
    """Factor that brings the log average of what is lit to 0.18, the middle grey, and the brightest luminance after it.

    ``luminance`` comes in parts, such as bands of rows, so that a large picture needs no copy.

    References
    ----------
    Reinhard, Stark, Shirley and Ferwerda, Photographic tone reproduction for digital images (2002), eq. 1 and 2 (memory).

    Examples
    --------
    >>> [round(one, 6) for one in exposure_for([[0.18, 0.0], [0.18, 0.18]])]
    [1.0, 0.18]
    """
    total, count, most = 0.0, 0, 0.0
    for part in luminance:
        light = np.asarray(part, dtype=float)
        lit = light[light > 0]
        total, count, most = total + float(np.log(lit).sum()), count + lit.size, max(most, float(light.max(initial=0.0)))
    exposure = 0.18 / exp(total / count) if count else 1.0
    return exposure, most * exposure


def toned(linear: ArrayLike, *, exposure: float, white: float) -> Real:
    """Linear values with highlights rolled off: L (1 + L/white^2)/(1 + L) on luminance, colours kept; ``white`` becomes 1.

    ``white`` counts after the exposure; small values stay as they are.

    References
    ----------
    The same, eq. 4 (memory).

    Examples
    --------
    >>> toned([[4.0, 4.0, 4.0], [0.0, 0.0, 0.0]], exposure=1.0, white=4.0).round(6).tolist()
    [[1.0, 1.0, 1.0], [0.0, 0.0, 0.0]]
    """
    colour = np.asarray(linear, dtype=float) * exposure
    light = colour @ GREY
    return np.asarray(colour * ((1 + light / white**2) / (1 + light))[..., None])
