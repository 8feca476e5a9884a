"""The load path inside the piece: bottom sticks that bend, lower mitres that are pulled, glue that creeps, bars that carry a frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil

from halfsilver.engineering import fasteners, lateral, mounting, sticks
from halfsilver.engineering.holes import hole_pattern_kg
from halfsilver.engineering.plates import support_deflection_limit_mm
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, fine
from halfsilver.making.fasteners import fasteners as fasteners_of
from halfsilver.making.scope import has
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy, MountingKind, RecessCarries
from halfsilver.model.making import Trade
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import Assembly, assembly, frames, not_run, rough, timber_gravity
from halfsilver.units.factors import MM_PER_INCH

MAKER = "maker, on a loaded piece"
TIE_NUMBER, TIE_POINT_MM = 8, MM_PER_INCH  # screws that tie the frames, and how far they reach into the front one; assumed
TIE_SPACING_MM = 12 * MM_PER_INCH  # common practice
LEG_SCREWS = 2  # in each leg of a plate


def hangs_by_its_frame(design: Design) -> bool:
    """Whether the frame hangs from its top and carries what is in it: not where it stands, nor where the screen's mount carries it."""
    mounting_ = design.facts.job.mounting
    stands = mounting_.kind is MountingKind.STANDING or (
        mounting_.recess is not None and mounting_.kind is MountingKind.RECESSED and mounting_.recess.carries is not RecessCarries.FIXINGS
    )
    return not stands and mounting_.carried_by is CarriedBy.FRAME


def seat(design: Design) -> str:
    """The frame that holds screen or panel: the last one."""
    return frames(design)[-1]


def resting(design: Design, which: str) -> Assembly:
    """What rests on a frame's bottom stick: its pane and what the frame holds behind it."""
    own = (f"{which}-glass",) + (("screen", "backing", "back-panel") if which == seat(design) else ("batten", "strip"))
    return assembly(design, f"on the {which} frame", *own)


def bottom_stick(design: Design, show: Show) -> Iterator[Check]:
    """Sag of the bottom stick that carries most, against what holds the edge of a pane."""
    if not hangs_by_its_frame(design):
        return
    found = {which: _bent(design, which) for which in frames(design)}
    which, worst = max(found.items(), key=lambda one: one[1].use or 0.0)
    slips = worst.result / sticks.CREEP > design.ledger[f"{which}.moulding.lip"]
    mark = mark_of(sticks.stick_deflection_mm)
    need = (worst.use or 0.0) ** (1 / 3) * next(one.value for one in worst.given if one.symbol == "h")
    cure = (
        f": a body of {show(need, 'mm')} would do, or a steel bar under the stick"
        f"{', or the screen on its own mount (carried_by: screen-mount)' if design.facts.job.screen else ''}"
        f"{'. A pane that goes down so far comes out of the lip above it' if slips else ''}"
        if worst.holds is False else ""
    )  # fmt: skip
    yield Check(
        working=replace(worst, status=weakest(mark.status, "practice")),
        broken=Severity.STOP if slips else Severity.CAUTION,
        also=tuple(found.values()),
        advice=f"{worst.title.capitalize()} sags by {fine(show, worst.result)} over the years, against {fine(show, worst.limit or 0.0)} to "
        f"which it still counts as holding the pane's edge{cure}. "
        "Corners and glue hold better than the two plain supports that were assumed.",
        entries=("outside.width", f"{seat(design)}.moulding.body"),
    )


def _bent(design: Design, which: str) -> Working:
    ledger = design.ledger
    profile = design.facts.front_profile if which == "front" else design.facts.rear_profile
    depth = profile.depth_mm - (design.facts.planed_mm if which == "rear" else 0.0)
    pocket = max((ledger[n] for n in ledger.values if n.startswith("relief.") and n.endswith(".into_wall")), default=0.0)
    high = profile.body_mm - (max(pocket, 0.0) if which == seat(design) else 0.0)
    load = mounting.weight_n(mass_kg=resting(design, which).mass_kg + assembly(design, "", f"{which}-stick").mass_kg / 4)
    span = ledger[f"{which}.rebate.width"]
    mark, limit = mark_of(sticks.stick_deflection_mm), mark_of(support_deflection_limit_mm)
    return Working(
        rule="frame.bottom_stick",
        title=f"the {which} frame's bottom stick",
        given=(
            Given(name="load on its length", symbol="W", value=load, unit="N"),
            Given(name="between the corners", symbol="L", value=span, unit="mm", origin="ledger"),
            Given(name="timber front to back", symbol="d", value=depth, unit="mm", origin="catalogue"),
            Given(name="timber upright, less pockets", symbol="h", value=high, unit="mm", origin="catalogue"),
            Given(name="stiffness", symbol="E", value=sticks.TIMBER_MODULUS_MPA, unit="MPa", origin="assumed"),
            Given(name="creep", symbol="c", value=sticks.CREEP, origin="assumed"),
        ),
        formula="c 5 W L^3/(384 E d h^3/12) <= L/175",
        result=sticks.stick_deflection_mm(load_n=load, span_mm=span, depth_mm=depth, height_mm=max(high, 1.0)),
        limit=support_deflection_limit_mm(span_mm=span),
        unit="mm",
        source=mark.source,
        limit_source=limit.source,
        status=weakest(mark.status, limit.status),
        assumptions=("a beam on two supports", "stiffness low for the timbers of frames; a dry room"),
        confirms=MAKER,
    )


