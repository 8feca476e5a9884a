"""What a screen says of itself: the content of its EDID block (VESA E-EDID 1.3 and 1.4).

All of it is a hint. Colours and gamma serve the picture that is predicted; sizes never drive a cut, the tape does.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

Colour = tuple[float, float]
TWO_CM_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenColours:
    """Chromaticities x, y of the primaries and of full white."""

    red: Colour
    green: Colour
    blue: Colour
    white: Colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """A picture format by its code alone."""

    width_px: int
    height_px: int
    rate_hz: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailedTiming:
    """A picture format with its pixel clock [MHz] and the picture's size as stated, 0 where it is not."""

    width_px: int
    height_px: int
    interlaced: bool
    rate_hz: float
    clock_mhz: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeLimits:
    """Rates that the screen takes."""

    vertical_hz: tuple[int, int]
    horizontal_khz: tuple[int, int]
    clock_mhz: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Extension:
    """A further block of 128 bytes: tag, what such a block is, whether its sum is right, and luminances where it states them. [cd/m2]"""

    tag: int
    what: str
    sum_right: bool
    peak_cd_m2: float | None = None
    full_cd_m2: float | None = None
    black_cd_m2: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Edid:
    """One screen's block, read.

    Parameters
    ----------
    version : str
        Of the structure, such as ``1.4``.
    maker : str
        Three letters as coded; which maker they stand for is not looked up.
    product, serial : int
        Code and number as the maker gave them; serial None where it is not used.
    week, year, model_year
        When it was made, or the year of the model.
    signal : str
        ``analogue`` or ``digital``.
    size_mm : tuple of float, optional
        Picture as stated in whole centimetres. [mm]
    aspect : float, optional
        Width over height, where that is stated instead of a size. [-]
    gamma : float, optional
        Exponent from signal to light. [-]
    colours : ScreenColours, optional
        None where they are not given, or cannot be.
    name, serial_text, texts
        What stands in its text descriptors.
    notes : tuple of str
        What is odd but can be lived with, each with its place.
    """

    version: str
    maker: str
    product: int
    serial: int | None
    week: int | None
    year: int | None
    model_year: int | None
    signal: str
    size_mm: tuple[float, float] | None
    aspect: float | None
    gamma: float | None
    colours: ScreenColours | None
    established: tuple[str, ...]
    standard: tuple[Timing, ...]
    detailed: tuple[DetailedTiming, ...]
    name: str
    serial_text: str
    texts: tuple[str, ...]
    limits: RangeLimits | None
    extensions: tuple[Extension, ...]
    notes: tuple[str, ...]

    @property
    def pixels(self) -> tuple[int, int] | None:
        """Pixels across and down of the preferred format, which comes first."""
        return (self.detailed[0].width_px, self.detailed[0].height_px) if self.detailed else None

    @property
    def picture_mm(self) -> tuple[float, float, float] | None:
        """Width and height of the picture and half of the step in which they are stated; None where nothing is. [mm]

        The preferred format says millimetres. It is believed only where the centimetres do not contradict it: some screens write there an
        aspect, or the size of another one.
        """
        stated = next((one for one in self.detailed[:1] if one.width_mm and one.height_mm), None)
        if stated and (self.size_mm is None or _near((stated.width_mm, stated.height_mm), self.size_mm)):
            return stated.width_mm, stated.height_mm, 0.5
        return (*self.size_mm, 5.0) if self.size_mm else None


def _near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return hypot(one[0] - other[0], one[1] - other[1]) <= TWO_CM_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class EdidRecord:
    """``screen edid --json``: the block, and beside it the hint of the picture's size that layout never uses. [mm]"""

    edid: Edid
    pixels: tuple[int, int] | None
    picture_mm: tuple[float, float] | None
    picture_within_mm: float | None


def edid_record(edid: Edid) -> EdidRecord:
    """The record of a block."""
    size = edid.picture_mm
    return EdidRecord(edid=edid, pixels=edid.pixels, picture_mm=size[:2] if size else None, picture_within_mm=size[2] if size else None)
