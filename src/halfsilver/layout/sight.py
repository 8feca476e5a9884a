"""What hides the picture: reach and cover on axis, and for every viewer the edge that decides.

Edges lie at a depth behind the face and at a distance from the outside's edge. An eye sees the picture past all of them, refraction in
the sheets between included; the deepest shadow counts. Eye, edges and picture are taken in the plane square to each side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from halfsilver.geometry.profile import Profile
from halfsilver.geometry.sightline import cone_shadow_mm, shadow_mm
from halfsilver.layout.declare import actual, asked, catalogue, gap, given
from halfsilver.layout.facts import Facts
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.layout.seat import ACROSS, SIDES
from halfsilver.ledger.expression import Expression, Function, Operand, as_expression, call, greatest, mm, ref
from halfsilver.ledger.ledger import Entry, Origin
from halfsilver.model.job import Viewer

SHADOW = Function("sight line", shadow_mm)
CONE_SHADOW = Function("sight line at the cone's edge", cone_shadow_mm)
Behind = dict[str, Operand]  # what lies between an edge and the picture, as the sight lines ask for it


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """Something a ray may graze.

    Parameters
    ----------
    label : str
        What it is, in a maker's words.
    frame : str
        The frame that it belongs to.
    reach : Expression
        From that frame's rebate wall inwards, as it will be. [mm]
    depth : Expression
        From the face backwards. [mm]
    sheets_before : int
        How many sheets lie between the viewer and the edge.
    """

    label: str
    frame: str
    reach: Expression
    depth: Expression
    sheets_before: int = 0


def lip_edges(which: str, profile: Profile, *, depth: Operand, sheets_before: int) -> Iterator[Edge]:
    """The corners of a lip that a ray may graze, as deviating as the moulding is delivered."""
    for x_mm, z_mm in profile.lip_edges:
        back = profile.face_mm - x_mm
        lip = ref(f"{which}.moulding.lip.actual")
        yield Edge(
            label=f"{which} lip",
            frame=which,
            reach=lip - mm(back) if back > 1e-9 else lip,
            depth=as_expression(depth) + mm(z_mm - profile.planed_mm),
            sheets_before=sheets_before,
        )


def batten_edges(facts: Facts) -> Iterator[Edge]:
    """Battens with the strip on their inner face; a frame between the two frames goes on flush with the battens."""
    wood = ref("batten.width.actual")
    lit = wood + ref("strip.thickness")
    start, end = ref("depth.batten"), ref("depth.batten") + ref("batten.depth")
    bodies = [
        ("batten", wood, start),
        ("strip", lit, start + ref("strip.at")),
        ("strip", lit, start + ref("strip.at") + ref("strip.width")),
        ("batten", wood, end),
    ]
    if facts.choices.spacer_frame and facts.choices.spacer_frame.value:
        bodies.append(("frame between the frames", wood, ref("depth.joint") + ref("spacer_frame")))
    for label, reach, depth in bodies:
        yield Edge(label=label, frame="front", reach=reach, depth=depth, sheets_before=1)


def wall_entries(which: str) -> Iterator[Entry]:
    """Where a frame's rebate wall is, from the nominal outside inwards: what was measured moves it, and all that stands on it."""
    for d in DIRECTIONS:
        yield actual(
            f"{which}.wall.{d}", f"outside to the {which} rebate wall, {d}", (ref(f"outside.{d}") - ref(f"{which}.rebate.{d}.actual")) / 2
        )


def reach_entries(furthest: Sequence[tuple[str, str, Expression]]) -> Iterator[Entry]:
    """Reach into the opening from the outline inwards, cover of the border, and what is hidden on axis.

    Parameters
    ----------
    furthest : sequence of (str, str, Expression)
        Label, frame, and reach from that frame's rebate wall, of everything that may reach furthest.
    """
    labels = tuple(label for label, _, _ in furthest)
    for side in SIDES:
        insets = [ref(f"{frame}.wall.{ACROSS[side]}") + reach for _, frame, reach in furthest]
        yield gap(
            f"reach.{side}", f"reach into the opening, {side}", greatest(*insets, labels=labels) - ref(f"screen.offset.{side}.actual")
        )
        yield gap(f"cover.{side}", f"cover of the screen's edge, {side}", ref(f"reach.{side}") - ref(f"screen.border.{side}"))
        yield gap(f"hidden.{side}.axis", f"picture hidden on axis, {side}", greatest(mm(0), ref(f"cover.{side}")))


def viewer_entries(facts: Facts) -> Iterator[Entry]:
    """Where each viewer's eye is, from the centre of the outside."""
    centre = facts.job.mounting.centre_height
    for viewer in facts.job.viewers:
        name = f"viewer.{viewer.id}"
        yield asked(f"{name}.distance", f"distance of {viewer.id}", viewer.distance, "viewers in the job")
        yield asked(f"{name}.sideways", f"{viewer.id} to the right of the centre", viewer.sideways, "viewers in the job")
        if viewer.eye_height is None or centre is None:
            yield given(f"{name}.up", f"eye of {viewer.id} above the centre", 0.0, Origin.ASSUMED, "eye height or centre height not given")
        else:
            yield asked(f"{name}.up", f"eye of {viewer.id} above the centre", viewer.eye_height - centre, "eye height less centre height")


