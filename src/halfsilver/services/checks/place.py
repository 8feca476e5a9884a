"""What the place asks: standing out into a path, controls within reach, which glass it calls for. Local codes and authorities decide."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering.access import clear_width_shortfall_mm, protrusion_limit_mm, reach
from halfsilver.engineering.glazing import (
    LARGE_PANE_SQ_FT,
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
from halfsilver.model.job import MountingKind, Visit
from halfsilver.model.workshop import GlassKind, GlassMake
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import AUTHORITY, floor_to_edge_mm, known, leaned, not_run, panes
from halfsilver.units.factors import M2_PER_FT2

ADVISER = "owner's accessibility consultant and local authority"
HOME = " Homes are usually outside this standard."


def protrusion(design: Design, show: Show) -> Iterator[Check | Finding]:
    """A hung piece must not stand out further than 4 in between 27 and 80 in above the floor, where the public passes."""
    job, ledger = design.facts.job, design.ledger
    if job.mounting.kind is not MountingKind.HUNG:
        return
    mark = mark_of(protrusion_limit_mm)
    edge = floor_to_edge_mm(design)
    if edge is None:
        yield not_run(
            "access.protrusion", what="how far it may stand out into a path", key="mounting.centre_height", source=mark.source, unit="mm"
        )
        return
    depth = leaned(design, out_mm=ledger["outside.depth"], up_mm=ledger["outside.height"])[0]
    limit = protrusion_limit_mm(bottom_edge_mm=edge)
    where = f"Its lower edge is {show(edge, 'mm')} above the floor and it stands out {show(depth, 'mm')}"
    said = (
        f"{where}: at this height there is no limit to how far it may stand out." if limit is None
        else f"{where}, within {show(limit, 'mm')}." if depth <= limit
        else f"{where}; at most {show(limit, 'mm')} is allowed. Recess it, bring its lower edge down to 27 in, or give it a base or "
        "wing walls."
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="access.protrusion",
            title="how far it stands out into a path",
            given=(Given(name="lower edge above the floor", symbol="b", value=edge, unit="mm", origin="asked"),),
            formula="d <= 4 in where 27 in < b <= 80 in",
            result=depth,
            limit=limit,
            unit="mm",
            source=mark.source,
            status=mark.status,
            assumptions=("people pass before it",),
            confirms=ADVISER,
        ),
        advice=f"{said}{HOME if job.place.visitors is Visit.HOME else ''} The owner's accessibility adviser and the local authority "
        "decide.",
        entries=("outside.depth", "outside.height"),
    )
    yield from _path(design, show, depth)


def _path(design: Design, show: Show, depth: float) -> Iterator[Check]:
    width, mark = design.facts.job.place.path_width, mark_of(clear_width_shortfall_mm)
    if width is None:
        return
    missing = clear_width_shortfall_mm(path_width_mm=width, depth_mm=depth)
    cure = f": {show(missing, 'mm')} too little." if missing else "."
    yield Check(
        working=Working(
            rule="access.path",
            title="what is missing of the clear width of the path",
            given=(Given(name="path", symbol="w", value=width, unit="mm", origin="asked"),),
            formula="36 in - (w - d) <= 0",
            result=missing,
            limit=0.0,
            unit="mm",
            source=mark.source,
            status=mark.status,
            confirms=ADVISER,
        ),
        advice=f"Of a path of {show(width, 'mm')} it leaves {show(width - depth, 'mm')}; 36 in has to stay clear (from memory){cure}",
        entries=("outside.depth",),
    )


def controls(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The switch or sensor within the reach of someone in a wheelchair, where the public uses it."""
    place = design.facts.job.place
    if place.visitors is not Visit.PUBLIC:
        return
    mark = mark_of(reach)
    if place.controls is None:
        yield not_run(
            "access.reach", what="whether switch or sensor can be reached", key="place.controls", source=mark.source, unit="mm",
            meanwhile="15 to 48 in above the floor, worked with one hand and at most 5 lbf; for staff only, say so.",
        )  # fmt: skip
        return
    limits = reach(approach="side")
    if limits is None:
        return
    low, high = limits.low_mm, limits.high_mm
    height = place.controls
    yield Check(
        working=Working(
            rule="access.reach",
            title="height of the control",
            given=(Given(name="height of the control", symbol="c", value=height, unit="mm", origin="asked"),),
            formula="15 in <= c <= 48 in",
            result=height,
            limit=low if height < low else high,
            side=Limit.AT_LEAST if height < low else Limit.AT_MOST,
            unit="mm",
            source=mark.source,
            status=mark.status,
            assumptions=("nothing to reach over",),
            confirms=ADVISER,
        ),
        advice=f"The control is {show(height, 'mm')} above the floor; {show(low, 'mm')} to {show(high, 'mm')} can be reached from a "
        "wheelchair, less over something deep.",
    )


