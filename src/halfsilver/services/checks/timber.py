"""Timber between shop and site: moisture when it is glued, mitres that open, clearance of the panes over the year, glue and clamps."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering import timber
from halfsilver.engineering.constants import ACRYLIC_EXPANSION_PER_K, GLASS_EXPANSION_PER_K
from halfsilver.engineering.glass import expansion_mm
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.ledger.shown import Show, fine, in_inches
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import GlassMake
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, at_most, frames, not_run, panes
from halfsilver.services.checks.ruled import ruled
from halfsilver.services.checks.seasons import Seasons, across, in_range, seasons
from halfsilver.units.factors import MM_PER_INCH

MAKER = "maker of the frame, with a moisture meter"
GLUE_PCT = (6.0, 8.5)  # timber of interiors when it is glued; common practice
GLUE_DEGC = 10.0  # white glue below that does not form a film; common practice
OPEN_MM = 0.5  # a gap in a mitre that is seen across a room; common practice


def moisture(design: Design, show: Show) -> Iterator[Check]:
    """Moisture of timber that has lain in the shop's air, against what interiors want when they are glued."""
    if not frames(design):
        return
    year, mark = seasons(design), mark_of(timber.equilibrium_moisture_pct)
    made, (low, high) = year.made_pct, GLUE_PCT
    dry, (W, K, K1, K2) = made < low, timber.moisture_terms(temperature_degc=year.shop_degc)
    yield Check(
        working=Working(
            rule="timber.glued",
            title="moisture of the timber when it is glued",
            given=(
                Given(name="shop", symbol="T", value=year.shop_degc, unit="degC", origin="workshop"),
                Given(name="its humidity", symbol="h", value=year.shop_humidity, origin="workshop"),
                Given(name="terms of the handbook at T, W", symbol="W", value=W, origin=mark.source),
                Given(name="the same, K", symbol="K", value=K, origin=mark.source),
                Given(name="the same, K1", symbol="K1", value=K1, origin=mark.source),
                Given(name="the same, K2", symbol="K2", value=K2, origin=mark.source),
            ),
            formula="1800/W (K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2)/(1 + K1 K h + K1 K2 K^2 h^2))",
            result=made,
            limit=low if dry else high,
            side=Limit.AT_LEAST if dry else Limit.AT_MOST,
            unit="%",
            source=mark.source,
            limit_source=PRACTICE,
            status="practice",
            assumptions=("it has lain there for weeks",),
            confirms=MAKER,
        ),
        advice=f"In the shop's air ({year.shop_degc:g} degC, {100 * year.shop_humidity:.0f} %) timber settles at {made:.1f} %; "
        f"{low:g} to {high:g} % is usual for interiors, and this site swings between {year.site_pct(dampest=False):.1f} "
        f"and {year.site_pct(dampest=True):.1f} %{_assumed(year)}. Let it lie a week or more, and measure it before it is "
        "cut.",
    )


def _assumed(year: Seasons) -> str:
    return f" (assumed: {', '.join(year.assumed)})" if year.assumed else ""


def mitres(design: Design, show: Show) -> Iterator[Check | Finding]:
    """How far each frame's mitres open between the shop's air and the driest or dampest weeks of the site."""
    year, seen = seasons(design), set()
    for which in frames(design):
        moulding = design.facts.front_moulding if which == "front" else design.facts.rear_moulding
        if moulding.id in seen:
            continue
        seen.add(moulding.id)
        rate = across(moulding)
        yield _unknown(which, moulding.timber) if rate is None else _mitre(design, show, which, moulding.timber, rate, year)


def _unknown(which: str, species: str) -> Finding:
    what = f'movement of the {which} frame: "{species}" is not in the table of species'
    return not_run(
        "timber.mitre", what=what, key="mouldings.csv: across", source=mark_of(timber.cross_grain_strain).source, unit="mm",
        meanwhile="0.002 to 0.004 for 1 % of moisture is usual.",
    )  # fmt: skip


