"""Sight lines past an edge and through plane sheets, in the plane that holds the eye and is square to the edge.

The picture's own edge is 0; insets count inwards, over the picture. A ray keeps its sine in air (Snell's law through plane sheets), so
that a sheet of thickness t and index n carries it sideways by t tan(asin(sin a / n)).

References
----------
Snell's law; path through plane layers: textbook geometrical optics. Derived here.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, radians, sin, sqrt

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

Layers = Sequence[tuple[float, float]]


def sideways_mm(*, sine: float, layers: Layers) -> float:
    """How far a ray moves sideways through layers of (thickness [mm], index). [mm]

    Parameters
    ----------
    sine : float
        Sine of its angle from the normal, in air, 0 to below 1.
    layers : sequence of (float, float)
        Thickness and refractive index of each layer.
    """
    return sum(thickness * sine / sqrt(index * index - sine * sine) for thickness, index in layers if thickness)


def sine_to_reach(*, offset_mm: float, layers: Layers) -> float:
    """Sine in air of the ray that moves ``offset_mm`` sideways through the layers.

    Newton's method from the straight line, kept inside its bracket by halving; the offset grows with the sine throughout.

    Raises
    ------
    RangeError
        If the layers have no thickness.
    """
    depth = sum(thickness for thickness, _ in layers)
    if depth <= 0:
        raise RangeError("The eye lies on the edge itself: there is no line of sight.")
    if offset_mm <= 0:
        return 0.0
    low, high = 0.0, 1.0
    sine = offset_mm / hypot(offset_mm, depth)
    for _ in range(60):
        miss = sideways_mm(sine=sine, layers=layers) - offset_mm
        low, high = (low, sine) if miss > 0 else (sine, high)
        if abs(miss) < 1e-10 * (1 + offset_mm):
            break
        slope = sum(thickness * index**2 / (index * index - sine * sine) ** 1.5 for thickness, index in layers)
        step = sine - miss / slope
        sine = step if low < step < high else (low + high) / 2
    return sine


def shadow_mm(
    *, edge: float, eye: float, air_before: float, front_before: float, air_behind: float, front_behind: float, rear_behind: float,
    front_index: float, rear_index: float,
) -> float:  # fmt: skip
    """Inset of the point of the picture that an eye sees just past an edge. [mm]

    Parameters
    ----------
    edge, eye : float
        Insets of the edge and of the eye from the picture's own edge. [mm]
    air_before, front_before : float
        Air, and thickness of the front sheet, between eye and edge. [mm]
    air_behind, front_behind, rear_behind : float
        Air, and thickness of each sheet, between edge and picture. [mm]
    front_index, rear_index : float
        Refractive indices of the sheets.

    Returns
    -------
    float
        Everything from the picture's edge to here is hidden; negative when the ray passes outside the picture.
    """
    before = ((air_before, 1.0), (front_before, front_index))
    behind = ((air_behind, 1.0), (front_behind, front_index), (rear_behind, rear_index))
    sine = sine_to_reach(offset_mm=abs(eye - edge), layers=before)
    onward = sideways_mm(sine=sine, layers=behind)
    return edge - onward if eye > edge else edge + onward


def cone_shadow_mm(
    *, edge: float, half_angle: float, air_behind: float, front_behind: float, rear_behind: float, front_index: float, rear_index: float
) -> float:
    """Inset hidden by an edge on the near side of an eye that looks at ``half_angle`` from the normal. [mm]

    Parameters are those of :func:`shadow_mm`; ``half_angle`` in degrees.
    """
    behind = ((air_behind, 1.0), (front_behind, front_index), (rear_behind, rear_index))
    return edge + sideways_mm(sine=sin(radians(half_angle)), layers=behind)


@formula(
    name="sight.near_side_loss",
    source="Snell's law through plane layers",
    status="derived",
    unit="mm",
    validity="plane parallel sheets, angle below 90 degrees",
)
def near_side_loss_mm(*, incidence_deg: float, air_mm: float, glass_mm: float, index: float) -> float:
    """More picture hidden on the near side by an edge in front of ``air_mm`` of air and ``glass_mm`` of glass, seen off axis. [mm]

    Parameters
    ----------
    incidence_deg : float
        Angle from the normal, in air. [deg]
    air_mm, glass_mm : float
        Air and glass between the edge and the picture. [mm]
    index : float
        Refractive index of the glass.

    Returns
    -------
    float
        sum(d_air tan a) + sum(t tan a_glass). [mm]

    Examples
    --------
    About 15 mm at 30 degrees behind 24 mm of air and 3 mm of glass:

    >>> round(near_side_loss_mm(incidence_deg=30, air_mm=24, glass_mm=3, index=1.52), 1)
    14.9
    """
    return sideways_mm(sine=sin(radians(incidence_deg)), layers=((air_mm, 1.0), (glass_mm, index)))
