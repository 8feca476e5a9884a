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
    """The strip after ``m`` mirrors: luminance, chromaticity, and the depth at which it seems to lie behind the front sheet."""

    m: int
    luminance_cd_m2: ScalarRecord
    x: ScalarRecord
    y: ScalarRecord
    depth_mm: ScalarRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewerRecord:
    """What one viewer sees. What a construction does not have is left out.

    ``room_contrast`` and ``screen_luminance_cd_m2`` hold for full white with the lights as the job sets them; ``peak`` and ``content`` are
    for a small white patch and an average picture. ``hidden_contrast`` is the screen showing black, ``..._off`` the screen without power;
    both against ``hidden_threshold``. ``visible_images`` counts before the dark screen, ``..._over_picture`` before an average picture.
    """

    incidence_deg: float
    mirror_reflectance: ScalarRecord
    screen_gain: ScalarRecord | None = None
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
    light_wall: str | None = None
    light_images: tuple[LightImageRecord, ...] | None = None
    visible_images: ScalarRecord | None = None
    visible_images_over_picture: ScalarRecord | None = None
    visible_round_trips: ScalarRecord | None = None
    diodes_merge_from_mm: float | None = None
    picture_share: ScalarRecord | None = None


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


@dataclass(frozen=True, slots=True, kw_only=True)
class AppearanceRecord:
    """``appearance.json``."""

    title: str
    basis: str
    viewers: dict[str, ViewerRecord]
    advice: tuple[AdviceRecord, ...]
    assumed: tuple[str, ...]
    approximate: tuple[str, ...]
    digest: str
