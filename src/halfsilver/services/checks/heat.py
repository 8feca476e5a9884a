"""Heat: air round screen and strip, faces that people touch, openings, blocked openings, warming up, and what grows as it warms."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from halfsilver.engineering import running
from halfsilver.engineering.casework import HOTTEST_DEGC, CaseBalance
from halfsilver.engineering.constants import ACRYLIC_EXPANSION_PER_K
from halfsilver.engineering.glass import expansion_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.engineering.workings import heat_workings
from halfsilver.layout.design import Design
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.ledger.shown import Show
from halfsilver.making.wiring import is_lit
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind, Vent
from halfsilver.model.workshop import GlassMake
from halfsilver.services.checks.casing import TIMBER_W_MK, Casing, casing
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, not_run, panes, warmth
from halfsilver.services.checks.openings import BALANCE, PROBE, blocked, openings
from halfsilver.services.checks.ruled import ruled

BARE_W_M = 10.0  # a strip above this wants metal behind it; common practice
SWING_K = 40.0  # from the coldest store to running in summer; common practice
ACRYLIC = Known(value=ACRYLIC_EXPANSION_PER_K, origin=PRACTICE)


def case(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The case at rest in the warmest room: air against the limits of screen and strip, faces, openings, blocked openings, warming up."""
    box = casing(design)
    if box.power_w is None:
        yield not_run("heat.air", what="heat inside the case", key="screen.power", source=BALANCE, unit="degC")
        return
    if not box.power_w:
        return
    limit, whose = _limit(design)
    if limit is None:
        yield not_run(
            "heat.air", what="air round the screen against its limit", key="screen.highest_surrounding", source=BALANCE, unit="degC",
            meanwhile="Many screens bear 40 degC at their own intake: ask its maker.",
        )  # fmt: skip
        return
    state = box.balance()
    if state is None:
        yield _too_hot(box, limit)
    else:
        yield from _at_rest(design, box, state, limit, whose)
    yield openings(design, box, limit)
    if box.openings.low_mm2 or box.openings.fan_m3_s:
        yield blocked(design, box, limit, whose)


def _limit(design: Design) -> tuple[float | None, str]:
    """Highest air temperature of what is inside, and whose it is. [degC]"""
    facts = design.facts
    limits = [(facts.light.highest_surrounding, "strip")] if is_lit(design.ledger) else []
    if facts.job.screen is not None:
        highest = facts.screen.screen.highest_surrounding
        if highest is None:
            return None, "screen"
        limits.append((highest, "screen"))
    return min(limits, default=(None, ""))


def _too_hot(box: Casing, limit: float) -> Finding:
    return Finding(
        rule="heat.air", source=BALANCE, status="derived", severity=Severity.STOP, value=HOTTEST_DEGC, limit=limit, unit="degC",
        advice=f"{box.power_w:.0f} W ({', '.join(box.sources)}) cannot leave this case below {HOTTEST_DEGC:g} degC: it needs openings "
        "(case.low, case.high), a fan (case.fan) or less heat inside.",
    )  # fmt: skip


