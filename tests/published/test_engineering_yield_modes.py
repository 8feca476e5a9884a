"""The six yield modes of a dowel against the closed forms printed in NDS 2018 Table 12.3.1A, each where it governs."""

from math import sqrt

import pytest

from halfsilver.engineering import lateral

# Bearing strengths and lengths (MPa, mm) of side and main member, dowel (mm), yield (MPa), and the mode that governs.
CASES = [
    (20.0, 4.0, 30.0, 60.0, 4.0, 600.0, "Is"),
    (30.0, 60.0, 20.0, 4.0, 4.0, 600.0, "Im"),
    (25.0, 14.0, 25.0, 16.0, 4.0, 900.0, "II"),
    (30.0, 60.0, 25.0, 22.0, 4.0, 600.0, "IIIm"),
    (25.0, 16.0, 30.0, 60.0, 4.0, 600.0, "IIIs"),
    (25.0, 60.0, 30.0, 60.0, 4.0, 600.0, "IV"),
]


def printed(side_mpa, ls, main_mpa, lm, D, Fyb):
    """NDS 2018 Table 12.3.1A, single shear, before the reduction."""
    Re, Rt = main_mpa / side_mpa, lm / ls
    k1 = (sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)) / (1 + Re)
    k2 = -1 + sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D**2 / (3 * main_mpa * lm**2))
    k3 = -1 + sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D**2 / (3 * main_mpa * ls**2))
    return {
        "Im": D * lm * main_mpa,
        "Is": D * ls * side_mpa,
        "II": k1 * D * ls * side_mpa,
        "IIIm": k2 * D * lm * main_mpa / (1 + 2 * Re),
        "IIIs": k3 * D * ls * main_mpa / (2 + Re),
        "IV": D**2 * sqrt(2 * main_mpa * Fyb / (3 * (1 + Re))),
    }


@pytest.mark.parametrize(("side_mpa", "ls", "main_mpa", "lm", "D", "Fyb", "mode"), CASES, ids=[case[-1] for case in CASES])
def test_each_mode_where_it_governs(side_mpa, ls, main_mpa, lm, D, Fyb, mode):
    modes = printed(side_mpa, ls, main_mpa, lm, D, Fyb)
    assert min(modes, key=modes.get) == mode
    found = lateral.lateral_load_n(diameter_mm=D, root_mm=D, yield_mpa=Fyb, side_mm=ls, side_mpa=side_mpa, main_mm=lm, main_mpa=main_mpa)
    assert found * lateral.lateral_reduction(diameter_mm=D) == pytest.approx(modes[mode], rel=1e-9)
