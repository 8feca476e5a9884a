"""The low-voltage side: light along the strip, rating of the supply, leads, fuse and dimmer. What stands here is planning."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering import running, supply, wiring
from halfsilver.engineering.ladder import strip_ladder
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.wiring import KINDS, LEAD_MM, WiringPlan, choose_feed, fed, lead_limit_a, strip_of, thinnest_gauge, wiring_plan
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import HardwareUse
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, known, not_run, rough
from halfsilver.services.checks.ruled import ruled

ELECTRICIAN = "licensed electrician, local code"
MAKER = "maker of the strip, or a sample on the bench"
HOURS = 12.0
VOLTS_APART = 0.5
STRIP_ENTRIES = ("strip.segments", "strip.length")


def hours_a_day(design: Design) -> Known:
    """How long the piece runs on a day. [h]"""
    asked = design.facts.job.place.hours
    return known(None if asked is None else asked / 3600, HOURS)


def feeding(design: Design, show: Show) -> Iterator[Check]:
    """Voltage and light along the strip, and the fewest places to feed it."""
    plan = wiring_plan(design)
    if plan is None:
        return
    choice = choose_feed(design.facts, design.ledger)
    every = {feed: choice.dimmest.get(feed) or fed(design.facts, design.ledger, feed).dimmest for feed in KINDS}
    circuit = min(plan.circuits, key=lambda one: min(one.state.share))
    strip, low = strip_of(plan.light, sum(circuit.counts)), min(circuit.state.voltage_v)
    light, mark = plan.light, mark_of(strip_ladder)
    told = light.rails > 0 and light.forward > 0
    better = next((feed for feed in KINDS if every[feed] >= choice.wanted), None)
    shares = "; ".join(f"{feed.value.replace('-', ' ')} {100 * share:.0f} %" for feed, share in every.items())
    cure = "" if plan.dimmest >= choice.wanted else (
        f" Feed it at {better.value.replace('-', ' ')} instead (lights.feed)." if better
        else " No way of feeding keeps that: shorten the run, divide it, or choose a higher voltage or fewer watts a metre."
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="wiring.even",
            title="light of the dimmest segment over that of the brightest",
            given=(
                Given(name="segments in the run", symbol="n", value=strip.segments),
                Given(name="both rails over a segment", symbol="r", value=strip.segment_ohm, unit="ohm", origin=_from(light.rails)),
                Given(name="current of a segment", symbol="i", value=strip.segment_a, unit="A", origin="catalogue"),
                Given(name="full at", symbol="Vn", value=strip.full_v, unit="V", origin="catalogue"),
                Given(name="dark below", symbol="Vf", value=strip.forward_v, unit="V", origin=_from(light.forward)),
                Given(name="longest lead, both wires", symbol="R", value=plan.lead_ohm, unit="ohm"),
                Given(name="lowest voltage on the strip", symbol="V", value=low, unit="V"),
            ),
            formula="i_k = i (V_k - Vf)/(Vn - Vf), Kirchhoff at every joint; least i_k over greatest",
            result=plan.dimmest,
            limit=choice.wanted,
            side=Limit.AT_LEAST,
            unit="",
            source=mark.source,
            limit_source=PRACTICE,
            status=weakest(mark.status, "practice" if told else "assumed"),
            assumptions=(
                "light goes with current",
                *(() if told else ("copper of the rails and forward voltage estimated: see lights.csv",)),
                "each feed has a lead of its own, as long as the longest",
            ),
            confirms=MAKER,
        ),
        advice=f"Fed at {plan.feed.value.replace('-', ' ')} ({plan.corner.replace('-', ' ')} corner), the dimmest segment gets "
        f"{low:.1f} V and {100 * plan.dimmest:.0f} % of the light of the brightest; {100 * choice.wanted:.0f} % is wanted. "
        f"By feed: {shares}.{cure} Measure both ends at full brightness on the bench.",
        entries=STRIP_ENTRIES,
    )


def _from(value: float) -> str:
    return "catalogue" if value > 0 else "assumed"


def supplies(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Rating of each supply for lasting load, and the limits of a power-limited output."""
    plan = wiring_plan(design)
    if plan is None:
        return
    if plan.supply is None:
        what = f"rating of the supply: the workshop has none of {plan.light.voltage:g} V for {plan.power_w:.0f} W"
        yield not_run("wiring.supply", what=what, key="supplies.csv", source=PRACTICE, unit="W")
        return
    if abs(plan.supply.voltage - plan.light.voltage) > VOLTS_APART:
        yield Finding(
            rule="wiring.voltage", source="data sheets of strip and supply", status="seen", severity=Severity.STOP, unit="V",
            value=plan.supply.voltage, limit=plan.light.voltage, entries=STRIP_ENTRIES,
            advice=f"The supply {plan.supply.id} gives {plan.supply.voltage:g} V and the strip takes {plan.light.voltage:g} V: "
            "name another (lights.supply).",
        )  # fmt: skip
    yield _rating(plan, plan.supply.power, hours_a_day(design))
    yield _limited(plan, plan.supply.power, ruled(design, "class2_current"))


