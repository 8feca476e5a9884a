"""From parts to a closed case: set and pin, light and test, close, second pane, back panel or backing."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.fasteners import pins_of
from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import BLADES, DUST, GLASS, MAINS, NAILS, SOLVENTS, WEIGHT
from halfsilver.making.steps.lights import lay_steps
from halfsilver.model.making import Step, Trade

CLEANING = "Clean both faces, the coated one only with a clean, soft, dry cloth, and look across them under raking light."


def case_steps(bench: Bench) -> Iterator[Step]:
    """Steps of putting the case together, up to what stands behind its panes."""
    yield bench.step(
        "front-set",
        "Clean and set the front pane" if bench.two else "Clean and set the pane",
        Trade.ASSEMBLY,
        labour="set-pane",
        parts=bench.parts("front-glass"),
        tool="soft cloths, suction cups",
        drawing="section-left",
        after=("front-pane", "fit", "fit-batten", "finish", "paint"),
        text=f"{CLEANING} Lay it from behind onto the lip, its play shared between both sides.",
        cautions=(GLASS, SOLVENTS),
    )
    if bench.two:
        yield _pin(bench)
        yield from lay_steps(bench)
        yield from _close(bench)
    yield from _panel(bench)
    yield from _backing(bench)


def _pin(bench: Bench) -> Step:
    each = ", ".join(f"{pins_of(part.size_mm[0])} in each {part.name}" for part in bench.parts("batten"))
    return bench.step(
        "pin",
        "Pin the battens",
        Trade.ASSEMBLY,
        parts=bench.parts("batten"),
        tool="pin gun",
        setting="angled outwards, away from the pane",
        drawing="section-left",
        after=("front-set",),
        marks=("place of each pin",),
        fasteners=f"{each}; {bench.fastened('battens', most='screw.max.pin')}",
        text="Pair that runs through first. Pin outwards into the wall of the rebate; the gun cannot lie flat in the pocket, so try "
        "angle and "
        "length on an offcut. Sink the heads, or the strip does not lie flat. Screws instead of pins where the pane must come out again. "
        "The battens alone hold the pane: it must neither rattle nor be pressed.",
        checkpoints=(bench.check("batten.slack"),),
        cautions=(NAILS, GLASS),
    )


def _close(bench: Bench) -> Iterator[Step]:
    between = bench.parts("spacer-frame")
    stack = "the frame between them and the rear frame" if between else "the rear frame"
    yield bench.step(
        "close",
        "Close the case",
        Trade.ASSEMBLY,
        parts=(*between, *bench.parts("rear-stick")),
        pieces=2 if between else 1,
        tool="clamps, drill, driver, blower, lamp",
        drawing="section-left",
        after=("power", "finish", "paint"),
        text=f"Drill for the screws first, in the middle of the body, clear of pane and cable way; then blow out the dust and look once "
        f"more under raking light. Glue {stack} to the back of the front frame, outsides flush, and tie them from the back with screws "
        "as well: a glued joint that carries a pane for years creeps. A joint that is only screwed can be opened again.",
        fasteners=bench.fastened("rear frame into", most="screw.max.tie"),
        checkpoints=(bench.check("gap"),),
        cautions=(BLADES, DUST, SOLVENTS, GLASS, WEIGHT),
    )
    yield bench.step(
        "rear-set",
        "Clean and set the rear pane",
        Trade.ASSEMBLY,
        labour="set-pane",
        parts=bench.parts("rear-glass"),
        drawing="section-left",
        tool="soft cloths, suction cups",
        after=("close", "rear-pane", "fit"),
        text=f"{CLEANING} From behind, against the rear lip, in its own opening, play shared between both sides; coated face as "
        "drawn. After this "
        "nobody reaches the space between the panes.",
        cautions=(GLASS, SOLVENTS),
    )


def backing_steps(bench: Bench) -> Iterator[Step]:
    """What closes the back, sawn while there is no finish and no clean pane about."""
    if bench.parts("back-panel"):
        yield from _cut_panel(bench)
    if bench.parts("backing"):
        yield _cut_backing(bench)


def _cut_panel(bench: Bench) -> Iterator[Step]:
    yield bench.step(
        "cut-panel",
        "Saw and drill the back panel",
        Trade.BACKING,
        parts=bench.parts("back-panel"),
        tool="table saw, drill",
        drawing="back",
        after=("measure",),
        text="Square to the frame's outside, inside it all round. Drill for the screws; black on the inner face.",
        checkpoints=tuple(bench.check(f"panel.{d}") for d in ("width", "height")),
        cautions=(BLADES, DUST),
    )
    if strips := bench.parts("packing"):
        yield bench.step(
            "cut-packing",
            "Rip and cut the packing",
            Trade.BACKING,
            labour="fit-batten",
            parts=strips,
            tool="table saw, mitre saw",
            setting="90 degrees",
            drawing="section-left",
            after=("fit", "measure"),
            text=f"Rip it so that with its foam it fills what remains behind the mirror ({bench.said('packing')}), flush with the frame's "
            "back. The long pair runs through; the short pair fits between.",
            marks=("side of the frame on each",),
            checkpoints=(bench.check("packing", "left", "right", "top", "bottom"),),
            cautions=(BLADES, DUST, GLASS),
        )


def _cut_backing(bench: Bench) -> Step:
    names = ("outside.width", "outside.height", "width", "height", "left", "bottom")
    return bench.step(
        "cut-backing",
        "Saw and cut out the backing",
        Trade.BACKING,
        parts=bench.parts("backing"),
        tool="table saw, jigsaw",
        drawing="back",
        after=("measure", "measure-screen"),
        marks=("top, and the side that looks forward",),
        text="Cut the opening from the measured outline. Left and right are the viewer's: from behind they change places. The side that "
        "looks forward is as dark and dull as the rest of the inside, or the opening shows.",
        checkpoints=tuple(bench.check(f"backing.{name}") for name in names),
        cautions=(BLADES, DUST),
    )


def _panel(bench: Bench) -> Iterator[Step]:
    if not bench.parts("back-panel"):
        return
    yield bench.step(
        "pack-mirror",
        "Pack the mirror against its lip",
        Trade.ASSEMBLY,
        parts=bench.parts("rear-glass", "packing"),
        pieces=1,
        drawing="section-left",
        after=("rear-set", "cut-packing"),
        checkpoints=(bench.check("packing"),),
        cautions=(GLASS, SOLVENTS),
        text="Strips all round behind the mirror, faced with foam: the panel presses on them, they hold the mirror without bending it. "
        "Nothing acid on the painted back: neutral adhesive only.",
    )
    yield bench.step(
        "panel",
        "Screw on the back panel",
        Trade.ASSEMBLY,
        parts=bench.parts("back-panel"),
        tool="driver",
        drawing="back",
        after=("pack-mirror", "cut-panel"),
        fasteners=bench.fastened("back panel", most="screw.max.panel"),
        text="Screw it on all round and seal it against dust. The supply stays outside, or where it can be reached by taking the "
        "panel off.",
        cautions=(GLASS, MAINS),
    )


def _backing(bench: Bench) -> Iterator[Step]:
    if not bench.parts("backing"):
        return
    yield bench.step(
        "backing",
        "Fit the backing behind the pane",
        Trade.ASSEMBLY,
        parts=bench.parts("backing"),
        drawing="back",
        after=("front-set", "cut-backing"),
        cautions=(GLASS,),
        text="Lay it in without touching the coating and fix it so that it cannot shift; no light may pass round it.",
    )
