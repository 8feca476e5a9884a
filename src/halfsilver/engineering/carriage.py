"""What carriers charge by: dimensional weight, girth, freight density. Planning figures: the tariff in force decides."""

from __future__ import annotations

from math import ceil

from halfsilver.engineering.bounds import RELATIVE_SLACK, exceeds, positive
from halfsilver.model.formula import formula
from halfsilver.units.factors import KG_PER_LB, M3_PER_FT3, MM_PER_INCH

# Density scale of US less-than-truckload freight, 13 steps from 2025-07-19: at least so many pounds per cubic foot. Seen.
FREIGHT_STEPS = (
    (50, 50.0), (35, 55.0), (30, 60.0), (22.5, 65.0), (15, 70.0), (12, 85.0), (10, 92.5),
    (8, 100.0), (6, 125.0), (4, 175.0), (2, 250.0), (1, 300.0), (0, 400.0),
)  # fmt: skip


@formula(name="carriage.dimensional_weight", source="common practice of parcel carriers", status="practice", unit="lb")
def dimensional_weight_lb(*, length_mm: float, width_mm: float, height_mm: float, divisor_in3_per_lb: float = 139.0) -> float:
    """Weight that a parcel is billed for by its size, inch-pound tariffs, before rounding up.

    Parameters
    ----------
    length_mm, width_mm, height_mm : float
        Outside of the packed piece; each side counted to the nearest inch. [mm]
    divisor_in3_per_lb : float
        139 or 166. [in3/lb]

    Returns
    -------
    float
        Dimensional weight; the larger of it and the actual one is billed, rounded up. [lb]

    References
    ----------
    Common practice. 48 x 36 x 8 in / 139 = 99.45 lb.
    """
    positive(length_mm=length_mm, width_mm=width_mm, height_mm=height_mm, divisor_in3_per_lb=divisor_in3_per_lb)
    sides = [_nearest(side / MM_PER_INCH) for side in (length_mm, width_mm, height_mm)]
    return sides[0] * sides[1] * sides[2] / divisor_in3_per_lb


@formula(name="carriage.dimensional_mass", source="common practice of parcel carriers", status="practice", unit="kg")
def dimensional_mass_kg(*, length_mm: float, width_mm: float, height_mm: float, divisor_cm3_per_kg: float = 5000.0) -> float:
    """Mass that a parcel is billed for by its size, metric tariffs, before rounding up.

    Parameters
    ----------
    length_mm, width_mm, height_mm : float
        Outside of the packed piece; each side counted to the nearest centimetre. [mm]
    divisor_cm3_per_kg : float
        5000; 6000 by air and 4000 by road with some. [cm3/kg]

    Returns
    -------
    float
        Dimensional mass. [kg]

    References
    ----------
    Common practice. 122 x 91 x 20 cm / 5000 = 44.4 kg.
    """
    positive(length_mm=length_mm, width_mm=width_mm, height_mm=height_mm, divisor_cm3_per_kg=divisor_cm3_per_kg)
    sides = [_nearest(side / 10) for side in (length_mm, width_mm, height_mm)]
    return sides[0] * sides[1] * sides[2] / divisor_cm3_per_kg


def _nearest(side: float) -> int:
    return max(1, int(side + 0.5 + RELATIVE_SLACK))


@formula(name="carriage.billable_weight", source="common practice of parcel carriers", status="practice", unit="as given")
def billable_weight(*, actual: float, dimensional: float) -> int:
    """Weight that is billed, in the tariff's unit.

    Parameters
    ----------
    actual, dimensional : float
        Both in the tariff's unit.

    Returns
    -------
    int
        The larger, rounded up.

    References
    ----------
    Common practice.
    """
    positive(actual=actual)
    return ceil(max(actual, dimensional) * (1 - RELATIVE_SLACK))


@formula(name="carriage.length_and_girth", source="common practice of parcel carriers", status="practice", unit="mm")
def length_and_girth_mm(*, length_mm: float, width_mm: float, height_mm: float) -> float:
    """Longest side and the way round the other two; parcel limits are commonly 108 in long, 165 in together and 150 lb.

    Parameters
    ----------
    length_mm, width_mm, height_mm : float
        Outside, in any order. [mm]

    Returns
    -------
    float
        L + 2 (W + H). [mm]

    References
    ----------
    Common practice.
    """
    positive(length_mm=length_mm, width_mm=width_mm, height_mm=height_mm)
    longest = max(length_mm, width_mm, height_mm)
    return longest + 2 * (length_mm + width_mm + height_mm - longest)


@formula(name="carriage.freight_density", source="definition", status="seen", unit="lb/ft3")
def freight_density_lb_ft3(*, mass_kg: float, length_mm: float, width_mm: float, height_mm: float) -> float:
    """Density of a crate on its pallet, as American freight counts it.

    Parameters
    ----------
    mass_kg : float
        With pallet and crate. [kg]
    length_mm, width_mm, height_mm : float
        Outside, pallet included. [mm]

    Returns
    -------
    float
        Density. [lb/ft3]

    References
    ----------
    Published example: 500 lb at 42 x 48 x 48 in, 8.9. Seen.
    """
    positive(mass_kg=mass_kg, length_mm=length_mm, width_mm=width_mm, height_mm=height_mm)
    cubic_feet = length_mm * width_mm * height_mm * 1e-9 / M3_PER_FT3
    return mass_kg / KG_PER_LB / cubic_feet


@formula(
    name="carriage.freight_class",
    source="13-step density scale, from 2025-07-19",
    status="seen",
    validity="planning: handling and liability may raise it for glass",
)
def freight_class(*, density_lb_ft3: float) -> float:
    """Freight class by density.

    Parameters
    ----------
    density_lb_ft3 : float
        Density. A boundary belongs to the denser step. [lb/ft3]

    Returns
    -------
    float
        Class, 50 to 400.

    References
    ----------
    Density scale of US less-than-truckload freight. Seen. Confirm with the carrier.

    Examples
    --------
    >>> freight_class(density_lb_ft3=8.93)
    100.0
    """
    positive(density_lb_ft3=density_lb_ft3)
    return next(step for least, step in FREIGHT_STEPS if not exceeds(least, density_lb_ft3))