def _rating(plan: WiringPlan, rating_w: float, hours: Known) -> Check:
    load = max(circuit.power_w for circuit in plan.circuits)
    mark = mark_of(supply.supply_rating_w)
    assert plan.supply is not None
    lasting = "counts as continuous" if supply.is_continuous(duration_h=hours.value) else "does not count as continuous"
    number = (
        f"{len(plan.circuits)} supplies, each with a part of the strip of its own and never joined" if len(plan.circuits) > 1 else "one"
    )
    return Check(
        working=Working(
            rule="wiring.supply",
            title="load of one supply at full brightness",
            given=(
                Given(name="load of its part of the strip", symbol="P", value=load, unit="W"),
                Given(name="rating", symbol="S", value=rating_w, unit="W", origin="catalogue"),
                hours.given("hours a day", "t", "h"),
            ),
            formula=f"P <= {supply.HEADROOM:g} S",
            result=load,
            limit=supply.HEADROOM * rating_w,
            unit="W",
            source=mark.source,
            limit_source="NEC article 100 and 210.20(A): 125 % of continuous load",
            status=mark.status,
            assumptions=("the dimmer does not count: somebody may turn it up",),
            confirms=ELECTRICIAN,
        ),
        broken=Severity.STOP if load > rating_w else Severity.CAUTION,
        advice=f"The strip takes {plan.power_w:.1f} W at {plan.light.voltage:g} V; {hours.value:g} h a day {lasting}. Supply: "
        f"{plan.supply.name} ({plan.supply.id}), {number}, loaded with {load:.1f} W of {rating_w:g} W; at least "
        f"{supply.supply_rating_w(power_w=load):.0f} W are wanted.",
        entries=STRIP_ENTRIES,
    )


def _limited(plan: WiringPlan, rating_w: float, low: Known) -> Check:
    limits = supply.class2_nameplate(voltage_v=plan.light.voltage, low_current_a=low.value)
    mark, above = mark_of(supply.class2_nameplate), plan.light.voltage > supply.CLASS_2_LOW_V
    kept = rating_w <= limits.power_va
    needed = supply.class2_channels(power_w=plan.power_w)
    said = (
        "Look for the marking Class 2, or LPS, on the supply itself. Outputs are not joined in parallel and are kept apart from "
        "mains wiring."
        if kept
        else "Its output is not power-limited: wiring rules for mains hold on it (lighting at low voltage: NEC article 411, at "
        f"most 25 A a circuit). {needed} limited {'supplies' if needed > 1 else 'supply'} would do instead."
    )
    return Check(
        working=Working(
            rule="wiring.limited",
            title="nameplate of one supply as a Class 2 source",
            given=(
                Given(name="voltage", symbol="V", value=plan.light.voltage, unit="V", origin="catalogue"),
                Given(name="nameplate", symbol="S", value=rating_w, unit="W", origin="catalogue"),
                *(() if above else (low.given("most current to 20 V", "I", "A"),)),
            ),
            formula="S <= 100 VA" if above else "S <= I V",
            put_in=f"{rating_w:g} W <= {limits.power_va:g} VA, at {plan.light.voltage:g} V",
            result=rating_w,
            limit=limits.power_va,
            unit="W",
            source="nameplate",
            limit_source=mark.source if above else low.source(mark.source),
            status="seen" if above else low.status,
            assumptions=("dry place", "inherently limited"),
            confirms=ELECTRICIAN,
        ),
        advice=f"{rating_w:g} W at {plan.light.voltage:g} V; a Class 2 source in a dry place has at most {limits.power_va:g} VA "
        f"and {limits.current_a:.2f} A{'' if above else low.doubt}. {said}",
    )


