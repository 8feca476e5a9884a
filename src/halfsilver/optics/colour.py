"""From spectra to what the eye makes of them: XYZ, luminous values, Lab and colour difference.

Arrays broadcast over leading axes; the last axis is the wavelength for spectra and X, Y, Z (or L, a, b) for colours.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.standard import D65, WAVELENGTH_NM, X_BAR, Y_BAR, Z_BAR

Real = NDArray[np.float64]
OBSERVER = np.stack((X_BAR, Y_BAR, Z_BAR), axis=-1)
LUMENS_PER_WATT = 683.002


def _daylight_seen(wavelength: Real) -> Real:
    """D65 times V at any wavelengths, zero outside the standard grid.

    D65 runs straight between its points, as the CIE defines it; V follows the cubic through four of them, because a straight
    line would lift its feet and cut its peak (2e-4 in a luminous value at 1 nm).
    """
    place = (wavelength - WAVELENGTH_NM[0]) / 5.0
    start = np.clip(np.floor(place).astype(np.intp) - 1, 0, Y_BAR.size - 4)
    t = place - start
    cubic = (-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2, -t * (t - 1) * (t - 3) / 2, t * (t - 1) * (t - 2) / 6)
    efficiency = sum((part * Y_BAR[start + i] for i, part in enumerate(cubic)), start=np.zeros_like(t))
    return np.asarray(np.interp(wavelength, WAVELENGTH_NM, D65, left=0.0, right=0.0) * efficiency)


def xyz(spectrum: ArrayLike, *, normal: float | None = None) -> Real:
    """Tristimulus values of spectra on the standard grid (380 to 780 nm by 5), by plain sum.

    Parameters
    ----------
    spectrum : array, shape (..., 81)
        Spectral power, in any unit per nanometre.
    normal : float, optional
        Factor in front of the sum times 5 nm; 683.002 turns W/(m2 sr nm) into cd/m2. By default 1. [-]

    Returns
    -------
    array, shape (..., 3)
        X, Y, Z.

    References
    ----------
    CIE 15, tristimulus values by summation at 5 nm; ISO/CIE 11664-3 (secondary).
    """
    return np.asarray(spectrum, dtype=float) @ OBSERVER * (5.0 * (1.0 if normal is None else normal))


def luminous(values: ArrayLike, *, wavelength_nm: ArrayLike = WAVELENGTH_NM) -> Real:
    """Luminous transmittance or reflectance: the mean of a spectrum weighted with D65 and V.

    Parameters
    ----------
    values : array, shape (..., wavelengths)
        Spectral transmittance or reflectance. [-]
    wavelength_nm : array, shape (wavelengths,)
        Increasing wavelengths. A plain sum on an even grid; on an uneven one each wavelength stands for its share. [nm]

    Raises
    ------
    RangeError
        If the wavelengths do not increase, or hardly any of the eye's range is among them.

    References
    ----------
    EN 410:2011, 4.2, and ISO 9050:2003, 3.3: tau_v = sum(D65 tau V)/sum(D65 V) (secondary).
    """
    wavelength = np.atleast_1d(np.asarray(wavelength_nm, dtype=float))
    spectrum = np.asarray(values, dtype=float)
    if spectrum.shape[-1:] != wavelength.shape:
        raise RangeError(f"{wavelength.size} wavelengths stand beside {spectrum.shape[-1] if spectrum.ndim else 1} values.")
    weight = _daylight_seen(wavelength) * _widths(wavelength)
    if not weight.sum() > 0:
        raise RangeError("No wavelength lies where the eye sees (380 to 780 nm).")
    return np.asarray(spectrum @ weight / weight.sum())


def _widths(wavelength: Real) -> Real:
    steps = np.diff(wavelength)
    if np.any(steps <= 0):
        raise RangeError("Wavelengths must increase.")
    if steps.size == 0 or np.allclose(steps, steps[0]):
        return np.ones_like(wavelength)
    return np.asarray(np.gradient(wavelength))


def chromaticity(XYZ: ArrayLike) -> Real:
    """Chromaticity x, y of tristimulus values, shape (..., 2); black gives 0, 0."""
    colour = np.asarray(XYZ, dtype=float)
    total = colour.sum(axis=-1, keepdims=True)
    return np.asarray(np.divide(colour[..., :2], total, out=np.zeros_like(colour[..., :2]), where=total > 0))


def lab(XYZ: ArrayLike, *, white: ArrayLike) -> Real:
    """CIE 1976 L*, a*, b* against a white, shape (..., 3).

    References
    ----------
    ISO/CIE 11664-4 (secondary).
    """
    ratio = np.asarray(XYZ, dtype=float) / np.asarray(white, dtype=float)
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    fx, fy, fz = np.moveaxis(f, -1, 0)
    return np.stack((116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)), axis=-1)


def difference(lab1: ArrayLike, lab2: ArrayLike) -> Real:
    """Colour difference CIEDE2000 with unit weights, over the last axis of L*, a*, b*.

    References
    ----------
    G. Sharma, W. Wu, E. N. Dalal, *The CIEDE2000 color-difference formula: implementation notes, supplementary test data,
    and mathematical observations*, Color Research and Application 30 (2005) 21-30; ISO/CIE 11664-6 (secondary).
    """
    one, two = np.broadcast_arrays(np.asarray(lab1, dtype=float), np.asarray(lab2, dtype=float))
    L, C, h = zip(*_lightness_chroma_hue(one, two), strict=True)
    dL, dC = L[1] - L[0], C[1] - C[0]
    achromatic = C[0] * C[1] == 0
    turn = h[1] - h[0]
    dh = np.where(achromatic, 0.0, turn - 360.0 * np.sign(turn) * (np.abs(turn) > 180))
    dH = 2 * np.sqrt(C[0] * C[1]) * np.sin(np.radians(dh / 2))
    L_mean, C_mean, h_sum = (L[0] + L[1]) / 2, (C[0] + C[1]) / 2, h[0] + h[1]
    wrapped = np.where(np.abs(turn) > 180, np.where(h_sum < 360, h_sum + 360, h_sum - 360), h_sum) / 2
    h_mean = np.where(achromatic, h_sum, wrapped)
    S_L = 1 + 0.015 * (L_mean - 50) ** 2 / np.sqrt(20 + (L_mean - 50) ** 2)
    S_C = 1 + 0.045 * C_mean
    S_H = 1 + 0.015 * C_mean * _hue_weight(h_mean)
    blue = np.radians(60 * np.exp(-(((h_mean - 275) / 25) ** 2)))
    R_T = -np.sin(blue) * 2 * _steep(C_mean)
    light, chroma, hue = dL / S_L, dC / S_C, dH / S_H
    return np.asarray(np.sqrt(light**2 + chroma**2 + hue**2 + R_T * chroma * hue))


def _lightness_chroma_hue(*colours: Real) -> list[tuple[Real, Real, Real]]:
    chroma = [np.hypot(one[..., 1], one[..., 2]) for one in colours]
    stretch = 1 + 0.5 * (1 - _steep((chroma[0] + chroma[1]) / 2))
    found = []
    for one in colours:
        a, b = one[..., 1] * stretch, one[..., 2]
        found.append((one[..., 0], np.hypot(a, b), np.degrees(np.arctan2(b, a)) % 360))
    return found


def _steep(chroma: Real) -> Real:
    return np.asarray(np.sqrt(chroma**7 / (chroma**7 + 25.0**7)))


def _hue_weight(hue_deg: Real) -> Real:
    def cosine(times: float, shift: float) -> Real:
        return np.cos(np.radians(times * hue_deg + shift))

    return 1 - 0.17 * cosine(1, -30) + 0.24 * cosine(2, 0) + 0.32 * cosine(3, 6) - 0.20 * cosine(4, -63)
