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
        Records ``{n[], k[], thickness_nm, coherent}`` from the viewer's side to the rear, air outside.

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
    row = [_layer(number, record) for number, record in enumerate(layers, start=1)]
    found = solve(row, wavelength_nm=_numbers("wavelength_nm", wavelength_nm), incidence_deg=_numbers("incidence_deg", incidence_deg))
    return {name: dict(zip(POLARISATIONS, values.tolist(), strict=True)) for name, values in found._asdict().items()}


@formula(name="optics.stack", source=_SUM, status="oracle", unit="1", validity="one angle and polarisation, values per wavelength")
def optics_stack(*, sheets: Sequence[Record]) -> dict[str, list[float]]:
    """Sheets one behind the other, viewer's side first.

    Parameters
    ----------
    sheets : list
        Records ``{T[], R_front[], R_back[]}``, one value per wavelength. [-]

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
    responses = [_plain_sheet(number, record) for number, record in enumerate(sheets, start=1)]
    if len({one.T_front.size for one in responses}) > 1:
        raise RangeError("All sheets of a stack need the same number of wavelengths.")
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
    one, two = _numbers("lab1", lab1), _numbers("lab2", lab2)
    if one.shape[-1] != 3 or two.shape[-1] != 3:
        raise RangeError("A colour is three numbers: L*, a*, b*.")
    found = colour.difference(one, two)
    return found.tolist()  # type: ignore[no-any-return]


def _layer(number: int, record: Record) -> Layer:
    place = f"layers[{number}]"
    return layer(
        n=_numbers(f"{place}.n", _entry(record, "n", place)),
        k=_numbers(f"{place}.k", record.get("k", 0.0)),
        thickness_nm=float(_numbers(f"{place}.thickness_nm", _entry(record, "thickness_nm", place))[0]),
        coherent=bool(record.get("coherent", True)),
    )


def _plain_sheet(number: int, record: Record) -> Response:
    place = f"sheets[{number}]"
    T, front, back = (_numbers(f"{place}.{name}", _entry(record, name, place)) for name in ("T", "R_front", "R_back"))
    if not T.shape == front.shape == back.shape:
        raise RangeError(f"{place}: T, R_front and R_back need the same number of values.")
    return stacks.plain_sheet(T=T, R_front=front, R_back=back)


def _entry(record: Record, name: str, place: str) -> Any:
    if name not in record:
        raise RangeError(f"{place} lacks {name}.")
    return record[name]


def _numbers(name: str, value: Any) -> NDArray[np.float64]:
    try:
        found = np.atleast_1d(np.asarray(value, dtype=float))
    except (TypeError, ValueError):
        raise RangeError(f"{name} must hold numbers.") from None
    if found.size == 0 or not np.all(np.isfinite(found)):
        raise RangeError(f"{name} must hold at least one number, all of them finite.")
    return found
