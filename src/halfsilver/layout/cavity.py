"""The lit space between two sheets: battens, strip, planed rear lip and the gap that results."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from halfsilver.layout.declare import actual, allowance, asked, catalogue, gap, given, tape_limit_mm, target
from halfsilver.layout.facts import Facts
from halfsilver.layout.frames import DIRECTIONS, STICKS
from halfsilver.ledger.expression import Deviation, Expression, Operand, greatest, least, mm, ref, rounded
from halfsilver.ledger.ledger import Entry, Ledger, Origin
from halfsilver.model.design import Layer
from halfsilver.model.job import CoatedSide, Through
from halfsilver.model.quantities import Auto

NEARLY_SQUARE_MM = 10.0
WAY_MM = 8.0
WAY_CLEAR_MM = 20.0


def batten_entries(facts: Facts) -> Iterator[Entry]:
    """Battens fill the rest of the front rebate, end flush with the front frame's back, and alone hold the front pane."""
    battens = facts.job.battens
    yield target(
        "front.remaining",
        "rest of the front rebate",
        ref("front.moulding.rebate_depth") - ref("front.glass.thickness") - ref("front.bedding"),
        places="least",
    )
    if isinstance(battens.depth, Auto):
        yield target("batten.depth", "batten depth", ref("front.remaining"), places="greatest")
    else:
        yield asked("batten.depth", "batten depth", battens.depth, "battens.depth in the job", places="greatest")
    # A proud batten keeps the glue joint open, a short one lets the pane rattle: the depth is only ever taken down.
    read = facts.read("batten.depth", places="greatest")
    ripped = ref("batten.depth") + Deviation("ripped batten depth", mm(facts.limits.rip), "down", tightened_by="batten.depth")
    yield actual("batten.depth.actual", "batten depth as ripped", read or ripped)
    left = ref("front.moulding.rebate_depth") + Deviation(
        "moulding as delivered, front rebate depth", mm(facts.limits.profile), tightened_by="front.remaining"
    )
    left_read = facts.read("front.remaining", places="least")
    yield actual(
        "front.remaining.actual",
        "rest of the front rebate as built",
        left_read or left - ref("front.glass.thickness.actual") - ref("front.bedding"),
    )
    yield gap(
        "batten.slack",
        "play of the front pane between lip and batten",
        ref("front.remaining.actual") - ref("batten.depth.actual"),
        serves=("batten.depth",),
    )
    yield _width(facts)
    read = facts.read("batten.width", places="greatest")
    yield actual(
        "batten.width.actual",
        "batten width as ripped",
        read or ref("batten.width") + Deviation("ripped batten width", mm(facts.limits.rip)),
    )
    rebates = [ref(f"front.rebate.{d}") for d in DIRECTIONS]
    for length, run in (("long", greatest(*rebates)), ("short", least(*rebates))):
        between: Operand = 0.0 if battens.through is Through(length) else 2 * ref("batten.width")
        yield target(f"batten.{length}", f"{length} batten", run - between if between else run)
        yield from _at_own_places(facts, length, between)


def _at_own_places(facts: Facts, length: str, between: Operand) -> Iterator[Entry]:
    """Each batten of a pair takes the reading at its own place, where both places of the pair were read."""
    d = _direction(facts, length)
    places = STICKS[d] if d else ()
    read = Ledger.of((), facts.measurements).readings.get(f"front.rebate.{d}", {})
    if not places or not all(place in read for place in places):
        return
    for place in places:
        name, reading = f"front.rebate.{d}.{place}", read[place]
        tape = Deviation(f"tape on front.rebate.{d} at {place}", mm(tape_limit_mm(facts.limits.tape, reading.value_mm)))
        yield replace(actual(name, f"front rebate {d} at the {place}", mm(reading.value_mm) + tape), origin=Origin.MEASURED)
        run = ref(name)
        yield target(f"batten.{length}.{place}", f"{length} batten at the {place}", run - between if between else run)


def _direction(facts: Facts, length: str) -> str:
    """Which way a pair runs; empty where the piece is too near a square for the plan to tell."""
    size = facts.job.size
    wide, high = (size.width, size.height) if size else (facts.screen.width_mm, facts.screen.height_mm)
    if abs(wide - high) < NEARLY_SQUARE_MM:
        return ""
    return "width" if (wide > high) == (length == "long") else "height"


