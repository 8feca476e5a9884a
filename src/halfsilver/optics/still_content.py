"""Pictures to show on the screen: an invented night sky, a plain grid, bars of colour and grey. Drawn from integers: always the same.

Values are linear red, green, blue from 0 to 1, row 0 on top.
"""

from __future__ import annotations

from functools import partial
from math import ceil

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.each import Each

Picture = NDArray[np.float32]
STARS = 700
ROWS_AT_ONCE = 96  # so that a large picture needs little beside itself


def as_shown(content: Picture, *, gamma: float | None, each: Each = map) -> Picture:
    """What a screen of that gamma makes of a picture meant for sRGB; the same where the gamma is not known.

    The picture's linear values are coded as IEC 61966-2-1 does, and the screen raises the code to its own exponent.

    Examples
    --------
    >>> round(float(as_shown(np.full((1, 1, 3), 0.2140, dtype=np.float32), gamma=2.4)[0, 0, 0]), 3)  # sRGB code 0.5
    0.189
    """
    if gamma is None:
        return content
    found = np.empty_like(content, dtype=np.float32)

    def fill(rows: slice) -> None:
        part = content[rows]
        code = np.where(part <= 0.0031308, 12.92 * part, 1.055 * part ** (1 / 2.4) - 0.055)
        found[rows] = np.clip(code, 0.0, 1.0) ** gamma

    list(each(fill, _bands(content.shape[0])))
    return found


def _bands(height: int) -> list[slice]:
    return [slice(row, min(row + ROWS_AT_ONCE, height)) for row in range(0, height, ROWS_AT_ONCE)]


def shuffled(count: int, *, seed: int) -> NDArray[np.float64]:
    """Numbers between 0 and 1 that look thrown, the same for the same seed (an integer mixer)."""
    value = np.arange(count, dtype=np.uint64) + np.uint64(seed * 1_000_003 + 1)
    for shift, times in ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB)):
        value = (value ^ (value >> np.uint64(shift))) * np.uint64(times)
    return np.asarray((value ^ (value >> np.uint64(31))) >> np.uint64(11), dtype=float) / 2.0**53


def clouds(width: int, height: int, *, cells: int, octaves: int, seed: int, rough: float = 0.55, rows: slice = slice(None)) -> Picture:
    """Smooth random field about 0, each octave half as large as the one before it; of some rows of it."""
    total = np.zeros((len(range(height)[rows]), width), dtype=np.float32)
    for octave in range(octaves):
        across = cells * 2**octave
        up = max(2, ceil(across * height / width))
        lattice = (shuffled((across + 3) * (up + 3), seed=seed + 17 * octave) - 0.5).astype(np.float32).reshape(up + 3, across + 3)
        total += rough**octave * _spline(_spline(lattice, height, rows).T, width).T
    return total


def _spline(points: Picture, count: int, chosen: slice = slice(None)) -> Picture:
    """Cubic B-spline through the first axis of some points, at some of ``count`` even places between the second and the last but one."""
    cells = points.shape[0] - 3
    place = (np.arange(count)[chosen] + 0.5) / count * cells
    low = np.minimum(place.astype(int), cells - 1)
    t = (place - low).astype(np.float32)[:, None]
    parts = ((1 - t) ** 3, 3 * t**3 - 6 * t**2 + 4, -3 * t**3 + 3 * t**2 + 3 * t + 1, t**3)
    return np.asarray(sum(np.take(points, low + k, axis=0) * (part / 6) for k, part in enumerate(parts)))


def night_sky(width: int, height: int, each: Each = map) -> Picture:
    """A planet with rings and its moon before a band of stars."""
    sky = np.empty((height, width, 3), dtype=np.float32)
    list(each(partial(_nebula, sky), _bands(height)))
    _stars(sky)
    _moon(sky)
    list(each(partial(_planet, sky), _bands(height)))
    return np.clip(sky, 0.0, 1.0, out=sky)


def _places(
    sky: Picture, *, left: float, right: float, bottom: float, top: float, band: slice = slice(0, 1 << 30)
) -> tuple[tuple[slice, slice], Picture, Picture]:
    """A part of the picture, and its x and y in heights of the picture from the middle."""
    height, width = sky.shape[:2]
    columns = slice(max(int(left * height + width / 2), 0), min(ceil(right * height + width / 2), width))
    rows = slice(max(int((0.5 - top) * height), band.start), min(ceil((0.5 - bottom) * height), height, band.stop))
    x = (np.arange(columns.start, columns.stop, dtype=np.float32) + 0.5 - width / 2) / height
    y = (height / 2 - np.arange(rows.start, rows.stop, dtype=np.float32) - 0.5) / height
    return (rows, columns), x[None, :], y[:, None]


def _colour(red: float, green: float, blue: float) -> Picture:
    return np.array([red, green, blue], dtype=np.float32)


