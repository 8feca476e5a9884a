"""CIEDE2000 against the 34 pairs of Sharma, Wu, Dalal, Color Research and Application 30 (2005) 21-30, Table 1.

The pairs (test_colour_ciede2000.csv) are the authors' own data file as quoted by others; four decimals are printed.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfsilver.optics import colour
from halfsilver.optics.reckonable import colour_difference

PAIRS = np.loadtxt(Path(__file__).with_name("test_colour_ciede2000.csv"), delimiter=",", skiprows=1)


def test_the_34_published_pairs():
    assert PAIRS.shape == (34, 7)
    np.testing.assert_allclose(colour.difference(PAIRS[:, :3], PAIRS[:, 3:6]), PAIRS[:, 6], atol=5.1e-5)


def test_a_difference_is_the_same_both_ways():
    one, two = PAIRS[:, :3], PAIRS[:, 3:6]
    np.testing.assert_allclose(colour.difference(one, two), colour.difference(two, one), atol=1e-12)


def test_one_pair_as_a_plain_record():
    assert colour_difference(lab1=PAIRS[0, :3].tolist(), lab2=PAIRS[0, 3:6].tolist()) == pytest.approx(2.0425, abs=5.1e-5)
