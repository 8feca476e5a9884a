"""The lower mitres of a frame that hangs by its top, or on its screen: what pulls them apart, and what holds them besides glue."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil

from halfsilver.engineering import fasteners, lateral, mounting, sticks
from halfsilver.engineering.spacing import screw_spacing_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.fasteners import PANEL_SPACING_MM, screws_in
from halfsilver.making.fasteners import fasteners as fasteners_of
from halfsilver.making.scope import has
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.making import Trade
from halfsilver.model.workshop import Hardware, HardwareUse
from halfsilver.services.checks.carrying import MAKER, hangs_by_its_top, on_its_screen, resting, seat
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, assembly, frames, not_run, screw_number, timber_gravity
from halfsilver.units.factors import MM_PER_INCH

LEG_SCREWS = 2  # in each leg of a plate; common practice


def hanging_below_n(design: Design) -> float:
    """What the lower mitres lift: all that rests on the bottom sticks, and these; glued and tied frames as one. [N]"""
    resting_kg = sum(resting(design, which).mass_kg + assembly(design, "", f"{which}-stick").mass_kg / 4 for which in frames(design))
    return mounting.weight_n(mass_kg=resting_kg)


def _how(design: Design) -> str:
    return "Hung on its screen by the bars" if on_its_screen(design) else "Hung by its top"


def mitres(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The plates across the lower mitres: what they lift, and how far their screws are from the timber's edge."""
    which, ledger = seat(design), design.ledger
    if not hangs_by_its_top(design):
        return
    load = hanging_below_n(design)
    pull = sticks.mitre_pull_n(load_n=load)
    if "plate.thickness" not in ledger:
        yield _unplated(design, load)
        return
    if not has(design, Trade.RETAINERS):
        yield _left_to_others(design, which, pull)
        return
    screw = next((one for one in fasteners_of(design) if one.place == "screws through the plates"), None)
    item = design.facts.workshop.hardware.get(screw.id) if screw else None
    number = screw_number(item.diameter) if item else None
    if item is None or number is None:
        yield not_run(
            "frame.mitres", what="screws of the corner plates", key="hardware.csv", source="catalogue", unit="N",
            meanwhile="It has no screw of a known number that is short enough.",
        )  # fmt: skip
        return
    thickness, in_leg = ledger["plate.thickness"], screws_in(design, "plate") // 2
    gravity, one = _plate_screw(design, which, item, number)
    mark, shear = mark_of(sticks.mitre_pull_n), mark_of(lateral.screw_lateral_n)
    enough = ceil(pull / one)
    cure = f"; {enough} in each leg would ({2 * enough} screws in a plate, hardware.csv)" if pull > in_leg * one else ""
    yield Check(
        working=Working(
            rule="frame.mitres",
            title="pull on each lower mitre against the screws in one leg of its plate",
            given=(
                Given(name="load on the bottom stick", symbol="W", value=load, unit="N"),
                Given(name="gravity of the timber", symbol="G", value=gravity, origin="density, on the low side"),
                Given(name="shear of one screw", symbol="Z'", value=one, unit="N"),
                Given(name="screws in a leg", symbol="n", value=in_leg, origin=PRACTICE),
            ),
            formula="W/2 <= n Z'",
            result=pull,
            limit=in_leg * one,
            unit="N",
            source=mark.source,
            limit_source=shear.source,
            status=weakest(mark.status, shear.status),
            assumptions=("glue counts as nothing: end grain", "drilled, side grain, dry"),
            confirms=MAKER,
        ),
        advice=f"{_how(design)}, each lower mitre is pulled apart with {pull:.0f} N; {in_leg} No. {number} screws in each leg "
        f"of its plate hold {in_leg * one:.0f} N{cure}. Glue in a mitre counts as nothing: plates, splines or keys carry. "
        f"{_placed(design, show, item)}{_shallow(show, item, thickness)}",
        entries=("plate.inset", "plate.thickness"),
    )  # fmt: skip


def _plate_screw(design: Design, which: str, item: Hardware, number: int) -> tuple[float, float]:
    """Gravity of the timber, and what one screw of a plate holds sideways in it for years. [-, N]"""
    moulding, thickness = design.facts.front_moulding if which == "front" else design.facts.rear_moulding, design.ledger["plate.thickness"]
    gravity = timber_gravity(moulding.density)
    one = lateral.screw_lateral_n(number=number, thread_mm=item.length - thickness, specific_gravity=gravity, steel_side_mm=thickness)
    return gravity, one * fasteners.duration_factor(duration="permanent")