def _at_rest(design: Design, box: Casing, state: CaseBalance, limit: float, whose: str) -> Iterator[Check]:
    assert box.power_w is not None
    bears = ruled(design, "touch_glass")
    air, *touch = heat_workings(
        balance=state, power_w=box.power_w, room_degc=box.room.value, highest_surrounding_degc=limit, touched="glass",
        touch_limit_degc=bears.value,
    )  # fmt: skip
    assumed = [*(["room.warmest"] if box.room.assumed else []), *([box.openings.origin] if "assumed" in box.openings.origin else [])]
    usual = _usual(design, box) if air.holds is False else None
    hot = usual is None or usual > limit
    yield Check(
        working=replace(
            air, given=(box.room.given("warmest room", "To", "degC"), air.given[0], *air.given[2:], *_resistances(design, box)),
            assumptions=(*air.assumptions, *assumed), limit_source=f"data sheet of the {whose}", confirms=PROBE,
        ),
        broken=Severity.STOP if hot else Severity.CAUTION,
        advice=f"In a room of {warmth(design, box.room.value)}{', assumed: room.warmest,' if box.room.assumed else ''} the air "
        f"inside comes to {warmth(design, state.air_degc)} with {box.power_w:.0f} W ({', '.join(box.sources)}); the "
        f"{whose} bears {warmth(design, limit)}. "
        f"{'' if usual is None else f'With usual power it is {warmth(design, usual)}. '}{100 * state.vent_w / box.power_w:.0f} "
        f"% of the heat leaves with air. It is warmer next to the {whose}: prove it with a probe.",
        entries=("outside.width", "outside.height", "depth.back"),
    )  # fmt: skip
    for working in touch:
        face, _ = working.given
        yield Check(
            working=replace(
                working, given=(face, box.room.given("warmest room", "To", "degC")),
                limit_source=bears.source(working.limit_source), status=bears.status,
            ),
            broken=Severity.STOP,
            advice=f"The warmest face comes to {warmth(design, working.result)} with the room at {warmth(design, 25)}; glass that "
            f"is touched for up to 10 s may have {warmth(design, bears.value)}{bears.doubt}.",
        )  # fmt: skip
    constant = running.time_constant_s(capacity_j_k=box.capacity_j_k, power_w=box.power_w, rise_k=state.rise_k) / 3600
    mark = mark_of(running.time_constant_s)
    yield Check(
        working=Working(
            rule="heat.warm_up",
            title="time in which it makes 63 % of its rise",
            given=(
                Given(name="heat capacity", symbol="C", value=box.capacity_j_k, unit="J/K", origin="masses and specific heats"),
                Given(name="rise", symbol="dT", value=state.rise_k, unit="K"),
                Given(name="heat", symbol="P", value=box.power_w, unit="W"),
            ),
            formula="C dT/P",
            result=constant,
            unit="h",
            source=mark.source,
            status="practice",
            assumptions=("glass 720, timber 1600, metal 460, screen 900 J/kgK", "all of it warms alike"),
            confirms="a probe over one day",
        ),
        advice=f"It warms slowly: 63 % of the rise after {constant:.1f} h, 95 % after {3 * constant:.1f} h. Run it that long at "
        "full picture and full light, back against its wall or a board, before it is closed and before it is judged.",
    )


def _resistances(design: Design, box: Casing) -> Iterator[Given]:
    """What the walls rest on and is not from a catalogue."""
    if "gap" in design.ledger and design.facts.job.screen is not None:
        yield ruled(design, "still_air").given("air between the sheets", "Rg", "m2K/W")
    if design.facts.job.screen is not None:
        yield ruled(design, "still_air_thin").given("air before the screen", "Rs", "m2K/W")
    yield ruled(design, "glass_emissivity").given("emissivity of the glass", "e")
    yield Given(name="conductivity of the timber", symbol="k", value=TIMBER_W_MK, unit="W/mK", origin=PRACTICE)


def _usual(design: Design, box: Casing) -> float | None:
    """Air with the screen's typical power instead of its greatest, where the job knows both. [degC]"""
    power = design.facts.screen.screen.power if design.facts.job.screen is not None else None
    if power is None or power.typical is None or power.maximum is None or box.power_w is None:
        return None
    less = replace(box, power_w=box.power_w - power.maximum + power.typical).balance()
    return less.air_degc if less else None


def screen_vents(design: Design, show: Show) -> Iterator[Finding]:
    """Vents of the screen that look into a rebate wall."""
    if design.facts.job.screen is None:
        return
    found = design.facts.screen.screen.vents
    sides = [vent.value for vent in found or () if vent is not Vent.BACK]
    if found is None:
        yield not_run("heat.screen_vents", what="where the screen lets its warm air out", key="screen.vents", source=PRACTICE)
    elif sides:
        yield Finding(
            rule="heat.screen_vents", source=PRACTICE, status="practice", severity=Severity.CAUTION, unit="1",
            advice=f"The screen's vents at the {' and '.join(sides)} face timber: pass the air on by openings through the frame "
            "or by a slot as deep as its maker asks, and keep bars, pads and tape away from them.",
        )  # fmt: skip


