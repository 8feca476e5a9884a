"""Findings: the result of one check of one rule."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from halfsilver.model.formula import Status


class Severity(Enum):
    """How much a finding weighs, gravest first."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"
    NOT_RUN = "not-run"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One result of one check.

    Parameters
    ----------
    rule : str
        Stable name, ``subject.rule``.
    source : str
        Publication and place, or "common practice".
    status : str
        How well the source is known (see :class:`halfsilver.model.formula.Formula`).
    severity : Severity
        stop, caution, note, or not-run for a check that could not be made.
    value, limit : float or None
        What was found and what it is held against, in ``unit``.
    unit : str
        Unit of both; ``1`` for a pure number.
    advice : str
        A sentence: what was found and what to do about it, with the number that would pass.
    entries : tuple of str
        Names in the ledger that the finding rests on.
    """

    rule: str
    source: str
    status: Status
    severity: Severity
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    advice: str
    entries: tuple[str, ...] = ()
