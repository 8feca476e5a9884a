"""Entries and their resolution: every name has one value, one formula, one origin.

An entry's value is its reading where there is one, else its formula. Readings at several places of one opening combine by the entry's
rule (the least decides for an opening). Units: millimetres unless the entry says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from typing import Any, Literal

from halfsilver.ledger.expression import Expression, Partials


class Kind(Enum):
    """What an entry is; see the module's package."""

    TARGET = "target"
    ACTUAL = "actual"
    GAP = "gap"


class Origin(Enum):
    """Where an entry's value comes from."""

    ASKED = "asked"
    CATALOGUE = "catalogue"
    ALLOWANCE = "allowance"
    MEASURED = "measured"
    DERIVED = "derived"
    ASSUMED = "assumed"


PlaceRule = Literal["least", "greatest", "last"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One named dimension.

    Parameters
    ----------
    name : str
        Flat dotted name, such as ``front.rebate.width``.
    label : str
        The same in a maker's words, such as ``front rebate width``.
    formula : Expression
        How it is computed; a given value is a plain number.
    kind, origin : Kind, Origin
        What it is and where it comes from.
    unit : str
        ``mm``, ``count``, ``share``, ``deg`` or ``kg``.
    source : str
        Where a given value was found, in words.
    reason, runner_up : str
        Why a decided value was chosen, and what came second.
    serves : tuple of str
        For a gap: the targets whose tolerance it shows.
    places : {"least", "greatest", "last"}
        How readings at several places combine.
    at_least : float or None
        For a gap: the value below which it fails; its chance is computed against it. [mm]
    """

    name: str
    label: str
    formula: Expression
    kind: Kind = Kind.TARGET
    origin: Origin = Origin.DERIVED
    unit: str = "mm"
    source: str = ""
    reason: str = ""
    runner_up: str = ""
    serves: tuple[str, ...] = ()
    places: PlaceRule = "last"
    at_least: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """One reading of one entry at one place [mm]."""

    name: str
    value_mm: float
    at: str = ""
    when: str = ""
    by: str = ""


class CycleError(ValueError):
    """Entries refer to each other in a ring; the message names it."""


@dataclass(frozen=True)
class Ledger:
    """All entries of a job, resolved.

    Parameters
    ----------
    entries : mapping of str to Entry
        By name. Every name a formula refers to must be among them.
    measurements : tuple of Measurement
        Oldest first; the later one at the same name and place counts.
    """

    entries: Mapping[str, Entry]
    measurements: tuple[Measurement, ...] = ()

    @classmethod
    def of(cls, entries: Iterable[Entry], measurements: Iterable[Measurement] = ()) -> Ledger:
        """A ledger of these entries.

        Raises
        ------
        ValueError
            If a name stands twice, or a formula refers to an unknown name.
        CycleError
            If entries refer to each other in a ring.
        """
        by_name: dict[str, Entry] = {}
        for entry in entries:
            if entry.name in by_name:
                raise ValueError(f"two ledger entries are called {entry.name}")
            by_name[entry.name] = entry
        return cls(by_name, tuple(measurements))

    @cached_property
    def readings(self) -> Mapping[str, Mapping[str, Measurement]]:
        """By name, then by place: the readings that count."""
        found: dict[str, dict[str, Measurement]] = {}
        for measurement in self.measurements:
            found.setdefault(measurement.name, {})[measurement.at] = measurement
        return found

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Names such that each comes after everything it refers to."""
        done: dict[str, None] = {}
        for name in self.entries:
            self._visit(name, done)
        return tuple(done)

    def _visit(self, start: str, done: dict[str, None]) -> None:
        stack: list[tuple[str, list[str]]] = [(start, list(self.entries[start].formula.names()))]
        while stack:
            name, waiting = stack[-1]
            if name in done or not waiting:
                done[name] = None
                stack.pop()
                continue
            child = waiting.pop(0)
            path = [held for held, _ in stack]
            if child in path:
                ring = [*path[path.index(child) :], child]
                raise CycleError(f"ledger entries refer to each other: {' -> '.join(ring)}")
            if child not in self.entries:
                raise ValueError(f"{name} refers to {child}, which is not in the ledger")
            if child not in done:
                stack.append((child, list(self.entries[child].formula.names())))

    @cached_property
    def _resolved(self) -> tuple[dict[str, float], dict[str, float]]:
        values: dict[str, float] = {}
        planned: dict[str, float] = {}
        for name in self.order:
            entry = self.entries[name]
            planned[name] = entry.formula.value(values)
            values[name] = self._read(entry) if name in self.readings else planned[name]
        return values, planned

    def _read(self, entry: Entry) -> float:
        taken = [reading.value_mm for reading in self.readings[entry.name].values()]
        if entry.places == "least":
            return min(taken)
        if entry.places == "greatest":
            return max(taken)
        return next(m.value_mm for m in reversed(self.measurements) if m.name == entry.name)

    @cached_property
    def memo(self) -> dict[tuple[str, str], Any]:
        """What follows from the frozen entries and was reckoned once, by kind and name."""
        return {}

    @property
    def values(self) -> Mapping[str, float]:
        """Value of every entry, in its unit."""
        return self._resolved[0]

    @property
    def planned(self) -> Mapping[str, float]:
        """What every formula gives before its own reading replaces it."""
        return self._resolved[1]

    def __getitem__(self, name: str) -> float:
        return self.values[name]

    def __contains__(self, name: str) -> bool:
        return name in self.entries

    def is_measured(self, name: str) -> bool:
        """Whether a reading stands for this entry."""
        return name in self.readings

    def reading_at(self, name: str, at: str) -> float | None:
        """The reading at one place, if there is one. [mm]"""
        taken = self.readings.get(name, {})
        return taken[at].value_mm if at in taken else None

    def origin(self, name: str) -> Origin:
        """Where the value comes from, a reading included."""
        return Origin.MEASURED if self.is_measured(name) else self.entries[name].origin

    def partials(self, name: str) -> Partials:
        """Derivatives of an entry with respect to the names it refers to."""
        found = self.entries[name].formula.partials(self.values)
        return {key: slope for key, slope in found.items() if key in self.entries}
