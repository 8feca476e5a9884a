"""Colour sums against the ``colour-science`` package, on the grid 380 to 780 nm by 5 nm."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.optics import colour, standard
from halfsilver.optics.reckonable import colour_luminous

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it misses a plotting library that nothing here needs
    import colour as science

RANDOM = np.random.default_rng(20260301)
GRID = standard.WAVELENGTH_NM


def test_observer_and_daylight_are_the_published_tables():
    observer = science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    daylight = science.SDS_ILLUMINANTS["D65"]
    np.testing.assert_allclose(colour.OBSERVER, [observer[wavelength] for wavelength in GRID], rtol=1e-8, atol=1e-12)
    np.testing.assert_allclose(standard.D65, [daylight[wavelength] for wavelength in GRID], rtol=1e-8)


def test_tristimulus_values():
    shape = science.SpectralShape(380, 780, 5)
    observer = science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    equal = science.sd_ones(shape)
    for spectrum in RANDOM.uniform(0, 1, (5, GRID.size)):
        given = science.SpectralDistribution(spectrum, GRID)
        expected = science.sd_to_XYZ(given, observer, equal, k=100, method="Integration")  # it divides by 100
        np.testing.assert_allclose(colour.xyz(spectrum), expected, rtol=1e-6)


def test_luminous_value():
    efficiency = science.SDS_LEFS["CIE 1924 Photopic Standard Observer"]
    daylight = science.SDS_ILLUMINANTS["D65"]
    for spectrum in RANDOM.uniform(0, 1, (5, GRID.size)):
        top = sum(daylight[w] * efficiency[w] * value for w, value in zip(GRID, spectrum, strict=True))
        expected = top / sum(daylight[w] * efficiency[w] for w in GRID)
        assert colour_luminous(wavelength_nm=GRID.tolist(), values=spectrum.tolist()) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("step_nm", [1, 2, 2.5, 10])
def test_luminous_value_on_other_grids(step_nm):
    """The CIE's tables at every nanometre, as the package has them; between them straight."""
    fine = np.arange(380, 781)
    efficiency = science.SDS_LEFS["CIE 1924 Photopic Standard Observer"]
    daylight = science.SDS_ILLUMINANTS["D65"].copy().align(science.SpectralShape(380, 780, 1))
    weight = np.array([efficiency[nm] * daylight[nm] for nm in fine])
    grid = np.arange(380, 780.1, step_nm)
    values = 0.5 + 0.4 * np.sin(grid / 50)
    here = np.interp(grid, fine, weight)
    expected = float(here @ values / here.sum())
    assert colour_luminous(wavelength_nm=grid.tolist(), values=values.tolist()) == pytest.approx(expected, abs=1e-5)


def test_lab_and_difference():
    white = colour.xyz(standard.D65)
    one, two = RANDOM.uniform(0.001, 1, (2, 200, 3)) * white
    ours = colour.lab(one, white=white), colour.lab(two, white=white)
    xy = science.XYZ_to_xy(white)
    theirs = [science.XYZ_to_Lab(value / white[1], xy) for value in (one, two)]
    np.testing.assert_allclose(ours, theirs, atol=1e-9)
    np.testing.assert_allclose(colour.difference(*ours), science.delta_E(*theirs, method="CIE 2000"), atol=1e-4)


def test_an_uneven_grid_weighs_each_wavelength_by_its_share():
    uneven = np.concatenate((np.arange(380, 560, 5), np.arange(560, 781, 10))).astype(float)
    smooth = 0.5 + 0.3 * np.sin(uneven / 90)
    even = 0.5 + 0.3 * np.sin(GRID / 90)
    assert float(colour.luminous(smooth, wavelength_nm=uneven)) == pytest.approx(float(colour.luminous(even)), abs=2e-3)


def test_wavelengths_that_fall_or_leave_the_eye_are_refused():
    with pytest.raises(RangeError, match="must increase"):
        colour_luminous(wavelength_nm=[500, 450], values=[0.1, 0.2])
    with pytest.raises(RangeError, match="where the eye sees"):
        colour_luminous(wavelength_nm=[900, 950], values=[0.1, 0.2])
    with pytest.raises(RangeError, match="2 wavelengths stand beside 3 values"):
        colour_luminous(wavelength_nm=[500, 550], values=[0.1, 0.2, 0.3])
