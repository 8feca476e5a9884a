"""The bill of a job: everything bought, worked, packed and added, and the price that follows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from halfsilver.costing.fittings import hardware_lines, packing_lines, sundry_lines
from halfsilver.costing.materials import decimal, material_lines, order_lines
from halfsilver.costing.price import PriceTerms, line, priced, share_line
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, shower
from halfsilver.making.scope import has
from halfsilver.model.bill import Bill, BillLine, ClientBill, LineKind
from halfsilver.model.job import MountingKind
from halfsilver.model.making import CutPlan, Step, Trade
from halfsilver.model.workshop import Prices

Rate = Decimal | Mapping[Trade, Decimal] | Callable[[Step], Decimal]

WORDS: Mapping[Trade, str] = {
    Trade.FRAME: "mitred frame, glued and finished",
    Trade.BATTENS: "battens, ripped to fit",
    Trade.GLASS: "glass, cut to its opening",
    Trade.LIGHTS: "lights with their supply",
    Trade.RETAINERS: "plates and bars with their screws",
    Trade.BACKING: "backing",
    Trade.ASSEMBLY: "assembly and test under power",
    Trade.SCREEN: "fitting of your screen",
}


def bill(design: Design, plan: CutPlan, steps: Sequence[Step], *, rate: Rate) -> Bill:
    """Cost and price of a job.

    Parameters
    ----------
    design : Design
        The resolved job.
    plan : CutPlan
        Its cut plan.
    steps : sequence of Step
        Its build steps; their working time is billed, once for each piece of the job, where their trade is in the scope.
    rate : Decimal, mapping of Trade to Decimal, or callable
        What an hour of work costs: alike for all, by trade, or by step. [money/h]

    Returns
    -------
    Bill
        Its lines sum to its cost exactly.

    Raises
    ------
    RangeError
        If the margin is not from 0 to below 1.
    """
    job, workshop = design.facts.job, design.facts.workshop
    show = shower(units=job.units.value, fraction=job.fraction)
    found = [*_base(design, plan, steps, rate, show)]
    lines = [one for one in found if isinstance(one, BillLine)]
    base = sum((one.total for one in lines), Decimal("0.00"))
    lines += _added(design, base)
    missing = tuple(one for one in found if isinstance(one, str)) + tuple(f"{one.material}: {one.why}" for one in plan.missing)
    return priced(
        lines,
        terms(design),
        currency=workshop.head.currency,
        pieces=job.quantity,
        valid_days=workshop.prices.valid_days,
        missing=missing,
        notes=tuple(_notes(design, workshop.prices, show)),
    )


def terms(design: Design) -> PriceTerms:
    """The job's margin and tax, else the workshop's."""
    asked, prices = design.facts.job.terms, design.facts.workshop.prices
    return PriceTerms(
        margin=exact(prices.margin if asked.margin is None else asked.margin),
        tax=exact(prices.tax if asked.tax is None else asked.tax),
        tax_labour=prices.tax_labour,
        deposit=exact(prices.deposit),
        card_fee=exact(prices.card_fee),
    )


def exact(share: float) -> Decimal:
    """A share as it was written: 0.35, not its binary neighbour."""
    return Decimal(repr(round(share, 9)))


def _base(design: Design, plan: CutPlan, steps: Sequence[Step], rate: Rate, show: Show) -> Iterator[BillLine | str]:
    workshop = design.facts.workshop
    yield from material_lines(plan, workshop, show=show)
    yield from order_lines(plan, workshop, show=show)
    yield from sundry_lines(design)
    yield from hardware_lines(design)
    yield from labour_lines(design, steps, rate)
    yield from packing_lines(design)


def labour_lines(design: Design, steps: Sequence[Step], rate: Rate) -> Iterator[BillLine | str]:
    """One line for each step in the scope that takes working time, in hundredths of an hour."""
    if not steps:
        yield "labour: no build steps are known, so no working time is counted"
    for step in steps:
        minutes = step.work_min * design.facts.job.quantity
        if minutes > 0 and has(design, step.trade):
            each = rate if isinstance(rate, Decimal) else rate(step) if callable(rate) else rate[step.trade]
            yield line(step.title, LineKind.LABOUR, quantity=decimal(minutes / 60, places=2), unit="h", each=each)


def _added(design: Design, base: Decimal) -> Iterator[BillLine]:
    prices = design.facts.workshop.prices
    yield share_line("overhead of the shop", of=base, share=exact(prices.overhead))
    recessed = design.facts.job.mounting.kind is MountingKind.RECESSED
    share = prices.contingency_recessed if recessed else prices.contingency
    yield share_line(f"contingency{', recessed work' if recessed else ''}", of=base, share=exact(share))


def _notes(design: Design, prices: Prices, show: Show) -> Iterator[str]:
    yield (
        f"Waste: the job bears every length, sheet and roll it opens. Leftovers from {show(prices.keep_length, 'mm')} on (of a sheet also "
        f"from {prices.keep_area:g} m2) go back into the rack at {100 * prices.keep_share:g} % of their cost."
    )
    yield "Each line is rounded to cents, half up; the price once; the tax once."
    job, currency = design.facts.job, design.facts.workshop.head.currency
    if job.currency and job.currency != currency:
        yield f"The job asks for {job.currency}, but no rate of exchange is known: every amount is in {currency}."
    if job.terms.deliver_to:
        yield f"Carriage to {job.terms.deliver_to} is not in the price: ask the carrier."


def client_view(design: Design, shop: Bill) -> ClientBill:
    """What the client sees of a bill: no cost, no margin, no lines of the shop."""
    inside = [words for trade, words in WORDS.items() if has(design, trade) and _present(design, trade)]
    outside = [words for trade, words in WORDS.items() if not has(design, trade) and _present(design, trade)]
    if _present(design, Trade.SCREEN):
        outside.append("the screen itself: you provide it")
    deliver = design.facts.job.terms.deliver_to
    outside.append(f"carriage to {deliver}" if deliver else "carriage")
    return ClientBill(
        currency=shop.currency,
        pieces=shop.pieces,
        included=(*inside, "packing"),
        not_included=(*outside, "fixing to the wall and mains wiring"),
        price=shop.price,
        tax=shop.tax,
        tax_share=shop.tax_share,
        total=shop.total,
        deposit=shop.deposit,
        balance=shop.balance,
        valid_days=shop.valid_days,
    )


PREFIXES: Mapping[Trade, tuple[str, ...]] = {
    Trade.FRAME: ("front-stick", "rear-stick"),
    Trade.BATTENS: ("batten",),
    Trade.GLASS: ("front-glass", "rear-glass"),
    Trade.LIGHTS: ("strip",),
    Trade.RETAINERS: ("plate", "bar"),
    Trade.BACKING: ("backing", "back-panel"),
    Trade.SCREEN: ("screen",),
}


def _present(design: Design, trade: Trade) -> bool:
    """Whether the construction has anything of a trade."""
    return trade is Trade.ASSEMBLY or any(part.id.startswith(PREFIXES[trade]) for part in design.parts)
