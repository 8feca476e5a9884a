"""Hanging, recessing and standing: what the wall's fixings take, what carries a recessed piece, what tips a standing one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import hypot

from halfsilver.engineering import fasteners, lateral, mounting
from halfsilver.engineering.holes import BAY_DEPTH_MM, stud_bay_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.engineering.workings import ENGINEER, hanging_workings, proof_working, standing_workings
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy, Ground, MountingKind, RecessCarries
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, assembly, floor_to_edge_mm, known, leaned, not_run
from halfsilver.units.factors import MM_PER_INCH, N_PER_LBF

RAIL_MM = 2.0  # metal under the screw's head; assumed
SPF_GRAVITY = 0.42  # NDS 2018 Table 12.3.3A, spruce-pine-fir
THREAD_SHARE = 2 / 3  # of a wood screw's length, NDS Appendix L [memory]
MOST_FIXINGS = 40
PUSH_MM = 1500.0  # IEC 62368-1 8.6: the push acts up to this height
RULE = "mount.fixings"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """How a piece hangs: mass, lever from the wall, height from the fixings to the lower contact. [kg, mm]

    What had to be assumed stands as keys of the job, how it leans in words.
    """

    mass_kg: float
    centre_from_wall_mm: float
    fixing_to_contact_mm: float
    fixings: Known
    assumed: tuple[str, ...]
    lean: tuple[str, ...]

    @property
    def assumptions(self) -> tuple[str, ...]:
        """For a working."""
        return (*(f"assumed: {one}" for one in self.assumed), *self.lean)

    @property
    def lever(self) -> dict[str, float]:
        """Arguments of the rules of `mounting`."""
        return {
            "mass_kg": self.mass_kg,
            "centre_from_wall_mm": self.centre_from_wall_mm,
            "fixing_to_contact_mm": self.fixing_to_contact_mm,
        }


def hung(design: Design) -> Hung:
    """How the piece hangs, with what had to be assumed."""
    job, ledger, whole = design.facts.job, design.ledger, assembly(design, "complete")
    fixings = job.mounting.fixings
    below, high = known(fixings.below_top, 2 * MM_PER_INCH), ledger["outside.height"]
    studs = known(fixings.studs, mounting.STUD_SPACING_MM)
    behind = mounting.studs_crossed(width_mm=ledger["outside.width"], spacing_mm=studs.value).least
    count = known(fixings.count, max(1, behind) if job.mounting.ground is Ground.STUD else 2)
    said = {"count": count, "below_top": below} | ({"studs": studs} if job.mounting.ground is Ground.STUD else {})
    return Hung(
        mass_kg=whole.mass_kg,
        centre_from_wall_mm=max(leaned(design, out_mm=ledger["outside.depth"] + whole.at_mm[2], up_mm=high / 2 + whole.at_mm[1])[0], 1.0),
        fixing_to_contact_mm=leaned(design, out_mm=0.0, up_mm=max(high - below.value, high / 2))[1],
        fixings=count,
        assumed=tuple(f"mounting.fixings.{key}" for key, one in said.items() if one.assumed),
        lean=("it leans forward, its lower edge against the wall",) if job.mounting.tilt else (),
    )


def on_the_wall(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Fixings in studs by the rules of screws; in masonry or board only with the load that their maker prints."""
    mounting_ = design.facts.job.mounting
    by_fixings = mounting_.recess is not None and mounting_.recess.carries is RecessCarries.FIXINGS
    if mounting_.kind is MountingKind.STANDING or (mounting_.kind is MountingKind.RECESSED and not by_fixings):
        return
    if mounting_.carried_by is CarriedBy.SCREEN_MOUNT:
        yield from _screen_mount(design)
    elif mounting_.ground is Ground.STUD:
        yield _studs(design, hung(design), show)
    elif mounting_.ground in (Ground.MASONRY, Ground.BOARD):
        yield from _rated(design, hung(design))
    else:
        yield not_run(
            RULE, what="fixings, as it is not known what the wall is made of", key="mounting.ground", source=PRACTICE, unit="N",
            meanwhile="Find the studs, or masonry, before fixings are chosen.",
        )  # fmt: skip


