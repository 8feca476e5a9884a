"""The ideal scene: two thin grey sheets, matt walls with a lit band, a chequered screen, one camera. Values only.

Lengths in mm: x right, y up, z towards the viewer from the rear sheet; the opening is centred on x = y = 0 and the room is black. The
field names are the keys of a scene file.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import Annotated

from halfsilver.errors import RangeError
from halfsilver.model.quantities import Quantity

Size = Annotated[float, Quantity("number", least=0.01, most=100_000.0)]
Distance = Annotated[float, Quantity("number", least=0.0, most=100_000.0)]
Place = Annotated[float, Quantity("number", least=-1_000_000.0, most=1_000_000.0)]
Fraction = Annotated[float, Quantity("number", least=0.0, most=1.0)]
Radiance = Annotated[float, Quantity("number", least=0.0, most=1e9)]
Angle = Annotated[float, Quantity("number", least=0.1, most=170.0)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ideal:
    """A thin sheet, the same from both sides and at all angles."""

    T: Fraction
    R: Fraction

    def __post_init__(self) -> None:
        """Refuse a sheet that gains light."""
        if not (0 <= self.T <= 1 and 0 <= self.R <= 1 and self.T + self.R <= 1 + 1e-9):
            raise RangeError(f"A sheet has T {self.T} and R {self.R}; both must be 0 to 1 and their sum at most 1.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The four side walls, from the screen to the front sheet: matt and grey outside the band."""

    reflectance: Fraction

    def __post_init__(self) -> None:
        """Refuse walls that would keep light for ever."""
        if not 0 <= self.reflectance < 1:
            raise RangeError(f"The walls reflect {self.reflectance}; it must be 0 or more and below 1.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """The lit band on all four walls, between two heights above the rear sheet; it gives off light and reflects none."""

    from_rear_mm: tuple[Distance, Distance]
    radiance: tuple[Radiance, Radiance, Radiance]

    def __post_init__(self) -> None:
        """Refuse a band upside down."""
        if not 0 <= self.from_rear_mm[0] <= self.from_rear_mm[1]:
            raise RangeError("The band's lower edge comes first.")

    @property
    def start_mm(self) -> float:
        """Lower edge above the rear sheet."""
        return self.from_rear_mm[0]

    @property
    def end_mm(self) -> float:
        """Upper edge above the rear sheet."""
        return self.from_rear_mm[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Chequered screen behind the rear sheet; the square at the lower left corner of the opening has ``levels[0]``."""

    behind_mm: Distance
    checker_mm: Size
    levels: tuple[Radiance, Radiance]


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """Eye point, the point in the middle of the picture, and the full horizontal angle; y is up."""

    origin_mm: tuple[Place, Place, Place]
    target_mm: tuple[Place, Place, Place]
    fov_x_deg: Angle

    def __post_init__(self) -> None:
        """Refuse a camera that looks nowhere."""
        if not all(map(isfinite, (*self.origin_mm, *self.target_mm))) or self.origin_mm == self.target_mm:
            raise RangeError("The camera needs a target apart from its own place.")
        if not 0 < self.fov_x_deg < 180:
            raise RangeError(f"The camera takes in {self.fov_x_deg} degrees; it must be between 0 and 180.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A whole scene."""

    width_mm: Size
    height_mm: Size
    gap_mm: Size
    front: Ideal
    rear: Ideal
    wall: Wall
    band: Band
    screen: Screen
    camera: Camera

    def __post_init__(self) -> None:
        """Refuse what cannot be built or seen."""
        if not self.band.end_mm <= self.gap_mm:
            raise RangeError(f"The band ends {self.band.end_mm:g} mm above the rear sheet, beyond the gap of {self.gap_mm:g} mm.")
        if not self.camera.origin_mm[2] > self.gap_mm:
            raise RangeError(f"The camera must stand before the front sheet, at z above {self.gap_mm:g} mm.")
