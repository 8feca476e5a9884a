"""What holds a piece up.

Plasterboard alone carries nothing here. A heavy piece, a doubtful wall, cut studs or a load over people go to a licensed structural
engineer; find cables and pipes before drilling. Allowable loads of screws are in `fasteners`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, fsum

from halfsilver.engineering.bounds import RELATIVE_SLACK, not_negative, positive
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH, STANDARD_GRAVITY_M_S2

STUD_SPACING_MM = 16 * MM_PER_INCH  # common practice, also 24 in
PERSON_PULL_N = 222.0  # 50 lbf at the worst place; common practice


@formula(name="mount.weight", source="standard gravity", status="derived", unit="N")
def weight_n(*, mass_kg: float) -> float:
    """Weight of a mass.

    Parameters
    ----------
    mass_kg : float
        Mass. [kg]

    Returns
    -------
    float
        Weight. [N]

    References
    ----------
    9.80665 m/s2, CGPM 1901. Derived.
    """
    not_negative(mass_kg=mass_kg)
    return mass_kg * STANDARD_GRAVITY_M_S2


@formula(name="mount.pull_out", source="moments about the lower contact", status="derived", unit="N")
def pull_out_n(
    *,
    mass_kg: float,
    centre_from_wall_mm: float,
    fixing_to_contact_mm: float,
    fixings: int = 1,
    person_pull_n: float = 0.0,
    person_at_mm: float = 0.0,
) -> float:
    """Pull on each top fixing of a piece that hangs on it and leans on the wall below.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]
    centre_from_wall_mm : float
        Its centre of gravity from the wall. [mm]
    fixing_to_contact_mm : float
        From the top fixing down to the lower contact: the bottom of the frame where there is no rest. [mm]
    fixings : int
        Fixings that share the pull.
    person_pull_n : float
        Pull of a person away from the wall; 222 N (50 lbf) is a common guard value. [N]
    person_at_mm : float
        Height of that pull above the lower contact. [mm]

    Returns
    -------
    float
        Pull per fixing. [N]

    References
    ----------
    Derived: W e / (h n).

    Examples
    --------
    >>> round(pull_out_n(mass_kg=30, centre_from_wall_mm=75, fixing_to_contact_mm=500), 2)
    44.13
    """
    positive(fixing_to_contact_mm=fixing_to_contact_mm, fixings=fixings)
    not_negative(centre_from_wall_mm=centre_from_wall_mm, person_pull_n=person_pull_n, person_at_mm=person_at_mm)
    moment = weight_n(mass_kg=mass_kg) * centre_from_wall_mm + person_pull_n * person_at_mm
    return moment / fixing_to_contact_mm / fixings


@formula(name="mount.shear", source="weight shared by the fixings that carry it", status="derived", unit="N")
def shear_n(*, mass_kg: float, fixings: int) -> float:
    """Downward load on each fixing.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]
    fixings : int
        Fixings that carry it.

    Returns
    -------
    float
        Shear per fixing. [N]

    References
    ----------
    Derived.
    """
    positive(fixings=fixings)
    return weight_n(mass_kg=mass_kg) / fixings


@formula(name="mount.load_share", source="a row of equal fixings, moments about its middle", status="derived")
def load_share(*, fixings: int, off_centre_mm: float, spread_mm: float) -> float:
    """Share of the load on the fixing that takes most, where the centre of gravity is not under the middle of an even row.

    Parameters
    ----------
    fixings : int
        Fixings in the row.
    off_centre_mm : float
        Centre of gravity from the middle of the row, to either side. [mm]
    spread_mm : float
        From the first to the last fixing. [mm]

    Returns
    -------
    float
        1/n in the middle, more aside of it; 1 for a single one. [-]

    References
    ----------
    Derived: 1/n + x c/sum(x_i^2), c = half the spread. Two fixings: a half and x over the spread more, the lever of a beam on two props.

    Examples
    --------
    >>> load_share(fixings=2, off_centre_mm=100, spread_mm=1000)
    0.6
    """
    positive(fixings=fixings)
    not_negative(off_centre_mm=abs(off_centre_mm), spread_mm=spread_mm)
    if fixings == 1 or spread_mm == 0:
        return 1 / fixings
    places = [spread_mm * (i / (fixings - 1) - 0.5) for i in range(fixings)]
    return 1 / fixings + abs(off_centre_mm) * spread_mm / 2 / fsum(x * x for x in places)


@formula(
    name="mount.proof_load", source="mounting-means test of a UL product standard, clause 64", status="seen", unit="N",
    validity="a test level for the whole support, not an allowable load of one screw",
)  # fmt: skip
def proof_load_n(*, mass_kg: float) -> float:
    """Load that a wall support is proved with: four times the weight, at least that of 4.5 kg (10 lb).

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]

    Returns
    -------
    float
        Load, applied over 5 to 10 s and held for 1 min. [N]

    References
    ----------
    UL product standard, clause 64, mounting-means test. Seen.

    Examples
    --------
    >>> round(proof_load_n(mass_kg=20), 1)
    784.5
    """
    return max(4 * weight_n(mass_kg=mass_kg), weight_n(mass_kg=4.5))


@formula(
    name="mount.equipment_proof_load",
    source="IEC 62368-1 clause 8.7",
    status="memory",
    unit="N",
    validity="the equipment's own mounting points only",
)
def equipment_proof_load_n(*, mass_kg: float) -> float:
    """Load, beside its weight, that a screen's own mounting points are tested with.

    Parameters
    ----------
    mass_kg : float
        Mass of the screen. [kg]

    Returns
    -------
    float
        Three times the weight or 880 N, whichever is less. [N]

    References
    ----------
    IEC 62368-1 clause 8.7: it tests the equipment, not the wall (seen); the loads from memory.
    """
    return min(3 * weight_n(mass_kg=mass_kg), 880.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StudsCrossed:
    """Least and greatest number of studs behind a width, wherever it hangs."""

    least: int
    most: int


@formula(name="mount.studs_crossed", source="studs at an even spacing", status="derived")
def studs_crossed(*, width_mm: float, spacing_mm: float = STUD_SPACING_MM) -> StudsCrossed:
    """How many stud centres lie behind a width.

    Parameters
    ----------
    width_mm : float
        Width of the piece or its rail. [mm]
    spacing_mm : float
        Spacing of the studs, 16 or 24 in as common practice. [mm]

    Returns
    -------
    StudsCrossed

    References
    ----------
    Derived: surely floor(w/s), at most one more.

    Examples
    --------
    >>> studs_crossed(width_mm=1217, spacing_mm=406.4)
    StudsCrossed(least=2, most=3)
    """
    positive(width_mm=width_mm, spacing_mm=spacing_mm)
    least = floor(width_mm / spacing_mm * (1 + RELATIVE_SLACK))
    return StudsCrossed(least=least, most=least + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Centre:
    """Combined mass and where it acts: x forward, z up. [kg, mm]"""

    mass_kg: float
    x_mm: float
    z_mm: float


@formula(name="mount.centre_of_gravity", source="mean weighted by mass", status="derived")
def centre_of_gravity(*, masses_kg: Sequence[float], x_mm: Sequence[float], z_mm: Sequence[float]) -> Centre:
    """Centre of gravity of several parts.

    Parameters
    ----------
    masses_kg, x_mm, z_mm : sequence of float
        Mass, forward and upward place of each part; equally many. [kg, mm]

    Returns
    -------
    Centre

    References
    ----------
    Derived: sum(m x)/sum(m).
    """
    if not len(masses_kg) == len(x_mm) == len(z_mm):
        raise RangeError("masses_kg, x_mm and z_mm must be equally long")
    total = fsum(masses_kg)
    positive(total_mass_kg=total)
    return Centre(
        mass_kg=total,
        x_mm=fsum(m * x for m, x in zip(masses_kg, x_mm, strict=True)) / total,
        z_mm=fsum(m * z for m, z in zip(masses_kg, z_mm, strict=True)) / total,
    )


@formula(name="mount.fixings_needed", source="load over allowable load, whole number", status="derived")
def fixings_needed(*, load_n: float, allowable_n: float) -> int:
    """How many equal fixings carry a load.

    Parameters
    ----------
    load_n : float
        Load on all of them together. [N]
    allowable_n : float
        Allowable load of one. [N]

    Returns
    -------
    int
        At least 1.

    References
    ----------
    Derived.
    """
    not_negative(load_n=load_n)
    positive(allowable_n=allowable_n)
    return max(1, -floor(-load_n / allowable_n * (1 - RELATIVE_SLACK)))