def _studs(design: Design, hangs: Hung, show: Show) -> Check:
    fixings = design.facts.job.mounting.fixings
    number, length = known(fixings.screw, 10), known(fixings.length, 3 * MM_PER_INCH)
    gravity, lining = known(fixings.gravity, SPF_GRAVITY), known(fixings.lining, MM_PER_INCH / 2)
    thread = min(THREAD_SHARE * length.value, length.value - lining.value - RAIL_MM)
    said = {"screw": number, "length": length, "gravity": gravity, "lining": lining}
    assumed = (*hangs.assumed, *(f"mounting.fixings.{key}" for key, one in said.items() if one.assumed))
    if thread <= 0 or int(number.value) not in lateral.ROOT_IN:
        return _short(design, hangs, length.value)

    def workings(count: int) -> tuple[Working, ...]:
        shear = lateral.screw_lateral_n(
            number=int(number.value), thread_mm=thread, specific_gravity=gravity.value, steel_side_mm=RAIL_MM, gap_mm=lining.value
        )
        return hanging_workings(
            **hangs.lever, fixings=count, screw_number=int(number.value), thread_mm=thread, stud_gravity=gravity.value,
            lateral_load_n=shear * fasteners.duration_factor(duration="permanent"),
        )  # fmt: skip

    found = workings(int(hangs.fixings.value))
    worst = max(found, key=lambda one: one.use or 0.0)
    enough = next((n for n in range(1, MOST_FIXINGS) if all(one.holds is not False for one in workings(n))), None)
    least = fasteners.least_penetration_mm(diameter_mm=fasteners.screw_diameter_mm(number=int(number.value)))
    shallow = f" A screw counts from {show(least, 'mm')} of thread on; {show(thread, 'mm')} are there." if thread < least else ""
    cure = (
        "" if worst.holds is not False
        else f" {f'{enough} such screws' if enough else 'A rail over more studs, or lag screws,'} would carry it, or a cleat across "
        "the studs."
    )  # fmt: skip
    proof = mounting.proof_load_n(mass_kg=hangs.mass_kg)
    return Check(
        working=replace(
            worst, rule=RULE, title=f"fixings in studs: {worst.title}",
            status=weakest(worst.status, mark_of(lateral.screw_lateral_n).status),
            assumptions=(*worst.assumptions, *(f"assumed: {one}" for one in assumed), *hangs.lean),
        ),
        broken=Severity.CAUTION if hangs.fixings.assumed else Severity.STOP,
        also=found,
        advice=f"{int(hangs.fixings.value)} No. {int(number.value)} screws, {show(length.value, 'mm')} long, each in a stud: the hardest, "
        f"{worst.title}, comes to {worst.result:.0f} N against {worst.limit or 0.0:.0f} N.{cure}{shallow} {_from(assumed)}"
        f"Lining carries nothing. Find cables and pipes first, drill for the screws, and prove the support with {proof:.0f} N "
        f"({proof / N_PER_LBF:.0f} lbf, four times the weight) for a minute. A licensed structural engineer confirms loads over people.",
        entries=("outside.depth", "outside.height", "outside.width"),
    )  # fmt: skip


def _from(assumed: tuple[str, ...]) -> str:
    if not assumed:
        return ""
    return f"Assumed: mounting.fixings ({', '.join(one.rsplit('.', 1)[-1] for one in assumed)}). "


def _short(design: Design, hangs: Hung, length_mm: float) -> Check:
    weight = mounting.weight_n(mass_kg=hangs.mass_kg)
    mark = mark_of(lateral.screw_lateral_n)
    return Check(
        working=Working(
            rule=RULE, title="thread in the stud",
            given=(Given(name="weight", symbol="W", value=weight, unit="N"), Given(name="screw", symbol="l", value=length_mm, unit="mm")),
            formula="no thread, no load", result=weight, limit=0.0, unit="N", source=mark.source, status=mark.status, confirms=ENGINEER,
        ),
        broken=Severity.STOP,
        advice="The screws named do not reach into the stud, or no strength is known for them. Name No. 8, 9, 10, 12 or 14, and longer "
        "ones (mounting.fixings.length).",
    )  # fmt: skip


