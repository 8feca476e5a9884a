"""The lit screen: two mitred frames glued back to back, two sheets, a strip round the space between, and a screen behind.

From the viewer: front lip, front pane, battens with the strip, the joint, the planed rear lip, rear pane, spacer, screen, plates and bars.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout import cavity, frames, parts, seat, sight
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.layout.suits import suits_two_frames
from halfsilver.ledger.expression import ref
from halfsilver.ledger.ledger import Entry, Ledger
from halfsilver.model.design import Layer, Part


def entries(facts: Facts) -> Iterator[Entry]:
    """Every entry of the ledger."""
    yield from frames.step_entries(facts)
    yield from frames.moulding_entries(facts, "front", facts.front_moulding, facts.front_profile)
    yield from frames.moulding_entries(facts, "rear", facts.rear_moulding, facts.rear_profile.planed(facts.planed_mm))
    yield from seat.screen_entries(facts)
    yield from frames.sight_margin_entries(facts, "rear")
    if facts.job.size is None:
        need = {d: ref(f"screen.outline.{d}") + ref("fit.screen") + 2 * ref(f"fit.sight_margin.{d}") for d in frames.DIRECTIONS}
        yield from frames.outside_following(facts, seat="rear", need=need)
    else:
        yield from frames.outside_asked(facts)
    sheet_asked = facts.job.size is not None and facts.job.size.of.value == "sheet"
    for which, glass in (("front", facts.front_glass), ("rear", facts.rear_glass)):
        yield from frames.opening_entries(facts, which)
        yield from frames.pane_entries(facts, which, glass, asked_size=sheet_asked and which == "front")
    yield from cavity.batten_entries(facts)
    yield from cavity.strip_entries(facts)
    yield from cavity.way_entries(plates=True)
    yield from cavity.gap_entries(facts)
    yield from cavity.depth_entries(seat_depth=ref("spacer"))
    yield from seat.play_entries(facts, seat="rear")
    yield from seat.offset_entries(facts, seat="rear")
    yield from seat.relief_entries(facts, seat="rear")
    yield from seat.seat_entries(facts, seat="rear", seat_profile=facts.rear_profile.planed(facts.planed_mm))
    yield from cavity.tie_entries(facts)
    yield from seat.pin_entries(facts)
    yield from seat.depth_of_piece(facts)
    yield from seat.recess_entries(facts)
    yield from sight_entries(facts)


def sight_entries(facts: Facts) -> Iterator[Entry]:
    """What hides the picture."""
    yield from sight.wall_entries("front")
    yield from sight.wall_entries("rear")
    yield from sight.reach_entries(
        [
            ("front lip", "front", ref("front.moulding.lip.actual")),
            ("batten and strip", "front", ref("batten.width.actual") + ref("strip.thickness")),
            ("rear lip", "rear", ref("rear.moulding.lip.actual")),
        ]
    )
    yield from sight.viewer_entries(facts)
    yield from sight.hidden_entries(facts, sight_edges(facts), sheets=("front", "rear"))


def sight_edges(facts: Facts) -> tuple[sight.Edge, ...]:
    """Everything that may stand before the picture."""
    return (
        *sight.lip_edges("front", facts.front_profile, depth=0.0, sheets_before=0),
        *sight.batten_edges(facts),
        *sight.lip_edges("rear", facts.rear_profile.planed(facts.planed_mm), depth=ref("depth.rear_lip"), sheets_before=1),
    )


def layers(ledger: Ledger) -> Iterator[Layer]:
    """The stack, front to back."""
    yield from cavity.lit_layers(ledger)
    picture, back = ledger["depth.picture"], ledger["depth.back"] + max(ledger["bar.step"], 0.0)
    yield Layer(part="spacer", from_mm=ledger["depth.rear_glass"] + ledger["rear.glass.thickness"], to_mm=picture)
    yield Layer(part="screen", from_mm=picture, to_mm=picture + ledger["screen.outline.depth"])
    yield Layer(part="bar", from_mm=back, to_mm=back + ledger["bar.thickness"])


def bodies(facts: Facts, ledger: Ledger) -> Iterator[Part]:
    """Every body."""
    values = ledger.values
    yield from parts.lit_bodies(facts, values, seat=True)
    yield parts.screen_part(facts, values)
    yield from parts.retainer_parts(facts, values)


def design(facts: Facts) -> Design:
    """The resolved job."""
    ledger = Ledger.of(entries(facts), facts.measurements)
    if facts.job.size is not None:
        frames.refuse_too_small(ledger)
    frames.refuse_closed(ledger)
    return Design(facts, ledger, tuple(bodies(facts, ledger)), tuple(layers(ledger)), tuple(suits_two_frames(facts)))
