"""What has to be cut, out of what: frozen values of whole numbers.

A bar is cut along its length, a sheet by edge-to-edge (guillotine) cuts. The kerf is what one cut destroys; the trim is what is
unusable at an edge and already contains the kerf of its own cut.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum


class End(Enum):
    """How a bar piece ends."""

    SQUARE = "square"
    MITRE = "mitre"


class FirstCut(Enum):
    """Direction of a sheet's first cuts: ``h`` leaves strips of full width, ``v`` of full height."""

    ACROSS = "h"
    ALONG = "v"
    ANY = "any"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """Unusable border. [unit of the instance]; a bar uses ``left`` (start) and ``right`` (end) only."""

    left: int = 0
    right: int = 0
    bottom: int = 0
    top: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One stock length; ``qty`` None means as many as wanted."""

    id: str
    length: int
    qty: int | None = None
    cost: float
    offcut: bool = False
    trim: Trim = field(default_factory=Trim)

    @property
    def usable(self) -> int:
        """Length between the trims. [unit of the instance]"""
        return self.length - self.trim.left - self.trim.right


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPiece:
    """A piece of bar by its outer (longest) length."""

    id: str
    length: int
    qty: int
    left: End = End.SQUARE
    right: End = End.SQUARE


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreRule:
    """How neighbouring mitres share the bar.

    Parameters
    ----------
    kerf : int
        What a 45-degree cut takes, measured along the bar. [unit of the instance]
    nest : int
        Face width of the profile: what two neighbours gain when one of them is turned over. [unit of the instance]
    flip : bool
        Whether the profile may be turned over at all.
    """

    kerf: int = 0
    nest: int = 0
    flip: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearInstance:
    """A linear cutting task; demand is exact.

    Parameters
    ----------
    kerf : int
        Width of a square cut. [unit]
    increment : int
        Distance of the marks at which the bar may be cut, from the start of the usable length; 0 for anywhere. [unit]
    remnant_min : int
        Shortest remnant worth listing. [unit]
    sequence : tuple of tuple of str
        Piece ids in order: none may be cut on an earlier bar than the one before it.
    """

    id: str
    unit: str = ""
    kerf: int = 0
    stock: tuple[Bar, ...]
    pieces: tuple[BarPiece, ...]
    mitre: MitreRule = field(default_factory=MitreRule)
    increment: int = 0
    remnant_min: int = 0
    sequence: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One stock size; ``qty`` None means as many as wanted."""

    id: str
    width: int
    height: int
    qty: int | None = None
    cost: float
    offcut: bool = False
    trim: Trim = field(default_factory=Trim)

    @property
    def usable_width(self) -> int:
        """Width between the trims. [unit of the instance]"""
        return self.width - self.trim.left - self.trim.right

    @property
    def usable_height(self) -> int:
        """Height between the trims. [unit of the instance]"""
        return self.height - self.trim.bottom - self.trim.top


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A rectangular piece; ``rotate`` False for what must not be turned (coated or grained)."""

    id: str
    width: int
    height: int
    qty: int
    rotate: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetInstance:
    """A sheet cutting task; demand is exact.

    Parameters
    ----------
    kerf : int
        Saw width; 0 where the sheet is scored and snapped. [unit]
    stages : int or None
        How often the direction of cutting may change, plus one; None for freely.
    exact : bool
        False allows one further trimming cut that parts ONE piece from waste after the last stage.
    first_cut : FirstCut
        Direction of stage 1; a sheet that starts the other way has used stage 1 without a cut.
    min_strip : int
        No waste strip that is cut off may be narrower. [unit]
    sequence : tuple of tuple of str
        Piece ids in order: none may be cut on an earlier sheet than the one before it.
    """

    id: str
    unit: str = ""
    kerf: int = 0
    stock: tuple[Sheet, ...]
    pieces: tuple[Pane, ...]
    stages: int | None = None
    exact: bool = False
    first_cut: FirstCut = FirstCut.ANY
    min_strip: int = 0
    sequence: tuple[tuple[str, ...], ...] = ()


Instance = LinearInstance | SheetInstance
