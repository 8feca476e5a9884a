"""Hangers on the frame: what their maker says one may carry, and the screws that hold them to the timber."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil, hypot

from halfsilver.engineering import fasteners, lateral, mounting
from halfsilver.engineering.spacing import screw_spacing_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.engineering.workings import Timber, hanging_workings
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.fasteners import Fastener
from halfsilver.making.fasteners import fasteners as fasteners_of
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import Hardware
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.hanging import THREAD_SHARE, Hung, hung
from halfsilver.services.checks.known import PRACTICE, frames, not_run, screw_number, timber_gravity
from halfsilver.units.factors import STANDARD_GRAVITY_M_S2

METAL_MM = 2.0  # of a hanger under a screw's head; assumed
MOST_SCREWS = 60
MAKER = "maker of the hanger"
FRAME = Timber(
    name="frame's timber", screws="screws through all hangers", origin="density, on the low side",
    assumed="every screw sits in the side grain of the frame's back, drilled",
)  # fmt: skip


def _planned(design: Design, place: str) -> tuple[Fastener, Hardware | None] | None:
    found = next((one for one in fasteners_of(design) if one.place == place), None)
    return (found, design.facts.workshop.hardware.get(found.id)) if found else None


def hangers(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The load of one hanger against what its maker prints: never invented."""
    planned = _planned(design, "hangers")
    if planned is None:
        return
    (line, item), hangs = planned, hung(design)
    count = line.count
    down, out = hangs.down_n(count), hangs.out_n(count)
    name = item.name.lower() if item else "a hanger"
    if item is None or not item.rated:
        yield not_run(
            "mount.hangers", what=f"what one of the {count} hangers carries ({name})", key="hardware.csv", source=MAKER, unit="N",
            meanwhile=f"Its column `rated` is empty, and nothing is invented here. Ask its maker for the load allowed on one, and with "
            f"which screws: each takes {down:.0f} N down and {out:.0f} N away from the wall, a person pulling.",
        )  # fmt: skip
        return
    rated, load = mounting.weight_n(mass_kg=item.rated), hypot(down, out)
    mark = mark_of(mounting.pull_out_n)
    cure = "" if load <= rated else f"; one that carries {ceil(load / STANDARD_GRAVITY_M_S2)} kg would do"
    yield Check(
        working=Working(
            rule="mount.hangers",
            title="load on each hanger, with a person pulling",
            given=(
                Given(name="down", symbol="S", value=down, unit="N"),
                Given(name="away from the wall", symbol="T", value=out, unit="N"),
                Given(name="hangers", symbol="n", value=count, origin=PRACTICE),
                Given(name="rated load", symbol="R", value=rated, unit="N", origin="catalogue"),
            ),
            formula="hypot(S, T) <= R",
            result=load,
            limit=rated,
            unit="N",
            source=mark.source,
            limit_source=MAKER,
            status=weakest(mark.status, hangs.push.status),
            assumptions=(*hangs.assumptions, "the load printed is an allowed one, straight down and outwards together"),
            confirms=MAKER,
        ),
        broken=Severity.STOP,
        advice=f"Each of {count} hangers ({name}) takes {load:.0f} N with a person pulling, against {rated:.0f} N printed by its maker"
        f"{cure}. Use the screws that its maker asks for.",
        entries=("outside.depth", "outside.height"),
    )


def hanger_screws(design: Design, show: Show) -> Iterator[Check]:
    """The screws of the hangers in the frame's timber: pull and shear by the rules of screws, number and spacing."""
    planned, hooked = _planned(design, "screws through the hangers"), _planned(design, "hangers")
    if planned is None or planned[1] is None or hooked is None:
        return
    (line, item), hangs, pieces = planned, hung(design), hooked[0].count
    number, moulding = screw_number(item.diameter) if item else None, _moulding(design)
    if item is None or number is None:
        return
    gravity, thread = timber_gravity(moulding), item.length - METAL_MM
    bites = min(THREAD_SHARE * item.length, thread)

    def workings(count: int) -> tuple[Working, ...]:
        shear = lateral.screw_lateral_n(number=number, thread_mm=thread, specific_gravity=gravity, steel_side_mm=METAL_MM)
        return hanging_workings(
            **hangs.lever, fixings=count, screw_number=number, thread_mm=bites, stud_gravity=gravity,
            lateral_load_n=shear * fasteners.duration_factor(duration="permanent"), uneven=hangs.uneven(pieces),
            person_pull_n=hangs.push.value, person_origin=hangs.push.origin, timber=FRAME,
        )[:3]  # fmt: skip

    found = tuple(replace(one, title=one.title.replace("top screw", "screw of the hangers")) for one in workings(line.count))
    worst = max(found, key=lambda one: one.use or 0.0)
    enough = next((n for n in range(pieces, MOST_SCREWS, pieces) if all(one.holds is not False for one in workings(n))), None)
    yield Check(
        working=replace(
            worst, rule="mount.hanger_screws",
            status=weakest(worst.status, mark_of(lateral.screw_lateral_n).status), assumptions=(*worst.assumptions, *hangs.lean),
        ),
        broken=Severity.STOP,
        also=found,
        advice=f"{line.count} No. {number} screws ({item.id}) hold the {pieces} hangers to the frame: the hardest, {worst.title}, comes to "
        f"{worst.result:.0f} N against {worst.limit or 0.0:.0f} N{_cure(worst, enough, pieces)}.{_shallow(item, bites, show)} "
        f"{_apart(item, hangs, show)}",
        entries=("outside.depth", "outside.height"),
    )  # fmt: skip


def _moulding(design: Design) -> float:
    """Density of the timber that the hangers are screwed to: the last frame's. [kg/m3]"""
    facts = design.facts
    return facts.rear_moulding.density if "rear" in frames(design) else facts.front_moulding.density


def _cure(worst: Working, enough: int | None, pieces: int) -> str:
    if worst.holds is not False:
        return ""
    return f"; {enough // pieces} in each would carry it (screws in hardware.csv)" if enough else "; longer or stouter screws are needed"


def _shallow(item: Hardware, bites_mm: float, show: Show) -> str:
    """That the thread is shorter than the publication counts, where it is."""
    least = fasteners.least_penetration_mm(diameter_mm=item.diameter)
    if bites_mm >= least:
        return ""
    return f" A screw counts from {show(least, 'mm')} of thread on, {show(bites_mm, 'mm')} are there: load a sample, or take longer ones."


def _apart(item: Hardware, hangs: Hung, show: Show) -> str:
    edge, end, along = (
        screw_spacing_mm(diameter_mm=item.diameter, which=which, under_steel=True) for which in ("edge", "end, pulled", "along")
    )
    return (
        f"Drill for them; keep {show(edge, 'mm')} from the edge of the timber, {show(end, 'mm')} from a mitre and {show(along, 'mm')} from "
        f"each other at least (from memory). The frame hangs by them, {hangs.mass_kg:.1f} kg in all."
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (hangers, hanger_screws)
