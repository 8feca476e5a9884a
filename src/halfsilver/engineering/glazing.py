"""Which glass a place calls for: United States and European safety-glazing rules.

A rule that applies says that the place is likely to need safety glass; the local building authority decides, on the edition in
force there. A half-silvered pane with a cavity behind it is *not* on a continuous backing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from halfsilver.engineering.bounds import entry, exceeds, not_negative, positive
from halfsilver.model.formula import formula
from halfsilver.units.factors import M2_PER_FT2, MM_PER_INCH, N_PER_LBF

LARGE_PANE_SQ_FT = 9.0  # IBC 2406.4.3 and 16 CFR 1201
LOW_EDGE_MM = 18 * MM_PER_INCH
HIGH_EDGE_MM = 36 * MM_PER_INCH
WALKING_DISTANCE_MM = 36 * MM_PER_INCH
WET_MM = 60 * MM_PER_INCH
SLOPED_DEG = 15.0  # from upright on glass counts as sloped: IBC 2405.1 [memory]
BESIDE_DOOR_MM = 24 * MM_PER_INCH  # IBC 2406.4.2 [memory]
IMPACTOR_LB = 100.0  # shot-filled bag of 16 CFR 1201 and ANSI Z97.1
CPSC_DROP_IN = {"I": 18.0, "II": 48.0}
ANSI_DROP_IN = {"A": 48.0, "B": 18.0, "C": 12.0}
EN12600_DROP_MM = {3: 190.0, 2: 450.0, 1: 1200.0}

CPSC_II = "16 CFR 1201 Category II"
ANSI_A = "ANSI Z97.1 Class A"


@formula(name="glazing.pane_area", source="geometry", status="derived", unit="sq ft")
def pane_area_sq_ft(*, width_mm: float, height_mm: float) -> float:
    """Area of a pane as the American rules count it.

    Parameters
    ----------
    width_mm, height_mm : float
        Exposed size of the pane. [mm]

    Returns
    -------
    float
        Area. [sq ft]

    References
    ----------
    1 ft = 304.8 mm, exact. Derived.

    Examples
    --------
    >>> round(pane_area_sq_ft(width_mm=914.4, height_mm=914.4), 9)
    9.0
    """
    positive(width_mm=width_mm, height_mm=height_mm)
    return width_mm * height_mm * 1e-6 / M2_PER_FT2


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowRule:
    """The four conditions of the window rule, and whether all hold.

    Parameters
    ----------
    large : bool
        Exposed area above 9 sq ft.
    low : bool
        Bottom edge below 18 in above the floor.
    high : bool
        Top edge above 36 in above the floor.
    near : bool
        A walking surface within 36 in, measured horizontally.
    applies : bool
        All four: the place counts as hazardous.
    """

    large: bool
    low: bool
    high: bool
    near: bool
    applies: bool


@formula(name="glazing.window_rule", source="IBC 2406.4.3; IRC R308.4.3", status="seen")
def window_rule(*, width_mm: float, height_mm: float, bottom_edge_mm: float, walking_distance_mm: float) -> WindowRule:
    """Whether a pane in a wall stands in a hazardous location as a window does: only if all four conditions hold.

    Parameters
    ----------
    width_mm, height_mm : float
        Exposed size of the pane. [mm]
    bottom_edge_mm : float
        Its lower edge above the floor. [mm]
    walking_distance_mm : float
        Horizontal distance from the pane to the nearest walking surface. [mm]

    Returns
    -------
    WindowRule

    References
    ----------
    IBC 2406.4.3, IRC R308.4.3: area more than 9 sq ft; bottom edge less than 18 in; top edge more than 36 in; walking surface within 36 in.
    Seen. Ask the local authority which edition holds.

    Examples
    --------
    >>> window_rule(width_mm=1000, height_mm=1500, bottom_edge_mm=300, walking_distance_mm=0).applies
    True
    """
    not_negative(bottom_edge_mm=bottom_edge_mm, walking_distance_mm=walking_distance_mm)
    large = exceeds(pane_area_sq_ft(width_mm=width_mm, height_mm=height_mm), LARGE_PANE_SQ_FT)
    low = exceeds(LOW_EDGE_MM, bottom_edge_mm)
    high = exceeds(bottom_edge_mm + height_mm, HIGH_EDGE_MM)
    near = not exceeds(walking_distance_mm, WALKING_DISTANCE_MM)
    return WindowRule(large=large, low=low, high=high, near=near, applies=large and low and high and near)


@formula(name="glazing.mirror_exception", source="IBC 2406.1 exception", status="seen")
def mirror_exception(*, continuous_backing: bool, cavity_behind: bool) -> bool:
    """Whether a pane may count as a mirror or panel hung on a surface that backs it continuously.

    Parameters
    ----------
    continuous_backing : bool
        The whole pane rests against a wall or board.
    cavity_behind : bool
        Air (a lit cavity, a screen at a distance) lies behind the pane or part of it.

    Returns
    -------
    bool
        Never True over a cavity.

    References
    ----------
    IBC 2406.1, exception for mirrors and panels on continuous backing support. Seen.
    """
    return continuous_backing and not cavity_behind


@formula(name="glazing.wet_rule", source="IBC 2406.4.5", status="seen")
def wet_rule(*, bottom_edge_mm: float, water_distance_mm: float) -> bool:
    """Whether glass facing a tub, shower or pool stands in a hazardous location.

    Parameters
    ----------
    bottom_edge_mm : float
        Lower edge above any standing surface. [mm]
    water_distance_mm : float
        Horizontal distance from the water's edge. [mm]

    Returns
    -------
    bool
        Bottom edge below 60 in and not more than 60 in from the water.

    References
    ----------
    IBC 2406.4.5. Seen.
    """
    not_negative(bottom_edge_mm=bottom_edge_mm, water_distance_mm=water_distance_mm)
    return exceeds(WET_MM, bottom_edge_mm) and not exceeds(water_distance_mm, WET_MM)


@formula(name="glazing.beside_door_rule", source="IBC 2406.4.2", status="memory")
def beside_door_rule(*, bottom_edge_mm: float, door_distance_mm: float, within_mm: float = BESIDE_DOOR_MM) -> bool:
    """Whether glass beside a door stands in a hazardous location.

    Parameters
    ----------
    bottom_edge_mm : float
        Lower edge above the walking surface. [mm]
    door_distance_mm : float
        From the nearest vertical edge of the closed door. [mm]
    within_mm : float
        Up to which glass counts as beside it; 24 in. [mm]

    Returns
    -------
    bool
        Within 24 in of the door and bottom edge below 60 in.

    References
    ----------
    IBC 2406.4.2. From memory.
    """
    not_negative(bottom_edge_mm=bottom_edge_mm, door_distance_mm=door_distance_mm)
    return exceeds(WET_MM, bottom_edge_mm) and not exceeds(door_distance_mm, within_mm)


@formula(name="glazing.accepted_tests", source="IBC 2406.2", status="seen")
def accepted_tests(*, door_or_wet: bool) -> tuple[str, ...]:
    """Impact tests that a pane in a hazardous location may have passed, unless a table of the code allows less.

    Parameters
    ----------
    door_or_wet : bool
        The pane is in a door, or in a tub, shower or other wet enclosure.

    Returns
    -------
    tuple of str

    References
    ----------
    IBC 2406.2: Category II by default; Class A accepted outside doors and wet areas. Seen.
    """
    return (CPSC_II,) if door_or_wet else (CPSC_II, ANSI_A)


def mark_accepted(*, mark: str, door_or_wet: bool) -> bool:
    """Whether what is marked on a pane names a test that a hazardous location asks for.

    Parameters
    ----------
    mark : str
        The marks, with semicolons between them; the words Class and Category may be left out.
    door_or_wet : bool
        As in `accepted_tests`.

    Examples
    --------
    >>> mark_accepted(mark="ANSI Z97.1 A; 16 CFR 1201 II", door_or_wet=True), mark_accepted(mark="ANSI Z97.1 B", door_or_wet=False)
    (True, False)
    """
    wanted = {_bare(test) for test in accepted_tests(door_or_wet=door_or_wet)}
    return any(_bare(one) in wanted for one in mark.split(";"))


def _bare(test: str) -> str:
    return " ".join(word for word in test.casefold().split() if word not in ("class", "category"))


@formula(
    name="glazing.cpsc_category", source="16 CFR 1201.2 and 1201.4", status="memory",
    validity="doors, storm doors, tub, shower and patio doors and enclosures only; for comparison elsewhere",
)  # fmt: skip
def cpsc_category(*, area_sq_ft: float, product: Literal["door", "storm door", "patio door", "tub or shower"] = "door") -> str:
    """Category of safety glass that the federal rule asks of a pane in a covered product.

    Parameters
    ----------
    area_sq_ft : float
        Area of the pane. [sq ft]
    product : str
        Which covered product.

    Returns
    -------
    str
        ``I`` or ``II``.

    References
    ----------
    16 CFR 1201: I up to 9 sq ft in doors and storm doors; II above it, and in all tub, shower and patio doors. From memory.
    """
    positive(area_sq_ft=area_sq_ft)
    by_area = entry({"door": True, "storm door": True, "patio door": False, "tub or shower": False}, product, "product")
    return "I" if by_area and not exceeds(area_sq_ft, LARGE_PANE_SQ_FT) else "II"


@formula(name="glazing.cpsc_impact", source="16 CFR 1201.4", status="memory", unit="J", validity="150 ft lbf seen, 400 ft lbf from memory")
def cpsc_impact_j(*, category: str) -> float:
    """Energy of the bag in the test of a category.

    Parameters
    ----------
    category : {"I", "II"}
        Category of 16 CFR 1201.

    Returns
    -------
    float
        Energy. [J]

    References
    ----------
    16 CFR 1201.4: 150 ft lbf (18 in) and 400 ft lbf (48 in). The first seen, the second from memory.
    """
    return _bag_energy_j(drop_in=entry(CPSC_DROP_IN, category, "category"))


@formula(name="glazing.ansi_impact", source="ANSI Z97.1", status="memory", unit="J", validity="class C seen as 100 ft lbf")
def ansi_impact_j(*, impact_class: str) -> float:
    """Energy of the bag in the test of a class.

    Parameters
    ----------
    impact_class : {"A", "B", "C"}
        Class of ANSI Z97.1.

    Returns
    -------
    float
        Energy. [J]

    References
    ----------
    ANSI Z97.1: 100 lb bag from 48, 18 and 12 in. From memory; class C as 100 ft lbf seen.
    """
    return _bag_energy_j(drop_in=entry(ANSI_DROP_IN, impact_class, "class"))


def _bag_energy_j(*, drop_in: float) -> float:
    return IMPACTOR_LB * N_PER_LBF * drop_in * MM_PER_INCH / 1000


@formula(name="glazing.en12600_drop", source="EN 12600", status="seen", unit="mm")
def en12600_drop_mm(*, impact_class: int) -> float:
    """Drop height of the pendulum that a pane of a class withstands.

    Parameters
    ----------
    impact_class : {1, 2, 3}
        First figure of the classification, for example 1 of 1(C)1.

    Returns
    -------
    float
        1200, 450 or 190. [mm]

    References
    ----------
    EN 12600. Heights seen.
    """
    return entry(EN12600_DROP_MM, impact_class, "class")