def glazing(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Each pane against the rules for hazardous locations, with what that means for a coated sheet."""
    edge = floor_to_edge_mm(design)
    if edge is None:
        yield not_run(
            "glazing.window", what="glass low enough to be walked into (window rule)", key="mounting.centre_height",
            source=mark_of(window_rule).source, unit="sq ft",
        )  # fmt: skip
    for which in panes(design):
        yield _pane(design, which, edge)


def _pane(design: Design, which: str, edge: float | None) -> Check:
    job, ledger = design.facts.job, design.ledger
    glass = design.facts.front_glass if which == "front" else design.facts.rear_glass
    wide, high = ledger[f"{which}.glass.width"], ledger[f"{which}.glass.height"]
    area = pane_area_sq_ft(width_mm=wide, height_mm=high)
    bottom = None if edge is None else edge + (ledger["outside.height"] - high) / 2
    walking = known(job.place.walking_within, 0.0)
    rule = (
        window_rule(width_mm=wide, height_mm=high, bottom_edge_mm=bottom, walking_distance_mm=walking.value) if bottom is not None else None
    )
    door = _near_door(job.place.door_within, bottom)
    wet = (
        bottom is not None
        and job.place.water_within is not None
        and wet_rule(bottom_edge_mm=bottom, water_distance_mm=job.place.water_within)
    )
    hazardous = bool(door or wet or (rule and rule.applies))
    backed = mirror_exception(continuous_backing=True, cavity_behind=True)
    large = f", over the {LARGE_PANE_SQ_FT:g} of a large one" if area > LARGE_PANE_SQ_FT else ""
    accepted, fit = " or ".join(accepted_tests(door_or_wet=wet)), mark_accepted(mark=glass.impact, door_or_wet=wet)
    mark = mark_of(window_rule)
    said = (
        f"The {which} pane has {area:.1f} sq ft ({area * M2_PER_FT2:.2f} m2){large}. {_told(rule, door, wet, accepted, walking.assumed)} "
        f"For comparison, in a door 16 CFR 1201 would ask Category {cpsc_category(area_sq_ft=area)} of it. {_meaning(glass, which)}"
        f"{' That mark is not the one called for.' if hazardous and glass.impact and not fit else ''}"
        f"{'' if backed or which != 'front' else ' The exception for mirrors on a backing is not claimed: there is a cavity behind it.'}"
    )
    return Check(
        working=Working(
            rule="glazing.pane",
            title=f"the {which} pane in its place",
            given=(
                Given(
                    name="lower edge above the floor", symbol="b", value=bottom or 0.0, unit="mm", origin="asked" if bottom else "assumed"
                ),
                Given(name="height", symbol="h", value=high, unit="mm", origin="ledger"),
                walking.given("where people walk", "s", "mm"),
            ),
            formula="as a window if A > 9 sq ft, b < 18 in, b + h > 36 in and s <= 36 in: no plain glass there",
            result=area,
            limit=(None if fit else 0.0) if hazardous else None if glass.impact else LARGE_PANE_SQ_FT,
            unit="sq ft",
            source=f"{mark.source}; 16 CFR 1201 for comparison",
            status=weakest(mark.status, mark_of(beside_door_rule).status) if door else mark.status,
            assumptions=("people walk right up to the glass",) if walking.assumed else (),
            confirms=AUTHORITY,
        ),
        broken=Severity.STOP if hazardous else Severity.CAUTION,
        advice=f"{said} The local authority decides.",
        entries=(f"{which}.glass.width", f"{which}.glass.height"),
    )


def _near_door(distance: float | None, bottom: float | None) -> bool:
    return distance is not None and bottom is not None and beside_door_rule(bottom_edge_mm=bottom, door_distance_mm=distance)


def _told(rule: WindowRule | None, door: bool, wet: bool, accepted: str, assumed: bool) -> str:
    if rule is None:
        return "Its height above the floor is not known (mounting.centre_height)."
    if wet or door:
        return f"It stands {'by water' if wet else 'beside a door'}: the code is likely to call for {accepted}."
    if rule.applies:
        return f"It is low, large and people walk before it: the window rule is likely to call for {accepted}."
    missing = [
        word
        for word, met in (
            ("not large", rule.large),
            ("not low", rule.low),
            ("not above 36 in", rule.high),
            ("people pass further away", rule.near),
        )
        if not met
    ]
    near = "; people are taken to walk right before it" if assumed else ""
    return f"The window rule does not hold here by itself ({', '.join(missing)}){near}."


def _meaning(glass: GlassKind, which: str) -> str:
    if glass.impact:
        holds = {GlassMake.LAMINATED: "its pieces stay together", GlassMake.TOUGHENED: "it breaks into small pieces"}.get(glass.make, "")
        return f"It is marked {glass.impact}{f'; {holds}' if holds else ''}; the mark is permanent and stays legible."
    if glass.make is GlassMake.ACRYLIC:
        return "It is acrylic and bears no mark: ask its maker for one."
    front = (
        "people can touch it: laminated, toughened before it is coated, or a film on its plain face"
        if which == "front"
        else "it is reached when the pane before it breaks"
    )
    return f"It is plain annealed glass, breaks into sharp pieces and meets no impact class; {front}."


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (protrusion, controls, glazing)
