"""Reference tables that come with the program: CSV with a row of names, a row of units, then one row per entry.

The reader checks what a table must hold before any formula uses it. A table that fails is a fault of the program
(:class:`~halfsilver.errors.DataError`), not of the job.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import isfinite
from pkgutil import get_data

from halfsilver.errors import DataError

TEXT = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One reference table.

    Parameters
    ----------
    name : str
        Path under ``data``, without ending.
    units : mapping of str to str
        Unit of each column; ``text`` for words, ``1`` for a pure number.
    columns : mapping of str to tuple
        Values of each column, floats or (for ``text``) strings. An empty cell in a number column is not a number.
    """

    name: str
    units: Mapping[str, str]
    columns: Mapping[str, tuple[float, ...] | tuple[str, ...]]

    def numbers(self, column: str, *, unit: str) -> tuple[float, ...]:
        """A column of numbers; the caller says in which unit it counts on them.

        Raises
        ------
        DataError
            If there is no such column or its unit is another.
        """
        found = self.units.get(column)
        if found != unit or unit == TEXT:
            raise DataError(f"{self.name}: column {column} is in {found or 'no unit (it is not there)'}, wanted in {unit}.")
        return self.columns[column]  # type: ignore[return-value]

    def words(self, column: str) -> tuple[str, ...]:
        """A column of text."""
        if self.units.get(column) != TEXT:
            raise DataError(f"{self.name}: column {column} is not text.")
        return self.columns[column]  # type: ignore[return-value]

    def rows(self) -> tuple[dict[str, float | str], ...]:
        """The same row by row."""
        return tuple(dict(zip(self.columns, row, strict=True)) for row in zip(*self.columns.values(), strict=True))


@cache
def load(name: str) -> Table:
    """The table ``data/<name>.csv`` of the package.

    Raises
    ------
    DataError
        If it is missing or malformed.
    """
    try:
        found = get_data("halfsilver.data", f"{name}.csv")
    except OSError:
        found = None
    if found is None:
        raise DataError(f"The program's table {name} is missing.")
    return parse(found.decode("utf-8"), name=name)


def parse(text: str, *, name: str) -> Table:
    r"""A table from its text (see the head of this module).

    Examples
    --------
    >>> parse("width,kind\nmm,text\n12,oak\n", name="example").numbers("width", unit="mm")
    (12.0,)
    """
    head, units, *rows = [row for row in csv.reader(text.splitlines()) if row] or [[], []]
    if not head or len(units) != len(head) or len(set(head)) != len(head) or not rows:
        raise DataError(f"{name}: needs a row of different names, a row of units and at least one entry.")
    if any(not unit.strip() for unit in units):
        raise DataError(f"{name}: a column has no unit; write 1 for a pure number and text for words.")
    if any(len(row) != len(head) for row in rows):
        raise DataError(f"{name}: a row has more or fewer cells than there are names.")
    columns = {
        column: tuple(row[i] for row in rows) if units[i] == TEXT else tuple(_number(row[i], f"{name}: {column}") for row in rows)
        for i, column in enumerate(head)
    }
    return Table(name=name, units=dict(zip(head, units, strict=True)), columns=columns)


def rising(table: Table, column: str, *, unit: str) -> tuple[float, ...]:
    """A column that must increase from row to row, as an axis does."""
    values = table.numbers(column, unit=unit)
    if not all(a < b for a, b in pairwise(values)):
        raise DataError(f"{table.name}: {column} must increase from row to row.")
    return values


def within(table: Table, column: str, *, unit: str, least: float, most: float) -> tuple[float, ...]:
    """A column whose values must lie between physical limits."""
    return _each(table, column, unit, lambda value: least <= value <= most, f"between {least:g} and {most:g}")


def material(name: str) -> Table:
    """Index of a material: columns ``wavelength`` [nm], ``n`` and ``k``, checked."""
    table = load(f"optics/materials/{name}")
    rising(table, "wavelength", unit="nm")
    within(table, "n", unit="1", least=1e-6, most=10.0)
    within(table, "k", unit="1", least=0.0, most=20.0)
    return table


def spectrum(name: str) -> Table:
    """A sheet's measured spectrum: ``wavelength`` [nm], ``t``, ``r_front``, ``r_back``, checked so that R + T is at most 1.02."""
    return checked_spectrum(load(name))


def checked_spectrum(table: Table) -> Table:
    """The same check for a table from elsewhere, such as a workshop's folder."""
    rising(table, "wavelength", unit="nm")
    t, front, back = (within(table, column, unit="1", least=0.0, most=1.0) for column in ("t", "r_front", "r_back"))
    if any(passed + max(a, b) > 1.02 for passed, a, b in zip(t, front, back, strict=True)):
        raise DataError(f"{table.name}: R + T exceeds 1.02.")
    return table


def _number(text: str, place: str) -> float:
    if not text.strip():
        return float("nan")
    try:
        value = float(text)
    except ValueError:
        value = float("inf")
    if not isfinite(value):
        raise DataError(f'{place}: "{text}" is not a number.')
    return value


def _each(table: Table, column: str, unit: str, holds: Callable[[float], bool], what: str) -> tuple[float, ...]:
    values = table.numbers(column, unit=unit)
    for row, value in enumerate(values, start=3):
        if not holds(value):
            raise DataError(f"{table.name}, row {row}: {column} is {value:g}; it must be {what}.")
    return values
