"""Every published figure the project was measured by, asked as an outsider asks: by listed name, through ``reckon``."""

import pytest

from halfsilver.services.reckon import formulas, reckon
from published.test_engineering_checks import CHECKS

# Optics, beside the table of the engineering checks: formula, inputs, expected, relative tolerance, source, status.
LIGHT = [
    ("photometry.reflected_luminance", {"reflectance": 0.04, "illuminance_lx": 300}, 3.81972, 1e-4, "Lambertian reflector", "derived"),
    (
        "photometry.ambient_contrast",
        {"white_cd_m2": 350, "dark_contrast": 1000, "added_cd_m2": 3.81972},
        84.8546, 1e-4, "ISO 9241-305", "memory",
    ),
    (
        "photometry.part_mirror_contrast",
        {"transmittance": 0.3, "white_cd_m2": 350, "dark_contrast": 1000, "added_cd_m2": 24.3437748},
        5.2904, 1e-4, "the same form", "derived",
    ),
    (
        "photometry.veil_for_contrast",
        {"transmittance": 0.3, "white_cd_m2": 350, "dark_contrast": 1000, "contrast": 15},
        7.3875, 1e-4, "rearranged", "derived",
    ),
    ("photometry.strip_luminance", {"flux_lm_m": 1000, "width_mm": 10}, 31831.0, 1e-5, "Lambertian strip", "derived"),
    ("photometry.strip_illuminance", {"flux_lm_m": 500, "distance_mm": 500}, 500.0, 1e-6, "long Lambertian strip", "derived"),
    ("optics.fresnel_normal", {"index": 1.52}, 0.04258, 1e-4, "Fresnel", "derived"),
    ("optics.pane_from_face", {"face_reflectance": 0.04258}, 0.081682, 1e-5, "two faces, no absorption", "derived"),
    ("optics.ghost_offset", {"thickness_mm": 6, "incidence_deg": 45, "index": 1.52}, 4.45927, 1e-5, "geometry and Snell", "derived"),
    ("colour.temperature_mccamy", {"x": 0.31272, "y": 0.32903}, 6503.77, 1e-4, "McCamy 1992", "memory"),
]  # fmt: skip


def asked(name, inputs):
    known = formulas()
    plain = name if name in known else name.rpartition(".")[0]
    result = reckon(plain, {key: float(value) if hasattr(value, "as_tuple") else value for key, value in inputs.items()}).result
    return float(result if plain == name else result[name.rpartition(".")[2]])


@pytest.mark.parametrize(("name", "inputs", "factor", "expected", "tolerance", "source", "status"), CHECKS)
def test_an_engineering_figure(name, inputs, factor, expected, tolerance, source, status):
    assert asked(name, inputs) * factor == pytest.approx(expected, rel=tolerance), f"{source} [{status}]"


@pytest.mark.parametrize(("name", "inputs", "expected", "tolerance", "source", "status"), LIGHT)
def test_a_figure_of_light(name, inputs, expected, tolerance, source, status):
    assert asked(name, inputs) == pytest.approx(expected, rel=tolerance), f"{source} [{status}]"
