"""The stick that carries: bent by what rests on it, and pulled at its mitres.

A frame is taken as a beam on two supports: glued and plated corners hold better than that. Timber under a lasting load keeps sagging.
"""

from __future__ import annotations

from halfsilver.engineering.bounds import not_negative, positive
from halfsilver.model.formula import formula

# Bending stiffness that any sound timber of a frame has, and how much more it sags in years. Common practice; from memory.
TIMBER_MODULUS_MPA = 8_000.0
CREEP = 2.0


@formula(name="frame.stick_deflection", source="beam theory, 5/384, with creep", status="derived", unit="mm", validity="simply supported")
def stick_deflection_mm(
    *, load_n: float, span_mm: float, depth_mm: float, height_mm: float, modulus_mpa: float = TIMBER_MODULUS_MPA, creep: float = CREEP
) -> float:
    """Sag in the middle of a stick under an even load that stays.

    Parameters
    ----------
    load_n : float
        Load on its whole length. [N]
    span_mm : float
        Length between the corners. [mm]
    depth_mm : float
        Timber front to back. [mm]
    height_mm : float
        Timber in the direction of the load. [mm]
    modulus_mpa : float
        Stiffness of the timber; 8000 is low for the timbers of frames (practice). [MPa]
    creep : float
        Sag after years over sag at once; 2 in a dry room (practice). [-]

    Returns
    -------
    float
        Sag. [mm]

    References
    ----------
    Derived: 5 W L^3/(384 E I), I = d h^3/12.

    Examples
    --------
    >>> round(stick_deflection_mm(load_n=384, span_mm=1000, depth_mm=12, height_mm=50, modulus_mpa=10_000, creep=1), 6)
    4.0
    """
    positive(span_mm=span_mm, depth_mm=depth_mm, height_mm=height_mm, modulus_mpa=modulus_mpa, creep=creep)
    not_negative(load_n=load_n)
    return creep * 5 * load_n * span_mm**3 / (384 * modulus_mpa * depth_mm * height_mm**3 / 12)


@formula(name="frame.mitre_pull", source="half of what the bottom stick carries", status="derived", unit="N")
def mitre_pull_n(*, load_n: float) -> float:
    """Pull on each lower mitre of a frame that hangs from its top: the side stick lifts the bottom stick.

    Parameters
    ----------
    load_n : float
        What rests on the bottom stick, and the stick. [N]

    Returns
    -------
    float
        Pull. [N]

    References
    ----------
    Derived.
    """
    not_negative(load_n=load_n)
    return load_n / 2


@formula(name="frame.screw_edge", source="NDS commentary, spacing to keep timber from splitting", status="memory", unit="mm")
def screw_edge_mm(*, diameter_mm: float) -> float:
    """Least distance from a screw's middle to the edge of the timber along the grain.

    Parameters
    ----------
    diameter_mm : float
        Shank diameter. [mm]

    Returns
    -------
    float
        2.5 diameters; holes are drilled. [mm]

    References
    ----------
    NDS 2018 commentary, Table C12.1.5.7. From memory.
    """
    positive(diameter_mm=diameter_mm)
    return 2.5 * diameter_mm
