"""Mounting holes on the back of flat screens, and stud walls that a recess is cut into."""

from __future__ import annotations

from halfsilver.engineering.bounds import exceeds, positive
from halfsilver.engineering.mounting import STUD_SPACING_MM
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH

STUD_MM = 1.5 * MM_PER_INCH
BAY_DEPTH_MM = {"2 x 4": 3.5 * MM_PER_INCH, "2 x 6": 5.5 * MM_PER_INCH}  # common practice
FIXED_KG = {(50.0, 20.0): 2.0, (75.0, 35.0): 4.5, (75.0, 75.0): 14.0, (100.0, 100.0): 14.0, (200.0, 100.0): 22.7}
LARGE_KG, LARGE_STEP_MM = 113.6, 200.0


@formula(
    name="mount.hole_pattern", source="VESA FDMI", status="memory", unit="kg",
    validity="up to 200 x 100 mm seen; the maker sets the pattern",
)  # fmt: skip
def hole_pattern_kg(*, width_mm: float, height_mm: float) -> float | None:
    """Greatest mass that a pattern of mounting holes is meant for.

    Parameters
    ----------
    width_mm, height_mm : float
        Pattern, across and upright. [mm]

    Returns
    -------
    float or None
        Mass; None for a pattern that is none of the known ones. [kg]

    References
    ----------
    VESA Flat Display Mounting Interface: 75 and 100 mm square 14 kg, 200 x 100 mm 22.7 kg (seen); multiples of 200 mm 113.6 kg (memory).

    Examples
    --------
    >>> hole_pattern_kg(width_mm=400, height_mm=400)
    113.6
    """
    positive(width_mm=width_mm, height_mm=height_mm)
    if all(side >= LARGE_STEP_MM and abs(side / LARGE_STEP_MM - round(side / LARGE_STEP_MM)) < 1e-6 for side in (width_mm, height_mm)):
        return LARGE_KG
    return FIXED_KG.get((round(width_mm, 3), round(height_mm, 3)))


@formula(name="mount.stud_bay", source="spacing less one stud of 1 1/2 in", status="practice", unit="mm")
def stud_bay_mm(*, spacing_mm: float = STUD_SPACING_MM) -> float:
    """Clear width between two studs.

    Parameters
    ----------
    spacing_mm : float
        From one stud's middle to the next. [mm]

    Returns
    -------
    float
        Width. [mm]

    References
    ----------
    Common practice: 14 1/2 in at 16 in.

    Examples
    --------
    >>> round(stud_bay_mm() / 25.4, 9)
    14.5
    """
    if not exceeds(spacing_mm, STUD_MM):
        positive(bay_mm=spacing_mm - STUD_MM)
    return spacing_mm - STUD_MM
