"""The outline of one moulding as a file of its own, a drawing or a table of corners, and its place in a workshop's ``profiles.csv``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.decode import decode_all
from halfsilver.files.located import text_of
from halfsilver.files.outline_dxf import outline_from_dxf
from halfsilver.files.profiles import profile_fault
from halfsilver.files.rows import read_rows
from halfsilver.files.shape import record_of
from halfsilver.geometry.polygon import Point
from halfsilver.model.quantities import Length
from halfsilver.units.factors import MM_PER_INCH

PROFILES: Final = "profiles.csv"
UNITS_MM: Final = {"mm": 1.0, "in": MM_PER_INCH}


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlinePoint:
    """One corner: a row of a table of corners."""

    x: Length = field(metadata={"doc": "from the outer edge towards the opening"})
    z: Length = field(metadata={"doc": "from the highest part of the face backwards"})


def outline_of(data: bytes, *, file: str, unit: str = "") -> tuple[Point, ...]:
    """Corners of a moulding's outline from a drawing (DXF) or a table with the columns x and z. [mm]

    Parameters
    ----------
    data : bytes
        The file; what it is is told by what it holds.
    file : str
        Name that problems show.
    unit : str
        ``mm`` or ``in``: of a drawing that does not name its own, or names a wrong one.

    Raises
    ------
    JobError
        If it cannot be read, or the outline can be no moulding's profile.
    """
    points = outline_from_dxf(data, file=file, unit_mm=UNITS_MM.get(unit)) if _is_drawing(data) else _from_table(data, file)
    if (fault := profile_fault(points)) is not None:
        where = f"corner {fault.at + 1}"
        read = "{:g}, {:g}".format(*points[fault.at]) if fault.at < len(points) else ""
        raise JobError([Problem(code=fault.code, file=file, path=where, read=read, allowed=fault.allowed, advice=fault.advice)])
    return points


def with_outline(table: str, moulding: str, points: Sequence[Point]) -> str:
    """The text of ``profiles.csv`` with the corners of one moulding in place of those it had; every other line stays as it is.

    Raises
    ------
    JobError
        If the table has other columns than it should.
    """
    ending = "\r\n" if "\r\n" in table else "\n"
    lines = table.splitlines()
    names = [name.strip() for name in lines[0].split(",")] if lines else []
    if sorted(names) != ["moulding", "x", "z"] or len(lines) < 2:
        words = "The table of outlines has the columns moulding, x and z, and a row of units."
        raise JobError([Problem(code="missing-column", file=PROFILES, line=1, column=1, allowed=words, advice="Mend it first.")])
    at = names.index("moulding")
    kept = [line for line in lines[2:] if [cell.strip().strip('"') for cell in line.split(",")][at : at + 1] != [moulding]]
    corners = [{"moulding": moulding, "x": _written(x), "z": _written(z)} for x, z in points]
    return ending.join([*lines[:2], *kept, *(",".join(corner[name] for name in names) for corner in corners), ""])


def _written(value_mm: float) -> str:
    return f"{value_mm:.4f}".rstrip("0").rstrip(".") + " mm"


def _is_drawing(data: bytes) -> bool:
    """A drawing begins with a group code alone in its line, or is binary."""
    first = data[:200].lstrip().split(b"\n")[0].strip()
    return first in {b"0", b"999"} or b"\x00" in data[:4096] or b"SECTION" in data[:4096]


def _from_table(data: bytes, file: str) -> tuple[Point, ...]:
    rows = read_rows(text_of(data, file=file), record_of(OutlinePoint), file=file)
    read = [decode_all(row, OutlinePoint, file=file) for row in rows.entries]
    problems = (*rows.problems, *(problem for _, some in read for problem in some))
    if problems:
        raise JobError(problems[:100])
    return tuple((point.x, point.z) for point, _ in read if point is not None)
