"""The strip: cut in whole segments and tried on the bench, laid on the pinned battens, tested before the case is closed."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import GLASS, LIGHT, MAINS, VOLTS
from halfsilver.model.making import Step, Trade


def light_steps(bench: Bench) -> Iterator[Step]:
    """What is made of the lights before they go in."""
    if not bench.two:
        return
    ledger, limit = bench.design.ledger, bench.design.facts.limits.tape.constant
    light = bench.design.facts.light
    yield bench.step(
        "cut-strip",
        "Cut the strip and link its corners",
        Trade.LIGHTS,
        parts=bench.parts("strip"),
        pieces=4,
        tool="snips, soldering iron",
        setting=f"whole segments of {bench.said('strip.segment')}",
        drawing="front",
        after=("fit-batten", "measure"),
        text=f"{light.name}, {light.voltage:g} V. {ledger['strip.segments.width']:.0f} segments along the top and the bottom, "
        f"{ledger['strip.segments.height']:.0f} on the left and the right; cut only where it is marked for cutting. A sharp corner is "
        "cut and "
        f"linked, never bent. Feed at the {bench.corner} corner.",
        marks=("side on each run", "plus and minus at both ends"),
        checkpoints=tuple(bench.check(f"strip.{what}.{d}", limit=limit) for what in ("run", "dark") for d in ("width", "height")),
        cautions=(VOLTS,),
    )
    yield bench.step(
        "bench-test",
        "Try the lights on the bench",
        Trade.LIGHTS,
        parts=bench.parts("strip"),
        pieces=1,
        tool="the supply that belongs to it, meter",
        after=("cut-strip",),
        text="Lay the linked runs out flat, never on the reel, and run them at full from their own supply: every segment, one colour "
        "all along, "
        "the voltage at the far end.",
        cautions=(MAINS, VOLTS, LIGHT),
    )


def lay_steps(bench: Bench) -> Iterator[Step]:
    """The strip in its place, and the test that comes before the case is closed."""
    metal = " At this power it lies on metal." if bench.design.facts.light.power > 10 else ""
    yield bench.step(
        "strip",
        "Lay the strip on the battens",
        Trade.ASSEMBLY,
        labour="lay-strip",
        parts=bench.parts("strip"),
        pieces=4,
        drawing="section-left",
        after=("pin", "bench-test"),
        text=f"On the middle of the battens' inner faces, {bench.said('strip.at')} from the pane, the unlit rest where the job puts "
        "it. Bare tape "
        f"lets go of sprayed timber: prime the strip's place or clip it.{metal} Pass the cable through its way and relieve it of pull.",
        checkpoints=(bench.check("strip.at"),),
        cautions=(VOLTS, GLASS),
    )
    yield bench.step(
        "power",
        "Test the lights before closing",
        Trade.ASSEMBLY,
        parts=bench.parts("strip"),
        pieces=1,
        tool="the supply that belongs to it",
        after=("strip",),
        text="Run the lights at full for a quarter of an hour: every segment, every link, no flicker, no smell, nothing too hot to touch. "
        "Photograph how it is wired. What is wrong now can still be reached; later it cannot.",
        cautions=(MAINS, VOLTS, LIGHT),
    )
