"""What is hidden by real profiles: rays traced in three dimensions against the mouldings' polygons, battens, strip and lips.

The tracer shares nothing with the program: it takes the solids' corners, a Halton sequence of points of the picture (Halton 1960) and
Snell's law, solves each ray by bisection, and looks at every depth where a solid begins, ends or turns.
"""

from __future__ import annotations

import numpy as np
import pytest

from halfsilver.services.decide import decided
from jobs import lit, shop
from properties.strategies import hidden_job

RAYS = 100_000


def halton(count: int, base: int) -> np.ndarray:
    """The van der Corput sequence of a base, from its second member."""
    index, found, weight = np.arange(1, count + 1), np.zeros(count), 1.0
    while index.any():
        weight /= base
        found += weight * (index % base)
        index //= base
    return found


def reach_of(polygon, depth):
    """Furthest x of a polygon of (x, z) at a depth z; none where it is not there."""
    met = []
    for (x0, z0), (x1, z1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if min(z0, z1) <= depth <= max(z0, z1):
            met += [x0, x1] if z0 == z1 else [x0 + (depth - z0) / (z1 - z0) * (x1 - x0)]
    return max(met, default=0.0)


def solids(design, *, two_frames):
    """What stands round the opening, per direction: where it begins and ends, its turns, and its reach from the outside at a depth."""
    v = design.ledger.values
    front = [(x, z) for x, z in shop().mouldings[design.facts.front_moulding.id].profile]
    found = [([z for _, z in front if z <= v["front.moulding.lip_thickness"] + 1e-9], lambda z: reach_of(front, z))]
    if two_frames:
        wood = v["front.moulding.body"] + v["batten.width"]
        start = v["front.moulding.lip_thickness"] + v["front.bedding"] + v["front.glass.thickness"]
        end = v["front.moulding.depth"] + v["spacer_frame"]  # battens end flush, a frame between goes on with them
        middle, half = start + v["batten.depth"] / 2, v["strip.width"] / 2
        found.append(([start, end], lambda z: wood))
        found.append(([middle - half, middle + half], lambda z: wood + v["strip.thickness"]))
        face = v["front.moulding.depth"] + v["glue_line"] + v["spacer_frame"] - v["rear.planed"]
        rear = [(x, z + face) for x, z in shop().mouldings[design.facts.rear_moulding.id].profile]
        lip = [face + v["rear.planed"], face + v["rear.moulding.lip_thickness"]]
        turns = [z for _, z in rear if lip[0] - 1e-9 <= z <= lip[1] + 1e-9]
        found.append(([*lip, *turns], lambda z: reach_of(rear, z)))
    return found


def share_seen(design, viewer, *, two_frames):
    v = design.ledger.values
    left, bottom = v["screen.offset.left"] + v["screen.border.left"], v["screen.offset.bottom"] + v["screen.border.bottom"]
    x = left + v["screen.picture.width"] * halton(RAYS, 2) - v["outside.width"] / 2
    y = bottom + v["screen.picture.height"] * halton(RAYS, 3) - v["outside.height"] / 2
    eye = (v[f"viewer.{viewer}.sideways"], v[f"viewer.{viewer}.up"], v[f"viewer.{viewer}.distance"])
    panes = [v["front.moulding.lip_thickness"] + v["front.bedding"]]
    if two_frames:
        panes.append(panes[0] + v["front.glass.thickness"] + v["gap"])
    thick = [v["front.glass.thickness"], *([v["rear.glass.thickness"]] if two_frames else [])]
    picture = panes[-1] + thick[-1] + v["spacer"]
    across = np.hypot(x - eye[0], y - eye[1])

    def run(sine, depth):
        glass = sum(np.clip(depth - start, 0.0, t) for start, t in zip(panes, thick, strict=True))
        return (eye[2] + depth - glass) * sine / np.sqrt(1 - sine**2) + glass * sine / np.sqrt(1.52**2 - sine**2)

    low, high = np.zeros(RAYS), np.full(RAYS, 1 - 1e-9)
    for _ in range(45):
        sine = (low + high) / 2
        short = run(sine, picture) < across
        low, high = np.where(short, sine, low), np.where(short, high, sine)
    free = np.ones(RAYS, dtype=bool)
    for turns, reach in solids(design, two_frames=two_frames):
        for depth in {*np.linspace(min(turns), max(turns), 15), *turns}:
            if depth > picture:
                continue
            inside = run(sine, depth) / np.where(across > 0, across, 1.0)
            px, py = eye[0] + inside * (x - eye[0]), eye[1] + inside * (y - eye[1])
            free &= (abs(px) < v["outside.width"] / 2 - reach(depth)) & (abs(py) < v["outside.height"] / 2 - reach(depth))
    return free.mean()


EYES = (
    "{id: a, distance: 2.5 m}, {id: b, distance: 2.5 m, sideways: 600 mm, eye_height: 1.7 m}, "
    "{id: c, distance: 900 mm, sideways: -1300 mm, eye_height: 1 m}"
)


@pytest.mark.parametrize(
    "keys",
    [
        {"moulding": "slope-44", "batten": "10 mm", "border": "3 mm"},
        {"moulding": "undercut-51", "batten": "5 mm", "border": "2 mm"},
        {"moulding": "soft-76", "gap": "60 mm", "border": "0 mm", "planed": "4 mm"},
        {"moulding": "gallery-57", "gap": "20 mm", "fit": ", sight_margin: 6 mm"},
        {
            "units": "mm",
            "width": "600 mm",
            "height": "900 mm",
            "border": "1 mm",
            "more": "size: {of: outside, width: 730 mm, height: 1050 mm}",
        },
    ],
    ids=["sloped", "undercut", "wide gap", "margin", "portrait"],
)
def test_share_seen_past_two_frames(keys):
    design = lit(viewers=EYES, **keys)
    for viewer in "abc":
        assert design.ledger[f"seen.{viewer}"] == pytest.approx(share_seen(design, viewer, two_frames=True), abs=0.002), viewer
    assert design.ledger["seen.c"] < 0.99  # so that there is something to agree on


@pytest.mark.parametrize("moulding", ["plain-40", "slope-44", "undercut-51"])
@pytest.mark.parametrize("more", ["", "size: {of: sheet, width: 975 mm, height: 565 mm}\nwindow: {left: 3 mm, bottom: 4 mm}"])
def test_share_seen_past_one_frame(moulding, more):
    borders = dict.fromkeys(("left", "right", "top", "bottom"), "1 mm")
    design = decided(hidden_job(viewers=EYES, moulding=moulding, more=more, **borders), shop())
    for viewer in "abc":
        assert design.ledger[f"seen.{viewer}"] == pytest.approx(share_seen(design, viewer, two_frames=False), abs=0.002), viewer
    assert design.ledger["seen.c"] < 0.99
