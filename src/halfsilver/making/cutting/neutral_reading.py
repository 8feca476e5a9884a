"""Reading the neutral form: plain dictionaries into instances and solutions, every problem gathered.

A key that nobody knows is taken as information, unless it looks like
a slip of a known one.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from halfsilver.errors import JobError, Problem
from halfsilver.making.cutting.instance import (
    Bar,
    BarPiece,
    End,
    FirstCut,
    Instance,
    LinearInstance,
    MitreRule,
    Pane,
    Sheet,
    SheetInstance,
    Trim,
)  # fmt: skip
from halfsilver.making.cutting.solution import (
    BarCut,
    BarPlan,
    LinearSolution,
    Node,
    PlacedPane,
    SheetPlan,
    SheetSolution,
    Solution,
)  # fmt: skip

MOST_LENGTH = 10**9
MOST_PIECES = 20_000
MOST_DEPTH = 60

_INSTANCE_KEYS = {
    "format", "id", "unit", "kind", "kerf", "trim", "stock", "pieces", "mitre", "increment", "remnant_min", "guillotine", "stages",
    "exact", "first_cut", "min_strip", "sequence", "reference", "note", "notes",
}  # fmt: skip
_STOCK_KEYS = {"id", "length", "width", "height", "qty", "cost", "offcut", "trim"}
_PIECE_KEYS = {"id", "length", "width", "height", "qty", "ends", "left", "right", "rotate"}
_SIDES_1D = {"start": "left", "end": "right"}
_SIDES_2D = {"left": "left", "right": "right", "bottom": "bottom", "top": "top"}


def instance_from_dict(data: object) -> Instance:
    """Read one instance.

    Parameters
    ----------
    data : object
        What the JSON text held.

    Returns
    -------
    LinearInstance or SheetInstance
        The task.

    Raises
    ------
    JobError
        With every problem found; each carries the dotted path of its value.
    """
    reader = _Reader()
    instance = reader.instance(data)
    if instance is None or reader.problems:
        raise JobError(reader.problems)
    return instance


def solution_from_dict(data: object) -> Solution:
    """Read one solution; extra keys such as cost and bound are passed over.

    Raises
    ------
    JobError
        With every problem found; each carries the dotted path of its value.
    """
    reader = _Reader()
    solution = reader.solution(data)
    if solution is None or reader.problems:
        raise JobError(reader.problems)
    return solution


@dataclass(slots=True)
class _Reader:
    """Gathers problems while it reads; a bad value is replaced by a harmless one so that reading can go on."""

    problems: list[Problem] = field(default_factory=list)

    def bad(self, code: str, path: str, read: object, allowed: str, advice: str = "") -> None:
        self.problems.append(Problem(code=code, path=path, read=repr(read)[:60], allowed=allowed, advice=advice))

    def table(self, data: object, path: str) -> Mapping[str, Any]:
        if isinstance(data, Mapping):
            return data
        self.bad("cut-not-an-object", path, data, "An object {...} belongs here.")
        return {}

    def entries(self, data: object, path: str) -> Sequence[Any]:
        if isinstance(data, list | tuple):
            return data
        self.bad("cut-not-a-list", path, data, "A list [...] belongs here.")
        return ()

    def whole(
        self, table: Mapping[str, Any], key: str, path: str, *, default: int | None = None, least: int = 0, most: int = MOST_LENGTH
    ) -> int:
        value = table.get(key, default)
        if isinstance(value, int) and not isinstance(value, bool) and least <= value <= most:
            return value
        advice = "Choose a finer unit so that every length is whole." if isinstance(value, float) else ""
        self.bad("cut-whole-number", _join(path, key), value, f"A whole number from {least} to {most} belongs here.", advice)
        return max(least, 1)

    def word(self, table: Mapping[str, Any], key: str, path: str) -> str:
        value = table.get(key)
        if isinstance(value, str) and value:
            return value
        self.bad("cut-name-missing", _join(path, key), value, "A name in quotes belongs here.")
        return ""

    def truth(self, table: Mapping[str, Any], key: str, path: str, *, default: bool) -> bool:
        value = table.get(key, default)
        if isinstance(value, bool):
            return value
        self.bad("cut-true-or-false", _join(path, key), value, "true or false belongs here.")
        return default

    def known(self, table: Mapping[str, Any], keys: set[str], path: str) -> None:
        for key in table:
            near = [] if key in keys else difflib.get_close_matches(str(key), sorted(keys), n=1, cutoff=0.79)
            if near:
                self.bad("cut-unknown-key", _join(path, str(key)), key, f"There is no key {key!r} here.", f"Write {near[0]!r}.")

    # -- instances ---------------------------------------------------------------------------------------------------------------

    def instance(self, data: object) -> Instance | None:
        table = self.table(data, "")
        if self.problems:
            return None
        if table.get("format", "cut-instance/1") != "cut-instance/1":
            self.bad("cut-format", "format", table["format"], "cut-instance/1 is read here.")
            return None
        self.known(table, _INSTANCE_KEYS, "")
        kind = table.get("kind")
        if kind == "1d":
            return self._linear(table)
        if kind == "2d":
            return self._sheets(table)
        self.bad("cut-kind", "kind", kind, 'The kind is "1d" or "2d".')
        return None

    def _linear(self, table: Mapping[str, Any]) -> LinearInstance:
        trim = self._trim(table.get("trim"), "trim", _SIDES_1D)
        stock = tuple(self._bar(entry, f"stock.{i}", trim) for i, entry in enumerate(self.entries(table.get("stock"), "stock")))
        pieces = tuple(self._bar_piece(entry, f"pieces.{i}") for i, entry in enumerate(self.entries(table.get("pieces"), "pieces")))
        self._ids(stock, pieces)
        kerf = self.whole(table, "kerf", "", default=0)
        mitre = table.get("mitre")
        return LinearInstance(
            id=self._id(table), unit=self._unit(table), kerf=kerf, stock=stock, pieces=pieces,
            mitre=MitreRule(kerf=kerf) if mitre is None else self._mitre(mitre, kerf),
            increment=self._optional(table, "increment"), remnant_min=self._optional(table, "remnant_min"),
            sequence=self._sequence(table, pieces),
        )  # fmt: skip

    def _sheets(self, table: Mapping[str, Any]) -> SheetInstance:
        trim = self._trim(table.get("trim"), "trim", _SIDES_2D)
        stock = tuple(self._sheet(entry, f"stock.{i}", trim) for i, entry in enumerate(self.entries(table.get("stock"), "stock")))
        pieces = tuple(self._pane(entry, f"pieces.{i}") for i, entry in enumerate(self.entries(table.get("pieces"), "pieces")))
        self._ids(stock, pieces)
        if self.truth(table, "guillotine", "", default=True) is False:
            self.bad("cut-guillotine", "guillotine", False, "Only edge-to-edge cuts are planned here.", "Leave the key out.")
        first = "any" if table.get("first_cut") is None else table["first_cut"]
        if first not in ("h", "v", "any"):
            self.bad("cut-first-cut", "first_cut", first, 'The first cut is "h", "v" or "any".')
            first = "any"
        stages = None if table.get("stages") is None else self.whole(table, "stages", "", least=2, most=MOST_DEPTH)
        return SheetInstance(
            id=self._id(table), unit=self._unit(table), kerf=self.whole(table, "kerf", "", default=0), stock=stock, pieces=pieces,
            stages=stages, exact=self.truth(table, "exact", "", default=False), first_cut=FirstCut(first),
            min_strip=self._optional(table, "min_strip"), sequence=self._sequence(table, pieces),
        )  # fmt: skip

    def _id(self, table: Mapping[str, Any]) -> str:
        return self.word(table, "id", "") if "id" in table else ""

    def _unit(self, table: Mapping[str, Any]) -> str:
        return self.word(table, "unit", "") if table.get("unit") else ""

    def _optional(self, table: Mapping[str, Any], key: str) -> int:
        return 0 if table.get(key) is None else self.whole(table, key, "")

    def _trim(self, data: object, path: str, sides: Mapping[str, str]) -> Trim:
        if data is None:
            return Trim()
        table = self.table(data, path)
        self.known(table, set(sides), path)
        return Trim(**{ours: self.whole(table, theirs, path, default=0) for theirs, ours in sides.items()})

    def _qty_cost(self, table: Mapping[str, Any], path: str, size: int) -> tuple[int | None, float]:
        qty = None if table.get("qty") is None else self.whole(table, "qty", path, most=10**6)
        cost = size if table.get("cost") is None else table["cost"]
        if isinstance(cost, bool) or not isinstance(cost, int | float) or not math.isfinite(cost) or not 0 <= cost <= 1e15:
            self.bad("cut-cost", _join(path, "cost"), cost, "A number of at least 0 belongs here.")
            cost = 0
        return qty, cost

    def _bar(self, data: object, path: str, trim: Trim) -> Bar:
        table = self.table(data, path)
        self.known(table, _STOCK_KEYS, path)
        length = self.whole(table, "length", path, least=1)
        own = self._trim(table["trim"], _join(path, "trim"), _SIDES_1D) if table.get("trim") is not None else trim
        qty, cost = self._qty_cost(table, path, length)
        return Bar(id=self.word(table, "id", path), length=length, qty=qty, cost=cost,
                   offcut=self.truth(table, "offcut", path, default=False), trim=own)  # fmt: skip

    def _sheet(self, data: object, path: str, trim: Trim) -> Sheet:
        table = self.table(data, path)
        self.known(table, _STOCK_KEYS, path)
        width, height = self.whole(table, "width", path, least=1), self.whole(table, "height", path, least=1)
        own = self._trim(table["trim"], _join(path, "trim"), _SIDES_2D) if table.get("trim") is not None else trim
        qty, cost = self._qty_cost(table, path, width * height)
        return Sheet(id=self.word(table, "id", path), width=width, height=height, qty=qty, cost=cost,
                     offcut=self.truth(table, "offcut", path, default=False), trim=own)  # fmt: skip

    def _bar_piece(self, data: object, path: str) -> BarPiece:
        table = self.table(data, path)
        self.known(table, _PIECE_KEYS, path)
        left, right = self._ends(table, path)
        return BarPiece(id=self.word(table, "id", path), length=self.whole(table, "length", path, least=1),
                        qty=self.whole(table, "qty", path, default=1, most=MOST_PIECES), left=left, right=right)  # fmt: skip

    def _pane(self, data: object, path: str) -> Pane:
        table = self.table(data, path)
        self.known(table, _PIECE_KEYS, path)
        return Pane(
            id=self.word(table, "id", path),
            width=self.whole(table, "width", path, least=1), height=self.whole(table, "height", path, least=1),
            qty=self.whole(table, "qty", path, default=1, most=MOST_PIECES), rotate=self.truth(table, "rotate", path, default=False),
        )  # fmt: skip

    def _ends(self, table: Mapping[str, Any], path: str) -> tuple[End, End]:
        both = table.get("ends", "square")
        if isinstance(both, Mapping):
            ends, place = both, _join(path, "ends")
        else:
            ends, place = {"left": table.get("left", both), "right": table.get("right", both)}, path
        return self._end(ends.get("left", "square"), _join(place, "left")), self._end(ends.get("right", "square"), _join(place, "right"))

    def _end(self, value: object, path: str) -> End:
        if value in ("square", "mitre"):
            return End(value)
        self.bad("cut-end", path, value, 'An end is "square" or "mitre".')
        return End.SQUARE

    def _mitre(self, data: object, kerf: int) -> MitreRule:
        table = self.table(data, "mitre")
        self.known(table, {"kerf", "nest", "flip"}, "mitre")
        return MitreRule(kerf=self.whole(table, "kerf", "mitre", default=kerf), nest=self.whole(table, "nest", "mitre", default=0),
                         flip=self.truth(table, "flip", "mitre", default=False))  # fmt: skip

    def _ids(self, stock: Sequence[Bar | Sheet], pieces: Sequence[BarPiece | Pane]) -> None:
        for name, entries in (("stock", stock), ("pieces", pieces)):
            if not entries and not self.problems:
                self.bad("cut-empty", name, [], "At least one entry is needed.")
            seen: set[str] = set()
            for i, entry in enumerate(entries):
                if entry.id and entry.id in seen:
                    self.bad("cut-name-twice", f"{name}.{i}.id", entry.id, "Every entry has a name of its own.")
                seen.add(entry.id)
        if sum(piece.qty for piece in pieces) > MOST_PIECES:
            self.bad(
                "cut-too-many",
                "pieces",
                sum(piece.qty for piece in pieces),
                f"At most {MOST_PIECES} pieces are planned at once.",
                "Split the batch.",
            )

    def _sequence(self, table: Mapping[str, Any], pieces: Sequence[BarPiece | Pane]) -> tuple[tuple[str, ...], ...]:
        if table.get("sequence") is None:
            return ()
        names = {piece.id for piece in pieces}
        chains = []
        for i, chain in enumerate(self.entries(table["sequence"], "sequence")):
            ids = self.entries(chain, f"sequence.{i}")
            for j, name in enumerate(ids):
                if not isinstance(name, str) or name not in names:
                    self.bad("cut-unknown-piece", f"sequence.{i}.{j}", name, "The id of a piece belongs here.")
            chains.append(tuple(str(name) for name in ids))
        return tuple(chains)

    # -- solutions ---------------------------------------------------------------------------------------------------------------

    def solution(self, data: object) -> Solution | None:
        table = self.table(data, "")
        if self.problems:
            return None
        if table.get("format") != "cut-solution/1":
            self.bad("cut-format", "format", table.get("format"), "cut-solution/1 is read here.")
            return None
        name = self._id({**table, "id": table["instance"]}) if "instance" in table else ""
        if "bars" in table:
            bars = self.entries(table["bars"], "bars")
            return LinearSolution(instance=name, bars=tuple(self._bar_plan(entry, f"bars.{i}") for i, entry in enumerate(bars)))
        sheets = self.entries(table.get("sheets"), "sheets")
        return SheetSolution(instance=name, sheets=tuple(self._sheet_plan(entry, f"sheets.{i}") for i, entry in enumerate(sheets)))

    def _bar_plan(self, data: object, path: str) -> BarPlan:
        table = self.table(data, path)
        cuts = self.entries(table.get("cuts"), _join(path, "cuts"))
        return BarPlan(
            stock=self.word(table, "stock", path), cuts=tuple(self._bar_cut(cut, f"{path}.cuts.{i}") for i, cut in enumerate(cuts))
        )

    def _bar_cut(self, data: object, path: str) -> BarCut:
        table = self.table(data, path)
        return BarCut(piece=self.word(table, "piece", path), start=self._place(table, "start", path), end=self._place(table, "end", path),
                      flipped=self.truth(table, "flipped", path, default=False))  # fmt: skip

    def _place(self, table: Mapping[str, Any], key: str, path: str) -> int:
        return self.whole(table, key, path, least=-MOST_LENGTH)

    def _sheet_plan(self, data: object, path: str) -> SheetPlan:
        table = self.table(data, path)
        stock = self.word(table, "stock", path)
        if table.get("tree") is not None:
            return SheetPlan(stock=stock, tree=self._node(table["tree"], _join(path, "tree"), MOST_DEPTH))
        cuts = self.entries(table.get("cuts"), _join(path, "cuts"))
        return SheetPlan(stock=stock, cuts=tuple(self._placed(cut, f"{path}.cuts.{i}") for i, cut in enumerate(cuts)))

    def _placed(self, data: object, path: str) -> PlacedPane:
        table = self.table(data, path)
        x, y, w, h = (self._place(table, key, path) for key in "xywh")
        return PlacedPane(piece=self.word(table, "piece", path), x=x, y=y, w=w, h=h)

    def _node(self, data: object, path: str, depth: int) -> Node:
        table = self.table(data, path)
        x, y, w, h = (self._place(table, key, path) for key in "xywh") if table else (0, 0, 1, 1)
        if depth == 0:
            self.bad("cut-too-deep", path, "...", f"A tree has at most {MOST_DEPTH} levels.")
            return Node(x=x, y=y, w=w, h=h, waste=True)
        kinds = [key for key in ("cut", "piece", "waste") if table.get(key)]
        if len(kinds) != 1:
            self.bad("cut-node", path, kinds, 'A node has exactly one of "cut", "piece" and "waste".')
        elif kinds == ["piece"]:
            return Node(x=x, y=y, w=w, h=h, piece=self.word(table, "piece", path))
        elif kinds == ["cut"]:
            if table["cut"] not in ("v", "h"):
                self.bad("cut-node", _join(path, "cut"), table["cut"], 'A cut is "v" or "h".')
            children = self.entries(table.get("children"), _join(path, "children"))
            below = tuple(self._node(child, f"{path}.children.{i}", depth - 1) for i, child in enumerate(children))
            return Node(x=x, y=y, w=w, h=h, cut="v" if table["cut"] == "v" else "h", children=below)
        return Node(x=x, y=y, w=w, h=h, waste=True)


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key
