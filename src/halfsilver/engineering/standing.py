"""What would tip a standing piece: the stability tests of IEC 62368-1 clause 8.6, as moments about the edge of its foot.

A piece that passes in numbers is still tied to the wall where children are; the maker tests the finished piece.
"""

from __future__ import annotations

from math import radians, tan

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.mounting import weight_n
from halfsilver.model.formula import formula


@formula(name="mount.tip_base", source="IEC 62368-1 clause 8.6, tilt to 10 degrees", status="seen", unit="mm")
def tip_base_mm(*, centre_height_mm: float, tilt_deg: float = 10.0) -> float:
    """Least distance from the plumb line of the centre of gravity to the edge over which a standing piece would tip.

    Parameters
    ----------
    centre_height_mm : float
        Height of the centre of gravity. [mm]
    tilt_deg : float
        Tilt it must stand. [deg]

    Returns
    -------
    float
        Distance. [mm]

    References
    ----------
    IEC 62368-1 clause 8.6, first of three tests: stays up when tilted to 10 degrees any way. Seen.

    Examples
    --------
    >>> round(tip_base_mm(centre_height_mm=900), 1)
    158.7
    """
    positive(centre_height_mm=centre_height_mm)
    within("tilt_deg", tilt_deg, 0, 89, "a tilt test")
    return centre_height_mm * tan(radians(tilt_deg))


@formula(name="mount.push_level", source="IEC 62368-1 clause 8.6, horizontal force", status="seen", unit="N")
def push_level_n(*, mass_kg: float) -> float:
    """Sideways push that a standing piece is tested with, up to 1.5 m high.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]

    Returns
    -------
    float
        13 % of the weight, at most 250 N. [N]

    References
    ----------
    IEC 62368-1 clause 8.6. Seen.
    """
    return min(0.13 * weight_n(mass_kg=mass_kg), 250.0)


@formula(name="mount.down_level", source="IEC 62368-1 clause 8.6, downward force", status="seen", unit="N")
def down_level_n(*, mass_kg: float) -> float:
    """Downward push that a standing piece is tested with.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]

    Returns
    -------
    float
        Half the weight, at most 100 N. [N]

    References
    ----------
    IEC 62368-1 clause 8.6. Seen.
    """
    return min(0.5 * weight_n(mass_kg=mass_kg), 100.0)


@formula(name="mount.push_to_tip", source="moments about the tipping edge", status="derived", unit="N")
def push_to_tip_n(*, mass_kg: float, base_mm: float, push_height_mm: float, down_n: float = 0.0, overhang_mm: float = 0.0) -> float:
    """Sideways push that just tips a standing piece.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]
    base_mm : float
        From the plumb line of its centre of gravity to the tipping edge. [mm]
    push_height_mm : float
        Height of the push. [mm]
    down_n : float
        Load that presses down at the same time. [N]
    overhang_mm : float
        How far outside the tipping edge it presses. [mm]

    Returns
    -------
    float
        Push; 0 where the load tips it alone. [N]

    References
    ----------
    Derived: (W d - F o)/H.

    Examples
    --------
    >>> round(push_to_tip_n(mass_kg=60, base_mm=200, push_height_mm=1500), 1)
    78.5
    """
    not_negative(base_mm=base_mm, down_n=down_n, overhang_mm=overhang_mm)
    positive(push_height_mm=push_height_mm)
    return max(weight_n(mass_kg=mass_kg) * base_mm - down_n * overhang_mm, 0.0) / push_height_mm


@formula(name="mount.righting_moment", source="moments about the tipping edge", status="derived", unit="N m")
def righting_moment_n_m(*, mass_kg: float, base_mm: float) -> float:
    """Moment with which its weight keeps a standing piece on its foot.

    Parameters
    ----------
    mass_kg : float
        Mass of the piece. [kg]
    base_mm : float
        From the plumb line of its centre of gravity to the tipping edge. [mm]

    Returns
    -------
    float
        Moment. [N m]

    References
    ----------
    Derived: W d.
    """
    not_negative(base_mm=base_mm)
    return weight_n(mass_kg=mass_kg) * base_mm / 1000
