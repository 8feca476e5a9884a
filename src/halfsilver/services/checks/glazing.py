"""Which glass the place calls for: hazardous locations, impact classes, and plain glass that people can touch."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from halfsilver.engineering.access import HEADROOM_MM
from halfsilver.engineering.glazing import (
    HIGH_EDGE_MM,
    LARGE_PANE_SQ_FT,
    LOW_EDGE_MM,
    WALKING_DISTANCE_MM,
    WindowRule,
    accepted_tests,
    beside_door_rule,
    cpsc_category,
    mark_accepted,
    mirror_exception,
    pane_area_sq_ft,
    wet_rule,
    window_rule,
)
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind
from halfsilver.model.workshop import GlassKind, GlassMake
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import AUTHORITY, PRACTICE, Known, floor_to_edge_mm, known, not_run, panes
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import M2_PER_FT2

HOLDS = (GlassMake.LAMINATED, GlassMake.FILMED, GlassMake.ACRYLIC)  # stays together, or breaks into no splinters
NOT_BACKED = " The exception for mirrors on a backing is not claimed: there is a cavity behind it."
BETTER = "laminated, toughened before it is coated, or a film on its plain face"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A pane in its place: what it is made of, its size and height, who comes how near, and the rules that hold there. [mm, sq ft]"""

    which: str
    glass: GlassKind
    area_sq_ft: float
    high_mm: float
    bottom_mm: float | None
    walking: Known
    window: WindowRule | None
    door: bool
    door_limit: Known | None
    wet: bool
    above: bool
    lean_deg: float
    sloped_from: Known

    @property
    def hazardous(self) -> bool:
        """Whether the code is likely to call for impact-tested glass here."""
        return self.door or self.wet or (self.window is not None and self.window.applies)

    @property
    def touched(self) -> bool:
        """Whether it is the front pane, and people come to it below the height of a head."""
        low = self.bottom_mm is None or self.bottom_mm < HEADROOM_MM
        return self.which == "front" and low and self.walking.value < WALKING_DISTANCE_MM

    @property
    def overhead(self) -> bool:
        """Whether its pieces would fall on people: they walk below it, or it leans out over them as sloped glass does."""
        return self.above or self.sloped

    @property
    def sloped(self) -> bool:
        """Whether it leans out over people so far that it counts as sloped glass."""
        return self.lean_deg > self.sloped_from.value

    @property
    def plain(self) -> bool:
        """Whether it is annealed glass that bears no mark of an impact test."""
        return self.glass.make is GlassMake.FLOAT and not self.glass.impact


def placed(design: Design, which: str) -> Placed:
    """A pane against the rules for hazardous locations; counted to its edges in the rebate, which is a little more than is seen."""
    job, ledger, edge = design.facts.job, design.ledger, floor_to_edge_mm(design)
    place = job.place
    wide, high = ledger[f"{which}.glass.width"], ledger[f"{which}.glass.height"]
    bottom = None if edge is None else edge + (ledger["outside.height"] - high) / 2
    walking, beside = known(place.walking_within, 0.0), ruled(design, "beside_door")
    size = {"width_mm": wide, "height_mm": high}
    return Placed(
        which=which,
        glass=design.facts.front_glass if which == "front" else design.facts.rear_glass,
        area_sq_ft=pane_area_sq_ft(**size),
        high_mm=high,
        bottom_mm=bottom,
        walking=walking,
        window=None if bottom is None else window_rule(**size, bottom_edge_mm=bottom, walking_distance_mm=walking.value),
        door_limit=beside if place.door_within is not None else None,
        # A height that nobody gave counts as low.
        door=place.door_within is not None
        and beside_door_rule(bottom_edge_mm=bottom or 0.0, door_distance_mm=place.door_within, within_mm=beside.value),
        wet=place.water_within is not None and wet_rule(bottom_edge_mm=bottom or 0.0, water_distance_mm=place.water_within),
        above=place.under,
        lean_deg=job.mounting.tilt if job.mounting.kind is not MountingKind.STANDING else 0.0,
        sloped_from=ruled(design, "sloped_glass"),
    )


