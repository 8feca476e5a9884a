"""What a viewer sees, in numbers: the picture and its echoes, the lights and how deep they go, the mirror, what shows when dark.

Luminances in cd/m2, the eye's adaptation by the local background. Kept approximate, and to be said with the results: matt even
strips, an even coating, flat glass, no haze.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import atan2, degrees, hypot, pi, radians, tan

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.cavity import Cavity
from halfsilver.optics.colour import chromaticity
from halfsilver.optics.sheets import Limits, Sheet

Real = NDArray[np.float64]

# Common practice: a detail is plainly seen at three to five times the contrast at which half the answers are right.
PLAINLY = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranged:
    """A value with the least and the most it can be within the limits of error of the glass."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """Least contrast that is seen, by background luminance; both rising rows of the reference table.

    Parameters
    ----------
    luminance_cd_m2 : tuple of float
        Background. [cd/m2]
    contrast : tuple of float
        Weber contrast seen half of the time. [-]
    """

    luminance_cd_m2: tuple[float, ...]
    contrast: tuple[float, ...]

    def at(self, luminance_cd_m2: float) -> float:
        """Threshold at a background, straight in the logarithms and carried on as the outermost pair runs."""
        x, y = np.log(self.luminance_cd_m2), np.log(self.contrast)
        here = np.log(max(luminance_cd_m2, 1e-6))
        if here >= x[-1]:
            return float(np.exp(y[-1]))
        pair = int(np.clip(np.searchsorted(x, here), 1, x.size - 1))
        slope = (y[pair] - y[pair - 1]) / (x[pair] - x[pair - 1])
        return float(np.exp(y[pair - 1] + slope * (here - x[pair - 1])))

    def least_step_cd_m2(self, background_cd_m2: float, *, times: float = PLAINLY) -> float:
        """Luminance that must be added to a background to be plainly seen."""
        return times * self.at(background_cd_m2) * max(background_cd_m2, 1e-6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Echo:
    """A repeat of the screen's picture, ``order`` round trips later."""

    order: int
    ratio: float
    shift_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LightImage:
    """The strip after ``m`` mirrors: where it seems to lie behind the front sheet, and how it looks."""

    m: int
    luminance_cd_m2: float
    x: float
    y: float
    depth_mm: float
    incidence_deg: float


def screen_gain(table: Cavity, *, incidence_deg: float, white: Sequence[float], to_plane_deg: float | None = None) -> float:
    """Share of the screen's luminance that arrives, all echoes together.

    ``white`` holds the luminance shares of the primaries in the picture, which sum to 1.
    """
    return float(_picture(table, incidence_deg, white, to_plane_deg).sum())


def echoes(
    table: Cavity,
    *,
    incidence_deg: float,
    gap_mm: float,
    white: Sequence[float],
    to_plane_deg: float | None = None,
    least_ratio: float = 1e-3,
) -> tuple[Echo, ...]:
    """Echoes of the picture, each against the picture itself and shifted 2 n g tan(theta) along the sheet."""
    orders = _picture(table, incidence_deg, white, to_plane_deg)
    if orders[0] <= 0:
        return ()
    step = 2 * gap_mm * tan(radians(incidence_deg))
    found = (Echo(order=n, ratio=float(orders[n] / orders[0]), shift_mm=n * step) for n in range(1, orders.size))
    return tuple(echo for echo in found if echo.ratio >= least_ratio)


def image_depth_mm(*, m: int, gap_mm: float, from_rear_mm: float) -> float:
    """Depth of the m-th image of something on the walls behind the front sheet: the unfolded distance. [mm]

    Examples
    --------
    >>> [image_depth_mm(m=m, gap_mm=50, from_rear_mm=20) for m in range(4)]
    [30, 70, 130, 170]
    """
    return m * gap_mm + (gap_mm - from_rear_mm if m % 2 == 0 else from_rear_mm)


def light_images(
    table: Cavity, *, emitter: int, luminance_cd_m2: float, gap_mm: float, from_rear_mm: float, distance_mm: float, lateral_mm: float
) -> tuple[LightImage, ...]:
    """Every image of a strip that the table carries, seen from ``distance_mm`` before the front sheet, ``lateral_mm`` off the wall.

    Each image lies deeper than the one before, so it is seen more nearly straight on; its own angle is used.
    """
    orders = table.walls.shape[3]
    depth = [image_depth_mm(m=m, gap_mm=gap_mm, from_rear_mm=from_rear_mm) for m in range(orders)]
    incidence = [degrees(atan2(abs(lateral_mm), distance_mm + one)) for one in depth]
    colours = table.wall(emitter=emitter, incidence_deg=incidence)[np.arange(orders), np.arange(orders)] * luminance_cd_m2
    places = chromaticity(colours)
    return tuple(
        LightImage(m=m, luminance_cd_m2=float(XYZ[1]), x=float(xy[0]), y=float(xy[1]), depth_mm=depth[m], incidence_deg=incidence[m])
        for m, (XYZ, xy) in enumerate(zip(colours, places, strict=True))
    )


def visible_images(images: Sequence[LightImage], *, background_cd_m2: float, thresholds: Thresholds, times: float = PLAINLY) -> int:
    """How many images stay plainly visible before the local background, which holds the room mirrored in the front sheet."""
    least = thresholds.least_step_cd_m2(background_cd_m2, times=times)
    return max((image.m + 1 for image in images if image.luminance_cd_m2 >= least), default=0)


