"""The mains side: load on the branch circuit, energy over a year, inrush, and how the mains gets there.

What stands here is planning. A licensed electrician decides on everything at mains voltage, in a wall or fixed to the building.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from math import floor

from halfsilver.engineering import running, supply
from halfsilver.engineering.working import Given, Working, mark_of
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.wiring import WiringPlan, wiring_plan
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import not_run
from halfsilver.services.checks.wiring import ELECTRICIAN, hours_a_day


def mains_power_w(design: Design, plan: WiringPlan | None, *, most: bool) -> float | None:
    """From the mains: screen and lights, at most or as usual; None where the screen's power is not known. [W]"""
    job = design.facts.job
    total = 0.0
    if job.screen is not None:
        power = design.facts.screen.screen.power
        one, other = (power.maximum, power.typical) if power and most else (power.typical, power.maximum) if power else (None, None)
        if (one if one is not None else other) is None:
            return None
        total += (one if one is not None else other) or 0.0
    if plan is not None and job.lights is not None:
        total += plan.power_w * (1.0 if most else job.lights.dim) / (plan.supply.efficiency if plan.supply else 0.85)
    return total


def mains(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Load on the branch circuit, inrush, energy over a year, and how the mains gets there."""
    plan = wiring_plan(design)
    if plan is None and design.facts.job.screen is None:
        return
    most, usual = mains_power_w(design, plan, most=True), mains_power_w(design, plan, most=False)
    if most is None or usual is None:
        yield not_run("wiring.branch", what="load on the branch circuit and energy", key="screen.power", source="NEC 210.20(A), 210.23")
    else:
        yield _branch(design, most)
        yield _energy(design, usual)
    if plan is not None and plan.supply is not None:
        yield _inrush(design, plan)
    yield _entry(design)


def _branch(design: Design, power_w: float) -> Check:
    line, hours = design.facts.workshop.head.mains, hours_a_day(design)
    fixed = design.facts.job.mounting.kind is MountingKind.RECESSED
    current = running.mains_current_a(power_w=power_w, voltage_v=line.voltage)
    lasting = supply.is_continuous(duration_h=hours.value)
    share = supply.branch_share(fixed=fixed)
    limit = min(line.circuit * share, line.circuit / supply.CONTINUOUS if lasting else line.circuit)
    mark = mark_of(supply.branch_share)
    several = floor(limit / current) if current else 0
    return Check(
        working=Working(
            rule="wiring.branch",
            title="current from the branch circuit",
            given=(
                Given(name="power", symbol="P", value=power_w, unit="W", origin="catalogue and job"),
                Given(name="mains", symbol="V", value=line.voltage, unit="V", origin="workshop"),
                Given(name="power factor", symbol="pf", value=running.POWER_FACTOR, origin="assumed"),
                Given(name="breaker", symbol="Ib", value=line.circuit, unit="A", origin="workshop"),
                hours.given("hours a day", "t", "h"),
            ),
            formula="P/(V pf) <= Ib/1.25 and <= share x Ib",
            result=current,
            limit=limit,
            unit="A",
            source=mark_of(running.mains_current_a).source,
            limit_source=f"{mark_of(supply.branch_rating_a).source}; {mark.source}",
            status=mark.status,
            assumptions=("nothing else on the circuit", "fixed in place" if fixed else "cord and plug"),
            confirms=ELECTRICIAN,
        ),
        broken=Severity.STOP,
        advice=f"At most {power_w:.0f} W and {current:.1f} A from {line.voltage:g} V; a {line.circuit:g} A circuit bears "
        f"{limit:g} A of such a load for hours{f': {several} pieces like this one' if several > 1 else ''}. What else "
        "hangs on the circuit counts too: an electrician decides.",
    )


def _energy(design: Design, power_w: float) -> Check:
    line, hours = design.facts.workshop.head.mains, hours_a_day(design)
    energy = running.energy_kwh(power_w=power_w, duration_h=hours.value)
    price = Decimal(line.energy)
    cost = f", about {Decimal(repr(energy)) * price:.0f} {design.facts.workshop.head.currency} at {price} a kWh" if price else ""
    mark = mark_of(running.energy_kwh)
    return Check(
        working=Working(
            rule="wiring.energy",
            title="energy of a year",
            given=(Given(name="mean power", symbol="P", value=power_w, unit="W"), hours.given("hours a day", "t", "h")),
            formula="P t x 365/1000",
            result=energy,
            unit="kWh",
            source=mark.source,
            status="assumed" if hours.assumed else mark.status,
            assumptions=("every day of the year", "lights at their dimmer's setting"),
            confirms="a meter in the lead",
        ),
        advice=f"In usual use {power_w:.0f} W; at {hours.value:g} h a day{' (assumed: place.hours)' if hours.assumed else ''} "
        f"{energy:.0f} kWh a year{cost}.",
    )


def _inrush(design: Design, plan: WiringPlan) -> Check | Finding:
    assert plan.supply is not None
    mark = mark_of(running.inrush_limit_a)
    if not plan.supply.inrush:
        return not_run("wiring.inrush", what=f"current at switching on of {plan.supply.id}", key="supplies.csv: inrush", source=mark.source)
    peak = len(plan.circuits) * plan.supply.inrush
    limit = running.inrush_limit_a(breaker_a=design.facts.workshop.head.mains.circuit)
    return Check(
        working=Working(
            rule="wiring.inrush",
            title="peak at switching on",
            given=(
                Given(name="supplies", symbol="n", value=len(plan.circuits)),
                Given(name="inrush of one", symbol="Ip", value=plan.supply.inrush, unit="A", origin="catalogue"),
            ),
            formula="n Ip <= 5 Ib",
            result=peak,
            limit=limit,
            unit="A",
            source="data sheet of the supply",
            limit_source=mark.source,
            status=mark.status,
            assumptions=("the screen's own inrush is not known", "all are switched on at once"),
            confirms=ELECTRICIAN,
        ),
        advice=f"{len(plan.circuits)} x {plan.supply.inrush:g} A for an instant at switching on; a usual breaker bears about "
        f"{limit:g} A (from memory). Switch several pieces one after the other, or use a delayed socket.",
    )


def _entry(design: Design) -> Finding:
    recessed = design.facts.job.mounting.kind is MountingKind.RECESSED
    said = (
        "In a recess the outlet is a recessed, listed one, or a listed in-wall kit, put in by a licensed electrician: a flexible "
        "cord must not run through or be hidden in a wall."
        if recessed
        else "Plug into an outlet that stays in reach; the cord is not hidden in a wall. A new outlet, and anything fixed or "
        "inside the wall, is for a licensed electrician."
    )
    return Finding(
        rule="wiring.mains", source="NEC 400.12 (from memory)", status="memory", severity=Severity.CAUTION if recessed else Severity.NOTE,
        unit="1", advice=f"{said} Supplies stay reachable and in moving air. Parts that are listed do not make the piece listed; "
        "local codes decide.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (mains,)
