"""The load path inside the piece: bottom sticks that bend, glue that creeps, a screen that carries its frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from halfsilver.engineering import fasteners, lateral, mounting, sticks
from halfsilver.engineering.holes import hole_pattern_kg
from halfsilver.engineering.plates import support_deflection_limit_mm
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.ledger.shown import Show, fine
from halfsilver.making.fasteners import TIE_SPACING_MM, ties_of
from halfsilver.making.fasteners import fasteners as fasteners_of
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy, MountingKind, RecessCarries
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import Assembly, assembly, at_least, frames, not_run, screw_number, timber_gravity
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import MM_PER_INCH

MAKER = "maker, on a loaded piece"
TIE_NUMBER, TIE_POINT_MM = 8, MM_PER_INCH  # screws that tie the frames, and how far they reach into the front one; assumed
LEG_SCREWS = 2  # in each leg of a plate


def on_its_screen(design: Design) -> bool:
    """Whether the screen's own mount carries frame and panes, by the bars behind it."""
    job = design.facts.job
    return job.mounting.carried_by is CarriedBy.SCREEN_MOUNT and job.mounting.kind is not MountingKind.STANDING and job.screen is not None


def hangs_by_its_top(design: Design) -> bool:
    """Whether the bottom sticks hang on the lower mitres: on a wall, or on its screen; not where it stands on feet or a sill."""
    mounting_ = design.facts.job.mounting
    fixed = mounting_.recess is None or mounting_.recess.carries is RecessCarries.FIXINGS
    return on_its_screen(design) or mounting_.kind is MountingKind.HUNG or (mounting_.kind is MountingKind.RECESSED and fixed)


def seat(design: Design) -> str:
    """The frame that holds screen or panel: the last one."""
    return frames(design)[-1]


def resting(design: Design, which: str) -> Assembly:
    """What rests on a frame's bottom stick: its pane and what the frame holds behind it."""
    behind = ("backing", "back-panel") if on_its_screen(design) else ("screen", "backing", "back-panel")
    own = (f"{which}-glass", *(behind if which == seat(design) else ("batten", "strip")))
    return assembly(design, f"on the {which} frame", *own)


