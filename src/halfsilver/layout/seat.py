"""The screen in its seat: outline and borders, relief pockets, how far it stands proud, what holds it in, and the depth of it all.

``seat`` is the frame that takes the screen in: ``rear`` where there are two frames, ``front`` where there is one.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.geometry.profile import Profile
from halfsilver.layout.declare import actual, allowance, catalogue, gap, given, target
from halfsilver.layout.facts import Facts
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.ledger.expression import Deviation, Expression, greatest, mm, ref
from halfsilver.ledger.ledger import Entry, Origin
from halfsilver.model.job import MountingKind, Side, SticksOut

SIDES = ("left", "right", "top", "bottom")
ALONG = {"left": "height", "right": "height", "top": "width", "bottom": "width"}
ACROSS = {"left": "width", "right": "width", "top": "height", "bottom": "height"}


def screen_entries(facts: Facts) -> Iterator[Entry]:
    """Outline, borders and picture, each with where it comes from."""
    screen = facts.screen
    limit = facts.limits.screen_tape if screen.measured else facts.limits.screen_sheet
    for d, size in (("width", screen.width_mm), ("height", screen.height_mm)):
        name = f"screen.outline.{d}"
        yield given(name, f"screen outline {d}", size, screen.outline_origin, screen.outline_source, places="greatest")
        read = facts.read(name, places="greatest")
        how = "tape on the screen" if screen.measured else "data sheet of the screen"
        yield actual(
            f"{name}.actual", f"screen outline {d} as it is", read or ref(name) + Deviation(f"{how}, {d}", mm(limit), tightened_by=name)
        )
    depth_known = screen.screen.outline is not None and screen.screen.outline.depth is not None
    yield given(
        "screen.outline.depth",
        "screen depth",
        screen.depth_mm,
        screen.outline_origin if depth_known else Origin.ASSUMED,
        screen.outline_source if depth_known else "not given",
    )
    for side in SIDES:
        yield given(
            f"screen.border.{side}", f"screen border {side}", getattr(screen.borders, side), screen.border_origin, screen.border_source
        )
    for d, (a, b) in (("width", ("left", "right")), ("height", ("bottom", "top"))):
        yield target(
            f"screen.picture.{d}", f"picture {d}", ref(f"screen.outline.{d}") - ref(f"screen.border.{a}") - ref(f"screen.border.{b}")
        )


def play_entries(facts: Facts, *, seat: str) -> Iterator[Entry]:
    """What is left between the screen and the rebate that takes it in."""
    for d in DIRECTIONS:
        room = ref(f"{seat}.rebate.{d}.actual") - ref(f"screen.outline.{d}.actual")
        yield gap(f"screen.play.{d}", f"play of the screen in the {seat} rebate, {d}", room, serves=(f"outside.{d}",), at_least=0.0)


def offset_entries(facts: Facts, *, seat: str) -> Iterator[Entry]:
    """Where the outline lies: from the outside's edge inwards, nominally centred, off by up to half the play."""
    for side in SIDES:
        d = ACROSS[side]
        sign = 1.0 if side in ("left", "bottom") else -1.0
        shift = Deviation(f"screen off centre, {'sideways' if d == 'width' else 'up or down'}", ref("fit.screen") / 2)
        yield target(
            f"screen.offset.{side}",
            f"outside to the screen's outline, {side}",
            (ref(f"outside.{d}") - ref(f"screen.outline.{d}")) / 2,
        )
        yield actual(
            f"screen.offset.{side}.actual",
            f"outside to the screen's outline as packed, {side}",
            ref(f"screen.offset.{side}") + sign * shift,
        )