def _strain(rate: Known, year: Seasons, *, dampest: bool) -> float:
    """Growth across the grain as a share of the width, from the shop to the site. [-]"""
    made, there = in_range(year.made_pct), in_range(year.site_pct(dampest=dampest))
    return timber.cross_grain_strain(coefficient_per_pct=rate.value, from_pct=made, to_pct=there)


def _outside_range(year: Seasons) -> str:
    low, high = timber.MOVEMENT_RANGE_PCT
    moistures = (year.made_pct, year.site_pct(dampest=False), year.site_pct(dampest=True))
    beyond = any(one < low or one > high for one in moistures)
    return f" The coefficients hold from {low:g} to {high:g} % only: it moves more than that." if beyond else ""


def _mitre(design: Design, show: Show, which: str, species: str, rate: Known, year: Seasons) -> Check:
    width = design.ledger[f"{which}.moulding.body"] + design.ledger[f"{which}.moulding.lip"]
    dry, damp = (_strain(rate, year, dampest=dampest) for dampest in (False, True))
    worst = max((dry, damp), key=abs)
    opening = timber.mitre_opening_mm(rail_width_mm=width, strain=worst)
    inside, mark = worst < 0, mark_of(timber.mitre_opening_mm)
    middle = (year.site_pct(dampest=False) + year.site_pct(dampest=True)) / 2
    then = timber.mitre_opening_mm(rail_width_mm=width, strain=rate.value * (in_range(middle) - in_range(year.site_pct(dampest=False))))
    cure = (
        f" Cut from timber nearer to {middle:.1f} % they open by {fine(show, then)}; or take quarter-sawn stock, or none "
        f"wider than {at_most(design, show, width * OPEN_MM / opening)}. Put a spline or keys across every mitre."
        if opening > OPEN_MM
        else ""
    )
    return Check(
        working=Working(
            rule="timber.mitre",
            title=f"opening of the {which} frame's mitres",
            given=(
                Given(name="width of the stick", symbol="w", value=width, unit="mm", origin="catalogue"),
                rate.given("growth across the grain", "C", "1/%"),
                Given(name="moisture when made", symbol="M1", value=year.made_pct, unit="%"),
                Given(name="at the driest", symbol="Md", value=year.site_pct(dampest=False), unit="%"),
                Given(name="at the dampest", symbol="Mw", value=year.site_pct(dampest=True), unit="%"),
            ),
            formula="w sqrt(2) C |M2 - M1|",
            result=opening,
            limit=OPEN_MM,
            unit="mm",
            source=f"{mark_of(timber.cross_grain_strain).source}; {mark.source}",
            limit_source=PRACTICE,
            status=weakest("practice", "assumed" if year.assumed else "seen"),
            assumptions=("flat-sawn, nothing holds it back", "finish slows it and does not stop it", *year.assumed),
            confirms=MAKER,
        ),
        advice=f"A frame of {species}, {show(width, 'mm')} wide, opens its mitres by up to {fine(show, opening)} at the "
        f"{'inside when it is driest' if inside else 'outside when it is dampest'}{_assumed(year)}; about {fine(show, OPEN_MM)} "
        f"is seen.{cure}{_outside_range(year)}",
        entries=(f"{which}.moulding.body", f"{which}.moulding.lip"),
    )


def clearances(design: Design, show: Show) -> Iterator[Check]:
    """The least clearance of each pane in the dampest weeks: tolerances, swollen sticks and a warm pane together."""
    year = seasons(design)
    for which in panes(design):
        if which not in frames(design):
            continue
        rate = across(design.facts.front_moulding if which == "front" else design.facts.rear_moulding)
        if rate is not None:
            yield _clearance(design, show, which, rate, year)


