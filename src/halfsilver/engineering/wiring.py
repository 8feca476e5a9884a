"""Copper: resistance of a gauge, voltage along a run, what current a conductor may carry.

Direct current, two wires; a length is one way. Advice for low-voltage wiring behind a plug-in supply. Fixed wiring, anything in a wall
and every new circuit belong to a licensed electrician and the local code.
"""

from __future__ import annotations

from math import pi

from halfsilver.engineering.bounds import entry, not_negative, positive, within
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH

COPPER_OHM_M = 1.7241e-8  # annealed, 20 degC, 100 % IACS [seen]
COPPER_PER_K = 0.00393  # at 20 degC [memory]
# NEC chapter 9 Table 8, uncoated copper, direct current, 75 degC: ohm per km. Seen but for three: 10 solid, 10 and 8 stranded [memory].
TABLE_8 = {
    "solid": {18: 25.5, 16: 16.0, 14: 10.1, 12: 6.34, 10: 3.984, 8: 2.506},
    "7-strand": {18: 26.1, 16: 16.4, 14: 10.3, 12: 6.50, 10: 4.07, 8: 2.551},
}
LIMITS_A = {  # gauge: NEC 402.5 fixture wire [seen]; 240.4(D) overcurrent [14 and thicker seen]; 310.16, 60 degC column [seen]
    "fixture wire": {18: 6.0, 16: 8.0},
    "overcurrent": {18: 7.0, 16: 10.0, 14: 15.0, 12: 20.0, 10: 30.0},
    "60 degC": {14: 15.0, 12: 20.0, 10: 30.0, 8: 40.0},
}


@formula(name="elec.wire_diameter", source="ASTM B258", status="seen", unit="mm", validity="AWG 36 to 0000; -3 stands for 0000")
def wire_diameter_mm(*, gauge: int) -> float:
    """Diameter of a solid wire of an American gauge.

    Parameters
    ----------
    gauge : int
        AWG number, -3 (0000) to 40.

    Returns
    -------
    float
        Diameter. [mm]

    References
    ----------
    ASTM B258: No. 36 is 0.005 in, No. 0000 is 0.460 in, 39 equal ratios between. Seen.

    Examples
    --------
    >>> round(wire_diameter_mm(gauge=18), 4)
    1.0237
    """
    within("gauge", gauge, -3, 40, "ASTM B258")
    diameter: float = 0.005 * MM_PER_INCH * 92 ** ((36 - gauge) / 39)
    return diameter


@formula(name="elec.wire_area", source="circle", status="derived", unit="mm2")
def wire_area_mm2(*, diameter_mm: float) -> float:
    """Cross-section of a round wire.

    Parameters
    ----------
    diameter_mm : float
        Diameter. [mm]

    Returns
    -------
    float
        Area. [mm2]

    References
    ----------
    Derived.
    """
    positive(diameter_mm=diameter_mm)
    return pi / 4 * diameter_mm**2


@formula(name="elec.wire_resistance", source="IACS annealed copper", status="oracle", unit="ohm/km")
def wire_ohm_per_km(*, diameter_mm: float, temperature_degc: float = 20.0) -> float:
    """Resistance of a solid copper wire, one conductor.

    Parameters
    ----------
    diameter_mm : float
        Diameter. [mm]
    temperature_degc : float
        Temperature of the wire. [degC]

    Returns
    -------
    float
        Resistance. [ohm/km]

    References
    ----------
    1.7241e-8 ohm m at 20 degC (seen), 0.00393 per K (memory); agrees with NEC chapter 9 Table 8 at 75 degC.

    Examples
    --------
    >>> round(wire_ohm_per_km(diameter_mm=1.0237), 2)
    20.95
    """
    at_20 = COPPER_OHM_M / (wire_area_mm2(diameter_mm=diameter_mm) * 1e-6) * 1000
    return resistance_at(resistance_20=at_20, temperature_degc=temperature_degc)


@formula(
    name="elec.resistance_at",
    source="copper, temperature coefficient",
    status="memory",
    unit="as given",
    validity="copper, -50 to 150 degC",
)
def resistance_at(*, resistance_20: float, temperature_degc: float) -> float:
    """Resistance of copper at a temperature, from that at 20 degC.

    Parameters
    ----------
    resistance_20 : float
        Resistance at 20 degC, in any unit.
    temperature_degc : float
        Temperature. [degC]

    Returns
    -------
    float
        R20 (1 + 0.00393 (T - 20)), in the same unit.

    References
    ----------
    Coefficient from memory; the result agrees with NEC chapter 9 Table 8 at 75 degC.
    """
    not_negative(resistance_20=resistance_20)
    within("temperature_degc", temperature_degc, -50, 150, "the linear rule for copper")
    return resistance_20 * (1 + COPPER_PER_K * (temperature_degc - 20))


@formula(
    name="elec.table8_resistance",
    source="NEC chapter 9 Table 8",
    status="seen",
    unit="ohm/km",
    validity="75 degC; 10 and 8 AWG partly memory",
)
def table8_ohm_per_km(*, gauge: int, stranding: str = "7-strand") -> float:
    """Resistance of uncoated copper at 75 degC as the code prints it; at room temperature about 82 % of it.

    Parameters
    ----------
    gauge : {18, 16, 14, 12, 10, 8}
        AWG number.
    stranding : {"solid", "7-strand"}
        Make-up of the conductor.

    Returns
    -------
    float
        Resistance of one conductor. [ohm/km]

    References
    ----------
    NEC chapter 9 Table 8. Seen; 10 solid and stranded and 8 stranded from memory.
    """
    return entry(entry(TABLE_8, stranding, "stranding"), gauge, "gauge in NEC Table 8:")