def relief_entries(facts: Facts, *, seat: str) -> Iterator[Entry]:
    """A pocket in the rebate wall for everything that stands out of the screen."""
    habits = facts.habits
    if facts.screen.screen.sticks_out:
        yield allowance("relief.margin", "play at each end of a relief pocket", habits.relief_margin)
        yield allowance("relief.cutter", "radius of the cutter", habits.relief_cutter)
        yield allowance("relief.below_lip", "cutter stops below the lip by", habits.relief_below_lip)
    for part in facts.screen.screen.sticks_out:
        yield from _relief(facts, part, seat)


def _relief(facts: Facts, part: SticksOut, seat: str) -> Iterator[Entry]:
    name, side = f"relief.{part.id}", part.side.value
    source = f"screen.sticks_out in the job, {part.id}" if facts.job.screen and facts.job.screen.sticks_out else facts.screen.outline_source
    origin = Origin.ASKED if facts.job.screen and facts.job.screen.sticks_out else Origin.CATALOGUE
    for key, label, value in (
        ("out", "stands out by", part.out),
        ("added", "added to it", part.added),
        ("from", "begins at", part.start),
        ("to", "ends at", part.end),
    ):
        yield given(f"{name}.{key}", f"{part.id} {label}", value, origin, source)
    reach = ref(f"{name}.out") + ref(f"{name}.added")
    margin = ref(f"fit.sight_margin.{ACROSS[side]}")
    yield target(f"{name}.from_picture", f"picture to the outermost point of the {part.id}", ref(f"screen.border.{side}") + reach)
    yield target(f"{name}.into_wall", f"pocket for the {part.id}, into the rebate wall", reach - (ref("fit.screen") / 2 + margin))
    ends = ref("relief.margin") + ref("relief.cutter")
    yield target(f"{name}.width", f"pocket for the {part.id}, along the stick", ref(f"{name}.to") - ref(f"{name}.from") + 2 * ends)
    near = "left" if side in (Side.TOP.value, Side.BOTTOM.value) else "top"
    yield target(f"{name}.at", f"long point to the pocket for the {part.id}", ref(f"screen.offset.{near}") + ref(f"{name}.from") - ends)
    yield target(
        f"{name}.height", f"pocket for the {part.id}, from the back face", ref(f"{seat}.moulding.rebate_depth") - ref("relief.below_lip")
    )
    rests = Deviation(f"screen resting against the {side}", ref("fit.screen") / 2, "up")
    yield actual(
        f"{name}.into_wall.actual", f"pocket for the {part.id} with the screen resting against that side", ref(f"{name}.into_wall") + rests
    )
    routed = Deviation(f"router at the pocket for the {part.id}", mm(facts.limits.rout))
    yield gap(
        f"{name}.wall_left",
        f"timber left outside the pocket for the {part.id}",
        ref(f"{seat}.moulding.body") - ref(f"{name}.into_wall.actual") - routed,
        serves=(f"{name}.into_wall",),
    )


def seat_entries(facts: Facts, *, seat: str, seat_profile: Profile) -> Iterator[Entry]:
    """How far the screen stands proud of the frame's back, and the plates, bars and screws that hold it."""
    habits, plate, bar = facts.habits, facts.plate, facts.bar
    yield allowance("spacer", f"spacer between the {seat} pane and the screen", habits.spacer, "pane and screen never touch")
    proud = ref(f"{seat}.glass.thickness.actual") + ref("spacer") + ref("screen.outline.depth") + ref(f"{seat}.bedding")
    yield gap("screen.proud", "screen behind the frame's back by", proud - ref(f"{seat}.moulding.rebate_depth"), serves=("bar.step",))
    yield catalogue("plate.thickness", "plate thickness", plate.thickness, f"hardware {plate.id}")
    yield catalogue("plate.leg", "plate leg", plate.leg, f"hardware {plate.id}")
    yield catalogue("plate.inset", "plate inset from the outside corner", plate.inset, f"hardware {plate.id}")
    yield catalogue("bar.thickness", "bar thickness", bar.thickness, f"hardware {bar.id}")
    yield allowance("pad.compression", "the pad gives", habits.pad_compression)
    yield allowance("bar.clearance", "clearance at each end of a bar", habits.bar_clearance)
    step = (
        ref(f"{seat}.glass.thickness")
        + ref("spacer")
        + ref("screen.outline.depth")
        + ref(f"{seat}.bedding")
        - ref(f"{seat}.moulding.rebate_depth")
    )
    yield target("bar.step", "step of the bars", step - ref("pad.compression"))
    for name, d, label in (("side", "height", "side bar"), ("top", "width", "top bar")):
        between = ref(f"outside.{d}") - 2 * (ref("plate.inset") + ref("plate.leg"))
        yield target(f"bar.{name}", f"{label} between the plates", between - 2 * ref("bar.clearance"))
    yield from _screws(facts, seat_profile)