def _width(facts: Facts) -> Entry:
    width, choice = facts.job.battens.width, facts.choices.batten_width
    if not isinstance(width, Auto):
        return asked("batten.width", "batten width", width, "battens.width in the job", places="greatest")
    assert choice is not None
    return given(
        "batten.width",
        "batten width",
        choice.value,
        Origin.DERIVED,
        reason=choice.reason,
        runner_up=choice.runner_up,
        places="greatest",
    )


def strip_entries(facts: Facts) -> Iterator[Entry]:
    """Whole segments on each side; each run is the inner side less one thickness at either corner, where the neighbour butts."""
    light = facts.light
    source = f"light {light.id}"
    yield catalogue("strip.segment", "segment of the strip", light.segment, source)
    yield catalogue("strip.thickness", "strip thickness", light.thickness, source)
    yield catalogue("strip.width", "strip width", light.width, source)
    for d in DIRECTIONS:
        inner = ref(f"front.rebate.{d}") - 2 * ref("batten.width")
        yield target(f"strip.run.{d}", f"run of the strip along the {d}", inner - 2 * ref("strip.thickness"))
        yield target(
            f"strip.segments.{d}",
            f"segments along the {d}, each side",
            rounded("down", ref(f"strip.run.{d}") / ref("strip.segment"), step=1),
            unit="count",
        )
        yield target(
            f"strip.dark.{d}",
            f"unlit rest along the {d}, each side",
            ref(f"strip.run.{d}") - ref(f"strip.segments.{d}") * ref("strip.segment"),
        )
    runs: dict[str, Expression] = {d: ref(f"strip.run.{d}") for d in DIRECTIONS}
    counts: dict[str, Expression] = {d: ref(f"strip.segments.{d}") for d in DIRECTIONS}
    yield target("strip.path", "path of the strip all round", 2 * (runs["width"] + runs["height"]))
    yield target("strip.segments", "segments all round", 2 * (counts["width"] + counts["height"]), unit="count")
    yield target("strip.length", "lit length of the strip", ref("strip.segments") * ref("strip.segment"))
    yield target("strip.at", "pane to the edge of the strip", (ref("batten.depth") - ref("strip.width")) / 2)


def way_entries(*, plates: bool) -> Iterator[Entry]:
    """The way of the lights' cable out of the cavity, in the stick at the feed; ``plates`` tells whether plates cross the mitres."""
    usual = "common practice: two conductors in their sleeve pass easily"
    yield allowance("cable.width", "groove and hole of the cable way", WAY_MM, usual)
    yield allowance("cable.clear", "cable way clear of plate and batten", WAY_CLEAR_MM, "common practice")
    batten = ref("front.moulding.body") + ref("batten.width")
    beyond = greatest(ref("plate.inset") + ref("plate.leg"), batten, labels=("plate", "batten")) if plates else batten
    yield target("cable.at", "cable way from the long point", beyond + ref("cable.clear"))
    yield target("cable.middle", "cable way from the outer edge", ref("front.moulding.body") / 2)


def gap_entries(facts: Facts) -> Iterator[Entry]:
    """The planed rear lip, the joint between the frames, and the air gap between the sheets."""
    yield _planed(facts)
    yield target("rear.lip_thickness", "rear lip thickness", ref("rear.moulding.lip_thickness") - ref("rear.planed"), places="least")
    read = facts.read("rear.lip_thickness", places="least")
    yield actual(
        "rear.lip_thickness.actual",
        "rear lip thickness as planed",
        read or ref("rear.lip_thickness") + Deviation("planer", mm(facts.limits.planer), tightened_by="rear.lip_thickness"),
    )
    choice = facts.choices.spacer_frame
    spacer_mm = choice.value if choice else 0.0
    joints = 2 if spacer_mm else 1
    yield allowance(
        "glue_line", "glue lines between the frames", joints * facts.habits.glue_line, f"{joints} of {facts.habits.glue_line:g} mm"
    )
    yield given(
        "spacer_frame",
        "frame between the two frames",
        spacer_mm,
        Origin.DERIVED,
        reason=choice.reason if choice else "",
        runner_up=choice.runner_up if choice else "",
    )
    yield gap(
        "gap",
        "air gap between the sheets",
        ref("batten.depth.actual") + ref("glue_line") + ref("spacer_frame") + ref("rear.lip_thickness.actual") + ref("rear.bedding"),
        serves=("batten.depth",),
    )
    optical: Expression = ref("gap")
    for which, kind in (("front", facts.front_glass), ("rear", facts.rear_glass)):
        if facts.coated_side(which) is not CoatedSide.CAVITY:
            yield catalogue(f"{which}.glass.index", f"refractive index of the {which} glass", kind.index, f"glass {kind.id}", unit="count")
            optical = optical + ref(f"{which}.glass.thickness") / ref(f"{which}.glass.index")
    yield gap("gap.optical", "gap between the reflecting faces, as light sees it", optical)