def _rated(design: Design, hangs: Hung) -> Iterator[Check | Finding]:
    mounting_ = design.facts.job.mounting
    board = mounting_.ground is Ground.BOARD
    words = "Board alone counts as nothing for a heavy piece: fix to studs, a cleat across them, or masonry. " if board else ""
    if mounting_.fixings.rated is None:
        found = not_run(
            RULE, what=f"fixings in {mounting_.ground.value}", key="mounting.fixings.rated", source="maker of the fixing", unit="N",
            meanwhile=f"{words}Anchors carry what their maker prints for this very ground, and nothing is invented here.",
        )  # fmt: skip
        yield replace(found, severity=Severity.CAUTION) if board else found
        return
    count, rated = int(hangs.fixings.value), mounting.weight_n(mass_kg=mounting_.fixings.rated)

    def load(n: int) -> float:
        pull = mounting.pull_out_n(**hangs.lever, fixings=n, person_pull_n=mounting.PERSON_PULL_N, person_at_mm=hangs.fixing_to_contact_mm)
        return hypot(pull, mounting.shear_n(mass_kg=hangs.mass_kg, fixings=n))

    enough = next((n for n in range(1, MOST_FIXINGS) if load(n) <= rated), None)
    mark, proof = mark_of(mounting.pull_out_n), mounting.proof_load_n(mass_kg=hangs.mass_kg)
    holds = load(count) <= rated
    yield Check(
        working=Working(
            rule=RULE,
            title=f"load on each fixing in {mounting_.ground.value}, with a person pulling",
            given=(
                Given(name="weight", symbol="W", value=mounting.weight_n(mass_kg=hangs.mass_kg), unit="N"),
                Given(name="centre of gravity from the wall", symbol="e", value=hangs.centre_from_wall_mm, unit="mm"),
                Given(name="fixing to lower contact", symbol="h", value=hangs.fixing_to_contact_mm, unit="mm"),
                Given(name="pull of a person", symbol="P", value=mounting.PERSON_PULL_N, unit="N", origin=PRACTICE),
                hangs.fixings.given("fixings", "n"),
            ),
            formula="hypot((W e + P h)/(h n), W/n) <= rated load",
            result=load(count),
            limit=rated,
            unit="N",
            source=mark.source,
            limit_source="maker of the fixing, for this ground",
            status=weakest(mark.status, "practice"),
            assumptions=(
                *hangs.assumptions,
                "the load printed is an allowed one, not the one at which it breaks",
            ),
            confirms=ENGINEER,
        ),
        broken=Severity.STOP,
        also=(proof_working(mass_kg=hangs.mass_kg),),
        advice=f"{words}Each of {count} fixings takes {load(count):.0f} N with a person pulling, against {rated:.0f} N printed by its maker"
        f"{'' if holds else f'; {enough} would carry it' if enough else '; choose a heavier kind'}. {_from(hangs.assumed)}"
        f"Prove the support with {proof:.0f} N ({proof / N_PER_LBF:.0f} lbf, four times the weight) for a minute.",
        entries=("outside.depth", "outside.height"),
    )


def _screen_mount(design: Design) -> Iterator[Check | Finding]:
    """The screen's own mount carries everything: its printed load against the whole mass."""
    rated, whole = design.facts.job.mounting.mount_rated, assembly(design, "complete")
    if rated is None:
        yield not_run(
            "mount.screen_mount", what=f"the screen's mount, which carries {whole.mass_kg:.1f} kg in all, screen, glass and timber",
            key="mounting.mount_rated", source="maker of the mount", unit="kg",
            meanwhile="Its own fixings in the wall follow its maker's instructions.",
        )  # fmt: skip
        return
    yield Check(
        working=Working(
            rule="mount.screen_mount",
            title="mass on the screen's mount",
            given=(Given(name="mass of the whole", symbol="m", value=whole.mass_kg, unit="kg"),),
            formula="m <= rated mass",
            result=whole.mass_kg,
            limit=rated,
            unit="kg",
            source="load path: the mount carries screen, glass and timber",
            limit_source="maker of the mount",
            status="derived",
            assumptions=("the mount is fixed to its wall as its maker says",),
            confirms="competent installer",
        ),
        broken=Severity.STOP,
        advice=f"The screen's mount carries all of it, {whole.mass_kg:.1f} kg, against {rated:.1f} kg printed by its maker; the "
        "frame brings "
        "its centre of gravity further out than a bare screen's, so keep a margin. Its fixings in the wall follow its maker.",
    )


