"""From sticks to measured frames: plane, rip and rout while they are straight, mitre, glue, clean, measure."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.making.steps.bench import Bench
from halfsilver.making.steps.cautions import BLADES, DUST, GLASS, SOLVENTS, WEIGHT
from halfsilver.model.making import Step, Trade

PLACES = {"width": ("top", "middle", "bottom"), "height": ("left", "middle", "right")}
DIAGONALS = ("rising", "falling")


def frame_steps(bench: Bench) -> Iterator[Step]:
    """Steps of the frames up to the readings that decide all that follows."""
    yield from _places(bench)
    yield from _straight(bench)
    yield from _rout(bench)
    yield _mitre(bench)
    yield from _glue(bench)
    yield _measure(bench)


def _places(bench: Bench) -> Iterator[Step]:
    """What is measured before anything is cut."""
    if bench.design.facts.job.mounting.recess is not None:
        yield bench.step(
            "measure-recess",
            "Measure the recess",
            Trade.FRAME,
            pieces=1,
            tool="tape, level",
            text="Measure the recess at three places in each direction, and its depth at every corner; the least counts. Look whether "
            "it is "
            "square and plumb. If it is smaller than planned, stop: the piece follows from it.",
            checkpoints=(*(bench.check(f"recess.{d}", *PLACES[d]) for d in PLACES), bench.check("recess.depth", "corners")),
        )
    if bench.design.facts.job.screen is not None:
        yield bench.step(
            "measure-screen",
            "Measure the screen",
            Trade.SCREEN,
            parts=bench.parts("screen"),
            tool="tape, square",
            text="Measure the screen itself: screens of one kind differ. Outline at both ends of each direction, the borders to the "
            "lit picture, "
            "and everything that stands out. Carry it upright by its frame, never by the picture; two people for a large one.",
            checkpoints=(
                bench.check("screen.outline.width", "top", "bottom"),
                bench.check("screen.outline.height", "left", "right"),
                bench.check("screen.outline.depth"),
            ),
            cautions=(GLASS, WEIGHT),
        )


def _straight(bench: Bench) -> Iterator[Step]:
    """What is planed and ripped while the sticks are long and straight."""
    ledger = bench.design.ledger
    if bench.two and ledger["rear.planed"] > 0:
        yield bench.step(
            "plane",
            "Plane the face off the rear sticks",
            Trade.FRAME,
            parts=bench.parts("rear-stick"),
            tool="planer or thicknesser",
            setting=f"{bench.said('rear.planed')} off the face in light cuts",
            drawing="section-left",
            after=("measure-recess", "measure-screen"),
            text="Plane the decorative face flat before anything is cut to length, so that it glues to the back of the front frame. "
            "Try each stick on a flat surface. Measure the lip at both ends and in the middle.",
            marks=("outer edge and back on every stick",),
            checkpoints=(bench.check("rear.lip_thickness", "one end", "middle", "other end"),),
            cautions=(BLADES, DUST),
        )
    if bench.two:
        yield bench.step(
            "rip",
            "Rip the battens to width",
            Trade.BATTENS,
            parts=bench.parts("batten"),
            tool="table saw",
            setting="fence to the width",
            drawing="batten-long",
            after=("measure-recess", "measure-screen"),
            text="Rip the stock to its width and leave it deep and long: depth and length are taken from the glued frame later.",
            checkpoints=(bench.check("batten.width"),),
            cautions=(BLADES, DUST),
        )
    if bench.parts("spacer-frame"):
        yield bench.step(
            "rip-between",
            "Rip and plane the frame between the frames",
            Trade.FRAME,
            parts=bench.parts("spacer-frame"),
            tool="table saw, thicknesser",
            setting=f"thickness {bench.said('spacer_frame')}",
            after=("measure-recess", "measure-screen"),
            text="As wide as the front frame's body and the batten together, so that it ends flush with the batten's inner face.",
            checkpoints=(bench.check("spacer_frame", limit=bench.design.facts.limits.rip),),
            cautions=(BLADES, DUST),
        )


def _rout(bench: Bench) -> Iterator[Step]:
    """Pockets, while the stick still lies flat and square on the bench."""
    job, limit = bench.design.facts.job, bench.design.facts.limits.rout
    for part in bench.design.facts.screen.screen.sticks_out if job.screen is not None else ():
        name = f"relief.{part.id}"
        if bench.design.ledger[f"{name}.into_wall"] <= 0:
            continue
        yield bench.step(
            f"rout-{part.id}",
            f"Rout the pocket for the {part.id}",
            Trade.FRAME,
            labour="rout",
            parts=bench.parts(f"{bench.seat}-stick-{bench.stick_of(part.side)}"),
            pieces=1,
            tool="router with fence and two stops",
            setting=f"cutter {bench.said(f'{name}.height')} above the back face",
            drawing=f"relief-{part.id}",
            after=("plane", "measure-recess", "measure-screen"),
            text=f"In the {part.side.value} stick of the {bench.seat} frame, into the wall of the rebate, open to the back. Mark "
            "where the long "
            "point of the mitre will be and measure from there. Try the setting on an offcut of the same moulding; take it in several "
            "passes.",
            marks=("both long points", "left (top) end as the viewer sees it", f"{part.side.value} stick"),
            checkpoints=tuple(bench.check(f"{name}.{what}", limit=limit) for what in ("at", "width", "into_wall", "height")),
            cautions=(BLADES, DUST),
        )


def _mitre(bench: Bench) -> Step:
    saw = bench.design.facts.limits.saw
    pockets = bench.design.facts.screen.screen.sticks_out if bench.design.facts.job.screen is not None else ()
    before = ("plane", "rip-between", *(f"rout-{part.id}" for part in pockets), "measure-recess", "measure-screen")
    return bench.step(
        "mitre",
        "Cut the mitres",
        Trade.FRAME,
        parts=bench.sticks(),
        tool="mitre saw with a stop",
        setting="45 degrees; stop at the long point",
        drawing="front-stick-long",
        after=before,
        text="Cut in the order of the cut sheets. Cut the two sticks of a pair against the same stop, without moving it. Two offcuts "
        "first: put "
        "together they must give a right angle.",
        marks=("frame and side on every stick", "number of the corner on both sticks that meet there"),
        checkpoints=tuple(bench.check(f"{which}.stick.{length}", limit=saw) for which in bench.frames for length in ("long", "short")),
        cautions=(BLADES, DUST),
    )


def _glue(bench: Bench) -> Iterator[Step]:
    facts, frames = bench.design.facts, len(bench.frames)
    diagonals = tuple(bench.check(f"{which}.diagonal", *DIAGONALS, limit=facts.limits.squareness) for which in bench.frames)
    sights = (bench.check(f"{which}.sight.{d}", limit=facts.limits.saw) for which in bench.frames for d in PLACES)
    yield bench.step(
        "dry-fit",
        "Dry fit the frames",
        Trade.FRAME,
        parts=bench.sticks(),
        pieces=frames,
        tool="band clamp, flat table, tape",
        drawing="front",
        after=("mitre",),
        text="Clamp each frame without glue on a flat table. The mitres must close inside and outside, and the two diagonals agree. "
        "Trim now; after glueing it is too late. Lay the frames on each other: their outsides must agree.",
        checkpoints=(*sights, *diagonals),
    )
    yield bench.step(
        "glue-frame",
        "Glue up the frames",
        Trade.FRAME,
        parts=bench.sticks(),
        pieces=frames,
        tool="glue brush, band clamp, corner blocks",
        setting="above 10 °C; glue's own clamp time",
        drawing="front",
        after=("dry-fit",),
        text="End grain drinks: brush it with thinned glue, let it take, then glue both faces and clamp on a flat table. Compare the "
        "diagonals "
        "at once. A mitre is weak by itself: put in a spline, a key or a screw at every corner, clear of the rebate.",
        fasteners="4 corners a frame: a spline, a key or a screw in each",
        checkpoints=diagonals,
        cautions=(SOLVENTS,),
    )
    yield bench.step(
        "clean-frame",
        "Clean the frames",
        Trade.FRAME,
        parts=bench.sticks(),
        tool="scraper, chisel, sanding block",
        after=("glue-frame",),
        text="Scrape off squeezed-out glue, above all in the rebates and on the faces that will be joined; sand. Leave it until the "
        "glue has its "
        "full strength.",
        cautions=(BLADES, DUST, SOLVENTS),
    )


def _measure(bench: Bench) -> Step:
    """The readings; for glass alone they are taken of what stands there."""
    here = bench.has(Trade.FRAME)
    checks = tuple(bench.check(f"{which}.rebate.{d}", *PLACES[d]) for which in bench.frames for d in PLACES)
    text = (
        "Measure every opening at three places in each direction and write it down. From now on the readings count: enter them, print "
        "again, "
        "and only then cut or order anything that goes in."
    )
    bought = (
        "Take the openings' readings from who made them, or measure: three places in each direction, the least counts. Enter them first."
    )
    return bench.step(
        "measure",
        "Measure the openings",
        Trade.FRAME if here else Trade.GLASS,
        pieces=len(bench.frames),
        tool="the same tape throughout",
        drawing="front",
        after=("clean-frame",),
        text=text if here else bought,
        checkpoints=checks,
    )
