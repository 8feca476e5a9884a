"""The bars that hold a screen in its frame from behind: bent by what they carry, and their screws pulled."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import ceil

from halfsilver.engineering import bars as metal
from halfsilver.engineering import fasteners, mounting
from halfsilver.engineering.plates import support_deflection_limit_mm
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, fine
from halfsilver.making.fasteners import fasteners as fasteners_of
from halfsilver.making.fasteners import screws_in
from halfsilver.making.scope import has
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy
from halfsilver.model.making import Trade
from halfsilver.model.workshop import Hardware
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, assembly, at_least, frames, screw_number, timber_gravity
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import MM_PER_INCH

RULE = "frame.bars"
MAKER = "maker, on a loaded piece"
OVER_SCREEN_MM = 12.0  # how far a bar reaches over the screen; common practice
SMALL_MM = 0.05
FAR_MM = 60.0  # from frame to screen: beyond it a bar runs across the opening


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """The longest bar as a beam: its section, what bends it, and where it is held. [mm, N]"""

    hardware: Hardware
    strength: Known
    length_mm: float
    arm_mm: float
    far: bool
    load_n: float
    what: str
    screws: int

    @property
    def stuff(self) -> metal.Metal:
        """What it is taken to be made of."""
        return metal.metal_of(density_kg_m3=self.hardware.density)

    def held_at_its_ends_mm(self) -> float:
        """How far it gives where nothing but its ends is held, the load in its middle. [mm]"""
        section = {"width_mm": self.hardware.width, "thickness_mm": self.hardware.thickness, "modulus_mpa": self.stuff.modulus_mpa}
        return metal.span_deflection_mm(load_n=self.load_n, span_mm=self.length_mm, **section)

    def bent_mm(self) -> float:
        """How far it gives. [mm]"""
        if self.far:
            return self.held_at_its_ends_mm()
        return metal.lip_deflection_mm(
            load_n=self.load_n, arm_mm=self.arm_mm, width_mm=self.length_mm, thickness_mm=self.hardware.thickness,
            modulus_mpa=self.stuff.modulus_mpa,
        )  # fmt: skip

    def stress_mpa(self) -> float:
        """Its bending stress. [MPa]"""
        lever, across = (self.length_mm / 4, self.hardware.width) if self.far else (self.arm_mm, self.length_mm)
        return metal.bending_stress_mpa(load_n=self.load_n, lever_mm=lever, width_mm=across, thickness_mm=self.hardware.thickness)


def bar(design: Design) -> Bar:
    """The bar that has most to carry: a side bar where the screen is wide, each taking an equal share."""
    ledger, job, seat = design.ledger, design.facts.job, frames(design)[-1]
    on_mount = job.mounting.carried_by is CarriedBy.SCREEN_MOUNT
    whole, screen = assembly(design, "complete"), assembly(design, "screen", "screen")
    mass = whole.mass_kg - screen.mass_kg if on_mount else screen.mass_kg
    body = ledger[f"{seat}.moulding.body"]
    beside = max(ledger[f"screen.offset.{side}"] for side in ("left", "right", "top")) - body
    lengths = [part.size_mm[0] for part in design.parts for _ in range(part.quantity) if part.id.startswith("bar-")]
    far = beside > FAR_MM
    return Bar(
        hardware=design.facts.bar,
        strength=_strength(design),
        length_mm=max(lengths) if far else min(lengths),
        arm_mm=body / 2 + max(beside, 0.0) + OVER_SCREEN_MM / 2,
        far=far,
        load_n=mounting.weight_n(mass_kg=mass) / len(lengths),
        what="frame and panes, which hang on the screen" if on_mount else "the screen, when the piece lies on its back",
        screws=screws_in(design, "bar"),
    )


def _strength(design: Design) -> Known:
    """Yield of the bar's metal. [MPa]"""
    stuff = metal.metal_of(density_kg_m3=design.facts.bar.density)
    return ruled(design, "steel_yield" if stuff is metal.STEEL else "aluminium_yield")


