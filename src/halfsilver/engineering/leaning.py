"""A person leaning on a pane: a load on a small patch in its middle, four edges supported.

Linear theory: beyond half the thickness a held pane stretches and carries more than this says, so the stress is an upper bound.
"""

from __future__ import annotations

from itertools import pairwise
from math import cosh, fsum, log, pi, tanh

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.constants import GLASS_MODULUS_MPA, GLASS_POISSON
from halfsilver.engineering.plates import plate_rigidity_n_mm
from halfsilver.model.formula import formula

# Roark Table 11.4 case 1b: long side over short side, and beta of the stress. Infinity stands for the last step. [memory]
STEPS = ((1.0, 0.435), (1.2, 0.650), (1.4, 0.789), (1.6, 0.875), (1.8, 0.927), (2.0, 0.958), (float("inf"), 1.000))


@formula(
    name="glass.patch_deflection", source="Timoshenko and Woinowsky-Krieger, 2nd ed., section 34 and Table 23", status="oracle", unit="mm",
    validity="up to half the thickness",
)  # fmt: skip
def patch_deflection_mm(
    *,
    width_mm: float,
    height_mm: float,
    thickness_mm: float,
    load_n: float,
    modulus_mpa: float = GLASS_MODULUS_MPA,
    poisson: float = GLASS_POISSON,
) -> float:
    """Deflection at the centre of a pane on four supported edges under a load in its middle.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness for deflection, the least one. [mm]
    load_n : float
        Load normal to the pane. [N]
    modulus_mpa, poisson : float
        Young's modulus and Poisson's ratio. [MPa, -]

    Returns
    -------
    float
        Deflection. [mm]

    References
    ----------
    Timoshenko and Woinowsky-Krieger, section 34: w = k P a^2/D, Table 23 prints k = 0.01160 for a square and 0.01651 for 2 to 1.

    Examples
    --------
    >>> one = dict(width_mm=1, height_mm=1, thickness_mm=12 ** (1 / 3), load_n=1, modulus_mpa=1, poisson=0)
    >>> round(patch_deflection_mm(**one), 4)
    0.0116
    """
    positive(width_mm=width_mm, height_mm=height_mm)
    not_negative(load_n=load_n)
    a, b = sorted((width_mm, height_mm))
    terms = []
    for m in range(1, 60, 2):
        half = m * pi * b / (2 * a)
        terms.append((tanh(half) - (half / cosh(half) ** 2 if half < 300 else 0.0)) / m**3)
    D = plate_rigidity_n_mm(thickness_mm=thickness_mm, modulus_mpa=modulus_mpa, poisson=poisson)
    return fsum(terms) / (2 * pi**3) * load_n * a * a / D


@formula(
    name="glass.patch_stress", source="Roark Table 11.4 case 1b", status="memory", unit="MPa",
    validity="load on a patch away from the edges; agrees with a double series",
)  # fmt: skip
def patch_stress_mpa(
    *, width_mm: float, height_mm: float, thickness_mm: float, load_n: float, radius_mm: float, poisson: float = GLASS_POISSON
) -> float:
    """Bending stress under a round patch of load in the middle of a pane on four supported edges.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness for stress, the least one. [mm]
    load_n : float
        Load normal to the pane. [N]
    radius_mm : float
        Radius of the patch; a hand or shoulder about 50 mm (assumed). [mm]
    poisson : float
        Poisson's ratio. [-]

    Returns
    -------
    float
        Stress. [MPa]

    References
    ----------
    Roark's Formulas, Table 11.4 case 1b: 3 W/(2 pi t^2) ((1 + nu) ln(2 b/(pi r)) + beta), b the short side. From memory; beta agrees with
    the series of Timoshenko section 37.
    """
    positive(width_mm=width_mm, height_mm=height_mm, thickness_mm=thickness_mm, radius_mm=radius_mm)
    not_negative(load_n=load_n)
    a, b = sorted((width_mm, height_mm))
    within("radius_mm", radius_mm, thickness_mm / 2, a / 4, "a patch well inside the pane")
    spread = (1 + poisson) * log(2 * a / (pi * radius_mm)) + _beta(b / a)
    return 3 * load_n / (2 * pi * thickness_mm**2) * spread


def _beta(aspect: float) -> float:
    """Between two steps of the table by a straight line; beyond 2 the value for a long strip."""
    for (low, at_low), (high, at_high) in pairwise(STEPS):
        if aspect <= high:
            return at_high if high == float("inf") else at_low + (at_high - at_low) * (aspect - low) / (high - low)
    return STEPS[-1][1]
