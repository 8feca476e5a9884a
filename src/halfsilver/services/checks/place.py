"""Who passes by: standing out into a path, headroom below, controls within reach. Local codes and authorities decide."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering.access import (
    CANE_HEIGHT_MM,
    FORWARD_IN,
    HEADROOM_MM,
    REACH_HIGH_MM,
    REACH_LOW_MM,
    SIDE_DEEP_MM,
    SIDE_NEAR_MM,
    Approach,
    Reach,
    clear_width_shortfall_mm,
    headroom_shortfall_mm,
    protrusion_limit_mm,
    reach,
)
from halfsilver.engineering.working import Given, Limit, Working, mark_of
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind, Reached, ReachOver, Visit
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import Known, floor_to_edge_mm, leaned, not_run
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import MM_PER_INCH

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
        else f"{where}; at most {show(limit, 'mm')} is allowed. Recess it, bring its lower edge down to "
        f"{show(CANE_HEIGHT_MM, 'mm')}, or give it a base or wing walls."
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="access.protrusion",
            title="how far it stands out into a path",
            given=(
                Given(name="lower edge above the floor", symbol="b", value=edge, unit="mm", origin="asked"),
                Given(name="how far it stands out", symbol="d", value=depth, unit="mm", origin="ledger"),
            ),
            formula="d <= 4 in where 27 in < b <= 80 in",
            put_in=f"{depth:.4g} mm{'' if limit is None else f' <= {limit:.4g} mm'}; b = {edge:.4g} mm, between 685.8 and 2032 mm: "
            f"{'no' if limit is None else 'yes'}",
            result=depth,
            limit=limit,
            unit="mm",
            source=mark.source,
            limit_source=mark.source,
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
    clear = ruled(design, "clear_width")
    missing = clear_width_shortfall_mm(path_width_mm=width, depth_mm=depth, clear_width_mm=clear.value)
    cure = f": {show(missing, 'mm')} too little." if missing else "."
    yield Check(
        working=Working(
            rule="access.path",
            title="what is missing of the clear width of the path",
            given=(
                Given(name="path", symbol="w", value=width, unit="mm", origin="asked"),
                Given(name="how far it stands out", symbol="d", value=depth, unit="mm", origin="ledger"),
                clear.given("clear width that has to stay", "c", "mm"),
            ),
            formula="c - (w - d) <= 0",
            result=missing,
            limit=0.0,
            unit="mm",
            source=mark.source,
            limit_source=clear.source(mark.source),
            status=clear.status,
            assumptions=("nothing stands opposite",),
            confirms=ADVISER,
        ),
        advice=f"Of a path of {show(width, 'mm')} it leaves {show(width - depth, 'mm')}; {show(clear.value, 'mm')} has to stay "
        f"clear{clear.doubt}{cure}",
        entries=("outside.depth",),
    )


def headroom(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Headroom where people walk below a piece."""
    place, edge, mark = design.facts.job.place, floor_to_edge_mm(design), mark_of(headroom_shortfall_mm)
    if not place.under:
        return
    if edge is None:
        yield not_run("access.headroom", what="headroom below it", key="mounting.centre_height", source=mark.source, unit="mm")
        return
    missing = headroom_shortfall_mm(clear_height_mm=edge)
    cure = f": {show(missing, 'mm')} too little. Hang it higher, or keep people from below it by a rail or a cabinet." if missing else "."
    yield Check(
        working=Working(
            rule="access.headroom",
            title="clear height below it",
            given=(Given(name="lower edge above the floor", symbol="b", value=edge, unit="mm", origin="asked"),),
            formula="b >= 80 in",
            result=edge,
            limit=HEADROOM_MM,
            side=Limit.AT_LEAST,
            unit="mm",
            source=mark.source,
            limit_source=mark.source,
            status=mark.status,
            assumptions=("people walk below it, all of its width",),
            confirms=ADVISER,
        ),
        broken=Severity.STOP if place.visitors is Visit.PUBLIC else Severity.CAUTION,
        advice=f"People walk below it (place.under): its lower edge is {show(edge, 'mm')} above the floor, headroom is "
        f"{show(HEADROOM_MM, 'mm')}{cure}{HOME if place.visitors is Visit.HOME else ''} What hangs over people is for a licensed "
        "structural engineer too.",
        entries=("outside.height",),
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
            meanwhile=f"{show(REACH_LOW_MM, 'mm')} to {show(REACH_HIGH_MM, 'mm')} above the floor, "
            "worked with one hand and at most 5 lbf; for staff only, say so.",
        )  # fmt: skip
        return
    over, deep, top = place.reach_over, ruled(design, "side_reach_deep"), ruled(design, "side_reach_over")
    approach: Approach = "forward" if over is not None and over.approach is Reached.FORWARD else "side"
    limits = reach(
        approach=approach, obstruction_depth_mm=over.depth if over else 0.0, obstruction_height_mm=over.height if over else 0.0,
        side_deep_high_mm=deep.value, side_over_mm=top.value,
    )  # fmt: skip
    if limits is None and over is not None:
        yield _out_of_reach(over, show, mark.source, top)
    elif limits is not None:
        yield _reached(place.controls, limits, over, show, deep)


