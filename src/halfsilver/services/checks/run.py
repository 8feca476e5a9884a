"""All engineering checks of a design, in the order in which they are printed."""

from __future__ import annotations

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding
from halfsilver.services.checks import balance, carriage, carrying, damp, glass, hanging, heat, mains, people, place, timber, wiring
from halfsilver.services.checks.check import Check

RULES = (
    *balance.RULES,
    *hanging.RULES,
    *carrying.RULES,
    *glass.RULES,
    *place.RULES,
    *people.RULES,
    *heat.RULES,
    *wiring.RULES,
    *mains.RULES,
    *damp.RULES,
    *timber.RULES,
    *carriage.RULES,
)


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
    return tuple(found for rule in RULES for found in rule(design, show))
