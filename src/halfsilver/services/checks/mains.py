"""The mains side: load on the branch circuit, energy over a year, inrush, and how the mains gets there.

What stands here is planning. A licensed electrician decides on everything at mains voltage, in a wall or fixed to the building.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from math import floor

from halfsilver.engineering import running, supply
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.wiring import WiringPlan, wiring_plan
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import not_run
from halfsilver.services.checks.ruled import ruled
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
    line, hours, factor = design.facts.workshop.head.mains, hours_a_day(design), ruled(design, "power_factor")
    fixed = design.facts.job.mounting.kind is MountingKind.RECESSED
    current = running.mains_current_a(power_w=power_w, voltage_v=line.voltage, power_factor=factor.value)
    lasting = supply.is_continuous(duration_h=hours.value)
    share = ruled(design, "fixed_share" if fixed else "cord_share")
    limit = min(line.circuit * share.value, line.circuit / supply.CONTINUOUS if lasting else line.circuit)
    mark = mark_of(supply.branch_share)
    several = floor(limit / current) if current else 0
    return Check(
        working=Working(
            rule="wiring.branch",
            title="current from the branch circuit",
            given=(
                Given(name="power", symbol="P", value=power_w, unit="W", origin="catalogue and job"),
                Given(name="mains", symbol="V", value=line.voltage, unit="V", origin="workshop"),
                factor.given("power factor", "pf"),
                Given(name="breaker", symbol="Ib", value=line.circuit, unit="A", origin="workshop"),
                share.given("share for one thing", "s"),
                hours.given("hours a day", "t", "h"),
            ),
            formula="P/(V pf) <= min(Ib/1.25, s Ib)" if lasting else "P/(V pf) <= s Ib",
            result=current,
            limit=limit,
            unit="A",
            source=mark_of(running.mains_current_a).source,
            limit_source=f"{mark_of(supply.branch_rating_a).source}; {share.source(mark.source)}",
            status=weakest(factor.status, share.status),
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
    multiple, line = ruled(design, "inrush_multiple"), design.facts.workshop.head.mains
    screen = _screen_inrush_a(design)
    peak = len(plan.circuits) * plan.supply.inrush + (screen or 0.0)
    limit = running.inrush_limit_a(breaker_a=line.circuit, multiple=multiple.value)
    most = floor((limit - (screen or 0.0)) / plan.supply.inrush)
    return Check(
        working=Working(
            rule="wiring.inrush",
            title="peak at switching on",
            given=(
                Given(name="supplies", symbol="n", value=len(plan.circuits)),
                Given(name="inrush of one", symbol="Ip", value=plan.supply.inrush, unit="A", origin="catalogue"),
                *(() if screen is None else (Given(name="inrush of the screen", symbol="Is", value=screen, unit="A", origin="asked"),)),
                Given(name="breaker", symbol="Ib", value=line.circuit, unit="A", origin="workshop"),
                multiple.given("times its rating", "k"),
            ),
            formula="n Ip <= k Ib" if screen is None else "n Ip + Is <= k Ib",
            result=peak,
            limit=limit,
            unit="A",
            source="data sheet of the supply",
            limit_source=multiple.source(mark.source),
            status=weakest("practice", multiple.status),
            assumptions=(
                *(("the screen's own peak is not known: screen.power.inrush",) if design.facts.job.screen and screen is None else ()),
                "all are switched on at once",
            ),
            confirms=ELECTRICIAN,
        ),
        advice=f"{len(plan.circuits)} x {plan.supply.inrush:g} A{'' if screen is None else f' and {screen:g} A of the screen'} for an "
        f"instant at switching on; a usual breaker bears about {limit:g} A{multiple.doubt}. "
        f"{f'At most {max(most, 0)} such supplies may start at once: s' if peak > limit else 'S'}witch several pieces one after the other, "
        "or use a delayed socket; a switch or timer before it has to bear the same peak.",
    )


def _screen_inrush_a(design: Design) -> float | None:
    """Peak of the screen at switching on, where the job knows it. [A]"""
    power = design.facts.screen.screen.power if design.facts.job.screen is not None else None
    return power.inrush if power else None


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
        rule="wiring.mains", source="NEC 400.12", status="memory", severity=Severity.CAUTION if recessed else Severity.NOTE,
        unit="1", advice=f"{said} Supplies stay reachable and in moving air; metal that can be touched is earthed "
        "where a supply or screen is of Class I, behind a residual-current device (GFCI) where the code asks for one. Parts that are "
        "listed do not make the piece listed; local codes decide.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (mains,)
