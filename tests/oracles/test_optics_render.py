"""The renderer against a random walk in the folded space, which reflects, passes and scatters one light path at a time.

The walk shares nothing with the renderer: no unfolding, no images, no tables, its own camera. Its noise is estimated from its own spread;
the renderer must lie within four of its standard errors and half a percent.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.optics.render import render_scene
from halfsilver.optics.scene import Band, Camera, Ideal, Scene, Screen, Wall
from halfsilver.optics.walls import walls

WIDTH, HEIGHT = 320, 180
ASIDE = Scene(
    width_mm=1200.0, height_mm=700.0, gap_mm=60.0, front=Ideal(T=0.4, R=0.5), rear=Ideal(T=0.2, R=0.75), wall=Wall(reflectance=0.4),
    band=Band(from_rear_mm=(20.0, 30.0), radiance=(20.0, 14.0, 8.0)), screen=Screen(behind_mm=15.0, checker_mm=100.0, levels=(1.0, 0.1)),
    camera=Camera(origin_mm=(250.0, 100.0, 2200.0), target_mm=(0.0, 0.0, 30.0), fov_x_deg=38.0),
)  # fmt: skip
DEEP = replace(
    ASIDE, front=Ideal(T=0.4, R=0.55), rear=Ideal(T=0.3, R=0.65), wall=Wall(reflectance=0.7), gap_mm=90.0,
    band=Band(from_rear_mm=(0.0, 25.0), radiance=(5.0, 5.0, 9.0)), screen=Screen(behind_mm=200.0, checker_mm=150.0, levels=(0.2, 1.0)),
    camera=Camera(origin_mm=(-300.0, 250.0, 900.0), target_mm=(50.0, -40.0, 0.0), fov_x_deg=70.0),
)  # fmt: skip


class Walk:
    """Light paths followed backwards from the eye until they end; each brings the radiance of what it ended at."""

    def __init__(self, scene: Scene, paths: int, seed: int) -> None:
        self.scene, self.paths, self.random = scene, paths, np.random.default_rng(seed)

    def block(self, column: int, row: int, size: int) -> tuple[np.ndarray, np.ndarray]:
        """Mean and standard error of a square block of pixels."""
        camera = self.scene.camera
        ahead = np.subtract(camera.target_mm, camera.origin_mm)
        ahead /= np.linalg.norm(ahead)
        right = np.cross(ahead, (0.0, 1.0, 0.0))
        right /= np.linalg.norm(right)
        up = np.cross(right, ahead)
        x, y = (start + size * self.random.random(self.paths) for start in (column, row))
        half = np.tan(np.radians(camera.fov_x_deg / 2))
        direction = ahead + np.outer((2 * x / WIDTH - 1) * half, right) - np.outer((2 * y - HEIGHT) / WIDTH * half, up)
        found = self.follow(np.tile(camera.origin_mm, (self.paths, 1)), direction)
        return found.mean(axis=0), found.std(axis=0) / self.paths**0.5

    def follow(self, at: np.ndarray, along: np.ndarray) -> np.ndarray:
        scene = self.scene
        found = np.zeros((self.paths, 3))
        at = at + along * ((scene.gap_mm - at[:, 2]) / along[:, 2])[:, None]
        inside = (np.abs(at[:, 0]) < scene.width_mm / 2) & (np.abs(at[:, 1]) < scene.height_mm / 2) & (along[:, 2] < 0)
        path = np.flatnonzero(inside & (self.random.random(self.paths) < scene.front.T))
        at, along, behind = at[path], along[path], np.zeros(path.size, dtype=bool)
        while path.size:
            floor, ceiling = np.where(behind, -scene.screen.behind_mm, 0.0), np.where(behind, 0.0, scene.gap_mm)
            sides = (np.copysign(size / 2, along[:, i]) for i, size in enumerate((scene.width_mm, scene.height_mm)))
            ends = np.stack((*sides, np.where(along[:, 2] > 0, ceiling, floor)), axis=1)
            steps = np.maximum((ends - at) / along, 0.0)
            axis = steps.argmin(axis=1)
            at = at + along * steps.min(axis=1)[:, None]
            alive = self.at_sheet(at, along, behind, axis == 2, found, path) | self.at_wall(at, along, behind, axis, found, path)
            path, at, along, behind = path[alive], at[alive], along[alive], behind[alive]
        return found

    def at_sheet(self, at, along, behind, here, found, path) -> np.ndarray:
        """Whether each path that met a sheet or the screen goes on."""
        scene = self.scene
        down = along[:, 2] < 0
        shown = here & behind & down
        sizes = enumerate((scene.width_mm, scene.height_mm))
        squares = sum(np.floor((at[shown, i] + size / 2) / scene.screen.checker_mm) for i, size in sizes)
        found[path[shown]] += np.where(squares % 2 == 0, *scene.screen.levels)[:, None]
        front = here & ~behind & ~down
        rear = here & ~front & ~shown
        chance = self.random.random(path.size)
        sheet_R, sheet_T = (np.where(front, getattr(scene.front, name), getattr(scene.rear, name)) for name in "RT")
        back = (front | rear) & (chance < sheet_R)
        along[back, 2] *= -1
        crossed = rear & ~back & (chance < sheet_R + sheet_T)
        behind[crossed] = ~behind[crossed]
        return back | crossed

    def at_wall(self, at, along, behind, axis, found, path) -> np.ndarray:
        scene = self.scene
        here = axis != 2
        lit = here & ~behind & (at[:, 2] > scene.band.start_mm) & (at[:, 2] < scene.band.end_mm)
        found[path[lit]] += scene.band.radiance
        on = here & ~lit & (self.random.random(path.size) < scene.wall.reflectance)
        radius, turn = np.sqrt(self.random.random(path.size)), 2 * np.pi * self.random.random(path.size)
        normal, side = np.sqrt(1 - radius**2), radius * np.cos(turn)
        inward = -np.sign(np.where(axis == 0, at[:, 0], at[:, 1])) * normal
        scattered = np.stack((np.where(axis == 0, inward, side), np.where(axis == 0, side, inward), radius * np.sin(turn)), axis=1)
        along[on] = scattered[on]
        return on


@pytest.fixture(scope="module")
def pictures() -> dict[str, np.ndarray]:
    return {name: render_scene(scene, width_px=WIDTH, height_px=HEIGHT, samples=9) for name, scene in (("aside", ASIDE), ("deep", DEEP))}


@pytest.mark.parametrize(
    ("name", "column", "row", "size"),
    [
        ("aside", 35, 90, 5), ("aside", 40, 70, 12), ("aside", 160, 90, 10), ("aside", 160, 16, 8), ("aside", 285, 60, 8),
        ("deep", 60, 60, 12), ("deep", 160, 90, 16), ("deep", 250, 60, 10), ("deep", 200, 20, 10),
    ],
)  # fmt: skip
def test_blocks_agree_with_the_random_walk(pictures: dict[str, np.ndarray], name: str, column: int, row: int, size: int):
    mean, error = Walk({"aside": ASIDE, "deep": DEEP}[name], 150_000, seed=column * 1000 + row).block(column, row, size)
    found = pictures[name][row : row + size, column : column + size].mean(axis=(0, 1))
    assert mean.min() > 0.01
    assert np.all(np.abs(found - mean) < 4 * error + 0.005 * mean), (found, mean, error)


def test_two_hundredths_of_reflectance_would_be_noticed(pictures: dict[str, np.ndarray]):
    """Guards the test above: a rear sheet off by 0.02 must fall outside."""
    wrong = render_scene(replace(ASIDE, rear=Ideal(T=0.2, R=0.77)), width_px=WIDTH, height_px=HEIGHT, samples=9)
    block = np.s_[70:82, 40:52]
    assert np.all(wrong[block].mean(axis=(0, 1)) > 1.01 * pictures["aside"][block].mean(axis=(0, 1)))


@pytest.mark.parametrize("scene", [ASIDE, DEEP], ids=["aside", "deep"])
def test_four_samples_are_close_to_many(scene: Scene):
    """The budget, 4 % (relative, pixels above 0.005) against 256 samples, is for 960 x 540; pixels here are three times as wide."""
    many = render_scene(scene, width_px=WIDTH, height_px=HEIGHT, samples=256)
    few = render_scene(scene, width_px=WIDTH, height_px=HEIGHT, samples=4)
    bright = many > 0.005
    assert np.sqrt(np.mean(((few - many)[bright] / many[bright]) ** 2)) < 0.04


def test_a_wall_facing_an_endless_bright_one_gets_pi():
    """Hand-worked: between two walls that shine evenly everywhere a point receives pi times the radiance from all it faces.

    With R = 1 on both sheets a band that fills the gap makes the shaft endless: every direction ends at radiance 1.
    """
    mirrors = {"front": Ideal(T=0.0, R=0.999), "rear": Ideal(T=0.0, R=0.999)}
    scene = replace(ASIDE, **mirrors, band=Band(from_rear_mm=(1.0, 60.0), radiance=(1.0, 1.0, 1.0)), wall=Wall(reflectance=0.5))
    low = walls(scene).radiance[:, 1].real
    # Reflectance 0.5 of pi over pi; the dark millimetre and the mirrors' loss take off a few percent.
    assert low[:, :, 8:25].mean() == pytest.approx(0.5, rel=0.05)


def test_a_bare_window_shows_the_squares_and_their_means():
    clear = replace(
        ASIDE, front=Ideal(T=1.0, R=0.0), rear=Ideal(T=1.0, R=0.0), wall=Wall(reflectance=0.0),
        band=Band(from_rear_mm=(0.0, 0.0), radiance=(1.0, 1.0, 1.0)), screen=Screen(behind_mm=0.0, checker_mm=100.0, levels=(1.0, 0.0)),
        camera=Camera(origin_mm=(0.0, 0.0, 1200.0), target_mm=(0.0, 0.0, 0.0), fov_x_deg=60.0),
    )  # fmt: skip
    half = 1200 * np.tan(np.radians(30))
    picture = render_scene(clear, width_px=600, height_px=338, samples=1)
    # The square at the lower left corner of the opening holds the first level; x = -550 is inside it, y = -300 too.
    for x, y, level in ((-550, -300, 1.0), (-450, -300, 0.0), (-450, -200, 1.0), (550, 300, 0.0), (450, 300, 1.0)):
        column, row = int((x / half + 1) * 300), int(169 - y / half * 300)
        assert picture[row, column] == pytest.approx(level, abs=1e-6), (x, y)
    assert picture[:, :, 0].sum() * (2 * half / 600) ** 2 == pytest.approx(42 * 100**2, rel=2e-3)


def test_one_sample_is_right_where_a_dark_square_meets_the_wall():
    """The strip of the screen beside the wall must not take in the square that would come next; it is dark, its neighbour bright."""
    scene = replace(
        ASIDE, gap_mm=20.0, front=Ideal(T=0.5, R=0.48), rear=Ideal(T=0.3, R=0.68), wall=Wall(reflectance=0.5),
        band=Band(from_rear_mm=(5.0, 5.0), radiance=(1.0, 1.0, 1.0)), screen=Screen(behind_mm=10.0, checker_mm=100.0, levels=(1.0, 0.05)),
        camera=Camera(origin_mm=(0.0, 0.0, 2020.0), target_mm=(0.0, 0.0, 20.0), fov_x_deg=36.0),
    )  # fmt: skip
    mean, error = Walk(scene, 400_000, seed=5).block(140, 4, 4)
    found = render_scene(scene, width_px=WIDTH, height_px=HEIGHT, samples=1)[4:8, 140:144].mean(axis=(0, 1))
    assert np.all(np.abs(found - mean) < 4 * error + 0.03 * mean), (found, mean, error)
    assert error.max() < 0.02 * mean.min()


@pytest.mark.parametrize(("front_R", "rear_R", "behind_mm"), [(0.0, 0.0, 60.0), (0.6, 0.0, 90.0), (0.0, 0.5, 45.0)])
def test_the_screen_is_seen_however_far_it_lies_behind_few_images(front_R: float, rear_R: float, behind_mm: float):
    """Hand-worked: through a front sheet of T and a rear one of T comes T T, without echoes when one of them does not mirror."""
    scene = replace(
        ASIDE, gap_mm=20.0, front=Ideal(T=0.4, R=front_R), rear=Ideal(T=0.5, R=rear_R), wall=Wall(reflectance=0.5),
        band=Band(from_rear_mm=(5.0, 5.0), radiance=(1.0, 1.0, 1.0)),
        screen=Screen(behind_mm=behind_mm, checker_mm=100.0, levels=(1.0, 1.0)),
    )  # fmt: skip
    middle = render_scene(scene, width_px=160, height_px=90)[40:50, 70:90]
    np.testing.assert_allclose(middle, 0.4 * 0.5, rtol=1e-6)


def test_squares_too_small_to_count_show_their_mean():
    """Hand-worked: through both sheets of T comes T T of the levels' mean; more squares than fit in memory are no reason to fail."""
    scene = replace(
        ASIDE, front=Ideal(T=0.4, R=0.0), rear=Ideal(T=0.5, R=0.0), screen=Screen(behind_mm=15.0, checker_mm=0.01, levels=(1.0, 0.5))
    )
    np.testing.assert_allclose(render_scene(scene, width_px=160, height_px=90)[40:50, 70:90], 0.4 * 0.5 * 0.75, rtol=1e-3)


def test_bands_of_rows_and_threads_change_nothing():
    small = {"width_px": 160, "height_px": 90, "samples": 4}
    with ThreadPoolExecutor(2) as pool:
        threaded = render_scene(ASIDE, **small, each=pool.map)
    picture = render_scene(ASIDE, **small)
    assert picture.dtype == np.float32
    np.testing.assert_array_equal(threaded, picture)
    with pytest.raises(RangeError, match="at least one pixel"):
        render_scene(ASIDE, width_px=0, height_px=10)
