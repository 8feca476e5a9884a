"""Colour temperature, emitters and sRGB against ``colour-science`` and the published white points."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.files import tables
from halfsilver.optics import colour, picture, spectra, whites
from halfsilver.optics.standard import D65, WAVELENGTH_NM

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour as science


def test_published_white_points():
    """CIE 15 / ISO 11664-2: A 0.44757, 0.40745; D65 0.31272, 0.32903 (2 degree observer)."""
    illuminants = tables.load("optics/illuminants")
    assert illuminants.numbers("wavelength", unit="nm") == tuple(WAVELENGTH_NM)
    lamp = colour.chromaticity(colour.xyz(illuminants.numbers("a", unit="1")))
    assert lamp == pytest.approx((0.44757, 0.40745), abs=3e-5)
    assert colour.chromaticity(colour.xyz(D65)) == pytest.approx((0.31272, 0.32903), abs=3e-5)


@pytest.mark.parametrize("name", ["led_b1", "led_b2", "led_b3", "led_b4", "led_b5"])
def test_led_illuminants_have_the_chromaticity_of_the_package(name: str):
    found = colour.chromaticity(colour.xyz(tables.load("optics/illuminants").numbers(name, unit="1")))
    expected = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"][name.upper().replace("_", "-")]
    assert found == pytest.approx(expected, abs=3e-4)


def test_illuminant_a_is_a_black_body_of_2856_k():
    lamp = np.array(tables.load("optics/illuminants").numbers("a", unit="1")) / 100
    np.testing.assert_allclose(whites.black_body(2855.5), lamp, rtol=1.5e-3)


@pytest.mark.parametrize(("x", "y", "expected"), [(0.31272, 0.32903, 6503.8), (0.44757, 0.40745, 2857.3)])
def test_mccamy_as_worked_by_hand(x: float, y: float, expected: float):
    assert whites.temperature_by_mccamy(x=x, y=y) == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("temperature", [1500.0, 2700.0, 3000.0, 4000.0, 6504.0, 10_000.0, 20_000.0])
@pytest.mark.parametrize("off", [-0.01, 0.0, 0.01])
def test_correlated_temperature(temperature: float, off: float):
    uv = science.temperature.CCT_to_uv_Ohno2013([temperature, off])
    x, y = science.UCS_uv_to_xy(uv)
    assert whites.temperature_k(x=x, y=y) == pytest.approx(temperature, rel=3e-3)  # it sums from 360 nm by 1 nm
    assert whites.tint((x, y)) == pytest.approx(off, abs=2e-4)


def test_a_colour_is_no_white():
    with pytest.raises(RangeError, match="is not a white"):
        whites.temperature_k(x=0.15, y=0.06)


@pytest.mark.parametrize("temperature", [2000.0, 2700.0, 3000.0, 4000.0, 5000.0, 6500.0, 12_000.0])
def test_a_white_diode_hits_its_colour(temperature: float):
    spectrum = spectra.white_led(colour_temperature_k=temperature)
    XYZ = colour.xyz(spectrum, normal=colour.LUMENS_PER_WATT)
    assert XYZ[1] == pytest.approx(1.0)
    assert colour.chromaticity(XYZ) == pytest.approx(whites.black_body_xy(temperature), abs=1e-9)
    assert whites.temperature_k(x=colour.chromaticity(XYZ)[0], y=colour.chromaticity(XYZ)[1]) == pytest.approx(temperature, rel=1e-3)


def test_a_white_diode_resembles_a_measured_one():
    """CIE LED-B3 (4103 K, blue-pumped phosphor): seen through a strongly coloured filter, both give nearly the same colour."""
    measured = spectra.unit_luminance(tables.load("optics/illuminants").numbers("led_b3", unit="1"))
    x, y = colour.chromaticity(colour.xyz(measured))
    modelled = spectra.white_led(colour_temperature_k=whites.temperature_k(x=x, y=y))
    white = colour.xyz(measured)
    for tint in (np.exp((WAVELENGTH_NM - 560) / 200), np.exp((560 - WAVELENGTH_NM) / 200)):
        one, two = (colour.lab(colour.xyz(light * tint), white=white) for light in (measured, modelled))
        assert float(colour.difference(one, two)) < 4.0


def test_screen_primaries_and_white_are_those_of_srgb():
    parts = spectra.screen_primaries()
    np.testing.assert_allclose(colour.chromaticity(colour.xyz(parts)), spectra.SRGB_PRIMARIES, atol=1e-9)
    np.testing.assert_allclose(colour.chromaticity(colour.xyz(spectra.screen_white())), spectra.SRGB_WHITE, atol=1e-9)
    assert np.all(parts >= 0)
    wide = ((0.675, 0.320), (0.265, 0.685), (0.150, 0.060))
    np.testing.assert_allclose(colour.chromaticity(colour.xyz(spectra.screen_primaries(primaries=wide))), wide, atol=1e-9)


def test_three_diodes_mix_a_colour_inside_and_refuse_one_outside():
    assert colour.chromaticity(colour.xyz(spectra.colour_led(xy=(0.25, 0.35)))) == pytest.approx((0.25, 0.35))
    with pytest.raises(RangeError, match="outside what these three lights can mix"):
        spectra.colour_led(xy=(0.05, 0.8))


def test_srgb_matrix_and_curve():
    XYZ = np.random.default_rng(3).uniform(0, 1, (50, 3))
    space = science.RGB_COLOURSPACES["sRGB"]
    np.testing.assert_allclose(picture.linear_srgb(XYZ, white_cd_m2=1.0), XYZ @ np.linalg.inv(space.matrix_RGB_to_XYZ).T, atol=2e-3)
    ramp = np.linspace(0, 1, 101)
    np.testing.assert_allclose(picture.encoded(ramp), science.models.eotf_inverse_sRGB(ramp), atol=1e-7)


def test_a_picture_keeps_luminance_when_it_brings_a_colour_inside():
    linear = np.random.default_rng(4).uniform(-0.4, 1.4, (500, 3))
    inside = picture.in_gamut(linear)
    assert inside.min() >= 0
    assert inside.max() <= 1
    np.testing.assert_allclose(inside @ picture.GREY, np.clip(linear @ picture.GREY, 0, 1), atol=1e-9)
    fits = np.random.default_rng(5).uniform(0, 1, (50, 3))
    np.testing.assert_allclose(picture.in_gamut(fits), fits, atol=1e-12)
