"""All engineering checks of a design, in the order in which they are printed; of a part that is delivered alone, those that concern it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.scope import has
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Scope
from halfsilver.model.making import Trade
from halfsilver.services.checks import (
    balance,
    carriage,
    carrying,
    cleats,
    damp,
    glass,
    glazing,
    hanging,
    heat,
    mains,
    mitres,
    people,
    place,
    recessing,
    retaining,
    standing,
    timber,
    wiring,
)
from halfsilver.services.checks.check import Check

Rule = Callable[[Design, Show], Iterator[Check | Finding]]

RULES: tuple[Rule, ...] = (
    *balance.RULES,
    *hanging.RULES,
    *recessing.RULES,
    *cleats.RULES,
    *standing.RULES,
    *carrying.RULES,
    *mitres.RULES,
    *retaining.RULES,
    *glass.RULES,
    *glazing.RULES,
    *place.RULES,
    *people.RULES,
    *heat.RULES,
    *wiring.RULES,
    *mains.RULES,
    *damp.RULES,
    *timber.RULES,
    *carriage.RULES,
)

PANES: tuple[Rule, ...] = (balance.mass, *glass.RULES, *glazing.RULES, damp.arrival, timber.clearances, *carriage.RULES)
STRIP: tuple[Rule, ...] = wiring.RULES


def _held(design: Design) -> tuple[tuple[Rule, ...], str]:
    """The rules that concern what is delivered, and in words what the others are about."""
    if design.facts.job.scope is Scope.GLASS_ONLY:
        return PANES, "how frame and screen hang, stand and are lifted, heat, wiring, damp and the place: only glass is delivered"
    if design.facts.job.lights is not None and not has(design, Trade.LIGHTS):
        return tuple(rule for rule in RULES if rule not in STRIP), "supply, leads and evenness of the strip: it is not in the scope"
    return RULES, ""


def checks(design: Design, show: Show) -> tuple[Check | Finding, ...]:
    """Every check with its working, and a finding for each that could not run.

    Parameters
    ----------
    design : Design
        The resolved job.
    show : callable
        Writes values in the job's units.

    Returns
    -------
    tuple of Check or Finding
        In the order of the rules.
    """
    rules, others = _held(design)
    found = tuple(one for rule in rules for one in rule(design, show))
    return (*found, _not_ours(others)) if others else found


def _not_ours(others: str) -> Finding:
    return Finding(
        rule="scope.others", source="scope of the job", status="derived", severity=Severity.NOT_RUN, unit="1",
        advice=f"Not checked: {others}. Whoever builds the rest answers for it; `scope: complete` shows what would be found.",
    )  # fmt: skip
