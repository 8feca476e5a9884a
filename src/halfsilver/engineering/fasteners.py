"""Screws and nails in timber: National Design Specification for Wood Construction (NDS) 2018, chapters 2 and 12.

The equations give pounds per inch of thread from inches; results here are newtons and millimetres. Gravity is the NDS assigned one
(oven-dry volume). These are allowable loads: no further factor belongs on them but the duration of load. What hangs on a wall for
years is a permanent load. A heavy piece, or one over people, is a matter for a licensed structural engineer.
"""

from __future__ import annotations

from math import cos, radians, sin

from halfsilver.engineering.bounds import entry, not_negative, positive, within
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH, N_PER_LBF

NDS = "NDS 2018"
N_PER_MM = N_PER_LBF / MM_PER_INCH  # one pound per inch
GRAVITY_RANGE = (0.31, 0.73)  # Tables 12.2A to C
DURATION_FACTORS = {  # Table 2.3.2; connections are never given more than 1.6
    "permanent": 0.9, "ten years": 1.0, "two months": 1.15, "seven days": 1.25, "ten minutes": 1.6,
}  # fmt: skip
END_GRAIN = {"lag": 0.75, "wood screw": 0.0, "nail": 0.0}


def _gravity(specific_gravity: float) -> float:
    within("specific_gravity", specific_gravity, *GRAVITY_RANGE, f"{NDS} Tables 12.2A to C")
    return specific_gravity


@formula(name="timber.lag_withdrawal", source=f"{NDS} Eq 12.2-1", status="seen", unit="N/mm", validity="gravity 0.31 to 0.73; side grain")
def lag_withdrawal_n_per_mm(*, specific_gravity: float, diameter_mm: float) -> float:
    """Allowable pull on a lag screw per length of thread in side grain, without its tip, before factors.

    Parameters
    ----------
    specific_gravity : float
        NDS assigned gravity, 0.31 to 0.73. [-]
    diameter_mm : float
        Shank diameter, 1/4 to 1 1/4 in. [mm]

    Returns
    -------
    float
        Per millimetre of thread. [N/mm]

    References
    ----------
    NDS 2018 Eq 12.2-1: 1800 G^(3/2) D^(3/4) lb/in; Table 12.2A prints 437 for 0.55 and 1/2 in. Seen.

    Examples
    --------
    >>> round(lag_withdrawal_n_per_mm(specific_gravity=0.55, diameter_mm=12.7) * 25.4 / 4.4482216)
    437
    """
    within("diameter_mm", diameter_mm, 0.25 * MM_PER_INCH, 1.25 * MM_PER_INCH, f"{NDS} Table 12.2A")
    W: float = 1800 * _gravity(specific_gravity) ** 1.5 * (diameter_mm / MM_PER_INCH) ** 0.75
    return W * N_PER_MM


@formula(
    name="timber.screw_withdrawal", source=f"{NDS} Eq 12.2-2", status="seen", unit="N/mm", validity="No. 6 to 24; gravity 0.31 to 0.73"
)
def screw_withdrawal_n_per_mm(*, specific_gravity: float, diameter_mm: float) -> float:
    """Allowable pull on a wood screw per length of thread in side grain, before factors.

    Parameters
    ----------
    specific_gravity : float
        NDS assigned gravity, 0.31 to 0.73. [-]
    diameter_mm : float
        Shank diameter, No. 6 to No. 24, see `screw_diameter_mm`. [mm]

    Returns
    -------
    float
        Per millimetre of thread. [N/mm]

    References
    ----------
    NDS 2018 Eq 12.2-2: 2850 G^2 D lb/in. Seen.
    """
    within("diameter_mm", diameter_mm, screw_diameter_mm(number=6), screw_diameter_mm(number=24), f"{NDS} 12.2.2")
    return 2850 * _gravity(specific_gravity) ** 2 * (diameter_mm / MM_PER_INCH) * N_PER_MM


@formula(
    name="timber.nail_withdrawal", source=f"{NDS} Eq 12.2-3", status="seen", unit="N/mm", validity="0.092 to 0.375 in; gravity 0.31 to 0.73"
)
def nail_withdrawal_n_per_mm(*, specific_gravity: float, diameter_mm: float) -> float:
    """Allowable pull on a plain nail per length in side grain, before factors.

    Parameters
    ----------
    specific_gravity : float
        NDS assigned gravity, 0.31 to 0.73. [-]
    diameter_mm : float
        Diameter, 0.092 to 0.375 in. [mm]

    Returns
    -------
    float
        Per millimetre of penetration. [N/mm]

    References
    ----------
    NDS 2018 Eq 12.2-3: 1380 G^(5/2) D lb/in; AWC solved example E2.1a, 0.131 in in 0.42: 20.667 lb/in. Seen.
    """
    within("diameter_mm", diameter_mm, 0.092 * MM_PER_INCH, 0.375 * MM_PER_INCH, f"{NDS} Table 12.2C")
    W: float = 1380 * _gravity(specific_gravity) ** 2.5 * (diameter_mm / MM_PER_INCH)
    return W * N_PER_MM


