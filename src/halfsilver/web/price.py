"""Price and quote: what is bought, worked and packed, how cost becomes price, and what the client is told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfsilver.costing.bill import client_view
from halfsilver.errors import HalfsilverError, Problem
from halfsilver.model.bill import Bill, BillLine, ClientBill, LineKind
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/price")
KINDS: Final = {
    LineKind.MATERIAL: "Material", LineKind.HARDWARE: "Hardware", LineKind.LABOUR: "Work", LineKind.PACKING: "Packing",
    LineKind.OVERHEAD: "Overhead", LineKind.CARRIAGE: "Carriage",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Lines of one kind and their sum."""

    title: str
    total: str
    lines: tuple[BillLine, ...]
    share: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePage:
    """The bill, for the shop and for the client."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...] = ()
    bill: Bill | None = None
    groups: tuple[Lines, ...] = ()
    client: ClientBill | None = None
    prices_of: str = ""


@router.get("")
def price(request: Request, job: Job, desk: AtDesk) -> Response:
    """The bill of the job as it stands, at the workshop's prices of their date."""
    try:
        reckoned = desk.reckoned(job.state)
        bill = reckoned.making.bill
    except HalfsilverError as error:
        return show(request, "price.html", PricePage(job=job, page="price", problems=problems_of(error)))
    groups = tuple(
        Lines(title=title, total=f"{bill.of(kind)}", lines=some, share=round(100 * float(bill.of(kind) / bill.cost)) if bill.cost else 0)
        for kind, title in KINDS.items()
        if (some := tuple(line for line in bill.lines if line.kind is kind))
    )
    page = PricePage(
        job=job, page="price", bill=bill, groups=groups, client=client_view(reckoned.design, bill), prices_of=desk.shop().state.made.at[:10]
    )  # fmt: skip
    return show(request, "price.html", page)
