"""A standing piece: tilted by ten degrees, pushed sideways and pressed down upon, over each edge of its foot."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import chain

from halfsilver.engineering import mounting
from halfsilver.engineering import standing as tests
from halfsilver.engineering.standing import standing_workings
from halfsilver.engineering.working import Working
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Base, MountingKind
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import assembly, at_least, floor_to_edge_mm, leaned, not_run

PUSH_MM = 1500.0  # IEC 62368-1 8.6: pushes act up to this height
TESTS = ("mount.tip", "mount.push", "mount.down")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """An edge of the foot: how far the plumb line of the centre is inside it, and what stands out over it. [mm]"""

    name: str
    inside_mm: float
    overhang_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """How a piece stands: mass, height of its centre of gravity and of the pushes, edges of its foot. [kg, mm]"""

    mass_kg: float
    centre_mm: float
    push_mm: float
    edges: tuple[Edge, ...]

    def workings(self) -> tuple[Working, ...]:
        """Each of the tests over the edge at which it comes out worst."""
        found = [
            standing_workings(
                mass_kg=self.mass_kg, base_mm=edge.inside_mm, centre_height_mm=self.centre_mm, push_height_mm=self.push_mm,
                overhang_mm=edge.overhang_mm, over=edge.name,
            )
            for edge in self.edges
        ]  # fmt: skip
        every = tuple(chain.from_iterable(found))
        return tuple(max((one for one in every if one.rule == rule), key=lambda one: one.use or 0.0) for rule in TESTS)

    def needed_mm(self) -> float:
        """From the plumb line to an edge, so that every test is passed, the pushes at once. [mm]"""
        weight, over = mounting.weight_n(mass_kg=self.mass_kg), max(edge.overhang_mm for edge in self.edges)
        tipping = tests.push_level_n(mass_kg=self.mass_kg) * self.push_mm + tests.down_level_n(mass_kg=self.mass_kg) * over
        return max(tests.tip_base_mm(centre_height_mm=self.centre_mm), tipping / weight)


def stand(design: Design, base: Base) -> Stand:
    """How a standing piece stands on its foot, leaning back about its lower edge."""
    whole, ledger = assembly(design, "complete"), design.ledger
    edge, tall, deep = floor_to_edge_mm(design) or 0.0, ledger["outside.height"], ledger["outside.depth"]
    back, up = leaned(design, out_mm=-whole.at_mm[2], up_mm=tall / 2 + whole.at_mm[1])
    top = edge + leaned(design, out_mm=0.0, up_mm=tall)[1]
    pressed = min(tall, max(PUSH_MM - edge, 0.0))
    over = leaned(design, out_mm=deep, up_mm=pressed)[0] - deep - base.back
    edges = (
        Edge(name="front edge", inside_mm=base.front + back),
        Edge(name="back edge", inside_mm=max(deep - back + base.back, 0.0), overhang_mm=max(over, 0.0)),
        Edge(name="side", inside_mm=ledger["outside.width"] / 2 - abs(whole.at_mm[0])),
    )
    return Stand(mass_kg=whole.mass_kg, centre_mm=edge + up, push_mm=min(PUSH_MM, top), edges=edges)


def standing(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The stability tests of a standing piece over every edge of its foot."""
    mounting_ = design.facts.job.mounting
    if mounting_.kind is not MountingKind.STANDING:
        return
    if mounting_.base is None:
        yield not_run(
            "mount.tip", what="tilting and pushing over", key="mounting.base", source="IEC 62368-1 clause 8.6", unit="mm",
            meanwhile="Without a foot it falls: give one, or tie it to the wall.",
        )  # fmt: skip
        return
    stands = stand(design, mounting_.base)
    found = stands.workings()
    if mounting_.tilt:
        found = tuple(replace(one, assumptions=(*one.assumptions, "it leans back about its lower edge")) for one in found)
    worst = max(found, key=lambda one: one.use or 0.0)
    yield Check(
        working=replace(worst, rule="mount.tip"),
        broken=Severity.STOP,
        also=found,
        advice=_told(design, show, stands, found, worst),
        entries=("outside.height", "outside.depth"),
    )


def _told(design: Design, show: Show, stands: Stand, found: tuple[Working, ...], worst: Working) -> str:
    tilt = design.facts.job.mounting.tilt
    near, (_, push, down) = min(stands.edges, key=lambda edge: edge.inside_mm), found
    pressed = tests.down_level_n(mass_kg=stands.mass_kg)
    pressing = (
        f"pressed down with {pressed:.0f} N outside its foot, {down.result:.0f} N m would tip it and {down.limit or 0.0:.0f} N m hold it"
        if down.result > 0
        else f"nothing stands out over its foot, so that {pressed:.0f} N pressed down on it do not tip it"
    )
    cure = (
        f" It takes {at_least(design, show, stands.needed_mm())} from the plumb line to every edge (mounting.base), or a tie to the wall."
        if worst.holds is False else ""
    )  # fmt: skip
    return (
        f"{f'Leaning back {tilt:g} degrees, its' if tilt else 'Its'} centre of gravity is {show(stands.centre_mm, 'mm')} up and "
        f"{show(near.inside_mm, 'mm')} inside the {near.name} of its foot: it stands at ten degrees from "
        f"{show(tests.tip_base_mm(centre_height_mm=stands.centre_mm), 'mm')} on, and tips under {push.result:.0f} N at "
        f"{show(stands.push_mm, 'mm')} up against {push.limit or 0.0:.0f} N; {pressing}.{cure} "
        "Where children are, tie it to the wall all the same."
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (standing,)
