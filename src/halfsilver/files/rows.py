"""A table in a workshop's folder: comma-separated text with a row of names, a row of units, then one row per entry.

Each row becomes the tree that a group of keys in a YAML file would give, so that one decoder reads both. A bare number takes the unit
of its column; an empty cell is an absent key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from halfsilver.errors import Problem, QuantityError
from halfsilver.files.located import Entry, MappingNode, Place, ScalarNode
from halfsilver.files.shape import Key, Leaf, Record
from halfsilver.units.kinds import SCALES
from halfsilver.units.quantities import read_quantity
from halfsilver.units.words import nearest_word

_CELL: Final = re.compile(r'[ \t]*(?:"((?:[^"]|"")*)"[ \t]*|([^",]*))(?=,|$)')
_BARE: Final = re.compile(r"[+-]?[0-9.][0-9./ -]*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """The entries of a table, each with its cells; and what is wrong with the table itself."""

    entries: tuple[MappingNode, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    """A column: its key, the unit that its bare numbers take, and whether its cells may be empty."""

    key: str
    unit: str
    required: bool


def read_rows(text: str, record: Record, *, file: str, units: Mapping[str, str] | None = None) -> Rows:
    """The rows of a table as trees.

    Parameters
    ----------
    text : str
        Comma-separated, one row per line.
    record : Record
        What an entry may hold; the columns are its keys.
    file : str
        Name that problems show.
    units : mapping of str to str, optional
        Columns of plain numbers or amounts and the one unit in which they count, such as ``{"flux": "lm/m"}``.

    Returns
    -------
    Rows
        No entries where the two head rows are wrong: every row would repeat the same mistake.
    """
    every = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    lines = [(number, line) for number, line in enumerate(every, start=1) if line.strip(", \t;")]
    if not lines:
        empty = _problem("empty-file", file, 1, 1, allowed="The file is empty.", advice=f"Begin with: {','.join(record.keys)}")
        return Rows(entries=(), problems=(empty,))
    head = _cells(*lines[0])
    # The unit row may be empty but for its commas, so it is looked for by place, not by content.
    below = lines[0][0]
    unit_row = _cells(below + 1, every[below] if below < len(every) else "")
    problems = [*_head_problems(head, record, file), *_unit_problems(head, unit_row, record, units or {}, file)]
    if problems:
        return Rows(entries=(), problems=tuple(problems))
    columns = [_column(cell.text, unit.text, record) for cell, unit in zip(head, unit_row, strict=True)]
    found = [_entry(number, line, columns, file) for number, line in lines if number > below + 1]
    return Rows(
        entries=tuple(row for row in found if isinstance(row, MappingNode)),
        problems=tuple(row for row in found if isinstance(row, Problem)),
    )


def _spans(line: str) -> list[tuple[str, int, int]]:
    """Text, begin and end of the cells of a line; empty when a quote does not end as it should."""
    spans, at = [], 0
    while at <= len(line):
        match = _CELL.match(line, at)
        if match is None:
            return []
        quoted, bare = match.groups()
        spans.append((bare.strip() if quoted is None else quoted.replace('""', '"').strip(), at, match.end()))
        at = match.end() + 1
    return spans


def _cells(number: int, line: str) -> tuple[ScalarNode, ...]:
    return tuple(_node(text, number, begin, end) for text, begin, end in _spans(line))


def _node(text: str, number: int, begin: int, end: int) -> ScalarNode:
    return ScalarNode(text=text, quoted=False, start=Place(number, begin + 1, 0), end=Place(number, end + 1, 0))


def _column(key: str, unit: str, record: Record) -> _Column:
    known = record.keys[key]
    return _Column(key=key, unit=unit if _kind(known) in SCALES else "", required=known.required)


def _entry(number: int, line: str, columns: list[_Column], file: str) -> MappingNode | Problem:
    spans = _spans(line)
    if not spans:
        words = "A quoted cell ends in its own line, and after its quote stands a comma or nothing."
        return _problem("table-quote", file, number, 1, read=line[:60], allowed=words, advice="Close the quote.")
    if len(spans) != len(columns):
        words = f"Each row has {len(columns)} cells, as the first one has; this one has {len(spans)}."
        advice = "Look for a comma too many or too few in this row."
        return _problem("row-length", file, number, 1, read=line[:60], allowed=words, advice=advice)
    entries = tuple(_keyed(column, number, *span) for column, span in zip(columns, spans, strict=True) if span[0] or column.required)
    return MappingNode(entries=entries, flow=True, start=Place(number, 1, 0), end=Place(number, len(line) + 1, 0))


def _keyed(column: _Column, number: int, text: str, begin: int, end: int) -> Entry:
    cell = _node(f"{text} {column.unit}" if column.unit and _BARE.fullmatch(text) else text, number, begin, end)
    return Entry(key=column.key, place=cell.start, value=cell)


def _head_problems(head: tuple[ScalarNode, ...], record: Record, file: str) -> Iterator[Problem]:
    known = ", ".join(record.keys)
    if len(head) < 2:
        read = head[0] if head else ScalarNode(text="", quoted=False, start=Place(1, 1, 0), end=Place(1, 1, 0))
        advice = "Save the table as comma-separated text (UTF-8)."
        yield _at("not-comma-separated", file, read, "", allowed="Columns stand apart by commas.", advice=advice)
        return
    names = [cell.text for cell in head]
    for i, cell in enumerate(head):
        if cell.text in names[:i]:
            yield _at("duplicate-column", file, cell, cell.text, allowed="Each column stands once.", advice="Remove one of the two.")
        elif cell.text not in record.keys:
            near = nearest_word(cell.text, [name for name in record.keys if name not in names])
            advice = f"Did you mean {near}?" if near else "Remove it."
            yield _at("unknown-column", file, cell, cell.text, allowed=f"Columns here: {known}.", advice=advice)
            names.append(near or "")
    for name, key in record.keys.items():
        if key.required and name not in names:
            words = f"The column {name} is due here{f': {key.doc}' if key.doc else ''}."
            yield _problem("missing-column", file, head[0].start.line, 1, path=name, allowed=words, advice=f"Add a column {name}.")


def _unit_problems(
    head: tuple[ScalarNode, ...], units: tuple[ScalarNode, ...], record: Record, counted: Mapping[str, str], file: str
) -> Iterator[Problem]:
    if len(head) < 2:
        return
    if len(units) != len(head):
        line = head[0].start.line + 1
        words = f"The second row gives the unit of each column, {len(head)} cells; it has {len(units)}."
        yield _problem("unit-row-length", file, line, 1, allowed=words, advice="Leave a cell empty where a column has no unit.")
        return
    for name, unit in {name.text: unit for name, unit in zip(reversed(head), reversed(units), strict=True)}.items():
        if name in record.keys:
            yield from _unit_problem(name, unit, _kind(record.keys[name]), counted.get(name, ""), file)


def _unit_problem(name: str, unit: ScalarNode, kind: str, counted: str, file: str) -> Iterator[Problem]:
    if kind in SCALES and not unit.text:
        advice = f"Write {next(iter(SCALES[kind].factors))}, for example."
        yield _at("missing-unit", file, unit, name, allowed="This column says here in which unit its bare numbers are.", advice=advice)
    elif kind in SCALES:
        try:
            read_quantity(kind, f"1 {unit.text}")
        except QuantityError as error:
            advice = f"Write {next(iter(SCALES[kind].factors))}, for example."
            yield _at("wrong-unit", file, unit, name, allowed=error.allowed, advice=advice)
    elif unit.text and unit.text != counted and (counted or kind != "amount"):
        advice = f"Write {counted} or leave the cell empty." if counted else "Leave the cell empty."
        words = f"This column counts in {counted}." if counted else "This column has no unit."
        yield _at("wrong-unit", file, unit, name, allowed=words, advice=advice)


def _kind(key: Key) -> str:
    return key.shape.quantity.kind if isinstance(key.shape, Leaf) and key.shape.quantity is not None else ""


def _at(code: str, file: str, cell: ScalarNode, path: str, *, allowed: str, advice: str) -> Problem:
    return _problem(code, file, cell.start.line, cell.start.column, path=path, read=cell.text[:60], allowed=allowed, advice=advice)


def _problem(code: str, file: str, line: int, column: int, *, path: str = "", read: str = "", allowed: str, advice: str) -> Problem:
    return Problem(code=code, file=file, line=line, column=column, path=path, read=read, allowed=allowed, advice=advice)
