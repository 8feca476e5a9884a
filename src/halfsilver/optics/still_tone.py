"""From a linear still to the picture file: exposure by a stated rule, glare round what dazzles, a tone curve, sRGB.

Lights outshine the wall a thousand times. Up to ``KNEE`` of white the curve is straight; beyond, it goes on as a logarithm with the same
slope and reaches 1 at the brightest light, so that each repeat of the lights stays dimmer than the one before it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, sqrt

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.picture import GREY, encoded, in_gamut
from halfsilver.optics.still import State, Still

Real = NDArray[np.float64]
Picture = NDArray[np.float32]
KNEE = 0.62
BALANCE = 0.6  # of the way from D65 to the room's light, as an eye that sees screen and room together (common practice)
GLARE = 0.035  # share of the light that is scattered
GLARE_PARTS = ((0.0016, 0.6), (0.006, 0.28), (0.022, 0.12))  # how far, over the picture's width, and which share of it
GLARE_CELLS = 480  # across the picture
DARKEST_CARD_CD_M2 = 0.05  # a room without light is shown as one hardly lit: assumed


@dataclass(frozen=True, slots=True, kw_only=True)
class Tone:
    """Exposure and curve of one still.

    Parameters
    ----------
    white_cd_m2 : float
        Luminance that would be shown as 1 if the curve went straight on.
    most_cd_m2 : float
        Luminance shown as 1.
    balance : tuple of float
        Factors on linear red, green and blue that bring the light to which the eye is used to grey.
    """

    white_cd_m2: float
    most_cd_m2: float
    balance: tuple[float, float, float]

    @property
    def words(self) -> str:
        """The rule and its values."""
        return (
            f"Exposure: {self.white_cd_m2:.4g} cd/m2 is white, the geometric mean of a white card on the wall and the screen's white "
            f"through the glass. Straight up to {KNEE:g} of white, logarithmic from there to {self.most_cd_m2:.4g} cd/m2. "
            f"White balance {BALANCE:.0%} of the way from D65 to the room's light. Glare: {GLARE:.1%} of the light is scattered round it. "
            "Colours outside sRGB moved towards grey of the same luminance."
        )


def tone_of(still: Still, state: State, linear: Picture, *, white: Real) -> Tone:
    """Exposure by what stands in the picture: a white card on the wall, and the screen's white through the glass where it is on."""
    card = max(still.room.illuminance_lx / np.pi, DARKEST_CARD_CD_M2)
    shown = card
    if still.screen is not None and state.screen:
        gain = float(np.asarray(still.screen.shares) @ still.table.screen[:, :, 0, :, 1].mean(axis=1).sum(axis=1))
        shown = max(still.screen.white_cd_m2 * gain, 1e-6)
    balance = np.maximum(white, 1e-3) ** -BALANCE
    balance = balance / (balance * white @ GREY) * (white @ GREY)
    exposed = sqrt(card * shown)
    most = max(float((linear @ GREY.astype(np.float32)).max()), 2 * exposed)
    red, green, blue = (float(one) for one in balance)
    return Tone(white_cd_m2=exposed, most_cd_m2=most, balance=(red, green, blue))


def curve(light: Real, most: float) -> Real:
    """Straight up to the knee, then logarithmic with the same slope there, and 1 at ``most``."""
    steep = _steep(most)
    over = np.log1p(steep * np.maximum(light - KNEE, 0.0)) / steep
    return np.where(light <= KNEE, light, KNEE + over)


def _steep(most: float) -> float:
    """The b of a + ln(1 + b (x - a))/b that reaches 1 at ``most``."""
    low, high = 1e-9, 1e6
    for _ in range(80):
        middle = sqrt(low * high)
        low, high = (middle, high) if log(1 + middle * (most - KNEE)) / middle > 1 - KNEE else (low, middle)
    return sqrt(low * high)


