"""Pages that follow the shop document's own: cut sheets, glass order, lights, build steps, schedule, bill, what changed."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from importlib.resources import files

from halfsilver.documents.bill_sheet import bill_rows
from halfsilver.documents.cut_rows import Row
from halfsilver.documents.cut_sheets import cut_sheets
from halfsilver.documents.drawings import papers
from halfsilver.documents.lights_sheet import lights_told
from halfsilver.documents.order_sheet import order_rows
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.steps_sheet import chart, step_rows
from halfsilver.documents.words import printable
from halfsilver.drawing.sheets import PAPERS
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.bill import Bill
from halfsilver.model.making import CutPlan, Scheduled, Step

MARGINS_MM = 36.0
TEMPLATES = ("look.typ", "more.typ")


def more_pages(
    design: Design,
    plan: CutPlan,
    steps: Sequence[Step],
    schedule: Sequence[Scheduled],
    bill: Bill | None,
    changes: Sequence[str],
    show: Show,
) -> Mapping[str, bytes]:
    """Files that the shop document's template includes.

    Parameters
    ----------
    design : Design
        What is built.
    plan : CutPlan
        What is cut, and what is ordered to size.
    steps, schedule
        The build steps in their order, and when each can be done.
    bill : Bill, optional
        The shop's own view.
    changes : sequence of str
        What changed since the last revision, in words; empty for a first one.
    show : Show
        Writes a value in the job's own units.

    Returns
    -------
    mapping of str to bytes
        By name: ``more.typ`` and what it reads.

    Raises
    ------
    RenderError
        If a drawing does not fit its place.
    JobError
        If the plan is not in the neutral form.
    """
    sizes = Sizes(design, show)
    room = PAPERS[papers(design.facts.job).words][0] - MARGINS_MM
    pictures: dict[str, bytes] = {}
    lights = lights_told(sizes, pictures, room_mm=room)
    cuts = cut_sheets(sizes, plan, room_mm=room)
    told: Row = {
        "changes": [printable(change) for change in changes],
        "cuts": cuts.groups,
        "missing": cuts.missing,
        "orders": order_rows(sizes, plan),
        "lights": lights,
        "steps": step_rows(sizes, steps),
        "chart": chart(steps, schedule),
        "bill": bill_rows(bill) if bill is not None else {},
    }
    data = {"more.json": json.dumps(told, ensure_ascii=False).encode()}
    return data | {name: template(name) for name in TEMPLATES} | pictures | cuts.pictures


def template(name: str) -> bytes:
    """A template of this package."""
    return (files("halfsilver.documents") / "templates" / name).read_bytes()
