"""The chain of the frames: mouldings, outside, rebates, sights, sticks, panes and their clearance.

``which`` is the frame's name in the ledger, ``front`` or ``rear``; a construction with one frame calls it ``front``.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from halfsilver.errors import NoDesignError
from halfsilver.geometry.profile import Profile
from halfsilver.layout.declare import actual, allowance, asked, catalogue, gap, given, target
from halfsilver.layout.facts import Facts
from halfsilver.ledger.expression import Deviation, Expression, Function, call, greatest, least, mm, ref, rounded
from halfsilver.ledger.ledger import Entry, Ledger, Origin
from halfsilver.model.job import SizeOf
from halfsilver.model.workshop import GlassKind, Moulding

DIRECTIONS = ("width", "height")
STICKS = {"width": ("top", "bottom"), "height": ("left", "right")}

DIAGONAL = Function("diagonal", lambda width, height: hypot(width, height))


def step_entries(facts: Facts) -> Iterator[Entry]:
    """Steps to which things are cut, and play."""
    yield allowance("step.glass", "the step for glass,", facts.steps.glass, "glass is cut down to it")
    yield allowance("step.timber", "the step for timber,", facts.steps.timber, "timber is cut to it")
    yield facts.fit("glass", "glass clearance")


def moulding_entries(facts: Facts, which: str, moulding: Moulding, profile: Profile) -> Iterator[Entry]:
    """What the catalogue says of a moulding; the lip as the (planed) profile leaves it."""
    source = f"moulding {moulding.id}"
    name = f"{which}.moulding"
    yield catalogue(f"{name}.body", f"{which} moulding body", profile.body_mm, source)
    planed = ", after planing" if profile.planed_mm else ""
    yield catalogue(f"{name}.lip", f"{which} lip", profile.lip_mm, f"{source}{planed}", places="greatest")
    yield catalogue(f"{name}.lip_thickness", f"{which} lip thickness before planing", profile.lip_back_mm, source)
    yield catalogue(f"{name}.rebate_depth", f"{which} rebate depth", profile.rebate_depth_mm, source)
    yield catalogue(f"{name}.depth", f"{which} moulding depth", profile.depth_mm, source)
    read = facts.read(f"{name}.lip", places="greatest")
    yield actual(f"{name}.lip.actual", f"{which} lip as delivered", read or ref(f"{name}.lip") + _profile(facts, f"{which} lip"))


def _profile(facts: Facts, what: str) -> Expression:
    return Deviation(f"moulding as delivered, {what}", mm(facts.limits.profile))


def outside_following(facts: Facts, *, seat: str, need: dict[str, Expression]) -> Iterator[Entry]:
    """The outside from what the seat must take in, or from an asked size.

    Parameters
    ----------
    facts : Facts
        The job looked up.
    seat : str
        The frame whose rebate takes the screen or the pane in.
    need : dict
        Per direction: the least rebate of that frame.
    """
    for d in DIRECTIONS:
        yield target(f"{seat}.rebate.need.{d}", f"least {seat} rebate {d}", need[d])
        yield target(
            f"outside.{d}",
            f"outside {d}",
            rounded("up", ref(f"{seat}.rebate.need.{d}") + 2 * ref(f"{seat}.moulding.body"), step=ref("step.timber")),
        )


def outside_asked(facts: Facts) -> Iterator[Entry]:
    """The outside from an asked size of the outside, the sight or the front sheet."""
    size = facts.job.size
    assert size is not None
    for d in DIRECTIONS:
        wanted = getattr(size, d)
        if size.of is SizeOf.OUTSIDE:
            yield asked(f"outside.{d}", f"outside {d}", wanted, f"size.{d} in the job")
            continue
        of = "sight" if size.of is SizeOf.SIGHT else "sheet"
        yield asked(f"size.{d}", f"asked {of} {d}", wanted, f"size.{d} in the job")
        rebate = ref(f"size.{d}") + (2 * ref("front.moulding.lip") if size.of is SizeOf.SIGHT else ref("fit.glass"))
        yield target(f"outside.{d}", f"outside {d}", rounded("up", rebate + 2 * ref("front.moulding.body"), step=ref("step.timber")))


def opening_entries(facts: Facts, which: str) -> Iterator[Entry]:
    """Rebate and sight of one frame, with what the saw or the tape leaves open."""
    for d in DIRECTIONS:
        name = f"{which}.rebate.{d}"
        yield target(name, f"{which} rebate {d}", ref(f"outside.{d}") - 2 * ref(f"{which}.moulding.body"), places="least")
        saws = [ref(name) + Deviation(f"saw, {which} {stick} stick", mm(facts.limits.saw), tightened_by=name) for stick in STICKS[d]]
        yield actual(f"{name}.actual", f"{which} rebate {d} as made", facts.read(name, places="least") or least(*saws))
        yield target(f"{which}.sight.{d}", f"{which} sight {d}", ref(name) - 2 * ref(f"{which}.moulding.lip"), places="least")
    rebate = {d: ref(f"{which}.rebate.{d}") for d in DIRECTIONS}
    yield target(f"{which}.diagonal", f"{which} rebate diagonal", call(DIAGONAL, **rebate))
    yield gap(
        f"{which}.square",
        f"difference of the {which} diagonals",
        mm(0) + Deviation(f"{which} frame glued out of square", mm(facts.limits.squareness)),
    )
    yield target(f"{which}.stick.long", f"{which} long stick, long point", greatest(ref("outside.width"), ref("outside.height")))
    yield target(f"{which}.stick.short", f"{which} short stick, long point", least(ref("outside.width"), ref("outside.height")))


def pane_entries(facts: Facts, which: str, glass: GlassKind, *, asked_size: bool = False) -> Iterator[Entry]:
    """A pane in its own opening, and the clearance that results."""
    for d in DIRECTIONS:
        opening = f"{which}.rebate.{d}"
        if asked_size:
            size = rounded("down", ref(f"size.{d}"), step=ref("step.glass"))
        else:
            size = rounded("down", ref(opening) - ref("fit.glass"), step=ref("step.glass"))
        yield target(f"{which}.glass.{d}", f"{which} glass {d}", size, places="greatest")
        read = facts.read(f"{which}.glass.{d}", places="greatest")
        how = "glass cutter" if glass.cut_here else "supplier's cut"
        cut = ref(f"{which}.glass.{d}") + Deviation(f"{how}, {which} pane {d}", mm(facts.cut_limit_mm(glass)))
        yield actual(f"{which}.glass.{d}.actual", f"{which} glass {d} as cut", read or cut)
        yield gap(
            f"{which}.clearance.{d}",
            f"{which} clearance {d}",
            ref(f"{opening}.actual") - ref(f"{which}.glass.{d}.actual"),
            serves=(f"{which}.glass.{d}",),
            at_least=0.0,
        )
    yield catalogue(f"{which}.glass.thickness", f"{which} glass thickness", glass.thickness, f"glass {glass.id}", places="greatest")
    yield actual(
        f"{which}.glass.thickness.actual",
        f"{which} glass thickness as delivered",
        facts.read(f"{which}.glass.thickness", places="greatest")
        or ref(f"{which}.glass.thickness") + Deviation(f"thickness of the {which} glass", mm(facts.limits.glass_thickness)),
    )
    yield _bedding(facts, which)


def _bedding(facts: Facts, which: str) -> Entry:
    label, choice = f"{which} bedding", facts.choices.bedding
    if which == "front" and choice is not None:
        return given("front.bedding", label, choice.value, Origin.DERIVED, reason=choice.reason, runner_up=choice.runner_up)
    return allowance(f"{which}.bedding", label, facts.bedding_mm(which), "between lip and pane")


def sight_margin_entries(facts: Facts, seat: str) -> Iterator[Entry]:
    """The screen's play: fit, and per direction the margin that makes the frame larger than the screen needs.

    With an asked size the margin is what remains, each direction by itself.

    Raises
    ------
    NoDesignError
        If the asked size is smaller than the screen needs.
    """
    yield facts.fit("screen", "screen play")
    if facts.job.size is None:
        yield _margin(facts)
    for d in DIRECTIONS:
        if facts.job.size is None:
            formula: Expression = ref("fit.sight_margin")
        else:
            formula = (ref(f"{seat}.rebate.{d}") - ref(f"screen.outline.{d}") - ref("fit.screen")) / 2
        yield target(f"fit.sight_margin.{d}", f"sight margin per side, {d}", formula)


def _margin(facts: Facts) -> Entry:
    wanted = facts.job.fit.sight_margin
    label = "sight margin per side"
    if isinstance(wanted, float):
        return asked("fit.sight_margin", label, wanted, "fit.sight_margin in the job")
    choice = facts.choices.sight_margin
    if choice is not None:
        return Entry(
            name="fit.sight_margin",
            label=label,
            formula=mm(choice.value),
            origin=Origin.DERIVED,
            reason=choice.reason,
            runner_up=choice.runner_up,
        )
    return allowance("fit.sight_margin", label, facts.habits.sight_margin)


def refuse_closed(ledger: Ledger) -> None:
    """Stop where nothing is left of an opening, of a pane, of the battens or of the strip's run.

    Raises
    ------
    NoDesignError
        Naming what is closed, and by how much.
    """
    openings = [f"{which}.{what}.{d}" for which in ("front", "rear") for what in ("sight", "glass") for d in DIRECTIONS]
    for name in (*openings, *(f"strip.run.{d}" for d in DIRECTIONS), "batten.depth"):
        if name in ledger and ledger[name] <= 0.0:
            raise NoDesignError(
                f"Nothing is left of the {ledger.entries[name].label}: {ledger[name]:.1f} mm.",
                nearest=f"It lacks {-ledger[name]:.1f} mm and more.",
                advice="Choose a narrower moulding, batten or play, a thinner pane, or a larger size.",
            )


def refuse_too_small(ledger: Ledger) -> None:
    """Stop where an asked size leaves less than the screen needs.

    Raises
    ------
    NoDesignError
        Naming the direction, what is short and the nearest size.
    """
    short = {d: -2 * ledger[f"fit.sight_margin.{d}"] for d in DIRECTIONS if ledger[f"fit.sight_margin.{d}"] < -1e-6}
    if short:
        said = ", ".join(f"{d} by {length:.1f} mm" for d, length in short.items())
        nearest = " x ".join(f"{ledger[f'outside.{d}'] + max(short.get(d, 0.0), 0.0):.1f}" for d in DIRECTIONS)
        raise NoDesignError(
            f"The asked size is smaller than the screen needs: {said}.",
            nearest=f"Nearest outside: {nearest} mm.",
            advice="Ask for a larger size.",
        )
