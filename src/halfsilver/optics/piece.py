"""A whole piece before its viewers: two sheets (or one), what shines behind and between them, the room, and each eye's numbers.

One table of the cavity serves all eyes. Where the screen's polarisation is not known, numbers that hang on it are given for light not
polarised, and for both extremes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import atan2, ceil, degrees, pi, radians, tan

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics import appearance as seen
from halfsilver.optics.appearance import PLAINLY, LightImage, Surroundings, Thresholds
from halfsilver.optics.cavity import LEAST_ORDERS, Cavity, cavity, enough_orders
from halfsilver.optics.colour import LUMENS_PER_WATT, chromaticity, difference, lab, xyz
from halfsilver.optics.films import Response
from halfsilver.optics.sheets import Sheet
from halfsilver.optics.stray import Run, through_rear_lx

Real = NDArray[np.float64]
GRID_DEG = np.arange(0.0, 90.1, 1.0)
GRID_DEG.setflags(write=False)
ECHOES = 6
MOST_ORDERS = 121


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """Where a viewer's eye is, from the middle of the front sheet's rear face. [mm]"""

    distance_mm: float
    sideways_mm: float = 0.0
    up_mm: float = 0.0

    @property
    def incidence_deg(self) -> float:
        """Angle at the middle of the piece. [deg]"""
        return seen.incidence_at_deg(distance_mm=self.distance_mm, sideways_mm=self.sideways_mm, height_mm=self.up_mm)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScreenLight:
    """The screen as a light: luminances of white, peak, an average picture and black, its face, primaries and polarisation.

    ``shares`` are the luminance shares of the primaries in white. ``axis_deg`` counts from the horizontal; None is light not polarised,
    and ``axis_known`` false asks for the extremes as well.
    """

    white_cd_m2: float
    peak_cd_m2: float
    content_cd_m2: float
    black_cd_m2: float
    face_diffuse: float
    face_mirror: float
    primaries: Real
    shares: tuple[float, ...]
    axis_deg: float | None
    axis_known: bool
    behind_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripLight:
    """The strip of lights: its luminance at the dimmer's setting, spectrum, width, height over the rear mirror, and runs.

    ``half_width_mm`` and ``half_height_mm`` reach from the middle of the piece to the strips' faces.
    """

    luminance_cd_m2: float
    spectrum: Real
    width_mm: float
    from_rear_mm: float
    half_width_mm: float
    half_height_mm: float
    half_length_across_mm: float
    half_length_up_mm: float

    @property
    def runs(self) -> tuple[Run, Run]:
        """Upright runs left and right, level runs above and below."""
        return (
            Run(distance_mm=self.half_width_mm, half_length_mm=self.half_length_up_mm),
            Run(distance_mm=self.half_height_mm, half_length_mm=self.half_length_across_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Setting:
    """Everything but the sheets. ``gap_mm`` is the optical one; 0 with one sheet. ``backing_diffuse`` is what lies beside the screen.

    Without ``images`` the strip's own images are left out; its stray light stays.
    """

    gap_mm: float
    room: Surroundings
    room_light: Real
    thresholds: Thresholds
    backing_diffuse: float
    screen: ScreenLight | None = None
    strip: StripLight | None = None
    images: bool = True


def orders_of(setting: Setting, front: Sheet, rear: Sheet) -> int:
    """How many mirrors to follow so that no image is lost that somebody could see."""
    if setting.strip is None:
        return LEAST_ORDERS
    floor = min(1e-4, 0.3 * setting.thresholds.least_step_cd_m2(0.1) / setting.strip.luminance_cd_m2)
    return enough_orders(front.response, rear.response, floor=floor, most=MOST_ORDERS)


def numbers(setting: Setting, eyes: Mapping[str, Eye], front: Sheet, rear: Sheet, *, orders: int) -> dict[str, float]:
    """Every number of every eye, by ``eye/name``; numbers at the extremes of an unknown polarisation end in ``#s`` and ``#p``."""
    table = _table(setting, eyes.values(), front, rear, orders)
    inside_lx = _stray_lx(setting, front, rear)
    found: dict[str, float] = {}
    for who, eye in eyes.items():
        found |= {f"{who}/{name}": value for name, value in _eye_numbers(setting, table, eye, inside_lx)}
    return found


def lateral(setting: Setting, eye: Eye) -> tuple[str, float]:
    """The side wall that an eye looks into most openly, the far one, and how far it stands beside the eye. [mm]"""
    assert setting.strip is not None
    return ("left" if eye.sideways_mm > 0 else "right"), setting.strip.half_width_mm + abs(eye.sideways_mm)


