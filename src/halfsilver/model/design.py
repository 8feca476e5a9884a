"""The design's bodies: parts with mass and place, layers front to back, and which mouldings would have worked."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One kind of part.

    Parameters
    ----------
    id, name : str
        Stable short name, and the same in a maker's words.
    material : str
        What it is made of, or the catalogue's id.
    size_mm : tuple of float
        Length, width and depth of one as it is cut or bought; a mitred stick by its long point. [mm]
    mass_kg : float
        Mass of one (their mean where pockets make them differ). [kg]
    at_mm : tuple of float
        Centre of mass of all of them together: x to the viewer's right, y up from the centre of the outside, z towards the viewer from the
        front face. [mm]
    quantity : int
        How many.
    """

    id: str
    name: str
    material: str
    size_mm: tuple[float, ...]
    mass_kg: float
    at_mm: tuple[float, float, float]
    quantity: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the stack; depths from the front face, positive backwards. [mm]"""

    part: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Suitability:
    """Whether a moulding of the catalogue would do in a place, and why not."""

    moulding: str
    place: str
    works: bool
    why: tuple[str, ...] = ()