def _nebula(sky: Picture, band: slice) -> None:
    height, width = sky.shape[:2]
    place, x, y = _places(sky, left=-9, right=9, bottom=-1, top=1, band=band)
    soft = clouds(width, height, cells=3, octaves=5, seed=11, rows=band)
    fine = clouds(width, height, cells=7, octaves=6, seed=5, rows=band)
    warm = np.clip(0.5 + 1.6 * clouds(width, height, cells=2, octaves=2, seed=29, rows=band), 0.0, 1.0)
    across = y - 0.50 * x - 0.10 + 0.30 * soft
    lane = np.exp(-(((across + 0.03 + 0.20 * fine) / 0.05) ** 2))
    glow = np.exp(-((across / 0.20) ** 2)) * np.clip(0.40 + 1.5 * fine, 0.0, None) * (1 - 0.78 * lane)
    core = 0.75 * glow**3
    haze = np.clip(0.5 + soft, 0.0, None)
    part = sky[place]
    rose, teal, deep, bright = _colour(0.58, 0.12, 0.34), _colour(0.05, 0.30, 0.60), _colour(0.003, 0.008, 0.026), _colour(1.0, 0.78, 0.58)
    for k in range(3):
        part[..., k] = deep[k] * (0.6 + haze) + 0.62 * glow * (teal[k] + warm * (rose[k] - teal[k])) + bright[k] * core


def _stars(sky: Picture) -> None:
    """Many faint ones and a few bright, each a small soft disc."""
    height, width = sky.shape[:2]
    x, y, size, tone = (shuffled(STARS, seed=seed) for seed in (101, 102, 103, 104))
    for k in range(STARS):
        light = min(0.07 * (size[k] + 1e-3) ** -0.75, 3.0)
        radius = (0.55 + 0.28 * light) * height / 720
        reach = ceil((7 if light > 0.5 else 2.5) * radius + 1)
        left, top = max(int(x[k] * width) - reach, 0), max(int(y[k] * height) - reach, 0)
        u, v = np.arange(left, min(left + 2 * reach + 1, width)), np.arange(top, min(top + 2 * reach + 1, height))
        across, up = np.exp(-(((u + 0.5 - x[k] * width) / radius) ** 2)), np.exp(-(((v + 0.5 - y[k] * height) / radius) ** 2))
        spot = np.outer(up, across) + (0.03 * np.outer(up ** (1 / 9), across ** (1 / 9)) if light > 0.5 else 0.0)
        colour = tone[k] * _colour(1.0, 0.86, 0.68) + (1 - tone[k]) * _colour(0.72, 0.84, 1.0)
        sky[top : top + v.size, left : left + u.size] += min(light, 1.6) * spot[..., None] * colour


def _over(under: Picture, colour: Picture, cover: Picture) -> Picture:
    """One layer laid over another."""
    return np.asarray(under + cover[..., None] * (colour - under), dtype=np.float32)


SUN = (-0.62, 0.42, 0.66)


def _planet(sky: Picture, band: slice) -> None:
    radius, tilt, open_ = 0.235, np.radians(-17.0), 0.22
    place, x, y = _places(sky, left=-0.20, right=0.90, bottom=-0.42, top=0.24, band=band)
    if not y.size:
        return
    u, v = (x - 0.36) / radius, (y + 0.09) / radius
    along, over = u * np.cos(tilt) + v * np.sin(tilt), v * np.cos(tilt) - u * np.sin(tilt)
    away = np.hypot(u, v)
    z = np.sqrt(np.clip(1 - away**2, 0.0, 1.0))
    lit = np.clip(SUN[0] * u + SUN[1] * v + SUN[2] * z, 0.0, 1.0)
    soft = sky.shape[0] * radius
    disc = np.clip((1 - away) * soft + 0.5, 0.0, 1.0)
    ring, shade = _ring(u, v, along, over, open_, soft)
    part = sky[place]
    air = 0.5 * np.exp(-np.clip(away - 1, 0, None) / 0.07) * np.clip(0.25 + SUN[0] * u + SUN[1] * v, 0, 1)
    part += air[..., None] * _colour(0.12, 0.22, 0.42)
    colour = (0.04 + 0.72 * shade)[..., None] * _colour(0.84, 0.68, 0.48)
    part = _over(part, colour, ring * (over > 0))
    part = _over(part, _clouded(along, over, lit, z), disc)
    sky[place] = _over(part, colour, ring * (over <= 0))


