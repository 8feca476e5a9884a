"""The ideal scene: two thin grey sheets, matt walls with a lit band, a chequered screen, one camera. Values only."""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.errors import RangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Ideal:
    """A thin sheet, the same from both sides and at all angles."""

    T: float
    R: float

    def __post_init__(self) -> None:
        """Refuse a sheet that gains light."""
        if not (0 <= self.T <= 1 and 0 <= self.R <= 1 and self.T + self.R <= 1 + 1e-9):
            raise RangeError(f"A sheet has T {self.T} and R {self.R}; both must be 0 to 1 and their sum at most 1.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """The lit band on all four walls, between two heights above the rear sheet; it gives off light and reflects none."""

    start_mm: float
    end_mm: float
    radiance: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Chequered screen behind the rear sheet; square (0, 0) at the lower left corner of the opening has ``levels[0]``."""

    behind_mm: float
    checker_mm: float
    levels: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """Eye point, the point in the middle of the picture, and the full horizontal angle; y is up."""

    origin_mm: tuple[float, float, float]
    target_mm: tuple[float, float, float]
    fov_x_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A whole scene in a black room: x right, y up, z towards the viewer from the rear sheet; opening centred on x = y = 0."""

    width_mm: float
    height_mm: float
    gap_mm: float
    front: Ideal
    rear: Ideal
    wall_reflectance: float
    band: Band
    screen: Screen
    camera: Camera

    def __post_init__(self) -> None:
        """Refuse what cannot be built or seen."""
        if not (self.width_mm > 0 and self.height_mm > 0 and self.gap_mm > 0 and self.screen.behind_mm >= 0 and self.screen.checker_mm > 0):
            raise RangeError("Opening, gap and squares must be above 0 mm, the screen 0 mm or more behind the rear sheet.")
        if not 0 <= self.band.start_mm <= self.band.end_mm <= self.gap_mm:
            raise RangeError("The band must lie between the rear and the front sheet, its lower edge first.")
        if not 0 <= self.wall_reflectance < 1:
            raise RangeError(f"The walls reflect {self.wall_reflectance}; it must be 0 or more and below 1.")
        if not self.camera.origin_mm[2] > self.gap_mm:
            raise RangeError("The camera must stand before the front sheet.")
        if not 0 < self.camera.fov_x_deg < 180 or self.camera.origin_mm == self.camera.target_mm:
            raise RangeError("The camera needs an angle between 0 and 180 degrees and a target apart from itself.")
