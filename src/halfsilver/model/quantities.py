"""Quantities as the model's fields carry them.

A field's type says what a person may write there: ``Annotated[float, Quantity("length", ...)]``. The same
annotation drives the reader of job files, the JSON Schema, the labels of a form and the table in the docs.
Inside, a length is millimetres, an angle degrees, a share 0 to 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Annotated


class Auto(Enum):
    """The word ``auto``: layout decides, and says why."""

    AUTO = "auto"


AUTO = Auto.AUTO


@dataclass(frozen=True, slots=True)
class Quantity:
    """What may be written in a field, and between which bounds (in the inner unit, inclusive).

    ``kind`` is one of: length, angle, mass, power, luminance, illuminance, temperature (degC), colour-temperature (K), meter-reading
    (lx or cd/m2), percent (a share, written ``2 %``), share (``0.02`` or ``2 %``), area (m2), flow (l/s), density, voltage, current,
    linear-power (W/m), pitch (1/m), duration (s), number, count, money, amount, currency, date, aspect, fraction (its denominator),
    pattern (mm).
    """

    kind: str
    least: float | None = None
    most: float | None = None


# Bounds are those of the piece a person can carry through a door: wide enough never to be in the way of real work, narrow
# enough to stop a slip of a unit.
Length = Annotated[float, Quantity("length", least=0.0, most=20_000.0)]
PositiveLength = Annotated[float, Quantity("length", least=0.01, most=20_000.0)]
SignedLength = Annotated[float, Quantity("length", least=-50_000.0, most=50_000.0)]
Distance = Annotated[float, Quantity("length", least=10.0, most=200_000.0)]
Angle = Annotated[float, Quantity("angle", least=-360.0, most=360.0)]
HalfAngle = Annotated[float, Quantity("angle", least=0.0, most=80.0)]
Area = Annotated[float, Quantity("area", least=0.0, most=10.0)]
Flow = Annotated[float, Quantity("flow", least=0.0, most=1_000.0)]
Mass = Annotated[float, Quantity("mass", least=0.0, most=2_000.0)]
Power = Annotated[float, Quantity("power", least=0.0, most=20_000.0)]
Luminance = Annotated[float, Quantity("luminance", least=0.0, most=1e7)]
Illuminance = Annotated[float, Quantity("illuminance", least=0.0, most=200_000.0)]
Temperature = Annotated[float, Quantity("temperature", least=-40.0, most=120.0)]
ColourTemperature = Annotated[float, Quantity("colour-temperature", least=1_000.0, most=20_000.0)]
Share = Annotated[float, Quantity("percent", least=0.0, most=1.0)]
Humidity = Annotated[float, Quantity("percent", least=0.01, most=1.0)]
Fraction = Annotated[float, Quantity("share", least=0.0, most=1.0)]
Percent = Annotated[float, Quantity("percent", least=0.0, most=10.0)]
