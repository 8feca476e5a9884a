"""Findings as they are printed: the gravest first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from halfsilver.documents.words import printable
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.units.rounding import decimal_text

HEADS = {
    Severity.STOP: ("Stops", "Settle these before anything is cut."),
    Severity.CAUTION: ("Cautions", "Decide on each of these, and write down who decided."),
    Severity.NOTE: ("Notes", "Checked; what was found."),
    Severity.NOT_RUN: ("Not checked", "Nothing here was looked at. Others have to."),
}


def counts(findings: Sequence[Finding]) -> list[dict[str, object]]:
    """How many there are of each, the gravest first."""
    found = Counter(finding.severity for finding in findings)
    return [{"severity": severity.value, "head": head, "count": found[severity]} for severity, (head, _) in HEADS.items()]


def finding_groups(findings: Sequence[Finding], show: Show) -> list[dict[str, object]]:
    """The findings of each severity that there are any of."""
    return [
        {"severity": severity.value, "head": head, "lead": lead, "rows": rows}
        for severity, (head, lead) in HEADS.items()
        if (rows := [_row(finding, show) for finding in findings if finding.severity is severity])
    ]


def _row(finding: Finding, show: Show) -> dict[str, str]:
    return {
        "rule": printable(finding.rule),
        "advice": printable(finding.advice),
        "value": _quantity(finding.value, finding.unit, show),
        "limit": _quantity(finding.limit, finding.unit, show),
        "source": printable(finding.source),
        "status": printable(finding.status),
        "entries": ", ".join(map(printable, finding.entries)),
    }


def _quantity(value: float | None, unit: str, show: Show) -> str:
    if value is None:
        return ""
    if unit == "mm":
        return show(value, "mm")
    return f"{decimal_text(value, 3)} {'' if unit == '1' else printable(unit)}".strip()
