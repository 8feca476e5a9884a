"""Two parallel sheets facing each other, unfolded: one table per design, integrated over the spectrum once.

Along a path between parallel sheets the angle and the plane of incidence stay the same, so s and p never mix and
light that has met m mirrors carries, per wavelength, angle and polarisation::

    w_m = T1 R2^ceil(m/2) R1^floor(m/2)

T1 being the front sheet's transmittance, R1 its reflectance towards the cavity and R2 that of the rear sheet. The m-th image of the
walls is their mirror image m gaps further back. Light of the screen behind the rear sheet crosses n times there and back::

    v_n = T1 T2 (R1 R2)^n

Both are integrated with each emitter's spectrum to XYZ on a grid of angles. Numbers, stills and the live picture read the
same table, spectral accuracy at the price of three channels. Axes of the arrays, in order: emitter, polarisation (s, p), angle,
order, X Y Z.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.colour import LUMENS_PER_WATT, OBSERVER
from halfsilver.optics.films import Response
from halfsilver.optics.sheets import Sheet
from halfsilver.optics.stacks import stack

Real = NDArray[np.float64]

GRID_DEG = np.arange(0.0, 90.1, 0.5)
GRID_DEG.setflags(write=False)
LEAST_ORDERS, MOST_ORDERS = 21, 400


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cavity:
    """What two facing sheets make of light, by angle and by number of mirrors met.

    Parameters
    ----------
    incidence_deg : array, shape (angles,)
        Even grid of angles in air, from 0. [deg]
    walls : array, shape (emitters, 2, angles, orders, 3)
        XYZ seen of a wall of unit luminance, per emitter, in s and in p, after ``order`` mirrors.
    screen : array, shape (primaries, 2, angles, echoes, 3)
        XYZ seen of a screen primary of unit luminance; echo 0 is the picture itself.
    room : array, shape (2, angles, 3)
        XYZ of the room mirrored in the whole assembly, for surroundings of unit luminance.
    """

    incidence_deg: Real
    walls: Real
    screen: Real
    room: Real

    def wall(self, *, emitter: int, incidence_deg: ArrayLike) -> Real:
        """XYZ (..., orders, 3) of a wall of 1 cd/m2, light not polarised."""
        return np.asarray(self._at(self.walls[emitter].transpose(1, 0, 2, 3), incidence_deg).mean(axis=-3))

    def picture(self, *, incidence_deg: ArrayLike, to_plane_deg: float | None = None) -> Real:
        """XYZ (..., primaries, echoes, 3) of the screen's primaries at 1 cd/m2.

        ``to_plane_deg`` is the angle from the plane of incidence to the light's polarisation; None for light not polarised.
        """
        found = self._at(self.screen.transpose(2, 1, 0, 3, 4), incidence_deg)
        s, p = polarisation_shares(to_plane_deg)
        return np.asarray(s * found[..., 0, :, :, :] + p * found[..., 1, :, :, :])

    def mirror(self, *, incidence_deg: ArrayLike) -> Real:
        """XYZ (..., 3) of the room mirrored, for surroundings of 1 cd/m2."""
        return np.asarray(self._at(self.room.transpose(1, 0, 2), incidence_deg).mean(axis=-2))

    def _at(self, values: Real, incidence_deg: ArrayLike) -> Real:
        """Values (angles, ...) at any angles, straight between the points of the grid."""
        place = np.asarray(incidence_deg, dtype=float) / (self.incidence_deg[1] - self.incidence_deg[0])
        if not np.all((place >= 0) & (place <= self.incidence_deg.size - 1)):
            raise RangeError(f"Incidence must be between 0 and {self.incidence_deg[-1]:g} degrees.")
        low = np.minimum(place.astype(int), self.incidence_deg.size - 2)
        part = (place - low).reshape(place.shape + (1,) * (values.ndim - 1))
        return np.asarray(values[low] * (1 - part) + values[low + 1] * part)


def polarisation_shares(to_plane_deg: float | None) -> Real:
    """Shares of s and p in light whose polarisation stands so far from the plane of incidence (Malus); halves if None."""
    if to_plane_deg is None:
        return np.array([0.5, 0.5])
    turn = np.radians(to_plane_deg)
    return np.array([np.sin(turn) ** 2, np.cos(turn) ** 2])


def wall_orders(front: Response, rear: Response, *, orders: int) -> Real:
    """w_m for m below ``orders``, shape (orders, 2, angles, wavelengths)."""
    mirrors = np.empty((orders, *front.T_front.shape))
    mirrors[0] = front.T_front
    for m in range(1, orders):
        np.multiply(mirrors[m - 1], rear.R_front if m % 2 else front.R_back, out=mirrors[m])
    return mirrors


def screen_orders(front: Response, rear: Response, *, echoes: int) -> Real:
    """v_n for n below ``echoes``, shape (echoes, 2, angles, wavelengths)."""
    crossings = np.empty((echoes, *front.T_front.shape))
    crossings[0] = front.T_back * rear.T_back
    loop = front.R_back * rear.R_front
    for n in range(1, echoes):
        np.multiply(crossings[n - 1], loop, out=crossings[n])
    return crossings


def enough_orders(front: Response, rear: Response, *, floor: float = 1e-4, most: int = MOST_ORDERS) -> int:
    """How many orders to carry until no path in the nearer half of the angles keeps more than ``floor``; 21 to ``most``."""
    near = front.R_back.shape[1] // 2 + 1
    loop = float(np.max((front.R_back * rear.R_front)[:, :near]))
    if loop <= 0:
        return LEAST_ORDERS
    return most if loop >= 1 else min(max(LEAST_ORDERS, 2 * ceil(log(floor) / log(loop)) + 1), most)


def cavity(
    front: Sheet, rear: Sheet, *, emitters: ArrayLike, primaries: ArrayLike, room: ArrayLike, orders: int = 41, face_mirror: float = 0.0
) -> Cavity:
    """The table of a design.

    Parameters
    ----------
    front, rear : Sheet
        As mounted, the viewer's side being the front; on the standard wavelengths and the same even grid of angles from 0.
    emitters : array, shape (emitters, 81)
        Spectra of what lights the walls, scaled to 1 cd/m2 (see :mod:`halfsilver.optics.spectra`).
    primaries : array, shape (primaries, 81)
        Spectra of the screen's primaries, scaled likewise.
    room : array, shape (81,)
        Spectrum of the room's light, scaled likewise.
    orders : int
        Mirrors to follow, at least 21; see :func:`enough_orders`.
    face_mirror : float
        Specular reflectance of the screen's dark face behind the rear sheet. [-]

    Raises
    ------
    RangeError
        If the grids of the sheets differ or fewer than 21 orders are asked for.
    """
    if orders < LEAST_ORDERS:
        raise RangeError(f"A table carries at least {LEAST_ORDERS} orders; {orders} were asked for.")
    _same_grid(front, rear)
    mirrored = stack([front.response, rear.response, _opaque(face_mirror)]).R_front
    walls = wall_orders(front.response, rear.response, orders=orders)
    crossings = screen_orders(front.response, rear.response, echoes=(orders + 1) // 2)
    return Cavity(
        incidence_deg=front.incidence_deg,
        walls=_seen(walls, emitters),
        screen=_seen(crossings, primaries),
        room=_seen(mirrored[None], room)[0, :, :, 0],
    )


def _opaque(mirror: float) -> Response:
    """Something that mirrors and lets nothing through, such as a screen's dark face."""
    reflected, nothing = np.full((1, 1, 1), mirror), np.zeros((1, 1, 1))
    return Response(reflected, reflected, nothing, nothing)