def leads(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Conductors from the supply to the strip: current, voltage lost, fuse, dimmer."""
    plan = wiring_plan(design)
    if plan is None:
        return
    lights = design.facts.job.lights
    length = known(lights.lead if lights else None, LEAD_MM)
    highest = ruled(design, "lead_drop")
    busiest = max(max(circuit.current_a for circuit in plan.circuits), max(max(c.state.feed_a) for c in plan.circuits))
    thicker = _thicker(plan, busiest, highest.value)
    yield _current(plan, busiest, thicker)
    yield _drop(design, plan, length, highest, thicker, show)
    yield _fuse(plan)
    if plan.dimmer_a is not None and lights is not None:
        yield _dimmer(design, plan, plan.dimmer_a, lights.dim)


def _dimmer(design: Design, plan: WiringPlan, wanted_a: float, setting: float) -> Check:
    """The dimmer against the largest that the workshop has."""
    rated = [item.current for item in design.facts.workshop.hardware.values() if item.use is HardwareUse.DIMMER]
    fitting = min((one for one in rated if one >= wanted_a), default=max(rated, default=0.0))
    there = f"the workshop's has {fitting:g} A" if fitting else "the workshop has none"
    cure = "" if fitting >= wanted_a else ": find a larger one, or divide the strip into circuits of their own"
    return Check(
        working=Working(
            rule="wiring.dimmer",
            title="rating of the dimmer behind each supply",
            given=(
                Given(name="current of its circuit", symbol="I", value=wanted_a * supply.HEADROOM, unit="A"),
                Given(name="rating", symbol="Id", value=fitting, unit="A", origin="catalogue"),
            ),
            formula=f"I/{supply.HEADROOM:g} <= Id",
            result=wanted_a,
            limit=fitting,
            unit="A",
            source=PRACTICE,
            limit_source="hardware.csv",
            status="practice",
            assumptions=(f"loaded to {100 * supply.HEADROOM:.0f} % for hours", "full brightness"),
            confirms=ELECTRICIAN,
        ),
        advice=f"Dimmer for {plan.light.voltage:g} V constant voltage, at least {wanted_a:.1f} A, between supply and strip; {there}{cure}. "
        f"Set to {100 * setting:.0f} % here. A supply that is not made for it is not dimmed at its mains side: the charging peak of the "
        "supply can destroy such a dimmer and trip the breaker.",
    )


def _thicker(plan: WiringPlan, current_a: float, highest: float) -> str:
    """The lead that would carry it and lose no more than is usual, in words."""
    gauge = thinnest_gauge(current_a=current_a, lead_mm=plan.furthest_mm, voltage_v=plan.light.voltage, highest=highest)
    carries = current_a <= lead_limit_a(gauge)
    lost = wiring.drop_point_v(length_mm=plan.furthest_mm, current_a=current_a, ohm_per_km=wiring.table8_ohm_per_km(gauge=gauge))
    if carries and lost <= highest * plan.light.voltage:
        return f" {gauge} AWG would pass (lights.gauge)."
    return " No lead of the tables would pass: bring the supply nearer (lights.lead), or divide the strip."


def _current(plan: WiringPlan, current_a: float, thicker: str) -> Check:
    limit, mark = lead_limit_a(plan.gauge), mark_of(wiring.conductor_limit_a)
    return Check(
        working=Working(
            rule="wiring.lead",
            title="current of the busiest lead",
            given=(
                Given(name="gauge", symbol="AWG", value=plan.gauge),
                Given(name="current", symbol="I", value=current_a, unit="A"),
                Given(name="limit of the conductor", symbol="Ic", value=limit, unit="A", origin=mark.source),
            ),
            formula="I <= Ic",
            result=current_a,
            limit=limit,
            unit="A",
            source="Ohm's law",
            limit_source=mark.source,
            status="seen",
            assumptions=("copper; as fixture wire or by the 60 degC column", "not in a wall, not bundled"),
            confirms=ELECTRICIAN,
        ),
        broken=Severity.STOP,
        advice=f"Leads of {plan.gauge} AWG copper ({_area(plan.gauge):.2f} mm2) carry {current_a:.2f} A of at most {limit:g} A."
        f"{thicker if current_a > limit else ''}",
    )


def _area(gauge: int) -> float:
    return wiring.wire_area_mm2(diameter_mm=wiring.wire_diameter_mm(gauge=gauge))


def _drop(design: Design, plan: WiringPlan, length: Known, highest: Known, thicker: str, show: Show) -> Check:
    share, mark = wiring.drop_share(drop_v=plan.lead_drop_v, supply_v=plan.light.voltage), mark_of(wiring.drop_point_v)
    where = "" if plan.furthest_mm == plan.lead_mm else f", {show(plan.furthest_mm, 'mm')} to the furthest feed along the frame"
    long = f"assumed about {rough(design, show, plan.lead_mm)}" if length.assumed else show(plan.lead_mm, "mm")
    return Check(
        working=Working(
            rule="wiring.lead_drop",
            title="voltage lost in the longest lead",
            given=(
                length.given("lead, one way", "L", "mm"),
                Given(name="to the furthest feed", symbol="Lf", value=plan.furthest_mm, unit="mm"),
                Given(name="both its wires, 2 Lf r", symbol="R", value=plan.lead_ohm, unit="ohm", origin="NEC chapter 9 Table 8, 75 degC"),
                Given(name="current of the busiest lead", symbol="I", value=plan.lead_drop_v / plan.lead_ohm, unit="A"),
                Given(name="voltage", symbol="V", value=plan.light.voltage, unit="V", origin="catalogue"),
            ),
            formula="R I/V",
            result=share,
            limit=highest.value,
            unit="",
            source=mark.source,
            limit_source=highest.source("notes to NEC 210.19: advice"),
            status=weakest(mark.status, highest.status),
            assumptions=(*(("length of the lead",) if length.assumed else ()), "copper at 75 degC: at room temperature about 82 % of it"),
            confirms=ELECTRICIAN,
        ),
        advice=f"Lead {long} one way{where}: {plan.lead_drop_v:.2f} V or "
        f"{100 * share:.1f} % is lost in {plan.gauge} AWG; about {100 * highest.value:g} % is usual at most (lights.lead, "
        f"lights.gauge).{thicker if share > highest.value else ''}",
    )


def _fuse(plan: WiringPlan) -> Check | Finding:
    mark, limit = mark_of(running.fuse_rating_a), lead_limit_a(plan.gauge)
    current = max(circuit.current_a for circuit in plan.circuits)
    if plan.fuse_a is None:
        return Finding(
            rule="wiring.fuse", source=mark.source, status=mark.status, severity=Severity.CAUTION, unit="A",
            advice="No usual fuse is large enough for one circuit: divide the strip into circuits of their own.",
        )  # fmt: skip
    return Check(
        working=Working(
            rule="wiring.fuse",
            title="fuse of each circuit, at its supply",
            given=(
                Given(name="running current of the circuit", symbol="I", value=current, unit="A"),
                Given(name="limit of the conductor", symbol="Ic", value=limit, unit="A", origin=mark_of(wiring.conductor_limit_a).source),
            ),
            formula="next of the series at or above 1.25 I, <= Ic",
            put_in=f"{running.FUSE_LOAD:g} x {current:.3g} A = {running.FUSE_LOAD * current:.3g} A: {plan.fuse_a:g} A <= {limit:g} A",
            result=plan.fuse_a,
            limit=limit,
            unit="A",
            source=mark.source,
            limit_source=mark_of(wiring.conductor_limit_a).source,
            status=mark.status,
            assumptions=("every lead of a circuit may carry all of its current",),
            confirms=ELECTRICIAN,
        ),
        broken=Severity.CAUTION,
        advice=f"Fuse of {plan.fuse_a:g} A, slow, at the output of each supply, before its leads part; the conductor allows {limit:g} "
        "A. Even a limited supply can heat a poor joint: fuse it.",
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (feeding, supplies, leads)
