"""Thin films and bulk layers in a row, solved per wavelength, angle and polarisation.

Conventions, once for the whole package:

* complex index ``n + i k`` with ``k >= 0`` absorbing; light goes as ``exp(i(q z - w t))``;
* layers are listed from the viewer's side to the rear, with air outside on both;
* incidence is measured in air from the normal, in degrees, 0 to 90;
* solved arrays have the axes ``(polarisation, angle, wavelength)``, polarisation 0 being s and 1 being p.

Coherent layers are joined by their amplitudes, bulk layers by their intensities. Both use the same adding
formulas, which hold only decaying exponentials: a metal film of any thickness cannot overflow, as a product of transfer
matrices does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]
Field = TypeVar("Field", Real, Complex)

POLARISATIONS = ("s", "p")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layer:
    """One layer of a sheet.

    Parameters
    ----------
    index : array, shape (wavelengths,)
        Complex refractive index. [-]
    thickness_nm : float
        Thickness. [nm]
    coherent : bool
        True for a thin film, False for bulk glass or an air gap, where interference averages out.
    """

    index: Complex
    thickness_nm: float
    coherent: bool = True


class Response(NamedTuple):
    """What a row of layers does to light, as intensities or (inside this module) as amplitudes.

    All four have the axes (polarisation, angle, wavelength); front is the viewer's side.
    """

    R_front: Real
    R_back: Real
    T_front: Real
    T_back: Real

    def turned(self) -> Response:
        """The same row seen from its other side."""
        return Response(self.R_back, self.R_front, self.T_back, self.T_front)

    def absorbed(self) -> Real:
        """Share of the light from the front that stays in the row. [-]"""
        return 1.0 - self.R_front - self.T_front


def layer(*, n: ArrayLike, k: ArrayLike = 0.0, thickness_nm: float, coherent: bool = True) -> Layer:
    """A layer from its index and absorption, each one number or one per wavelength.

    Raises
    ------
    RangeError
        If a thickness or an absorption is negative, or an index not above zero.
    """
    real, absorption = np.broadcast_arrays(np.asarray(n, dtype=float), np.asarray(k, dtype=float))
    # Written so that a value that is not a number fails too.
    if not (np.all(real > 0) and np.all(absorption >= 0) and np.all(np.isfinite(real + absorption))):
        raise RangeError("A layer needs n above 0 and k of 0 or more at every wavelength.")
    if not 0 <= thickness_nm < np.inf:
        raise RangeError(f"A layer's thickness is {thickness_nm} nm; it must be 0 or more.")
    return Layer(index=np.atleast_1d(real + 1j * absorption), thickness_nm=float(thickness_nm), coherent=bool(coherent))


def solve(layers: Sequence[Layer], *, wavelength_nm: ArrayLike, incidence_deg: ArrayLike) -> Response:
    """Reflectance and transmittance of layers in air, from both sides.

    Parameters
    ----------
    layers : sequence of Layer
        From the viewer's side to the rear; thin films and bulk layers in any order.
    wavelength_nm : array, shape (wavelengths,)
        Wavelengths in air. [nm]
    incidence_deg : array, shape (angles,)
        Angles in air from the normal. [deg]

    Returns
    -------
    Response
        Arrays (2, angles, wavelengths). [-]

    Raises
    ------
    RangeError
        If an angle is outside 0 to 90 or a wavelength not above zero.

    References
    ----------
    H. A. Macleod, *Thin-Film Optical Filters*, for films (secondary, from memory). Bulk layers: the net-radiation sum
    over bounces, as in EN 410 for panes in a row. Agrees with the ``tmm`` package.
    """
    wavelength = np.atleast_1d(np.asarray(wavelength_nm, dtype=float))
    cosine = np.cos(np.radians(_checked_incidence(incidence_deg)))[:, None]
    if not np.all(wavelength > 0):
        raise RangeError("Wavelengths must be above 0 nm.")
    air = _Medium(cosine.astype(complex), np.ones(1, dtype=complex))
    total: Response | None = None
    before, run = air, list[tuple[_Medium, Complex]]()
    for one in layers:
        if one.index.size not in (1, wavelength.size):
            raise RangeError(f"A layer has {one.index.size} values of n and k for {wavelength.size} wavelengths.")
        medium = _Medium(_normal_index(one.index, cosine), one.index)
        phase = np.exp(2j * np.pi * one.thickness_nm / wavelength * medium.q)
        if one.coherent:
            run.append((medium, phase))
            continue
        total = _faded(_joined(total, _coating(before, run, medium)), np.abs(phase) ** 2)
        before, run = medium, []
    shape = (2, cosine.size, wavelength.size)
    return Response(*(np.broadcast_to(one, shape) for one in _joined(total, _coating(before, run, air))))


def in_series(first: Response, second: Response) -> Response:
    """Two rows one behind the other, all bounces between them summed as intensities.

    Holds per wavelength, angle and polarisation; never for values already integrated over the spectrum.

    References
    ----------
    EN 410:2011 and ISO 9050:2003, double glazing (secondary).
    """
    return Response(*_added(first, second))


class _Medium(NamedTuple):
    """A medium at the given angles: ``q`` = n cos(angle inside), and n."""

    q: Complex
    n: Complex

    def admittance(self) -> Complex:
        """For the tangential fields: q for s (electric), q/n^2 for p (magnetic; finite at grazing incidence)."""
        q, n = np.broadcast_arrays(self.q, self.n)
        return np.stack((q, q / n**2))


def _checked_incidence(incidence_deg: ArrayLike) -> Real:
    angle = np.atleast_1d(np.asarray(incidence_deg, dtype=float))
    if not np.all((angle >= 0) & (angle <= 90)):
        raise RangeError("Incidence must be between 0 and 90 degrees.")
    return angle


def _normal_index(index: Complex, cosine: Real) -> Complex:
    # n^2 - sin^2 written with the cosine keeps its digits near grazing incidence, where sin^2 rounds to 1.
    return np.sqrt((index**2 - 1.0) + cosine**2)


def _coating(front: _Medium, run: list[tuple[_Medium, Complex]], rear: _Medium) -> Response:
    """Intensities of a coherent run between two incoherent media (of one bare face when the run is empty)."""
    y_front, y_rear = front.admittance(), rear.admittance()
    y, amplitude = y_front, None
    for medium, phase in run:
        y_next = medium.admittance()
        face = _face(y, y_next)
        amplitude = _crossed(face if amplitude is None else _added(amplitude, face), phase)
        y = y_next
    face = _face(y, y_rear)
    r_front, r_back, t_front, t_back = face if amplitude is None else _added(amplitude, face)
    share = y_rear.real / y_front.real
    return Response(_squared(r_front), _squared(r_back), _squared(t_front) * share, _squared(t_back) / share)


def _face(y1: Complex, y2: Complex) -> tuple[Complex, ...]:
    total = y1 + y2
    r = (y1 - y2) / total
    return r, -r, 2 * y1 / total, 2 * y2 / total


def _crossed(row: tuple[Field, ...], passed: Field) -> tuple[Field, ...]:
    """The row with a layer behind it, ``passed`` being what one crossing of the layer leaves."""
    r_front, r_back, t_front, t_back = row
    return r_front, r_back * passed**2, t_front * passed, t_back * passed


def _faded(row: Response, passed: Real) -> Response:
    return Response(*_crossed(tuple(row), passed))


def _joined(first: Response | None, second: Response) -> Response:
    return second if first is None else in_series(first, second)


def _added(first: tuple[Field, ...], second: tuple[Field, ...]) -> tuple[Field, ...]:
    """Adding formulas, the same for amplitudes and for intensities."""
    r1, r1_back, t1, t1_back = first
    r2, r2_back, t2, t2_back = second
    loop = 1.0 - r1_back * r2
    # Two perfect mirrors shut light in between them; none gets there from outside.
    gain = np.divide(1.0, loop, out=np.zeros_like(loop), where=loop != 0)
    onward, returned = t1 * gain, t2_back * gain
    return r1 + onward * t1_back * r2, r2_back + returned * t2 * r1_back, onward * t2, returned * t1_back


def _squared(amplitude: Complex) -> Real:
    return amplitude.real**2 + amplitude.imag**2