def _clearance(design: Design, show: Show, which: str, rate: Known, year: Seasons) -> Check:
    ledger, kind = design.ledger, design.facts.front_glass if which == "front" else design.facts.rear_glass
    swell = 2 * ledger[f"{which}.moulding.body"] * max(_strain(rate, year, dampest=True), 0.0)
    per_k = ACRYLIC_EXPANSION_PER_K if kind.make is GlassMake.ACRYLIC else GLASS_EXPANSION_PER_K
    warmed = ruled(design, "pane_warmed")
    left = {
        d: tolerance(ledger, f"{which}.clearance.{d}").low_mm
        - swell
        - expansion_mm(length_mm=ledger[f"{which}.glass.{d}"], rise_k=warmed.value, expansion_per_k=per_k)
        for d in DIRECTIONS
    }
    tight = min(DIRECTIONS, key=lambda d: left[d])
    short = -left[tight]
    more = short + (0.0005 * MM_PER_INCH if in_inches(show) else 0.05)  # so that what is printed is never too little
    cure = f" Ask for {fine(show, more)} more (fit.glass), or close it in damper air." if short > 0 else ""
    left_over = (
        f"{fine(show, left[tight])} is left" if short <= 0 else f"{fine(show, short)} is missing, and a pane that is squeezed cracks"
    )
    return Check(
        working=Working(
            rule="timber.clearance",
            title=f"least clearance of the {which} pane over the year, {tight}",
            given=(
                Given(name="least when made", symbol="c", value=tolerance(ledger, f"{which}.clearance.{tight}").low_mm, unit="mm"),
                Given(name="swelling of two sticks, 2 body C (M2 - M1)", symbol="s", value=swell, unit="mm"),
                Given(name="expansion of the pane", symbol="a", value=per_k, unit="1/K", origin="EN 572-1 or practice"),
                Given(name="the pane", symbol="L", value=ledger[f"{which}.glass.{tight}"], unit="mm", origin="ledger"),
                warmed.given("pane over the shop's air", "dT", "K"),
            ),
            formula="c - s - a L dT",
            result=left[tight],
            limit=0.0,
            side=Limit.AT_LEAST,
            unit="mm",
            source=mark_of(timber.movement_mm).source,
            limit_source="the pane must stay free in its rebate",
            status=weakest("seen", warmed.status, "assumed" if year.assumed else "seen"),
            assumptions=("the sticks' whole growth goes inwards", "length along the grain does not change", *year.assumed),
            confirms=MAKER,
        ),
        broken=Severity.CAUTION,
        advice=f"When it is dampest{_assumed(year)} two sticks take {fine(show, swell)} of the {which} pane's clearance in "
        f"{tight}; at worst {left_over}.{cure}",
        entries=(f"{which}.clearance.width", f"{which}.clearance.height"),
    )


def glue(design: Design, show: Show) -> Iterator[Check]:
    """Glue and clamps, as practice; white glue wants some warmth."""
    if not frames(design):
        return
    degc = design.facts.workshop.head.air.temperature
    yield Check(
        working=Working(
            rule="timber.glue",
            title="warmth of the shop for white glue",
            given=(Given(name="shop", symbol="T", value=degc, unit="degC", origin="workshop"),),
            formula=f"T >= {GLUE_DEGC:g} degC",
            result=degc,
            limit=GLUE_DEGC,
            side=Limit.AT_LEAST,
            unit="degC",
            source="workshop.yaml: air",
            limit_source=PRACTICE,
            status="practice",
            assumptions=("white or aliphatic glue",),
            confirms="data sheet of the glue",
        ),
        advice="Mitres: end grain drinks, so size it first; white or aliphatic glue, 5 to 10 min open, 30 to 60 min in the "
        f"clamps, full after 24 h, above {GLUE_DEGC:g} degC (the shop: {degc:g} degC). It creeps under lasting load: "
        "splines, keys or screws carry. Polyurethane takes 1 to 4 h in the clamps. Nothing sour-curing near a coating.",
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (moisture, mitres, clearances, glue)
