"""From sticks to finished frames, and from openings to panes: plane, rout, mitre, glue, clean, measure, cut, finish."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.making.timing import BLADE, DUST, GLASS, NAILS, SOLVENT, Bench
from halfsilver.model.making import Step, Trade

PLACES = {"width": ("top", "middle", "bottom"), "height": ("left", "middle", "right")}


def frame_steps(design: Design) -> Iterator[Step]:
    """Steps of the frames, battens and panes."""
    bench = Bench(design)
    two = "rear.planed" in design.ledger
    frames = ("front", "rear") if two else ("front",)
    yield from _sticks(bench, frames, two=two)
    yield from _glue(bench, frames)
    yield from _measure(bench, frames)
    yield from _panes(bench, frames)
    if two:
        yield from _battens(bench)
    yield from _finish(bench, frames, two=two)


def _sticks(bench: Bench, frames: tuple[str, ...], *, two: bool) -> Iterator[Step]:
    design, ledger = bench.design, bench.design.ledger
    first: tuple[str, ...] = ()
    if two and ledger["rear.planed"] > 0:
        first = ("plane",)
        yield bench.step(
            "plane",
            "Plane the rear face flat",
            Trade.FRAME,
            labour="plane",
            pieces=4,
            parts=bench.parts("rear-stick"),
            tool="planer",
            setting="light cuts down to the lip thickness",
            drawing="section-left",
            text="Plane the decorative face of the rear moulding flat before anything is cut to length, so that it "
            "glues to the front frame's back.",
            marks=("face side and face edge on every stick",),
            checkpoints=(bench.check("rear.lip_thickness"),),
            cautions=(BLADE, DUST),
        )
    seat = frames[-1]
    reliefs = design.facts.screen.screen.sticks_out if design.facts.job.screen else ()
    pockets = [part for part in reliefs if ledger[f"relief.{part.id}.into_wall"] > 0]
    for part in pockets:
        name = f"relief.{part.id}"
        yield bench.step(
            f"rout-{part.id}",
            f"Rout the pocket for the {part.id}",
            Trade.FRAME,
            labour="rout",
            parts=bench.parts(f"{seat}-stick"),
            tool="router with fence and stops",
            setting="cutter below the lip, open to the back",
            drawing=f"relief-{part.id}",
            text=f"Rout the pocket into the rebate wall of the {part.side.value} stick of the {seat} frame while the "
            f"stick is straight, before it is mitred.",
            marks=("long point", "left end as the viewer sees it"),
            after=first,
            cautions=(BLADE, DUST),
            checkpoints=(
                bench.check(f"{name}.at"),
                bench.check(f"{name}.width"),
                bench.check(f"{name}.into_wall"),
                bench.check(f"{name}.height"),
            ),
        )
    routed = tuple(f"rout-{part.id}" for part in pockets) or first
    sticks = tuple(f"{which}-stick" for which in frames)
    yield bench.step(
        "mitre",
        "Cut the mitres",
        Trade.FRAME,
        labour="mitre",
        pieces=bench.count(*sticks),
        parts=bench.parts(*sticks),
        tool="mitre saw with a stop",
        setting="45 degrees; check with a scrap frame",
        drawing="front-stick-long",
        text="Cut the sticks that meet at a mitre one after the other from the same bar. Both long ones against one "
        "stop, both short ones against one stop.",
        marks=("frame and side on the back of every stick", "hand and face"),
        after=routed,
        cautions=(BLADE, DUST),
        checkpoints=tuple(bench.check(f"{which}.stick.{length}") for which in frames for length in ("long", "short")),
    )


def _glue(bench: Bench, frames: tuple[str, ...]) -> Iterator[Step]:
    yield bench.step(
        "dry-fit",
        "Dry fit the frames",
        Trade.FRAME,
        labour="dry-fit",
        pieces=len(frames),
        parts=bench.parts(*(f"{w}-stick" for w in frames)),
        tool="band clamp, tape",
        drawing="front",
        text="Clamp without glue. The mitres must close, and both diagonals agree.",
        after=("mitre",),
        checkpoints=tuple(bench.check(f"{which}.diagonal", "one", "other") for which in frames),
    )
    yield bench.step(
        "glue-frame",
        "Glue up the frames",
        Trade.FRAME,
        labour="glue-frame",
        pieces=len(frames),
        parts=bench.parts(*(f"{w}-stick" for w in frames)),
        tool="band clamp, glue brush",
        setting="above 10 degC; clamp an hour, full strength after a day",
        drawing="front",
        after=("dry-fit",),
        text="Size the end grain with thinned glue, glue, clamp on a flat table, compare the diagonals once more, "
        "reinforce each mitre (spline, key or screw).",
        checkpoints=tuple(bench.check(f"{which}.diagonal", "one", "other") for which in frames),
        cautions=(SOLVENT,),
    )
    yield bench.step(
        "clean-frame",
        "Clean the glued frames",
        Trade.FRAME,
        labour="clean-frame",
        pieces=len(frames),
        parts=bench.parts(*(f"{w}-stick" for w in frames)),
        tool="scraper, sanding block",
        text="Scrape off squeezed-out glue, above all in the rebates, and sand.",
        after=("glue-frame",),
        cautions=(DUST,),
    )


def _measure(bench: Bench, frames: tuple[str, ...]) -> Iterator[Step]:
    checks = [bench.check(f"{which}.rebate.{d}", *PLACES[d]) for which in frames for d in ("width", "height")]
    yield bench.step(
        "measure",
        "Measure the openings",
        Trade.FRAME,
        labour="measure",
        pieces=len(frames),
        tool="tape or sticks, both hands of the same tape",
        text="Measure every opening at three places and write it down. From now on the readings count; enter them "
        "before glass is cut or ordered.",
        after=("clean-frame",),
        checkpoints=tuple(checks),
    )


def _panes(bench: Bench, frames: tuple[str, ...]) -> Iterator[Step]:
    facts = bench.design.facts
    for which in frames:
        glass = facts.front_glass if which == "front" else facts.rear_glass
        checks = tuple(bench.check(f"{which}.glass.{d}") for d in ("width", "height"))
        if not glass.cut_here:
            yield bench.step(
                f"{which}-pane",
                f"Order the {which} pane to size",
                Trade.GLASS,
                labour="order-glass",
                parts=(f"{which}-glass",),
                after=("measure",),
                drawing=f"{which}-glass",
                wait_min=glass.lead_days * 24 * 60.0,
                checkpoints=checks,
                cautions=(GLASS,),
                text=f"Order {glass.name} ({glass.impact or 'no impact class'}) after measuring; edges seamed, coated face marked. "
                f"It cannot be cut when it has come: measure it on arrival.",
            )
        else:
            yield bench.step(
                f"{which}-pane",
                f"Cut the {which} pane",
                Trade.GLASS,
                labour="score",
                parts=(f"{which}-glass",),
                tool="cutter, straightedge, running pliers",
                setting="score the uncoated face",
                drawing=f"{which}-glass",
                marks=("coated face, with tape",),
                after=("measure",),
                checkpoints=checks,
                text="Score once, snap at once, seam the edges. Lay the coated face on clean felt, never on grit.",
                cautions=(GLASS,),
            )


def _battens(bench: Bench) -> Iterator[Step]:
    yield bench.step(
        "rip",
        "Rip the battens",
        Trade.BATTENS,
        labour="rip",
        pieces=4,
        parts=bench.parts("batten"),
        tool="table saw",
        setting="width first, then depth",
        text="Rip to width, then take the depth down to what remains behind the pane: never proud, or the joint does "
        "not close; never loose.",
        after=("measure",),
        checkpoints=(bench.check("front.remaining"), bench.check("batten.width"), bench.check("batten.depth")),
        cautions=(BLADE, DUST),
    )
    yield bench.step(
        "fit-batten",
        "Cut and fit the battens",
        Trade.BATTENS,
        labour="fit-batten",
        pieces=4,
        parts=bench.parts("batten"),
        tool="mitre saw",
        setting="90 degrees",
        drawing="batten-long",
        marks=("side of the frame on each",),
        after=("rip",),
        cautions=(BLADE, NAILS),
        text="Fit the pair that runs through first; measure the other pair between them when they are in.",
        checkpoints=(bench.check("batten.long"), bench.check("batten.short")),
    )


def _finish(bench: Bench, frames: tuple[str, ...], *, two: bool) -> Iterator[Step]:
    yield bench.step(
        "drill",
        "Drill the cable way",
        Trade.FRAME,
        labour="drill",
        tool="drill with a stop",
        after=("fit-batten",) if two else ("measure",),
        text="Drill the way for the cables before paint: through the batten at the feed corner, and out at the back on the cables' side.",
        marks=("feed corner",) if two else (),
        cautions=(BLADE,),
    )
    yield bench.step(
        "paint",
        "Paint the inside black",
        Trade.FRAME,
        labour="paint",
        pieces=len(frames),
        after=("drill",),
        cautions=(SOLVENT,),
        text="Dull black on pockets, lip edges, battens, plates and bars. Leave the glue line bare. It must be cured "
        "before the case is closed, or the glass hazes.",
    )
    yield bench.step(
        "finish",
        "Finish the frames",
        Trade.FRAME,
        labour="finish",
        pieces=len(frames),
        after=("drill",),
        cautions=(SOLVENT, DUST),
        text="Finish the outside as agreed; keep finish off the surfaces to be glued.",
    )
