"""What an instrument may be off by, how limits add up, and what a mitre does with them.

A limit is plus and minus. For one-off glass in a one-off frame use the worst case.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, degrees, fsum, hypot, radians, sqrt, tan

from halfsilver.engineering.bounds import RELATIVE_SLACK, entry, not_negative, positive, within
from halfsilver.model.formula import formula

# OIML R 35 and directive 2014/32/EU: constant [mm] and growth [mm per metre]. From memory.
TAPE_CLASSES = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}


@formula(name="measuring.tape_limit", source="OIML R 35; 2014/32/EU", status="memory", unit="mm")
def tape_limit_mm(*, length_mm: float, tape_class: str) -> float:
    """Greatest error of a tape of an accuracy class.

    Parameters
    ----------
    length_mm : float
        Length measured; counted up to whole metres. [mm]
    tape_class : {"I", "II", "III"}
        Accuracy class printed on the tape.

    Returns
    -------
    float
        Limit, plus and minus. [mm]

    References
    ----------
    OIML R 35: a + b L, L in metres rounded up. From memory.

    Examples
    --------
    >>> round(tape_limit_mm(length_mm=3000, tape_class="II"), 6)
    0.9
    """
    positive(length_mm=length_mm)
    constant, growth = entry(TAPE_CLASSES, tape_class, "tape class")
    metres = ceil(length_mm / 1000 * (1 - RELATIVE_SLACK))
    return constant + growth * metres


@formula(name="measuring.reading_limit", source="half a division", status="derived", unit="mm")
def reading_limit_mm(*, division_mm: float) -> float:
    """Greatest error from reading to the nearest mark.

    Parameters
    ----------
    division_mm : float
        Distance of the marks. [mm]

    Returns
    -------
    float
        Half of it. [mm]

    References
    ----------
    Derived.
    """
    positive(division_mm=division_mm)
    return division_mm / 2


@formula(name="measuring.worst_case", source="sum of limits", status="derived", unit="mm")
def worst_case_mm(*, limits_mm: Sequence[float]) -> float:
    """Worst case of a chain: the limits of all its members, whatever the sign they enter with.

    Parameters
    ----------
    limits_mm : sequence of float
        Plus and minus limit of each member. [mm]

    Returns
    -------
    float
        Limit of the chain. [mm]

    References
    ----------
    Derived.

    Examples
    --------
    >>> round(worst_case_mm(limits_mm=[0.10, 0.05, 0.03, 0.05]), 6)
    0.23
    """
    return fsum(abs(limit) for limit in limits_mm)


@formula(
    name="measuring.root_sum_square", source="statistical stack", status="seen", unit="mm",
    validity="independent, centred members of the same capability",
)  # fmt: skip
def root_sum_square_mm(*, limits_mm: Sequence[float]) -> float:
    """Likely limit of a chain whose members vary independently.

    Parameters
    ----------
    limits_mm : sequence of float
        Plus and minus limit of each member. [mm]

    Returns
    -------
    float
        Root of the sum of squares. [mm]

    References
    ----------
    Textbook rule for independent, centred members. Seen.

    Examples
    --------
    >>> round(root_sum_square_mm(limits_mm=[0.1] * 10), 3)
    0.316
    """
    return hypot(*limits_mm)


@formula(name="measuring.mitre_saw_angle", source="geometry of a regular polygon", status="derived", unit="deg")
def mitre_saw_angle_deg(*, sides: int = 4) -> float:
    """Setting of the saw for a frame of equal corners, from the square cut.

    Parameters
    ----------
    sides : int
        Number of sides, 3 or more.

    Returns
    -------
    float
        Half the turn at a corner. [deg]

    References
    ----------
    Derived: 180/n.
    """
    within("sides", sides, 3, 1000, "a closed frame")
    return 180 / sides


@formula(name="measuring.outside_length", source="geometry of a mitred frame", status="derived", unit="mm")
def outside_length_mm(*, inside_mm: float, rail_width_mm: float, sides: int = 4) -> float:
    """Length of a mitred stick over its long points.

    Parameters
    ----------
    inside_mm : float
        Length of the same side at the inner edge of the width. [mm]
    rail_width_mm : float
        Width between the two. [mm]
    sides : int
        Number of equal corners of the frame.

    Returns
    -------
    float
        Length. [mm]

    References
    ----------
    Derived: inside + 2 w tan(180/n).

    Examples
    --------
    >>> round(outside_length_mm(inside_mm=600, rail_width_mm=50), 6)
    700.0
    """
    positive(inside_mm=inside_mm, rail_width_mm=rail_width_mm)
    return inside_mm + 2 * rail_width_mm * tan(radians(mitre_saw_angle_deg(sides=sides)))


@formula(name="measuring.mitre_gap", source="geometry of a mitred frame", status="derived", unit="mm")
def mitre_gap_mm(*, rail_width_mm: float, error_deg: float, sides: int = 4) -> float:
    """Gap at one end of a mitre when one of its two cuts is off.

    Parameters
    ----------
    rail_width_mm : float
        Width of the rail. [mm]
    error_deg : float
        Error of the one cut. [deg]
    sides : int
        Number of equal corners of the frame.

    Returns
    -------
    float
        Gap. [mm]

    References
    ----------
    Derived: length of the joint, w/cos(180/n), times the tangent of the error.

    Examples
    --------
    >>> round(mitre_gap_mm(rail_width_mm=70, error_deg=0.25), 2)
    0.43
    """
    positive(rail_width_mm=rail_width_mm)
    joint = rail_width_mm / cos(radians(mitre_saw_angle_deg(sides=sides)))
    return joint * tan(radians(abs(error_deg)))


@formula(name="measuring.last_mitre_error", source="sum of angles round a closed frame", status="derived", unit="deg")
def last_mitre_error_deg(*, error_deg: float, sides: int = 4) -> float:
    """Error left for the last joint when every cut is off the same way.

    Parameters
    ----------
    error_deg : float
        Error of each cut. [deg]
    sides : int
        Number of sides, each with two cuts.

    Returns
    -------
    float
        Error at the last joint. [deg]

    References
    ----------
    Derived: 2 n times the error; eight cuts out by 0.25 degrees leave 2 degrees.
    """
    return 2 * sides * error_deg


@formula(name="measuring.diagonal", source="Pythagoras", status="derived", unit="mm")
def diagonal_mm(*, width_mm: float, height_mm: float) -> float:
    """Diagonal of a square-cornered rectangle.

    Parameters
    ----------
    width_mm, height_mm : float
        Sides. [mm]

    Returns
    -------
    float
        Diagonal. [mm]

    References
    ----------
    Derived.
    """
    positive(width_mm=width_mm, height_mm=height_mm)
    return hypot(width_mm, height_mm)


@formula(name="measuring.out_of_square", source="parallelogram of small angle", status="derived", unit="deg", validity="small angles")
def out_of_square_deg(*, width_mm: float, height_mm: float, difference_mm: float) -> float:
    """How far a frame of equal opposite sides leans, from the difference of its diagonals.

    Parameters
    ----------
    width_mm, height_mm : float
        Sides. [mm]
    difference_mm : float
        Longer diagonal less the shorter. [mm]

    Returns
    -------
    float
        Angle off square. [deg]

    References
    ----------
    Derived: d (D2 - D1)/(2 a b) radians, d the diagonal of the square frame.

    Examples
    --------
    >>> round(out_of_square_deg(width_mm=600, height_mm=900, difference_mm=3), 2)
    0.17
    """
    diagonal = diagonal_mm(width_mm=width_mm, height_mm=height_mm)
    return degrees(diagonal * abs(difference_mm) / (2 * width_mm * height_mm))


@formula(name="measuring.square_tolerance", source="parallelogram of small angle", status="derived", unit="mm", validity="small angles")
def square_tolerance_mm(*, width_mm: float, height_mm: float, error_deg: float) -> float:
    """Difference of the diagonals of a frame that leans by an angle: the inverse of `out_of_square_deg`.

    Parameters
    ----------
    width_mm, height_mm : float
        Sides. [mm]
    error_deg : float
        Angle off square. [deg]

    Returns
    -------
    float
        Longer diagonal less the shorter. [mm]

    References
    ----------
    Derived.
    """
    return 2 * width_mm * height_mm * radians(abs(error_deg)) / diagonal_mm(width_mm=width_mm, height_mm=height_mm)


@formula(
    name="measuring.stock_needed",
    source="lengths and a kerf each",
    status="derived",
    unit="mm",
    validity="mitres nested nose to tail; trim apart",
)
def stock_needed_mm(*, lengths_mm: Sequence[float], kerf_mm: float) -> float:
    """Length of stick that a set of pieces uses up, ends not trimmed.

    Parameters
    ----------
    lengths_mm : sequence of float
        Pieces over their long points. [mm]
    kerf_mm : float
        Width of the cut. [mm]

    Returns
    -------
    float
        Sum of the pieces and one kerf each. [mm]

    References
    ----------
    Derived.
    """
    not_negative(kerf_mm=kerf_mm)
    return fsum(lengths_mm) + len(lengths_mm) * kerf_mm


@formula(name="measuring.standard_uncertainty", source="GUM (JCGM 100) 4.3.7, rectangular distribution", status="memory", unit="mm")
def standard_uncertainty_mm(*, limit_mm: float) -> float:
    """Standard uncertainty of a value of which only the limit is known.

    Parameters
    ----------
    limit_mm : float
        Plus and minus limit, all values between equally likely. [mm]

    Returns
    -------
    float
        Limit over the root of three. [mm]

    References
    ----------
    JCGM 100:2008, 4.3.7. From memory.
    """
    not_negative(limit_mm=limit_mm)
    return limit_mm / sqrt(3)
