"""What would tip a standing piece: the stability tests of IEC 62368-1 clause 8.6, as moments about the edge of its foot.

A piece that passes in numbers is still tied to the wall where children are; the maker tests the finished piece.
"""

from __future__ import annotations

from math import radians, tan

from halfsilver.engineering.bounds import not_negative, positive, within
from halfsilver.engineering.mounting import weight_n
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.engineering.workings import ENGINEER
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


def standing_workings(
    *, mass_kg: float, base_mm: float, centre_height_mm: float, push_height_mm: float = 1500.0, overhang_mm: float = 0.0, over: str = ""
) -> tuple[Working, ...]:
    """Tilt to ten degrees, the sideways push, and the downward push, of a piece on the floor over one edge of its foot.

    Parameters
    ----------
    mass_kg : float
        Mass. [kg]
    base_mm : float
        From the plumb line of the centre of gravity to the tipping edge. [mm]
    centre_height_mm : float
        Height of the centre of gravity. [mm]
    push_height_mm : float
        Height of the push, at most 1.5 m. [mm]
    overhang_mm : float
        How far what can be pressed down upon, up to 1.5 m high, lies outside that edge. [mm]
    over : str
        The edge in words, for the titles.

    Returns
    -------
    tuple of Working
        Tilt, sideways push with the downward push at work, downward push.
    """
    aside = f", over its {over}" if over else ""
    tilt, push, down = mark_of(tip_base_mm), mark_of(push_level_n), mark_of(down_level_n)
    assumed = ("level, hard floor", "both pushes act at once: the cautious reading of the clause")
    weight, pressed = weight_n(mass_kg=mass_kg), down_level_n(mass_kg=mass_kg)
    given = (
        Given(name="weight", symbol="W", value=weight, unit="N"),
        Given(name="base", symbol="d", value=base_mm, unit="mm"),
        Given(name="downward push", symbol="F", value=pressed, unit="N", origin=down.source),
        Given(name="what stands out over that edge", symbol="o", value=overhang_mm, unit="mm"),
    )
    return (
        Working(
            rule="mount.tip",
            title=f"stays up at ten degrees{aside}",
            given=(given[1], Given(name="height of the centre of gravity", symbol="hc", value=centre_height_mm, unit="mm")),
            formula="d >= hc tan 10 deg",
            result=base_mm,
            limit=tip_base_mm(centre_height_mm=centre_height_mm),
            unit="mm",
            side=Limit.AT_LEAST,
            source=tilt.source,
            limit_source=tilt.source,
            status=tilt.status,
            assumptions=assumed[:1],
            confirms=ENGINEER,
        ),
        Working(
            rule="mount.push",
            title=f"sideways push that tips it{aside}",
            given=(*given, Given(name="height of the push", symbol="H", value=push_height_mm, unit="mm")),
            formula="(W d - F o)/H >= 0.13 W, at most 250 N",
            result=push_to_tip_n(mass_kg=mass_kg, base_mm=base_mm, push_height_mm=push_height_mm, down_n=pressed, overhang_mm=overhang_mm),
            limit=push_level_n(mass_kg=mass_kg),
            unit="N",
            side=Limit.AT_LEAST,
            source=mark_of(push_to_tip_n).source,
            limit_source=push.source,
            status=weakest("derived", push.status),
            assumptions=assumed,
            confirms=ENGINEER,
        ),
        Working(
            rule="mount.down",
            title=f"downward push outside its foot{aside}",
            given=given,
            formula="F o <= W d; F half of W, at most 100 N",
            result=pressed * overhang_mm / 1000,
            limit=righting_moment_n_m(mass_kg=mass_kg, base_mm=base_mm),
            unit="N m",
            source=down.source,
            limit_source=mark_of(righting_moment_n_m).source,
            status=weakest(down.status, "derived"),
            assumptions=assumed[:1],
            confirms=ENGINEER,
        ),
    )