def _ring(u: Picture, v: Picture, along: Picture, over: Picture, open_: float, soft: float) -> tuple[Picture, Picture]:
    """How much the rings cover, and where the planet leaves them in the light: its shadow is a cylinder away from the sun."""
    from_middle = np.hypot(along, over / open_)
    grooves = 0.66 + 0.22 * np.cos(31 * from_middle) + 0.12 * np.cos(73 * from_middle + 1)
    edge = soft * open_
    cover = np.clip((from_middle - 1.30) * edge + 0.5, 0, 1) * np.clip((2.12 - from_middle) * edge + 0.5, 0, 1)
    cover = cover * grooves * (1 - 0.85 * np.exp(-(((from_middle - 1.80) / 0.035) ** 2)))
    near = -over / open_ * np.sqrt(1 - open_**2)
    towards = SUN[0] * u + SUN[1] * v + SUN[2] * near
    aside = np.sqrt(np.clip(u**2 + v**2 + near**2 - towards**2, 0.0, None))
    return cover, np.where(towards < 0, np.clip((aside - 1) * 12 + 0.5, 0.0, 1.0), 1.0)


def _clouded(along: Picture, over: Picture, lit: Picture, z: Picture) -> Picture:
    """The planet's face: bands of cloud, the rings' shadow, a rim of air."""
    wave = over + 0.02 * np.sin(7 * along + 3 * over) + 0.012 * np.sin(19 * along - 5 * over)
    bands = (0.5 + 0.25 * np.sin(11 * wave + 0.6) + 0.15 * np.sin(23 * wave) + 0.08 * np.sin(47 * wave))[..., None]
    colour = bands * _colour(0.98, 0.64, 0.33) + (1 - bands) * _colour(0.48, 0.20, 0.12)
    shadow = 1 - 0.6 * np.exp(-(((over - 0.25 + 0.05 * along) / 0.06) ** 2))
    return np.asarray(colour * (0.80 * lit * shadow)[..., None] + (0.5 * lit * (1 - z) ** 3)[..., None] * _colour(0.25, 0.42, 0.75))


def _moon(sky: Picture) -> None:
    radius = 0.038
    place, x, y = _places(sky, left=-0.60, right=-0.48, bottom=0.18, top=0.30)
    u, v = (x + 0.54) / radius, (y - 0.24) / radius
    cover = np.clip((1 - np.hypot(u, v)) * sky.shape[0] * radius + 0.5, 0.0, 1.0)
    lit = np.clip(0.72 * u + 0.30 * v + 0.46 * np.sqrt(np.clip(1 - u**2 - v**2, 0.0, 1.0)), 0.0, 1.0)
    marks = 0.8 + 0.7 * clouds(cover.shape[1], cover.shape[0], cells=6, octaves=2, seed=77)
    sky[place] = _over(sky[place], (lit * marks)[..., None] * _colour(0.80, 0.82, 0.86) + 0.004, cover)


def grid(width: int, height: int) -> Picture:
    """White lines on black round grey and coloured fields, every line three units wide."""
    unit = max(1, height // 360)
    found = np.full((height, width, 3), 0.01, dtype=np.float32)
    row, column = np.mgrid[0:height, 0:width]
    spacing = height / 9
    across = np.abs((column - width / 2 + spacing / 2) % spacing - spacing / 2)
    up = np.abs((row - height / 2 + spacing / 2) % spacing - spacing / 2)
    found[np.minimum(across, up) < 1.5 * unit] = 0.8
    for k in range(8):
        left = int(width / 2 + (k - 4) * spacing)
        square = np.s_[int(height / 2 - spacing) : int(height / 2), left : int(left + spacing)]
        found[square] = k / 7
    colours = ((1, 0, 0), (0, 1, 0), (0, 0, 1), (0, 1, 1), (1, 0, 1), (1, 1, 0), (1, 1, 1), (0, 0, 0))
    for k, colour in enumerate(colours):
        left = int(width / 2 + (k - 4) * spacing)
        found[int(height / 2) : int(height / 2 + spacing), left : int(left + spacing)] = colour
    edge = 2 * unit
    for border in (np.s_[:edge], np.s_[-edge:], np.s_[:, :edge], np.s_[:, -edge:]):
        found[border] = 1.0
    return found


def bars(width: int, height: int) -> Picture:
    """Eight bars of full colours over eleven even steps of grey and a smooth ramp; the steps are even as sRGB encodes them."""
    x = (np.arange(width, dtype=np.float32) + 0.5) / width
    colours = np.array([(1, 1, 1), (1, 1, 0), (0, 1, 1), (0, 1, 0), (1, 0, 1), (1, 0, 0), (0, 0, 1), (0, 0, 0)], dtype=np.float32)
    steps = (np.floor(11 * x) / 10).astype(np.float32)
    rows = (colours[np.floor(8 * x).astype(int)], np.repeat(_linear(steps)[:, None], 3, axis=1), np.repeat(_linear(x)[:, None], 3, axis=1))
    at = np.searchsorted((0.55, 0.80), (np.arange(height) + 0.5) / height)
    return np.ascontiguousarray(np.stack(rows)[at], dtype=np.float32)


def _linear(value: NDArray[np.floating]) -> Picture:
    """Linear light of sRGB values, 0 to 1 (IEC 61966-2-1)."""
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)
