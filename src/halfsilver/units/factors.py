"""Exact conversion factors, each with its source.

Every value is a plain float whose shortest decimal form is the defined value, so `exact` recovers the definition as a fraction.

References
----------
Refinement of values for the yard and the pound (1959): the international yard is 0.9144 m and the pound 0.45359237 kg, exactly.
NIST Special Publication 811 (2008), appendix B, repeats both and gives the derived factors. From memory; the definitions are exact.
SI brochure, 9th edition (2019): the standard acceleration of gravity 9.80665 m/s2 (CGPM 1901), kelvin and degree Celsius.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

MM_PER_INCH: Final = 25.4  # yard of 1959 / 36
MM_PER_FOOT: Final = 304.8  # yard of 1959 / 3
M2_PER_FT2: Final = 0.09290304  # foot squared
M2_PER_IN2: Final = 0.00064516  # inch squared
M3_PER_FT3: Final = 0.028316846592  # foot cubed

KG_PER_LB: Final = 0.45359237  # pound of 1959
KG_PER_OZ: Final = 0.028349523125  # pound / 16

STANDARD_GRAVITY_M_S2: Final = 9.80665  # CGPM 1901
N_PER_LBF: Final = 4.4482216152605  # pound x standard gravity
N_PER_KGF: Final = 9.80665  # kilogram x standard gravity
NMM_PER_IN_LBF: Final = 112.9848290276167  # inch x pound-force
MPA_PER_PSI: Final = N_PER_LBF / MM_PER_INCH**2  # pound-force per square inch: 0.00689476 MPa

LX_PER_FC: Final = 1.0 / M2_PER_FT2  # footcandle: one lumen per square foot, 10.7639 lx
CD_M2_PER_FL: Final = 1.0 / (math.pi * M2_PER_FT2)  # foot-lambert: 1/pi candela per square foot, 3.42626 cd/m2

ZERO_CELSIUS_K: Final = 273.15  # SI brochure: t/degC = T/K - 273.15


def exact(value: float) -> Fraction:
    """The defined value behind a factor of this module.

    Parameters
    ----------
    value : float
        A float whose shortest decimal form is what was meant.

    Returns
    -------
    Fraction
        That decimal, exactly.

    Examples
    --------
    >>> exact(25.4)
    Fraction(127, 5)
    """
    return Fraction(repr(value))
