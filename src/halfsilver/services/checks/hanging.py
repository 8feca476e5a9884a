"""Hanging: what the fixings in the wall take, or the screen's own mount."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import ceil, hypot

from halfsilver.engineering import fasteners, lateral, mounting
from halfsilver.engineering.spacing import screw_spacing_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.engineering.workings import ENGINEER, STUD, hanging_workings, proof_working
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy, Ground, MountingKind, RecessCarries
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, assembly, known, leaned, not_run
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import MM_PER_INCH, N_PER_LBF

RAIL_MM = 2.0  # metal under the screw's head; assumed
SPF_GRAVITY = 0.42  # NDS 2018 Table 12.3.3A, spruce-pine-fir
THREAD_SHARE = 2 / 3  # of a wood screw's length, NDS Appendix L [memory]
MOST_FIXINGS = 40
RULE = "mount.fixings"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """How a piece hangs: mass, lever from the wall, height from the fixings to the lower contact, centre to the side. [kg, mm]

    Its fixings spread over a width, and so many studs surely lie behind it. What had to be assumed stands as keys of the job, how it
    leans in words.
    """

    mass_kg: float
    centre_from_wall_mm: float
    fixing_to_contact_mm: float
    aside_mm: float
    spread_mm: float
    studs: int
    push: Known
    fixings: Known
    assumed: tuple[str, ...]
    lean: tuple[str, ...]

    @property
    def assumptions(self) -> tuple[str, ...]:
        """For a working."""
        return (*(f"assumed: {one}" for one in self.assumed), *self.lean)

    def uneven(self, fixings: int) -> float:
        """Load on the fixing nearest to the centre of gravity over the mean of a number of them."""
        return fixings * mounting.load_share(fixings=fixings, off_centre_mm=self.aside_mm, spread_mm=self.spread_mm)

    def down_n(self, fixings: int) -> float:
        """Load down on the hardest loaded of a number of fixings. [N]"""
        return self.uneven(fixings) * mounting.shear_n(mass_kg=self.mass_kg, fixings=fixings)

    def out_n(self, fixings: int) -> float:
        """Pull on it away from the wall, with a person pulling. [N]"""
        pull = mounting.pull_out_n(**self.lever, fixings=fixings, person_pull_n=self.push.value, person_at_mm=self.fixing_to_contact_mm)
        return self.uneven(fixings) * pull

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
    wide, stud = ledger["outside.width"], job.mounting.ground is Ground.STUD
    return Hung(
        mass_kg=whole.mass_kg,
        aside_mm=abs(whole.at_mm[0]),
        spread_mm=(count.value - 1) * studs.value if stud and count.value <= behind else max(wide - 2 * below.value, wide / 2),
        centre_from_wall_mm=max(leaned(design, out_mm=ledger["outside.depth"] + whole.at_mm[2], up_mm=high / 2 + whole.at_mm[1])[0], 1.0),
        fixing_to_contact_mm=leaned(design, out_mm=0.0, up_mm=max(high - below.value, high / 2))[1],
        studs=behind,
        push=ruled(design, "person_push"),
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
        yield from screen_mount(design, show)
    elif mounting_.ground is Ground.STUD and mounting_.fixings.rated is None:
        yield _studs(design, hung(design), show)
    elif mounting_.ground in (Ground.STUD, Ground.MASONRY, Ground.BOARD):
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
            lateral_load_n=shear * fasteners.duration_factor(duration="permanent"), uneven=hangs.uneven(count),
            person_pull_n=hangs.push.value, person_origin=hangs.push.origin, timber=STUD,
        )  # fmt: skip

    found = workings(int(hangs.fixings.value))
    worst = max(found, key=lambda one: one.use or 0.0)
    enough = next((n for n in range(1, MOST_FIXINGS) if all(one.holds is not False for one in workings(n))), None)
    diameter = fasteners.screw_diameter_mm(number=int(number.value))
    least = fasteners.least_penetration_mm(diameter_mm=diameter)
    shallow = f" A screw counts from {show(least, 'mm')} of thread on; {show(thread, 'mm')} are there." if thread < least else ""
    cure = (
        "" if worst.holds is not False
        else f" {f'{enough} such screws' if enough else 'A rail over more studs, or lag screws,'} would carry it"
        f"{_paired(hangs, enough, diameter, show) if enough else ''}, or a cleat across the studs with the load that its maker prints "
        "(mounting.fixings.rated)."
    )  # fmt: skip
    edge = screw_spacing_mm(diameter_mm=diameter, which="edge", under_steel=True)
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
        f"Lining carries nothing. Find cables and pipes first, drill for the screws, {show(edge, 'mm')} from a stud's edge at least, and "
        f"prove the support with {proof:.0f} N ({proof / N_PER_LBF:.0f} lbf, four times the weight) for a minute. A licensed structural "
        "engineer confirms loads over people.",
        entries=("outside.depth", "outside.height", "outside.width"),
    )  # fmt: skip


def _paired(hangs: Hung, enough: int, diameter: float, show: Show) -> str:
    """What to do where there are fewer studs than screws."""
    if enough <= hangs.studs:
        return ""
    if not hangs.studs:
        return ", if a stud lies behind it: it is narrower than their spacing"
    apart, each = screw_spacing_mm(diameter_mm=diameter, which="along", under_steel=True), ceil(enough / hangs.studs)
    many = {2: "two", 3: "three", 4: "four"}.get(each, str(each))
    studs = "1 stud surely lies" if hangs.studs == 1 else f"{hangs.studs} studs surely lie"
    return f": {studs} behind it, so set {many} in a stud, one above the other, {show(apart, 'mm')} apart at least"


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
            formula="no thread, no load", put_in="0 mm of thread hold 0 N", result=weight, limit=0.0, unit="N", source=mark.source,
            status=mark.status, confirms=ENGINEER,
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
            meanwhile=f"{words}{_asked_of_the_maker(hangs)}",
        )  # fmt: skip
        yield replace(found, severity=Severity.CAUTION) if board else found
        return
    count, rated = int(hangs.fixings.value), mounting.weight_n(mass_kg=mounting_.fixings.rated)

    def load(n: int) -> float:
        return hypot(hangs.out_n(n), hangs.down_n(n))

    enough = next((n for n in range(1, MOST_FIXINGS) if load(n) <= rated), None)
    mark, proof = mark_of(mounting.pull_out_n), mounting.proof_load_n(mass_kg=hangs.mass_kg)
    more = f"; {enough} would carry it (mounting.fixings.count)" if enough else "; choose a heavier kind"
    cure = "" if load(count) <= rated else more
    yield Check(
        working=Working(
            rule=RULE,
            title=f"load on each fixing in {mounting_.ground.value}, with a person pulling",
            given=(
                Given(name="weight", symbol="W", value=mounting.weight_n(mass_kg=hangs.mass_kg), unit="N"),
                Given(name="centre of gravity from the wall", symbol="e", value=hangs.centre_from_wall_mm, unit="mm"),
                Given(name="fixing to lower contact", symbol="h", value=hangs.fixing_to_contact_mm, unit="mm"),
                hangs.push.given("pull of a person", "P", "N"),
                hangs.fixings.given("fixings", "n"),
                Given(name="hardest loaded over the mean", symbol="u", value=hangs.uneven(count)),
                Given(name="rated load", symbol="R", value=rated, unit="N", origin="asked"),
            ),
            formula="u hypot((W e + P h)/(h n), W/n) <= R",
            result=load(count),
            limit=rated,
            unit="N",
            source=mark.source,
            limit_source="maker of the fixing, for this ground",
            status=weakest(mark.status, hangs.push.status),
            assumptions=(
                *hangs.assumptions,
                "the load printed is an allowed one, not the one at which it breaks",
            ),
            confirms=ENGINEER,
        ),
        broken=Severity.STOP,
        also=(proof_working(mass_kg=hangs.mass_kg),),
        advice=f"{words}Each of {count} fixings takes {load(count):.0f} N with a person pulling, against {rated:.0f} N printed by its maker"
        f"{cure}. {_from(hangs.assumed)}Prove the support with {proof:.0f} N ({proof / N_PER_LBF:.0f} lbf, four times the weight) for "
        "a minute.",
        entries=("outside.depth", "outside.height"),
    )


def _asked_of_the_maker(hangs: Hung) -> str:
    """What the maker of an anchor is asked, with the loads there will be."""
    count = int(hangs.fixings.value)
    return (
        f"Ask the maker of the anchors what one may carry in this very ground, at its least depth and distance from edges: with {count} of "
        f"them each takes {hangs.down_n(count):.0f} N down and {hangs.out_n(count):.0f} N out of the wall, a person pulling. Nothing is "
        "invented here."
    )


def screen_mount(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The screen's own mount carries everything: its printed load against the whole mass."""
    rated, whole = design.facts.job.mounting.mount_rated, assembly(design, "complete")
    if rated is None:
        yield not_run(
            "mount.screen_mount", what=f"the screen's mount, which carries {whole.mass_kg:.1f} kg in all, screen, glass and timber",
            key="mounting.mount_rated", source="maker of the mount", unit="kg",
            meanwhile=f"Ask its maker what it may carry with the centre of gravity {show(hung(design).centre_from_wall_mm, 'mm')} before "
            "the back of the frame, and what its fixings in this wall have to be.",
        )  # fmt: skip
        return
    yield Check(
        working=Working(
            rule="mount.screen_mount",
            title="mass on the screen's mount",
            given=(Given(name="mass of the whole", symbol="m", value=whole.mass_kg, unit="kg"),),
            formula="m <= rated mass",
            put_in=f"{whole.mass_kg:.1f} against {rated:.1f} kg",
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


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (on_the_wall,)
