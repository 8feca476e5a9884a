"""Everything a construction needs, looked up once: catalogue entries, profiles, the screen, allowances and decisions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from halfsilver.errors import JobError, Problem
from halfsilver.geometry.profile import Profile
from halfsilver.layout.choices import Choices
from halfsilver.layout.declare import PlaceRule, allowance, as_read, asked
from halfsilver.layout.screens import ScreenFacts, problems_of_screen, screen_facts
from halfsilver.ledger.expression import Expression
from halfsilver.ledger.ledger import Entry, Measurement
from halfsilver.model.job import CoatedSide, Job, Units
from halfsilver.model.quantities import Auto
from halfsilver.model.workshop import GlassDuty, GlassKind, Habits, Hardware, LightKind, Limits, Moulding, Steps, Workshop, pick


@dataclass(frozen=True)
class Facts:
    """A job beside its workshop, with every name looked up.

    Raises
    ------
    JobError
        On first use of what the catalogues do not have, or what the job leaves out.
    """

    job: Job
    workshop: Workshop
    choices: Choices

    @property
    def habits(self) -> Habits:
        """How the shop builds."""
        return self.workshop.habits

    @property
    def limits(self) -> Limits:
        """How exactly it works."""
        return self.workshop.limits

    @property
    def steps(self) -> Steps:
        """Steps to which things are cut, by the job's units."""
        allowances = self.workshop.allowances
        return allowances.steps_in if self.job.units is Units.INCH else allowances.steps_mm

    @cached_property
    def measurements(self) -> tuple[Measurement, ...]:
        """The job's readings as the ledger takes them: as they stand, and by date where each of them has one."""
        taken = self.job.measured
        in_order = sorted(taken, key=lambda r: r.when or "") if all(r.when for r in taken) else taken
        return tuple(Measurement(name=r.name, value_mm=r.value, at=r.at, when=r.when or "", by=r.by or "") for r in in_order)

    def read(self, name: str, *, places: PlaceRule = "last") -> Expression | None:
        """What the readings of an entry and the tape make of it, its places combined by the entry's rule; None where there are none."""
        return as_read(name, self.measurements, self.limits.tape, places=places)

    @cached_property
    def screen(self) -> ScreenFacts:
        """The screen."""
        facts = screen_facts(self.job, self.workshop)
        problems = tuple(problems_of_screen(facts))
        if problems:
            raise JobError(problems)
        return facts

    @cached_property
    def front_glass(self) -> GlassKind:
        """The front (or only) sheet."""
        return pick(self.workshop.glass, self.job.glass.front.kind, path="glass.front.kind", of="glass")

    @cached_property
    def rear_glass(self) -> GlassKind:
        """The rear sheet of a construction with two."""
        if self.job.glass.rear is None:
            raise _needed("glass.rear", "the rear sheet", "This construction has two sheets.")
        return pick(self.workshop.glass, self.job.glass.rear.kind, path="glass.rear.kind", of="glass")

    @cached_property
    def front_moulding(self) -> Moulding:
        """The front (or only) frame's moulding."""
        return pick(self.workshop.mouldings, self.job.frame.front.moulding, path="frame.front.moulding", of="mouldings")

    @cached_property
    def rear_moulding(self) -> Moulding:
        """The rear frame's moulding; the front's where none is named."""
        rear = self.job.frame.rear
        if rear is None or rear.moulding is None:
            return self.front_moulding
        return pick(self.workshop.mouldings, rear.moulding, path="frame.rear.moulding", of="mouldings")

    @cached_property
    def front_profile(self) -> Profile:
        """The front frame's profile."""
        return Profile(self.front_moulding.profile)

    @cached_property
    def rear_profile(self) -> Profile:
        """The rear frame's profile before planing."""
        return Profile(self.rear_moulding.profile)

    @cached_property
    def planed_mm(self) -> float:
        """What is planed off the rear frame's face, asked or decided. [mm]"""
        rear = self.job.frame.rear
        if rear is not None and not isinstance(rear.planed, Auto):
            if rear.planed >= self.rear_profile.lip_back_mm:
                raise _through(rear.planed, self.rear_profile.lip_back_mm)
            return rear.planed
        return self.choices.planed.value if self.choices.planed else self.rear_moulding.plane_least

    @cached_property
    def light(self) -> LightKind:
        """The strip of lights."""
        if self.job.lights is None:
            raise _needed("lights", "the strip of lights", "This construction is lit.")
        return pick(self.workshop.lights, self.job.lights.kind, path="lights.kind", of="lights")

    @cached_property
    def plate(self) -> Hardware:
        """The corner plate."""
        return pick(self.workshop.hardware, self.job.retainers.plates or self.habits.plate, path="retainers.plates", of="hardware")

    @cached_property
    def bar(self) -> Hardware:
        """The retaining bar."""
        return pick(self.workshop.hardware, self.job.retainers.bars or self.habits.bar, path="retainers.bars", of="hardware")

    def fit(self, name: str, label: str) -> Entry:
        """``fit.screen`` or ``fit.glass``: the job's, else the workshop's habit."""
        wanted = getattr(self.job.fit, name)
        if wanted is not None:
            return asked(f"fit.{name}", label, wanted, f"fit.{name} in the job")
        return allowance(f"fit.{name}", label, getattr(self.habits, f"fit_{name}"))

    def bedding_mm(self, which: str) -> float:
        """Bedding between a frame's lip and its pane: the workshop's habit, or more where an asked gap needs it. [mm]"""
        if which == "front" and self.choices.bedding is not None:
            return self.choices.bedding.value
        return self.habits.bedding_front if which == "front" else self.habits.bedding_rear

    def coated_side(self, which: str) -> CoatedSide:
        """Which way a sheet's coated face looks: as asked; else into the cavity, and a silvered mirror's painted back away from it."""
        sheet = self.job.glass.front if which == "front" else self.job.glass.rear
        if sheet is not None and sheet.coated_side is not None:
            return sheet.coated_side
        single = which == "front" and self.job.glass.rear is None
        kind = self.front_glass if which == "front" else self.rear_glass
        return CoatedSide.SCREEN if single or kind.duty is GlassDuty.MIRROR else CoatedSide.CAVITY

    def cut_limit_mm(self, glass: GlassKind) -> float:
        """Limit of a pane's size, cut here or bought to size. [mm]"""
        return self.limits.glass_cut if glass.cut_here else self.limits.glass_bought


def _through(planed_mm: float, lip_mm: float) -> JobError:
    return JobError(
        [
            Problem(
                code="planed-through",
                path="frame.rear.planed",
                read=f"{planed_mm:g} mm",
                allowed=f"Less than the lip's thickness of {lip_mm:.2f} mm: planing takes it from the face.",
                advice="Plane less, or write auto.",
            )
        ]
    )


def _needed(path: str, what: str, why: str) -> JobError:
    return JobError([Problem(code="missing", path=path, allowed=f"Needed: {what}.", advice=why)])
