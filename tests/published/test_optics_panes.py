"""Plain glass against Fresnel values of n = 1.52 and against what standards print.

The Fresnel numbers are handbook values worked out by hand from the equations. EN 1036-1:2007 6.2 for silvered mirrors and the
published 6 mm clear float values (tau_v 0.883, rho_v 0.076, maker's data under EN 410) are secondary: the standards were not seen.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.files import tables
from halfsilver.optics import colour, panes
from halfsilver.optics.films import Layer, layer, solve
from halfsilver.optics.standard import WAVELENGTH_NM


def material(name: str, *, thickness_nm: float, coherent: bool) -> Layer:
    table = tables.material(name)
    assert table.numbers("wavelength", unit="nm") == tuple(WAVELENGTH_NM)
    return layer(n=table.numbers("n", unit="1"), k=table.numbers("k", unit="1"), thickness_nm=thickness_nm, coherent=coherent)


def luminous(layers: list[Layer]) -> tuple[float, float]:
    found = solve(layers, wavelength_nm=WAVELENGTH_NM, incidence_deg=[0.0])
    return float(colour.luminous(found.T_front[0, 0])), float(colour.luminous(found.R_front[0, 0]))


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (panes.fresnel_normal(index=1.52), 0.04258),
        (panes.pane_reflectance(index=1.52), 0.08168),
        (panes.pane_transmittance(index=1.52), 0.91832),
        (panes.fresnel_s(index=1.52, incidence_deg=45), 0.09673),
        (panes.fresnel_p(index=1.52, incidence_deg=45), 0.00936),
        (panes.pane_reflectance(index=1.52, incidence_deg=45), 0.09747),
        (panes.pane_from_face(face_reflectance=0.04258), 0.081682),
    ],
)
def test_fresnel_at_index_1_52(found: float, expected: float):
    assert found == pytest.approx(expected, abs=5.1e-6)


@pytest.mark.parametrize(
    ("found", "expected", "digits"),
    [
        (panes.brewster_angle_deg(index=1.52), 56.66, 2),
        (panes.ghost_offset_mm(thickness_mm=6, index=1.52, incidence_deg=45), 4.459, 3),
        (panes.ghost_offset_mm(thickness_mm=4, index=1.52, incidence_deg=45), 2.973, 3),
        (panes.image_shift_mm(thickness_mm=6, index=1.52), 2.05, 2),
        (panes.ray_shift_mm(thickness_mm=6, index=1.52, incidence_deg=45), 2.01, 2),
    ],
)
def test_geometry_of_a_pane(found: float, expected: float, digits: int):
    assert found == pytest.approx(expected, abs=0.51 * 10**-digits)


@pytest.mark.parametrize("thickness_mm", [2, 4, 6])
def test_a_silvered_mirror_reaches_86_percent(thickness_mm: float):
    """EN 1036-1:2007 6.2 asks for at least 86 % from 2 to 6 mm; no mirror of silver behind clear glass exceeds silver's 98 %."""
    glass = material("clear_float", thickness_nm=thickness_mm * 1e6, coherent=False)
    metals = [material(name, thickness_nm=100, coherent=True) for name in ("silver", "chromium")]
    _, mirrored = luminous([glass, *metals])
    assert 0.86 <= mirrored <= 0.98


def test_clear_float_of_6_mm_as_published():
    passed, mirrored = luminous([material("clear_float", thickness_nm=6e6, coherent=False)])
    assert passed == pytest.approx(0.883, abs=0.005)
    assert mirrored == pytest.approx(0.076, abs=0.005)


# Luminous transmittance and reflectance as makers print them for uncoated sheets (EN 410): trade values, from memory, common practice.
SHEETS = [
    ("clear_float", 3, 0.90, 0.08), ("clear_float", 4, 0.89, 0.08), ("clear_float", 6, 0.88, 0.08), ("clear_float", 10, 0.86, 0.08),
    ("low_iron_float", 4, 0.91, 0.08), ("low_iron_float", 10, 0.90, 0.08), ("grey_float", 4, 0.55, 0.06), ("grey_float", 6, 0.43, 0.05),
    ("bronze_float", 4, 0.62, 0.06), ("bronze_float", 6, 0.51, 0.06), ("acrylic", 3, 0.92, 0.08),
]  # fmt: skip