def bars(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Bars against the yield of their metal, and against how far they may give."""
    if not any(part.id.startswith("bar-") for part in design.parts) or design.facts.job.screen is None:
        return
    one = bar(design)
    if not has(design, Trade.RETAINERS):
        yield Finding(
            rule=RULE, source=mark_of(metal.bending_stress_mpa).source, status="derived", severity=Severity.NOT_RUN, value=one.load_n,
            unit="N",
            advice=f"Not checked: the bars behind the screen, which are not in the scope. Each takes {one.load_n:.0f} N of {one.what}: "
            f"whoever fits them chooses a section that bears it over {show(one.length_mm if one.far else one.arm_mm, 'mm')}.",
        )  # fmt: skip
        return
    both = (_stress(one), _give(design, one), *_screws(design, one))
    worst = max(both, key=lambda each: each.use or 0.0)
    yield Check(
        working=replace(worst, rule=RULE),
        also=both,
        advice=f"Each bar ({one.hardware.id}, {one.stuff.name}) takes {one.load_n:.0f} N of {one.what}: it is stressed to "
        f"{both[0].result:.0f} MPa against {both[0].limit or 0.0:.0f} MPa and {_gives(both[1], show)}{_pulled(both)}. "
        f"{_cure(design, one, both, worst, show)}".rstrip(),
        entries=("bar.side", "bar.top", "bar.thickness"),
    )


def _given(one: Bar) -> tuple[Given, ...]:
    lever = (
        Given(name="length between its ends", symbol="L", value=one.length_mm, unit="mm", origin="ledger") if one.far
        else Given(name="screws to the load", symbol="a", value=one.arm_mm, unit="mm", origin="ledger")
    )  # fmt: skip
    return (
        Given(name="load on it", symbol="P", value=one.load_n, unit="N"),
        lever,
        Given(name="metal across the bending", symbol="b", value=one.hardware.width if one.far else one.length_mm, unit="mm"),
        Given(name="thickness", symbol="t", value=one.hardware.thickness, unit="mm", origin="catalogue"),
    )


def _assumed(one: Bar) -> tuple[str, ...]:
    held = "held at its ends, the load in its middle" if one.far else "its foot lies on the frame along its whole length"
    return (held, "the bars share evenly", f"{one.stuff.name}, by its density; a soft alloy")


def _stress(one: Bar) -> Working:
    mark, limit = mark_of(metal.bending_stress_mpa), mark_of(metal.allowable_stress_mpa)
    return Working(
        rule="frame.bar_stress",
        title="stress of a bar behind the screen",
        given=(*_given(one), one.strength.given(f"yield of {one.stuff.name}", "Fy", "MPa")),
        formula="6 P L/4/(b t^2) <= Fy/1.67" if one.far else "6 P a/(b t^2) <= Fy/1.67",
        result=one.stress_mpa(),
        limit=metal.allowable_stress_mpa(yield_mpa=one.strength.value),
        unit="MPa",
        source=mark.source,
        limit_source=limit.source,
        status=weakest(mark.status, limit.status, one.strength.status),
        assumptions=_assumed(one),
        confirms=MAKER,
    )


def _give(design: Design, one: Bar) -> Working:
    """A bar beside the screen gives no more than its pad; one across the opening no more than what holds a pane."""
    gives = design.facts.habits.pad_compression
    pad = () if one.far else (Given(name="what its pad gives", symbol="g", value=gives, unit="mm", origin="workshop"),)
    mark, span = mark_of(metal.span_deflection_mm if one.far else metal.lip_deflection_mm), mark_of(support_deflection_limit_mm)
    return Working(
        rule="frame.bar_give",
        title="how far a bar behind the screen gives",
        given=(*_given(one), Given(name=f"stiffness of {one.stuff.name}", symbol="E", value=one.stuff.modulus_mpa, unit="MPa"), *pad),
        formula="P L^3/(4 E b t^3) <= L/175" if one.far else "4 P a^3/(E b t^3) <= g",
        result=one.bent_mm(),
        limit=support_deflection_limit_mm(span_mm=one.length_mm) if one.far else gives,
        unit="mm",
        source=mark.source,
        limit_source=span.source if one.far else "pad_compression of the workshop",
        status=weakest(mark.status, span.status if one.far else "practice"),
        assumptions=_assumed(one),
        confirms=MAKER,
    )


def _screws(design: Design, one: Bar) -> Iterator[Working]:
    """Pull on the screws of a bar whose foot is pried off the frame."""
    line = next((each for each in fasteners_of(design) if each.place == "screws through the bars"), None)
    item = design.facts.workshop.hardware.get(line.id) if line else None
    number = screw_number(item.diameter) if item else None
    if one.far or item is None or number is None:
        return
    facts, diameter = design.facts, fasteners.screw_diameter_mm(number=number)
    moulding = facts.rear_moulding if frames(design)[-1] == "rear" else facts.front_moulding
    gravity, thread = timber_gravity(moulding.density), item.length - one.hardware.thickness
    per_mm = fasteners.screw_withdrawal_n_per_mm(specific_gravity=gravity, diameter_mm=diameter)
    mark, pull = mark_of(fasteners.withdrawal_n), mark_of(metal.screw_pull_n)
    least = fasteners.least_penetration_mm(diameter_mm=diameter)
    short = (f"thread is below the {least:.0f} mm from which the NDS counts a screw: prove it",) if thread < least else ()
    yield Working(
        rule="frame.bar_screws",
        title="pull on each screw of a bar",
        given=(
            *_given(one)[:2],
            Given(name="width of its foot", symbol="f", value=one.hardware.width, unit="mm", origin="catalogue"),
            Given(name="screws in it", symbol="n", value=one.screws, origin=PRACTICE),
            Given(name="gravity of the timber", symbol="G", value=gravity, origin="density, on the low side"),
            Given(name="screw diameter", symbol="D", value=diameter / MM_PER_INCH, unit="in", origin="ASME B18.6.1"),
            Given(name="thread", symbol="p", value=thread, unit="mm", origin="catalogue"),
        ),
        formula="P (a + f/2)/(n f/2) <= 0.9 x 2850 G^2 D p",
        result=metal.screw_pull_n(load_n=one.load_n, arm_mm=one.arm_mm, foot_mm=one.hardware.width, screws=one.screws),
        limit=fasteners.withdrawal_n(per_mm_n=per_mm, thread_mm=thread),
        unit="N",
        source=pull.source,
        limit_source=mark.source,
        status=weakest(pull.status, mark.status, *(("practice",) if short else ())),
        assumptions=(*_assumed(one), "drilled, side grain", *short),
        confirms=MAKER,
    )


def _gives(bent: Working, show: Show) -> str:
    if bent.result < SMALL_MM:
        return "hardly bends"
    return f"gives {fine(show, bent.result)} against {fine(show, bent.limit or 0.0)}"


def _pulled(found: tuple[Working, ...]) -> str:
    pull = next((one for one in found if one.rule == "frame.bar_screws"), None)
    return f"; each of its screws is pulled with {pull.result:.0f} N against {pull.limit or 0.0:.0f} N" if pull else ""


def _cure(design: Design, one: Bar, found: tuple[Working, ...], worst: Working, show: Show) -> str:
    if worst.holds is not False:
        alone = one.held_at_its_ends_mm()
        return "" if one.far else (
            f"Its foot has to lie on the frame along its whole length, its screws spread over it: held at its ends only it would give "
            f"{fine(show, alone)}."
        )  # fmt: skip
    if worst.rule == "frame.bar_screws":
        return f"{ceil(one.screws * (worst.use or 1.0))} screws in each would hold (screws in hardware.csv), or longer ones."
    stress, give = ((each.use or 0.0) for each in found[:2])
    thick = one.hardware.thickness * max(stress ** (1 / 2), give ** (1 / 3))
    return (
        f"{at_least(design, show, thick)} of the same metal would do (retainers.bars), an angle instead of a flat bar, or a rail of timber."
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (bars,)
