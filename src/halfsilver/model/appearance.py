"""What will be seen, as JSON shows it: per viewer, each number with the least and most it can be within the glass's limits of error."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalarRecord:
    """A number with its range."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EchoRecord:
    """A repeat of the picture after ``order`` round trips: its luminance over the picture's own, and how far it stands beside it."""

    order: int
    ratio: ScalarRecord
    shift_mm: ScalarRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class LightImageRecord:
    """The strip after ``m`` mirrors: luminance, chromaticity, and the depth at which it seems to lie behind the front sheet.

    ``off_axis_deg`` is the angle from the normal at which it is seen; from one image to the next it tells how they crowd together.
    """

    m: int
    luminance_cd_m2: ScalarRecord
    x: ScalarRecord
    y: ScalarRecord
    depth_mm: ScalarRecord
    off_axis_deg: ScalarRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class SightRecord:
    """Where sight ends on one side of the picture: at which part, how far beyond the picture's edge, and what shows there.

    ``beyond_mm`` is at the middle of the side; negative where picture is hidden. ``shows`` is ``nothing``, ``border`` (of the screen),
    ``backing`` or ``inside`` (of the frame).
    """

    side: str
    part: str
    beyond_mm: float
    shows: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneRecord:
    """Share of the picture seen over the room in plan, rows by distance before the face, columns to the right of the middle.

    All eyes are ``up_mm`` above the middle of the piece. ``limited_by`` names, by its place in ``limits``, the part and the side that
    hide most.
    """

    up_mm: float
    sideways_mm: tuple[float, ...]
    distance_mm: tuple[float, ...]
    share: tuple[tuple[float, ...], ...]
    limits: tuple[str, ...]
    limited_by: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleRecord:
    """What an eye at the middle's height sees that looks at the middle so far off the normal, sideways, from the viewers' mean distance.

    Where the screen's polarisation is not known, ranges hold both extremes.
    """

    incidence_deg: float
    mirror_reflectance: ScalarRecord
    screen_gain: ScalarRecord | None = None
    screen_luminance_cd_m2: ScalarRecord | None = None
    picture_de00: ScalarRecord | None = None
    room_contrast: ScalarRecord | None = None
    echo_ratio: ScalarRecord | None = None
    echo_shift_mm: ScalarRecord | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewerRecord:
    """What one viewer sees. What a construction does not have is left out.

    ``room_contrast`` and ``screen_luminance_cd_m2`` hold for full white with the lights as the job sets them; ``peak`` and ``content`` are
    for a small white patch and an average picture. ``hidden_contrast`` is the screen showing black, ``..._off`` the screen without power;
    both against ``hidden_threshold``. ``visible_images`` counts before the dark screen, ``..._over_picture`` before an average picture.
    ``picture_x``, ``picture_y`` and ``picture_de00`` are the colour of the screen's white as it arrives, and its CIEDE2000 from that white
    itself at the same luminance; ``standby_shows_cd_m2`` is the luminance from which a small light behind the sheets is plainly seen
    when the screen is off; ``mirror_x`` and ``mirror_y`` are the colour of the room mirrored.
    """

    incidence_deg: float
    mirror_reflectance: ScalarRecord
    mirror_x: ScalarRecord
    mirror_y: ScalarRecord
    screen_gain: ScalarRecord | None = None
    picture_x: ScalarRecord | None = None
    picture_y: ScalarRecord | None = None
    picture_de00: ScalarRecord | None = None
    screen_luminance_cd_m2: ScalarRecord | None = None
    screen_peak_cd_m2: ScalarRecord | None = None
    screen_content_cd_m2: ScalarRecord | None = None
    echoes: tuple[EchoRecord, ...] | None = None
    room_contrast: ScalarRecord | None = None
    room_contrast_lights_off: ScalarRecord | None = None
    veil_cd_m2: ScalarRecord | None = None
    hidden_contrast: ScalarRecord | None = None
    hidden_contrast_off: ScalarRecord | None = None
    hidden_threshold: ScalarRecord | None = None
    standby_shows_cd_m2: ScalarRecord | None = None
    light_wall: str | None = None
    light_images: tuple[LightImageRecord, ...] | None = None
    visible_images: ScalarRecord | None = None
    visible_images_over_picture: ScalarRecord | None = None
    visible_round_trips: ScalarRecord | None = None
    diodes_merge_from_mm: float | None = None
    picture_share: ScalarRecord | None = None
    sight: tuple[SightRecord, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AdviceRecord:
    """One change, computed: what it would make of picture, depth and hiding for the viewer who is worst off.

    ``helps`` names what it helps most among all changes of its kind. Sizes are not laid out anew for it.
    """

    change: str
    now: str
    to: str
    viewer: str
    helps: tuple[str, ...]
    mirror_reflectance: float
    screen_luminance_cd_m2: float | None = None
    room_contrast: float | None = None
    hidden_contrast: float | None = None
    visible_images: float | None = None
    deepest_mm: float | None = None
    first_echo: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AppearanceRecord:
    """``appearance.json``.

    ``infrared`` is the share of 850 to 950 nm that passes all sheets, where their spectra reach so far.
    """

    title: str
    basis: str
    viewers: dict[str, ViewerRecord]
    angles: tuple[AngleRecord, ...]
    viewing_zone: ZoneRecord | None
    infrared: ScalarRecord | None
    advice: tuple[AdviceRecord, ...]
    assumed: tuple[str, ...]
    approximate: tuple[str, ...]
    digest: str