@pytest.mark.parametrize(("name", "thickness_mm", "T", "R"), SHEETS)
def test_uncoated_sheets_as_the_trade_prints_them(name: str, thickness_mm: float, T: float, R: float):
    """The tint differs between makers: 2 points; clear ones within their rounding and 0.5 points."""
    found = luminous([material(name, thickness_nm=thickness_mm * 1e6, coherent=False)])
    assert found == pytest.approx((T, R), abs=0.02 if name in ("grey_float", "bronze_float") else 0.0075)


def test_an_antireflective_face_and_a_quarter_wave_of_magnesium_fluoride():
    """MgF2 of 100 nm leaves about 1.3 % per face of glass (handbook, from memory), four films below 0.5 % for both faces."""
    glass = material("low_iron_float", thickness_nm=4e6, coherent=False)
    one = material("magnesium_fluoride", thickness_nm=100, coherent=True)
    assert luminous([one, glass, one])[1] == pytest.approx(2 * 0.013, abs=0.004)
    four = [
        material(name, thickness_nm=nm, coherent=True) for name, nm in (("silica", 88), ("titania", 110), ("silica", 35), ("titania", 12))
    ]
    assert luminous([*four, glass, *reversed(four)])[1] < 0.005


def test_the_bulk_solution_gives_the_closed_form():
    found = solve([layer(n=1.52, thickness_nm=6e6, coherent=False)], wavelength_nm=[550.0], incidence_deg=[0.0, 45.0, 70.0])
    for a, angle in enumerate((0.0, 45.0, 70.0)):
        assert found.R_front[:, a].mean() == pytest.approx(panes.pane_reflectance(index=1.52, incidence_deg=angle), abs=1e-12)


def test_p_light_passes_at_the_brewster_angle():
    assert panes.fresnel_p(index=1.52, incidence_deg=panes.brewster_angle_deg(index=1.52)) == pytest.approx(0.0, abs=1e-15)


def test_a_quarter_wave_of_titania_on_glass_has_the_handbook_reflectance():
    """One face, quarter wave: R = ((1 - n^2/ns)/(1 + n^2/ns))^2 (Macleod, Thin-Film Optical Filters; from memory)."""
    n, substrate = 2.3, 1.5
    found = solve([layer(n=n, thickness_nm=550 / 4 / n)], wavelength_nm=[550.0], incidence_deg=[0.0])
    in_air = ((1 - n**2) / (1 + n**2)) ** 2
    assert found.R_front[0, 0, 0] == pytest.approx(in_air, abs=1e-12)
    one_face = ((1 - n**2 / substrate) / (1 + n**2 / substrate)) ** 2
    rear = ((substrate - 1) / (substrate + 1)) ** 2
    glass = layer(n=substrate, thickness_nm=6e6, coherent=False)
    whole = solve([layer(n=n, thickness_nm=550 / 4 / n), glass], wavelength_nm=[550.0], incidence_deg=[0.0]).R_front[0, 0, 0]
    assert whole == pytest.approx(one_face + (1 - one_face) ** 2 * rear / (1 - one_face * rear), abs=1e-12)


@pytest.mark.parametrize("angle", [-1.0, 91.0, math.nan])
def test_an_angle_outside_is_refused(angle: float):
    with pytest.raises(RangeError, match="between 0 and 90"):
        panes.fresnel_s(index=1.52, incidence_deg=angle)
    with pytest.raises(RangeError, match="between 0 and 90"):
        solve([], wavelength_nm=[550.0], incidence_deg=[angle])


def test_a_malus_pair_sums_to_both():
    for turn in np.linspace(0, 180, 13):
        one = panes.polarised_transmittance(T_s=0.3, T_p=0.7, to_plane_deg=turn)
        other = panes.polarised_transmittance(T_s=0.3, T_p=0.7, to_plane_deg=turn + 90)
        assert one + other == pytest.approx(1.0, abs=1e-12)