@formula(
    name="elec.conductor_limit",
    source="NEC 402.5, 240.4(D), 310.16",
    status="memory",
    unit="A",
    validity="all but 18 and 16 AWG overcurrent seen",
)
def conductor_limit_a(*, gauge: int, use: str) -> float:
    """Current that a copper conductor may carry, by what it is used as.

    Parameters
    ----------
    gauge : int
        AWG number.
    use : {"fixture wire", "overcurrent", "60 degC"}
        Table of the code.

    Returns
    -------
    float
        Current. [A]

    References
    ----------
    NEC 402.5, 240.4(D), 310.16. Seen, but 18 AWG 7 A and 16 AWG 10 A from memory. An electrician decides on fixed wiring.
    """
    return entry(entry(LIMITS_A, use, "use"), gauge, f"gauge for {use}:")


@formula(name="elec.drop_point", source="Ohm's law", status="derived", unit="V")
def drop_point_v(*, length_mm: float, current_a: float, ohm_per_km: float) -> float:
    """Voltage lost along two wires when the whole load sits at the far end.

    Parameters
    ----------
    length_mm : float
        One way. [mm]
    current_a : float
        Load. [A]
    ohm_per_km : float
        Resistance of one conductor. [ohm/km]

    Returns
    -------
    float
        2 L I r. [V]

    References
    ----------
    Derived.

    Examples
    --------
    >>> round(drop_point_v(length_mm=5000, current_a=4, ohm_per_km=26.1), 3)
    1.044
    """
    not_negative(length_mm=length_mm, current_a=current_a, ohm_per_km=ohm_per_km)
    return 2 * length_mm * 1e-6 * current_a * ohm_per_km


@formula(
    name="elec.drop_even",
    source="half rule",
    status="derived",
    unit="V",
    validity="constant current per length; an upper bound for resistor strips",
)
def drop_even_v(*, length_mm: float, current_a: float, ohm_per_km: float) -> float:
    """Voltage lost at the far end when the load is spread evenly and fed at one end.

    Parameters
    ----------
    length_mm, current_a, ohm_per_km : float
        As in `drop_point_v`; the current is that of the whole run.

    Returns
    -------
    float
        Half of `drop_point_v`. [V]

    References
    ----------
    Derived: integral of r I (1 - x/L).
    """
    return drop_point_v(length_mm=length_mm, current_a=current_a, ohm_per_km=ohm_per_km) / 2


@formula(
    name="elec.drop_even_two_ends",
    source="half rule on two halves",
    status="derived",
    unit="V",
    validity="both ends fed with the same voltage",
)
def drop_even_two_ends_v(*, length_mm: float, current_a: float, ohm_per_km: float) -> float:
    """Voltage lost in the middle when the load is spread evenly and fed at both ends.

    Parameters
    ----------
    length_mm, current_a, ohm_per_km : float
        As in `drop_even_v`.

    Returns
    -------
    float
        An eighth of `drop_point_v`. [V]

    References
    ----------
    Derived.
    """
    return drop_point_v(length_mm=length_mm, current_a=current_a, ohm_per_km=ohm_per_km) / 8


@formula(name="elec.tap_factor", source="sum over equal taps", status="derived")
def tap_factor(*, taps: int) -> float:
    """Drop at the last of equal, equally spaced taps over that of one load at the far end.

    Parameters
    ----------
    taps : int
        Number of taps, the last at the far end.

    Returns
    -------
    float
        (n + 1)/(2 n). [-]

    References
    ----------
    Derived.

    Examples
    --------
    >>> tap_factor(taps=10)
    0.55
    """
    if taps < 1:
        raise RangeError(f"taps must be 1 or more, got {taps}")
    return (taps + 1) / (2 * taps)


@formula(name="elec.drop_share", source="definition", status="derived")
def drop_share(*, drop_v: float, supply_v: float) -> float:
    """Voltage drop as a share of the supply.

    Parameters
    ----------
    drop_v, supply_v : float
        Both in volts. [V]

    Returns
    -------
    float
        Share. Notes to NEC 210.19 and 215.2 suggest about 3 % on a branch and 5 % overall: advice, not a rule (memory). [-]

    References
    ----------
    Definition. Derived.
    """
    not_negative(drop_v=drop_v)
    positive(supply_v=supply_v)
    return drop_v / supply_v


@formula(name="elec.longest_run", source="Ohm's law", status="derived", unit="mm")
def longest_run_mm(*, supply_v: float, share: float, current_a: float, ohm_per_km: float) -> float:
    """Longest one-way run with the load at its end for a share of the supply lost.

    Parameters
    ----------
    supply_v : float
        Supply. [V]
    share : float
        Share that may be lost. [-]
    current_a : float
        Load. [A]
    ohm_per_km : float
        Resistance of one conductor. [ohm/km]

    Returns
    -------
    float
        Length. [mm]

    References
    ----------
    Derived: the inverse of `drop_point_v`.

    Examples
    --------
    >>> round(longest_run_mm(supply_v=24, share=0.03, current_a=4, ohm_per_km=26.1))
    3448
    """
    positive(supply_v=supply_v, share=share, current_a=current_a, ohm_per_km=ohm_per_km)
    return share * supply_v / (2 * current_a * ohm_per_km) * 1e6