def _seen(weights: Real, spectra: ArrayLike) -> Real:
    """XYZ (spectra, 2, angles, orders, 3) of weights (orders, 2, angles, wavelengths) under each spectrum."""
    lights = np.atleast_2d(np.asarray(spectra, dtype=float))
    colours = (lights[:, :, None] * OBSERVER).transpose(1, 0, 2).reshape(OBSERVER.shape[0], -1) * (5.0 * LUMENS_PER_WATT)
    found = (weights.reshape(-1, weights.shape[-1]) @ colours).reshape(*weights.shape[:-1], lights.shape[0], 3)
    return np.ascontiguousarray(found.transpose(3, 1, 2, 0, 4))


def _same_grid(front: Sheet, rear: Sheet) -> None:
    steps = np.diff(front.incidence_deg)
    if front.wavelength_nm.size != OBSERVER.shape[0] or steps.size == 0 or front.incidence_deg[0] != 0 or not np.allclose(steps, steps[0]):
        raise RangeError("A cavity needs its sheets on 380 to 780 nm by 5 nm and on an even grid of angles from 0.")
    if not (np.array_equal(front.wavelength_nm, rear.wavelength_nm) and np.array_equal(front.incidence_deg, rear.incidence_deg)):
        raise RangeError("Front and rear sheet need the same grid of wavelengths and angles.")
