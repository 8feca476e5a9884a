"""A sheet of glass as its maker describes it, turned into layers or spectra.

The coating's side is always said: it is either on the viewer's side or on the rear. A part mirror of thin metal mirrors
quite differently from its two sides, so turned round it is another product.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.films import Layer, Response, layer, solve

Real = NDArray[np.float64]
GLASS_INDEX = 1.52


class Side(Enum):
    """Which face of the glass carries the coating."""

    VIEWER = "viewer"
    REAR = "rear"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of error of T and of both R, or parts of them. [-]"""

    T: float
    R: float

    @property
    def most(self) -> float:
        """The larger of the two."""
        return max(self.T, self.R)

    def __rmul__(self, part: float) -> Limits:
        """So much of both."""
        return Limits(T=part * self.T, R=part * self.R)

    def __neg__(self) -> Limits:
        """The same the other way."""
        return -1.0 * self


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """Optical data of one sheet as it is mounted, on a grid of angle and wavelength.

    Parameters
    ----------
    wavelength_nm : array, shape (wavelengths,)
        Wavelengths. [nm]
    incidence_deg : array, shape (angles,)
        Angles in air from the normal. [deg]
    response : Response
        Reflectance and transmittance from both sides, (2, angles, wavelengths). [-]
    """

    wavelength_nm: Real
    incidence_deg: Real
    response: Response

    def turned(self) -> Sheet:
        """The sheet with its other side to the viewer."""
        return replace(self, response=self.response.turned())

    def shifted(self, *, by: float | Limits) -> Sheet:
        """The sheet with T raised and both R lowered by a limit of error (or the other way about), kept within 0 to 1 in sum."""
        R_front, R_back, T_front, T_back = self.response
        limits = by if isinstance(by, Limits) else Limits(T=by, R=by)
        mirrored = [np.clip(one - limits.R, 0.0, 1.0) for one in (R_front, R_back)]
        most = 1.0 - np.maximum(*mirrored)
        passed = [np.clip(one + limits.T, 0.0, most) for one in (T_front, T_back)]
        return replace(self, response=Response(*mirrored, *passed))


def no_sheet(*, wavelength_nm: ArrayLike, incidence_deg: ArrayLike) -> Sheet:
    """Air where a sheet could be: passes everything."""
    return sheet((), wavelength_nm=wavelength_nm, incidence_deg=incidence_deg)


def coated(*, coating: Sequence[Layer], glass: Layer, side: Side) -> tuple[Layer, ...]:
    """Layers of a sheet from the viewer's side to the rear.

    Parameters
    ----------
    coating : sequence of Layer
        Films in the order in which they lie on the glass, the one that touches the glass first.
    glass : Layer
        The pane, a bulk layer.
    side : Side
        The face that carries the coating.
    """
    return (*reversed(coating), glass) if side is Side.VIEWER else (glass, *coating)


def sheet(layers: Sequence[Layer], *, wavelength_nm: ArrayLike, incidence_deg: ArrayLike) -> Sheet:
    """A sheet from its layers, viewer's side first."""
    wavelength = np.atleast_1d(np.asarray(wavelength_nm, dtype=float))
    angle = np.atleast_1d(np.asarray(incidence_deg, dtype=float))
    return Sheet(wavelength_nm=wavelength, incidence_deg=angle, response=solve(layers, wavelength_nm=wavelength, incidence_deg=angle))


