"""Heat that leaves with air: vents that warmth drives, and fans. All heat is taken to leave so: an upper bound on the rise.

Temperatures in degrees Celsius at every signature, kelvin inside.
"""

from __future__ import annotations

from math import hypot, sqrt

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.heat import air_at, kelvin
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula
from halfsilver.units.factors import M3_PER_FT3, STANDARD_GRAVITY_M_S2

DISCHARGE = 0.65  # ASHRAE Fundamentals, one-way flow through a plain opening, 0.65 to 0.70 [seen]


@formula(name="heat.vent_area", source="two openings in series", status="derived", unit="mm2")
def vent_area_mm2(*, low_mm2: float, high_mm2: float, free_share: float = 1.0) -> float:
    """One opening that lets through as much as a low and a high one together.

    Parameters
    ----------
    low_mm2, high_mm2 : float
        Area of each. [mm2]
    free_share : float
        Open share of mesh or louvre: 0.5 to 0.8 as common practice. [-]

    Returns
    -------
    float
        1/Ae^2 = 1/A1^2 + 1/A2^2; 0 where one is closed. [mm2]

    References
    ----------
    Derived.
    """
    not_negative(low_mm2=low_mm2, high_mm2=high_mm2)
    within("free_share", free_share, 0, 1, "an open share")
    if not low_mm2 or not high_mm2:
        return 0.0
    return free_share * low_mm2 * (high_mm2 / hypot(low_mm2, high_mm2))


@formula(
    name="heat.two_way_discharge", source="ASHRAE Fundamentals, ventilation", status="seen", validity="one opening with flow both ways"
)
def two_way_discharge(*, inside_degc: float, outside_degc: float) -> float:
    """Discharge coefficient of a single opening that passes air both ways.

    Parameters
    ----------
    inside_degc, outside_degc : float
        Temperatures. [degC]

    Returns
    -------
    float
        0.40 + 0.0045 |dT|. [-]

    References
    ----------
    ASHRAE *Handbook, Fundamentals*, ventilation chapter. Seen.
    """
    return 0.40 + 0.0045 * abs(inside_degc - outside_degc)


