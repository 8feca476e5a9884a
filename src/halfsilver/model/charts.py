"""What the charts of an appearance show, as plain numbers: spectra, light images, the viewing zone, contrast against the room's light."""

from __future__ import annotations

from dataclasses import dataclass

Row = tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpectraChart:
    """One sheet as mounted: T, and R from the viewer's side and from behind, straight on and at ``oblique_deg``, s and p together.

    ``known`` says whether the spectrum was given; where it was not, a grey one stands for the three printed numbers.
    """

    which: str
    name: str
    known: bool
    error: float
    wavelength_nm: Row
    straight: tuple[Row, Row, Row]
    oblique: tuple[Row, Row, Row]
    oblique_deg: float
    luminous: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ImagePoint:
    """One image of the strip; ``colour`` is its sRGB as ``#rrggbb`` at full brightness."""

    m: int
    depth_mm: float
    luminance_cd_m2: float
    low_cd_m2: float
    high_cd_m2: float
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ImagesChart:
    """The series of one viewer's light images, with the background they stand before and what is plainly seen before it."""

    viewer: str
    points: tuple[ImagePoint, ...]
    visible: int
    background_cd_m2: float
    threshold_cd_m2: float
    screen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a viewer stands in plan, the share of the picture seen from there, and the part and side that hide most."""

    who: str
    sideways_mm: float
    distance_mm: float
    share: float
    limit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneChart:
    """Share of the picture over the room in plan.

    ``limits`` name the part and side that hide most to the left, in front and to the right, as far as the picture is not seen whole.
    """

    sideways_mm: Row
    distance_mm: Row
    share: tuple[Row, ...]
    piece_width_mm: float
    up_mm: float
    stands: tuple[Stand, ...]
    limits: tuple[tuple[str, str], ...]
    accepted: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ContrastChart:
    """Contrast of the picture for the viewer who is worst off, against the light on the piece; the rest of the room goes with it.

    ``low`` and ``high`` hold the range of the glass. ``classes`` are names and least ratios.
    """

    viewer: str
    illuminance_lx: Row
    lit: Row
    low: Row
    high: Row
    unlit: Row | None
    job_lx: float
    job_ratio: float
    classes: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Charts:
    """All charts of one design; what a construction does not have is left out."""

    spectra: tuple[SpectraChart, ...]
    images: ImagesChart | None
    zone: ZoneChart | None
    contrast: ContrastChart | None
