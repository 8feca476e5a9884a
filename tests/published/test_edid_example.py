"""The standard's own example, field by field, and the colours of sRGB as ten bits code them."""

from __future__ import annotations

import pytest

from edid_cases import EXAMPLE, changed, coded
from halfsilver.files.edid import edid_of
from halfsilver.model.edid import Timing

# VESA E-EDID Release A Revision 2, section 6.1, as the example describes itself in words (secondary, see edid_cases).
READ = edid_of(EXAMPLE)


def test_who_made_it_and_when():
    assert (READ.version, READ.maker, READ.product, READ.serial) == ("1.4", "ABC", 0xF206, 1)
    assert (READ.week, READ.year, READ.model_year) == (1, 2007, None)
    assert (READ.signal, READ.name, READ.serial_text) == ("analogue", "ABC LCD21", "")
    assert READ.notes == ()
    assert READ.extensions == ()


def test_size_gamma_and_colours():
    assert READ.size_mm == (430, 320)
    assert READ.gamma == pytest.approx(2.2)
    colours = READ.colours
    assert colours is not None
    printed = {"red": (0.627, 0.341), "green": (0.292, 0.605), "blue": (0.149, 0.072), "white": (0.283, 0.297)}
    for name, xy in printed.items():
        assert getattr(colours, name) == pytest.approx(xy, abs=0.0005)  # the example's three places; a step is 1/1024


def test_timings():
    assert len(READ.established) == 17
    assert READ.established[0] == "720x400 70 Hz"
    wide = [Timing(width_px=1600, height_px=1200, rate_hz=rate) for rate in (85, 75, 70, 65)]
    rest = [(1280, 1024, 85), (1280, 1024, 60), (1024, 768, 85), (800, 600, 85)]
    assert list(READ.standard) == [*wide, *(Timing(width_px=x, height_px=y, rate_hz=rate) for x, y, rate in rest)]
    (timing,) = READ.detailed
    assert (timing.width_px, timing.height_px, timing.interlaced, timing.clock_mhz) == (1600, 1200, False, 162.0)
    assert timing.rate_hz == pytest.approx(60.0, abs=0.01)  # 162 MHz / (2160 x 1250)
    assert (timing.width_mm, timing.height_mm) == (427, 320)
    assert READ.pixels == (1600, 1200)
    assert READ.picture_mm == (427, 320, 0.5)


def test_range_limits():
    assert READ.limits is not None
    assert (READ.limits.vertical_hz, READ.limits.horizontal_khz, READ.limits.clock_mhz) == ((50, 90), (30, 110), 230)


def test_srgb_by_hand():
    """IEC 61966-2-1: round(0.64 x 1024) = 655 = 28Fh, 0.33: 338 = 152h, and so on; low bits of red and green 11 10 11 10."""
    xy = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06), (0.3127, 0.3290))
    by_hand = bytes.fromhex("ee91a3544c99260f5054")
    assert coded(*xy) == by_hand
    found = edid_of(changed(b25=by_hand)).colours
    assert found is not None
    for read, told in zip((found.red, found.green, found.blue, found.white), xy, strict=True):
        assert read == pytest.approx(told, abs=0.5 / 1024)
