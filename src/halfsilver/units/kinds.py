"""Every kind of quantity that is a number and a unit, beside lengths.

The first unit of each kind is the one that is written; its factor is 1 unless the inner value is a share.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from halfsilver.units.factors import (
    CD_M2_PER_FL,
    KG_PER_LB,
    KG_PER_OZ,
    M2_PER_FT2,
    M2_PER_IN2,
    M3_PER_FT3,
    MM_PER_FOOT,
    ZERO_CELSIUS_K,
    exact,
)
from halfsilver.units.lengths import LENGTH
from halfsilver.units.scales import Scale

_ONE = Fraction(1)
_FOOT_M = exact(MM_PER_FOOT) / 1000
_PERCENT = {"%": Fraction(1, 100)}
_PERCENT_WORDS = {"percent": "%", "pct": "%"}

_MASS = Scale(
    noun="A mass",
    factors={"kg": _ONE, "g": Fraction(1, 1000), "lb": exact(KG_PER_LB), "oz": exact(KG_PER_OZ)},
    spellings={
        "kilogram": "kg", "kilograms": "kg", "gram": "g", "grams": "g",
        "lbs": "lb", "pound": "lb", "pounds": "lb", "ounce": "oz", "ounces": "oz",
    },
    examples=("kg", "lb"),
    places=4,
    chain=("lb", "oz"),
)  # fmt: skip

_TEMPERATURE = Scale(
    noun="A temperature",
    factors={"degC": _ONE, "degF": Fraction(5, 9), "K": _ONE},
    spellings={"°c": "degC", "c": "degC", "celsius": "degC", "°f": "degF", "f": "degF", "fahrenheit": "degF", "kelvin": "K"},
    examples=("degC", "degF"),
    places=2,
    offsets={"degF": Fraction(-160, 9), "K": -exact(ZERO_CELSIUS_K)},
)

_DURATION = Scale(
    noun="A duration",
    factors={"s": _ONE, "min": Fraction(60), "h": Fraction(3600), "d": Fraction(86_400)},
    spellings={
        "sec": "s", "second": "s", "seconds": "s", "mins": "min", "minute": "min", "minutes": "min",
        "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
    },
    examples=("min", "h"),
    places=0,
    chain=("d", "h", "min", "s"),
)  # fmt: skip

_LUMINANCE = Scale(
    noun="A luminance",
    factors={"cd/m2": _ONE, "fL": exact(CD_M2_PER_FL)},
    spellings={"nit": "cd/m2", "nits": "cd/m2", "ftl": "fL"},
    examples=("cd/m2",),
    places=4,
)

_AREA = Scale(
    noun="An area",
    factors={"m2": _ONE, "cm2": Fraction(1, 10**4), "mm2": Fraction(1, 10**6), "ft2": exact(M2_PER_FT2), "in2": exact(M2_PER_IN2)},
    spellings={"sqm": "m2", "sqft": "ft2", "sqin": "in2"},
    examples=("m2", "ft2"),
    places=6,
)

_DENSITY = Scale(
    noun="A density",
    factors={"kg/m3": _ONE, "g/cm3": Fraction(1000), "lb/ft3": exact(KG_PER_LB) / exact(M3_PER_FT3)},
    examples=("kg/m3",),
)

SCALES: Final[Mapping[str, Scale]] = {
    "length": LENGTH,
    "angle": Scale(
        noun="An angle", factors={"deg": _ONE}, spellings={"°": "deg", "degree": "deg", "degrees": "deg"}, examples=("deg",), places=4
    ),
    "mass": _MASS,
    "power": Scale(noun="A power", factors={"W": _ONE, "kW": Fraction(1000)}, spellings={"watt": "W", "watts": "W"}, examples=("W",)),
    "luminance": _LUMINANCE,
    "illuminance": Scale(
        noun="An illuminance",
        factors={"lx": _ONE, "fc": 1 / exact(M2_PER_FT2)},
        spellings={"lux": "lx", "footcandle": "fc", "footcandles": "fc"},
        examples=("lx", "fc"),
    ),
    "meter-reading": Scale(
        noun="A meter's reading",
        factors={"lx": _ONE, "cd/m2": _ONE, "fc": 1 / exact(M2_PER_FT2), "fL": exact(CD_M2_PER_FL)},
        spellings={"lux": "lx", "cd/m²": "cd/m2", "nit": "cd/m2", "nits": "cd/m2"},
        examples=("lx", "cd/m2"),
    ),
    "temperature": _TEMPERATURE,
    "colour-temperature": Scale(noun="A colour temperature", factors={"K": _ONE}, spellings={"kelvin": "K"}, examples=("K",), places=1),
    "percent": Scale(
        noun="A percentage", factors=_PERCENT, spellings=_PERCENT_WORDS, examples=("%",), places=4, hint=" A share of 0.02 is 2 %."
    ),
    "share": Scale(noun="A share", factors=_PERCENT, spellings=_PERCENT_WORDS, examples=("%",), places=4),
    "area": _AREA,
    "flow": Scale(
        noun="A flow of air",
        factors={"l/s": _ONE, "l/min": Fraction(1, 60), "cfm": 1000 * exact(M3_PER_FT3) / 60},
        examples=("l/s", "cfm"),
        places=3,
    ),
    "density": _DENSITY,
    "voltage": Scale(
        noun="A voltage", factors={"V": _ONE, "mV": Fraction(1, 1000)}, spellings={"volt": "V", "volts": "V"}, examples=("V",)
    ),
    "current": Scale(
        noun="A current",
        factors={"A": _ONE, "mA": Fraction(1, 1000)},
        spellings={"ampere": "A", "amperes": "A", "amp": "A", "amps": "A"},
        examples=("A",),
        places=4,
    ),
    "linear-power": Scale(
        noun="A linear power", factors={"W/m": _ONE, "W/ft": 1 / _FOOT_M}, spellings={"w/foot": "W/ft"}, examples=("W/m", "W/ft")
    ),
    "pitch": Scale(
        noun="A pitch", factors={"/m": _ONE, "/ft": 1 / _FOOT_M}, spellings={"perm": "/m", "perft": "/ft"}, examples=("/m", "/ft")
    ),
    "duration": _DURATION,
}
