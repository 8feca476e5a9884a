"""Readings of a meter: the examples of JCGM 100 (GUM), a ratio by hand, and a simulation (JCGM 101) as a second way."""

from __future__ import annotations

import math

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.optics.meter import Uncertain, combined, mean_of, meter_ratio, within_one


def test_gum_example_h1_end_gauge():
    """JCGM 100:2008, H.1.4: (25 nm)^2 + (9.7 nm)^2 + (2.9 nm)^2 + (16.6 nm)^2 = 1002 nm^2, u = 32 nm. From memory."""
    found = combined(sensitivities=[1] * 4, standards=[25, 9.7, 2.9, 16.6])
    assert found**2 == pytest.approx(1002, abs=2)  # the printed parts are rounded
    assert round(found) == 32


def test_gum_example_of_a_product():
    """JCGM 100:2008, 5.1.6, equation (12): relative variances of a product add. 2 % and 1.5 % give 2.5 % (3-4-5 triangle)."""
    a, b = 100.0, 40.0
    assert combined(sensitivities=[1 / b, a / b**2], standards=[0.02 * a, 0.015 * b]) / (a / b) == pytest.approx(0.025)


def test_gum_scatter_of_the_mean():
    """JCGM 100:2008, 4.4.3 and table 1: 20 readings with s = 1.489 have s of the mean 1.489/root 20 = 0.333. From memory."""
    readings = [
        96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
        100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
    ]  # fmt: skip
    found = mean_of([Uncertain(value=one, standard=0.0) for one in readings])
    assert found.value == pytest.approx(100.145, abs=0.001)
    assert found.standard == pytest.approx(0.333, abs=0.001)


def test_a_transmittance_by_hand():
    """(398 - 2)/(812 - 2) = 0.48889. Limits of 3 % over root 3: 6.893, 14.064 and 0.0346 lx; last digits of 1 lx: 0.2887 lx each.

    c: 1/810, 0.48889/810, (0.48889 - 1)/810, so u^2 = (6.899/810)^2 + (0.48889 x 14.067/810)^2 + (0.51111 x 0.2908/810)^2.
    """
    found = meter_ratio(sheet=398, bare=812, dark=2, meter=0.03, step=1)
    assert found.value == pytest.approx(0.488889, abs=1e-6)
    assert found.standard == pytest.approx(math.sqrt(0.0085176**2 + 0.0084906**2 + 0.0001835**2), abs=2e-6)
    assert found.expanded == pytest.approx(2 * found.standard)


@pytest.mark.parametrize(
    "given",
    [
        {"sheet": 398, "bare": 812, "dark": 2, "meter": 0.03, "step": 1},
        {"sheet": 31, "bare": 900, "dark": 4, "meter": 0.05, "step": 1},
        {"sheet": 352, "bare": 640, "dark": 1, "meter": 0.03, "step": 1, "reference": 0.9, "reference_limit": 0.015},
        {"sheet": 5.2, "bare": 20.4, "dark": 0.3, "meter": 0.0, "step": 0.1},
    ],
)
def test_first_order_agrees_with_a_simulation(given):
    """JCGM 101: rectangular inputs drawn at random; 200 000 draws leave 0.4 % in the spread."""
    chance = np.random.default_rng(11)

    def drawn(value, limit):
        return value + limit * chance.uniform(-1, 1, 200_000)

    def reading(value):
        return drawn(value, given["meter"] * value) + drawn(0, given["step"] / 2)

    sheet, bare, dark = (reading(given[name]) for name in ("sheet", "bare", "dark"))
    mirror = drawn(given.get("reference", 1.0), given.get("reference_limit", 0.0))
    simulated = mirror * (sheet - dark) / (bare - dark)
    found = meter_ratio(**given)
    assert found.value == pytest.approx(simulated.mean(), abs=0.01 * found.standard + 3e-4)
    assert found.standard == pytest.approx(simulated.std(), rel=0.015)


def test_the_scatter_of_repeats_averages_out_and_the_meter_does_not():
    one = Uncertain(value=0.5, standard=0.01)
    assert mean_of([one] * 9).standard == pytest.approx(0.01)
    apart = [Uncertain(value=value, standard=0.01) for value in (0.48, 0.50, 0.52)]
    assert mean_of(apart).standard == pytest.approx(math.sqrt(0.01**2 + 0.02**2 / 3))  # s = 0.02


def test_a_sum_above_one_is_shared_out_by_variance():
    """Least squares with T + R = 1: each gives way by its variance, so 0.62 + 0.40 with 0.01 and 0.02 give 0.616 and 0.384."""
    assert within_one(Uncertain(value=0.62, standard=0.01), Uncertain(value=0.40, standard=0.02)) == pytest.approx((0.616, 0.384))
    assert within_one(Uncertain(value=0.5, standard=0.01), Uncertain(value=0.4, standard=0.01)) == (0.5, 0.4)
    assert within_one(Uncertain(value=0.7, standard=0.01), Uncertain(value=0.4, standard=0.02)) is None


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"bare": 0}, "bare"),
        ({"dark": 900}, "bare"),
        ({"sheet": -1}, "sheet"),
        ({"meter": math.nan}, "meter"),
        ({"reference": 1.1}, "reference"),
    ],
)
def test_readings_that_cannot_be(change, path):
    with pytest.raises(RangeError) as caught:
        meter_ratio(**{"sheet": 400, "bare": 800, **change})
    assert caught.value.path == path
