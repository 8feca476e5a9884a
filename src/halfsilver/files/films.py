"""Films on a sheet as a cell of ``glass.csv`` writes them: ``niobia 58, silica 94``, in nm, the one that touches the glass first."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from halfsilver.files import tables
from halfsilver.files.folder import Reading, Table
from halfsilver.files.located import MappingNode
from halfsilver.model.workshop import GlassKind
from halfsilver.units.words import nearest_word

THICKEST_NM: Final = 5000.0
MOST_FILMS: Final = 60
_FILM: Final = re.compile(r"\s*([a-z_]+)\s+([0-9]+(?:\.[0-9]+)?)\s*(?:nm)?\s*")


def films(text: str) -> tuple[tuple[str, float], ...]:
    """Material and thickness [nm] of each film, from the glass outwards.

    Raises
    ------
    ValueError
        With what may be written.

    Examples
    --------
    >>> films("niobia 58, silica 94 nm")
    (('niobia', 58.0), ('silica', 94.0))
    """
    parts = re.split(r"[,;]", text) if text.strip() else []
    if len(parts) > MOST_FILMS:
        raise ValueError(f"A face has at most {MOST_FILMS} films.")
    return tuple(_film(part) for part in parts)


def _film(part: str) -> tuple[str, float]:
    match = _FILM.fullmatch(part)
    if match is None:
        raise ValueError(f'A film is a material and its thickness in nm, such as "silica 94"; this is "{part.strip()[:30]}".')
    name, thickness = match[1], float(match[2])
    known = tables.load("optics/materials").words("name")
    if name not in known:
        near = nearest_word(name, list(known))
        raise ValueError(f"Known materials: {', '.join(known)}." + (f" Did you mean {near}?" if near else ""))
    if not 0 < thickness <= THICKEST_NM:
        raise ValueError(f"A film is more than 0 and at most {THICKEST_NM:g} nm thick.")
    return name, thickness


def check_films(reading: Reading, glass: Table[GlassKind]) -> None:
    """Note each sheet whose films or whose glass cannot be."""
    for row, kind in glass.pairs():
        for column, fault in _faults(kind):
            _note(reading, glass.file, row, kind, column, fault)


def _faults(kind: GlassKind) -> Iterator[tuple[str, str]]:
    if not kind.by_films:
        return
    if kind.spectrum:
        yield "spectrum", "A sheet is given by its films or by a measured spectrum, not by both."
    known = tables.load("optics/materials").words("name")
    if kind.body and kind.body not in known:
        yield "body", f"Known materials: {', '.join(known)}."
    for column in ("films_coated", "films_plain"):
        try:
            films(getattr(kind, column))
        except ValueError as error:
            yield column, str(error)


def _note(reading: Reading, file: str, row: MappingNode, kind: GlassKind, column: str, fault: str) -> None:
    reading.note(
        "films-cannot-be", file, row.get(column) or row, f"{kind.id}.{column}", allowed=fault, advice="Write it like niobia 58, silica 94."
    )
