"""A piece that runs: current from the mains, fuse, inrush, energy, and how long it takes to warm.

An electrician sizes and protects the mains side; a fuse here is the one in the low-voltage lead.
"""

from __future__ import annotations

from math import exp, log

from halfsilver.engineering.bounds import RELATIVE_SLACK, not_negative, positive, within
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

POWER_FACTOR = 0.9  # of supplies and screens at full load: common practice; below half load it is less
FUSE_LOAD = 1.25  # rating over running current: common practice, as for a continuous load
FUSES_A = (
    0.5,
    0.63,
    0.8,
    1.0,
    1.25,
    1.6,
    2.0,
    2.5,
    3.15,
    4.0,
    5.0,
    6.3,
    8.0,
    10.0,
    12.5,
    16.0,
)  # R10 of ISO 3, rated in IEC 60127 [memory]
INRUSH_MULTIPLE = 5.0  # a breaker of characteristic C may trip from five times its rating: IEC 60898-1 [memory]


@formula(name="elec.mains_current", source="definition of the power factor", status="derived", unit="A")
def mains_current_a(*, power_w: float, voltage_v: float, power_factor: float = POWER_FACTOR) -> float:
    """Current from the mains.

    Parameters
    ----------
    power_w : float
        Real power. [W]
    voltage_v : float
        Mains. [V]
    power_factor : float
        Real over apparent power; 0.9 as common practice. [-]

    Returns
    -------
    float
        P/(V pf). [A]

    References
    ----------
    Definition. Derived.

    Examples
    --------
    >>> round(mains_current_a(power_w=216, voltage_v=120), 6)
    2.0
    """
    not_negative(power_w=power_w)
    positive(voltage_v=voltage_v, power_factor=power_factor)
    within("power_factor", power_factor, 0, 1, "a power factor")
    return power_w / (voltage_v * power_factor)


@formula(name="elec.fuse_rating", source="R10 series of ISO 3, IEC 60127; 125 % as practice", status="memory", unit="A", validity="to 16 A")
def fuse_rating_a(*, current_a: float, load: float = FUSE_LOAD) -> float:
    """Smallest usual fuse that carries a current for hours.

    Parameters
    ----------
    current_a : float
        Running current. [A]
    load : float
        Rating over running current, at least. [-]

    Returns
    -------
    float
        Rating. It must be at most what the conductor behind it may carry. [A]

    Raises
    ------
    RangeError
        Above 16 A.

    References
    ----------
    Steps of ISO 3 (R10) in which IEC 60127 fuses are rated. From memory.

    Examples
    --------
    >>> fuse_rating_a(current_a=1.6)
    2.0
    """
    positive(load=load)
    not_negative(current_a=current_a)
    wanted = current_a * load * (1 - RELATIVE_SLACK)
    for rating in FUSES_A:
        if rating >= wanted:
            return rating
    raise RangeError(f"current_a = {current_a:g} needs a fuse above {FUSES_A[-1]:g} A: divide the load")


@formula(name="elec.inrush_limit", source="IEC 60898-1, characteristic C", status="memory", unit="A", validity="a planning figure")
def inrush_limit_a(*, breaker_a: float, multiple: float = INRUSH_MULTIPLE) -> float:
    """Peak at switching on below which a breaker does not trip at once.

    Parameters
    ----------
    breaker_a : float
        Rating of the breaker. [A]
    multiple : float
        Times its rating; 5 for characteristic C, 3 for B. [-]

    Returns
    -------
    float
        Current. [A]

    References
    ----------
    IEC 60898-1: B from 3, C from 5 times the rating. From memory. Peaks of a supply last well under a
    millisecond, which a breaker bears better.
    """
    positive(breaker_a=breaker_a, multiple=multiple)
    return breaker_a * multiple


@formula(name="elec.energy", source="definition", status="derived", unit="kWh")
def energy_kwh(*, power_w: float, duration_h: float, days: float = 365.0) -> float:
    """Energy of a time.

    Parameters
    ----------
    power_w : float
        Mean power while it runs. [W]
    duration_h : float
        How long it runs on a day, to 24. [h]
    days : float
        How many days. [-]

    Returns
    -------
    float
        Energy. [kWh]

    References
    ----------
    Definition. Derived.

    Examples
    --------
    >>> energy_kwh(power_w=100, duration_h=10, days=365)
    365.0
    """
    not_negative(power_w=power_w, days=days)
    within("duration_h", duration_h, 0, 24, "a day")
    return power_w * duration_h * days / 1000


@formula(
    name="heat.time_constant",
    source="lumped capacity (Bergman and others, ch 5)",
    status="derived",
    unit="s",
    validity="one temperature inside",
)
def time_constant_s(*, capacity_j_k: float, power_w: float, rise_k: float) -> float:
    """Time in which a case has made 63 % of its rise.

    Parameters
    ----------
    capacity_j_k : float
        Mass times specific heat of what warms. [J/K]
    power_w, rise_k : float
        Heat, and the rise it ends at. [W, K]

    Returns
    -------
    float
        C dT/P. [s]

    References
    ----------
    Bergman, Lavine, Incropera, DeWitt, *Introduction to Heat Transfer*, lumped capacitance: tau = C/(h A). Derived with h A = P/dT.
    """
    positive(capacity_j_k=capacity_j_k, power_w=power_w)
    not_negative(rise_k=rise_k)
    return capacity_j_k * rise_k / power_w


@formula(name="heat.warmed_share", source="lumped capacity (Bergman and others, ch 5)", status="derived", validity="one temperature inside")
def warmed_share(*, time_s: float, time_constant_s: float) -> float:
    """Share of its rise that a case has made after a time.

    Parameters
    ----------
    time_s, time_constant_s : float
        Since it was switched on; as in `heat.time_constant`. [s]

    Returns
    -------
    float
        1 - exp(-t/tau); 95 % after three time constants. [-]

    References
    ----------
    The same, first-order response. Derived.

    Examples
    --------
    >>> round(warmed_share(time_s=3, time_constant_s=1), 2)
    0.95
    """
    not_negative(time_s=time_s)
    positive(time_constant_s=time_constant_s)
    return 1 - exp(-time_s / time_constant_s)


@formula(name="heat.warming_time", source="inverse of heat.warmed_share", status="derived", unit="s", validity="one temperature inside")
def warming_time_s(*, share: float, time_constant_s: float) -> float:
    """Time after which a body has made a share of its way to the temperature round it.

    Parameters
    ----------
    share : float
        Of the way, 0 to below 1. [-]
    time_constant_s : float
        As in `heat.time_constant`. [s]

    Returns
    -------
    float
        -tau ln(1 - share). [s]

    References
    ----------
    Bergman and others, lumped capacitance, solved for the time. Derived.

    Examples
    --------
    >>> round(warming_time_s(share=0.5, time_constant_s=1), 6)
    0.693147
    """
    within("share", share, 0, 0.9999, "a share of the way")
    positive(time_constant_s=time_constant_s)
    return -time_constant_s * log(1 - share)
