"""Recessing: what carries a piece in its recess, and whether the hole is wider than a bay between studs."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering import mounting
from halfsilver.engineering.bounds import exceeds
from halfsilver.engineering.holes import BAY_DEPTH_MM, stud_bay_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.engineering.workings import ENGINEER
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding
from halfsilver.model.job import CarriedBy, Ground, MountingKind, RecessCarries
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.hanging import hung, screen_mount
from halfsilver.services.checks.known import PRACTICE, assembly, known, not_run


def recess(design: Design, show: Show) -> Iterator[Check | Finding]:
    """What carries a recessed piece, and whether its hole is wider than a bay between studs."""
    mounting_ = design.facts.job.mounting
    if mounting_.kind is not MountingKind.RECESSED or mounting_.recess is None:
        return
    weight = mounting.weight_n(mass_kg=assembly(design, "complete").mass_kg)
    if mounting_.carried_by is CarriedBy.SCREEN_MOUNT:
        # With fixings named it was told by `on_the_wall`.
        yield from () if mounting_.recess.carries is RecessCarries.FIXINGS else screen_mount(design, show)
    elif mounting_.recess.carries is None:
        yield not_run(
            "mount.recess", what=f"what carries {weight:.0f} N in the recess", key="mounting.recess.carries", source=PRACTICE, unit="N",
            meanwhile="Stand it on a level sill on packers under its sticks, and hold its top against falling forward.",
        )  # fmt: skip
    elif mounting_.recess.carries is RecessCarries.SILL:
        yield _sill(design, weight)
    if mounting_.ground in (Ground.STUD, Ground.BOARD):
        yield _bay(design, show, mounting_.recess.width, mounting_.recess.depth)


def _sill(design: Design, weight: float) -> Check:
    hangs = hung(design)
    pull = mounting.pull_out_n(**hangs.lever, fixings=2, person_pull_n=hangs.push.value, person_at_mm=hangs.fixing_to_contact_mm)
    mark = mark_of(mounting.pull_out_n)
    return Check(
        working=Working(
            rule="mount.recess",
            title="pull on each of two restraints at the top",
            given=(
                Given(name="weight", symbol="W", value=weight, unit="N"),
                Given(name="centre of gravity from the back", symbol="e", value=hangs.centre_from_wall_mm, unit="mm"),
                Given(name="height of the restraint", symbol="h", value=hangs.fixing_to_contact_mm, unit="mm"),
                hangs.push.given("pull of a person", "P", "N"),
            ),
            formula="(W e + P h)/(2 h)",
            result=pull,
            unit="N",
            source=mark.source,
            status=weakest(mark.status, hangs.push.status),
            assumptions=("the sill is level, carries the weight, and does not sag",),
            confirms=ENGINEER,
        ),
        advice=f"The sill carries {weight:.0f} N; each of two restraints at the top holds {pull:.0f} N with a person pulling. "
        "Packers under "
        "the sticks, not under glass or screen; the sill must not hang on the plasterboard.",
        entries=("outside.height",),
    )


def _wall(depth: float) -> str:
    """Which wall takes a recess of a depth."""
    fitting = next((name for name, mm in BAY_DEPTH_MM.items() if not exceeds(depth, mm)), None)
    return f"its depth asks for {fitting} studs at least" if fitting else "it is deeper than either"


def _bay(design: Design, show: Show, width: float, depth: float) -> Check:
    studs = known(design.facts.job.mounting.fixings.studs, mounting.STUD_SPACING_MM)
    bay, mark = stud_bay_mm(spacing_mm=studs.value), mark_of(stud_bay_mm)
    deep = "; ".join(f"a {name} wall is {show(mm, 'mm')} deep" for name, mm in BAY_DEPTH_MM.items())
    return Check(
        working=Working(
            rule="mount.recess_bay",
            title="recess against the bay between two studs",
            given=(studs.given("spacing of the studs", "s", "mm"),),
            formula="width <= s - 1 1/2 in",
            put_in=f"{width:.0f} against {studs.value:.1f} - {studs.value - bay:.1f} = {bay:.1f} mm",
            result=width,
            limit=bay,
            unit="mm",
            source="mounting.recess.width in the job",
            limit_source=mark.source,
            status=mark.status,
            assumptions=("a stud wall",),
            confirms=ENGINEER,
        ),
        advice=f"The recess is {show(width, 'mm')} wide and {show(depth, 'mm')} deep; between two studs there are {show(bay, 'mm')}, and "
        f"{deep}: {_wall(depth)}. Cutting studs, or a fire-rated, party or outer wall, is for a licensed structural engineer and needs a "
        "permit; a double wall or a box before the wall cuts nothing.",
        entries=("recess.width",),
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (recess,)
