"""Objects that stand out from a wall, and reach: ADA 2010 Standards for Accessible Design, sections 307, 308, 403 and 603.

The standards bind public accommodations, commercial and government buildings in the United States; homes are usually outside
them. The owner's accessibility consultant and the local authority decide; edition and local amendments first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from halfsilver.engineering.bounds import entry, exceeds, not_negative
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH

CANE_HEIGHT_MM = 27 * MM_PER_INCH  # 307.2: an edge at or below is found by a cane
HEADROOM_MM = 80 * MM_PER_INCH  # 307.2, 307.4
CLEAR_WIDTH_MM = 36 * MM_PER_INCH  # 403.5.1 [memory]
PROTRUSION_MM = {"wall": 4 * MM_PER_INCH, "handrail": 4.5 * MM_PER_INCH, "post": 12 * MM_PER_INCH}  # 307.2, its exception, 307.3
REACH_LOW_MM = 15 * MM_PER_INCH  # 308.2.1, 308.3.1
REACH_HIGH_MM = 48 * MM_PER_INCH  # 308.2.1, 308.3.1
FORWARD_IN = ((20.0, 48.0), (25.0, 44.0))  # 308.2.2: depth reached over, and how high then
SIDE_NEAR_MM, SIDE_DEEP_MM = 10 * MM_PER_INCH, 24 * MM_PER_INCH  # 308.3.2: to the first as without, to the second lower [memory]
SIDE_DEEP_HIGH_MM = 46 * MM_PER_INCH  # 308.3.2 [memory]
SIDE_OVER_MM = 34 * MM_PER_INCH  # 308.3.2: no higher may be what is reached over [memory]

Support = Literal["wall", "handrail", "post"]
Approach = Literal["forward", "side"]


@formula(
    name="access.protrusion_limit", source="ADA 2010 307.2 and 307.3", status="seen", unit="mm",
    validity="public buildings in the United States; leading edge over 27 in and up to 80 in above the floor",
)  # fmt: skip
def protrusion_limit_mm(*, bottom_edge_mm: float, support: Support = "wall") -> float | None:
    """How far an object may stand out into a circulation path.

    Parameters
    ----------
    bottom_edge_mm : float
        Height of the leading edge's lower side above the floor. [mm]
    support : {"wall", "handrail", "post"}
        What carries it; the limit on a post is the overhang beyond the post.

    Returns
    -------
    float or None
        The limit; None where there is none (edge at or below 27 in, or above 80 in). [mm]

    References
    ----------
    ADA 2010 Standards 307.2: more than 27 in and not more than 80 in, at most 4 in (handrail 4.5 in); 307.3: post, 12 in. Seen.

    Examples
    --------
    >>> protrusion_limit_mm(bottom_edge_mm=1200)
    101.6
    >>> protrusion_limit_mm(bottom_edge_mm=27 * 25.4) is None
    True
    """
    not_negative(bottom_edge_mm=bottom_edge_mm)
    limit = entry(PROTRUSION_MM, support, "support")
    found_by_cane = not exceeds(bottom_edge_mm, CANE_HEIGHT_MM)
    return None if found_by_cane or exceeds(bottom_edge_mm, HEADROOM_MM) else limit


@formula(name="access.protrusion_excess", source="ADA 2010 307.2 and 307.3", status="seen", unit="mm")
def protrusion_excess_mm(*, depth_mm: float, bottom_edge_mm: float, support: Support = "wall") -> float:
    """How much deeper an object is than `protrusion_limit_mm` allows; 0 where it keeps the limit or none applies.

    Parameters
    ----------
    depth_mm : float
        How far it stands out. [mm]
    bottom_edge_mm : float
        Height of its lower edge above the floor. [mm]
    support : {"wall", "handrail", "post"}
        What carries it.

    Returns
    -------
    float
        Excess, 0 or more. [mm]

    References
    ----------
    As `protrusion_limit_mm`. Seen.
    """
    not_negative(depth_mm=depth_mm)
    limit = protrusion_limit_mm(bottom_edge_mm=bottom_edge_mm, support=support)
    return 0.0 if limit is None or not exceeds(depth_mm, limit) else depth_mm - limit


@formula(name="access.headroom_shortfall", source="ADA 2010 307.4", status="seen", unit="mm")
def headroom_shortfall_mm(*, clear_height_mm: float) -> float:
    """How much headroom is missing under an overhead object.

    Parameters
    ----------
    clear_height_mm : float
        Clear height below it. [mm]

    Returns
    -------
    float
        80 in less the clear height, at least 0. [mm]

    References
    ----------
    ADA 2010 Standards 307.4. Seen.
    """
    not_negative(clear_height_mm=clear_height_mm)
    return HEADROOM_MM - clear_height_mm if exceeds(HEADROOM_MM, clear_height_mm) else 0.0


@formula(name="access.clear_width_shortfall", source="ADA 2010 307.5 with 403.5.1", status="memory", unit="mm")
def clear_width_shortfall_mm(*, path_width_mm: float, depth_mm: float, clear_width_mm: float = CLEAR_WIDTH_MM) -> float:
    """How much of the required clear width an object on the wall takes away.

    Parameters
    ----------
    path_width_mm : float
        Clear width of the path without the object. [mm]
    depth_mm : float
        How far the object stands out. [mm]
    clear_width_mm : float
        Required. [mm]

    Returns
    -------
    float
        36 in less what is left, at least 0. [mm]

    References
    ----------
    ADA 2010 Standards 307.5 (must not reduce the required clear width) seen; 403.5.1 (36 in) from memory.
    """
    not_negative(path_width_mm=path_width_mm, depth_mm=depth_mm)
    left = path_width_mm - depth_mm
    return clear_width_mm - left if exceeds(clear_width_mm, left) else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Heights between which a control can be reached, above the floor. [mm]"""

    low_mm: float
    high_mm: float