def mitres(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The plates across the lower mitres: what they lift, and how far their screws are from the timber's edge."""
    which, ledger = seat(design), design.ledger
    if not hangs_by_its_frame(design) or "plate.thickness" not in ledger:
        return
    load = mounting.weight_n(mass_kg=resting(design, which).mass_kg + assembly(design, "", f"{which}-stick").mass_kg / 4)
    pull = sticks.mitre_pull_n(load_n=load)
    if not has(design, Trade.RETAINERS):
        yield Finding(
            rule="frame.mitres", source=mark_of(sticks.mitre_pull_n).source, status="derived", severity=Severity.NOT_RUN, value=pull,
            unit="N",
            advice=f"Not checked: the screws of the corner plates, which are not in the scope. Hung by its top, each lower mitre is pulled "
            f"apart with {pull:.0f} N, and glue in a mitre counts as nothing: whoever fits the plates chooses screws that hold it.",
        )  # fmt: skip
        return
    screw = next((one for one in fasteners_of(design) if one.place == "screws through the plates"), None)
    item = design.facts.workshop.hardware.get(screw.id) if screw else None
    number = _number(item.diameter) if item else None
    if item is None or number is None:
        yield not_run(
            "frame.mitres", what="screws of the corner plates", key="hardware.csv", source="catalogue", unit="N",
            meanwhile="It has no screw of a known number that is short enough.",
        )  # fmt: skip
        return
    moulding = design.facts.front_moulding if which == "front" else design.facts.rear_moulding
    gravity, thickness = timber_gravity(moulding.density), ledger["plate.thickness"]
    one = lateral.screw_lateral_n(
        number=number, thread_mm=item.length - thickness, specific_gravity=gravity, steel_side_mm=thickness
    ) * fasteners.duration_factor(duration="permanent")
    mark, shear = mark_of(sticks.mitre_pull_n), mark_of(lateral.screw_lateral_n)
    edge = ledger["plate.inset"] + design.facts.plate.width / 2
    least = sticks.screw_edge_mm(diameter_mm=item.diameter)
    near = f" Its screws sit {show(edge, 'mm')} from the outer edge, {show(least, 'mm')} at least: drill for them." if edge >= least else (
        f" Its screws sit {show(edge, 'mm')} from the outer edge; below {show(least, 'mm')} timber splits: choose a wider plate or "
        "set it further in."
    )  # fmt: skip
    enough = ceil(pull / one)
    cure = f"; {enough} in each leg would" if pull > LEG_SCREWS * one else ""
    yield Check(
        working=Working(
            rule="frame.mitres",
            title="pull on each lower mitre against the screws in one leg of its plate",
            given=(
                Given(name="load on the bottom stick", symbol="W", value=load, unit="N"),
                Given(name="gravity of the timber", symbol="G", value=gravity, origin="density, on the low side"),
                Given(name="shear of one screw", symbol="Z'", value=one, unit="N"),
                Given(name="screws in a leg", symbol="n", value=LEG_SCREWS, origin="common practice"),
            ),
            formula="W/2 <= n Z'",
            result=pull,
            limit=LEG_SCREWS * one,
            unit="N",
            source=mark.source,
            limit_source=shear.source,
            status=weakest(mark.status, shear.status),
            assumptions=("glue counts as nothing: end grain", "drilled, side grain, dry"),
            confirms=MAKER,
        ),
        advice=f"Hung by its top, each lower mitre is pulled apart with {pull:.0f} N; {LEG_SCREWS} No. {number} screws in each leg "
        "of its plate "
        f"hold {LEG_SCREWS * one:.0f} N{cure}. Glue in a mitre counts as nothing: plates, splines or keys carry.{near}",
        entries=("plate.inset", "plate.thickness"),
    )  # fmt: skip


def _number(diameter_mm: float) -> int | None:
    """The wood screw number of a diameter, among those whose strength is known."""
    return next((n for n in lateral.ROOT_IN if abs(fasteners.screw_diameter_mm(number=n) - diameter_mm) < 0.05), None)


def glue_joint(design: Design, show: Show) -> Iterator[Check]:
    """The front frame with its pane hangs on the glue between the frames for years: what ties it besides."""
    if "rear" not in frames(design):
        return
    front = assembly(design, "front frame, pane, battens and strip", "front-stick", "front-glass", "batten", "strip")
    load = mounting.weight_n(mass_kg=front.mass_kg)
    facts = design.facts
    through = facts.rear_profile.depth_mm - facts.planed_mm
    one = lateral.lateral_load_n(
        diameter_mm=fasteners.screw_diameter_mm(number=TIE_NUMBER), root_mm=lateral.ROOT_IN[TIE_NUMBER] * MM_PER_INCH,
        yield_mpa=lateral.SCREW_YIELD_PSI[TIE_NUMBER] * lateral.MPA_PER_PSI, side_mm=through,
        side_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(facts.rear_moulding.density)), main_mm=TIE_POINT_MM,
        main_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(facts.front_moulding.density)),
    ) * fasteners.duration_factor(duration="permanent")  # fmt: skip
    ties = facts.job.frame.ties or 0
    around = 2 * (design.ledger["outside.width"] + design.ledger["outside.height"])
    enough = max(mounting.fixings_needed(load_n=load, allowable_n=one), ceil(around / TIE_SPACING_MM))
    mark, length = mark_of(lateral.lateral_load_n), through + TIE_POINT_MM
    said = (
        f"{ties} screws tie it, {ties * one:.0f} N" if ties
        else "Nothing but glue holds it (frame.ties), and glue creeps under a load that stays"
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="frame.glue_joint",
            title="screws that tie the frames against the weight of the front one",
            given=(
                Given(name="weight of the front frame and its pane", symbol="W", value=load, unit="N"),
                Given(name="screws", symbol="n", value=ties, origin="asked" if ties else "assumed"),
                Given(name="shear of one", symbol="Z'", value=one, unit="N"),
            ),
            formula="n Z' >= W",
            result=ties * one,
            limit=load,
            unit="N",
            side=Limit.AT_LEAST,
            source=mark.source,
            limit_source="weight, for years",
            status=weakest(mark.status, "practice"),
            assumptions=(f"No. {TIE_NUMBER} screws through the rear frame, 1 in into the front one", "glue counts as nothing"),
            confirms=MAKER,
        ),
        advice=f"The front frame with its pane, {front.mass_kg:.1f} kg, hangs on the joint between the frames. {said}. "
        f"{'They are' if ties >= enough else f'Tie it with {enough}'} "
        f"No. {TIE_NUMBER} screws of about {show(length, 'mm')} from behind, at most {rough(design, show, TIE_SPACING_MM)} apart, "
        "their points stopping "
        "short of the face; joined by screws alone, without glue, the front pane can be replaced. Paint under the glue line fails.",
        entries=("outside.width", "outside.height"),
    )  # fmt: skip


