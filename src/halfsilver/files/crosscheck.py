"""Whether a workshop's files fit each other: ids, references, outlines, and light that adds up."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, TypeAlias

from halfsilver.files.folder import Reading, Table, inside, text_at
from halfsilver.files.located import MappingNode, Node, ScalarNode, SequenceNode
from halfsilver.files.profiles import counter_clockwise, profile_fault
from halfsilver.geometry.polygon import Polygon
from halfsilver.model.quantities import Length
from halfsilver.model.workshop import GlassKind, Hardware, HardwareUse, Labour, Moulding, Rate, StockForm, StockSize
from halfsilver.units.words import nearest_word

_SIZES: Final[Mapping[StockForm, tuple[str, ...]]] = {
    StockForm.STICK: ("length",),
    StockForm.ROLL: ("length",),
    StockForm.SHEET: ("width", "height"),
    StockForm.EACH: (),
}
_USUAL: Final = {"plate": HardwareUse.PLATE, "bar": HardwareUse.BAR, "pin": HardwareUse.PIN}
_ANOTHER: Final = "Give one of the two another id."


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfilePoint:
    """One corner of a moulding's outline: a row of ``profiles.csv``."""

    moulding: str = field(metadata={"doc": "id of the moulding"})
    x: Length = field(metadata={"doc": "from the outer edge towards the opening"})
    z: Length = field(metadata={"doc": "from the highest part of the face backwards"})


_Corners: TypeAlias = list[tuple[MappingNode, ProfilePoint | None]]


def check_ids(reading: Reading, tables: tuple[Table[Any], ...]) -> None:
    """Note each id that stands a second time in the catalogues."""
    first: dict[str, str] = {}
    for table in tables:
        for row in table.rows:
            name = text_at(row, "id")
            if name in first:
                words = f"Each id stands once in the folder; this one stands already in {first[name]}."
                reading.note("duplicate-id", table.file, row.get("id"), name, allowed=words, advice=_ANOTHER)
            elif name:
                first[name] = f"{Path(table.file).name}, line {row.start.line}"


def check_glass(reading: Reading, glass: Table[GlassKind]) -> None:
    """Note each sheet that gives more light than falls on it, and each spectrum that is not there."""
    for row, kind in glass.pairs():
        side, most = max((("R_coated", kind.R_coated), ("R_plain", kind.R_plain)), key=lambda pair: pair[1])
        if kind.T + most > 1 + 1e-9:
            words = f"T and {side} together are at most 100 %; here they are {100 * (kind.T + most):g} %."
            advice = "Look the numbers up again: what is neither passed nor thrown back is absorbed."
            reading.note("more-light-than-falls-on-it", glass.file, row.get(side), f"{kind.id}.{side}", allowed=words, advice=advice)
        if kind.spectrum and not (reading.folder / kind.spectrum).is_file():
            words, advice = "There is no such file in the workshop's folder.", "Put the file there, or leave the cell empty."
            reading.note("file-missing", glass.file, row.get("spectrum"), f"{kind.id}.spectrum", allowed=words, advice=advice)


def outlines_of(reading: Reading, mouldings: Table[Moulding], points: Table[ProfilePoint]) -> dict[str, Polygon]:
    """The outlines by moulding, counter-clockwise; notes each that cannot be a profile, belongs to none, or is missing."""
    drawn: dict[str, _Corners] = {}
    for row, point in zip(points.rows, points.values, strict=True):
        drawn.setdefault(text_at(row, "moulding"), []).append((row, point))
    if not (mouldings.whole and points.whole):
        return {}
    _match(reading, mouldings, points.file, drawn)
    return {name: _outline(reading, points.file, name, corners) for name, corners in drawn.items() if name in mouldings.ids}


def _match(reading: Reading, mouldings: Table[Moulding], file: str, drawn: Mapping[str, _Corners]) -> None:
    for name, corners in drawn.items():
        if name not in mouldings.ids:
            _check_known(reading, file, corners[0][0].get("moulding"), "moulding", mouldings.ids, of="mouldings")
    for name, row in mouldings.ids.items():
        if name not in drawn:
            words = "Each moulding has its outline in profiles.csv; this one has no rows there."
            advice = "Write its corners down there."
            reading.note("moulding-without-profile", mouldings.file, row.get("id"), name, allowed=words, advice=advice)