@formula(
    name="heat.stack_flow",
    source="ASHRAE Fundamentals, flow caused by thermal forces",
    status="seen",
    unit="m3/s",
    validity="inside warmer than outside",
)
def stack_flow_m3_s(
    *,
    area_mm2: float,
    height_mm: float,
    inside_degc: float,
    outside_degc: float,
    discharge: float = DISCHARGE,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> float:
    """Air that warmth alone drives through an opening.

    Parameters
    ----------
    area_mm2 : float
        Area of the opening; with `vent_area_mm2` that of both together. [mm2]
    height_mm : float
        From the middle of the lower opening to the neutral level (half way between equal vents); with `vent_area_mm2` the full
        distance of the two. [mm]
    inside_degc, outside_degc : float
        Temperatures. [degC]
    discharge : float
        0.65 to 0.70 for one-way flow. [-]
    gravity_m_s2 : float
        Acceleration of gravity. [m/s2]

    Returns
    -------
    float
        Cd A sqrt(2 g dH (Ti - To)/Ti); 0 where the inside is not warmer. [m3/s]

    References
    ----------
    ASHRAE *Handbook, Fundamentals*, ventilation chapter. Seen.
    """
    not_negative(area_mm2=area_mm2, height_mm=height_mm)
    within("discharge", discharge, 0, 1, "a discharge coefficient")
    rise = max(0.0, inside_degc - outside_degc)
    return discharge * area_mm2 * 1e-6 * sqrt(2 * gravity_m_s2 * height_mm * 1e-3 * rise / kelvin(inside_degc))


@formula(
    name="heat.stack_rise",
    source="stack flow with the heat balance",
    status="derived",
    unit="K",
    validity="all heat leaves with the air: an upper bound",
)
def stack_rise_k(
    *,
    power_w: float,
    area_mm2: float,
    height_mm: float,
    outside_degc: float,
    discharge: float = DISCHARGE,
    heat_capacity_j_kgk: float = 1006.0,
) -> float:
    """Rise of the air in a case that only its vents cool.

    Parameters
    ----------
    power_w : float
        Heat set free. [W]
    area_mm2 : float
        Both vents as one, see `vent_area_mm2`. [mm2]
    height_mm : float
        Distance of the two vents' middles. [mm]
    outside_degc : float
        Room. [degC]
    discharge : float
        As in `stack_flow_m3_s`. [-]
    heat_capacity_j_kgk : float
        Of air. [J/kgK]

    Returns
    -------
    float
        Rise. [K]

    References
    ----------
    Derived: dT = (P/(rho cp Cd Ae sqrt(2 g H/Ti)))^(2/3), on Ti until it settles.

    Examples
    --------
    >>> area = vent_area_mm2(low_mm2=6000, high_mm2=6000)
    >>> round(stack_rise_k(power_w=120, area_mm2=area, height_mm=1000, outside_degc=25), 1)
    28.1
    """
    not_negative(power_w=power_w)
    positive(area_mm2=area_mm2, height_mm=height_mm, discharge=discharge)
    rho = air_at(temperature_degc=outside_degc).density_kg_m3
    rise = 0.0
    for _ in range(100):
        speed = sqrt(2 * STANDARD_GRAVITY_M_S2 * height_mm * 1e-3 / kelvin(outside_degc + rise))
        after: float = (power_w / (rho * heat_capacity_j_kgk * discharge * area_mm2 * 1e-6 * speed)) ** (2 / 3)
        if abs(after - rise) < 1e-9 * (1 + after):
            return after
        rise = after
    raise RangeError(f"{power_w:g} W cannot leave through {area_mm2:g} mm2 of vent")


@formula(
    name="heat.vent_needed",
    source="stack flow with the heat balance",
    status="derived",
    unit="mm2",
    validity="all heat leaves with the air",
)
def vent_needed_mm2(
    *, power_w: float, rise_k: float, height_mm: float, outside_degc: float, discharge: float = DISCHARGE, free_share: float = 1.0
) -> float:
    """Area of each of two equal vents for a rise.

    Parameters
    ----------
    power_w : float
        Heat set free. [W]
    rise_k : float
        Rise that is allowed. [K]
    height_mm : float
        Distance of the two vents' middles. [mm]
    outside_degc : float
        Room. [degC]
    discharge, free_share : float
        As in `stack_flow_m3_s` and `vent_area_mm2`. [-]

    Returns
    -------
    float
        Area of each, mesh or louvre included. [mm2]

    References
    ----------
    Derived: the inverse of `stack_rise_k`. 120 W, 10 K, 1 m: 0.0275 m2.
    """
    positive(power_w=power_w, rise_k=rise_k, height_mm=height_mm, free_share=free_share)
    flow = fan_flow_m3_s(power_w=power_w, rise_k=rise_k, outside_degc=outside_degc)
    per_mm2 = stack_flow_m3_s(
        area_mm2=1, height_mm=height_mm, inside_degc=outside_degc + rise_k, outside_degc=outside_degc, discharge=discharge
    )  # fmt: skip
    return flow / per_mm2 * sqrt(2) / free_share


@formula(name="heat.fan_flow", source="sensible heat balance", status="derived", unit="m3/s")
def fan_flow_m3_s(*, power_w: float, rise_k: float, outside_degc: float = 20.0, heat_capacity_j_kgk: float = 1006.0) -> float:
    """Air that carries heat away at a rise; a fan behind a filter gives a third to a half less than its free rating (practice).

    Parameters
    ----------
    power_w : float
        Heat. [W]
    rise_k : float
        Rise of the air. [K]
    outside_degc : float
        Temperature at which the volume is counted. [degC]
    heat_capacity_j_kgk : float
        Of air. [J/kgK]

    Returns
    -------
    float
        P/(rho cp dT). [m3/s]

    References
    ----------
    Derived. 120 W and 10 K at 20 degC: 9.907e-3 m3/s, 21 cubic feet a minute.
    """
    not_negative(power_w=power_w)
    positive(rise_k=rise_k, heat_capacity_j_kgk=heat_capacity_j_kgk)
    return power_w / (air_at(temperature_degc=outside_degc).density_kg_m3 * heat_capacity_j_kgk * rise_k)


@formula(name="heat.cubic_feet_per_minute", source="international foot", status="derived", unit="ft3/min")
def cubic_feet_per_minute(*, flow_m3_s: float) -> float:
    """Flow of air as fans are rated in inch-pound units.

    Parameters
    ----------
    flow_m3_s : float
        Flow. [m3/s]

    Returns
    -------
    float
        Flow. [ft3/min]

    References
    ----------
    1 ft3 = 0.028316846592 m3, exact. Derived.
    """
    return flow_m3_s / M3_PER_FT3 * 60
