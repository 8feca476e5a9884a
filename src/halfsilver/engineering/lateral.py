"""Screws and nails sheared sideways: yield limits of a dowel between two members, also across a gap such as plasterboard.

The equations of AWC Technical Report 12; without a gap they are those of NDS 2018 Table 12.3.1A. Results are allowable loads before
the factor for the duration of load. Whoever hangs something heavy over people asks a licensed structural engineer.
"""

from __future__ import annotations

from math import sqrt

from halfsilver.engineering.bounds import entry, not_negative, positive, within
from halfsilver.engineering.fasteners import GRAVITY_RANGE, NDS, screw_diameter_mm
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH, N_PER_LBF

MPA_PER_PSI = N_PER_LBF / MM_PER_INCH**2
SHEET_STEEL_PSI = 61_850.0  # ASTM A653 grade 33 as a side member, NDS Tables 12M and 12P [memory]
# NDS 2018 Appendix L and Table I1: root diameter [in] and bending yield strength [psi]. No. 10 seen in AWC example E2.4, the rest memory.
ROOT_IN = {6: 0.113, 8: 0.131, 9: 0.142, 10: 0.152, 12: 0.171, 14: 0.196}
SCREW_YIELD_PSI = {6: 100_000.0, 8: 90_000.0, 9: 90_000.0, 10: 80_000.0, 12: 80_000.0, 14: 70_000.0}


@formula(name="timber.dowel_bearing", source=f"{NDS} Table 12.3.3", status="seen", unit="MPa", validity="diameter below 1/4 in")
def dowel_bearing_mpa(*, specific_gravity: float) -> float:
    """Strength of timber against a thin dowel pressed sideways into it, whatever the grain.

    Parameters
    ----------
    specific_gravity : float
        NDS assigned gravity, 0.31 to 0.73. [-]

    Returns
    -------
    float
        Bearing strength. [MPa]

    References
    ----------
    NDS 2018 Table 12.3.3: 16 600 G^1.84 psi, printed as 4650 for 0.50. Seen through a verification suite of the AWC examples.

    Examples
    --------
    >>> round(dowel_bearing_mpa(specific_gravity=0.50) * 25.4**2 / 4.4482216 / 50) * 50
    4650
    """
    within("specific_gravity", specific_gravity, *GRAVITY_RANGE, f"{NDS} Tables 12.2A to C")
    strength: float = 16_600 * specific_gravity**1.84 * MPA_PER_PSI
    return strength


@formula(name="timber.lateral_reduction", source=f"{NDS} Table 12.3.1B", status="seen", validity="diameter below 1/4 in")
def lateral_reduction(*, diameter_mm: float) -> float:
    """What a yield load is divided by to become an allowable one.

    Parameters
    ----------
    diameter_mm : float
        Shank diameter, below 1/4 in. [mm]

    Returns
    -------
    float
        2.2 to 0.17 in, 10 D + 0.5 above. [-]

    References
    ----------
    NDS 2018 Table 12.3.1B. Seen.
    """
    positive(diameter_mm=diameter_mm)
    within("diameter_mm", diameter_mm, 0, 0.25 * MM_PER_INCH, f"{NDS} Table 12.3.1B for thin dowels")
    inches = diameter_mm / MM_PER_INCH
    return 2.2 if inches <= 0.17 else 10 * inches + 0.5