@formula(
    name="access.reach", source="ADA 2010 308.2 and 308.3", status="memory",
    validity="heights without obstruction and forward over one seen; side over one partly from memory",
)  # fmt: skip
def reach(
    *,
    approach: Approach,
    obstruction_depth_mm: float = 0.0,
    obstruction_height_mm: float = 0.0,
    side_deep_high_mm: float = SIDE_DEEP_HIGH_MM,
    side_over_mm: float = SIDE_OVER_MM,
) -> Reach | None:
    """Heights at which a control may be placed.

    Parameters
    ----------
    approach : {"forward", "side"}
        How a wheelchair comes to it.
    obstruction_depth_mm : float
        Depth of what is reached over; 0 for nothing. [mm]
    obstruction_height_mm : float
        Its height, of weight for a side reach only. [mm]
    side_deep_high_mm, side_over_mm : float
        Of 308.3.2: highest side reach over something deep, and how high that may be. [mm]

    Returns
    -------
    Reach or None
        None where the standard allows no reach over such an obstruction.

    References
    ----------
    ADA 2010 Standards 308.2.1, 308.3.1: 15 to 48 in; 308.2.2: 48 in to 20 in deep, 44 in to 25 in deep. Seen.
    308.3.2: at most 34 in high and 24 in deep, 48 in to 10 in deep, 46 in beyond: 48 seen, the rest from memory.
    """
    not_negative(obstruction_depth_mm=obstruction_depth_mm, obstruction_height_mm=obstruction_height_mm)
    steps = {
        "forward": tuple((depth * MM_PER_INCH, high * MM_PER_INCH) for depth, high in FORWARD_IN),
        "side": ((SIDE_NEAR_MM, REACH_HIGH_MM), (SIDE_DEEP_MM, side_deep_high_mm)),
    }
    if approach == "side" and exceeds(obstruction_height_mm, side_over_mm):
        return None
    for depth_mm, high_mm in entry(steps, approach, "approach"):
        if not exceeds(obstruction_depth_mm, depth_mm):
            return Reach(low_mm=REACH_LOW_MM, high_mm=high_mm)
    return None


@formula(name="access.mirror_bottom_limit", source="ADA 2010 603.3", status="memory", unit="mm")
def mirror_bottom_limit_mm(*, over_basin: bool) -> float:
    """Greatest height of the lower edge of a reflecting face that a person is to use as a mirror.

    Parameters
    ----------
    over_basin : bool
        Whether it hangs over a basin or counter.

    Returns
    -------
    float
        Above the floor: 40 in over a basin, 35 in elsewhere. [mm]

    References
    ----------
    ADA 2010 Standards 603.3. From memory.
    """
    return (40 if over_basin else 35) * MM_PER_INCH
