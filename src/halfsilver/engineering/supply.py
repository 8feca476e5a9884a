"""Supplies: how large, how many, and the limits that keep a circuit power-limited.

A piece is not listed or certified because its parts are. Class 2 outputs are not joined in parallel; a qualified person decides on
mains, a licensed electrician on fixed wiring, under the local code.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from halfsilver.engineering.bounds import RELATIVE_SLACK, exceeds, not_negative, positive, within
from halfsilver.model.formula import formula

CLASS_2_VA = 100.0
CLASS_2_LOW_V, CLASS_2_LOW_A = 20.0, 5.0  # to that voltage at most so much current: NEC chapter 9 Table 11(B) [memory]
HEADROOM = 0.8  # common practice: a supply at 80 % of its rating
CONTINUOUS = 1.25  # NEC 210.19(A), 210.20(A)
CONTINUOUS_H = 3.0  # NEC article 100


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyLimit:
    """Greatest current and apparent power of a limited supply. [A, VA]"""

    current_a: float
    power_va: float


@formula(
    name="elec.class2_nameplate", source="NEC chapter 9 Table 11(B), inherently limited", status="memory",
    validity="DC to 60 V, dry place; 100 VA seen, the rest memory",
)  # fmt: skip
def class2_nameplate(*, voltage_v: float, low_current_a: float = CLASS_2_LOW_A) -> SupplyLimit:
    """Greatest nameplate rating of a Class 2 supply for direct current.

    Parameters
    ----------
    voltage_v : float
        Greatest output voltage, to 60 V. [V]
    low_current_a : float
        Greatest current to 20 V. [A]

    Returns
    -------
    SupplyLimit

    References
    ----------
    NEC article 725, chapter 9 Table 11(B): to 20 V 5 A and 5 V x A; above, 100 VA. 100 VA seen, the rest from memory; agrees with
    IEC 60950-1 Table 2B.

    Examples
    --------
    >>> round(class2_nameplate(voltage_v=24).current_a, 2)
    4.17
    """
    positive(voltage_v=voltage_v)
    within("voltage_v", voltage_v, 0, 60, "NEC Class 2, direct current")
    if not exceeds(voltage_v, CLASS_2_LOW_V):
        return SupplyLimit(current_a=low_current_a, power_va=low_current_a * voltage_v)
    return SupplyLimit(current_a=CLASS_2_VA / voltage_v, power_va=CLASS_2_VA)


@formula(
    name="elec.limited_power_source",
    source="IEC 60950-1 Table 2B; IEC 62368-1 annex Q",
    status="seen",
    validity="DC to 60 V, inherently limited",
)
def limited_power_source(*, voltage_v: float) -> SupplyLimit:
    """Greatest output of an inherently limited power source under any load.

    Parameters
    ----------
    voltage_v : float
        Open-circuit voltage, direct current, to 60 V. [V]

    Returns
    -------
    SupplyLimit

    References
    ----------
    IEC 60950-1 Table 2B: 8 A to 30 V, 150/U A above; 5 U VA to 20 V, 100 VA above. Seen.
    """
    positive(voltage_v=voltage_v)
    within("voltage_v", voltage_v, 0, 60, "IEC limited power source, direct current")
    return SupplyLimit(
        current_a=150 / voltage_v if exceeds(voltage_v, 30) else 8.0,
        power_va=100.0 if exceeds(voltage_v, 20) else 5.0 * voltage_v,
    )


@formula(name="elec.class2_voltage_limit", source="NEC chapter 9 Table 11(B) note 4", status="seen", unit="V")
def class2_voltage_limit_v(*, wet: bool, interrupted: bool = False) -> float:
    """Greatest voltage of a Class 2 circuit for direct current.

    Parameters
    ----------
    wet : bool
        Wet contact is likely.
    interrupted : bool
        The current is interrupted 10 to 200 times a second, as some dimmers do.

    Returns
    -------
    float
        60, where wet 30, where wet and interrupted 12.4. [V]

    References
    ----------
    NEC chapter 9 Table 11, note 4: wet limits seen; 60 V in dry places from memory.
    """
    if not wet:
        return 60.0
    return 12.4 if interrupted else 30.0


@formula(name="elec.class2_channels", source="common practice on NEC 725", status="practice")
def class2_channels(*, power_w: float, derate: float = HEADROOM) -> int:
    """How many Class 2 supplies share a load, each feeding a part of its own.

    Parameters
    ----------
    power_w : float
        Whole load. [W]
    derate : float
        Share of its 100 VA that each is loaded with. [-]

    Returns
    -------
    int
        At least 1.

    References
    ----------
    Common practice; outputs are not paralleled (NEC 725, memory).
    """
    not_negative(power_w=power_w)
    within("derate", derate, 0.01, 1, "a share of the rating")
    return max(1, ceil(power_w / (CLASS_2_VA * derate) * (1 - RELATIVE_SLACK)))


@formula(name="elec.supply_rating", source="common practice, 80 % load", status="practice", unit="W")
def supply_rating_w(*, power_w: float, headroom: float = HEADROOM) -> float:
    """Least rating of a supply for a load.

    Parameters
    ----------
    power_w : float
        Load. [W]
    headroom : float
        Share of its rating that it is loaded with. [-]

    Returns
    -------
    float
        Rating. [W]

    References
    ----------
    Common practice.

    Examples
    --------
    >>> round(supply_rating_w(power_w=60.48), 1)
    75.6
    """
    not_negative(power_w=power_w)
    within("headroom", headroom, 0.01, 1, "a share of the rating")
    return power_w / headroom


@formula(name="elec.continuous_load", source="NEC article 100", status="seen")
def is_continuous(*, duration_h: float) -> bool:
    """Whether a load counts as continuous.

    Parameters
    ----------
    duration_h : float
        Longest time that its greatest current is expected to run on. [h]

    Returns
    -------
    bool
        Three hours or more.

    References
    ----------
    NEC article 100. Seen.
    """
    not_negative(duration_h=duration_h)
    return not exceeds(CONTINUOUS_H, duration_h)


@formula(name="elec.branch_rating", source="NEC 210.19(A), 210.20(A)", status="seen", unit="A")
def branch_rating_a(*, continuous_a: float, other_a: float = 0.0) -> float:
    """Least rating of a branch circuit.

    Parameters
    ----------
    continuous_a : float
        Continuous load, see `is_continuous`. [A]
    other_a : float
        Other load. [A]

    Returns
    -------
    float
        Other load and 125 % of the continuous one. [A]

    References
    ----------
    NEC 210.19(A), 210.20(A). Seen. Breakers listed for 100 % excepted. An electrician sizes the circuit.
    """
    not_negative(continuous_a=continuous_a, other_a=other_a)
    return other_a + CONTINUOUS * continuous_a


@formula(name="elec.continuous_power", source="NEC 210.20(A), inverse of 125 %", status="seen", unit="W")
def continuous_power_w(*, breaker_a: float, voltage_v: float) -> float:
    """Continuous load that a breaker carries.

    Parameters
    ----------
    breaker_a : float
        Rating. [A]
    voltage_v : float
        Mains voltage. [V]

    Returns
    -------
    float
        80 % of rating times voltage. [W]

    References
    ----------
    NEC 210.20(A). Seen.

    Examples
    --------
    >>> continuous_power_w(breaker_a=15, voltage_v=120)
    1440.0
    """
    positive(breaker_a=breaker_a, voltage_v=voltage_v)
    return breaker_a / CONTINUOUS * voltage_v


@formula(name="elec.branch_share", source="NEC 210.23", status="memory")
def branch_share(*, fixed: bool) -> float:
    """Share of a shared branch circuit that one appliance may take.

    Parameters
    ----------
    fixed : bool
        Fastened in place, with lighting or plugs on the same circuit; else cord and plug.

    Returns
    -------
    float
        0.5 fixed, 0.8 plugged. [-]

    References
    ----------
    NEC 210.23. From memory.
    """
    return 0.5 if fixed else 0.8


@formula(name="elec.low_voltage_lighting", source="NEC article 411", status="seen", validity="60 V DC from the 2017 edition, 30 V before")
def fits_low_voltage_lighting(*, voltage_v: float, current_a: float) -> bool:
    """Whether a secondary circuit keeps the limits of low-voltage lighting, direct current.

    Parameters
    ----------
    voltage_v : float
        Of the secondary circuit. [V]
    current_a : float
        Of each secondary circuit. [A]

    Returns
    -------
    bool
        At most 60 V and 25 A; the system or its parts must also be listed for the purpose.

    References
    ----------
    NEC article 411. Seen.
    """
    positive(voltage_v=voltage_v)
    not_negative(current_a=current_a)
    return not exceeds(voltage_v, 60) and not exceeds(current_a, 25)


@formula(name="elec.strip_power", source="definition", status="derived", unit="W")
def strip_power_w(*, length_mm: float, power_w_per_m: float) -> float:
    """Power of a length of light strip.

    Parameters
    ----------
    length_mm : float
        Length that lights. [mm]
    power_w_per_m : float
        Rating. [W/m]

    Returns
    -------
    float
        Power. [W]

    References
    ----------
    Definition. Derived.
    """
    not_negative(length_mm=length_mm, power_w_per_m=power_w_per_m)
    return length_mm * 1e-3 * power_w_per_m


@formula(name="elec.whole_segments", source="cut only at the marks", status="practice")
def whole_segments(*, run_mm: float, segment_mm: float) -> int:
    """How many whole segments of strip fit a run.

    Parameters
    ----------
    run_mm : float
        Length there is. [mm]
    segment_mm : float
        Distance of the cut marks. [mm]

    Returns
    -------
    int
        Segments, 0 or more; the remainder stays dark or is spread.

    References
    ----------
    Common practice: strip is cut at its marks only.
    """
    not_negative(run_mm=run_mm)
    positive(segment_mm=segment_mm)
    return floor(run_mm / segment_mm * (1 + RELATIVE_SLACK))
