"""Heat at the edge of a pane: a strip of lights warms it, the rest stays cool, and the difference strains the glass."""

from __future__ import annotations

from math import sqrt

from halfsilver.engineering.bounds import not_negative, positive
from halfsilver.engineering.constants import GLASS_EXPANSION_PER_K, GLASS_MODULUS_MPA
from halfsilver.model.formula import formula

GLASS_CONDUCTIVITY_W_MK = 1.0  # EN 572-1 [seen]
FILM_W_M2K = 8.0  # still air and radiation on either face; common practice
SHOCK_K = {"annealed": 40.0, "heat-strengthened": 100.0, "toughened": 200.0}  # EN 572-1, EN 1863-1, EN 12150-1 [memory]


@formula(
    name="glass.edge_rise", source="fin in still air", status="derived", unit="K", validity="upper bound: all of the heat enters the edge"
)
def edge_rise_k(*, heat_w_m: float, thickness_mm: float, film_w_m2k: float = FILM_W_M2K) -> float:
    """How much warmer an edge becomes than the middle of its pane.

    Parameters
    ----------
    heat_w_m : float
        Heat that enters the edge, for each metre of it. [W/m]
    thickness_mm : float
        Thickness. [mm]
    film_w_m2k : float
        Heat passed to the air on each face; 8 in still air (practice). [W/m2K]

    Returns
    -------
    float
        q/sqrt(2 h k t). [K]

    References
    ----------
    Derived: a fin that is long against sqrt(k t/(2 h)). Conductivity 1 W/mK, EN 572-1, seen.

    Examples
    --------
    >>> edge_rise_k(heat_w_m=4, thickness_mm=4, film_w_m2k=8) == 4 / (2 * 8 * 0.004) ** 0.5
    True
    """
    not_negative(heat_w_m=heat_w_m)
    positive(thickness_mm=thickness_mm, film_w_m2k=film_w_m2k)
    return heat_w_m / sqrt(2 * film_w_m2k * GLASS_CONDUCTIVITY_W_MK * thickness_mm * 1e-3)


@formula(name="glass.heat_stress", source="restrained expansion, E a dT", status="derived", unit="MPa", validity="upper bound")
def heat_stress_mpa(*, difference_k: float) -> float:
    """Stress where one part of a pane is cooler than the rest and cannot follow it.

    Parameters
    ----------
    difference_k : float
        Difference across the pane. [K]

    Returns
    -------
    float
        E a dT. [MPa]

    References
    ----------
    Derived; 71.7 GPa (ASTM E1300) and 9e-6 per K (EN 572-1), both seen. 40 K give 25.8 MPa.

    Examples
    --------
    >>> round(heat_stress_mpa(difference_k=40), 1)
    25.8
    """
    not_negative(difference_k=difference_k)
    return GLASS_MODULUS_MPA * GLASS_EXPANSION_PER_K * difference_k
