"""Panes that bend: a plate on four supported edges, a strip on two, and self-weight on a slope.

Linear small-deflection theory. Edges are held in place and free to turn, as a pane in a rebate is. Above a deflection of half the
thickness membrane action helps and these results are too high. Use the least thickness (`glass.least_thickness_mm`), not the nominal
one. Loads in pascal, lengths in millimetres, stresses in megapascal. Sloped glass above people is a matter for a structural engineer.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, cosh, fsum, pi, radians, tanh

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.constants import GLASS_DENSITY_KG_M3, GLASS_MODULUS_MPA, GLASS_POISSON
from halfsilver.model.formula import formula
from halfsilver.units.factors import STANDARD_GRAVITY_M_S2

MPA_PER_PA = 1e-6
# Roark's Formulas for Stress and Strain, Table 11.4 case 1a: long side over short, stress, deflection. Seen.
ROARK = (
    (1.0, 0.2874, 0.0444), (1.2, 0.3762, 0.0616), (1.4, 0.4530, 0.0770), (1.6, 0.5172, 0.0906), (1.8, 0.5688, 0.1017),
    (2.0, 0.6102, 0.1110), (3.0, 0.7134, 0.1335), (4.0, 0.7410, 0.1400), (5.0, 0.7476, 0.1417),
)  # fmt: skip
ROARK_STRIP = (0.7500, 0.1421)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateFactors:
    """Factors at the centre of a uniformly loaded plate on four supported edges.

    Parameters
    ----------
    deflection : float
        w D/(q a^4), a the short side. [-]
    moment_short, moment_long : float
        M/(q a^2) per unit width, across the short and across the long span. [-]
    """

    deflection: float
    moment_short: float
    moment_long: float


@formula(name="glass.plate_factors", source="Timoshenko and Woinowsky-Krieger, 2nd ed., section 30 and Table 8", status="oracle")
def plate_factors(*, aspect: float, poisson: float = GLASS_POISSON) -> PlateFactors:
    """Deflection and moments at the centre of a plate on four supported edges.

    Parameters
    ----------
    aspect : float
        Long side over short side, 1 or more. [-]
    poisson : float
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    PlateFactors

    Notes
    -----
    Single series of Lévy, the same solution as Navier's double series: strip plus a correction that fades exponentially.

    References
    ----------
    Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, 2nd ed., section 30. Oracle: agrees with Table 8 and the double series.

    Examples
    --------
    >>> square = plate_factors(aspect=1, poisson=0.3)
    >>> round(square.deflection, 5), round(square.moment_short, 4)
    (0.00406, 0.0479)
    """
    within("aspect", aspect, 1, float("1e6"), "long side over short side")
    within("poisson", poisson, 0, 0.5, "Poisson's ratio")
    deflection, along, across = [], [], []
    for m in range(1, 30, 2):
        sign = (-1) ** ((m - 1) // 2)
        half = m * pi * aspect / 2
        if half > 300:  # e^-300: the correction is gone
            break
        A = -(half * tanh(half) + 2) / (2 * cosh(half))
        curvature = A + 1 / cosh(half)
        deflection.append(sign * A / m**5)
        along.append(sign * A / m**3)
        across.append(sign * curvature / m**3)
    short, long = 4 / pi**3 * fsum(along), 4 / pi**3 * fsum(across)
    return PlateFactors(
        deflection=5 / 384 + 4 / pi**5 * fsum(deflection),
        moment_short=1 / 8 + short - poisson * long,
        moment_long=poisson * (1 / 8 + short) - long,
    )


@formula(name="glass.plate_rigidity", source="plate theory", status="derived", unit="N mm")
def plate_rigidity_n_mm(*, thickness_mm: float, modulus_mpa: float = GLASS_MODULUS_MPA, poisson: float = GLASS_POISSON) -> float:
    """Flexural rigidity of a plate per unit width.

    Parameters
    ----------
    thickness_mm : float
        Thickness. [mm]
    modulus_mpa : float
        Young's modulus; 71 700 in ASTM E1300, 70 000 in EN 572-1. [MPa]
    poisson : float
        Poisson's ratio. [-]

    Returns
    -------
    float
        E t^3/(12 (1 - nu^2)). [N mm]

    References
    ----------
    Plate theory. Derived.
    """
    positive(thickness_mm=thickness_mm, modulus_mpa=modulus_mpa)
    return modulus_mpa * thickness_mm**3 / (12 * (1 - poisson**2))


@formula(
    name="glass.plate_deflection",
    source="plate theory with glass.plate_factors",
    status="oracle",
    unit="mm",
    validity="up to half the thickness",
)
def plate_deflection_mm(
    *,
    width_mm: float,
    height_mm: float,
    thickness_mm: float,
    pressure_pa: float,
    modulus_mpa: float = GLASS_MODULUS_MPA,
    poisson: float = GLASS_POISSON,
) -> float:
    """Deflection at the centre of a pane on four supported edges under an even load.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness, the least one. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]
    modulus_mpa : float
        Young's modulus. [MPa]
    poisson : float
        Poisson's ratio. [-]

    Returns
    -------
    float
        Deflection. [mm]

    References
    ----------
    As `plate_factors`.

    Examples
    --------
    >>> round(plate_deflection_mm(width_mm=1000, height_mm=700, thickness_mm=4.57, pressure_pa=500), 3)
    1.457
    """
    positive(width_mm=width_mm, height_mm=height_mm)
    not_negative(pressure_pa=pressure_pa)
    a, b = sorted((width_mm, height_mm))
    D = plate_rigidity_n_mm(thickness_mm=thickness_mm, modulus_mpa=modulus_mpa, poisson=poisson)
    return plate_factors(aspect=b / a, poisson=poisson).deflection * pressure_pa * MPA_PER_PA * a**4 / D


@formula(
    name="glass.plate_stress",
    source="plate theory with glass.plate_factors",
    status="oracle",
    unit="MPa",
    validity="up to half the thickness",
)
def plate_stress_mpa(
    *, width_mm: float, height_mm: float, thickness_mm: float, pressure_pa: float, poisson: float = GLASS_POISSON
) -> float:
    """Greatest bending stress of a pane on four supported edges under an even load: at the centre, across the short span.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness, the least one. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]
    poisson : float
        Poisson's ratio. [-]

    Returns
    -------
    float
        Stress. [MPa]

    References
    ----------
    As `plate_factors`; stress = 6 M/t^2.

    Examples
    --------
    >>> round(plate_stress_mpa(width_mm=1000, height_mm=700, thickness_mm=4.57, pressure_pa=500), 3)
    5.267
    """
    positive(width_mm=width_mm, height_mm=height_mm, thickness_mm=thickness_mm)
    not_negative(pressure_pa=pressure_pa)
    a, b = sorted((width_mm, height_mm))
    moment = plate_factors(aspect=b / a, poisson=poisson).moment_short
    return 6 * moment * pressure_pa * MPA_PER_PA * (a / thickness_mm) ** 2


def _roark(aspect: float) -> tuple[float, float]:
    within("aspect", aspect, 1, float("1e6"), "long side over short side")
    for (r0, s0, d0), (r1, s1, d1) in pairwise(ROARK):
        if aspect <= r1:
            share = (aspect - r0) / (r1 - r0)
            return s0 + share * (s1 - s0), d0 + share * (d1 - d0)
    return ROARK_STRIP


@formula(name="glass.plate_stress_by_roark", source="Roark Table 11.4 case 1a", status="seen", unit="MPa", validity="Poisson's ratio 0.3")
def plate_stress_by_roark_mpa(*, width_mm: float, height_mm: float, thickness_mm: float, pressure_pa: float) -> float:
    """Greatest bending stress of a pane on four supported edges, by the handbook's table: for comparison with `plate_stress_mpa`.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]

    Returns
    -------
    float
        Stress; straight lines between the entries, the long strip beyond the last. [MPa]

    References
    ----------
    Roark's *Formulas for Stress and Strain*, Table 11.4 case 1a. Seen.
    """
    positive(width_mm=width_mm, height_mm=height_mm, thickness_mm=thickness_mm)
    a, b = sorted((width_mm, height_mm))
    return _roark(b / a)[0] * pressure_pa * MPA_PER_PA * (a / thickness_mm) ** 2


@formula(
    name="glass.plate_deflection_by_roark", source="Roark Table 11.4 case 1a", status="seen", unit="mm", validity="Poisson's ratio 0.3"
)
def plate_deflection_by_roark_mm(
    *, width_mm: float, height_mm: float, thickness_mm: float, pressure_pa: float, modulus_mpa: float = GLASS_MODULUS_MPA
) -> float:
    """Deflection at the centre of a pane on four supported edges, by the handbook's table: for comparison with `plate_deflection_mm`.

    Parameters
    ----------
    width_mm, height_mm : float
        Supported span each way, in any order. [mm]
    thickness_mm : float
        Thickness. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]
    modulus_mpa : float
        Young's modulus. [MPa]

    Returns
    -------
    float
        Deflection; printed factors differ from the series by up to 0.6 %. [mm]

    References
    ----------
    Roark's *Formulas for Stress and Strain*, Table 11.4 case 1a. Seen.
    """
    positive(width_mm=width_mm, height_mm=height_mm, thickness_mm=thickness_mm, modulus_mpa=modulus_mpa)
    a, b = sorted((width_mm, height_mm))
    return _roark(b / a)[1] * pressure_pa * MPA_PER_PA * a**4 / (modulus_mpa * thickness_mm**3)


@formula(name="glass.two_edge_deflection", source="beam theory, 5/384", status="derived", unit="mm")
def two_edge_deflection_mm(*, span_mm: float, thickness_mm: float, pressure_pa: float, modulus_mpa: float = GLASS_MODULUS_MPA) -> float:
    """Deflection in the middle of a pane held on two opposite edges only: far weaker than on four.

    Parameters
    ----------
    span_mm : float
        Distance of the two edges. [mm]
    thickness_mm : float
        Thickness, the least one. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]
    modulus_mpa : float
        Young's modulus. [MPa]

    Returns
    -------
    float
        5 q L^4/(32 E t^3). [mm]

    References
    ----------
    Simply supported beam. Derived.
    """
    positive(span_mm=span_mm, thickness_mm=thickness_mm, modulus_mpa=modulus_mpa)
    return 5 * pressure_pa * MPA_PER_PA * span_mm**4 / (32 * modulus_mpa * thickness_mm**3)


@formula(name="glass.two_edge_stress", source="beam theory, 1/8", status="derived", unit="MPa")
def two_edge_stress_mpa(*, span_mm: float, thickness_mm: float, pressure_pa: float) -> float:
    """Greatest bending stress of a pane held on two opposite edges only.

    Parameters
    ----------
    span_mm : float
        Distance of the two edges. [mm]
    thickness_mm : float
        Thickness, the least one. [mm]
    pressure_pa : float
        Load normal to the pane. [Pa]

    Returns
    -------
    float
        0.75 q L^2/t^2. [MPa]

    References
    ----------
    Simply supported beam. Derived.
    """
    positive(span_mm=span_mm, thickness_mm=thickness_mm)
    return 0.75 * pressure_pa * MPA_PER_PA * (span_mm / thickness_mm) ** 2


@formula(name="glass.slope_load", source="component of self-weight", status="derived", unit="Pa")
def slope_load_pa(
    *,
    thickness_mm: float,
    slope_deg: float,
    density_kg_m3: float = GLASS_DENSITY_KG_M3,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> float:
    """Load normal to a sloping sheet from its own weight.

    Parameters
    ----------
    thickness_mm : float
        Thickness, the nominal one. [mm]
    slope_deg : float
        From the horizontal: 0 lying, 90 upright. [deg]
    density_kg_m3 : float
        Density. [kg/m3]
    gravity_m_s2 : float
        Acceleration of gravity. [m/s2]

    Returns
    -------
    float
        rho g t cos(slope); a permanent load. [Pa]

    References
    ----------
    Derived.

    Examples
    --------
    >>> round(slope_load_pa(thickness_mm=6, slope_deg=45, gravity_m_s2=9.81), 2)
    104.05
    """
    positive(thickness_mm=thickness_mm, density_kg_m3=density_kg_m3, gravity_m_s2=gravity_m_s2)
    within("slope_deg", slope_deg, 0, 90, "a sheet from lying to upright")
    return density_kg_m3 * gravity_m_s2 * thickness_mm * 1e-3 * cos(radians(slope_deg))


@formula(name="glass.linear_limit", source="small-deflection theory", status="practice", unit="mm")
def linear_limit_mm(*, thickness_mm: float) -> float:
    """Deflection up to which the linear results hold.

    Parameters
    ----------
    thickness_mm : float
        Thickness. [mm]

    Returns
    -------
    float
        Half the thickness. [mm]

    References
    ----------
    Common practice for plates that may stretch.
    """
    positive(thickness_mm=thickness_mm)
    return thickness_mm / 2


@formula(name="glass.deflection_limit", source="EN 16612:2019 9.1.4", status="seen", unit="mm")
def deflection_limit_mm(*, span_mm: float) -> float:
    """Deflection of a pane that the European standard allows.

    Parameters
    ----------
    span_mm : float
        Span. [mm]

    Returns
    -------
    float
        Smaller of span/65 and 50 mm. [mm]

    References
    ----------
    EN 16612:2019 9.1.4. Seen.
    """
    positive(span_mm=span_mm)
    return min(span_mm / 65, 50.0)


@formula(name="glass.support_deflection_limit", source="ASTM E1300, edge support", status="seen", unit="mm")
def support_deflection_limit_mm(*, span_mm: float) -> float:
    """Deflection of what holds the edge of a pane, up to which the edge counts as supported.

    Parameters
    ----------
    span_mm : float
        Length of the edge. [mm]

    Returns
    -------
    float
        L/175. [mm]

    References
    ----------
    ASTM E1300. Seen.
    """
    positive(span_mm=span_mm)
    return span_mm / 175
