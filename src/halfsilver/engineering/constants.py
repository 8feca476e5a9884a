"""Constants of materials that several rules share, each with its source and how well that is known."""

from __future__ import annotations

from typing import Final

GLASS_DENSITY_KG_M3: Final = 2500.0  # EN 572-1 [seen]
GLASS_EXPANSION_PER_K: Final = 9e-6  # EN 572-1 [seen]
GLASS_MODULUS_MPA: Final = 71_700.0  # ASTM E1300 [seen]; EN 572-1 gives 70 000
GLASS_POISSON: Final = 0.22  # ASTM E1300 practice [memory]; EN 572-1 gives 0.20
GLASS_EMISSIVITY: Final = 0.837  # corrected, EN 673 [memory]; 0.89 normal [seen]
ACRYLIC_DENSITY_KG_M3: Final = 1190.0  # common practice
ACRYLIC_EXPANSION_PER_K: Final = 70e-6  # common practice
