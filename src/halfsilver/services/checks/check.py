"""A check of a design: the working an engineer would write, what it weighs when its limit is broken, and what to do."""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.engineering.working import Working
from halfsilver.model.finding import Finding, Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One rule held against a design, with its working.

    Parameters
    ----------
    working : Working
        Inputs, formula, numbers, result, limit, source.
    broken : Severity
        What it weighs when the limit is not kept; a kept limit, or none, is a note.
    advice : str
        A sentence in the job's units: what was found, and what would pass.
    entries : tuple of str
        Names in the ledger that it rests on.
    also : tuple of Working
        What was worked out beside it and is told in the same sentence: the appendix shows these too.
    """

    working: Working
    broken: Severity = Severity.CAUTION
    advice: str
    entries: tuple[str, ...] = ()
    also: tuple[Working, ...] = ()

    @property
    def finding(self) -> Finding:
        """The check as one finding."""
        working = self.working
        doubted = working.limit_source.startswith(f"{working.source} (")  # the same publication, and that it is from memory
        sources = (working.limit_source,) if doubted else (working.source, working.limit_source)
        return Finding(
            rule=working.rule,
            source="; ".join(dict.fromkeys(source for source in sources if source)),
            status=working.status,
            severity=self.broken if working.holds is False else Severity.NOTE,
            value=working.result,
            limit=working.limit,
            unit=working.unit or "1",
            advice=self.advice,
            entries=self.entries,
        )