def _outline(reading: Reading, file: str, name: str, corners: _Corners) -> Polygon:
    """The outline of one moulding; empty where a corner could not be read, which is noted already."""
    points = [(point.x, point.z) for _, point in corners if point is not None]
    if len(points) < len(corners):
        return ()
    if (fault := profile_fault(points)) is not None:
        reading.note(fault.code, file, corners[fault.at][0].get("x"), name, allowed=fault.allowed, advice=fault.advice)
    return counter_clockwise(points)


def check_stock(reading: Reading, stock: Table[StockSize], things: tuple[Table[Any], ...]) -> None:
    """Note each stock piece of something unknown, and each without the sizes of its form."""
    if all(table.whole for table in things):
        plain = {name for name, row in stock.ids.items() if text_at(row, "of") == name}
        known = plain.union(*(table.ids for table in things))
        for row in stock.rows:
            _check_known(reading, stock.file, row.get("of"), f"{text_at(row, 'id')}.of", known, of="things to buy")
    for row, size in stock.pairs():
        for name in _SIZES[size.form]:
            if not getattr(size, name):
                words, advice = f"A {size.form.value} has a {name}.", f"Write its {name}."
                reading.note("stock-without-size", stock.file, row.get(name) or row, f"{size.id}.{name}", allowed=words, advice=advice)


def check_habits(reading: Reading, head: MappingNode | None, hardware: Table[Hardware], stock: Table[StockSize]) -> None:
    """Note each habit that names hardware or timber that is not there, or is for another use."""
    file, habits = str(reading.folder / "workshop.yaml"), inside(inside(head, "allowances"), "habits")
    entries = hardware.by_id()
    for key, use in _USUAL.items():
        fitting = [name for name in hardware.ids if name not in entries or entries[name].use is use]
        if hardware.whole:
            _check_known(reading, file, inside(habits, key), f"allowances.habits.{key}", fitting, of=f"hardware for use as {use.value}")
    if stock.whole:
        _check_known(reading, file, inside(habits, "batten"), "allowances.habits.batten", stock.ids, of="stock")


def check_labour(reading: Reading, labour: Table[Labour], rates: Table[Rate]) -> None:
    """Note each operation or rate that stands twice, and each operation whose rate is not there."""
    check_ids(reading, (labour,))
    check_ids(reading, (rates,))
    if rates.whole:
        for row in labour.rows:
            _check_known(reading, labour.file, row.get("rate"), f"{text_at(row, 'id')}.rate", rates.ids, of="rates")


def check_screens(reading: Reading, tree: MappingNode | None) -> None:
    """Note each measured screen that takes another's id, or leans on another."""
    file, listed = str(reading.folder / "screens.yaml"), inside(tree, "screens")
    seen: set[str] = set()
    for i, item in enumerate(listed.items if isinstance(listed, SequenceNode) else ()):
        if (name := text_at(item, "id")) in seen:
            words = "Each screen's id stands once."
            reading.note("duplicate-id", file, inside(item, "id"), f"screens[{i}].id", allowed=words, advice=_ANOTHER)
        seen.update([name] if name else [])
        if (start := inside(inside(item, "screen"), "from")) is not None:
            words = "A measured screen stands by itself; only a job takes up another one."
            reading.note("screen-from-screen", file, start, f"screens[{i}].screen.from", allowed=words, advice="Write its own sizes here.")


def _check_known(reading: Reading, file: str, node: Node | None, path: str, known: Collection[str], *, of: str) -> None:
    if isinstance(node, ScalarNode) and node.text and node.text not in known:
        near = nearest_word(node.text, known)
        advice = f"Did you mean {near}?" if near else "Name one of them or add it to the workshop."
        reading.note("not-in-catalogue", file, node, path, allowed=f"Known {of}: {_listed(sorted(known))}.", advice=advice)


def _listed(names: list[str]) -> str:
    return ", ".join(names[:12]) + (f" and {len(names) - 12} more" if len(names) > 12 else "")