def bottom_stick(design: Design, show: Show) -> Iterator[Check]:
    """Sag of the bottom stick that carries most, against what holds the edge of a pane: hung, or between two feet."""
    if not hangs_by_its_top(design) and design.facts.job.mounting.kind is not MountingKind.STANDING:
        return
    found = {which: _bent(design, which) for which in frames(design)}
    which, worst = max(found.items(), key=lambda one: one[1].use or 0.0)
    slips = worst.result / ruled(design, "timber_creep").value > design.ledger[f"{which}.moulding.lip"]
    need = (worst.use or 0.0) ** (1 / 3) * next(one.value for one in worst.given if one.symbol == "h")
    stands, screen = design.facts.job.mounting.kind is MountingKind.STANDING, design.facts.job.screen
    instead = (
        ", or a third foot under its middle" if stands
        else ", or the screen on its own mount (carried_by: screen-mount)" if screen and not on_its_screen(design)
        else ""
    )  # fmt: skip
    cure = (
        f": a body of {at_least(design, show, need)} would do, or a steel bar under the stick{instead}"
        f"{'. A pane that goes down so far comes out of the lip above it' if slips else ''}"
        if worst.holds is False else ""
    )  # fmt: skip
    yield Check(
        working=worst,
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
    stiff, creep = ruled(design, "timber_stiffness"), ruled(design, "timber_creep")
    return Working(
        rule="frame.bottom_stick",
        title=f"the {which} frame's bottom stick",
        given=(
            Given(name="load on its length", symbol="W", value=load, unit="N"),
            Given(name="between the corners", symbol="L", value=span, unit="mm", origin="ledger"),
            Given(name="timber front to back", symbol="d", value=depth, unit="mm", origin="catalogue"),
            Given(name="timber upright, less pockets", symbol="h", value=high, unit="mm", origin="catalogue"),
            stiff.given("stiffness", "E", "GPa"),
            creep.given("creep", "c"),
        ),
        formula="c 5 W L^3/(384 E d h^3/12) <= L/175",
        result=sticks.stick_deflection_mm(
            load_n=load, span_mm=span, depth_mm=depth, height_mm=max(high, 1.0), modulus_mpa=1000 * stiff.value, creep=creep.value
        ),
        limit=support_deflection_limit_mm(span_mm=span),
        unit="mm",
        source=mark.source,
        limit_source=limit.source,
        status=weakest(mark.status, limit.status, stiff.status, creep.status),
        assumptions=("a beam on two supports", "stiffness low for the timbers of frames; a dry room"),
        confirms=MAKER,
    )


def glue_joint(design: Design, show: Show) -> Iterator[Check]:
    """The front frame with its pane hangs on the glue between the frames for years: what ties it besides."""
    if "rear" not in frames(design):
        return
    front = assembly(design, "front frame, pane, battens and strip", "front-stick", "front-glass", "batten", "strip")
    load = mounting.weight_n(mass_kg=front.mass_kg)
    ties, around = _ties(design), 2 * sum(ties_of(design.ledger[f"outside.{d}"]) for d in DIRECTIONS)
    one = ties.each_n
    enough = max(mounting.fixings_needed(load_n=load, allowable_n=one), around)
    mark = mark_of(lateral.lateral_load_n)
    said = (
        f"{ties.count} {'screw' if ties.count == 1 else 'screws'} {ties.origin} {'ties' if ties.count == 1 else 'tie'} it, "
        f"{ties.count * one:.0f} N against {load:.0f} N" if ties.count
        else "Nothing but glue holds it (frame.ties), and glue creeps under a load that stays"
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="frame.glue_joint",
            title="screws that tie the frames against the weight of the front one",
            given=(
                Given(name="weight of the front frame and its pane", symbol="W", value=load, unit="N"),
                Given(name="screws", symbol="n", value=ties.count, origin=ties.origin),
                Given(name="shear of one", symbol="Z'", value=one, unit="N"),
            ),
            formula="n Z' >= W",
            result=ties.count * one,
            limit=load,
            unit="N",
            side=Limit.AT_LEAST,
            source=mark.source,
            limit_source="weight, for years",
            status=weakest(mark.status, "practice"),
            assumptions=(
                f"No. {ties.number} screws through the rear frame, {ties.point_mm:.0f} mm into the front one",
                "glue counts as nothing: it creeps under a load that stays",
            ),
            confirms=MAKER,
        ),
        advice=f"The front frame with its pane, {front.mass_kg:.1f} kg, hangs on the joint between the frames. {said}. "
        f"{'They are' if ties.count >= enough else f'Tie it with {enough}'} "
        f"No. {ties.number} screws of about {show(ties.length_mm, 'mm')} from behind, at most {show(TIE_SPACING_MM, 'mm')} apart, "
        "their points stopping short of the face; joined by screws alone, without glue, the front pane can be replaced. Paint under the "
        "glue line fails.",
        entries=("outside.width", "outside.height"),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Ties:
    """Screws that tie two frames: how many, where that is from, their number and length, how far they reach in, what one holds. [mm, N]"""

    count: int
    origin: str
    number: int
    length_mm: float
    point_mm: float
    each_n: float


def _ties(design: Design) -> Ties:
    """The ties that the job names, or else those that the shop's own steps put in; glue alone where it names none."""
    facts = design.facts
    through = design.ledger.values.get("screw.through.tie", facts.rear_profile.depth_mm - facts.planed_mm)
    asked = facts.job.frame.ties
    line = next((one for one in fasteners_of(design) if one.place == "screws from the rear frame into the front one"), None)
    item = facts.workshop.hardware.get(line.id) if line and asked is None else None
    number = (screw_number(item.diameter) if item else None) or TIE_NUMBER
    length = item.length if item else through + TIE_POINT_MM
    one = lateral.lateral_load_n(
        diameter_mm=fasteners.screw_diameter_mm(number=number), root_mm=lateral.ROOT_IN[number] * MM_PER_INCH,
        yield_mpa=lateral.SCREW_YIELD_PSI[number] * lateral.MPA_PER_PSI, side_mm=through,
        side_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(facts.rear_moulding.density)), main_mm=length - through,
        main_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(facts.front_moulding.density)),
    ) * fasteners.duration_factor(duration="permanent")  # fmt: skip
    planned = line.count if line and asked is None else 0
    origin = "asked for" if asked is not None else "of the build steps" if planned else "assumed"
    count = planned if asked is None else asked
    return Ties(count=count, origin=origin, number=number, length_mm=length, point_mm=length - through, each_n=one)


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
            put_in=f"{whole.mass_kg:.1f} against {limit:.1f} kg",
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
        "the top bar rest on the screen's upper edge on a pad, and screw every bar down along its foot.",
        entries=("bar.side", "bar.top") if "bar.side" in design.ledger else (),
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (bottom_stick, glue_joint, screen_carries)
