"""The working of a check as JSON shows it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenRecord:
    """One number that goes into a working, and where it is from."""

    name: str
    symbol: str
    value: float
    unit: str
    origin: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingRecord:
    """One check written out; ``use`` is the share of the limit that is used up, above 1 where it is broken."""

    title: str
    given: tuple[GivenRecord, ...]
    formula: str
    result: float
    unit: str
    limit: float | None = None
    side: str
    use: float | None = None
    source: str
    limit_source: str
    status: str
    assumptions: tuple[str, ...]
    confirms: str