@formula(
    name="timber.lateral_load", source="AWC TR 12, dowel equations; NDS 2018 Table 12.3.1A without a gap", status="memory", unit="N",
    validity="one shear plane, diameter below 1/4 in; without a gap seen",
)  # fmt: skip
def lateral_load_n(
    *,
    diameter_mm: float,
    root_mm: float,
    yield_mpa: float,
    side_mm: float,
    side_mpa: float,
    main_mm: float,
    main_mpa: float,
    gap_mm: float = 0.0,
) -> float:
    """Allowable shear of one screw or nail, before the factor for duration.

    Parameters
    ----------
    diameter_mm, root_mm : float
        Shank, and the diameter that bends: the root of a thread. [mm]
    yield_mpa : float
        Bending yield strength of the steel. [MPa]
    side_mm, side_mpa : float
        Length in the member under the head, and its bearing strength. [mm, MPa]
    main_mm, main_mpa : float
        The same for the member that holds the point. [mm, MPa]
    gap_mm : float
        Between the two, filled with nothing that carries, such as plasterboard. [mm]

    Returns
    -------
    float
        The least of the six yield modes over the reduction. [N]

    References
    ----------
    AWC TR 12 (memory). Without a gap: NDS 2018 Table 12.3.1A; AWC solved example, 10d nail of 0.148 in through
    3/4 in of G 0.50: 105 lb.

    Examples
    --------
    >>> wood, inch = dowel_bearing_mpa(specific_gravity=0.50), 25.4
    >>> nail = dict(diameter_mm=0.148 * inch, root_mm=0.148 * inch, yield_mpa=90_000 * 4.4482216 / inch**2)
    >>> load = lateral_load_n(**nail, side_mm=0.75 * inch, side_mpa=wood, main_mm=2.25 * inch, main_mpa=wood)
    >>> round(load / 4.4482216)
    105
    """
    positive(root_mm=root_mm, yield_mpa=yield_mpa, side_mm=side_mm, side_mpa=side_mpa, main_mm=main_mm, main_mpa=main_mpa)
    not_negative(gap_mm=gap_mm)
    qs, qm, moment = side_mpa * root_mm, main_mpa * root_mm, yield_mpa * root_mm**3 / 6
    s, m = side_mm, main_mm
    modes = (
        (1 / (4 * qs) + 1 / (4 * qm), s / 2 + gap_mm + m / 2, qs * s * s / 4 + qm * m * m / 4),  # II
        (1 / (2 * qs) + 1 / (4 * qm), gap_mm + m / 2, moment + qm * m * m / 4),  # III, main member
        (1 / (4 * qs) + 1 / (2 * qm), s / 2 + gap_mm, moment + qs * s * s / 4),  # III, side member
        (1 / (2 * qs) + 1 / (2 * qm), gap_mm, 2 * moment),  # IV
    )
    yields = [qs * s, qm * m, *((sqrt(B * B + 4 * A * C) - B) / (2 * A) for A, B, C in modes)]
    return min(yields) / lateral_reduction(diameter_mm=diameter_mm)


@formula(
    name="timber.screw_lateral", source="NDS 2018 chapter 12, Appendix L and Table I1", status="memory", unit="N",
    validity="No. 6, 8, 9, 10, 12 and 14; sizes of No. 10 seen",
)  # fmt: skip
def screw_lateral_n(*, number: int, thread_mm: float, specific_gravity: float, steel_side_mm: float, gap_mm: float = 0.0) -> float:
    """Allowable shear of a wood screw through sheet steel into side grain, before the factor for duration.

    Parameters
    ----------
    number : {6, 8, 9, 10, 12, 14}
        Wood screw number.
    thread_mm : float
        Screw in the timber. [mm]
    specific_gravity : float
        NDS assigned gravity. [-]
    steel_side_mm : float
        Thickness of the metal under the head. [mm]
    gap_mm : float
        Lining between metal and timber. [mm]

    Returns
    -------
    float
        Load. [N]

    References
    ----------
    As `timber.lateral_load`; steel as ASTM A653 grade 33, 61 850 psi (memory).
    """
    return lateral_load_n(
        diameter_mm=screw_diameter_mm(number=number),
        root_mm=entry(ROOT_IN, number, "wood screw number") * MM_PER_INCH,
        yield_mpa=entry(SCREW_YIELD_PSI, number, "wood screw number") * MPA_PER_PSI,
        side_mm=steel_side_mm,
        side_mpa=SHEET_STEEL_PSI * MPA_PER_PSI,
        main_mm=thread_mm,
        main_mpa=dowel_bearing_mpa(specific_gravity=specific_gravity),
        gap_mm=gap_mm,
    )
