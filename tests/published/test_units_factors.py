"""Conversion factors against NIST Special Publication 811 (2008), appendix B.8, and constants against CODATA 2018.

The printed digits are from memory of these tables; each is held to its own rounding.
"""

from __future__ import annotations

import pytest

from halfsilver.units import constants, factors
from halfsilver.units.quantities import read_quantity


@pytest.mark.parametrize(
    ("value", "printed", "digits"),
    [
        (factors.MM_PER_INCH, 2.54e1, 15),  # exact
        (factors.MM_PER_FOOT, 3.048e2, 15),  # exact
        (factors.M2_PER_FT2, 9.290304e-2, 15),  # exact
        (factors.M2_PER_IN2, 6.4516e-4, 15),  # exact
        (factors.M3_PER_FT3, 2.831685e-2, 7),
        (factors.KG_PER_LB, 4.535924e-1, 7),
        (factors.KG_PER_OZ, 2.834952e-2, 7),
        (factors.N_PER_LBF, 4.448222, 7),
        (factors.N_PER_KGF, 9.80665, 15),  # exact
        (factors.NMM_PER_IN_LBF, 1.129848e2, 7),
        (factors.MPA_PER_PSI, 6.894757e-3, 7),
        (factors.LX_PER_FC, 1.076391e1, 7),
        (factors.CD_M2_PER_FL, 3.426259, 7),
    ],
)
def test_nist_sp_811(value: float, printed: float, digits: int) -> None:
    assert float(f"{value:.{digits - 1}e}") == printed


@pytest.mark.parametrize(
    ("kind", "text", "printed", "digits"),
    [("density", "1 lb/ft3", 1.601846e1, 7), ("luminance", "1 fL", 3.426259, 7), ("illuminance", "1 fc", 1.076391e1, 7), ("mass",
    "1 oz", 2.834952e-2, 7)],
)  # fmt: skip
def test_nist_sp_811_through_the_readers(kind: str, text: str, printed: float, digits: int) -> None:
    assert float(f"{read_quantity(kind, text):.{digits - 1}e}") == printed


@pytest.mark.parametrize(
    ("value", "printed", "digits"),
    [
        (constants.STEFAN_BOLTZMANN_W_M2_K4, 5.670374419e-8, 10),
        (constants.SECOND_RADIATION_M_K, 1.438776877e-2, 10),
        (constants.STANDARD_GRAVITY_M_S2, 9.80665, 15),
        (constants.LUMINOUS_EFFICACY_LM_W, 683.0, 15),
    ],
)
def test_codata_2018(value: float, printed: float, digits: int) -> None:
    assert value == pytest.approx(printed, rel=10.0 ** -(digits - 1))


# Fixed points of the temperature scales (common knowledge; ice and steam point of the 1954 definition to 0.01 K).
@pytest.mark.parametrize(("fahrenheit", "celsius"), [("32 degF", 0.0), ("212 degF", 100.0), ("-40 degF", -40.0), ("98.6 degF", 37.0)])
def test_fahrenheit(fahrenheit: str, celsius: float) -> None:
    assert read_quantity("temperature", fahrenheit) == pytest.approx(celsius, abs=1e-12)
