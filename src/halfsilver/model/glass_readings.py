"""Readings of a lux or luminance meter from which a sheet's shares follow, and what they gave."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import Annotated, Any

from halfsilver.model.quantities import Quantity, Share

Light = Annotated[float, Quantity("meter-reading", least=0.0, most=1e6)]


def told(doc: str, **default: Any) -> Any:
    """A field with its sentence for the docs."""
    return field(metadata={"doc": doc}, **default)


class Measured(Enum):
    """Which of a sheet's shares a reading is for."""

    T = "T"
    R_COATED = "R_coated"
    R_PLAIN = "R_plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class GlassReading:
    """One measurement of a sheet: a row of ``glass_readings.csv``."""

    glass: str = told("id of the sheet in glass.csv")
    quantity: Measured = told("T, R_coated or R_plain")
    bare: Light = told("reading without the sheet; for R, off the reference mirror")
    sheet: Light = told("reading through the sheet; for R, off the sheet in the mirror's place")
    dark: Light = told("reading with the lamp covered", default=0.0)
    reference: Share = told("reflectance of the reference mirror; 100 % for T", default=1.0)
    reference_error: Share = told("limit of error of the reference mirror", default=0.0)
    meter: Share = told("limit of error of one reading, as the meter's maker says", default=0.04)
    step: Light = told("last digit of the display", default=0.0)
    by: str = told("who read it", default="")
    when: str = told("when it was read", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredShare:
    """A share measured in the shop: its value, its expanded uncertainty (twice the standard one), and from how many readings."""

    value: float
    expanded: float
    readings: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredGlass:
    """What readings gave for one sheet; None for a share that nobody measured. ``over`` is by how much R + T came out above 1."""

    T: MeasuredShare | None = None
    R_coated: MeasuredShare | None = None
    R_plain: MeasuredShare | None = None
    over: float = 0.0
