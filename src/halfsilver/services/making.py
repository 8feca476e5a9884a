"""What it takes to make a design: cut plan, build steps and bill, together."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from halfsilver.costing.bill import bill
from halfsilver.errors import JobError, Problem, RangeError
from halfsilver.layout.design import Design
from halfsilver.making.cutting.effort import EffortName
from halfsilver.making.plan import cut_plan
from halfsilver.making.schedule import schedule
from halfsilver.making.steps import build_steps
from halfsilver.model.bill import Bill
from halfsilver.model.making import CutPlan, Scheduled, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """Cut plan, build steps with their times, and bill of one design."""

    plan: CutPlan
    steps: tuple[Step, ...]
    scheduled: tuple[Scheduled, ...]
    bill: Bill


def making_of(design: Design, *, effort: EffortName = "quick") -> Making:
    """Plan, steps and bill of a design.

    Raises
    ------
    JobError
        If no price follows from the job's margin.
    """
    plan = cut_plan(design, effort=effort)
    steps = build_steps(design)
    try:
        priced = bill(design, plan, steps, rate=Decimal(design.facts.workshop.prices.hour))
    except RangeError as error:
        raise JobError([Problem(code="margin-too-large", path="terms.margin", allowed=str(error), advice="Ask for less.")]) from None
    return Making(plan=plan, steps=steps, scheduled=schedule(steps), bill=priced)