def strip(design: Design, show: Show) -> Iterator[Check]:
    """A strong strip wants metal behind it."""
    if not is_lit(design.ledger):
        return
    light = design.facts.light
    yield Check(
        working=Working(
            rule="heat.strip",
            title="power of the strip for each metre",
            given=(
                Given(name="power", symbol="p", value=light.power, unit="W/m", origin="catalogue"),
                Given(name="metal channel, 1: yes", symbol="c", value=float(light.channel), origin="catalogue"),
            ),
            formula="p <= 10 W/m without a metal channel",
            put_in=f"{light.power:g} W/m {'in a metal channel' if light.channel else f'against {BARE_W_M:g} W/m, bare'}",
            result=light.power,
            limit=None if light.channel else BARE_W_M,
            unit="W/m",
            source="data sheet of the strip",
            limit_source=PRACTICE,
            status="practice",
            assumptions=("all of its power warms its own backing",),
            confirms="maker of the strip",
        ),
        advice=f"{light.power:g} W/m "
        f"{'in a metal channel' if light.channel else f'on bare timber; above about {BARE_W_M:g} W/m it wants a metal channel'}. "
        "Its backing is to stay under about 60 degC, and tape on sprayed timber lets go: clip or clean it.",
        entries=("strip.length",),
    )


def growth(design: Design, show: Show) -> Iterator[Check]:
    """Acrylic in its rebate and a metal channel between its corners, from the shop to running in summer."""
    for which in panes(design):
        kind = design.facts.front_glass if which == "front" else design.facts.rear_glass
        if kind.make is not GlassMake.ACRYLIC:
            continue
        longest = max(design.ledger[f"{which}.glass.{d}"] for d in DIRECTIONS)
        least = min(design.ledger[f"{which}.clearance.{d}"] for d in DIRECTIONS)
        grown = expansion_mm(length_mm=longest, rise_k=SWING_K, expansion_per_k=ACRYLIC_EXPANSION_PER_K)
        yield Check(
            working=_growth("heat.acrylic", f"growth of the {which} pane of acrylic", longest, ACRYLIC, grown, least),
            advice=f"The {which} pane of acrylic grows {show(grown, 'mm')} on {show(longest, 'mm')} over {SWING_K:g} K; its "
            f"clearance is {show(least, 'mm')} in all. It wants that and the tolerances (fit.glass), and no glue at its "
            "edge.",
            entries=(f"{which}.clearance.width", f"{which}.clearance.height"),
        )
    if is_lit(design.ledger) and design.facts.light.channel:
        longest = max(design.ledger[f"strip.run.{d}"] for d in DIRECTIONS)
        metal = ruled(design, "metal_growth")
        per_k = Known(value=metal.value * 1e-6, origin=metal.origin)
        grown = expansion_mm(length_mm=longest, rise_k=SWING_K, expansion_per_k=per_k.value)
        yield Check(
            working=_growth("heat.channel", "growth of the strip's channel", longest, per_k, grown, None),
            advice=f"The channel grows {show(grown, 'mm')} on {show(longest, 'mm')} over {SWING_K:g} K: cut it shorter by that, "
            "fix it at one end, let it slide at the other, and leave the corner links a loop.",
            entries=("strip.run.width", "strip.run.height"),
        )


def _growth(rule: str, title: str, length: float, per_k: Known, grown: float, limit: float | None) -> Working:
    return Working(
        rule=rule,
        title=title,
        given=(
            Given(name="length", symbol="L", value=length, unit="mm"),
            per_k.given("expansion", "a", "1/K"),
            Given(name="swing", symbol="dT", value=SWING_K, unit="K", origin="assumed"),
        ),
        formula="a L dT",
        result=grown,
        limit=limit,
        unit="mm",
        source="linear expansion",
        limit_source="clearance of the design" if limit is not None else "",
        status=weakest("practice", per_k.status),
        assumptions=(f"from store to summer {SWING_K:g} K",),
        confirms="data sheet of the material",
    )


def recess(design: Design, show: Show) -> Iterator[Finding]:
    """A recess holds its own warm air."""
    if design.facts.job.mounting.kind is not MountingKind.RECESSED:
        return
    yield Finding(
        rule="heat.recess", source=PRACTICE, status="practice", severity=Severity.CAUTION, unit="1",
        advice="In a recess warm air stays above the piece: open the recess low and high to the room, line it without insulation "
        "wool behind the screen, and leave no flue or pipe in it.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (case, screen_vents, strip, growth, recess)
