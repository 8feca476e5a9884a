"""Sheets that were measured in the shop: what the readings gave, and how surely."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.glass_readings import MeasuredShare
from halfsilver.services.checks.known import panes


def measured(design: Design, show: Show) -> Iterator[Finding]:
    """Shares read with a meter stand for the printed ones."""
    for which in panes(design):
        glass = design.facts.front_glass if which == "front" else design.facts.rear_glass
        found = glass.readings
        if found is None:
            continue
        shares = {"T": found.T, "R coated": found.R_coated, "R plain": found.R_plain}
        told = ", ".join(f"{name} {_words(share)}" for name, share in shares.items() if share is not None)
        printed = [name for name, share in shares.items() if share is None]
        over = f" R and T came out {100 * found.over:.1f} % above 100 % together, within their uncertainty; both were lowered to fit."
        yield Finding(
            rule="glass.measured",
            source="JCGM 100:2008 (GUM), first order, twice the standard uncertainty",
            status="memory",
            severity=Severity.NOTE,
            value=round(found.over, 4),
            limit=0.0,
            unit="1",
            advice=f"The {which} sheet {glass.id} was measured in the shop: {told}; these stand for what is printed."
            + (f" Printed still: {', '.join(printed)}." if printed else "")
            + (over if found.over > 0 else ""),
            entries=(f"{which}.glass.thickness",),
        )


def _words(share: MeasuredShare) -> str:
    return f"{100 * share.value:.1f} % +- {100 * share.expanded:.1f} % ({share.readings} reading{'s' if share.readings > 1 else ''})"


RULES = (measured,)