def _screws(facts: Facts, profile: Profile) -> Iterator[Entry]:
    """Longest screw at each place: what it goes through, and the timber at that very place of the profile less a cover."""
    yield allowance("screw.cover", "timber left before a screw's point", facts.habits.screw_cover)
    plate_x = facts.plate.inset + facts.plate.width / 2
    bar_x = profile.body_mm / 2
    for place, x_mm, metal in (("plate", plate_x, "plate.thickness"), ("bar", bar_x, "bar.thickness")):
        timber = profile.timber_from_back_mm(x_mm=x_mm)
        source = f"profile at {x_mm:.1f} mm from the outer edge"
        yield catalogue(f"screw.timber.{place}", f"timber under the {place}'s screws", timber, source)
        yield target(
            f"screw.max.{place}", f"longest screw through a {place}", ref(metal) + ref(f"screw.timber.{place}") - ref("screw.cover")
        )


def pin_entries(facts: Facts) -> Iterator[Entry]:
    """Longest pin through a batten, outward into the rebate wall, at half the batten's depth."""
    profile = facts.front_profile
    z_mm = profile.lip_back_mm + facts.front_glass.thickness + (profile.rebate_depth_mm - facts.front_glass.thickness) / 2
    source = f"profile at {z_mm:.1f} mm behind the face"
    yield catalogue("screw.timber.pin", "timber outside the rebate wall, at the pins", profile.timber_outwards_mm(z_mm=z_mm), source)
    yield target("screw.max.pin", "longest pin through a batten", ref("batten.width") + ref("screw.timber.pin") - ref("screw.cover"))


def wall_entries(facts: Facts) -> Iterator[Entry]:
    """Depth of what hangs the piece on its wall."""
    hung = facts.job.mounting.kind is MountingKind.HUNG
    depth = facts.habits.wall_fixing if hung else 0.0
    yield allowance("wall.fixing", "depth of the wall fixing", depth, "hung on a rail" if hung else "none: it is not hung")


def depth_of_piece(facts: Facts) -> Iterator[Entry]:
    """Outside depth, hardware and wall fixing counted, and the depth of the stack of layers."""
    yield from wall_entries(facts)
    hardware: Expression = greatest(
        ref("plate.thickness"), ref("bar.thickness"), ref("bar.step") + ref("bar.thickness"), labels=("plate", "flat bar", "stepped bar")
    )
    yield target("outside.depth", "outside depth", ref("depth.back") + hardware + ref("wall.fixing"))
    yield target("stack.depth", "depth from the first layer to the last", ref("depth.back") + hardware)


def recess_entries(facts: Facts) -> Iterator[Entry]:
    """Play of the piece in its recess, per direction, and the depth left behind it."""
    recess = facts.job.mounting.recess
    if recess is None:
        return
    for d in (*DIRECTIONS, "depth"):
        yield given(f"recess.{d}", f"recess {d}", getattr(recess, d), Origin.ASKED, f"mounting.recess.{d} in the job")
        yield target(f"recess.play.{d}", f"recess less outside, {d}", ref(f"recess.{d}") - ref(f"outside.{d}"))
