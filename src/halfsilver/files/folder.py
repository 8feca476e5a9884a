"""A workshop's folder while it is being read: its files as trees and values, and every problem met on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Generic, TypeVar

from halfsilver.errors import JobError, Problem
from halfsilver.files.decode import decode_all
from halfsilver.files.located import MappingNode, Node, ScalarNode, locate, read_bytes, text_of
from halfsilver.files.rows import read_rows
from halfsilver.files.shape import record_of

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Table(Generic[T]):
    """What a table gave.

    Parameters
    ----------
    file : str
        As problems show it.
    rows : tuple of MappingNode
        Its entries as trees.
    values : tuple
        The same as values; None in place of a row that holds a mistake.
    whole : bool
        Whether every row could be told apart from its neighbours, so that the ids are complete.
    """

    file: str
    rows: tuple[MappingNode, ...] = ()
    values: tuple[T | None, ...] = ()
    whole: bool = False

    @property
    def ids(self) -> dict[str, MappingNode]:
        """The first row of each id, also of rows that hold a mistake."""
        return {name: row for row in reversed(self.rows) if (name := text_at(row, "id"))}

    def pairs(self) -> Iterator[tuple[MappingNode, T]]:
        """Rows without a mistake, each with its value."""
        return ((row, value) for row, value in zip(self.rows, self.values, strict=True) if value is not None)

    def by_id(self) -> dict[str, T]:
        """The values by id."""
        return {text_at(row, "id"): value for row, value in self.pairs()}


@dataclass(slots=True)
class Reading:
    """A folder as it is being read, with the problems so far."""

    folder: Path
    problems: list[Problem] = field(default_factory=list)

    def document(self, name: str, cls: type[T], *, kind: str) -> tuple[MappingNode | None, T | None]:
        """Tree and value of a YAML file whose key ``halfsilver`` says ``kind``; None for what could not be read."""
        file = str(self.folder / name)
        try:
            tree = locate(self._text(name), file=file)
        except JobError as error:
            self.problems += error.problems
            return None, None
        value, problems = decode_all(tree, cls, file=file)
        self.problems += problems
        if value is not None and text_at(tree, "halfsilver") != kind:
            self.note(
                "wrong-kind-of-file", file, tree.get("halfsilver"), "halfsilver",
                allowed=f"This file is of the kind {kind}.", advice=f"Write `halfsilver: {kind}`.",
            )  # fmt: skip
        return tree, value

    def table(
        self, name: str, cls: type[T], *, units: Mapping[str, str] | None = None, mend: Callable[[MappingNode], MappingNode] | None = None
    ) -> Table[T]:
        """Rows of a table (see :func:`halfsilver.files.rows.read_rows`), each mended before it is decoded; none where unreadable."""
        file = str(self.folder / name)
        try:
            rows = read_rows(self._text(name), record_of(cls), file=file, units=units)
        except JobError as error:
            self.problems += error.problems
            return Table(file=file)
        entries = rows.entries if mend is None else tuple(mend(row) for row in rows.entries)
        read = [decode_all(row, cls, file=file, path=text_at(row, "id")) for row in entries]
        self.problems += rows.problems
        self.problems += [problem for _, problems in read for problem in problems]
        return Table(file=file, rows=entries, values=tuple(value for value, _ in read), whole=not rows.problems)

    def note(self, code: str, file: str, node: Node | None, path: str, *, allowed: str, advice: str) -> None:
        """Add a problem at a node."""
        line, column = (node.start.line, node.start.column) if node is not None else (0, 0)
        read = node.text[:60] if isinstance(node, ScalarNode) else ""
        self.problems.append(Problem(code=code, file=file, line=line, column=column, path=path, read=read, allowed=allowed, advice=advice))

    def _text(self, name: str) -> str:
        path = self.folder / name
        try:
            return text_of(read_bytes(path), file=str(path))
        except JobError as error:
            advice = "Every workshop has this file; `halfsilver workshop copy DIR` writes a fresh one."
            raise JobError(replace(p, advice=advice) if p.code == "file-missing" else p for p in error.problems) from None


def inside(node: Node | None, key: str) -> Node | None:
    """What stands at a key; None where there is no such key or no mapping."""
    return node.get(key) if isinstance(node, MappingNode) else None


def text_at(node: Node | None, key: str) -> str:
    """The text at a key; empty where there is none."""
    found = inside(node, key)
    return found.text if isinstance(found, ScalarNode) else ""
