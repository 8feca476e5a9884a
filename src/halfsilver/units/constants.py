"""Physical constants, each with unit and source.

References
----------
SI brochure, 9th edition (2019): the seven defining constants, exact. From memory; the definitions are exact.
"""

from __future__ import annotations

import math
from typing import Final

from halfsilver.units.factors import STANDARD_GRAVITY_M_S2, ZERO_CELSIUS_K

SPEED_OF_LIGHT_M_S: Final = 299_792_458.0  # defining constant c
PLANCK_J_S: Final = 6.626_070_15e-34  # defining constant h
BOLTZMANN_J_K: Final = 1.380_649e-23  # defining constant k
LUMINOUS_EFFICACY_LM_W: Final = 683.0  # defining constant Kcd, at 540 THz

# Second radiation constant of Planck's law; the first one drops out of every relative spectrum. [m K]
SECOND_RADIATION_M_K: Final = PLANCK_J_S * SPEED_OF_LIGHT_M_S / BOLTZMANN_J_K

STEFAN_BOLTZMANN_W_M2_K4: Final = 2.0 * math.pi**5 * BOLTZMANN_J_K**4 / (15.0 * PLANCK_J_S**3 * SPEED_OF_LIGHT_M_S**2)

__all__ = [
    "BOLTZMANN_J_K", "LUMINOUS_EFFICACY_LM_W", "PLANCK_J_S", "SECOND_RADIATION_M_K", "SPEED_OF_LIGHT_M_S",
    "STANDARD_GRAVITY_M_S2", "STEFAN_BOLTZMANN_W_M2_K4", "ZERO_CELSIUS_K",
]  # fmt: skip
