"""Flat bars that hold a screen or a panel in its frame: bending against the yield of their metal, and how far they give.

Catalogues rarely name an alloy, so soft ones are taken: plain structural steel and a soft extruded aluminium. A bar bent cold in the
shop is harder, and cracks where it is bent twice.
"""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.model.formula import formula

YIELD_FACTOR = 1.67  # AISC 360 chapter F, allowable strength design [memory]
LIGHT_KG_M3 = 5000.0  # between aluminium, 2700, and steel, 7850


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """What a bar is taken to be made of. [MPa]"""

    name: str
    modulus_mpa: float
    yield_mpa: float


STEEL = Metal(name="steel", modulus_mpa=200_000.0, yield_mpa=250.0)  # ASTM A36 [seen in a public transcription]
ALUMINIUM = Metal(name="aluminium", modulus_mpa=69_600.0, yield_mpa=110.0)  # 6063-T5, Aluminum Design Manual [memory]


def metal_of(*, density_kg_m3: float) -> Metal:
    """The metal of a bar by its density.

    Examples
    --------
    >>> metal_of(density_kg_m3=2700).name, metal_of(density_kg_m3=7850).name
    ('aluminium', 'steel')
    """
    within("density_kg_m3", density_kg_m3, 2000, 12_000, "metals of bars")
    return ALUMINIUM if density_kg_m3 < LIGHT_KG_M3 else STEEL


@formula(name="bar.allowable_stress", source="yield over 1.67, AISC 360 chapter F", status="memory", unit="MPa")
def allowable_stress_mpa(*, yield_mpa: float) -> float:
    """Bending stress that a metal bar may carry.

    Parameters
    ----------
    yield_mpa : float
        Yield strength: 250 for ASTM A36 steel, 110 for soft extruded aluminium 6063-T5. [MPa]

    Returns
    -------
    float
        Yield over 1.67. [MPa]

    References
    ----------
    AISC 360 chapter F, allowable strength design. From memory.

    Examples
    --------
    >>> round(allowable_stress_mpa(yield_mpa=250), 1)
    149.7
    """
    positive(yield_mpa=yield_mpa)
    return yield_mpa / YIELD_FACTOR


@formula(name="bar.bending_stress", source="beam theory, 6 P a/(b t^2)", status="derived", unit="MPa", validity="flat bar, bent across t")
def bending_stress_mpa(*, load_n: float, lever_mm: float, width_mm: float, thickness_mm: float) -> float:
    """Bending stress of a flat bar.

    Parameters
    ----------
    load_n : float
        Load. [N]
    lever_mm : float
        Its lever: the arm of a bar that stands out, a quarter of the span of one on two supports with the load in its middle. [mm]
    width_mm : float
        Metal across the bending: width of a bar on two supports, length of a lip that stands out. [mm]
    thickness_mm : float
        Thickness in the direction of the load. [mm]

    Returns
    -------
    float
        Stress. [MPa]

    References
    ----------
    Derived: M/Z, M = P a, Z = b t^2/6.

    Examples
    --------
    >>> round(bending_stress_mpa(load_n=100, lever_mm=600 / 4, width_mm=25, thickness_mm=6), 6)
    100.0
    """
    not_negative(load_n=load_n, lever_mm=lever_mm)
    positive(width_mm=width_mm, thickness_mm=thickness_mm)
    return 6 * load_n * lever_mm / (width_mm * thickness_mm**2)


@formula(name="bar.lip_deflection", source="beam theory, P a^3/(3 E I)", status="derived", unit="mm", validity="held at its root")
def lip_deflection_mm(*, load_n: float, arm_mm: float, width_mm: float, thickness_mm: float, modulus_mpa: float) -> float:
    """How far a bar gives that is screwed down along one edge and loaded along the other.

    Parameters
    ----------
    load_n : float
        Load along its edge. [N]
    arm_mm : float
        From the screws to the load. [mm]
    width_mm : float
        Length of the bar, over which it bends. [mm]
    thickness_mm : float
        Thickness. [mm]
    modulus_mpa : float
        Stiffness: 200 000 for steel, 69 600 for aluminium. [MPa]

    Returns
    -------
    float
        Deflection. [mm]

    References
    ----------
    Derived: P a^3/(3 E I), I = b t^3/12.

    Examples
    --------
    >>> round(lip_deflection_mm(load_n=100, arm_mm=60, width_mm=12, thickness_mm=3, modulus_mpa=200_000), 6)
    1.333333
    """
    not_negative(load_n=load_n)
    positive(arm_mm=arm_mm, width_mm=width_mm, thickness_mm=thickness_mm, modulus_mpa=modulus_mpa)
    return 4 * load_n * arm_mm**3 / (modulus_mpa * width_mm * thickness_mm**3)


@formula(name="bar.span_deflection", source="beam theory, P L^3/(48 E I)", status="derived", unit="mm", validity="two supports")
def span_deflection_mm(*, load_n: float, span_mm: float, width_mm: float, thickness_mm: float, modulus_mpa: float) -> float:
    """How far a bar on two supports gives under a load in its middle.

    Parameters
    ----------
    load_n : float
        Load in its middle. [N]
    span_mm : float
        Between the screws at its ends. [mm]
    width_mm, thickness_mm : float
        Width, and thickness in the direction of the load. [mm]
    modulus_mpa : float
        Stiffness. [MPa]

    Returns
    -------
    float
        Deflection. [mm]

    References
    ----------
    Derived: P L^3/(48 E I), I = b t^3/12.

    Examples
    --------
    >>> round(span_deflection_mm(load_n=80, span_mm=1000, width_mm=20, thickness_mm=10, modulus_mpa=200_000), 6)
    5.0
    """
    not_negative(load_n=load_n)
    positive(span_mm=span_mm, width_mm=width_mm, thickness_mm=thickness_mm, modulus_mpa=modulus_mpa)
    return load_n * span_mm**3 / (4 * modulus_mpa * width_mm * thickness_mm**3)


@formula(name="bar.screw_pull", source="moments about the foot's outer edge", status="derived", unit="N")
def screw_pull_n(*, load_n: float, arm_mm: float, foot_mm: float, screws: int) -> float:
    """Pull on each screw of a bar whose foot is screwed down in its middle and whose edge is pushed off.

    Parameters
    ----------
    load_n : float
        Load along its edge. [N]
    arm_mm : float
        From the screws to the load. [mm]
    foot_mm : float
        Width of the foot; it turns about its outer edge, half of it from the screws. [mm]
    screws : int
        Screws in the bar.

    Returns
    -------
    float
        Pull on each. [N]

    References
    ----------
    Derived: P (a + f/2)/(n f/2).

    Examples
    --------
    >>> screw_pull_n(load_n=100, arm_mm=30, foot_mm=20, screws=4)
    100.0
    """
    not_negative(load_n=load_n, arm_mm=arm_mm)
    positive(foot_mm=foot_mm, screws=screws)
    half = foot_mm / 2
    return load_n * (arm_mm + half) / (half * screws)