@formula(
    name="timber.screw_diameter",
    source="ASME B18.6.1 screw numbers",
    status="memory",
    unit="mm",
    validity="No. 6, 8, 10, 12 and 14 seen in part",
)
def screw_diameter_mm(*, number: int) -> float:
    """Shank diameter of a numbered wood screw.

    Parameters
    ----------
    number : int
        Screw number, 0 to 24.

    Returns
    -------
    float
        Diameter. [mm]

    References
    ----------
    0.060 in + 0.013 in per number. From memory; agrees with 0.138, 0.164, 0.190, 0.216, 0.242 in for No. 6 to 14 (seen in part).
    """
    within("number", number, 0, 24, "wood screw numbers")
    return (0.060 + 0.013 * number) * MM_PER_INCH


@formula(name="timber.duration_factor", source=f"{NDS} Table 2.3.2", status="seen")
def duration_factor(*, duration: str) -> float:
    """Factor for how long a load lasts.

    Parameters
    ----------
    duration : {"permanent", "ten years", "two months", "seven days", "ten minutes"}
        Longest it acts, all times together. A hung display is permanent.

    Returns
    -------
    float
        Factor on the allowable load. [-]

    References
    ----------
    NDS 2018 Table 2.3.2; impact (2.0) is not for connections. Seen.
    """
    return entry(DURATION_FACTORS, duration, "duration")


@formula(name="timber.end_grain_factor", source=f"{NDS} 12.5.2", status="seen")
def end_grain_factor(*, fastener: str) -> float:
    """Factor on withdrawal when the thread runs along the grain.

    Parameters
    ----------
    fastener : {"lag", "wood screw", "nail"}
        Kind of fastener.

    Returns
    -------
    float
        0.75 for lag screws, 0 for wood screws and nails, which must not be loaded so. [-]

    References
    ----------
    NDS 2018 12.5.2. Seen.
    """
    return entry(END_GRAIN, fastener, "fastener")


@formula(name="timber.least_penetration", source=f"{NDS} 12.1.5", status="seen", unit="mm", validity="wood screws")
def least_penetration_mm(*, diameter_mm: float) -> float:
    """Least penetration at which a wood screw counts.

    Parameters
    ----------
    diameter_mm : float
        Shank diameter. [mm]

    Returns
    -------
    float
        Six diameters. [mm]

    References
    ----------
    NDS 2018 chapter 12, wood screws: at least 6 D. Seen.
    """
    positive(diameter_mm=diameter_mm)
    return 6 * diameter_mm


@formula(name="timber.withdrawal", source=f"{NDS} 12.2 with Table 2.3.2", status="seen", unit="N")
def withdrawal_n(*, per_mm_n: float, thread_mm: float, duration: str = "permanent", end_grain: float = 1.0) -> float:
    """Allowable pull on one fastener.

    Parameters
    ----------
    per_mm_n : float
        Pull per millimetre of thread, from one of the withdrawal equations. [N/mm]
    thread_mm : float
        Thread in the holding member, a lag screw's tip not counted. [mm]
    duration : str
        See `duration_factor`.
    end_grain : float
        See `end_grain_factor`; 1 in side grain. [-]

    Returns
    -------
    float
        Load. [N]

    References
    ----------
    NDS 2018 chapter 12; AWC solved example E2.3: 436.56 lb/in over 2.1875 in, 954.97 lb. Seen.
    """
    not_negative(per_mm_n=per_mm_n, thread_mm=thread_mm, end_grain=end_grain)
    return per_mm_n * thread_mm * duration_factor(duration=duration) * end_grain


@formula(name="timber.combined_load", source=f"{NDS} Eq 12.4-1", status="seen", unit="N", validity="lag and wood screws")
def combined_load_n(*, withdrawal_load_n: float, lateral_load_n: float, angle_deg: float) -> float:
    """Allowable load on a screw pulled and sheared at once.

    Parameters
    ----------
    withdrawal_load_n : float
        Allowable pull along the screw, W'p. [N]
    lateral_load_n : float
        Allowable shear across it, Z'. [N]
    angle_deg : float
        Angle of the load from the timber's surface: 0 pure shear, 90 pure pull. [deg]

    Returns
    -------
    float
        Allowable load in that direction. [N]

    References
    ----------
    NDS 2018 Eq 12.4-1. Seen.
    """
    positive(withdrawal_load_n=withdrawal_load_n, lateral_load_n=lateral_load_n)
    within("angle_deg", angle_deg, 0, 90, f"{NDS} Eq 12.4-1")
    W, Z, a = withdrawal_load_n, lateral_load_n, radians(angle_deg)
    return W * Z / (W * cos(a) ** 2 + Z * sin(a) ** 2)


@formula(name="timber.screw_ultimate", source="FPL Wood Handbook ch 8", status="memory", unit="N")
def screw_ultimate_n(*, specific_gravity: float, diameter_mm: float, thread_mm: float) -> float:
    """Pull at which a wood screw comes out of side grain: about 5.5 times the allowable load, for comparison only.

    Parameters
    ----------
    specific_gravity : float
        Specific gravity of the timber. [-]
    diameter_mm : float
        Shank diameter. [mm]
    thread_mm : float
        Thread in the timber. [mm]

    Returns
    -------
    float
        Ultimate load. [N]

    References
    ----------
    FPL *Wood Handbook*, chapter 8: 15 700 G^2 D L lb. From memory.
    """
    positive(specific_gravity=specific_gravity, diameter_mm=diameter_mm, thread_mm=thread_mm)
    return 15_700 * specific_gravity**2 * (diameter_mm / MM_PER_INCH) * (thread_mm / MM_PER_INCH) * N_PER_LBF
