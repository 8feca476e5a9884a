"""The last steps: soak test, last clean, what it hangs or stands by, packing."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.scope import made_parts
from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import BLADES, DUST, GLASS, LIGHT, MAINS, SOLVENTS, WALLS, WEIGHT
from halfsilver.model.job import CarriedBy, MountingKind, Scope
from halfsilver.model.making import Step, Trade


def end_steps(bench: Bench) -> Iterator[Step]:
    """Steps after the case is built, without packing."""
    job = bench.design.facts.job
    last = ("bars", "plates", "screen", "panel", "backing", "rear-set")
    what = "screen and lights together" if bench.two and job.screen else "the screen" if job.screen else "the lights"
    yield bench.step(
        "soak",
        "Soak test",
        Trade.ASSEMBLY,
        pieces=1,
        tool="thermometer, the supplies that belong to it",
        after=last,
        text=f"Run {what} upright, as it will hang or stand, for a working day. Feel the case and the supply every hour, listen, look for "
        "flicker, for haze and for dust between the panes.",
        cautions=(MAINS, LIGHT, GLASS, WEIGHT),
    )
    if job.mounting.kind is MountingKind.HUNG and job.mounting.carried_by is CarriedBy.FRAME:
        yield bench.step(
            "hang",
            "Fix the hangers",
            Trade.ASSEMBLY,
            parts=bench.parts(f"{bench.seat}-stick"),
            pieces=2,
            tool="drill, driver",
            drawing="back",
            after=last,
            fasteners=bench.fastened("hangers"),
            marks=("level line from side to side",),
            cautions=(BLADES, DUST, WEIGHT, WALLS),
            text=f"Into solid timber, level, above the centre of mass. The piece weighs {bench.design.mass_kg:.0f} kg: write it "
            "beside them. "
            "What goes into the wall is chosen by who hangs it.",
        )
    if job.mounting.kind is MountingKind.STANDING:
        yield bench.step(
            "stand",
            "Fix feet and a restraint",
            Trade.ASSEMBLY,
            parts=bench.parts(f"{bench.seat}-stick"),
            pieces=2,
            tool="drill, driver",
            drawing="back",
            after=last,
            fasteners="; ".join(told for told in (bench.fastened("feet"), bench.fastened("restraint")) if told),
            cautions=(BLADES, DUST, WEIGHT, WALLS),
            text=f"Feet or a base that carry {bench.design.mass_kg:.0f} kg, and a strap or bracket near the top that keeps it from "
            "tipping. A piece "
            "that leans can tip: who sets it up fastens the restraint to the building.",
        )
    yield bench.step(
        "final-clean",
        "Last clean",
        Trade.ASSEMBLY,
        parts=bench.parts("front-glass"),
        tool="soft cloths, lamp",
        after=("soak", "hang", "stand"),
        text="Under raking light, the glass that can still be reached; then labels: mass, power, coated faces, how it opens.",
        cautions=(GLASS, SOLVENTS),
    )


def pack_step(bench: Bench, *, after: tuple[str, ...]) -> Step:
    """Packing: after everything that nothing else waits for."""
    glass, framed = bench.has(Trade.GLASS), bench.has(Trade.FRAME)
    kit = bench.design.facts.job.scope is Scope.KIT
    loose = (
        " Every part carries its label; screws, pins and strip go into bags of their own, with the drawings and these steps." if kit else ""
    )
    glassy = "Panes upright, faces kept apart by clean paper, edges and corners padded; " if glass else ""
    ledger = bench.design.ledger
    return bench.step(
        "pack",
        "Pack",
        Trade.FRAME if framed else Trade.GLASS,
        parts=made_parts(bench.design),
        pieces=1,
        face_m2=ledger["outside.width"] * ledger["outside.height"] / 1e6,
        tool="crate, foam, corner pads",
        after=after,
        text=f"{glassy if glass else 'Corners padded, faces covered; '}marked with what it is, its mass and this way up.{loose}",
        marks=("job and revision", "mass"),
        cautions=(*((GLASS,) if glass else ()), WEIGHT),
    )
