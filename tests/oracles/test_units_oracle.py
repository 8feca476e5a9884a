"""Every unit of every kind against pint, a general library of units."""

from __future__ import annotations

import pint
import pytest

from halfsilver.units.kinds import SCALES
from halfsilver.units.quantities import read_quantity

REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
INNER = {
    "length": "mm", "angle": "degree", "mass": "kg", "power": "W", "luminance": "cd/m**2", "illuminance": "lx", "temperature": "degC",
    "colour-temperature": "K", "percent": "", "share": "", "area": "m**2", "flow": "liter/second", "density": "kg/m**3",
    "voltage": "V", "current": "A",
    "linear-power": "W/m", "pitch": "1/m", "duration": "s",
}  # fmt: skip
THEIRS = {
    "in": "inch", "ft": "foot", "deg": "degree", "cd/m2": "cd/m**2", "fL": "cd/pi/foot**2", "fc": "lumen/foot**2", "%": "percent",
    "m2": "m**2", "l/s": "liter/second", "l/min": "liter/minute", "cfm": "foot**3/minute",
    "cm2": "cm**2", "mm2": "mm**2", "ft2": "foot**2", "in2": "inch**2", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3", "lb/ft3": "lb/foot**3",
    "W/ft": "W/foot", "/m": "1/m", "/ft": "1/foot", "h": "hour", "d": "day",
}  # fmt: skip


@pytest.mark.parametrize(("kind", "unit"), [(kind, unit) for kind, scale in SCALES.items() for unit in scale.factors])
@pytest.mark.parametrize("number", ["1", "57.75", "0.001"])
def test_pint_agrees(kind: str, unit: str, number: str) -> None:
    theirs = REGISTRY.Quantity(float(number), REGISTRY.parse_units(THEIRS.get(unit, unit)) if unit != "fL" else "cd/foot**2")
    inner = INNER["illuminance" if unit in ("lx", "fc") else "luminance"] if kind == "meter-reading" else INNER[kind]
    expected = theirs.to(inner or "dimensionless").magnitude / (3.141592653589793 if unit == "fL" else 1.0)
    assert read_quantity(kind, f"{number} {unit}") == pytest.approx(expected, rel=1e-12, abs=1e-12)
