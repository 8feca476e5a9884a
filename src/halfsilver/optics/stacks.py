"""Sheets one behind the other with air between them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

import numpy as np
from numpy.typing import ArrayLike

from halfsilver.errors import RangeError
from halfsilver.optics.films import Response, in_series

LAST_DIGITS = 1e-6


def stack(sheets: Sequence[Response]) -> Response:
    """All sheets as one, viewer's side first, every bounce between them summed.

    Each quantity stands per wavelength, angle and polarisation; the axes of all sheets must agree.

    Raises
    ------
    RangeError
        If there is no sheet.

    References
    ----------
    EN 410:2011 and ISO 9050:2003, multiple glazing, from the viewer's side (secondary).
    """
    if not sheets:
        raise RangeError("A stack needs at least one sheet.")
    return reduce(in_series, sheets)


def plain_sheet(*, T: ArrayLike, R_front: ArrayLike, R_back: ArrayLike) -> Response:
    """A sheet given by numbers, T being the same both ways.

    Raises
    ------
    RangeError
        If a value is outside 0 to 1, or R + T exceeds 1 by more than its last digits.
    """
    passed, front, back = np.broadcast_arrays(*(np.atleast_1d(np.asarray(one, dtype=float)) for one in (T, R_front, R_back)))
    if not all(np.all((one >= 0) & (one <= 1)) for one in (passed, front, back)):
        raise RangeError("Reflectances and transmittances must be between 0 and 1.")
    if np.any(passed + np.maximum(front, back) > 1 + LAST_DIGITS):
        raise RangeError("R + T exceeds 1: a sheet cannot give more light than falls on it.")
    return Response(front, back, passed, passed)