def _unplated(design: Design, load: float) -> Check | Finding:
    """No plates: the panel screwed round the back ties the bottom stick to the others, or else only what is put into the mitres."""
    panel = next((one for one in design.parts if one.id == "back-panel"), None)
    line = next((one for one in fasteners_of(design) if one.place == "screws round the back panel"), None)
    item = design.facts.workshop.hardware.get(line.id) if line else None
    number = screw_number(item.diameter) if item else None
    if panel is None or line is None or item is None or number is None:
        pull = sticks.mitre_pull_n(load_n=load)
        return Finding(
            rule="frame.mitres", source=mark_of(sticks.mitre_pull_n).source, status="derived", severity=Severity.CAUTION, value=pull,
            unit="N",
            advice=f"{_how(design)}, each lower mitre is pulled apart with {pull:.0f} N, and in this scope nothing but glue holds it, "
            "which counts as nothing in a mitre. Put a spline, keys or a screw across every mitre, and load the frame before it is hung.",
        )  # fmt: skip
    count, thick = max(2, ceil(panel.size_mm[0] / PANEL_SPACING_MM)), panel.size_mm[2]
    facts = design.facts
    moulding = facts.rear_moulding if seat(design) == "rear" else facts.front_moulding
    one = lateral.lateral_load_n(
        diameter_mm=fasteners.screw_diameter_mm(number=number), root_mm=lateral.ROOT_IN[number] * MM_PER_INCH,
        yield_mpa=lateral.SCREW_YIELD_PSI[number] * lateral.MPA_PER_PSI, side_mm=thick,
        side_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(facts.habits.backing_density)), main_mm=item.length - thick,
        main_mpa=lateral.dowel_bearing_mpa(specific_gravity=timber_gravity(moulding.density)),
    ) * fasteners.duration_factor(duration="permanent")  # fmt: skip
    mark, shear, holds = mark_of(sticks.mitre_pull_n), mark_of(lateral.lateral_load_n), count * one
    cure = "" if load <= holds else f"; {ceil(load / one)} along it would"
    return Check(
        working=Working(
            rule="frame.mitres",
            title="load on the bottom stick against the screws of the back panel in it",
            given=(
                Given(name="load on the bottom stick", symbol="W", value=load, unit="N"),
                Given(name="thickness of the panel", symbol="t", value=thick, unit="mm", origin="catalogue"),
                Given(name="shear of one screw", symbol="Z'", value=one, unit="N"),
                Given(name="screws along the bottom", symbol="n", value=count, origin=PRACTICE),
            ),
            formula="W <= n Z'",
            result=load,
            limit=holds,
            unit="N",
            source=mark.source,
            limit_source=shear.source,
            status=weakest(mark.status, shear.status, "practice"),
            assumptions=("glue counts as nothing: end grain", "the panel bears a screw as timber of its density does; drilled"),
            confirms=MAKER,
        ),
        advice=f"{_how(design)}, the bottom sticks are pulled off with {load:.0f} N; glue in a mitre counts as nothing. The back "
        f"panel ties them to the sides: {count} No. {number} screws along the bottom hold {holds:.0f} N{cure}. Screw it all round before "
        "the piece is hung, never hang it with the panel off, and put a spline or keys across every mitre.",
        entries=("panel.width", "panel.thickness"),
    )  # fmt: skip


def _left_to_others(design: Design, which: str, pull: float) -> Finding:
    """The corner plates are not in the scope: the pull, and a screw of the catalogue that would hold it."""
    room = design.ledger["screw.max.plate"]
    screws = [one for one in design.facts.workshop.hardware.values() if one.use is HardwareUse.SCREW and 0 < one.length <= room]
    item = max((one for one in screws if screw_number(one.diameter)), key=lambda one: (one.length, one.diameter, one.id), default=None)
    number = screw_number(item.diameter) if item else None
    such = ""
    if item and number:
        _, one = _plate_screw(design, which, item, number)
        such = f" {max(LEG_SCREWS, ceil(pull / one))} No. {number} screws like {item.id} in each leg would hold it ({one:.0f} N each);"
    return Finding(
        rule="frame.mitres", source=mark_of(sticks.mitre_pull_n).source, status="derived", severity=Severity.NOT_RUN, value=pull, unit="N",
        advice=f"Not checked: the corner plates and their screws, which are not in the scope. {_how(design)}, each lower mitre is pulled "
        f"apart with {pull:.0f} N, and glue in a mitre counts as nothing.{such} `scope: complete` checks the plates of the catalogue.",
    )  # fmt: skip


def _placed(design: Design, show: Show, item: Hardware) -> str:
    """Where the screws of a plate sit, and how far they have to stay from edge, end and each other."""
    edge = design.ledger["plate.inset"] + design.facts.plate.width / 2
    least, end, along = (
        screw_spacing_mm(diameter_mm=item.diameter, which=which, under_steel=True) for which in ("edge", "end, pulled", "along")
    )
    apart = f"{show(end, 'mm')} from the mitre and {show(along, 'mm')} from each other at least, drilled (from memory)"
    if edge < least:
        return (
            f"They sit {show(edge, 'mm')} from the outer edge; below {show(least, 'mm')} timber splits: choose a wider plate or set it "
            f"further in. Keep them {apart}."
        )
    return f"They sit {show(edge, 'mm')} from the outer edge, {show(least, 'mm')} at least; keep them {apart}."


def _shallow(show: Show, item: Hardware, thickness: float) -> str:
    """That a screw is shorter than the publication counts, where it is."""
    least, there = fasteners.least_penetration_mm(diameter_mm=item.diameter), item.length - thickness
    if there >= least:
        return ""
    return f" A screw counts from {show(least, 'mm')} of timber on, {show(there, 'mm')} are there: take longer ones, or load a sample."


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (mitres,)
