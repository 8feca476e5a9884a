"""The array functions as plain records in and out, for ``halfsilver reckon``.

Inputs are numbers and lists as they come out of JSON; so are results.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula
from halfsilver.optics import colour, stacks
from halfsilver.optics.films import POLARISATIONS, Layer, Response, layer, solve

Record = Mapping[str, Any]
_SUM = "EN 410 and ISO 9050 form; agrees with an independent loop"


@formula(
    name="optics.sheet", source="coherent films on incoherent glass (Macleod); agrees with the tmm package", status="oracle", unit="1",
    validity="flat parallel layers in air, 0 to 90 deg, k of 0 or more",
)  # fmt: skip
def optics_sheet(*, wavelength_nm: Sequence[float], incidence_deg: Sequence[float], layers: Sequence[Record]) -> dict[str, Any]:
    """Reflectance and transmittance of one sheet from both sides, s and p apart.

    Parameters
    ----------
    wavelength_nm, incidence_deg : list of float
        The grid. [nm], [deg]
    layers : list
        Records ``{n[], k[], thickness_nm, coherent}`` from the viewer's side to the rear, air outside. ``n`` and ``k`` have one value
        per wavelength, or are a bare number that holds for all; without ``k`` it is 0, without ``coherent`` it is true.

    Returns
    -------
    dict
        ``R_front``, ``R_back``, ``T_front``, ``T_back``, each ``{s, p}[angle][wavelength]``. [-]

    Examples
    --------
    >>> glass = {"n": [1.52], "k": [0.0], "thickness_nm": 6e6, "coherent": False}
    >>> found = optics_sheet(wavelength_nm=[550.0], incidence_deg=[0.0], layers=[glass])
    >>> round(found["R_front"]["s"][0][0], 5)
    0.08168
    """
    grid, angles = _numbers("wavelength_nm", wavelength_nm), _numbers("incidence_deg", incidence_deg)
    row = [_layer(number, record, wavelengths=grid.size) for number, record in enumerate(_records("layers", layers))]
    found = solve(row, wavelength_nm=grid, incidence_deg=angles)
    return {name: dict(zip(POLARISATIONS, values.tolist(), strict=True)) for name, values in found._asdict().items()}


@formula(name="optics.stack", source=_SUM, status="oracle", unit="1", validity="one angle and polarisation, values per wavelength")
def optics_stack(*, sheets: Sequence[Record]) -> dict[str, list[float]]:
    """Sheets one behind the other, viewer's side first.

    Parameters
    ----------
    sheets : list
        Records ``{T[], R_front[], R_back[]}``, one value per wavelength, R + T at most 1. [-]

    Returns
    -------
    dict
        ``T``, ``R_front``, ``R_back``, one value per wavelength. [-]

    Examples
    --------
    >>> half = {"T": [0.5], "R_front": [0.5], "R_back": [0.5]}
    >>> round(optics_stack(sheets=[half, half])["T"][0], 6)
    0.333333
    """
    responses = [_plain_sheet(number, record) for number, record in enumerate(_records("sheets", sheets))]
    for number, one in enumerate(responses):
        if one.T_front.size != responses[0].T_front.size:
            counts = f"sheets[{number}] has {one.T_front.size} values, sheets[0] has {responses[0].T_front.size}"
            raise RangeError(f"All sheets of a stack need the same number of wavelengths: {counts}.", path=f"sheets[{number}]")
    found = stacks.stack(responses)
    return {"T": found.T_front.tolist(), "R_front": found.R_front.tolist(), "R_back": found.R_back.tolist()}


@formula(name="colour.luminous", source="EN 410, ISO 9050: weighted with D65 and V", status="oracle", unit="1", validity="380 to 780 nm")
def colour_luminous(*, wavelength_nm: Sequence[float], values: Sequence[float]) -> float:
    """Luminous transmittance or reflectance of a spectrum. [-]

    Examples
    --------
    >>> colour_luminous(wavelength_nm=[500.0, 550.0, 600.0], values=[0.5, 0.5, 0.5])
    0.5
    """
    return float(colour.luminous(_numbers("values", values), wavelength_nm=_numbers("wavelength_nm", wavelength_nm)))


@formula(name="colour.difference", source="CIEDE2000: Sharma, Wu, Dalal 2005", status="oracle", unit="1", validity="unit weights")
def colour_difference(*, lab1: Sequence[float], lab2: Sequence[float]) -> float:
    """Colour difference dE00 between two colours in L*, a*, b*. [-]

    Examples
    --------
    >>> round(colour_difference(lab1=[50, 2.6772, -79.7751], lab2=[50, 0, -82.7485]), 4)
    2.0425
    """
    one, two = _numbers("lab1", lab1, axes=2), _numbers("lab2", lab2, axes=2)
    for name, told in (("lab1", one), ("lab2", two)):
        if told.shape[-1] != 3:
            raise RangeError("A colour is three numbers: L*, a*, b*.", path=name)
    if one.ndim == two.ndim == 2 and one.shape != two.shape:
        raise RangeError("Both lists of colours need the same length.", path="lab2")
    found = colour.difference(one, two)
    return found.tolist()  # type: ignore[no-any-return]


def _layer(number: int, record: Record, *, wavelengths: int) -> Layer:
    place = f"layers[{number}]"
    _record(place, record)
    n, k = (_per_wavelength(f"{place}.{name}", value, wavelengths) for name, value in _index(place, record))
    thickness = _numbers(f"{place}.thickness_nm", _entry(record, "thickness_nm", place))
    if thickness.size != 1:
        raise _refused(f"{place}.thickness_nm", "must be one number")
    coherent = record.get("coherent", True)
    if not isinstance(coherent, bool):
        raise _refused(f"{place}.coherent", "must be true or false")
    try:
        return layer(n=n, k=k, thickness_nm=float(thickness[0]), coherent=coherent)
    except RangeError as error:
        raise RangeError(f"{place}: {error}", path=place) from None


def _index(place: str, record: Record) -> tuple[tuple[str, Any], ...]:
    return ("n", _entry(record, "n", place)), ("k", record.get("k", 0.0))


def _plain_sheet(number: int, record: Record) -> Response:
    place = f"sheets[{number}]"
    _record(place, record)
    T, front, back = (_numbers(f"{place}.{name}", _entry(record, name, place)) for name in ("T", "R_front", "R_back"))
    if not T.shape == front.shape == back.shape:
        raise RangeError(f"{place}: T, R_front and R_back need the same number of values.", path=place)
    try:
        return stacks.plain_sheet(T=T, R_front=front, R_back=back)
    except RangeError as error:
        raise RangeError(f"{place}: {error}", path=place) from None


def _record(place: str, record: Any) -> None:
    if not isinstance(record, Mapping):
        raise _refused(place, "must be a group of named values")


def _records(name: str, value: Any) -> Sequence[Record]:
    if isinstance(value, (str, Mapping)) or not isinstance(value, Sequence):
        raise _refused(name, "must be a list of groups")
    return value


def _entry(record: Record, name: str, place: str) -> Any:
    if name not in record:
        raise RangeError(f"{place} lacks {name}.", path=place)
    return record[name]


def _per_wavelength(name: str, value: Any, wavelengths: int) -> NDArray[np.float64]:
    """One value per wavelength, or a bare number for all of them; a list of another length is a mistake, not a short way of writing."""
    found = _numbers(name, value)
    if np.ndim(value) and found.size != wavelengths:
        raise _refused(name, f"has {found.size} values for {wavelengths} wavelengths; write one for each, or a bare number for all")
    return found


def _numbers(name: str, value: Any, *, axes: int = 1) -> NDArray[np.float64]:
    try:
        given = np.asarray(value)
    except ValueError:  # lists of several lengths
        raise _refused(name, "must be a plain list of numbers") from None
    if given.dtype.kind not in "iuf":
        raise _refused(name, "must hold numbers")
    found = np.atleast_1d(given.astype(float))
    if found.ndim > axes:
        raise _refused(name, "must be a plain list of numbers")
    if found.size == 0 or not np.all(np.isfinite(found)):
        raise _refused(name, "must hold at least one number, all of them finite")
    return found


def _refused(path: str, what: str) -> RangeError:
    return RangeError(f"{path} {what}.", path=path)
