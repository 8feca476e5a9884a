"""A catalogue's sheet that is given by its films: coated face first, from the tables of materials."""

from __future__ import annotations

import numpy as np

from halfsilver.files import tables
from halfsilver.files.films import films
from halfsilver.model.workshop import GlassKind
from halfsilver.optics.colour import luminous
from halfsilver.optics.films import Layer, layer
from halfsilver.optics.piece import GRID_DEG
from halfsilver.optics.sheets import Sheet, sheet
from halfsilver.optics.standard import WAVELENGTH_NM

USUAL_BODY = "clear_float"


def sheet_of_films(kind: GlassKind) -> Sheet:
    """The sheet with its coated face in front.

    Raises
    ------
    DataError
        If there is no such material.
    ValueError
        If its films cannot be read.
    """
    body = _layer(kind.body or USUAL_BODY, thickness_nm=kind.thickness * 1e6, coherent=False)
    coated, plain = (
        [_layer(name, thickness_nm=nm, coherent=True) for name, nm in films(text)] for text in (kind.films_coated, kind.films_plain)
    )
    return sheet([*reversed(coated), body, *plain], wavelength_nm=WAVELENGTH_NM, incidence_deg=GRID_DEG)


def said_of_films(kind: GlassKind) -> str:
    """What the films give straight on, beside what is printed."""
    response = sheet_of_films(kind).response
    T, front, back = (float(luminous(one[:, 0].mean(axis=0))) for one in (response.T_front, response.R_front, response.R_back))
    far = max(abs(T - kind.T), abs(front - kind.R_coated), abs(back - kind.R_plain))
    apart = f", farther from what is printed ({kind.T:.1%}, {kind.R_coated:.1%}, {kind.R_plain:.1%}) than its limit of error"
    return f"{kind.id} by its films: T {T:.1%}, R {front:.1%} coated and {back:.1%} plain" + (
        apart if far > kind.uncertainty + 0.005 else ""
    )


def _layer(name: str, *, thickness_nm: float, coherent: bool) -> Layer:
    table = tables.material(name)
    grid = table.numbers("wavelength", unit="nm")
    n, k = (np.interp(WAVELENGTH_NM, grid, table.numbers(part, unit="1")) for part in ("n", "k"))
    return layer(n=n, k=k, thickness_nm=thickness_nm, coherent=coherent)