def _table(setting: Setting, eyes: Iterable[Eye], front: Sheet, rear: Sheet, orders: int) -> Cavity:
    screen, strip = setting.screen, setting.strip
    angles = min(GRID_DEG.size, ceil(max(_widest_deg(setting, eye) for eye in eyes)) + 2)
    return cavity(
        _narrowed(front, angles), _narrowed(rear, angles), emitters=strip.spectrum if strip else setting.room_light,
        primaries=screen.primaries if screen else setting.room_light, room=setting.room_light, orders=orders,
        face_mirror=screen.face_mirror if screen else 0.0,
    )  # fmt: skip


def _widest_deg(setting: Setting, eye: Eye) -> float:
    wall = degrees(atan2(lateral(setting, eye)[1], eye.distance_mm)) if setting.strip and setting.images else 0.0
    return max(eye.incidence_deg, wall)


def _narrowed(sheet: Sheet, angles: int) -> Sheet:
    """The sheet at the first so many angles of its grid."""
    return replace(sheet, incidence_deg=sheet.incidence_deg[:angles], response=Response(*(one[:, :angles] for one in sheet.response)))


def _stray_lx(setting: Setting, front: Sheet, rear: Sheet) -> float:
    screen, strip = setting.screen, setting.strip
    if screen is None or strip is None:
        return 0.0
    return through_rear_lx(
        front=front, rear=rear, spectrum=strip.spectrum, luminance_cd_m2=strip.luminance_cd_m2, width_mm=strip.width_mm,
        from_rear_mm=strip.from_rear_mm, gap_mm=setting.gap_mm, behind_mm=screen.behind_mm, runs=strip.runs,
    )  # fmt: skip


Named = Iterator[tuple[str, float]]


def _eye_numbers(setting: Setting, table: Cavity, eye: Eye, inside_lx: float) -> Named:
    at = eye.incidence_deg
    mirror = seen.mirror_reflectance(table, incidence_deg=at)
    yield "mirror_reflectance", mirror
    mirror_xy = chromaticity(table.mirror(incidence_deg=at))
    yield from (("mirror_x", float(mirror_xy[0])), ("mirror_y", float(mirror_xy[1])))
    shares = setting.screen.shares if setting.screen else (1.0,)
    passed = seen.screen_gain(table, incidence_deg=at, white=shares)
    face = setting.screen.face_diffuse if setting.screen else setting.backing_diffuse
    veil = seen.veil_cd_m2(transmittance=passed, face_diffuse=face, mirror=mirror, room=setting.room)
    yield "veil_cd_m2", veil
    if setting.screen:
        inside = face * inside_lx / pi * passed
        yield "stray_cd_m2", inside
        yield from _hiding(setting, setting.screen, mirror, passed)
        turns = tuple(_turns(setting.screen, eye))
        yield from _white(setting.screen, table, at, turns[0][1])
        for mark, turn in turns:
            yield from ((name + mark, value) for name, value in _screen(setting, setting.screen, table, at, turn, veil, inside))
    if setting.strip and setting.images:
        yield from _lights(setting, table, eye, veil, passed)


def _turns(screen: ScreenLight, eye: Eye) -> Iterator[tuple[str, float | None]]:
    """Angles from the plane of incidence to the screen's polarisation: as known, else none and both extremes."""
    if screen.axis_deg is not None:
        yield "", seen.polarisation_to_plane_deg(axis_deg=screen.axis_deg, sideways_mm=eye.sideways_mm, height_mm=eye.up_mm)
        return
    yield "", None
    if not screen.axis_known:
        yield from (("#s", 90.0), ("#p", 0.0))


def _screen(setting: Setting, screen: ScreenLight, table: Cavity, at: float, turn: float | None, veil: float, inside: float) -> Named:
    gain = seen.screen_gain(table, incidence_deg=at, white=screen.shares, to_plane_deg=turn)
    yield "screen_gain", gain
    for name, luminance in (("luminance", screen.white_cd_m2), ("peak", screen.peak_cd_m2), ("content", screen.content_cd_m2)):
        yield f"screen_{name}_cd_m2", gain * luminance
    levels = {"gain": gain, "white_cd_m2": screen.white_cd_m2, "black_cd_m2": screen.black_cd_m2}
    yield "room_contrast", _contrast(**levels, veil=veil + inside)
    if setting.strip:
        yield "room_contrast_lights_off", _contrast(**levels, veil=veil)
    if setting.gap_mm > 0:
        echoes = seen.echoes(table, incidence_deg=at, gap_mm=setting.gap_mm, white=screen.shares, to_plane_deg=turn, least_ratio=-1.0)
        # Where nothing passes there is no picture and no echo; the same names are given, so that ranges can be taken.
        ratios = {echo.order: echo.ratio for echo in echoes}
        for order in range(1, ECHOES + 1):
            yield f"echo/{order}/ratio", ratios.get(order, 0.0)
            yield f"echo/{order}/shift_mm", 2 * order * setting.gap_mm * tan(radians(at))


