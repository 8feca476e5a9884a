"""The lit mirror: two mitred frames glued back to back, a part mirror, a lit cavity and a full mirror; a panel closes the back.

From the viewer: front lip, front pane, battens with the strip, the joint, the planed rear lip, full mirror, packing, back panel. There is
no screen, so nothing follows from one: the job asks for a size.
"""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.errors import JobError, Problem
from halfsilver.layout import cavity, frames, parts, seat
from halfsilver.layout.declare import allowance, catalogue, target
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.layout.suits import suits_two_frames
from halfsilver.ledger.expression import ref
from halfsilver.ledger.ledger import Entry, Ledger
from halfsilver.model.design import Layer, Part

PANEL_INSET_MM = 6.0  # the panel stays inside the outside edge, so that it is not seen from the side: common practice


def entries(facts: Facts) -> Iterator[Entry]:
    """Every entry of the ledger."""
    rear = facts.rear_profile.planed(facts.planed_mm)
    yield from frames.step_entries(facts)
    yield from frames.moulding_entries(facts, "front", facts.front_moulding, facts.front_profile)
    yield from frames.moulding_entries(facts, "rear", facts.rear_moulding, rear)
    yield from frames.outside_asked(facts)
    sheet_asked = facts.job.size is not None and facts.job.size.of.value == "sheet"
    for which, glass in (("front", facts.front_glass), ("rear", facts.rear_glass)):
        yield from frames.opening_entries(facts, which)
        yield from frames.pane_entries(facts, which, glass, asked_size=sheet_asked and which == "front")
    yield from cavity.batten_entries(facts)
    yield from cavity.strip_entries(facts)
    yield from cavity.way_entries(plates=False)
    yield from cavity.gap_entries(facts)
    yield from cavity.depth_entries()
    yield from seat.pin_entries(facts)
    yield from panel_entries(facts)
    yield from cavity.tie_entries(facts)
    yield from seat.wall_entries(facts)
    yield target("outside.depth", "outside depth", ref("depth.back") + ref("panel.thickness") + ref("wall.fixing"))
    yield target("stack.depth", "depth from the first layer to the last", ref("depth.back") + ref("panel.thickness"))
    yield from seat.recess_entries(facts)


def panel_entries(facts: Facts) -> Iterator[Entry]:
    """The back panel, its screws, and the packing that holds the mirror against its lip."""
    yield allowance("panel.thickness", "back panel thickness", facts.habits.backing)
    yield allowance("panel.inset", "back panel inside the outside edge", PANEL_INSET_MM, "so that it is not seen from the side")
    for d in DIRECTIONS:
        yield target(f"panel.{d}", f"back panel {d}", ref(f"outside.{d}") - 2 * ref("panel.inset"))
    packed = ref("rear.moulding.rebate_depth") - ref("rear.glass.thickness") - ref("rear.bedding")
    yield target("packing", "packing between mirror and back panel", packed)
    x_mm = facts.rear_profile.body_mm / 2
    timber = facts.rear_profile.planed(facts.planed_mm).timber_from_back_mm(x_mm=x_mm)
    yield catalogue("screw.timber.panel", "timber under the panel's screws", timber, f"profile at {x_mm:.1f} mm from the outer edge")
    yield allowance("screw.cover", "timber left before a screw's point", facts.habits.screw_cover)
    longest = ref("panel.thickness") + ref("screw.timber.panel") - ref("screw.cover")
    yield target("screw.max.panel", "longest screw through the back panel", longest)


def layers(ledger: Ledger) -> Iterator[Layer]:
    """The stack, front to back."""
    yield from cavity.lit_layers(ledger)
    behind = ledger["depth.rear_glass"] + ledger["rear.glass.thickness"]
    yield Layer(part="packing", from_mm=behind, to_mm=behind + ledger["packing"])
    yield Layer(part="back-panel", from_mm=ledger["depth.back"], to_mm=ledger["depth.back"] + ledger["panel.thickness"])


def bodies(facts: Facts, ledger: Ledger) -> Iterator[Part]:
    """Every body."""
    values = ledger.values
    yield from parts.lit_bodies(facts, values, seat=False)
    yield from parts.packing_parts(facts, values)
    yield parts.panel_part(facts, values)


def design(facts: Facts) -> Design:
    """The resolved job.

    Raises
    ------
    JobError
        If no size is asked, or a screen is given.
    """
    problems = []
    if facts.job.size is None:
        problems.append(
            Problem(
                code="missing",
                path="size",
                allowed="A lit mirror has no screen to follow.",
                advice="Ask for a size: of outside, sight or sheet.",
            )
        )
    if facts.job.screen is not None:
        problems.append(
            Problem(code="not-here", path="screen", allowed="A lit mirror has no screen.", advice="Leave it out, or choose lit-screen.")
        )
    if problems:
        raise JobError(problems)
    ledger = Ledger.of(entries(facts), facts.measurements)
    frames.refuse_closed(ledger)
    return Design(facts, ledger, tuple(bodies(facts, ledger)), tuple(layers(ledger)), tuple(suits_two_frames(facts)))
