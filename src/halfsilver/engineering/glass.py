"""Panes as pieces: mass, movement, thickness, clearance, what may be cut."""

from __future__ import annotations

from halfsilver.engineering.bounds import entry, not_negative, positive
from halfsilver.engineering.constants import GLASS_DENSITY_KG_M3, GLASS_EXPANSION_PER_K
from halfsilver.model.formula import formula

# ASTM E1300 / C1036: least thickness that a pane of a nominal thickness may have. Seen in a public transcription.
LEAST_THICKNESS_MM = {
    2.5: 2.16, 3.0: 2.92, 4.0: 3.78, 5.0: 4.57, 6.0: 5.56, 8.0: 7.42,
    10.0: 9.02, 12.0: 11.91, 16.0: 15.09, 19.0: 18.26, 22.0: 21.44,
}  # fmt: skip
# EN 572-2: tolerance of the nominal thickness, plus and minus. From memory; 12 mm is quoted as 0.3 or 0.4 elsewhere.
THICKNESS_TOLERANCE_MM = {3.0: 0.2, 4.0: 0.2, 5.0: 0.2, 6.0: 0.2, 8.0: 0.3, 10.0: 0.3, 12.0: 0.3, 15.0: 0.5, 19.0: 1.0, 25.0: 1.0}


@formula(name="glass.pane_mass", source="EN 572-1, density 2500 kg/m3", status="seen", unit="kg")
def pane_mass_kg(*, width_mm: float, height_mm: float, thickness_mm: float, density_kg_m3: float = GLASS_DENSITY_KG_M3) -> float:
    """Mass of a rectangular pane, from its nominal thickness.

    Parameters
    ----------
    width_mm, height_mm, thickness_mm : float
        Size. [mm]
    density_kg_m3 : float
        2500 for soda-lime float glass (EN 572-1, seen); 1190 for acrylic (common practice). [kg/m3]

    Returns
    -------
    float
        Mass. [kg]

    References
    ----------
    EN 572-1: 2.5 kg/m2 per mm. Seen.

    Examples
    --------
    >>> round(pane_mass_kg(width_mm=1200, height_mm=700, thickness_mm=6), 6)
    12.6
    """
    positive(width_mm=width_mm, height_mm=height_mm, thickness_mm=thickness_mm, density_kg_m3=density_kg_m3)
    return density_kg_m3 * width_mm * height_mm * thickness_mm * 1e-9


@formula(name="glass.expansion", source="EN 572-1, 9e-6 per K", status="seen", unit="mm")
def expansion_mm(*, length_mm: float, rise_k: float, expansion_per_k: float = GLASS_EXPANSION_PER_K) -> float:
    """Growth of a length with temperature; negative when it cools.

    Parameters
    ----------
    length_mm : float
        Length. [mm]
    rise_k : float
        Change of temperature. [K]
    expansion_per_k : float
        9e-6 for soda-lime glass (EN 572-1, seen); 70e-6 for acrylic (common practice). [1/K]

    Returns
    -------
    float
        Growth. [mm]

    References
    ----------
    EN 572-1. Seen.

    Examples
    --------
    >>> round(expansion_mm(length_mm=1200, rise_k=40), 6)
    0.432
    """
    not_negative(length_mm=length_mm, expansion_per_k=expansion_per_k)
    return expansion_per_k * length_mm * rise_k


@formula(name="glass.least_thickness", source="ASTM E1300 / C1036 designation table", status="seen", unit="mm")
def least_thickness_mm(*, nominal_mm: float) -> float:
    """Least thickness of a pane sold under a nominal one: strength goes with its square and stiffness with its cube.

    Parameters
    ----------
    nominal_mm : float
        Nominal thickness. [mm]

    Returns
    -------
    float
        Least thickness. [mm]

    Raises
    ------
    RangeError
        If the table has no such nominal thickness.

    References
    ----------
    ASTM E1300 / C1036. Seen in a public transcription.

    Examples
    --------
    >>> least_thickness_mm(nominal_mm=6)
    5.56
    """
    return entry(LEAST_THICKNESS_MM, float(nominal_mm), "nominal thickness in ASTM E1300 [mm]:")


@formula(name="glass.thickness_tolerance", source="EN 572-2", status="memory", unit="mm")
def thickness_tolerance_mm(*, nominal_mm: float) -> float:
    """Tolerance of a nominal thickness, plus and minus.

    Parameters
    ----------
    nominal_mm : float
        Nominal thickness. [mm]

    Returns
    -------
    float
        Tolerance. [mm]

    Raises
    ------
    RangeError
        If the table has no such nominal thickness.

    References
    ----------
    EN 572-2. From memory; for 12 mm secondary sources give 0.3 or 0.4.
    """
    return entry(THICKNESS_TOLERANCE_MM, float(nominal_mm), "nominal thickness in EN 572-2 [mm]:")


@formula(name="glass.frame_clearance", source="sum of what a pane may gain on its rebate", status="derived", unit="mm")
def frame_clearance_mm(*, glass_tolerance_mm: float, rebate_tolerance_mm: float, growth_mm: float) -> float:
    """Least clearance, for one direction, that keeps a pane from ever filling its rebate.

    Parameters
    ----------
    glass_tolerance_mm, rebate_tolerance_mm : float
        Limits of the pane's and the opening's size. [mm]
    growth_mm : float
        How much more the pane grows than the frame, see `expansion_mm`. [mm]

    Returns
    -------
    float
        Clearance in the direction asked. [mm]

    References
    ----------
    Derived: worst case of three. For a 1.2 m side 1.6 (1/16 in, ASTM C1036, from memory) + 1.0 + 0.4 = 3.0 mm.
    """
    not_negative(glass_tolerance_mm=glass_tolerance_mm, rebate_tolerance_mm=rebate_tolerance_mm, growth_mm=growth_mm)
    return glass_tolerance_mm + rebate_tolerance_mm + growth_mm


@formula(name="glass.least_strip", source="common practice", status="practice", unit="mm")
def least_strip_mm(*, thickness_mm: float) -> float:
    """Narrowest strip that breaks by hand from a score; narrower needs pliers and loses quality of edge.

    Parameters
    ----------
    thickness_mm : float
        Thickness. [mm]

    Returns
    -------
    float
        The larger of ten thicknesses and 12 mm. [mm]

    References
    ----------
    Common practice.
    """
    positive(thickness_mm=thickness_mm)
    return max(10 * thickness_mm, 12.0)


@formula(name="glass.hole_edge_distance", source="EN 12150-1", status="memory", unit="mm")
def hole_edge_distance_mm(*, thickness_mm: float, at_corner: bool = False) -> float:
    """Least distance from the rim of a hole to the edge of a toughened pane, or to its corner.

    Parameters
    ----------
    thickness_mm : float
        Nominal thickness. [mm]
    at_corner : bool
        Distance to a corner instead of an edge.

    Returns
    -------
    float
        Two thicknesses, six to a corner. [mm]

    References
    ----------
    EN 12150-1. From memory. The strength charts hold for panes without holes.
    """
    positive(thickness_mm=thickness_mm)
    return (6 if at_corner else 2) * thickness_mm