def measured(
    *, wavelength_nm: ArrayLike, T: ArrayLike, R_front: ArrayLike, R_back: ArrayLike, grid_nm: ArrayLike, incidence_deg: ArrayLike
) -> Sheet:
    """A sheet from spectra measured near normal incidence, taken to hold at every angle and for s and p alike.

    Parameters
    ----------
    wavelength_nm, T, R_front, R_back : array, shape (measurements,)
        The measured spectra; between measurements they run straight. [nm], [-]
    grid_nm : array, shape (wavelengths,)
        Grid wanted; must lie inside the measurements. [nm]
    incidence_deg : array, shape (angles,)
        Angles wanted. [deg]

    Raises
    ------
    RangeError
        If the grid leaves the measurements, or R + T exceeds 1.02 (1.02 allows for the noise of a spectrometer).
    """
    known, grid = np.asarray(wavelength_nm, dtype=float), np.atleast_1d(np.asarray(grid_nm, dtype=float))
    if np.any(np.diff(known) <= 0):
        raise RangeError("Measured wavelengths must increase.")
    if grid.min() < known[0] or grid.max() > known[-1]:
        raise RangeError(f"Spectra are known from {known[0]:g} to {known[-1]:g} nm only.")
    passed, front, back = (np.interp(grid, known, np.asarray(one, dtype=float)) for one in (T, R_front, R_back))
    _refuse_gain(passed, front, back)
    angle = np.atleast_1d(np.asarray(incidence_deg, dtype=float))
    shape = (2, angle.size, grid.size)
    response = Response(*(np.broadcast_to(one, shape) for one in (front, back, passed, passed)))
    return Sheet(wavelength_nm=grid, incidence_deg=angle, response=response)


def printed(*, T: float, R_front: float, R_back: float, wavelength_nm: ArrayLike, incidence_deg: ArrayLike) -> Sheet:
    """A sheet from the three luminous numbers a supplier prints, for normal incidence.

    The numbers come back exactly at normal incidence. Assumed: a grey spectrum, and off the normal a thin coating on a
    pane that goes on absorbing the same share while its transmittance falls for s and rises for p.

    Raises
    ------
    RangeError
        If a number is outside 0 to 1 or R + T exceeds 1.02.

    Notes
    -----
    Held against computed films of silver, aluminium, chromium, titanium, nickel, titania and niobia up to 60 deg: T within 0.02
    and R within 0.03 (root mean square), 0.06 at worst at 45 deg for one polarisation. Use layers or a measured
    spectrum where the angle matters.
    """
    _refuse_gain(np.asarray(T), np.asarray(R_front), np.asarray(R_back))
    wavelength = np.atleast_1d(np.asarray(wavelength_nm, dtype=float))
    angle = np.atleast_1d(np.asarray(incidence_deg, dtype=float))
    rise = np.minimum(T * (_thin_coating(T=T, R=(R_front + R_back) / 2, incidence_deg=angle) - 1), min(R_front, R_back))[:, :, None]
    shape = (2, angle.size, wavelength.size)
    values = (np.broadcast_to(one, shape) for one in (R_front - rise, R_back - rise, T + rise, T + rise))
    return Sheet(wavelength_nm=wavelength, incidence_deg=angle, response=Response(*values))


def _thin_coating(*, T: float, R: float, incidence_deg: Real) -> Real:
    """Transmittance of a lossless thin film on a pane over that at normal incidence; shape (2, angles).

    The film has the admittance i b, which passes 1/(1 + (b/2y)^2), with y the cosine for s and its inverse for p. The cosine
    is taken inside an index of 1.2, between air and glass; that number is fitted to computed films.
    """
    outside = np.cos(np.radians(incidence_deg))
    between = np.sqrt(1 - (1 - outside**2) / 1.2**2)
    pane = solve([bare_pane(thickness_mm=1.0)], wavelength_nm=550.0, incidence_deg=np.append(0.0, incidence_deg)).T_front[:, :, 0]
    coat = min(max(T / max(T + R, 1e-12), 1e-6) / pane[0, 0], 1.0)
    load = (1 - coat) / coat
    film = np.stack(((1 + load) * between**2 / (between**2 + load), (1 + load) / (1 + load * between**2)))
    return np.asarray(film * pane[:, 1:] / pane[:, :1])


def _refuse_gain(T: Real, R_front: Real, R_back: Real) -> None:
    if not all(np.all((one >= 0) & (one <= 1)) for one in (T, R_front, R_back)):
        raise RangeError("Reflectances and transmittances must be between 0 and 1.")
    if np.any(T + R_front > 1.02) or np.any(T + R_back > 1.02):
        raise RangeError("R + T exceeds 1.02: the numbers do not belong to one sheet.")


def bare_pane(*, thickness_mm: float, n: ArrayLike = GLASS_INDEX, k: ArrayLike = 0.0) -> Layer:
    """Uncoated glass as a bulk layer."""
    return layer(n=n, k=k, thickness_nm=thickness_mm * 1e6, coherent=False)