def recess(design: Design, show: Show) -> Iterator[Check | Finding]:
    """What carries a recessed piece, and whether its hole is wider than a bay between studs."""
    mounting_ = design.facts.job.mounting
    if mounting_.kind is not MountingKind.RECESSED or mounting_.recess is None:
        return
    weight = mounting.weight_n(mass_kg=assembly(design, "complete").mass_kg)
    if mounting_.carried_by is CarriedBy.SCREEN_MOUNT:
        # With fixings named it was told by `on_the_wall`.
        yield from () if mounting_.recess.carries is RecessCarries.FIXINGS else _screen_mount(design)
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
    pull = mounting.pull_out_n(**hangs.lever, fixings=2, person_pull_n=mounting.PERSON_PULL_N, person_at_mm=hangs.fixing_to_contact_mm)
    mark = mark_of(mounting.pull_out_n)
    return Check(
        working=Working(
            rule="mount.recess",
            title="pull on each of two restraints at the top",
            given=(
                Given(name="weight", symbol="W", value=weight, unit="N"),
                Given(name="centre of gravity from the back", symbol="e", value=hangs.centre_from_wall_mm, unit="mm"),
                Given(name="height of the restraint", symbol="h", value=hangs.fixing_to_contact_mm, unit="mm"),
                Given(name="pull of a person", symbol="P", value=mounting.PERSON_PULL_N, unit="N", origin=PRACTICE),
            ),
            formula="(W e + P h)/(2 h)",
            result=pull,
            unit="N",
            source=mark.source,
            status=weakest(mark.status, "practice"),
            assumptions=("the sill is level, carries the weight, and does not sag",),
            confirms=ENGINEER,
        ),
        advice=f"The sill carries {weight:.0f} N; each of two restraints at the top holds {pull:.0f} N with a person pulling. "
        "Packers under "
        "the sticks, not under glass or screen; the sill must not hang on the plasterboard.",
        entries=("outside.height",),
    )


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
        f"{deep}. Cutting studs, or a fire-rated, party or outer wall, is for a licensed structural engineer and needs a permit; a double "
        "wall or a box before the wall cuts nothing.",
        entries=("recess.width",),
    )  # fmt: skip


def standing(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Tilt to ten degrees, and the push, of a standing piece over its nearest edge."""
    job, ledger = design.facts.job, design.ledger
    if job.mounting.kind is not MountingKind.STANDING:
        return
    base = job.mounting.base
    if base is None:
        yield not_run(
            "mount.tip", what="tilting and pushing over", key="mounting.base", source="IEC 62368-1 clause 8.6", unit="mm",
            meanwhile="Without a foot it falls: give one, or tie it to the wall.",
        )  # fmt: skip
        return
    whole, edge, tall = assembly(design, "complete"), floor_to_edge_mm(design) or 0.0, ledger["outside.height"]
    back, up = leaned(design, out_mm=-whole.at_mm[2], up_mm=tall / 2 + whole.at_mm[1])
    high, push_at = edge + up, min(PUSH_MM, edge + leaned(design, out_mm=0.0, up_mm=tall)[1])
    reach = min(base.front + back, ledger["outside.depth"] - back + base.back, ledger["outside.width"] / 2)
    found = standing_workings(mass_kg=whole.mass_kg, base_mm=max(reach, 0.0), centre_height_mm=high, push_height_mm=push_at)
    if job.mounting.tilt:
        found = tuple(replace(one, assumptions=(*one.assumptions, "it leans back about its lower edge")) for one in found)
    worst = max(found, key=lambda one: one.use or 0.0)
    pushed = mounting.push_level_n(mass_kg=whole.mass_kg) * push_at / mounting.weight_n(mass_kg=whole.mass_kg)
    need = max(mounting.tip_base_mm(centre_height_mm=high), pushed)
    cure = "" if worst.holds is not False else f" It takes {show(need, 'mm')} from the plumb line to every edge, or a tie to the wall."
    yield Check(
        working=replace(worst, rule="mount.tip"),
        broken=Severity.STOP,
        also=found,
        advice=f"{f'Leaning back {job.mounting.tilt:g} degrees, its' if job.mounting.tilt else 'Its'} centre of gravity is "
        f"{show(high, 'mm')} up and {show(max(reach, 0.0), 'mm')} from the nearest edge of its "
        "foot: it stands "
        f"at ten degrees from {show(mounting.tip_base_mm(centre_height_mm=high), 'mm')} on, and tips under {found[1].result:.0f} N against "
        f"{found[1].limit or 0.0:.0f} N.{cure} Where children are, tie it to the wall all the same.",
        entries=("outside.height", "outside.depth"),
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (on_the_wall, recess, standing)
