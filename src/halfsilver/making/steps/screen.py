"""The screen behind its panes: spacer, screen, plates and bars."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import BLADES, DUST, GLASS, MAINS, SOLVENTS, WALLS, WEIGHT
from halfsilver.model.job import CarriedBy
from halfsilver.model.making import Step, Trade


def retainer_steps(bench: Bench) -> Iterator[Step]:
    """Bars made ready; they can go with a kit."""
    if not bench.parts("bar"):
        return
    yield bench.step(
        "make-bars",
        "Cut, bend and drill the bars",
        Trade.RETAINERS,
        parts=bench.parts("bar"),
        tool="vice, hacksaw, file, drill",
        setting=f"step {bench.said('bar.step')}",
        drawing="back",
        after=("measure",),
        text="Bend a trial piece first and add what the step takes up. File every edge, drill, paint dull black and pad where a bar "
        "will press.",
        checkpoints=tuple(bench.check(f"bar.{what}") for what in ("step", "side", "top")),
        cautions=(BLADES, DUST, SOLVENTS),
    )


def screen_steps(bench: Bench) -> Iterator[Step]:
    """Everything that needs the screen."""
    if bench.design.facts.job.screen is None:
        return
    behind = ("rear-set",) if bench.two else ("front-set", "backing")
    yield bench.step(
        "spacer",
        "Lay the spacer",
        Trade.SCREEN,
        parts=bench.parts(f"{bench.seat}-glass"),
        tool="foam or felt tape, black",
        after=behind,
        drawing="section-left",
        checkpoints=(bench.check("spacer"),),
        cautions=(GLASS,),
        text="All round the edge of the pane, outside the picture. Pane and screen never touch: where they do, marks and rings show.",
    )
    yield bench.step(
        "screen",
        "Set the screen",
        Trade.SCREEN,
        parts=bench.parts("screen"),
        drawing="back",
        after=("spacer", "measure-screen"),
        tool="two people",
        text=f"{_carried(bench)} Pack it to the centre; what stands out of it goes into its pocket. Leave vents and cables free.",
        checkpoints=(bench.check("screen.proud", "left", "right", "top"),),
        cautions=(WEIGHT, GLASS, MAINS, *_walls(bench)),
    )
    yield bench.step(
        "plates",
        "Screw on the corner plates",
        Trade.ASSEMBLY,
        parts=bench.parts("plate"),
        tool="driver",
        drawing="back",
        after=("screen", *behind),
        fasteners=bench.fastened("plate", most="screw.max.plate"),
        cautions=(GLASS,),
        text=f"Across the mitres of the {bench.seat} frame. A longer screw comes through the face. A driver that slips breaks what is "
        "behind it.",
    )
    yield bench.step(
        "bars",
        "Screw on the bars",
        Trade.ASSEMBLY,
        parts=bench.parts("bar"),
        tool="driver",
        drawing="back",
        after=("plates", "make-bars"),
        fasteners=bench.fastened("bar", most="screw.max.bar"),
        text="Both sides and the top; none where a badge, a receiver or cables sit, never over vents, never on the screen's soft "
        "back. The pads "
        "touch, they do not press.",
        cautions=(GLASS,),
    )


def _carried(bench: Bench) -> str:
    if bench.design.facts.job.mounting.carried_by is CarriedBy.SCREEN_MOUNT:
        return "The screen hangs on its own mount and carries frame and panes; its weight never rests on glass."
    return "Its weight rests on the bottom stick, never on glass."


def _walls(bench: Bench) -> tuple[str, ...]:
    return (WALLS,) if bench.design.facts.job.mounting.carried_by is CarriedBy.SCREEN_MOUNT else ()
