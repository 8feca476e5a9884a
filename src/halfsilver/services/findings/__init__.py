"""Findings of a design: one function per rule, collected here, stops first.

A rule reads the design, calls a published formula of ``engineering`` where there is one, and says value, limit, source and what to do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.run import checks
from halfsilver.services.findings import assumed, coating, cutting, edid, fit, frame, measured, place, screen, sight

Rule = Callable[[Design, Show], Iterator[Finding]]


def engineered(design: Design, show: Show) -> Iterator[Finding]:
    """What the engineering checks come to, without their workings."""
    for found in checks(design, show):
        yield found.finding if isinstance(found, Check) else found


RULES: tuple[Rule, ...] = (
    *fit.RULES,
    *sight.RULES,
    *frame.RULES,
    *screen.RULES,
    *edid.RULES,
    *coating.RULES,
    *measured.RULES,
    *cutting.RULES,
    *place.RULES,
    engineered,
    *assumed.RULES,
)

_ORDER = {severity: i for i, severity in enumerate(Severity)}


def findings(design: Design, show: Show) -> tuple[Finding, ...]:
    """All findings of a design, gravest first, in the order of the rules within each.

    Parameters
    ----------
    design : Design
        The resolved job.
    show : callable
        Writes values in the job's units.
    """
    found = [finding for rule in RULES for finding in rule(design, show)]
    return tuple(sorted(found, key=lambda finding: _ORDER[finding.severity]))
