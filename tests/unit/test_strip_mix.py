"""Strips of three colours: what a setting of red, green and blue gives, and jobs that ask what the strip cannot do."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfsilver.errors import JobError, RangeError
from halfsilver.files.workshop import copy_workshop
from halfsilver.optics.colour import chromaticity, xyz
from halfsilver.optics.spectra import SRGB_WHITE, led_mix
from halfsilver.services.appearance.setting import case_of
from halfsilver.services.load import load, resolve

JOB = (Path(__file__).parents[2] / "examples" / "foyer.yaml").read_text(encoding="utf-8")
WHITE_STRIP = "lights: {kind: tape-24-100, colour: 3000 K, dim: 0.8}"
assert WHITE_STRIP in JOB


@pytest.fixture
def case(tmp_path):
    """The case of the example with other lights, in a workshop with a strip of three colours."""
    folder = tmp_path / "shop"
    copy_workshop(folder)
    path = folder / "lights.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    own = next(line for line in lines if line.startswith("tape-24-100")).replace("tape-24-100", "own-rgb").replace(",white,", ",rgb,")
    path.write_text("\n".join([*lines, own, ""]), encoding="utf-8")
    (tmp_path / "job.yaml").parent.mkdir(exist_ok=True)

    def made(lights: str):
        (tmp_path / "job.yaml").write_text(JOB.replace(WHITE_STRIP, f"lights: {{{lights}}}"), encoding="utf-8")
        return case_of(resolve(load(str(tmp_path / "job.yaml"), workshop=str(folder))), folder=folder)

    return made


def test_all_at_full_is_white_and_shares_add_up():
    """Additive mixture: the light of a mix is the sum of that of its colours (Grassmann's law)."""
    spectrum, share = led_mix(red=1, green=1, blue=1)
    np.testing.assert_allclose(chromaticity(xyz(spectrum)), SRGB_WHITE, atol=1e-9)
    assert share == pytest.approx(1.0)
    single = [led_mix(red=r, green=g, blue=b)[1] for r, g, b in np.eye(3)]
    assert sum(single) == pytest.approx(1.0)
    assert led_mix(red=0.5, green=0.2, blue=0)[1] == pytest.approx(0.5 * single[0] + 0.2 * single[1])


def test_one_colour_alone_is_its_diode():
    """Dominant wavelengths of red, green and blue diodes lie near 620, 525 and 465 nm (common practice); red is the reddest."""
    red, green, blue = (chromaticity(xyz(led_mix(red=r, green=g, blue=b)[0])) for r, g, b in np.eye(3))
    assert red[0] > 0.68
    assert green[1] > 0.65
    assert blue[1] < 0.08


@pytest.mark.parametrize("mix", [(0, 0, 0), (1.2, 0, 0), (-0.1, 1, 1), (float("nan"), 1, 1)])
def test_a_mix_that_cannot_be(mix):
    with pytest.raises(RangeError):
        led_mix(red=mix[0], green=mix[1], blue=mix[2])


def test_a_mix_colours_and_dims_the_strip(case):
    white, amber = case("kind: own-rgb"), case("kind: own-rgb, mix: {red: 1, green: 0.3}")
    assert white.setting.strip is not None
    assert amber.setting.strip is not None
    share = led_mix(red=1, green=0.3, blue=0)[1]
    assert amber.setting.strip.luminance_cd_m2 / white.setting.strip.luminance_cd_m2 == pytest.approx(share)
    assert chromaticity(xyz(amber.setting.strip.spectrum))[0] > 0.5
    assert "all colours of the strip at full give the white of sRGB" in amber.assumed


@pytest.mark.parametrize(
    ("lights", "code"),
    [
        ("kind: tape-24-100, mix: {red: 1}", "no-colours-to-mix"),
        ("kind: own-rgb, colour: 3000 K, mix: {red: 1}", "two-answers"),
        ("kind: own-rgb, mix: {red: 0}", "colour-out-of-reach"),
        ("kind: own-rgb, mix: {red: 2}", "out-of-range"),
    ],
)
def test_lights_that_cannot_be_are_located(case, lights, code):
    with pytest.raises(JobError) as caught:
        case(lights)
    (problem,) = caught.value.problems
    assert problem.code == code
    assert problem.path.startswith("lights.mix")