def hidden_entries(facts: Facts, edges: Sequence[Edge], *, sheets: Sequence[str]) -> Iterator[Entry]:
    """Picture hidden on each side from each viewer, at the edge of the cone, and from the worst viewer.

    Parameters
    ----------
    facts : Facts
        The job looked up.
    edges : sequence of Edge
        Everything a ray may graze.
    sheets : sequence of str
        Names of the sheets, front to back.
    """
    for which, kind in zip(sheets, (facts.front_glass, *([facts.rear_glass] if len(sheets) > 1 else ())), strict=True):
        yield catalogue(f"{which}.index", f"refractive index of the {which} glass", kind.index, f"glass {kind.id}", unit="count")
    cone = facts.job.accept.cone
    if cone is not None:
        yield asked("accept.cone", "half angle inside which people look", cone, "accept.cone in the job", unit="deg")
    if facts.job.accept.hidden_share is not None:
        yield asked(
            "accept.hidden_share",
            "share of the picture that may be hidden",
            facts.job.accept.hidden_share,
            "accept.hidden_share in the job",
            unit="share",
        )
    grazed = tuple((edge, _behind(edge, sheets)) for edge in edges)
    for side in SIDES:
        names = [f"hidden.{side}.{viewer.id}" for viewer in facts.job.viewers]
        for viewer, name in zip(facts.job.viewers, names, strict=True):
            yield gap(name, f"picture hidden {side} from {viewer.id}", _from_viewer(grazed, side, viewer, sheets))
        worst = [ref(name) for name in names] or [ref(f"hidden.{side}.axis")]
        yield gap(
            f"hidden.{side}",
            f"picture hidden {side} from the worst viewer",
            greatest(*worst, labels=tuple(v.id for v in facts.job.viewers) or ("axis",)),
        )
        if cone is not None:
            yield gap(f"hidden.{side}.cone", f"picture hidden {side} at the edge of the cone", _from_cone(grazed, side))
    yield from _shares(facts)


def _inset(edge: Edge, side: str) -> Expression:
    return ref(f"{edge.frame}.wall.{ACROSS[side]}") + edge.reach - ref(f"screen.offset.{side}.actual") - ref(f"screen.border.{side}")


def _behind(edge: Edge, sheets: Sequence[str]) -> Behind:
    thickness: list[Operand] = [ref(f"{which}.glass.thickness") for which in sheets]
    later = thickness[edge.sheets_before :]
    air: Operand = ref("depth.picture") - edge.depth
    for glass in later:
        air = air - glass
    single = len(sheets) == 1
    return {
        "air_behind": air,
        "front_behind": 0.0 if edge.sheets_before else thickness[0],
        "rear_behind": 0.0 if single else thickness[1],
        "front_index": ref(f"{sheets[0]}.index"),
        "rear_index": ref(f"{sheets[-1]}.index"),
    }


def _eye(side: str, viewer: Viewer) -> Expression:
    """Inset of the eye from the picture's edge: positive over the picture."""
    along = ref(f"viewer.{viewer.id}.{'sideways' if ACROSS[side] == 'width' else 'up'}")
    edge = ref(f"outside.{ACROSS[side]}") / 2 - ref(f"screen.offset.{side}.actual") - ref(f"screen.border.{side}")
    return edge + along if side in ("left", "bottom") else edge - along


def _from_viewer(grazed: Sequence[tuple[Edge, Behind]], side: str, viewer: Viewer, sheets: Sequence[str]) -> Expression:
    shadows, eye = [], _eye(side, viewer)
    for edge, behind in grazed:
        before = ref(f"viewer.{viewer.id}.distance") + edge.depth
        glass = ref(f"{sheets[0]}.glass.thickness")
        shadows.append(
            call(
                SHADOW,
                edge=_inset(edge, side),
                eye=eye,
                air_before=before - glass if edge.sheets_before else before,
                front_before=glass if edge.sheets_before else 0.0,
                **behind,
            )
        )
    return greatest(mm(0), *shadows, labels=("nothing", *(edge.label for edge, _ in grazed)))


def _from_cone(grazed: Sequence[tuple[Edge, Behind]], side: str) -> Expression:
    shadows = [call(CONE_SHADOW, edge=_inset(edge, side), half_angle=ref("accept.cone"), **behind) for edge, behind in grazed]
    return greatest(mm(0), *shadows, labels=("nothing", *(edge.label for edge, _ in grazed)))


def _shares(facts: Facts) -> Iterator[Entry]:
    """Share of the picture each viewer sees past all edges."""
    ids = [viewer.id for viewer in facts.job.viewers]
    for who in ids or ["axis"]:
        seen = {
            d: greatest(mm(0), ref(f"screen.picture.{d}") - ref(f"hidden.{a}.{who}") - ref(f"hidden.{b}.{who}"))
            for d, (a, b) in (("width", ("left", "right")), ("height", ("top", "bottom")))
        }
        whole = ref("screen.picture.width") * ref("screen.picture.height")
        yield gap(f"seen.{who}", f"share of the picture that {who} sees", seen["width"] * seen["height"] / whole, unit="share")
    worst = [1 - ref(f"seen.{who}") for who in ids or ["axis"]]
    yield gap(
        "hidden.share", "share of the picture hidden from the worst viewer", greatest(*worst, labels=tuple(ids or ["axis"])), unit="share"
    )
