"""The room that the glass mirrors: its mean, its geometry and its focus, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from halfsilver.optics.still import Finish, Frame, RoomLook
from halfsilver.optics.still_mirrored import LENS_MM, SHELF, blurred, facing_wall, interior, room_seen
from halfsilver.optics.still_view import Box, Window, view_of

ROOM = RoomLook(illuminance_lx=100.0, mirrored_cd_m2=20.0, XYZ=(1.0, 1.0, 1.0), centre_height_mm=1500.0, facing_mm=4000.0)
FRAME = Frame(width_mm=1400.0, height_mm=900.0, profile=((0.0, 40.0), (0.0, 0.0), (50.0, 0.0), (50.0, 8.0)), wall_depth_mm=40.0,
              recess_mm=0.0, finish=Finish(albedo=(0.5, 0.5, 0.5)))  # fmt: skip


def view(x_mm=0.0, distance_mm=2500.0):
    return view_of(FRAME, x_mm=x_mm, y_mm=0.0, distance_mm=distance_mm, width_px=160, height_px=90)


def at(x, y):
    tiny = 1e-6
    x, y = np.atleast_1d(x), np.atleast_1d(y)
    return Box(left=x - tiny, right=x + tiny, bottom=y - tiny, top=y + tiny)


def test_its_mean_over_what_is_usually_mirrored_is_the_luminance_of_the_job():
    away = 2500.0 + 20.0 + 4000.0
    window = Window(left=-1800 / away, right=1800 / away, bottom=-1000 / away, top=1100 / away)
    seen = room_seen(ROOM, view(), window, glass_mm=10.0)
    x, y = (g.ravel() for g in np.meshgrid(np.linspace(window.left, window.right, 181), np.linspace(window.bottom, window.top, 105)))
    assert seen.light(at(x, y))[:, 1].mean() == pytest.approx(20.0, rel=0.02)


@pytest.mark.parametrize("x_mm", [0.0, 600.0])
def test_a_thing_is_seen_where_the_mirror_law_puts_it(x_mm):
    # The eye's image stands as far behind the mirroring face as the eye before it: x = x_eye + slope (2 (d + g) + (far - d)).
    away, facing = 2500.0 + 2 * 10.0, 4000.0
    for edge in (SHELF[0], SHELF[1]):
        slope = (edge - x_mm) / (away + facing)
        step = 4 / (away + facing)
        x, y = np.meshgrid([slope - step, slope, slope + step], [(2130.0 - 1500.0) / (away + facing)])
        outside, on, inside = interior(view(x_mm), ROOM, x, y, away_mm=away)[0, :, 1][:: 1 if edge == SHELF[0] else -1]
        assert outside > on > inside


def test_floor_and_ceiling_lie_at_their_heights():
    eye = view()
    away = 2520.0
    for height, up in ((0.0, -1), (2800.0, 1)):
        slope = (height - 1500.0) / (away + 2000.0)  # meets it 2 m before the piece
        x, y = np.meshgrid([0.2, 0.2001], [slope])
        found = interior(eye, ROOM, x, y, away_mm=away)[0, 0]
        assert not np.allclose(found, facing_wall(np.array([0.2 * 6520]), np.array([1500 + slope * 6520]), 1.0)[0]), up


def test_a_point_out_of_focus_is_an_even_disc_that_keeps_its_light():
    point = np.zeros((61, 61, 3))
    point[30, 30] = 1.0
    disc = blurred(point, 9.5)[..., 1]
    assert disc.sum() == pytest.approx(1.0, rel=1e-9)
    y, x = np.mgrid[-30:31, -30:31]
    away = np.hypot(x, y)
    assert disc[away < 8].min() == pytest.approx(disc[away < 8].max(), rel=1e-9)
    assert disc[30, 30] == pytest.approx(1 / (np.pi * 9.5**2), rel=0.02)
    assert disc[away > 11.5].max() == 0.0


def test_the_blur_is_that_of_a_lens_set_to_the_glass():
    # Circle of confusion seen from the lens: A (1/near - 1/far); the edge of the shelf is felt half as far away, and no farther.
    near, far = 2510.0, 2520.0 + 4000.0
    confusion = LENS_MM * (1 / near - 1 / far)
    edge = SHELF[0] / far
    window = Window(left=edge - 0.03, right=edge + 0.03, bottom=0.02, top=0.08)
    seen = room_seen(ROOM, view(), window, glass_mm=10.0)
    farther, just, within = seen.light(at(edge - confusion * np.array([0.65, 0.52, 0.40]), np.full(3, 0.05)))[:, 1]
    assert just == pytest.approx(farther, rel=0.004)
    assert within < 0.985 * farther
