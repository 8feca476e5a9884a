"""Lifting by hand: the revised NIOSH lifting equation.

Advice for planning. It does not hold for one hand, seated or kneeling work, more than 8 hours, tight space, an unstable load, slippery
floor, wheelbarrows or fast lifts: glass in a frame should be carried by two people at least, with suction cups or a trolley. A lift that
ends with care (hanging a piece) is computed at both ends, and the lower limit counts. The employer's own assessment decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from halfsilver.engineering.bounds import entry, exceeds, not_negative, positive, within
from halfsilver.model.formula import formula

LOAD_CONSTANT_KG = 23.0
LOW_HANDS_MM = 750.0  # NIOSH: hands below 75 cm (30 in) at the start
# NIOSH 94-110 Table 5: lifts a minute; to 1 h, to 2 h, to 8 h, each with hands below and from 75 cm. One-hour columns and the first rows
# of two hours seen, the rest from memory.
FREQUENCY = (
    (0.2, 1.00, 1.00, 0.95, 0.95, 0.85, 0.85), (0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81), (1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75),
    (2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65), (3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55), (4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45),
    (5, 0.80, 0.80, 0.60, 0.60, 0.35, 0.35), (6, 0.75, 0.75, 0.50, 0.50, 0.27, 0.27), (7, 0.70, 0.70, 0.42, 0.42, 0.22, 0.22),
    (8, 0.60, 0.60, 0.35, 0.35, 0.18, 0.18), (9, 0.52, 0.52, 0.30, 0.30, 0.00, 0.15), (10, 0.45, 0.45, 0.26, 0.26, 0.00, 0.13),
    (11, 0.41, 0.41, 0.00, 0.23, 0.00, 0.00), (12, 0.37, 0.37, 0.00, 0.21, 0.00, 0.00), (13, 0.00, 0.34, 0.00, 0.00, 0.00, 0.00),
    (14, 0.00, 0.31, 0.00, 0.00, 0.00, 0.00), (15, 0.00, 0.28, 0.00, 0.00, 0.00, 0.00),
)  # fmt: skip
TEAM = {1: 1.0, 2: 2 / 3, 3: 1 / 2}  # HSE L23 [memory]

Coupling = Literal["good", "fair", "poor"]


@formula(name="lift.horizontal_multiplier", source="NIOSH 94-110", status="seen")
def horizontal_multiplier(*, reach_mm: float) -> float:
    """Factor for how far the hands are from the ankles.

    Parameters
    ----------
    reach_mm : float
        Horizontal distance of the hands from between the ankles. [mm]

    Returns
    -------
    float
        25 cm over the reach; 1 below 25 cm, 0 beyond 63 cm. [-]

    References
    ----------
    NIOSH 94-110 (1994, revised 2021). Seen.
    """
    not_negative(reach_mm=reach_mm)
    return 0.0 if exceeds(reach_mm, 630) else min(1.0, 250 / max(reach_mm, 250))


@formula(name="lift.vertical_multiplier", source="NIOSH 94-110", status="seen")
def vertical_multiplier(*, hands_mm: float) -> float:
    """Factor for the height of the hands.

    Parameters
    ----------
    hands_mm : float
        Height of the hands above the floor. [mm]

    Returns
    -------
    float
        1 - 0.003 |V - 75| in centimetres; 0 above 175 cm. [-]

    References
    ----------
    NIOSH 94-110. Seen.
    """
    not_negative(hands_mm=hands_mm)
    return 0.0 if exceeds(hands_mm, 1750) else 1 - 0.003 * abs(hands_mm / 10 - 75)


@formula(name="lift.distance_multiplier", source="NIOSH 94-110", status="seen")
def distance_multiplier(*, travel_mm: float) -> float:
    """Factor for how far up or down the load goes.

    Parameters
    ----------
    travel_mm : float
        Vertical travel of the hands. [mm]

    Returns
    -------
    float
        0.82 + 4.5/D in centimetres; 1 below 25 cm, 0 beyond 175 cm. [-]

    References
    ----------
    NIOSH 94-110. Seen.
    """
    not_negative(travel_mm=travel_mm)
    return 0.0 if exceeds(travel_mm, 1750) else 0.82 + 4.5 / max(travel_mm / 10, 25)


@formula(name="lift.asymmetry_multiplier", source="NIOSH 94-110", status="seen")
def asymmetry_multiplier(*, twist_deg: float) -> float:
    """Factor for turning aside.

    Parameters
    ----------
    twist_deg : float
        Angle of the load from straight ahead. [deg]

    Returns
    -------
    float
        1 - 0.0032 A; 0 beyond 135 degrees. [-]

    References
    ----------
    NIOSH 94-110. Seen.
    """
    not_negative(twist_deg=twist_deg)
    return 0.0 if exceeds(twist_deg, 135) else 1 - 0.0032 * twist_deg


@formula(
    name="lift.frequency_multiplier",
    source="NIOSH 94-110 Table 5",
    status="memory",
    validity="one-hour columns and first rows of two hours seen",
)
def frequency_multiplier(*, lifts_per_min: float, duration_h: float, hands_mm: float) -> float:
    """Factor for how often and how long.

    Parameters
    ----------
    lifts_per_min : float
        Lifts a minute; below 0.2 counts as 0.2; between two rows the next higher counts. [1/min]
    duration_h : float
        Length of the work, to 8 h. [h]
    hands_mm : float
        Height of the hands at the start. [mm]

    Returns
    -------
    float
        Factor; 0 above 15 lifts a minute. [-]

    References
    ----------
    NIOSH 94-110 Table 5. Seen in part, the rest from memory. Taking the next higher row instead of a value between is on the cautious side.
    """
    not_negative(lifts_per_min=lifts_per_min)
    within("duration_h", duration_h, 0, 8, "NIOSH 94-110")
    pair = 1 if not exceeds(duration_h, 1) else 3 if not exceeds(duration_h, 2) else 5
    column = pair + (0 if exceeds(LOW_HANDS_MM, hands_mm) else 1)
    return next((row[column] for row in FREQUENCY if not exceeds(lifts_per_min, row[0])), 0.0)


@formula(name="lift.coupling_multiplier", source="NIOSH 94-110", status="memory")
def coupling_multiplier(*, coupling: Coupling, hands_mm: float) -> float:
    """Factor for how well the load can be held.

    Parameters
    ----------
    coupling : {"good", "fair", "poor"}
        Handles or cut-outs are good; an edge that the fingers go under is fair; glass without cups is poor.
    hands_mm : float
        Height of the hands. [mm]

    Returns
    -------
    float
        1; fair 0.95 below 75 cm; poor 0.90. [-]

    References
    ----------
    NIOSH 94-110. From memory.
    """
    low = {"good": 1.0, "fair": 0.95, "poor": 0.90}
    high = {"good": 1.0, "fair": 1.0, "poor": 0.90}
    return entry(low if exceeds(LOW_HANDS_MM, hands_mm) else high, coupling, "coupling")


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftLimit:
    """Recommended weight limit with its six factors. [kg, -]"""

    limit_kg: float
    horizontal: float
    vertical: float
    distance: float
    asymmetry: float
    frequency: float
    coupling: float


@formula(name="lift.weight_limit", source="NIOSH 94-110", status="seen", validity="two hands, standing, steady load, up to 8 h")
def weight_limit(
    *,
    reach_mm: float,
    hands_mm: float,
    travel_mm: float,
    twist_deg: float = 0.0,
    lifts_per_min: float = 0.2,
    duration_h: float = 1.0,
    coupling: Coupling = "fair",
    start_hands_mm: float | None = None,
) -> LiftLimit:
    """Recommended weight limit at one end of a lift.

    Parameters
    ----------
    reach_mm, hands_mm, twist_deg : float
        Hands at that end of the lift. [mm, mm, deg]
    travel_mm : float
        Vertical travel of the lift. [mm]
    lifts_per_min, duration_h : float
        How often and how long. [1/min, h]
    coupling : {"good", "fair", "poor"}
        Hold.
    start_hands_mm : float, optional
        Height of the hands at the start, for the frequency factor; ``hands_mm`` unless given. [mm]

    Returns
    -------
    LiftLimit

    References
    ----------
    NIOSH 94-110: 23 kg times six factors, metric form. Seen. The inch-pound form with table factors rounded to two places gives up to
    6 % more: 51 lb for 23 kg, 10 in for 25 cm.

    Examples
    --------
    >>> round(weight_limit(reach_mm=400, hands_mm=400, travel_mm=600, twist_deg=30).limit_kg, 2)
    9.89
    """
    h, v = horizontal_multiplier(reach_mm=reach_mm), vertical_multiplier(hands_mm=hands_mm)
    d, a = distance_multiplier(travel_mm=travel_mm), asymmetry_multiplier(twist_deg=twist_deg)
    start = hands_mm if start_hands_mm is None else start_hands_mm
    f = frequency_multiplier(lifts_per_min=lifts_per_min, duration_h=duration_h, hands_mm=start)
    c = coupling_multiplier(coupling=coupling, hands_mm=hands_mm)
    return LiftLimit(
        limit_kg=limit_from_multipliers_kg(horizontal=h, vertical=v, distance=d, asymmetry=a, frequency=f, coupling=c),
        horizontal=h, vertical=v, distance=d, asymmetry=a, frequency=f, coupling=c,
    )  # fmt: skip


@formula(name="lift.limit_from_multipliers", source="NIOSH 94-110", status="seen", unit="kg")
def limit_from_multipliers_kg(
    *,
    horizontal: float,
    vertical: float,
    distance: float,
    asymmetry: float,
    frequency: float,
    coupling: float,
    load_constant_kg: float = LOAD_CONSTANT_KG,
) -> float:
    """Recommended weight limit from six factors already read from tables.

    Parameters
    ----------
    horizontal, vertical, distance, asymmetry, frequency, coupling : float
        Factors, 0 to 1. [-]
    load_constant_kg : float
        23 kg; the inch-pound form has 51 lb (23.13 kg). [kg]

    Returns
    -------
    float
        Load constant times all of them. [kg]

    References
    ----------
    NIOSH 94-110; CCOHS example 23 x 1.00 x 0.93 x 1.00 x 0.71 x 0.13 x 1.00 = 1.97 kg. Seen.
    """
    positive(load_constant_kg=load_constant_kg)
    product = load_constant_kg
    for factor in (horizontal, vertical, distance, asymmetry, frequency, coupling):
        within("factor", factor, 0, 1, "NIOSH 94-110")
        product *= factor
    return product


@formula(name="lift.index", source="NIOSH 94-110", status="seen")
def lifting_index(*, load_kg: float, limit_kg: float) -> float:
    """Load over recommended limit: above 1 raised risk for some, above 3 for nearly all.

    Parameters
    ----------
    load_kg, limit_kg : float
        Load lifted and recommended limit. [kg]

    Returns
    -------
    float
        Index. [-]

    References
    ----------
    NIOSH 94-110. Seen.
    """
    not_negative(load_kg=load_kg)
    positive(limit_kg=limit_kg)
    return load_kg / limit_kg


@formula(name="lift.reach", source="NIOSH 94-110, reach not measured", status="seen", unit="mm")
def reach_mm(*, load_width_mm: float, hands_mm: float) -> float:
    """Reach of the hands when it was not measured.

    Parameters
    ----------
    load_width_mm : float
        Size of the load away from the body. [mm]
    hands_mm : float
        Height of the hands. [mm]

    Returns
    -------
    float
        20 cm (25 cm with hands below 25 cm) and half the load. [mm]

    References
    ----------
    NIOSH 94-110. Seen.
    """
    positive(load_width_mm=load_width_mm)
    not_negative(hands_mm=hands_mm)
    return (250 if exceeds(250, hands_mm) else 200) + load_width_mm / 2


@formula(name="lift.team_limit", source="HSE L23", status="memory", unit="kg")
def team_limit_kg(*, limit_kg: float, people: int, share: float | None = None) -> float:
    """What several people may lift together: the share is never equal.

    Parameters
    ----------
    limit_kg : float
        Limit of each. [kg]
    people : {1, 2, 3}
        How many.
    share : float, optional
        Of the sum of what each may lift, in place of the published one. [-]

    Returns
    -------
    float
        Two thirds of the sum for two, half for three. [kg]

    References
    ----------
    HSE L23. From memory.
    """
    not_negative(limit_kg=limit_kg)
    published = entry(TEAM, people, "number of people")
    if share is not None:
        within("share", share, 0, 1, "what a team may lift of the sum")
    return (published if share is None else share) * people * limit_kg
