"""Cut plans, build steps, schedules and bills for the tests of documents; steps and amounts are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache

from documents_cases import design
from halfsilver.costing.bill import bill, client_view
from halfsilver.making.plan import cut_plan
from halfsilver.model.bill import Bill, ClientBill
from halfsilver.model.making import Checkpoint, CutPlan, Scheduled, Step, Trade

HOSTILE = "#let x = 1; $y$ *bold* _it_ `raw` <tag> \\ @ref [b] // end"

STEPS = (
    Step(
        id="plane",
        title="Plane the rear frame's face flat",
        trade=Trade.FRAME,
        parts=("rear-stick-long", "rear-stick-short"),
        tool="Thicknesser",
        setting="1/16 in off the face",
        drawing="section-left",
        text=f"Two passes; keep sticks of one length together. {HOSTILE}",
        marks=("outer edge", "run of the grain"),
        fasteners="none",
        checkpoints=(
            Checkpoint(
                entry="rear.lip_thickness", label="lip that is left", expected_mm=6.35, tolerance_mm=0.2, at=("left", "middle", "right")
            ),
            Checkpoint(
                entry="front.rebate.width", label="front opening, width", expected_mm=1355.725, tolerance_mm=1.6, at=("top", "bottom")
            ),
        ),
        cautions=("Blades: guards on, push blocks.", "Dust: extraction and a mask."),
        work_min=25,
    ),
    Step(id="glue", title="Glue up", trade=Trade.FRAME, work_min=45, wait_min=720, after=("plane",)),
    Step(id="paint", title="Paint and let it cure", trade=Trade.FRAME, text="Thin coats.", work_min=40, wait_min=2880, after=("glue",)),
    Step(
        id="set", title="Set the glass", trade=Trade.GLASS, cautions=("Glass: gloves, two people.",), work_min=30, after=("paint", "glue")
    ),
)


def in_a_row(steps: tuple[Step, ...]) -> tuple[Scheduled, ...]:
    """One after the other, each waiting for the one before."""
    found, at = [], 0.0
    for step in steps:
        end = at + step.work_min
        found.append(Scheduled(step=step.id, start_min=at, end_min=end, ready_min=end + step.wait_min))
        at = end + step.wait_min
    return tuple(found)


def many_steps(count: int) -> tuple[Step, ...]:
    """Long ones, enough for many pages."""
    words = "Lay the stick on the bench, outer edge towards you, and look along it before anything is cut. " * 3
    return tuple(
        replace(STEPS[k % len(STEPS)], id=f"s{k}", title=f"Step {k} " + "of many words " * 4, text=words, after=()) for k in range(count)
    )


@cache
def plan(name: str) -> CutPlan:
    return cut_plan(design(name))


@cache
def shop_bill(name: str) -> Bill:
    return bill(design(name), plan(name), STEPS, rate=Decimal("60"))


@cache
def client_bill(name: str) -> ClientBill:
    return client_view(design(name), shop_bill(name))
