"""The hidden screen: one sheet in one frame over a screen that may be smaller than the sheet; an opaque backing closes the rest.

From the viewer: lip, pane, backing with the screen's cut-out, spacer and screen, plates and bars.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.errors import NoDesignError
from halfsilver.layout import frames, parts, seat, sight
from halfsilver.layout.declare import actual, allowance, asked, target
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.layout.suits import suits_one_frame
from halfsilver.ledger.expression import Deviation, greatest, least, mm, ref
from halfsilver.ledger.ledger import Entry, Ledger
from halfsilver.model.design import Layer, Part
from halfsilver.model.job import SizeOf
from halfsilver.model.quantities import Auto

NEAR = {"width": "left", "height": "bottom"}
FAR = {"width": "right", "height": "top"}


def entries(facts: Facts) -> Iterator[Entry]:
    """Every entry of the ledger."""
    yield from frames.step_entries(facts)
    yield from frames.moulding_entries(facts, "front", facts.front_moulding, facts.front_profile)
    yield from seat.screen_entries(facts)
    yield from frames.sight_margin_entries(facts, "front")
    if facts.job.size is None:
        need = {d: ref(f"screen.outline.{d}") + ref("fit.screen") + 2 * ref(f"fit.sight_margin.{d}") for d in frames.DIRECTIONS}
        yield from frames.outside_following(facts, seat="front", need=need)
    else:
        yield from frames.outside_asked(facts)
    yield from frames.opening_entries(facts, "front")
    sheet_asked = facts.job.size is not None and facts.job.size.of is SizeOf.SHEET
    yield from frames.pane_entries(facts, "front", facts.front_glass, asked_size=sheet_asked)
    yield from seat.play_entries(facts, seat="front")
    yield from window_entries(facts)
    yield from depth_entries()
    yield from seat.relief_entries(facts, seat="front")
    yield from seat.seat_entries(facts, seat="front", seat_profile=facts.front_profile)
    yield from seat.depth_of_piece(facts)
    yield from seat.recess_entries(facts)
    yield from sight.wall_entries("front")
    yield from sight.reach_entries([("front lip", "front", ref("front.moulding.lip.actual"))])
    yield from sight.viewer_entries(facts)
    yield from sight.hidden_entries(facts, sight_edges(facts), sheets=("front",))


def sight_edges(facts: Facts) -> tuple[sight.Edge, ...]:
    """Everything that may stand before the picture."""
    return tuple(sight.lip_edges("front", facts.front_profile, depth=0.0, sheets_before=0))


def window_entries(facts: Facts) -> Iterator[Entry]:
    """Where the picture sits in the sheet, and so the screen in the frame; the cut-out of the backing."""
    for d in frames.DIRECTIONS:
        near, far = NEAR[d], FAR[d]
        wanted = getattr(facts.job.window, near)
        if isinstance(wanted, Auto):
            yield _centred(near, far, d)
        else:
            yield asked(f"window.{near}", f"picture from the sheet's {near} edge", wanted, f"window.{near} in the job")
        yield target(f"window.{d}", f"picture {d} in the sheet", ref(f"screen.picture.{d}"))
        edge = (ref(f"outside.{d}") - ref(f"front.glass.{d}")) / 2
        yield target(
            f"screen.offset.{near}", f"outside to the screen's outline, {near}", edge + ref(f"window.{near}") - ref(f"screen.border.{near}")
        )
        yield target(
            f"screen.offset.{far}",
            f"outside to the screen's outline, {far}",
            ref(f"outside.{d}") - ref(f"screen.offset.{near}") - ref(f"screen.outline.{d}"),
        )
        shift = Deviation(f"screen off its place, {'sideways' if d == 'width' else 'up or down'}", ref("fit.screen") / 2)
        for side, sign in ((near, 1.0), (far, -1.0)):
            yield actual(
                f"screen.offset.{side}.actual",
                f"outside to the screen's outline as packed, {side}",
                ref(f"screen.offset.{side}") + sign * shift,
            )
        hole = least(ref(f"screen.outline.{d}") + ref("fit.screen"), ref(f"backing.outside.{d}"), labels=("screen", "open to the edges"))
        yield target(f"backing.{d}", f"cut-out of the backing, {d}", hole)
        yield target(
            f"backing.{near}",
            f"backing's {near} edge to the cut-out",
            greatest(mm(0), ref(f"screen.offset.{near}") - ref("fit.screen") / 2 - (ref(f"outside.{d}") - ref(f"backing.outside.{d}")) / 2),
        )
        yield target(f"backing.outside.{d}", f"backing {d}", ref(f"front.rebate.{d}") - ref("fit.glass"))
    yield allowance("backing.thickness", "backing thickness", facts.habits.backing)


def _centred(near: str, far: str, d: str) -> Entry:
    """The picture centred in the sight, or as near to it as half the screen's play at either wall of the rebate allows."""
    play = (ref("fit.screen") - (ref(f"front.rebate.{d}") - ref(f"front.glass.{d}"))) / 2
    middle = (ref(f"front.glass.{d}") - ref(f"screen.picture.{d}")) / 2
    highest = ref(f"front.glass.{d}") - ref(f"screen.picture.{d}") - ref(f"screen.border.{far}") - play
    kept = least(
        greatest(middle, ref(f"screen.border.{near}") + play, labels=("centred", f"frame on the {near}")),
        highest,
        labels=("", f"frame on the {far}"),
    )
    return target(
        f"window.{near}",
        f"picture from the sheet's {near} edge",
        kept,
        reason="the picture is centred in the sight, as far as the frame lets the screen",
    )


