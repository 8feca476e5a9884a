"""A framed piece as a still picture takes it: plain geometry, tables and lights. Values only.

x to the viewer's right and y up from the centre of the outside; depths count backwards from the front face. [mm]
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.cavity import Cavity

Real = NDArray[np.float64]
Texture = NDArray[np.float32]


class State(Enum):
    """What is switched on."""

    ON = "on"
    DARK = "dark"
    LIGHTS = "lights"
    ALL = "all"

    @property
    def screen(self) -> bool:
        """Whether the screen shows its picture."""
        return self in (State.ON, State.ALL)

    @property
    def strip(self) -> bool:
        """Whether the strip of lights is on."""
        return self in (State.LIGHTS, State.ALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A rectangle square to the view. [mm]"""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A sheet as a ray passes it: depth of its front, thickness [mm] and refractive index."""

    depth_mm: float
    thickness_mm: float
    index: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """How the frame looks: albedo in linear sRGB, gloss and metal 0 to 1, strength of the grain, and whether leaf was laid on it."""

    albedo: tuple[float, float, float]
    gloss: float = 0.25
    metal: float = 0.0
    grain: float = 0.0
    leaf: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The frame on its wall.

    Parameters
    ----------
    width_mm, height_mm : float
        Outside.
    profile : tuple of (float, float)
        What shows of the moulding: inset from the outer edge and depth, from the wall over the face to the back of the lip.
    wall_depth_mm : float
        Depth of the wall that it hangs on; 0 where it lies in a recess.
    recess_mm : float
        Joint round a frame in a recess.
    """

    width_mm: float
    height_mm: float
    profile: tuple[tuple[float, float], ...]
    wall_depth_mm: float
    recess_mm: float
    finish: Finish


class Face(Enum):
    """What a stretch of the side wall between the sheets is."""

    STRIP = "strip"
    WOOD = "wood"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch of the side wall between the sheets, from front to rear: insets from the outside, heights behind the front mirror."""

    face: Face
    inset_mm: tuple[float, float]
    behind_mm: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """The lit space between the sheets.

    Parameters
    ----------
    gap_mm : float
        Between the two mirrors, as light sees it.
    before_mm : float
        How far the front mirror lies before the front sheet's rear face, as light sees it; 0 where its coating faces the space.
    side : tuple of Stretch
        The side walls, the same all round.
    wood : float
        Diffuse reflectance of what is not strip.
    """

    gap_mm: float
    before_mm: float
    side: tuple[Stretch, ...]
    wood: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLook:
    """The strip: luminance [cd/m2], half lengths that are lit, pitch of its diodes, and how far each one's light is spread. [mm]"""

    luminance_cd_m2: float
    half_across_mm: float
    half_up_mm: float
    pitch_mm: float
    spread_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScreenLook:
    """The screen behind the sheets.

    Parameters
    ----------
    picture, outline : Rectangle
        Lit picture and body.
    air_mm : float
        Air between the last sheet and its face.
    white_cd_m2, black_cd_m2 : float
        White and black.
    shares : array, shape (3,)
        Luminance shares of red, green and blue in white.
    axis_deg : float, optional
        Polarisation from the horizontal; None for light not polarised.
    face_diffuse, face_mirror, beside_diffuse : float
        Reflectances of its face, and of what lies beside it.
    """

    picture: Rectangle
    outline: Rectangle
    air_mm: float
    white_cd_m2: float
    black_cd_m2: float
    shares: Real
    axis_deg: float | None
    face_diffuse: float
    face_mirror: float
    beside_diffuse: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLook:
    """The room: light on the piece [lx], luminance mirrored [cd/m2], XYZ of its light at 1 cd/m2; height of the centre, far wall. [mm]"""

    illuminance_lx: float
    mirrored_cd_m2: float
    XYZ: tuple[float, float, float]
    centre_height_mm: float
    facing_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Still:
    """A whole piece in its room. ``table`` holds what the sheets do, with the strip as emitter 0."""

    frame: Frame
    front: Pane
    rear: Pane | None
    table: Cavity
    room: RoomLook
    space: Space | None = None
    strip: StripLook | None = None
    screen: ScreenLook | None = None