def _out_of_reach(over: ReachOver, show: Show, source: str, top: Known) -> Finding:
    """Over what is that deep or high nobody has to reach."""
    forward = over.approach is Reached.FORWARD
    deep = FORWARD_IN[-1][0] * MM_PER_INCH if forward else SIDE_DEEP_MM
    high = "" if forward else f" and {show(top.value, 'mm')} of height{top.doubt}"
    return Finding(
        rule="access.reach", source=source, status="seen" if forward else "memory", severity=Severity.CAUTION, unit="mm",
        value=over.depth if over.depth > deep else over.height, limit=deep if over.depth > deep else top.value,
        advice=f"The control is reached over something {show(over.depth, 'mm')} deep and {show(over.height, 'mm')} high; from a "
        f"wheelchair nothing is reached over more than {show(deep, 'mm')} of depth{high}, {over.approach.value}. Put the control beside "
        "it, or make it less deep.",
    )  # fmt: skip


def _reached(height: float, limits: Reach, over: ReachOver | None, show: Show, deep: Known) -> Check:
    mark, low, high = mark_of(reach), limits.low_mm, limits.high_mm
    side = over is not None and over.approach is Reached.SIDE and over.depth > SIDE_NEAR_MM
    across = "" if over is None else f", {over.approach.value} over {show(over.depth, 'mm')} of depth"
    return Check(
        working=Working(
            rule="access.reach",
            title="height of the control",
            given=(
                Given(name="height of the control", symbol="c", value=height, unit="mm", origin="asked"),
                Given(name="lowest", symbol="cl", value=low, unit="mm", origin="ADA 308.2.1, 308.3.1"),
                deep.given("highest", "ch", "mm") if side else Given(name="highest", symbol="ch", value=high, unit="mm", origin="ADA 308"),
                *(() if over is None else (Given(name="depth reached over", symbol="d", value=over.depth, unit="mm", origin="asked"),)),
            ),
            formula="cl <= c <= ch",
            result=height,
            limit=low if height < low else high,
            side=Limit.AT_LEAST if height < low else Limit.AT_MOST,
            unit="mm",
            source=mark.source,
            limit_source=deep.source(mark.source) if side else mark.source,
            status=deep.status if side else "seen",
            assumptions=("nothing to reach over",) if over is None else ("the floor before it is level and free",),
            confirms=ADVISER,
        ),
        advice=f"The control is {show(height, 'mm')} above the floor; {show(low, 'mm')} to {show(high, 'mm')} can be reached from a "
        f"wheelchair{across}{deep.doubt if side else ''}{'' if over else ', less over something deep (place.reach_over)'}. It works with "
        "one hand and at most 5 lbf.",
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (protrusion, headroom, controls)
