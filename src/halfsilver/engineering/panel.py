"""Flat screens as rectangles: size from the diagonal, pitch, and two sources held against each other."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from halfsilver.engineering.bounds import exceeds, positive
from halfsilver.model.formula import formula
from halfsilver.units.factors import MM_PER_INCH

DISAGREEMENT = 0.01  # common practice: warn where two sources of one size differ by more than 1 %


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureSize:
    """Width and height of a picture. [mm]"""

    width_mm: float
    height_mm: float


@formula(
    name="panel.size",
    source="geometry of a rectangle",
    status="derived",
    validity="square pixels; a size class may differ from the diagonal",
)
def size_from_diagonal(*, diagonal_mm: float, aspect_width: float, aspect_height: float) -> PictureSize:
    """Width and height of a picture from its diagonal and aspect.

    Parameters
    ----------
    diagonal_mm : float
        True diagonal of the active area. A size *class* differs from it by up to half an inch. [mm]
    aspect_width, aspect_height : float
        For example 16 and 9. [-]

    Returns
    -------
    PictureSize

    References
    ----------
    Derived: width = D p / sqrt(p^2 + q^2).

    Examples
    --------
    >>> size = size_from_diagonal(diagonal_mm=55 * 25.4, aspect_width=16, aspect_height=9)
    >>> round(size.width_mm, 1), round(size.height_mm, 1)
    (1217.6, 684.9)
    """
    positive(diagonal_mm=diagonal_mm, aspect_width=aspect_width, aspect_height=aspect_height)
    unit = diagonal_mm / hypot(aspect_width, aspect_height)
    return PictureSize(width_mm=aspect_width * unit, height_mm=aspect_height * unit)


@formula(name="panel.disagreement", source="common practice, 1 % rule", status="practice")
def disagreement(*, trusted_mm: float, other_mm: float) -> float:
    """Share by which a second source of a size differs from the one that is trusted.

    Parameters
    ----------
    trusted_mm : float
        The better source: tape before data sheet, data sheet before EDID, EDID before diagonal. [mm]
    other_mm : float
        The other source. [mm]

    Returns
    -------
    float
        Difference over the trusted size, 0 or more. [-]

    References
    ----------
    Common practice.
    """
    positive(trusted_mm=trusted_mm, other_mm=other_mm)
    return abs(other_mm - trusted_mm) / trusted_mm


@formula(name="panel.sources_disagree", source="common practice, 1 % rule", status="practice")
def sources_disagree(*, trusted_mm: float, other_mm: float, share: float = DISAGREEMENT) -> bool:
    """Whether two sources of one size differ by more than a share.

    Parameters
    ----------
    trusted_mm, other_mm : float
        As in `disagreement`. [mm]
    share : float
        Greatest difference that passes. [-]

    Returns
    -------
    bool

    References
    ----------
    Common practice.
    """
    return exceeds(disagreement(trusted_mm=trusted_mm, other_mm=other_mm), share)


@formula(name="panel.pixels_per_inch", source="definition", status="derived", unit="1/in")
def pixels_per_inch(*, width_mm: float, pixels: int) -> float:
    """Pixels per inch along one side.

    Parameters
    ----------
    width_mm : float
        Length of that side of the picture. [mm]
    pixels : int
        Pixels along it.

    Returns
    -------
    float
        Density. [1/in]

    References
    ----------
    Definition. Derived.
    """
    positive(width_mm=width_mm, pixels=pixels)
    return pixels / (width_mm / MM_PER_INCH)