def depth_entries() -> Iterator[Entry]:
    """Depths from the front face, positive backwards."""
    yield target("depth.front_glass", "depth of the pane", ref("front.moulding.lip_thickness") + ref("front.bedding"))
    yield target("depth.picture", "depth of the picture", ref("depth.front_glass") + ref("front.glass.thickness") + ref("spacer"))
    yield target("depth.back", "depth of the frame's back", ref("front.moulding.depth"))


def layers(ledger: Ledger) -> Iterator[Layer]:
    """The stack, front to back."""
    pane, picture, back = (ledger[f"depth.{name}"] for name in ("front_glass", "picture", "back"))
    behind = pane + ledger["front.glass.thickness"]
    yield Layer(part="front-lip", from_mm=0.0, to_mm=ledger["front.moulding.lip_thickness"])
    yield Layer(part="front-glass", from_mm=pane, to_mm=behind)
    if parts.has_backing(ledger.values):
        yield Layer(part="backing", from_mm=behind, to_mm=behind + ledger["backing.thickness"])
    yield Layer(part="spacer", from_mm=behind, to_mm=picture)
    yield Layer(part="screen", from_mm=picture, to_mm=picture + ledger["screen.outline.depth"])
    yield Layer(
        part="bar", from_mm=back + max(ledger["bar.step"], 0.0), to_mm=back + max(ledger["bar.step"], 0.0) + ledger["bar.thickness"]
    )


def bodies(facts: Facts, ledger: Ledger) -> Iterator[Part]:
    """Every body."""
    values = ledger.values
    yield from parts.frame_parts(
        facts, values, which="front", moulding=facts.front_moulding, profile=facts.front_profile, face_mm=0.0, seat=True
    )
    yield parts.pane_part(values, which="front", glass=facts.front_glass, front_mm=values["depth.front_glass"])
    yield from parts.backing_parts(facts, values)
    yield parts.screen_part(facts, values)
    yield from parts.retainer_parts(facts, values)


def design(facts: Facts) -> Design:
    """The resolved job."""
    ledger = Ledger.of(entries(facts), facts.measurements)
    if facts.job.size is not None:
        frames.refuse_too_small(ledger)
    frames.refuse_closed(ledger)
    _refuse_outside(ledger)
    return Design(facts, ledger, tuple(bodies(facts, ledger)), tuple(layers(ledger)), tuple(suits_one_frame(facts)))


def _refuse_outside(ledger: Ledger) -> None:
    """Stop where the screen's outline would stand in the wall of the rebate."""
    for side in seat.SIDES:
        d = seat.ACROSS[side]
        left = ledger[f"screen.offset.{side}"] - (ledger[f"outside.{d}"] - ledger[f"front.rebate.{d}"]) / 2
        if left < -1e-6:
            raise NoDesignError(
                f"The screen's outline would reach {-left:.1f} mm into the frame on the {side}.",
                nearest=f"Move the window by {-left:.1f} mm.",
                advice="Change `window`, or ask for a larger sheet.",
            )
