"""Findings of a design: one function per rule, collected here, stops first.

A rule reads the design, calls a published formula of ``engineering`` where there is one, and says value, limit, source and what to do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from halfsilver.engineering.working import Working
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.run import checks
from halfsilver.services.findings import assumed, coating, cutting, edid, fit, frame, measured, screen, sight

Rule = Callable[[Design, Show], Iterator[Check | Finding]]


def engineered(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The engineering checks."""
    yield from checks(design, show)


RULES: tuple[Rule, ...] = (
    *fit.RULES,
    *sight.RULES,
    *frame.RULES,
    *screen.RULES,
    *edid.RULES,
    *coating.RULES,
    *measured.RULES,
    *cutting.RULES,
    engineered,
    *assumed.RULES,
)

_ORDER = {severity: i for i, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Examined:
    """All findings of a design, gravest first, and the workings of those that were worked out."""

    findings: tuple[Finding, ...]
    workings: Mapping[Finding, tuple[Working, ...]]


def examined(design: Design, show: Show) -> Examined:
    """Every rule held against a design, in the order of the rules within each severity.

    Parameters
    ----------
    design : Design
        The resolved job.
    show : callable
        Writes values in the job's units.
    """
    found: list[Finding] = []
    workings: dict[Finding, tuple[Working, ...]] = {}
    for each in (one for rule in RULES for one in rule(design, show)):
        finding = each.finding if isinstance(each, Check) else each
        found.append(finding)
        if isinstance(each, Check):
            workings[finding] = (each.working, *each.also)
    return Examined(findings=tuple(sorted(found, key=lambda finding: _ORDER[finding.severity])), workings=workings)


def findings(design: Design, show: Show) -> tuple[Finding, ...]:
    """All findings of a design without their workings, see `examined`."""
    return examined(design, show).findings
