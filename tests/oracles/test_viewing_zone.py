"""The viewing zone against counted rays: every picture point's ray solved by halving, by code that shares nothing with the program's."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import qmc

from halfsilver.errors import RangeError
from halfsilver.files.jobs import read_job
from halfsilver.geometry.contours import contours
from halfsilver.geometry.openings import LEFT, RIGHT, SIDES, TOP, Aperture, Opening, seen_through
from halfsilver.layout.zone import aperture_of
from halfsilver.services.appearance.zone import sights_of, zone, zone_of, zone_record
from halfsilver.services.decide import decided
from jobs import lit, shop

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FRAME = Opening(label="frame", depth_mm=10.0, edges_mm=(-500.0, 500.0, -300.0, 300.0))
CASE = Opening(label="case", depth_mm=60.0, edges_mm=(-490.0, 490.0, -290.0, 290.0), sheets_before=1)
PLAIN = Aperture(openings=(FRAME, CASE), picture_mm=(-495, 495, -295, 295), depth_mm=90.0, sheets=((6.0, 1.52), (4.0, 1.7)))

DEEP = Opening(label="deep", depth_mm=110.0, edges_mm=(-140, 140, -95, 95), sheets_before=1)
THICK = Aperture(
    openings=(replace(FRAME, edges_mm=(-150.0, 150.0, -100.0, 100.0)), DEEP),
    picture_mm=(-150, 150, -100, 100), depth_mm=240.0, sheets=((80.0, 1.52), (60.0, 1.9)),
)  # fmt: skip


def counted(aperture: Aperture, eye: tuple[float, float, float]) -> float:
    """Share of 2^16 evenly strewn points of the picture that an eye sees through every opening."""
    left, right, bottom, top = aperture.picture_mm
    strewn = qmc.Sobol(2, seed=20261125).random_base2(16)
    x, y = left + (right - left) * strewn[:, 0], bottom + (top - bottom) * strewn[:, 1]
    away = np.hypot(x - eye[0], y - eye[1])

    def sideways(sine, air, sheets):
        return air * np.tan(np.arcsin(sine)) + sum(t * np.tan(np.arcsin(sine / n)) for t, n in sheets)

    air = eye[2] + aperture.depth_mm - sum(t for t, _ in aperture.sheets)
    low, high = np.zeros_like(away), np.full_like(away, 1 - 1e-12)
    for _ in range(55):
        sine = (low + high) / 2
        short = sideways(sine, air, aperture.sheets) < away
        low, high = np.where(short, sine, low), np.where(short, high, sine)
    free = np.ones(away.shape, dtype=bool)
    for one in aperture.openings:
        glass = aperture.sheets[: one.sheets_before]
        part = sideways(sine, eye[2] + one.depth_mm - sum(t for t, _ in glass), glass) / np.maximum(away, 1e-12)
        px, py = eye[0] + part * (x - eye[0]), eye[1] + part * (y - eye[1])
        free &= (px > one.edges_mm[0]) & (px < one.edges_mm[1]) & (py > one.edges_mm[2]) & (py < one.edges_mm[3])
    return float(free.mean())


EYES = [
    (0, 76, 2500),
    (600, 76, 2500),
    (1500, 700, 1200),
    (1500, 700, 500),
    (2500, 0, 300),
    (3000, -700, 150),
    (650, 400, 50),
    (5000, 0, 200),
]


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("which", ["foyer", "plain", "thick"])
def test_share_agrees_with_counted_rays_to_89_degrees(which, eye):
    aperture = {"plain": PLAIN, "thick": THICK}.get(which) or aperture_of(decided(read_job(EXAMPLES / "foyer.yaml"), shop()))
    assert seen_through(aperture, eye).share[0] == pytest.approx(counted(aperture, eye), abs=1e-4)


def test_many_eyes_at_once_see_what_each_sees_alone():
    together = seen_through(PLAIN, np.array(EYES).T)
    alone = [seen_through(PLAIN, eye) for eye in EYES]
    assert together.share == pytest.approx([one.share[0] for one in alone], abs=1e-12)
    assert together.border_mm == pytest.approx(np.array([one.border_mm[:, 0] for one in alone]).T, abs=1e-9)


def test_without_glass_the_edges_of_sight_are_straight_lines():
    """By hand: from 1000 mm before the face through an edge 10 mm behind it to a picture 90 mm behind it."""
    bare = Aperture(openings=(FRAME,), picture_mm=(-495, 495, -295, 295), depth_mm=90.0, sheets=())
    seen = seen_through(bare, (200.0, 0.0, 1000.0))
    assert seen.border_mm[RIGHT, 0] == pytest.approx(200 + 300 * 1090 / 1010 - 495)
    assert seen.border_mm[LEFT, 0] == pytest.approx(-(200 - 700 * 1090 / 1010) - 495)
    assert seen.border_mm[TOP, 0] == pytest.approx(300 * 1090 / 1010 - 295)


@pytest.mark.parametrize("sine", [0.2, 0.6, 0.95])
def test_an_edge_behind_glass_casts_its_shadow_by_snells_law(sine):
    """By hand: a ray of this sine in air moves t s/sqrt(n^2 - s^2) sideways in each layer; the eye stands where it leaves from."""

    def sideways(*layers):
        return sum(t * sine / (n * n - sine * sine) ** 0.5 for t, n in layers)

    air, front, rear = (30.0, 1.0), (80.0, 1.52), (60.0, 1.9)
    eye = 140.0 + sideways((400.0, 1.0), front, air)  # 400 mm before the face, past the edge 110 mm behind it
    seen = seen_through(replace(THICK, openings=THICK.openings[1:]), (eye, 0.0, 400.0))
    assert seen.border_mm[RIGHT, 0] == pytest.approx(140.0 - sideways((70.0, 1.0), rear) - 150.0, abs=1e-6)


def test_the_part_and_side_that_hide_most_are_named():
    seen = seen_through(PLAIN, np.array([[-900.0, 900.0], [0, 0], [600, 600]]))
    assert [SIDES[k] for k in seen.worst_side()] == ["left", "right"]
    assert [PLAIN.openings[seen.limit[k, e]].label for e, k in enumerate(seen.worst_side())] == ["frame", "frame"]
    near = seen_through(PLAIN, (0.0, 0.0, 5000.0))
    assert PLAIN.openings[near.limit[LEFT, 0]].label == "case"


def test_an_eye_in_the_wall_or_no_opening_is_refused():
    with pytest.raises(RangeError, match="before the face"):
        seen_through(PLAIN, (0.0, 0.0, 0.0))
    with pytest.raises(RangeError, match="no opening"):
        seen_through(replace(PLAIN, openings=()), (0.0, 0.0, 1.0))


def test_nothing_is_seen_through_a_slit_from_far_aside():
    slit = Aperture(
        openings=(Opening(label="a", depth_mm=0, edges_mm=(-5, 5, -5, 5)), Opening(label="b", depth_mm=300, edges_mm=(-5, 5, -5, 5))),
        picture_mm=(-5, 5, -5, 5), depth_mm=400.0, sheets=(),
    )  # fmt: skip
    assert seen_through(slit, (3000.0, 0.0, 100.0)).share[0] == 0.0


def test_each_viewer_stands_in_the_map_where_the_map_says_the_same():
    design = lit(viewers="{id: one, distance: 2 m, sideways: 400 mm}, {id: two, distance: 1 m, sideways: -800 mm}")
    for who, (share, sides) in sights_of(design).items():
        v = design.ledger.values
        x, z = v[f"viewer.{who}.sideways"], v[f"viewer.{who}.distance"]
        here = zone(aperture_of(design), sideways_mm=np.array([x]), distance_mm=np.array([z]), up_mm=v[f"viewer.{who}.up"])
        assert here.share[0, 0] == pytest.approx(share)
        assert [side.side for side in sides] == list(SIDES)
        # In the plane of the eye the ledger solves the same ray by itself.
        for side in sides:
            assert max(-side.beyond_mm, 0) == pytest.approx(v[f"hidden.{side.side}.{who}"], abs=0.25)


def test_a_margin_of_sight_shows_the_border_and_then_the_inside():
    def shown(margin):
        design = lit(viewers="{id: front, distance: 40 m}", fit=f", sight_margin: {margin}")
        return {side.shows for side in sights_of(design)["front"][1]}

    assert shown("0 in") == {"nothing"}
    assert shown("14 mm") == {"border"}
    assert shown("30 mm") == {"inside"}


def test_a_mirror_without_a_screen_has_no_zone():
    assert zone_of(decided(read_job(EXAMPLES / "kit-mirror.yaml"), shop())) is None


def test_the_record_holds_every_fourth_eye():
    found = zone_of(lit())
    told = zone_record(found)
    assert (len(told.share), len(told.share[0])) == (len(told.distance_mm), len(told.sideways_mm)) == (12, 16)
    assert told.share[1][2] == pytest.approx(found.share[4, 8], abs=5e-5)
    assert told.limits[told.limited_by[1][2]] == found.labels[found.limit[4, 8]]


def test_a_contour_round_a_cone_is_a_circle():
    """Of 100 - distance, level 70 is the circle of radius 30: area pi 30^2."""
    x = [float(k) for k in range(-50, 51)]
    rings = contours(x, x, [[100 - (a * a + b * b) ** 0.5 for a in x] for b in x], level=70)
    assert len(rings) == 1
    closed = [*rings[0], rings[0][0]]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(closed)) / 2
    assert abs(area) == pytest.approx(np.pi * 900, rel=1e-3)


def test_a_contour_of_all_runs_along_the_rim():
    (ring,) = contours([0, 1, 2], [0, 1], [[1, 1, 1], [1, 1, 1]], level=0.5)
    assert (min(ring), max(ring)) == ((0, 0), (2, 1))
