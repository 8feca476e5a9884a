"""Header of what a page needs to draw a piece itself: sizes, lights, and where each table stands. Values only.

Places count from the centre of the outside, x to the viewer's right and y up; depths count backwards from the front face. Colours are
linear sRGB. The formula that uses them is in ``docs/shader-input.md``.
"""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetRectangle:
    """A rectangle square to the view, from the centre of the outside."""

    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetFrame:
    """The frame: outside, what shows of its profile as inset and depth, the wall's depth, the joint of a recess, and its surface."""

    width_mm: float
    height_mm: float
    profile_mm: tuple[tuple[float, float], ...]
    wall_depth_mm: float
    recess_mm: float
    albedo: Colour
    gloss: float
    metal: float
    grain: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetPane:
    """A sheet: depth of its front, thickness, refractive index."""

    depth_mm: float
    thickness_mm: float
    index: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetSpace:
    """The lit space: optical gap, how far the front mirror stands before the front sheet's rear face, and the side wall's profile.

    ``points_mm`` are inset and height behind the front mirror; ``strip[k]`` tells whether the stretch from point k to k + 1 is strip.
    """

    gap_mm: float
    before_mm: float
    points_mm: tuple[tuple[float, float], ...]
    strip: tuple[bool, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetStrip:
    """The strip as the job has it: luminance, inset of its face, half lengths that are lit, and its diodes."""

    luminance_cd_m2: float
    inset_mm: float
    half_across_mm: float
    half_up_mm: float
    pitch_mm: float
    bell_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetScreen:
    """The screen: lit picture and body, air before its face, levels, shares and colours of its primaries, polarisation, face."""

    picture: AssetRectangle
    outline: AssetRectangle
    air_mm: float
    white_cd_m2: float
    black_cd_m2: float
    shares: Colour
    colours: tuple[Colour, Colour, Colour]
    gamma: float | None
    axis_deg: float | None
    face_diffuse: float
    face_mirror: float
    beside_diffuse: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetRoom:
    """The room: light on the piece, luminance mirrored, colour of its light, height of the piece's centre, colour of the wall."""

    illuminance_lx: float
    mirrored_cd_m2: float
    white: Colour
    centre_height_mm: float
    paint: Colour


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetViewer:
    """An eye of the job before the front face, how far the wall opposite stands from it, and what the table of the room covers there."""

    id: str
    x_mm: float
    y_mm: float
    distance_mm: float
    facing_mm: float
    room: AssetRectangle


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetExposure:
    """Luminances shown as white with the screen on and off, the brightest light, and the tone curve's knee."""

    screen_on_cd_m2: float
    screen_off_cd_m2: float
    most_cd_m2: float
    knee: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssetTable:
    """A table in the file of tables: type, shape (slowest axis first) and the byte at which it begins; little-endian."""

    name: str
    type: str
    shape: tuple[int, ...]
    offset: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAsset:
    """Header of the tables. ``angle_step_deg`` is the step of every axis of angles; ``emitters`` names those of the table ``walls``."""

    title: str
    digest: str
    frame: AssetFrame
    panes: tuple[AssetPane, ...]
    space: AssetSpace | None
    strip: AssetStrip | None
    screen: AssetScreen | None
    room: AssetRoom
    viewers: tuple[AssetViewer, ...]
    exposure: AssetExposure
    angle_step_deg: float
    place_step_mm: float
    emitters: tuple[str, ...]
    tables: tuple[AssetTable, ...]
    tables_sha256: str
