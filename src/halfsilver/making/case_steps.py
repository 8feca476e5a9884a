"""From frames and panes to a piece that is packed: set, pin, light, test, close, screen, soak, clean, pack."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.making.fasteners import fasteners
from halfsilver.making.timing import GLASS, MAINS, NAILS, SOLVENT, WEIGHT, Bench
from halfsilver.model.job import MountingKind, Scope
from halfsilver.model.making import Step, Trade


def case_steps(design: Design) -> Iterator[Step]:
    """Steps of putting the piece together."""
    bench = Bench(design)
    two = "rear.planed" in design.ledger
    if two:
        yield from _lit_case(bench)
    else:
        yield from _single_case(bench)
    if design.facts.job.screen is not None:
        yield from _screen(bench, after=("rear-set",) if two else ("backing",))
    else:
        yield bench.step(
            "panel",
            "Screw on the back panel",
            Trade.ASSEMBLY,
            labour="panel",
            parts=("back-panel",),
            tool="driver",
            after=("rear-set",),
            fasteners=_fasteners(design, "panel"),
            text="Pack the mirror against its lip without pressure, then screw the panel on; seal it against dust.",
            checkpoints=(bench.check("screw.max.panel"),),
        )
    yield from _end(bench)


def _fasteners(design: Design, place: str) -> str:
    found = [one for one in fasteners(design) if place in one.place]
    return "; ".join(f"{one.count} x {one.name or 'to be chosen'} ({one.rule})" for one in found)


def _lit_case(bench: Bench) -> Iterator[Step]:
    design, ledger = bench.design, bench.design.ledger
    yield bench.step(
        "front-set",
        "Clean and set the front pane",
        Trade.ASSEMBLY,
        labour="clean-glass",
        parts=("front-glass",),
        drawing="section-left",
        after=("front-pane", "paint", "finish", "fit-batten"),
        cautions=(GLASS, SOLVENT),
        text="Clean both faces, the coated one only with a soft dry cloth. Drop the pane onto the lip from behind, "
        "centred on its clearance.",
        checkpoints=(bench.check("front.remaining"),),
    )
    yield bench.step(
        "pin",
        "Pin the battens",
        Trade.ASSEMBLY,
        labour="pin",
        pieces=4,
        parts=bench.parts("batten"),
        tool="pin gun",
        drawing="section-left",
        after=("front-set",),
        fasteners=_fasteners(design, "batten"),
        cautions=(NAILS, GLASS),
        checkpoints=(bench.check("screw.max.pin"),),
        text="Pin outward into the rebate wall, clear of the glass, heads sunk so that the strip lies flat. Offer "
        "screws where the pane must come out again.",
    )
    yield bench.step(
        "strip",
        "Lay the strip",
        Trade.LIGHTS,
        labour="strip",
        pieces=4,
        parts=("strip",),
        drawing="front",
        after=("pin",),
        cautions=(MAINS,),
        text=f"Whole segments only: {ledger['strip.segments.width']:.0f} on each long way, "
        f"{ledger['strip.segments.height']:.0f} on each upright. "
        "Cut and link at the corners, never bend sharply. Put the unlit rest where it shows least.",
        checkpoints=(
            bench.check("strip.run.width"),
            bench.check("strip.run.height"),
            bench.check("strip.dark.width"),
            bench.check("strip.dark.height"),
        ),
    )
    yield bench.step(
        "power",
        "Test the lights powered",
        Trade.LIGHTS,
        labour="power",
        parts=("strip",),
        after=("strip",),
        cautions=(MAINS,),
        text="Run the lights at full for a quarter of an hour: every segment, every link, no flicker, no smell, nothing hot to the touch.",
    )
    yield bench.step(
        "close",
        "Close the case",
        Trade.ASSEMBLY,
        labour="close",
        parts=bench.parts("rear-stick", "spacer-frame"),
        tool="clamps, screws or ties",
        after=("power", "paint", "finish"),
        cautions=(SOLVENT, GLASS),
        drawing="section-left",
        text="Blow out, look under raking light, then glue the rear frame to the front frame's back and tie it mechanically too: "
        "a glue joint under lasting load creeps.",
        checkpoints=(bench.check("batten.slack"), bench.check("gap")),
    )
    yield bench.step(
        "rear-set",
        "Set the rear pane",
        Trade.ASSEMBLY,
        labour="rear-pane",
        parts=("rear-glass",),
        after=("close", "rear-pane"),
        cautions=(GLASS,),
        text="Clean both faces. Set the pane against the rear lip in its own opening, coated face as drawn.",
        drawing="section-left",
    )


def _single_case(bench: Bench) -> Iterator[Step]:
    yield bench.step(
        "front-set",
        "Clean and set the pane",
        Trade.ASSEMBLY,
        labour="clean-glass",
        parts=("front-glass",),
        drawing="section-left",
        after=("front-pane", "paint", "finish"),
        cautions=(GLASS, SOLVENT),
        text="Clean both faces and drop the pane onto the lip from behind.",
    )
    yield bench.step(
        "backing",
        "Fit the backing",
        Trade.BACKING,
        labour="backing",
        parts=("backing",),
        after=("front-set",),
        drawing="back",
        text="Cut out the screen's place in the backing and fit it behind the pane, dull black towards the glass.",
        checkpoints=tuple(bench.check(f"backing.{name}") for name in ("width", "height", "left", "bottom")),
    )


def _screen(bench: Bench, *, after: tuple[str, ...]) -> Iterator[Step]:
    design = bench.design
    yield bench.step(
        "spacer",
        "Lay the spacer",
        Trade.ASSEMBLY,
        labour="spacer",
        after=after,
        checkpoints=(bench.check("spacer"),),
        text="Foam or tape round the edge, outside the picture: glass and screen never touch, or marks and rings show.",
    )
    yield bench.step(
        "screen",
        "Set the screen",
        Trade.SCREEN,
        labour="screen",
        parts=("screen",),
        after=("spacer",),
        cautions=(WEIGHT, MAINS, GLASS),
        drawing="back",
        text="Two people. Its weight rests on the frame or its own mount, never on the glass. Pack it to the centre; "
        "mind what stands out of it.",
        checkpoints=(bench.check("screen.proud"),),
    )
    yield bench.step(
        "plates",
        "Screw on the corner plates",
        Trade.ASSEMBLY,
        labour="plates",
        pieces=4,
        parts=("plate",),
        tool="driver",
        after=("screen",),
        drawing="back",
        fasteners=_fasteners(design, "plate"),
        text="Across the rear mitres. No screw longer than stated: it would come through.",
        checkpoints=(bench.check("screw.max.plate"),),
    )
    yield bench.step(
        "bars",
        "Bend and screw on the bars",
        Trade.ASSEMBLY,
        labour="bars",
        pieces=3,
        parts=bench.parts("bar"),
        tool="vice, driver",
        after=("plates",),
        drawing="back",
        fasteners=_fasteners(design, "bar"),
        checkpoints=(bench.check("bar.step"), bench.check("bar.side"), bench.check("bar.top"), bench.check("screw.max.bar")),
        text="Both sides and the top, padded; none where badge, receiver or cables sit, never over vents or on the screen's soft back.",
    )


def _end(bench: Bench) -> Iterator[Step]:
    job = bench.design.facts.job
    last = ("bars",) if job.screen is not None else ("panel",)
    powered = job.lights is not None or job.screen is not None
    if powered:
        yield bench.step(
            "soak",
            "Soak test",
            Trade.ASSEMBLY,
            labour="soak",
            after=last,
            cautions=(MAINS,),
            text="Run screen and lights together, upright, for a working day. Feel the case, listen, look for flicker and for haze.",
        )
    yield bench.step(
        "final-clean",
        "Last clean",
        Trade.ASSEMBLY,
        labour="final-clean",
        after=("soak",) if powered else last,
        cautions=(GLASS,),
        text="Under raking light, then labels: mass, supply, coated faces, who made it.",
    )
    if job.mounting.kind is MountingKind.HUNG:
        yield bench.step(
            "hang",
            "Fix the hanging hardware",
            Trade.ASSEMBLY,
            labour="hang",
            after=("final-clean",),
            cautions=(WEIGHT,),
            fasteners=_fasteners(bench.design, "hang"),
            text="Into the frame's solid timber. The wall's side is for a competent installer, by the wall that is really there.",
        )
    pieces = 1 if job.scope is Scope.GLASS_ONLY else 2
    ends = ("hang", "final-clean", "finish", "paint", "fit-batten", "front-pane", "rear-pane", "strip", "power")
    yield bench.step(
        "pack",
        "Pack and label",
        Trade.ASSEMBLY,
        labour="pack",
        pieces=pieces,
        after=ends,
        cautions=(GLASS, WEIGHT),
        text="Glass upright, corners padded, marked fragile and this way up; a label on every part that travels loose.",
    )