def screen_carries(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The screen's mount carries frame and glass through the screen's holes and the bars."""
    if design.facts.job.mounting.carried_by is not CarriedBy.SCREEN_MOUNT or design.facts.job.screen is None:
        return
    whole, screen = assembly(design, "complete"), assembly(design, "screen", "screen")
    holes = design.facts.screen.screen.holes
    rest = mounting.weight_n(mass_kg=whole.mass_kg - screen.mass_kg)
    bars = sum(part.quantity for part in design.parts if part.id.startswith("bar-"))
    limit = hole_pattern_kg(width_mm=holes[0], height_mm=holes[1]) if holes else None
    mark = mark_of(hole_pattern_kg)
    if holes is None or limit is None:
        yield not_run(
            "mount.screen_holes", what="the screen's mounting holes, which carry it all", key="screen.holes", source=mark.source, unit="kg"
        )
        return
    yield Check(
        working=Working(
            rule="mount.screen_holes",
            title="mass on the screen's mounting holes",
            given=(
                Given(name="mass of the whole", symbol="m", value=whole.mass_kg, unit="kg"),
                Given(name="pattern across", symbol="w", value=holes[0], unit="mm", origin="asked"),
                Given(name="pattern upright", symbol="h", value=holes[1], unit="mm", origin="asked"),
            ),
            formula="m <= mass of the pattern",
            result=whole.mass_kg,
            limit=limit,
            unit="kg",
            source="load path: mount, screen, bars, frame, glass",
            limit_source=mark.source,
            status=mark.status,
            assumptions=("the holes are as strong as their pattern asks",),
            confirms="maker of the screen",
        ),
        broken=Severity.STOP,
        advice=f"Its holes carry {whole.mass_kg:.1f} kg; the pattern is meant for {limit:.1f} kg, but the screen's maker has tested "
        "them with its "
        f"{screen.mass_kg:.1f} kg only (IEC 62368-1 8.7): ask. {rest:.0f} N of timber and glass reach the screen through {bars} bars: let "
        "the top bar rest on the screen's upper edge on a pad, and screw each side bar with two screws an end.",
        entries=("bar.side", "bar.top") if "bar.side" in design.ledger else (),
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (bottom_stick, mitres, glue_joint, screen_carries)