def _planed(facts: Facts) -> Entry:
    rear, choice = facts.job.frame.rear, facts.choices.planed
    label = "planed off the rear frame's face"
    if rear is not None and not isinstance(rear.planed, Auto):
        return asked("rear.planed", label, rear.planed, "frame.rear.planed in the job")
    assert choice is not None
    return given("rear.planed", label, choice.value, Origin.DERIVED, reason=choice.reason, runner_up=choice.runner_up)


def tie_entries(facts: Facts) -> Iterator[Entry]:
    """Longest screw that ties the two frames, driven from the back at the middle of the narrower body; `screw.cover` is there already."""
    front, rear = facts.front_profile, facts.rear_profile.planed(facts.planed_mm)
    x_mm = min(front.body_mm, rear.body_mm) / 2
    for name, label, profile in (("rear", "rear frame", rear), ("tie", "front frame", front)):
        timber = profile.timber_from_back_mm(x_mm=x_mm)
        source = f"profile at {x_mm:.1f} mm from the outer edge"
        yield catalogue(f"screw.timber.{name}", f"timber of the {label} at the screws that tie the frames", timber, source)
    yield target(
        "screw.through.tie",
        "what the screws that tie the frames pass first",
        ref("screw.timber.rear") + ref("spacer_frame") + ref("glue_line"),
    )
    longest = ref("screw.through.tie") + ref("screw.timber.tie") - ref("screw.cover")
    yield target("screw.max.tie", "longest screw that ties the frames", longest)


def depth_entries(*, seat_depth: Operand | None = None) -> Iterator[Entry]:
    """Depths from the front face of a two-frame build, positive backwards.

    ``seat_depth`` is the rear pane to the picture, where there is one.
    """
    yield target("depth.front_glass", "depth of the front pane", ref("front.moulding.lip_thickness") + ref("front.bedding"))
    yield target("depth.batten", "depth of the battens", ref("depth.front_glass") + ref("front.glass.thickness"))
    yield target("depth.joint", "depth of the joint between the frames", ref("front.moulding.depth"))
    yield target("depth.rear_lip", "depth of the rear lip's face", ref("depth.joint") + ref("glue_line") + ref("spacer_frame"))
    yield target("depth.rear_glass", "depth of the rear pane", ref("depth.rear_lip") + ref("rear.lip_thickness") + ref("rear.bedding"))
    if seat_depth is not None:
        yield target("depth.picture", "depth of the picture", ref("depth.rear_glass") + ref("rear.glass.thickness") + seat_depth)
    yield target("depth.back", "depth of the rear frame's back", ref("depth.rear_lip") + ref("rear.moulding.depth") - ref("rear.planed"))


def lit_layers(ledger: Ledger) -> Iterator[Layer]:
    """The stack of a two-frame build from the front lip to the rear pane."""
    depth = {name: ledger[f"depth.{name}"] for name in ("front_glass", "batten", "joint", "rear_lip", "rear_glass")}
    yield Layer(part="front-lip", from_mm=0.0, to_mm=ledger["front.moulding.lip_thickness"])
    yield Layer(part="front-glass", from_mm=depth["front_glass"], to_mm=depth["batten"])
    yield Layer(part="batten", from_mm=depth["batten"], to_mm=depth["batten"] + ledger["batten.depth"])
    if ledger["spacer_frame"] > 0:
        yield Layer(part="spacer-frame", from_mm=depth["joint"], to_mm=depth["rear_lip"])
    yield Layer(part="rear-lip", from_mm=depth["rear_lip"], to_mm=depth["rear_lip"] + ledger["rear.lip_thickness"])
    yield Layer(part="rear-glass", from_mm=depth["rear_glass"], to_mm=depth["rear_glass"] + ledger["rear.glass.thickness"])
