"""What checks ask of a design: values with where they are from, heights above the floor, parts carried together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin

from halfsilver.engineering.fasteners import screw_diameter_mm
from halfsilver.engineering.lateral import ROOT_IN
from halfsilver.engineering.working import Given
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.design import Part
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.formula import Status
from halfsilver.model.job import MountingKind, Units
from halfsilver.units.factors import MM_PER_INCH
from halfsilver.units.lengths import finest_step_mm
from halfsilver.units.rounding import down_to, up_to

PRACTICE = "common practice"
AUTHORITY = "local building authority"


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A value and where it is from."""

    value: float
    origin: str

    @property
    def assumed(self) -> bool:
        """Whether nobody gave it."""
        return self.origin == "assumed"

    @property
    def status(self) -> Status:
        """How well it is known; what somebody gave counts as practice."""
        return "memory" if "memory" in self.origin else "assumed" if "assumed" in self.origin else "practice"

    @property
    def doubt(self) -> str:
        """In words, with the key that takes its place; nothing where somebody gave it."""
        return f" ({self.origin})" if self.status in ("memory", "assumed") else ""

    def source(self, publication: str) -> str:
        """Where it is from, in place of a publication that it only should have been read in."""
        return "the workshop's own value" if self.origin == "workshop" else f"{publication}{self.doubt}"

    def given(self, name: str, symbol: str, unit: str = "") -> Given:
        """The value as it goes into a working."""
        return Given(name=name, symbol=symbol, value=self.value, unit=unit, origin=self.origin)


def known(asked: float | None, assumed: float) -> Known:
    """What the job says, or else what is assumed."""
    return Known(value=assumed, origin="assumed") if asked is None else Known(value=asked, origin="asked")


def not_run(rule: str, *, what: str, key: str, source: str, unit: str = "1", meanwhile: str = "") -> Finding:
    """A check that lacks an input: it names the key to fill."""
    return Finding(
        rule=rule, source=source, status="assumed", severity=Severity.NOT_RUN, unit=unit,
        advice=f"Not checked: {what}. Fill in `{key}`.{f' {meanwhile}' if meanwhile else ''}",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Parts that are carried together: mass, and centre of gravity in the design's axes. [kg, mm]"""

    name: str
    mass_kg: float
    at_mm: tuple[float, float, float]


def together(name: str, parts: Iterable[Part]) -> Assembly:
    """Several parts as one body; its centre is the origin where there is no mass."""
    bodies = [(part.mass_kg * part.quantity, part.at_mm) for part in parts]
    mass = sum(one for one, _ in bodies)
    x, y, z = (sum(one * at[axis] for one, at in bodies) / mass if mass else 0.0 for axis in range(3))
    return Assembly(name=name, mass_kg=mass, at_mm=(x, y, z))


def assembly(design: Design, name: str, *prefixes: str, leave: tuple[str, ...] = ()) -> Assembly:
    """The parts whose ids begin so (all, where no beginning is named), but for those left out."""
    wanted = (part for part in design.parts if part.id.startswith(prefixes or ("",)) and part.id not in leave)
    return together(name, wanted)


def leaned(design: Design, *, out_mm: float, up_mm: float) -> tuple[float, float]:
    """A point of a piece that leans about its lower edge: a hung one forward, a standing one back.

    Parameters
    ----------
    design : Design
        Tells how far it leans.
    out_mm, up_mm : float
        The point as if upright: level from the plane through that edge, in the direction of the lean, and above the edge. [mm]

    Returns
    -------
    tuple of float
        The same where it really is. [mm]
    """
    lean = radians(design.facts.job.mounting.tilt)
    return out_mm * cos(lean) + up_mm * sin(lean), up_mm * cos(lean) - out_mm * sin(lean)


def floor_to_edge_mm(design: Design) -> float | None:
    """Height of the outside's lower edge above the floor; None where the job does not say. [mm]"""
    mounting = design.facts.job.mounting
    if mounting.centre_height is not None:
        return max(mounting.centre_height - leaned(design, out_mm=0.0, up_mm=design.ledger["outside.height"] / 2)[1], 0.0)
    if mounting.kind is MountingKind.STANDING:
        return mounting.base.height if mounting.base else 0.0
    return None


def rough(design: Design, show: Show, length_mm: float) -> str:
    """A length to the nearest inch or centimetre: where more would pretend."""
    step = MM_PER_INCH if design.facts.job.units is Units.INCH else 10.0
    return show(round(length_mm / step) * step, "mm")


def at_least(design: Design, show: Show, length_mm: float) -> str:
    """The least length that passes as the job prints lengths: rounded up, so that what is read passes too."""
    return show(up_to(length_mm, _step_mm(design)), "mm")


def at_most(design: Design, show: Show, length_mm: float) -> str:
    """The greatest length that passes as the job prints lengths: rounded down."""
    return show(down_to(length_mm, _step_mm(design)), "mm")


def _step_mm(design: Design) -> float:
    job = design.facts.job
    return finest_step_mm(units=job.units.value, fraction=job.fraction)


def frames(design: Design) -> tuple[str, ...]:
    """Names of the frames there are, front to back."""
    return tuple(which for which in ("front", "rear") if f"{which}.stick.long" in design.ledger)


def panes(design: Design) -> tuple[str, ...]:
    """Names of the sheets there are, front to back."""
    return tuple(which for which in ("front", "rear") if f"{which}.glass.width" in design.ledger)


def warmth(design: Design, temperature_degc: float) -> str:
    """A temperature in words, in Fahrenheit too where the job is in inches.

    Parameters
    ----------
    design : Design
        Tells the job's units.
    temperature_degc : float
        Temperature. [degC]
    """
    told = f"{temperature_degc:.0f} degC"
    return f"{told} ({temperature_degc * 1.8 + 32:.0f} degF)" if design.facts.job.units is Units.INCH else told


def timber_gravity(density_kg_m3: float) -> float:
    """Gravity of a frame's timber for the rules of screws, from its density at 12 %, kept in their range: a little low."""
    return min(max(density_kg_m3 / 1120.0, 0.31), 0.73)


def screw_number(diameter_mm: float) -> int | None:
    """The wood screw number of a diameter, among those whose strength is known."""
    return next((n for n in ROOT_IN if abs(screw_diameter_mm(number=n) - diameter_mm) < 0.05), None)
