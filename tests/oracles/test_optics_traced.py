"""The ideal scene of two sheets against pictures by path tracing, made with the general renderer ``mitsuba`` (see ``pathtraced/draw.py``).

The reference keeps its standard errors: every test asserts that they are small beside what it asks for. The lights are a second pair of
views, near enough to see every image of the band as a strip of its own.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli

TRACED = Path(__file__).parent / "pathtraced"
GIVEN = json.loads((TRACED / "two_sheets.json").read_text(encoding="utf-8"))
BLOCK, LIT = 15, 0.01
PICTURES, LIGHTS = ("front", "aside"), ("front_lights", "aside_lights")
IMAGES = 6


@cache
def traced() -> dict[str, np.ndarray]:
    with np.load(TRACED / "two_sheets.npz", allow_pickle=False) as file:
        return {name: file[name].astype(float) for name in file.files}


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory):
    """Pictures by ``look SCENE.json --linear``, the scene as given or with more reflectance in one sheet."""
    folder = tmp_path_factory.mktemp("scenes")

    @cache
    def draw(name: str, sheet: str = "", samples: int = 16) -> np.ndarray:
        scene = json.loads(json.dumps(GIVEN["scene"])) | {"camera": GIVEN["views"][name]["camera"]}
        if sheet:
            scene[sheet]["R"] += 0.02
        source, linear = folder / f"{name}{sheet}.json", folder / f"{name}{sheet}.npy"
        source.write_text(json.dumps(scene), encoding="utf-8")
        size = "x".join(map(str, GIVEN["views"][name]["size_px"]))
        words = ["look", source, "-o", folder / "p.png", "--linear", linear, "--size", size, "--samples", samples]
        result = CliRunner().invoke(cli, [*map(str, words)], catch_exceptions=False)
        assert result.exit_code == 0, result.output
        return np.load(linear, allow_pickle=False).astype(float)

    return draw


def smooth(picture: np.ndarray) -> np.ndarray:
    """Pixels that differ from their eight neighbours by less than 1 %, brighter than 0.005."""
    rows, columns = picture.shape[:2]
    middle = picture[1:-1, 1:-1]
    found = np.zeros((rows, columns), dtype=bool)
    found[1:-1, 1:-1] = middle.min(axis=2) > 0.005
    for down in range(3):
        for across in range(3):
            near = picture[down : down + rows - 2, across : across + columns - 2]
            found[1:-1, 1:-1] &= (np.abs(near - middle) < 0.01 * middle).all(axis=2)
    return found


def bias(name: str, picture: np.ndarray) -> tuple[float, float]:
    """Mean relative difference over smooth pixels of a picture, and its standard error."""
    chosen = smooth(picture)
    assert chosen.sum() > 1000
    apart = 1 - traced()[name][chosen].mean(axis=1) / picture[chosen].mean(axis=1)
    return float(apart.mean()), float(apart.std() / chosen.sum() ** 0.5)


def blocks_apart(name: str, picture: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Relative differences of the means of 15 x 15 pixels that are lit (above 0.01), and their standard errors."""
    rows, columns = (side // BLOCK for side in picture.shape[:2])
    found = picture.reshape(rows, BLOCK, columns, BLOCK, 3).mean(axis=(1, 3))
    mean, error = traced()[f"{name}/blocks"], traced()[f"{name}/blocks_error"]
    lit = mean > LIT
    assert lit.sum() == {"front": 432, "aside": 378}[name]
    return found[lit] / mean[lit] - 1, error[lit] / mean[lit]


def images_apart(name: str, picture: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Relative differences (images, 3) of the band's images m = 0 to 5, each the mean over its own columns, and their standard errors."""
    columns, mean, error = picture.mean(axis=0), traced()[name], traced()[f"{name}/error"]
    bright = columns[:, 0] > 0.1
    starts = np.flatnonzero(np.diff(bright.astype(int)) == 1) + 1
    ends = np.flatnonzero(np.diff(bright.astype(int)) == -1) + 1
    places = [slice(start - 1, end + 1) for start, end in zip(starts[:IMAGES], ends[:IMAGES], strict=True)]
    assert len(places) == IMAGES
    ours, theirs = (np.array([one[place].mean(axis=0) for place in places]) for one in (columns, mean))
    errors = np.array([np.sqrt((error[place] ** 2).sum(axis=0)) / (place.stop - place.start) for place in places])
    return ours / theirs - 1, errors / theirs


def bias_holds(name: str, picture: np.ndarray) -> bool:
    value, error = bias(name, picture)
    assert error < 0.0005
    return abs(value) < 0.001


def blocks_hold(name: str, picture: np.ndarray) -> bool:
    """Every lit block within half a percent, noise and all; their mean within a part of that."""
    apart, error = blocks_apart(name, picture)
    assert error.max() < 0.00125
    return bool(np.all(np.abs(apart) < 0.005) and abs(apart.mean()) < 0.0003)


def images_hold(name: str, picture: np.ndarray) -> bool:
    apart, error = images_apart(name, picture)
    assert error.max() < 0.001
    return bool(np.all(np.abs(apart) < 0.005))


def walls_hold(name: str, picture: np.ndarray) -> bool:
    """Light of the matt walls between the band's images, where the columns beside are wall as well: all bounces are in it."""
    columns, mean, error = picture.mean(axis=0), traced()[name], traced()[f"{name}/error"]
    matt = (columns[:, 0] > 0.003) & (columns[:, 0] < 0.05)
    matt &= np.roll(matt, 1) & np.roll(matt, -1)
    assert matt.sum() > 30
    assert (np.sqrt((error[matt] ** 2).sum(axis=0)) / mean[matt].sum(axis=0)).max() < 0.002
    return bool(np.all(np.abs(columns[matt].sum(axis=0) / mean[matt].sum(axis=0) - 1) < 0.005))


TESTS = [
    *((test, name) for test in (bias_holds, blocks_hold) for name in PICTURES),
    *((test, name) for test in (images_hold, walls_hold) for name in LIGHTS),
]


@pytest.mark.parametrize(("test", "name"), TESTS)
def test_the_picture_is_the_traced_one(test, name, drawn):
    assert test(name, drawn(name))


@pytest.mark.parametrize("sheet", ["front", "rear"])
@pytest.mark.parametrize(("test", "name"), TESTS)
def test_two_hundredths_of_reflectance_would_be_noticed(test, name, sheet, drawn):
    """Guards every test above: each must fail for R of one sheet off by 0.02."""
    assert not test(name, drawn(name, sheet))


@pytest.mark.parametrize("name", PICTURES)
def test_one_sample_agrees_as_well(name, drawn):
    """The usual number of samples, even in so small a picture."""
    assert bias_holds(name, drawn(name, samples=1))
    assert blocks_hold(name, drawn(name, samples=1))
