"""Spectra of what shines: strips of white or coloured diodes, the screen's primaries, the room's light.

Every spectrum stands on the standard grid (380 to 780 nm by 5 nm) and is scaled to a luminance of 1 cd/m2, so that it
is multiplied with the luminance wanted. They are assumed shapes that hit a stated colour exactly: a measured spectrum is
better, and the results say which was used.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError
from halfsilver.model.edid import ScreenColours
from halfsilver.optics.colour import LUMENS_PER_WATT, xyz
from halfsilver.optics.standard import D65, WAVELENGTH_NM
from halfsilver.optics.whites import black_body, black_body_xy

Real = NDArray[np.float64]

# Peak and full width at half height [nm]; common practice for blue-pumped white diodes, three-colour diodes and screens.
PUMP, GREEN_PHOSPHOR, RED_PHOSPHOR = (450.0, 20.0), (535.0, 110.0), (620.0, 100.0)
RED_DIODE, GREEN_DIODE, BLUE_DIODE = (630.0, 20.0), (525.0, 35.0), (465.0, 25.0)
SCREEN_RED, SCREEN_GREEN, SCREEN_BLUE = (630.0, 30.0), (536.0, 30.0), (460.0, 20.0)
# From usual to ever purer lights, the last ones lasers; a screen's stated colours are mixed of the first that reach them.
SCREEN_LIGHTS = (
    (SCREEN_RED, SCREEN_GREEN, SCREEN_BLUE),
    ((635.0, 20.0), (530.0, 25.0), (455.0, 15.0)),
    ((640.0, 6.0), (530.0, 6.0), (455.0, 6.0)),
    ((640.0, 6.0), (532.0, 6.0), (467.0, 5.0)),
    ((640.0, 6.0), (515.0, 20.0), (470.0, 12.0)),
)
# A colour coded in ten bits, and a little more: how far a stated primary may be moved towards white to be reached at all.
TOWARDS_WHITE = (0.0, 0.005, 0.02, 0.05)

# Red, green, blue and white of IEC 61966-2-1 (sRGB) and ITU-R BT.709.
SRGB_PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
SRGB_WHITE = (0.3127, 0.3290)


def unit_luminance(spectrum: ArrayLike) -> Real:
    """A spectrum scaled to 1 cd/m2.

    Raises
    ------
    RangeError
        If it is dark, negative somewhere, or not on the standard grid.
    """
    values = np.asarray(spectrum, dtype=float)
    if values.shape[-1:] != WAVELENGTH_NM.shape:
        raise RangeError(f"A spectrum needs {WAVELENGTH_NM.size} values, 380 to 780 nm by 5 nm.")
    luminance = xyz(values, normal=LUMENS_PER_WATT)[..., 1:2]
    if np.any(values < 0) or not np.all(luminance > 0):
        raise RangeError("A spectrum must be 0 or more everywhere, and light somewhere.")
    return np.asarray(values / luminance)


def white_led(*, colour_temperature_k: float) -> Real:
    """White diode with phosphor: a blue peak, a green and a red phosphor, mixed to lie on the black body's colour.

    Raises
    ------
    RangeError
        If the mixture cannot reach the colour; 2000 to 12 000 K are in reach.
    """
    return mixed_to(black_body_xy(colour_temperature_k), bands=(PUMP, GREEN_PHOSPHOR, RED_PHOSPHOR))


def colour_led(*, xy: Sequence[float]) -> Real:
    """Three-colour diode (red, green, blue) mixed to a chromaticity."""
    return mixed_to(xy, bands=(RED_DIODE, GREEN_DIODE, BLUE_DIODE))


def led_mix(*, red: float, green: float, blue: float) -> tuple[Real, float]:
    """Light of a three-colour strip whose colours are set apart: its spectrum at 1 cd/m2, and its share of the light of all at full.

    All at full give the white of sRGB, to which such strips are usually balanced (common practice).

    Raises
    ------
    RangeError
        If a setting is outside 0 to 1, or all are 0.
    """
    settings = np.array([red, green, blue], dtype=float)
    if not (np.all((settings >= 0) & (settings <= 1)) and settings.any()):
        raise RangeError("Each colour is set between 0 and 1, and one of them above 0.")
    diodes = unit_luminance(np.stack([_band(*band) for band in (RED_DIODE, GREEN_DIODE, BLUE_DIODE)]))
    light = settings * shares(SRGB_WHITE, diodes)
    return unit_luminance(light @ diodes), float(light.sum())


def screen_primaries(*, primaries: Sequence[Sequence[float]] = SRGB_PRIMARIES) -> Real:
    """Red, green and blue of a screen, each 1 cd/m2, shape (3, wavelengths)."""
    return np.stack([mixed_to(xy, bands=(SCREEN_RED, SCREEN_GREEN, SCREEN_BLUE)) for xy in primaries])


def screen_white(*, primaries: Sequence[Sequence[float]] = SRGB_PRIMARIES, white: Sequence[float] = SRGB_WHITE) -> Real:
    """Full white of a screen, 1 cd/m2."""
    return mixture(white, screen_primaries(primaries=primaries))


def stated_screen(colours: ScreenColours) -> tuple[Real, tuple[float, float, float]]:
    """Red, green and blue of a screen by the colours it states, each 1 cd/m2, and their shares of the luminance of its white.

    Raises
    ------
    RangeError
        If no lights reach those colours.
    """
    primaries = np.stack([_reached(xy, colours.white) for xy in (colours.red, colours.green, colours.blue)])
    red, green, blue = shares(colours.white, primaries)
    return primaries, (float(red), float(green), float(blue))


def _reached(xy: Sequence[float], white: Sequence[float]) -> Real:
    for part in TOWARDS_WHITE:
        aim = [(1 - part) * one + part * middle for one, middle in zip(xy, white, strict=True)]
        for bands in SCREEN_LIGHTS:
            with suppress(RangeError):
                return mixed_to(aim, bands=bands)
    raise RangeError(f"No lights of a screen reach the colour x {xy[0]:.4f}, y {xy[1]:.4f}.")


def room_light(*, colour_temperature_k: float | None = None) -> Real:
    """Room light: daylight D65, a white diode from 2700 K up, or below that a filament lamp."""
    if colour_temperature_k is None:
        return unit_luminance(D65)
    if colour_temperature_k < 2700:
        return unit_luminance(black_body(colour_temperature_k))
    return white_led(colour_temperature_k=colour_temperature_k)


def mixed_to(xy: ArrayLike, *, bands: Sequence[tuple[float, float]]) -> Real:
    """Three bell-shaped bands (peak and width at half height, [nm]) mixed to a chromaticity, 1 cd/m2."""
    return mixture(xy, np.stack([_band(peak, width) for peak, width in bands]))


def mixture(xy: ArrayLike, parts: Real) -> Real:
    """Three spectra mixed to a chromaticity, 1 cd/m2 (see :func:`shares`)."""
    return unit_luminance(shares(xy, parts) @ parts)


def shares(xy: ArrayLike, parts: Real) -> Real:
    """Amounts of three spectra that mix to a chromaticity; of spectra of 1 cd/m2 they are luminance shares and sum to 1.

    Raises
    ------
    RangeError
        If the chromaticity lies outside the triangle that they span.
    """
    x, y = np.asarray(xy, dtype=float)
    if not y > 0:
        raise RangeError(f"A chromaticity has y = {y:g}; it must be above 0.")
    amounts = np.linalg.solve(xyz(parts, normal=LUMENS_PER_WATT).T, np.array([x / y, 1.0, (1 - x - y) / y]))
    if np.any(amounts < -1e-9 * np.abs(amounts).max()):
        raise RangeError(f"The colour x {x:.4f}, y {y:.4f} lies outside what these three lights can mix.")
    return np.maximum(amounts, 0.0)


def _band(peak_nm: float, width_nm: float) -> Real:
    return np.asarray(np.exp(-4 * np.log(2) * ((WAVELENGTH_NM - peak_nm) / width_nm) ** 2))