def shown(linear: Picture, glare: Picture, tone: Tone) -> NDArray[np.uint8]:
    """Bytes of some rows, with the glare that falls on them.

    A fine even pattern decides between two steps, so that no step shows as a line; the rows begin at a multiple of its size.
    """
    exposed = ((1 - GLARE) * linear + glare) * (np.array(tone.balance) / tone.white_cd_m2)
    light = np.maximum(exposed @ GREY, 1e-9)
    mapped = exposed * (curve(light, tone.most_cd_m2 / tone.white_cd_m2) / light)[..., None]
    pattern = np.tile(PATTERN, (-(-linear.shape[0] // 8), -(-linear.shape[1] // 8)))[: linear.shape[0], : linear.shape[1], None]
    return np.minimum(255 * encoded(in_gamut(mapped)) + pattern, 255.0).astype(np.uint8)


def _ordered(size: int) -> Real:
    """Thresholds between 0 and 1, spread evenly over a square (Bayer 1973)."""
    found = np.zeros((1, 1))
    while found.shape[0] < size:
        found = np.block([[4 * found, 4 * found + 2], [4 * found + 3, 4 * found + 1]])
    return np.asarray((found + 0.5) / size**2)


PATTERN = _ordered(8)


def _glare_cell(width_px: int) -> int:
    """Pixels to a cell of the coarse grid, so that a larger picture needs no larger grid."""
    return max(4, round(width_px / GLARE_CELLS))


def glare_of(linear: Picture) -> Picture:
    """Scattered light on a coarse grid, (rows, columns, 3)."""
    height, width = linear.shape[:2]
    cell = _glare_cell(width)
    rows, columns = -(-height // cell), -(-width // cell)
    coarse = np.zeros((rows, columns, 3))
    counts = np.zeros((rows, columns, 1))
    for r in range(cell):
        for c in range(cell):
            part = linear[r::cell, c::cell]
            coarse[: part.shape[0], : part.shape[1]] += part
            counts[: part.shape[0], : part.shape[1]] += 1
    coarse /= counts
    found = np.zeros_like(coarse)
    for size, share in GLARE_PARTS:
        found += share * _blurred(coarse, max(size * columns, 0.5))
    return (GLARE * found).astype(np.float32)


def _blurred(values: Real, sigma: float) -> Real:
    """Three running means along each axis, together nearly a bell of that width; beyond the picture its edge goes on."""
    half = max(1, round(sqrt(sigma**2 + 0.25) - 0.5))
    for axis in (0, 1, 0, 1, 0, 1):
        values = _running(values, half, axis)
    return values


def _running(values: Real, half: int, axis: int) -> Real:
    """Mean over ``half`` neighbours on either side."""
    ends = [(half + 1, half) if k == axis else (0, 0) for k in range(3)]
    sums = np.cumsum(np.pad(values, ends, mode="edge"), axis=axis)
    count = values.shape[axis]
    later, before = (np.take(sums, np.arange(start, start + count), axis=axis) for start in (2 * half + 1, 0))
    return np.asarray((later - before) / (2 * half + 1))


def glare_rows(coarse: Picture, rows: slice, *, width: int) -> Picture:
    """Glare of some rows, straight between the points of the coarse grid."""
    cell = _glare_cell(width)
    down = np.clip((np.arange(rows.start, rows.stop) + 0.5) / cell - 0.5, 0, coarse.shape[0] - 1)
    across = np.clip((np.arange(width) + 0.5) / cell - 0.5, 0, coarse.shape[1] - 1)
    lines = _lines(coarse, down, 0)
    return _lines(lines, across, 1)


def _lines(values: Picture, place: Real, axis: int) -> Picture:
    low = np.minimum(place.astype(np.intp), max(values.shape[axis] - 2, 0))
    part = (place - low).astype(np.float32).reshape([-1 if k == axis else 1 for k in range(3)])
    next_ = np.minimum(low + 1, values.shape[axis] - 1)
    return np.asarray(np.take(values, low, axis) * (1 - part) + np.take(values, next_, axis) * part)