def glazing(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Each pane against the rules for hazardous locations, with what that means for a coated sheet."""
    if floor_to_edge_mm(design) is None:
        yield not_run(
            "glazing.window", what="glass low enough to be walked into (window rule)", key="mounting.centre_height",
            source=mark_of(window_rule).source, unit="sq ft",
        )  # fmt: skip
    for which in panes(design):
        pane = placed(design, which)
        told = _pane(pane, show)
        yield told
        if pane.plain and pane.touched and told.finding.severity is Severity.NOTE:
            yield _touched(pane, show)
        if pane.overhead and pane.glass.make not in HOLDS:
            yield _overhead(pane)


def _pane(pane: Placed, show: Show) -> Check:
    glass, hazardous = pane.glass, pane.hazardous
    backed = mirror_exception(continuous_backing=True, cavity_behind=True)
    large = f", over the {LARGE_PANE_SQ_FT:g} of a large one" if pane.area_sq_ft > LARGE_PANE_SQ_FT else ""
    fit = mark_accepted(mark=glass.impact, door_or_wet=pane.wet)
    mark = mark_of(window_rule)
    return Check(
        working=Working(
            rule="glazing.pane",
            title=f"the {pane.which} pane in its place",
            given=(
                Given(
                    name="lower edge above the floor", symbol="b", value=pane.bottom_mm or 0.0, unit="mm",
                    origin="assumed" if pane.bottom_mm is None else "asked",
                ),
                Given(name="height", symbol="h", value=pane.high_mm, unit="mm", origin="ledger"),
                pane.walking.given("where people walk", "s", "mm"),
                *([pane.door_limit.given("beside a door up to", "e", "mm")] if pane.door_limit else []),
            ),
            formula="as a window if A > 9 sq ft, b < 18 in, b + h > 36 in and s <= 36 in: no plain glass there",
            put_in=_numbers(pane),
            result=pane.area_sq_ft,
            limit=(None if fit else 0.0) if hazardous else None if glass.impact else LARGE_PANE_SQ_FT,
            unit="sq ft",
            source=f"{mark.source}; 16 CFR 1201 for comparison",
            status=weakest(mark.status, pane.door_limit.status) if pane.door and pane.door_limit else mark.status,
            assumptions=(
                "counted to its edges in the rebate",
                *(("people walk right up to the glass",) if pane.walking.assumed else ()),
            ),
            confirms=AUTHORITY,
        ),
        broken=Severity.STOP if hazardous else Severity.CAUTION,
        advice=f"The {pane.which} pane has {pane.area_sq_ft:.1f} sq ft ({pane.area_sq_ft * M2_PER_FT2:.2f} m2){large}. "
        f"{_told(pane, show)} For comparison, in a door 16 CFR 1201 would ask Category {cpsc_category(area_sq_ft=pane.area_sq_ft)} of it. "
        f"{_meaning(pane)}{' That mark is not the one called for.' if hazardous and glass.impact and not fit else ''}"
        f"{'' if backed or pane.which != 'front' else NOT_BACKED} The local authority decides.",
        entries=(f"{pane.which}.glass.width", f"{pane.which}.glass.height"),
    )  # fmt: skip


def _numbers(pane: Placed) -> str:
    edge = "b not known" if pane.bottom_mm is None else f"b = {pane.bottom_mm:.0f} mm, b + h = {pane.bottom_mm + pane.high_mm:.0f} mm"
    return f"A = {pane.area_sq_ft:.2f} sq ft, {edge}, s = {pane.walking.value:.0f} mm; 18 in are 457 mm, 36 in are 914 mm"


def _told(pane: Placed, show: Show) -> str:
    accepted = " or ".join(accepted_tests(door_or_wet=pane.wet))
    unknown = "" if pane.bottom_mm is not None else "Its height above the floor is not known (mounting.centre_height)"
    if pane.wet or pane.door:
        low = f"{unknown}, and counts as low. " if unknown else ""
        return f"{low}It stands {'by water' if pane.wet else 'beside a door'}: the code is likely to call for {accepted}."
    if pane.window is None or pane.bottom_mm is None:
        return f"{unknown}."
    met, unmet = _conditions(pane, pane.window, pane.bottom_mm, show)
    near = "; people are taken to walk right before it (place.walking_within)" if pane.walking.assumed else ""
    if not unmet:
        return f"It is low, large and people walk before it ({', '.join(met)}){near}: the window rule is likely to call for {accepted}."
    holds = f"{', '.join(met)}; but " if met else ""
    return f"The window rule (IBC 2406.4.3) takes four conditions at once, and does not hold here: {holds}{', '.join(unmet)}{near}."


def _conditions(pane: Placed, rule: WindowRule, bottom: float, show: Show) -> tuple[list[str], list[str]]:
    """The conditions of the window rule that hold and those that do not, with their numbers."""
    top = bottom + pane.high_mm
    every = (
        (rule.large, f"{pane.area_sq_ft:.1f} sq ft are {'' if rule.large else 'not '}over {LARGE_PANE_SQ_FT:g}"),
        (rule.low, f"its lower edge at {show(bottom, 'mm')} is {'' if rule.low else 'not '}below {show(LOW_EDGE_MM, 'mm')}"),
        (rule.high, f"its upper edge at {show(top, 'mm')} is {'' if rule.high else 'not '}above {show(HIGH_EDGE_MM, 'mm')}"),
        (rule.near, f"people {'' if rule.near else 'do not '}walk within {show(WALKING_DISTANCE_MM, 'mm')} of it"),
    )  # fmt: skip
    return [words for holds, words in every if holds], [words for holds, words in every if not holds]


def _meaning(pane: Placed) -> str:
    glass = pane.glass
    if glass.impact:
        holds = {GlassMake.LAMINATED: "its pieces stay together", GlassMake.TOUGHENED: "it breaks into small pieces"}.get(glass.make, "")
        return f"It is marked {glass.impact}{f'; {holds}' if holds else ''}; the mark is permanent and stays legible."
    if glass.make is GlassMake.ACRYLIC:
        return "It is acrylic and bears no mark: ask its maker for one."
    if glass.make is not GlassMake.FLOAT:
        return f"It is {glass.make.value} and bears no mark of an impact class (`impact` in glass.csv): ask its supplier."
    front = (
        f"where people can touch it: {BETTER} (glass.front.kind)" if pane.which == "front"
        else f"it is reached when the pane before it breaks: {BETTER} too (glass.rear.kind)"
    )  # fmt: skip
    return f"It is plain annealed glass, breaks into sharp pieces and meets no impact class; {front}."


def _come(pane: Placed, show: Show) -> str:
    if pane.walking.assumed:
        return "Nobody said how near people walk (place.walking_within), so they are taken to come right up to"
    return f"People come within {show(pane.walking.value, 'mm')} of"


def _touched(pane: Placed, show: Show) -> Check:
    """The code does not call for more by itself, and people can still fall against it."""
    return Check(
        working=Working(
            rule="glazing.touched",
            title="how near people come to plain annealed glass",
            given=(
                pane.walking.given("where people walk", "s", "mm"),
                Given(name="lower edge above the floor", symbol="b", value=pane.bottom_mm or 0.0, unit="mm"),
                Given(name="height of a head", symbol="k", value=HEADROOM_MM, unit="mm", origin="ADA 2010 Standards 307.4"),
            ),
            formula="s >= 36 in, or b >= k, or an impact class",
            result=pane.walking.value,
            limit=WALKING_DISTANCE_MM,
            unit="mm",
            side=Limit.AT_LEAST,
            source=PRACTICE,
            limit_source=f"distance as in {mark_of(window_rule).source}",
            status="practice",
            assumptions=(
                "air behind it: nothing catches a pane that breaks",
                *(("people walk right up to the glass",) if pane.walking.assumed else ()),
            ),
            confirms=AUTHORITY,
        ),
        advice=f"{_come(pane, show)} the front pane ({pane.glass.id}). It is plain annealed glass with air behind it: "
        "someone who falls against it breaks it into sharp "
        "pieces, whatever the window rule says of its size and height. Take another "
        f"(glass.front.kind): {BETTER}, with an impact class such as ANSI Z97.1 Class A; or keep people "
        f"{show(WALKING_DISTANCE_MM, 'mm')} away from it. The local authority decides, and may ask for it anyway.",
        entries=("front.glass.width", "front.glass.height"),
    )


def _overhead(pane: Placed) -> Check:
    """Glass over people: when it breaks, only what holds together stays up."""
    limit = pane.sloped_from
    where = (
        f"It leans out by {pane.lean_deg:g} degrees, and beyond {limit.value:g} counts as sloped glass{limit.doubt}" if pane.sloped
        else "People walk below it (place.under)"
    )  # fmt: skip
    return Check(
        working=Working(
            rule="glazing.overhead",
            title=f"the {pane.which} pane over people",
            given=(
                Given(name="lean from upright", symbol="v", value=pane.lean_deg, unit="deg", origin="asked"),
                limit.given("lean of sloped glass", "vs", "deg"),
                Given(name="people walk below, 1: yes", symbol="u", value=float(pane.above), origin="asked"),
            ),
            formula="v <= vs and u = 0, or laminated or filmed",
            put_in=f"{pane.lean_deg:g} deg against {limit.value:g} deg, u = {pane.above:d}; it is {pane.glass.make.value}",
            result=pane.lean_deg if pane.sloped else float(pane.above),
            limit=limit.value if pane.sloped else 0.0,
            unit="deg" if pane.sloped else "1",
            source=PRACTICE,
            limit_source=limit.source("IBC 2405") if pane.sloped else PRACTICE,
            status=weakest("practice", limit.status) if pane.sloped else "practice",
            assumptions=("nothing below it catches what falls",),
            confirms=f"licensed structural engineer and {AUTHORITY}",
        ),
        broken=Severity.STOP if pane.sloped else Severity.CAUTION,
        advice=f"{where}: the pieces of the {pane.which} pane ({pane.glass.id}, {pane.glass.make.value}) fall on people when it breaks. "
        f"Only laminated or filmed glass stays up (glass.{pane.which}.kind). "
        "A licensed structural engineer and the local authority decide.",
        entries=(f"{pane.which}.glass.width", f"{pane.which}.glass.height"),
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (glazing,)
