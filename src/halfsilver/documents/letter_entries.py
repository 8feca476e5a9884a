"""Findings in the order of their subjects, each under a number that letter, appendix and command line share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from halfsilver.documents.letter_quantities import pair
from halfsilver.documents.letter_words import OTHER, SUBJECTS, decider_of, subject_of, title_of
from halfsilver.engineering.working import Limit, Working
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity

Workings = Mapping[Finding, tuple[Working, ...]]
# Rules whose limit is a mark to compare with, and is passed without harm.
COMPARED = ("appearance.single_diodes", "sight.window", "view.", "damp.arrival", "assumed.")
AT_LEAST = ("fit.batten_proud", "heat.vent")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One finding with its number, subject and workings."""

    finding: Finding
    workings: tuple[Working, ...]
    number: str
    subject: str

    @property
    def title(self) -> str:
        """Short title of its rule."""
        return title_of(self.finding.rule)

    @property
    def decides(self) -> str:
        """Who decides on it."""
        return self.workings[0].confirms if self.workings else decider_of(self.finding.rule)

    @property
    def past(self) -> bool:
        """Whether its limit is not kept, for a note whose limit may be passed."""
        value, limit = self.finding.value, self.finding.limit
        if self.workings:
            return self.workings[0].holds is False
        return self.finding.rule.startswith("view.") and value is not None and limit is not None and value > limit

    def held(self, show: Show) -> tuple[str, str]:
        """Value, and its limit with the side on which it has to lie; each empty where there is none."""
        value, limit = pair(self.finding.value, self.finding.limit, self.finding.unit, show)
        return value, f"{self._side()} {limit}" if limit else ""

    def _side(self) -> str:
        finding = self.finding
        if finding.rule.startswith(COMPARED) or finding.value is None or finding.limit is None:
            return "against"
        if self.workings:
            return self.workings[0].side.value
        kept = finding.severity is Severity.NOTE
        least = finding.rule in AT_LEAST or (finding.value >= finding.limit if kept else finding.value < finding.limit)
        side = Limit.AT_LEAST if least else Limit.AT_MOST
        return str(side.value)


def entries(findings: Sequence[Finding], workings: Workings) -> tuple[Entry, ...]:
    """Findings by subject, numbered ``chapter.place``; within a subject they keep their order, gravest first.

    Parameters
    ----------
    findings : sequence of Finding
        Gravest first.
    workings : mapping of Finding to tuple of Working
        The workings of those that have any.
    """
    listed = []
    present = [name for name in (*SUBJECTS, OTHER) if any(subject_of(one.rule) == name for one in findings)]
    for chapter, subject in enumerate(present, start=1):
        belonging = [finding for finding in findings if subject_of(finding.rule) == subject]
        for place, finding in enumerate(belonging, start=1):
            listed.append(Entry(finding=finding, workings=workings.get(finding, ()), number=f"{chapter}.{place}", subject=subject))
    return tuple(listed)


def alike(listed: Sequence[Entry]) -> tuple[tuple[Entry, ...], ...]:
    """Entries of one rule together, in the order in which each rule comes first."""
    groups: dict[str, list[Entry]] = {}
    for entry in listed:
        groups.setdefault(entry.finding.rule, []).append(entry)
    return tuple(tuple(group) for group in groups.values())


def summed(group: Sequence[Entry], show: Show) -> str:
    """Entries of one rule in a few words: title, what was found, and its limit.

    Values that share a limit are told before it once.
    """
    told: dict[str, list[str]] = {}
    for entry in group:
        value, limit = entry.held(show)
        limit += ": past it" if limit and entry.past else ""
        told.setdefault(limit, []).append(value)
    parts = []
    for limit, values in told.items():
        found = " and ".join(dict.fromkeys(value for value in values if value))
        parts.append(", ".join(part for part in (found, limit) if part))
    return f"{group[0].title} {'; '.join(part for part in parts if part)}".strip()
