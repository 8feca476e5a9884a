"""Conversion factors and material constants of the engineering rules, each with its source.

Lengths are millimetres, loads newtons, stresses megapascals; a rule printed in inches and pounds converts on its first line.
"""

from __future__ import annotations

MM_PER_IN = 25.4  # exact (international yard and pound agreement, 1959)
MM_PER_FT = 304.8  # exact
MM2_PER_SQ_FT = 92_903.04  # exact
N_PER_LBF = 4.4482216152605  # exact
KG_PER_LB = 0.45359237  # exact
J_PER_FT_LBF = 1.3558179483314004  # N_PER_LBF x 0.3048
GRAVITY_M_S2 = 9.80665  # standard gravity, CGPM 1901
KELVIN_AT_0_DEGC = 273.15  # exact
STEFAN_BOLTZMANN = 5.670374419e-8  # W/m2K4, CODATA 2018

GLASS_DENSITY_KG_M3 = 2500.0  # EN 572-1 [seen]
GLASS_EXPANSION_PER_K = 9e-6  # EN 572-1 [seen]
GLASS_MODULUS_MPA = 71_700.0  # ASTM E1300 [seen]; EN 572-1 gives 70 000
GLASS_POISSON = 0.22  # ASTM E1300 practice [memory]; EN 572-1 gives 0.20
ACRYLIC_DENSITY_KG_M3 = 1190.0  # common practice
ACRYLIC_EXPANSION_PER_K = 70e-6  # common practice
