"""Will the stock do: a piece longer than any stick, a pane larger than any sheet, a material without stock."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.groups import cut_tasks
from halfsilver.model.finding import Finding, Severity


def stock(design: Design, show: Show) -> Iterator[Finding]:
    """Each material for which no plan can exist, and what would do; nothing is searched here."""
    for missing in cut_tasks(design).missing:
        yield Finding(
            rule=missing.rule,
            source="workshop's stock",
            status="derived",
            severity=Severity.CAUTION if missing.rule == "cutting.no_stock" else Severity.STOP,
            value=None if missing.value_mm is None else round(missing.value_mm, 3),
            limit=None if missing.limit_mm is None else round(missing.limit_mm, 3),
            unit="" if missing.value_mm is None else "mm",
            advice=f"{missing.why} {missing.advice}",
            entries=_entries(design, missing.parts),
        )


def _entries(design: Design, parts: tuple[str, ...]) -> tuple[str, ...]:
    """Names in the ledger that carry the sizes of parts."""
    names = [
        part.replace("-", ".") if part.startswith("batten-") else part.replace("-stick-", ".stick.").replace("-glass", ".glass.width")
        for part in parts
    ]
    return tuple(name for name in names if name in design.ledger)


RULES = (stock,)
