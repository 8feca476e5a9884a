"""Timber: density, moisture, movement across the grain, and what it does to a mitre.

Moisture is in percent of the oven-dry mass, as every table of the field prints it. Specific gravity of the *Wood Handbook* (at
12 % moisture) and the assigned gravity of the NDS are different bases: do not swap them.
"""

from __future__ import annotations

from math import sqrt

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.model.formula import formula

HANDBOOK = "FPL Wood Handbook (GTR-282)"
COLDEST_DEGC = -2.0  # at which Wood Handbook Table 4-2 begins: 30 degF
MOVEMENT_RANGE_PCT = (6.0, 14.0)


@formula(name="timber.density", source=f"{HANDBOOK} Eq 4-14", status="seen", unit="kg/m3")
def density_kg_m3(*, specific_gravity: float, moisture_pct: float) -> float:
    """Density of timber at a moisture.

    Parameters
    ----------
    specific_gravity : float
        Oven-dry mass over the volume *at that moisture*, against water. [-]
    moisture_pct : float
        Moisture content. [%]

    Returns
    -------
    float
        Density. [kg/m3]

    References
    ----------
    FPL *Wood Handbook*, Eq 4-14, Table 4-6a: 0.60 at 12 % gives 672. Seen.

    Examples
    --------
    >>> round(density_kg_m3(specific_gravity=0.60, moisture_pct=12), 6)
    672.0
    """
    positive(specific_gravity=specific_gravity)
    not_negative(moisture_pct=moisture_pct)
    return 1000 * specific_gravity * (1 + moisture_pct / 100)


@formula(
    name="timber.strain", source=f"{HANDBOOK} ch 13, Table 13-5", status="seen", validity="moisture 6 to 14 %; across the grain",
)  # fmt: skip
def cross_grain_strain(*, coefficient_per_pct: float, from_pct: float, to_pct: float) -> float:
    """Growth across the grain as a share of the width; negative when it dries.

    Parameters
    ----------
    coefficient_per_pct : float
        Dimensional change coefficient: tangential for flat-sawn width, radial for quarter-sawn. [1/%]
    from_pct, to_pct : float
        Moisture before and after. [%]

    Returns
    -------
    float
        Strain. [-]

    Raises
    ------
    RangeError
        Outside 6 to 14 %, where the coefficients hold.

    References
    ----------
    FPL *Wood Handbook*, chapter 13, Table 13-5. Seen.
    """
    for name, value in (("from_pct", from_pct), ("to_pct", to_pct)):
        within(name, value, *MOVEMENT_RANGE_PCT, "the movement coefficients, Wood Handbook Table 13-5")
    return coefficient_per_pct * (to_pct - from_pct)


@formula(name="timber.movement", source=f"{HANDBOOK} ch 13, worked example", status="seen", unit="mm", validity="moisture 6 to 14 %")
def movement_mm(*, width_mm: float, coefficient_per_pct: float, from_pct: float, to_pct: float) -> float:
    """Growth of a width across the grain; negative when it dries.

    Parameters
    ----------
    width_mm : float
        Width at the first moisture. [mm]
    coefficient_per_pct, from_pct, to_pct : float
        As in `cross_grain_strain`.

    Returns
    -------
    float
        Growth. [mm]

    References
    ----------
    FPL *Wood Handbook*, chapter 13: white fir, 232 mm, 8 to 11 %, 1.705 mm. Seen.

    Examples
    --------
    >>> round(movement_mm(width_mm=232, coefficient_per_pct=0.00245, from_pct=8, to_pct=11), 4)
    1.7052
    """
    positive(width_mm=width_mm)
    return width_mm * cross_grain_strain(coefficient_per_pct=coefficient_per_pct, from_pct=from_pct, to_pct=to_pct)


@formula(name="timber.coefficient", source=f"{HANDBOOK} Table 13-5, its basis", status="seen", unit="1/%", validity="single species")
def coefficient_per_pct(*, shrinkage_pct: float) -> float:
    """Dimensional change coefficient of a species from its total shrinkage.

    Parameters
    ----------
    shrinkage_pct : float
        Shrinkage from green to oven-dry, radial or tangential. [%]

    Returns
    -------
    float
        Coefficient. [1/%]

    References
    ----------
    FPL *Wood Handbook*, Table 13-5: S/(3000 - 20 S), from a fibre saturation point of 30 %. Seen. Commercial groups do not follow it.

    Examples
    --------
    >>> round(coefficient_per_pct(shrinkage_pct=7.8), 5)
    0.00274
    """
    positive(shrinkage_pct=shrinkage_pct)
    return shrinkage_pct / (3000 - 20 * shrinkage_pct)


@formula(name="timber.equilibrium_moisture", source=f"{HANDBOOK} Eq 4-5", status="seen", unit="%", validity="-2 to 130 degC")
def equilibrium_moisture_pct(*, temperature_degc: float, humidity: float) -> float:
    """Moisture that timber takes on in a climate, given time.

    Parameters
    ----------
    temperature_degc : float
        Air temperature. [degC]
    humidity : float
        Relative humidity, 0 to 1. [-]

    Returns
    -------
    float
        Moisture content. [%]

    References
    ----------
    FPL *Wood Handbook*, Eq 4-5; agrees with Table 4-2 within its rounding. Seen.

    Examples
    --------
    >>> round(equilibrium_moisture_pct(temperature_degc=(70 - 32) / 1.8, humidity=0.65), 1)
    12.0
    """
    within("temperature_degc", temperature_degc, COLDEST_DEGC, 130.0, "Wood Handbook Table 4-2")
    within("humidity", humidity, 0.0, 1.0, "relative humidity")
    h, (W, K, K1, K2) = humidity, moisture_terms(temperature_degc=temperature_degc)
    bound = (K1 * K * h + 2 * K1 * K2 * (K * h) ** 2) / (1 + K1 * K * h + K1 * K2 * (K * h) ** 2)
    return 1800 / W * (K * h / (1 - K * h) + bound)


def moisture_terms(*, temperature_degc: float) -> tuple[float, float, float, float]:
    """W, K, K1 and K2 of Wood Handbook Eq 4-5 at a temperature."""
    T = temperature_degc
    W = 349 + 1.29 * T + 0.0135 * T**2
    K = 0.805 + 0.000736 * T - 2.73e-6 * T**2
    K1 = 6.27 - 0.00938 * T - 3.03e-4 * T**2
    K2 = 1.91 + 0.0407 * T - 2.93e-4 * T**2
    return W, K, K1, K2


@formula(name="timber.mitre_opening", source="geometry of a mitre, small strain", status="derived", unit="mm")
def mitre_opening_mm(*, rail_width_mm: float, strain: float) -> float:
    """Gap at one end of a 45 degree mitre when its rails shrink (inside opens) or swell (outside opens).

    Parameters
    ----------
    rail_width_mm : float
        Width of the rail. [mm]
    strain : float
        Cross-grain strain, see `cross_grain_strain`. [-]

    Returns
    -------
    float
        Gap. [mm]

    References
    ----------
    Derived: each cut turns by half the strain, over a joint of w sqrt(2).

    Examples
    --------
    >>> round(mitre_opening_mm(rail_width_mm=75, strain=0.00369 * 6), 2)
    2.35
    """
    positive(rail_width_mm=rail_width_mm)
    return abs(strain) * rail_width_mm * sqrt(2)
