"""A crate round a piece: its size, its mass, what the foam under the piece bears, how many stand on a pallet."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from halfsilver.engineering.bounds import RELATIVE_SLACK, not_negative, positive
from halfsilver.engineering.mounting import weight_n
from halfsilver.model.formula import formula

PRACTICE = "common practice"
FOAM_KPA = 7.0  # lasting pressure that packing foam bears
CLEATS = 1.3  # mass of a crate with its cleats over that of its bare boards
PALLET_MM = (1219.2, 1016.0)  # 48 x 40 in, the usual one in North America
PALLET_KG = 1000.0  # its usual load


@dataclass(frozen=True, slots=True, kw_only=True)
class Crate:
    """Inside, outside and empty mass of a crate. [mm, kg]"""

    inside_mm: tuple[float, float, float]
    outside_mm: tuple[float, float, float]
    mass_kg: float


@formula(name="carriage.crate", source=PRACTICE, status="practice", validity="boards on all six sides, cleats as 30 % more")
def crate(*, width_mm: float, height_mm: float, depth_mm: float, cushion_mm: float, wall_mm: float, density_kg_m3: float) -> Crate:
    """A crate that takes a piece upright with its cushions.

    Parameters
    ----------
    width_mm, height_mm, depth_mm : float
        The piece as it stands. [mm]
    cushion_mm : float
        Foam on each side. [mm]
    wall_mm, density_kg_m3 : float
        Thickness of the boards and their mass per volume. [mm, kg/m3]

    Returns
    -------
    Crate

    References
    ----------
    Derived; cleats as 30 % of the boards are common practice.

    Examples
    --------
    >>> crate(width_mm=900, height_mm=900, depth_mm=0.1, cushion_mm=44.95, wall_mm=5, density_kg_m3=600).inside_mm
    (989.9, 989.9, 90.0)
    """
    positive(width_mm=width_mm, height_mm=height_mm, depth_mm=depth_mm, wall_mm=wall_mm, density_kg_m3=density_kg_m3)
    not_negative(cushion_mm=cushion_mm)
    w, h, d = (side + 2 * cushion_mm for side in (width_mm, height_mm, depth_mm))
    W, H, D = (side + 2 * wall_mm for side in (w, h, d))
    return Crate(inside_mm=(w, h, d), outside_mm=(W, H, D), mass_kg=CLEATS * (W * H * D - w * h * d) * density_kg_m3 * 1e-9)


@formula(name="carriage.foam_pressure", source="weight over bearing area", status="derived", unit="kPa")
def foam_pressure_kpa(*, mass_kg: float, length_mm: float, depth_mm: float) -> float:
    """Pressure on the foam on which a piece stands; at most 7 kPa for long (practice).

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]
    length_mm, depth_mm : float
        Its edge that stands on the foam. [mm]

    Returns
    -------
    float
        Pressure. [kPa]

    References
    ----------
    Derived.
    """
    positive(length_mm=length_mm, depth_mm=depth_mm)
    return 1000 * weight_n(mass_kg=mass_kg) / (length_mm * depth_mm)


@formula(name="carriage.pallet_count", source=PRACTICE, status="practice", validity="crates upright, side by side, strapped")
def pallet_count(
    *, width_mm: float, depth_mm: float, mass_kg: float, pallet_mm: tuple[float, float] = PALLET_MM, most_kg: float = PALLET_KG
) -> int:
    """How many upright crates stand on one pallet, by room and by mass; one that is longer than the pallet needs a longer one.

    Parameters
    ----------
    width_mm, depth_mm, mass_kg : float
        Crate as it stands. [mm, kg]
    pallet_mm : tuple of float
        Longer and shorter side. [mm]
    most_kg : float
        Load of the pallet. [kg]

    Returns
    -------
    int
        0 where the crate is longer than the pallet.

    References
    ----------
    Common practice.
    """
    positive(width_mm=width_mm, depth_mm=depth_mm, mass_kg=mass_kg)
    long, short = max(pallet_mm), min(pallet_mm)
    if width_mm > long:
        return 0
    return min(floor(short / depth_mm + RELATIVE_SLACK), floor(most_kg / mass_kg + RELATIVE_SLACK))