def _white(screen: ScreenLight, table: Cavity, at: float, turn: float | None) -> Named:
    """Colour of the screen's white as it arrives, and how far it has drifted at the same luminance."""
    shares = np.array(screen.shares)
    seen_white = np.einsum("e,enx->x", shares, table.picture(incidence_deg=at, to_plane_deg=turn))
    white = xyz(shares @ screen.primaries, normal=LUMENS_PER_WATT)
    x, y = chromaticity(seen_white if seen_white[1] > 0 else white)
    yield from (("picture_x", float(x)), ("picture_y", float(y)))
    whites = (white / white[1], seen_white / seen_white[1] if seen_white[1] > 0 else white / white[1])
    yield "picture_de00", float(difference(*(lab(one, white=whites[0]) for one in whites)))


def _contrast(*, gain: float, white_cd_m2: float, black_cd_m2: float, veil: float) -> float:
    """Contrast in the room, at most 1e6: nobody sees more, and without any light in the black it has no bound."""
    dark = gain * black_cd_m2 + veil
    lit = gain * white_cd_m2 + veil
    if not dark > 1e-6 * lit:
        return 1e6
    return seen.room_contrast(gain=gain, white_cd_m2=white_cd_m2, black_cd_m2=black_cd_m2, veil=veil)


def _hiding(setting: Setting, screen: ScreenLight, mirror: float, passed: float) -> Named:
    """Contrast of the screen's rectangle against what lies beside it behind the same glass, showing black and without power.

    The face also mirrors the room through the glass, tau^2 R_face L_env, which a matt backing beside it does not.
    """
    room = setting.room
    face_mirror = passed**2 * screen.face_mirror
    beside = max(mirror - face_mirror, 0.0)
    background = seen.hidden_background_cd_m2(transmittance=passed, backing_diffuse=setting.backing_diffuse, mirror=beside, room=room)
    matt = (screen.face_diffuse - setting.backing_diffuse) * passed**2 * room.illuminance_lx / pi
    off = matt + face_mirror * room.mirrored_cd_m2
    yield "hidden_contrast_off", abs(off) / max(background, 1e-6)
    yield "hidden_contrast", abs(off + passed * screen.black_cd_m2) / max(background, 1e-6)
    yield "hidden_threshold", setting.thresholds.at(background)
    yield "standby_shows_cd_m2", setting.thresholds.least_step_cd_m2(background + max(off, 0.0)) / max(passed, 1e-6)


def _lights(setting: Setting, table: Cavity, eye: Eye, veil: float, passed: float) -> Named:
    images = light_images(setting, table, eye)
    count = {"": veil}
    if setting.screen:
        count = {"": veil + passed * setting.screen.black_cd_m2, "_over_picture": veil + passed * setting.screen.content_cd_m2}
    for name, background in count.items():
        visible = seen.visible_images(images, background_cd_m2=background, thresholds=setting.thresholds, times=PLAINLY)
        yield f"visible_images{name}", visible
        yield f"background{name}_cd_m2", background
        if not name:
            yield "visible_round_trips", seen.visible_round_trips(visible)
            yield "deepest_mm", images[visible - 1].depth_mm if visible else 0.0
    for image in images:
        for name in ("luminance_cd_m2", "x", "y", "depth_mm", "incidence_deg"):
            yield f"light/{image.m}/{name}", getattr(image, name)


def light_images(setting: Setting, table: Cavity, eye: Eye) -> tuple[LightImage, ...]:
    """Images of the strip on the far side wall, as the table carries them."""
    strip = setting.strip
    assert strip is not None
    return seen.light_images(
        table, emitter=0, luminance_cd_m2=strip.luminance_cd_m2, gap_mm=setting.gap_mm, from_rear_mm=strip.from_rear_mm,
        distance_mm=eye.distance_mm, lateral_mm=lateral(setting, eye)[1],
    )  # fmt: skip
