"""What it takes to make a design: cut plan, build steps and bill, together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from halfsilver.costing.bill import bill
from halfsilver.errors import JobError, Problem, RangeError
from halfsilver.layout.design import Design
from halfsilver.making.cutting.effort import EffortName
from halfsilver.making.plan import cut_plan
from halfsilver.making.schedule import schedule
from halfsilver.making.steps.bench import TABLE
from halfsilver.making.steps.build import build_steps
from halfsilver.model.bill import Bill
from halfsilver.model.making import CutPlan, Scheduled, Step
from halfsilver.model.workshop import Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """Cut plan, build steps with their times, and bill of one design."""

    plan: CutPlan
    steps: tuple[Step, ...]
    scheduled: tuple[Scheduled, ...]
    bill: Bill


def making_of(design: Design, *, effort: EffortName = "quick", folder: Path | None = None) -> Making:
    """Plan, steps and bill of a design.

    Parameters
    ----------
    design : Design
        The resolved job.
    effort : {"quick", "usual", "long"}
        How much is searched for the cut plan.
    folder : Path, optional
        Where the workshop's files are, so that what they lack is told with its file.

    Raises
    ------
    JobError
        If no price follows from the job's margin, or the labour table lacks an operation.
    """
    steps = _steps(design, folder)
    plan = cut_plan(design, effort=effort)
    try:
        priced = bill(design, plan, steps, rate=hourly(design.facts.workshop))
    except RangeError as error:
        raise JobError([Problem(code="margin-too-large", path="terms.margin", allowed=str(error), advice="Ask for less.")]) from None
    return Making(plan=plan, steps=steps, scheduled=schedule(steps, day_min=design.facts.workshop.day_min), bill=priced)


def _steps(design: Design, folder: Path | None) -> tuple[Step, ...]:
    try:
        return build_steps(design)
    except JobError as error:
        raise JobError([_missing_row(problem, folder) if problem.path == TABLE else problem for problem in error.problems]) from None


def _missing_row(problem: Problem, folder: Path | None) -> Problem:
    """A missing operation, placed at the head of its table: that is where its row has to follow."""
    file = str(folder / TABLE) if folder else TABLE
    advice = f"Add a row that begins with {problem.read} to {TABLE}."
    return replace(problem, code="labour-missing", file=file, line=1, column=1, path="id", advice=advice)


def hourly(workshop: Workshop) -> Callable[[Step], Decimal]:
    """What an hour of a step costs: its own rate, else the workshop's usual hour. [money/h]"""

    def rate(step: Step) -> Decimal:
        return Decimal(workshop.rates[step.rate].hour if step.rate in workshop.rates else workshop.prices.hour)

    return rate
