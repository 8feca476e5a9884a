"""From readings to what goes into the frames: panes, battens, the cable way, and paint that has cured before the case is closed."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import BLADES, DUST, GLASS, SCORING, SOLVENTS
from halfsilver.model.design import Part
from halfsilver.model.job import CoatedSide, Side
from halfsilver.model.making import Step, Trade
from halfsilver.model.workshop import GlassDuty, GlassMake

DAY_MIN = 1440.0
FACES = {CoatedSide.CAVITY: "into the space between the panes", CoatedSide.VIEWER: "towards the viewer", CoatedSide.SCREEN: "to the back"}

LAID = {
    GlassDuty.SPLITTER: "Lay the sheet on clean felt with its coated face up, so that nothing rubs on the coating.",
    GlassDuty.MIRROR: "Lay the sheet with its painted back down on clean felt and score the clear face.",
    GlassDuty.CLEAR: "Lay the sheet on clean felt.",
}


def pane_steps(bench: Bench) -> Iterator[Step]:
    """Panes, cut or ordered after measuring, and tried in their openings."""
    for which in bench.frames:
        yield _cut(bench, which) if bench.glass(which).cut_here else _order(bench, which)
    if bench.has(Trade.GLASS, Trade.FRAME):
        checks = [bench.check(f"{which}.clearance.{d}") for which in bench.frames for d in ("width", "height")]
        thick = [bench.check(f"{which}.glass.thickness") for which in bench.frames]
        yield bench.step(
            "fit",
            "Try the panes in their openings",
            Trade.GLASS,
            labour="fit-pane",
            parts=_panes(bench),
            drawing="section-left",
            after=tuple(f"{which}-pane" for which in bench.frames),
            text="Drop each pane into its own opening; it must fall in by its own weight and move a little both ways. Never force one. "
            "Measure what it really is thick: battens and packing follow from it.",
            checkpoints=(*checks, *thick),
            cautions=(GLASS,),
        )


def _panes(bench: Bench) -> tuple[Part, ...]:
    return tuple(part for which in bench.frames for part in bench.parts(f"{which}-glass"))


def _facing(bench: Bench, which: str) -> str:
    if bench.glass(which).duty is GlassDuty.CLEAR:
        return ""
    return f" Its coated face goes {FACES[bench.design.facts.coated_side(which)]}."


def _cut(bench: Bench, which: str) -> Step:
    glass = bench.glass(which)
    sawn = glass.make is GlassMake.ACRYLIC
    face = "painted back" if glass.duty is GlassDuty.MIRROR else "coated face"
    scored = (
        f"{LAID[glass.duty]} Score in the order of the cut sheet, one stroke each, snapped at once at the edge of the bench. Take the "
        "sharpness off every edge before the pane is handled again."
    )
    text = "Saw it with the film on and fine teeth; scrape the edges." if sawn else scored
    return bench.step(
        f"{which}-pane",
        f"Cut the {which} pane",
        Trade.GLASS,
        labour="score",
        parts=bench.parts(f"{which}-glass"),
        tool="table saw" if sawn else "cutter, straightedge, running pliers, wet stone",
        setting=f"stop at {bench.said(f'{which}.glass.width')}",
        drawing=f"{which}-glass",
        text=f"{text}{_facing(bench, which)}",
        marks=(which, f"{face}, with tape"),
        after=("measure",),
        checkpoints=tuple(bench.check(f"{which}.glass.{d}", "one edge", "other edge") for d in ("width", "height")),
        cautions=(GLASS, BLADES, DUST) if sawn else (GLASS, SCORING),
    )


def _order(bench: Bench, which: str) -> Step:
    glass = bench.glass(which)
    lead = f"Lead time {glass.lead_days} days." if glass.lead_days else "Ask for the lead time."
    mark = f"Ask for the impact mark {glass.impact}, permanent and legible." if glass.impact else "It carries no impact mark."
    return bench.step(
        f"{which}-pane",
        f"Order the {which} pane to size",
        Trade.GLASS,
        labour="order-glass",
        parts=bench.parts(f"{which}-glass"),
        drawing=f"{which}-glass",
        after=("measure",),
        lead_min=glass.lead_days * DAY_MIN,
        text=f"Order it to the size below, edges seamed, coated face marked: {glass.name}.{_facing(bench, which)} {mark} {lead} "
        "Measure it on arrival and before you sign: it cannot be cut any more, and if it is not to size the frame has to follow.",
        checkpoints=tuple(bench.check(f"{which}.glass.{d}", "one edge", "other edge") for d in ("width", "height")),
        cautions=(GLASS,),
    )


def batten_steps(bench: Bench) -> Iterator[Step]:
    """Battens taken from the glued frame, the pane lying in it."""
    if not bench.two:
        return
    glazed = bench.has(Trade.GLASS)
    how = "With the pane in its place" if glazed else f"With offcuts {bench.said('front.glass.thickness')} thick laid on the lip"
    yield bench.step(
        "fit-batten",
        "Cut and fit the battens",
        Trade.BATTENS,
        parts=bench.parts("batten"),
        tool="mitre saw, plane",
        setting="90 degrees",
        drawing="batten-long",
        after=("rip", "fit", "measure"),
        text=f"{how}, measure what remains of the rebate, and plane the battens to it: never proud, or the joint between the frames "
        "stays open; hardly "
        f"less, or what they hold rattles. Cut the pair that runs through ({bench.design.facts.job.battens.through.value}) and lay it "
        "in; only then "
        "measure the other pair between.",
        marks=("side of the frame on each", "inner face"),
        cautions=(BLADES, DUST, GLASS) if glazed else (BLADES, DUST),
        checkpoints=(
            bench.check("front.remaining", "left", "right", "top", "bottom"),
            bench.check("batten.depth"),
            *(bench.check(f"batten.{length}", limit=bench.design.facts.limits.saw) for length in ("long", "short")),
        ),
    )


def paint_steps(bench: Bench) -> Iterator[Step]:
    """The cable way, the finish outside, and dull black inside."""
    sticks, finish = bench.sticks(), bench.design.facts.job.frame.front.finish or bench.design.facts.front_moulding.finish
    yield bench.step(
        "drill",
        "Drill the cable way",
        Trade.FRAME,
        parts=bench.parts(f"{bench.seat}-stick"),
        pieces=2 if bench.two else 1,
        tool="drill with a stop, backing block",
        setting="as the template at full size",
        drawing="back",
        after=("fit-batten", "measure"),
        text=f"{_way(bench)} Drill from the face that shows least, against a block, and take the edge off the hole so that no cable "
        "chafes.",
        marks=("centre of the hole, from the long point",),
        checkpoints=tuple(bench.check(f"cable.{what}") for what in ("at", "middle") if bench.two),
        cautions=(BLADES, DUST),
    )
    yield bench.step(
        "finish",
        "Finish the outside",
        Trade.FRAME,
        parts=sticks,
        tool="brush or cloth, fine abrasive",
        drawing="front",
        after=("drill", "cut-panel", "cut-packing", "cut-backing"),
        text=f"Finish: {finish or 'as agreed'}. Keep it off every face that will be glued: finish under a glue line lets go. Touch up "
        "the mitres.",
        cautions=(SOLVENTS, DUST),
    )
    inside = "pockets, lip edges, rebates and battens" if bench.two else "pockets, lip edge and rebate"
    yield bench.step(
        "paint",
        "Paint the inside black and let it cure",
        Trade.FRAME,
        parts=sticks,
        tool="brush, dull black paint",
        drawing="section-left",
        after=("finish",),
        text=f"Dull black on {inside}; not on faces that will be glued, nor where tape must hold. It has to be cured, not only dry, "
        "before the "
        "case is closed: what it gives off later settles inside as haze. Where its maker asks for longer, that counts.",
        cautions=(SOLVENTS,),
    )


def _way(bench: Bench) -> str:
    job = bench.design.facts.job
    if not bench.two:
        side = job.screen.cables.side if job.screen and job.screen.cables else Side.RIGHT
        return f"A way for the cables through the frame on the {side.value}."
    return f"A way for one cable at the {bench.corner} corner: through the batten and out into the {bench.seat} frame."
