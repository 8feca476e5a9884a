"""What feeds the strip: supplies, leads, connectors, fuses and dimmers, each counted from the wiring plan by a stated rule.

One fuse for each supply, and one dimmer where the lights are dimmed; one lead with its connector for each joint that is fed. Leads come
from whole rolls; each linked corner takes a short piece of the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from halfsilver.costing.buying import Found, bought, row_of
from halfsilver.costing.price import line
from halfsilver.costing.rules import whole_units
from halfsilver.layout.design import Design
from halfsilver.making.scope import has
from halfsilver.making.wiring import WiringPlan, wiring_plan
from halfsilver.model.bill import LineKind
from halfsilver.model.making import Trade
from halfsilver.model.workshop import Hardware, HardwareUse


def wiring_lines(design: Design) -> Iterator[Found]:
    """Every line of the wiring where the lights are in the scope; as text what has no price or does not exist."""
    plan = wiring_plan(design) if has(design, Trade.LIGHTS) and any(part.id == "strip" for part in design.parts) else None
    if plan is None:
        return
    quantity, circuits = design.facts.job.quantity, len(plan.circuits)
    if plan.supply is None:
        yield f"supply of {plan.light.voltage:g} V: the catalogue has none"
    else:
        yield bought(design, plan.supply.id, plan.supply.name, circuits * quantity)
    current_a = max(circuit.current_a for circuit in plan.circuits)
    leads = sum(len(circuit.feeds) for circuit in plan.circuits)
    yield _leads(design, plan)
    yield _carrying(design, HardwareUse.CONNECTOR, current_a, leads * quantity, "one in each lead")
    if plan.fuse_a is not None:
        words = f"{plan.fuse_a:g} A, one at each supply"
        yield _carrying(design, HardwareUse.FUSE, plan.fuse_a, circuits * quantity, words)
    if plan.dimmer_a is not None:
        yield _carrying(design, HardwareUse.DIMMER, plan.dimmer_a, circuits * quantity, "one behind each supply")


def _leads(design: Design, plan: WiringPlan) -> Found:
    """Whole rolls of the planned gauge."""
    hardware = design.facts.workshop.hardware.values()
    lead = next((item for item in hardware if item.use is HardwareUse.LEAD and item.gauge == plan.gauge), None)
    if lead is None:
        return f"leads of {plan.gauge} AWG: the catalogue has none"
    row = row_of(design, lead.id)
    if row is None or not row.length:
        return f"{lead.name}: there is no price in the stock"
    rolls = whole_units(quantity=plan.wire_mm * design.facts.job.quantity, unit=row.length)
    return line(f"{lead.name}, supply to strip", LineKind.HARDWARE, quantity=Decimal(rolls), unit="roll", each=Decimal(row.price))


def _carrying(design: Design, use: HardwareUse, current_a: float, count: int, words: str) -> Found:
    """The smallest of a kind that carries a current."""
    kinds = (item for item in design.facts.workshop.hardware.values() if item.use is use and item.current >= current_a - 1e-9)
    found: Hardware | None = min(kinds, key=lambda item: (item.current, item.id), default=None)
    if found is None:
        return f"{use.value} for {current_a:.1f} A: the catalogue has none; {count}, {words}"
    return bought(design, found.id, f"{found.name}, {words}", count)