def visible_round_trips(images_visible: int) -> int:
    """Whole round trips among so many visible images; image 0 has made none."""
    return max(images_visible - 1, 0) // 2


def mirror_reflectance(table: Cavity, *, incidence_deg: float) -> float:
    """Luminous reflectance of the whole piece to the room, the screen dark."""
    return float(table.mirror(incidence_deg=incidence_deg)[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """The room as the piece meets it.

    Parameters
    ----------
    illuminance_lx : float
        On the face of the piece. [lx]
    mirrored_cd_m2 : float
        Luminance of what the viewer sees mirrored in it. [cd/m2]
    """

    illuminance_lx: float
    mirrored_cd_m2: float


def veil_cd_m2(
    *, transmittance: float, face_diffuse: float, haze: float = 0.0, mirror: float, room: Surroundings, inside_cd_m2: float = 0.0
) -> float:
    """Light laid over the picture: diffuse (tau^2 rho_face + haze) E/pi, the room mirrored, and light from inside. [cd/m2]"""
    diffuse = (transmittance**2 * face_diffuse + haze) * room.illuminance_lx / pi
    return diffuse + mirror * room.mirrored_cd_m2 + inside_cd_m2


def room_contrast(*, gain: float, white_cd_m2: float, black_cd_m2: float, veil: float) -> float:
    """Contrast of the picture in the room: (L_w tau + L_r)/(L_b tau + L_r). [-]

    Raises
    ------
    RangeError
        If neither black nor veil leaves any light, so that contrast has no bound.
    """
    dark = black_cd_m2 * gain + veil
    if not dark > 0:
        raise RangeError("Without any light in the black the contrast has no bound.")
    return (white_cd_m2 * gain + veil) / dark


def hidden_contrast(
    *, transmittance: float, gain: float, face_diffuse: float, backing_diffuse: float, black_cd_m2: float, mirror: float, room: Surroundings
) -> float:
    """Weber contrast of the dark screen's rectangle against its surround behind the sheet. [-]

    The step is |rho_face - rho_backing| tau^2 E/pi plus the black level, before the room mirrored in the sheet. Held against
    :class:`Thresholds` at :func:`hidden_background_cd_m2`: an absolute ratio would pass panels that show as a rectangle.
    """
    step = abs(face_diffuse - backing_diffuse) * transmittance**2 * room.illuminance_lx / pi + black_cd_m2 * gain
    background = hidden_background_cd_m2(transmittance=transmittance, backing_diffuse=backing_diffuse, mirror=mirror, room=room)
    return step / max(background, 1e-6)


def hidden_background_cd_m2(*, transmittance: float, backing_diffuse: float, mirror: float, room: Surroundings) -> float:
    """Luminance beside the dark screen. [cd/m2]"""
    return backing_diffuse * transmittance**2 * room.illuminance_lx / pi + mirror * room.mirrored_cd_m2


def strip_on_rear_lx(*, luminance_cd_m2: float, strip_width_mm: float, from_rear_mm: float, wall_distance_mm: float) -> float:
    """Illuminance on the rear sheet from one long matt strip on a wall so far away, directly: pi L w d z/(2 (d^2 + z^2)^1.5). [lx]

    Both cosines of the long strip integrated along it; mirrored light adds to this.
    """
    reach = hypot(wall_distance_mm, from_rear_mm)
    return pi * luminance_cd_m2 * strip_width_mm * wall_distance_mm * from_rear_mm / (2 * reach**3)


def incidence_at_deg(*, distance_mm: float, sideways_mm: float = 0.0, height_mm: float = 0.0) -> float:
    """Angle at the centre of the piece for an eye so far before, beside and above it. [deg]"""
    return degrees(atan2(hypot(sideways_mm, height_mm), distance_mm))


def polarisation_to_plane_deg(*, axis_deg: float, sideways_mm: float, height_mm: float) -> float:
    """Angle between a screen's axis (from the horizontal) and the plane of incidence of an eye at that place. [deg]"""
    return axis_deg - degrees(atan2(height_mm, sideways_mm))


def ranged(
    evaluate: Callable[[Sheet, Sheet], Mapping[str, float]],
    *,
    front: Sheet,
    rear: Sheet,
    front_error: float | Limits,
    rear_error: float | Limits,
) -> dict[str, Ranged]:
    """Each scalar with its range when T and R of both sheets move by their limits of error, T up where R goes down.

    ``evaluate`` turns two sheets into named scalars. All nine combinations of low, as printed and high are tried.
    """
    middle = evaluate(front, rear)
    fronts, rears = (
        [sheet.shifted(by=part * error) for part in (-1.0, 0.0, 1.0)] for sheet, error in ((front, front_error), (rear, rear_error))
    )
    all_ = [evaluate(one, other) for one, other in product(fronts, rears)]
    return {
        name: Ranged(value=value, low=min(one[name] for one in all_), high=max(one[name] for one in all_)) for name, value in middle.items()
    }


def _picture(table: Cavity, incidence_deg: float, white: Sequence[float], to_plane_deg: float | None) -> Real:
    """Luminance per echo of a white of 1 cd/m2."""
    by_primary = table.picture(incidence_deg=incidence_deg, to_plane_deg=to_plane_deg)[:, :, 1]
    return np.asarray(np.asarray(white, dtype=float) @ by_primary)
