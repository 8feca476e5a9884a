"""What is hidden, against hand arithmetic and against a brute-force count of rays that shares no code with the program."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import qmc

from halfsilver.files.jobs import read_job
from halfsilver.services.decide import decided
from jobs import lit, shop

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def by_hand(*, edge_out, eye_out, before, behind):
    """Where the ray past an edge meets the picture, all measured outwards from the middle; layers are (thickness, index)."""

    def sideways(sine, layers):
        return sum(t * np.tan(np.arcsin(sine / n)) for t, n in layers)

    offset = eye_out - edge_out
    sine = brentq(lambda s: sideways(s, before) - abs(offset), 0.0, 0.999) if offset else 0.0
    return edge_out - np.sign(offset) * sideways(sine, behind)


@pytest.mark.parametrize("sideways_mm", [0.0, 600.0])
@pytest.mark.parametrize("gap", ["20 mm", "60 mm"])
def test_moving_a_viewer_or_the_gap_changes_what_is_hidden_as_by_hand(sideways_mm, gap):
    design = lit(viewers=f"{{id: front, distance: 2.5 m, sideways: {sideways_mm} mm}}", gap=gap)
    v = design.ledger.values
    assert v["gap"] == pytest.approx(float(gap.split()[0]))
    n, t1, t2, air = 1.52, 4.0, 4.0, 1.0
    right = v["screen.outline.width"] / 2 - v["screen.border.right"]  # picture's right edge from the middle
    wall = v["front.rebate.width"] / 2
    pane = v["front.moulding.lip_thickness"] + v["front.bedding"]  # depth of the front pane
    rear_pane = pane + t1 + v["gap"]
    wood, strip = wall - v["batten.width"], wall - v["batten.width"] - v["strip.thickness"]
    strip_front = pane + t1 + (v["batten.depth"] - v["strip.width"]) / 2
    lip = wall - v["rear.moulding.lip"]
    flush = v["front.moulding.depth"] + v["spacer_frame"]
    edges = [
        (wood, pane + t1),
        (strip, strip_front),
        (strip, strip_front + v["strip.width"]),
        (wood, flush),
        (lip, rear_pane - v["rear.lip_thickness"]),
        (lip, rear_pane),
    ]
    hits = [
        by_hand(
            edge_out=x,
            eye_out=sideways_mm,
            before=[(2500 + z - t1, air), (t1, n)],
            behind=[(rear_pane - z, air), (t2, n), (v["spacer"], air)],
        )
        for x, z in edges
    ]
    assert v["hidden.right.front"] == pytest.approx(max(right - min(hits), 0.0), abs=0.01)


def seen_by_brute_force(design, viewer, *, two_frames):
    """Share of 2^17 picture points whose ray reaches the eye past every solid, in three dimensions with refraction."""
    v = design.ledger.values
    points = qmc.Sobol(2, seed=20260304).random_base2(17)
    wide, high = v["screen.picture.width"], v["screen.picture.height"]
    x = -v["outside.width"] / 2 + v["screen.offset.left"] + v["screen.border.left"] + wide * points[:, 0]
    y = -v["outside.height"] / 2 + v["screen.offset.bottom"] + v["screen.border.bottom"] + high * points[:, 1]
    eye = np.array([v[f"viewer.{viewer}.sideways"], v[f"viewer.{viewer}.up"], v[f"viewer.{viewer}.distance"]])
    panes = [(v["depth.front_glass"], v["front.glass.thickness"])]
    if two_frames:
        panes.append((v["depth.rear_glass"], v["rear.glass.thickness"]))
    depth = v["depth.picture"]
    cuts = sorted({0.0, depth, *(z for z, _ in panes), *(z + t for z, t in panes), *np.linspace(0, depth, 25)})
    index = [1.52 if any(z <= (a + b) / 2 <= z + t for z, t in panes) else 1.0 for a, b in pairwise(cuts)]
    across = np.hypot(x - eye[0], y - eye[1])
    low, high_s = np.zeros_like(across), np.full_like(across, 0.9999)
    for _ in range(40):
        s = (low + high_s) / 2
        total = eye[2] * s / np.sqrt(1 - s * s) + sum(
            (b - a) * s / np.sqrt(n * n - s * s) for (a, b), n in zip(pairwise(cuts), index, strict=True)
        )
        low, high_s = np.where(total < across, s, low), np.where(total < across, high_s, s)
    run = eye[2] * s / np.sqrt(1 - s * s)
    steps = [(a, b, n) for (a, b), n in zip(pairwise(cuts), index, strict=True)] + [(depth, depth, 1.0)]
    free = np.ones_like(across, dtype=bool)
    for z, (a, b, n) in zip(cuts, steps, strict=True):
        at = np.divide(run, across, out=np.zeros_like(run), where=across > 0)
        px, py = eye[0] + at * (x - eye[0]), eye[1] + at * (y - eye[1])
        inset = opening(design, z, two_frames=two_frames)
        free &= (abs(px) < v["outside.width"] / 2 - inset) & (abs(py) < v["outside.height"] / 2 - inset)
        run = run + (b - a) * s / np.sqrt(n * n - s * s)
    return free.mean()


def opening(design, z, *, two_frames):
    """How far solids reach in from the outside at a depth: lip, battens, strip, rear lip."""
    v = design.ledger.values
    reach = 0.0
    if z <= v["front.moulding.lip_thickness"]:
        reach = max(reach, v["front.moulding.body"] + v["front.moulding.lip"])
    if two_frames:
        start, end = v["depth.batten"], v["depth.batten"] + v["batten.depth"]
        if start <= z <= end:
            reach = max(reach, v["front.moulding.body"] + v["batten.width"])
        middle = (start + end) / 2
        if abs(z - middle) <= v["strip.width"] / 2:
            reach = max(reach, v["front.moulding.body"] + v["batten.width"] + v["strip.thickness"])
        if v["depth.rear_lip"] <= z <= v["depth.rear_lip"] + v["rear.lip_thickness"]:
            reach = max(reach, v["rear.moulding.body"] + v["rear.moulding.lip"])
    return reach


@pytest.mark.parametrize("example", ["foyer", "archive-mirror"])
def test_share_of_the_picture_seen_agrees_with_counted_rays(example):
    job = read_job(EXAMPLES / f"{example}.yaml")
    design = decided(job, shop())
    for viewer in job.viewers:
        counted = seen_by_brute_force(design, viewer.id, two_frames=example == "foyer")
        assert design.ledger[f"seen.{viewer.id}"] == pytest.approx(counted, abs=0.002), viewer.id


def test_share_seen_from_far_off_axis_agrees_with_counted_rays():
    design = lit(viewers="{id: far, distance: 1.2 m, sideways: 1500 mm, eye_height: 2.2 m}")
    assert design.ledger["seen.far"] == pytest.approx(seen_by_brute_force(design, "far", two_frames=True), abs=0.002)
