"""What changed since the pack that lies in the folder, in words and with its cause.

A cause is found by walking from a size that moved down the formulas of the ledger to the entries that moved by themselves: a reading, an
asked value, a catalogue entry, an allowance, a decision. Packing the same job again keeps what the pack already says of its revision.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind, Ledger, Origin
from halfsilver.ledger.shown import Show
from halfsilver.model.bill import Bill
from halfsilver.model.results import ChangeRecord, ChangesRecord
from halfsilver.services.money import price_changes
from halfsilver.services.records import as_text, document

CHANGES: Final = "changes.json"
NEAR_MM: Final = 1e-5
MOST_ROOTS: Final = 3

# What is cut, bought, drawn for the client or routed: changes of these are told in words.
TOLD: Final = (
    "outside.", "front.glass.", "rear.glass.", "front.stick.", "rear.stick.", "front.sight.", "rear.sight.", "batten.", "strip.segments",
    "gap", "rear.planed", "spacer_frame", "relief.", "bar.", "backing.", "window.", "panel.", "packing", "cable.",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Previous:
    """The pack that lies in the folder, as far as it can be read; revision 0 where there is none."""

    revision: int = 0
    digest: str = ""
    design: Mapping[str, Any] = field(default_factory=dict)
    bill: Mapping[str, Any] = field(default_factory=dict)
    changes: bytes = b""


def previous_pack(folder: Path) -> Previous:
    """What can be read of the pack in a folder; what is damaged counts as absent."""
    manifest = _json(folder / "manifest.json")
    revision, digest = manifest.get("revision"), manifest.get("design")
    if not isinstance(revision, int) or revision < 1 or not isinstance(digest, str):
        return Previous()
    try:
        told = (folder / CHANGES).read_bytes()
    except OSError:
        told = b""
    return Previous(revision=revision, digest=digest, design=_json(folder / "design.json"), bill=_json(folder / "bill.json"), changes=told)


def _json(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def revision_of(previous: Previous, design: Design, bill: Mapping[str, Any]) -> int:
    """One more than the pack that lies there, if sizes or bill differ from it; the first is 1."""
    return previous.revision + int(not _same(previous, design, bill))


def _same(previous: Previous, design: Design, bill: Mapping[str, Any]) -> bool:
    return previous.revision > 0 and previous.digest == design.digest and previous.bill in ({}, bill)


def changes_text(previous: Previous, design: Design, bill: Bill, bill_document: Mapping[str, Any], show: Show) -> bytes:
    """``changes.json`` of the new pack; the one that lies there where nothing changed."""
    if _same(previous, design, bill_document) and lines_of(previous.changes) is not None:
        return previous.changes
    return as_text(document("changes", changes(previous, design, bill, revision_of(previous, design, bill_document), show))).encode()


def lines_of(told: bytes) -> tuple[str, ...] | None:
    """The lines in words of a ``changes.json``; None where it cannot be read."""
    try:
        lines = json.loads(told)["lines"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return tuple(lines) if isinstance(lines, list) and all(isinstance(line, str) for line in lines) else None


def changes(previous: Previous, design: Design, bill: Bill, revision: int, show: Show) -> ChangesRecord:
    """What changed since the previous pack.

    Parameters
    ----------
    previous : Previous
        The pack that will be replaced.
    design, bill
        The new ones.
    revision : int
        Number of the new pack.
    show : callable
        Writes values in the job's units.
    """
    old = previous.design.get("ledger") if previous.revision else None
    if not isinstance(old, dict) or not old:
        return ChangesRecord(revision=revision, since=0, sizes=(), parts=(), price=(), lines=())
    sizes = tuple(_sizes(Story(old, design.ledger, show)))
    parts = tuple(_parts(previous.design.get("parts"), design))
    price = tuple(price_changes(previous.bill, bill))
    told = [change for change in sizes if change.name.startswith(TOLD)]
    lines = (*(_line(c, " ") for c in told), *(_line(c, ": ") for c in parts), *(_line(c, " ") for c in price))
    return ChangesRecord(revision=revision, since=previous.revision, sizes=sizes, parts=parts, price=price, lines=lines)


def _line(change: ChangeRecord, between: str) -> str:
    return f"{change.label}{between}{change.was} -> {change.now}{f': {change.reason}' if change.reason else ''}"


@dataclass(frozen=True, slots=True)
class Story:
    """An old ledger, as JSON has it, beside the new one."""

    old: Mapping[str, Any]
    new: Ledger
    show: Show

    def was(self, name: str) -> float | None:
        """The old value; None where there was none."""
        entry = self.old.get(name)
        value = entry.get("value_mm", entry.get("value")) if isinstance(entry, dict) else None
        return float(value) if isinstance(value, int | float) else None

    def moved(self, name: str) -> bool:
        """Whether an entry has another value than before, or is new."""
        was = self.was(name)
        return was is None or abs(was - self.new[name]) > NEAR_MM

    def reread(self, name: str) -> bool:
        """Whether the readings of an entry are others than before."""
        return self._readings(name) != sorted((m.at, round(m.value_mm, 6)) for m in self.new.readings.get(name, {}).values())

    def _readings(self, name: str) -> list[tuple[str, float]]:
        entry = self.old.get(name)
        told = entry.get("measured") if isinstance(entry, dict) else None
        rows = [row for row in told if isinstance(row, dict)] if isinstance(told, list) else []
        return sorted(
            (str(row.get("at", "")), round(float(row["value_mm"]), 6)) for row in rows if isinstance(row.get("value_mm"), int | float)
        )

    def roots(self, name: str) -> tuple[str, ...]:
        """The entries that moved by themselves and moved this one, in the order they are met."""
        found: dict[str, None] = {}
        seen: set[str] = set()
        waiting = [name]
        while waiting:
            here = waiting.pop(0)
            if here in seen:
                continue
            seen.add(here)
            inputs = () if self.reread(here) else self.new.entries[here].formula.names()
            moved = [child for child in inputs if child not in seen and self.moved(child)]
            if moved:
                waiting += moved
            elif not any(self.moved(child) for child in inputs):
                found[here] = None
        return tuple(found)

    def text(self, name: str, *, old: bool) -> str:
        """An old or new value in print; finer where both would read alike."""
        entry = self.new.entries[name]
        was, now = self.was(name), self.new[name]
        value = was if old else now
        if value is None:
            return "none"
        if was is not None and entry.unit == "mm" and self.show(was, "mm") == self.show(now, "mm"):
            return f"{value:.2f} mm"
        return self.show(value, entry.unit)

    def cause(self, root: str) -> str:
        """Why an entry moved by itself."""
        entry = self.new.entries[root]
        label = entry.label
        if self.reread(root):
            what = "the opening" if ".rebate." in root else f"the {label}"
            return f"{what} was measured" if self.new.is_measured(root) else f"a reading of {what} was taken back"
        old = self.old.get(root)
        if not isinstance(old, dict):
            return f"{label} is new"
        step = f"{label} {self.text(root, old=True)} -> {self.text(root, old=False)}"
        source, before = entry.source, old.get("source") or ""
        origin = self.new.origin(root)
        if origin is Origin.CATALOGUE and source and before and source != before:
            return f"{source} was chosen instead of {before}"
        told = {
            Origin.ASKED: f"the job asks for another value, {step}",
            Origin.CATALOGUE: f"the catalogue changed, {step}",
            Origin.ALLOWANCE: f"the workshop's allowance changed, {step}",
            Origin.ASSUMED: f"another value is assumed, {step}",
            Origin.DERIVED: f"{label} was decided anew{f': {entry.reason}' if entry.reason else ''}",
        }
        return told.get(origin, step)


def _sizes(story: Story) -> Iterator[ChangeRecord]:
    for name, entry in story.new.entries.items():
        told = entry.kind is Kind.TARGET or name == "gap"
        if not told or story.was(name) is None or not story.moved(name):
            continue
        roots = story.roots(name)
        causes = list(dict.fromkeys(story.cause(root) for root in roots))
        more = f"; and {len(causes) - MOST_ROOTS} more" if len(causes) > MOST_ROOTS else ""
        yield ChangeRecord(
            name=name,
            label=entry.label,
            was=story.text(name, old=True),
            now=story.text(name, old=False),
            reason="; ".join(causes[:MOST_ROOTS]) + more,
            roots=roots,
        )


def _parts(told: Any, design: Design) -> Iterator[ChangeRecord]:
    """Parts that came, went, or are of another material."""
    rows = [row for row in told if isinstance(row, dict)] if isinstance(told, list) else []
    old = {str(row.get("id", "")): row for row in rows}
    new = {part.id: part for part in design.parts}
    for name, part in new.items():
        before = old.get(name)
        was = str(before.get("material", "")) if before else "none"
        if was != part.material or (before and before.get("quantity") != part.quantity):
            count = before.get("quantity") if before else 0
            numbers = count not in (0, part.quantity)
            yield ChangeRecord(
                name=name,
                label=part.name,
                was=f"{count} of {was}" if numbers else was,
                now=f"{part.quantity} of {part.material}" if numbers else part.material,
                reason="" if before else "new in this revision",
                roots=(),
            )
    for name, row in old.items():
        if name not in new:
            was = str(row.get("material", ""))
            yield ChangeRecord(name=name, label=str(row.get("name", name)), was=was, now="none", reason="no longer made", roots=())
