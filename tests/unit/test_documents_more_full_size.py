"""Templates at full size: true on paper, tiled without a gap, each page with a line to check it by."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import dist, pi

import numpy as np
import pypdfium2
import pytest

from documents_cases import design, job, show_of, workshop
from halfsilver.documents.full_size import (
    EDGE_MM,
    FOOT_MM,
    HEAD_MM,
    LAP_MM,
    drawn,
    relief_template,
    rounded_pocket,
    templates,
    templates_pdf,
    tiling,
)
from halfsilver.documents.relief import relief_parts
from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.scene import Dimension, Polygon, flat
from halfsilver.drawing.sheets import PAPERS
from halfsilver.layout.design import Design
from halfsilver.model.job import Units
from halfsilver.services.decide import decided
from printed_pages import characters, faults, font_names, meeting, page_texts, squeezed

POINT_MM, PIXELS = 25.4 / 72, 10


def made(of: Design) -> bytes | None:
    return templates_pdf(of, show=show_of(of), date="2026-10-01", revision=2, version="0.1.0")


@cache
def document(name: str) -> bytes:
    data = made(design(name))
    assert data is not None
    return data


def sizes(name: str) -> Sizes:
    return Sizes(design(name), show_of(design(name)))


def wide_pocket() -> Design:
    """A receiver as long as half the screen: longer than any paper of the job."""
    foyer = job("foyer")
    assert foyer.screen is not None
    part = replace(foyer.screen.sticks_out[0], id="receiver", start=100.0, end=900.0)
    return decided(replace(foyer, screen=replace(foyer.screen, sticks_out=(part,))), workshop())


@pytest.mark.parametrize("name", ["foyer", "pockets"])
def test_pages_without_a_fault(name: str) -> None:
    assert faults(document(name)) == []
    assert font_names(document(name)) == {"Inter-Regular", "Inter-Bold"}
    for text in page_texts(document(name)):
        assert "print at 100 %" in text
        assert "4 in: measure this line" in text


@pytest.mark.parametrize("name", ["foyer", "pockets", "sloped", "cables below"])
def test_words_stand_on_nothing(name: str) -> None:
    for one in templates(sizes(name)):
        assert overlaps(drawn(one.scene)) == (), one.title


def runs_mm(page: pypdfium2.PdfPage) -> tuple[float, ...]:
    """Longest dark run of every row of pixels, ten pixels a millimetre. [mm]"""
    dark = np.asarray(page.render(scale=PIXELS * POINT_MM, grayscale=True).to_pil()) < 150
    edges = np.diff(np.pad(dark.astype(np.int8), ((0, 0), (1, 1))), axis=1)
    found = []
    for row in edges:
        starts, ends = np.flatnonzero(row == 1), np.flatnonzero(row == -1)
        found.append(float((ends - starts).max()) / PIXELS if len(starts) else 0.0)
    return tuple(found)


@pytest.mark.parametrize(("name", "units", "long_mm"), [("foyer", "in", 101.6), ("pockets", "in", 101.6), ("foyer", "mm", 100.0)])
def test_the_check_line_is_as_long_as_it_says_on_every_page(name: str, units: str, long_mm: float) -> None:
    """Four inches of 25.4 mm, or a hundred millimetres: what the tape of the job's own units can check."""
    data = made(decided(replace(design(name).facts.job, units=Units(units)), workshop()))
    assert data is not None
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            foot = runs_mm(page)[-round((FOOT_MM - 5) * PIXELS) :]
            assert max(foot) == pytest.approx(long_mm, abs=0.25)


def test_a_pocket_is_drawn_at_the_size_of_the_ledger() -> None:
    known = sizes("foyer")
    scene = relief_template(known, relief_parts(known)[0]).scene
    pocket = next(item for item in flat(scene.items) if isinstance(item, Polygon) and item.name == "relief.badge")
    xs, ys = [p[0] for p in pocket.points], [p[1] for p in pocket.points]
    assert max(xs) - min(xs) == pytest.approx(known["relief.badge.width"])
    assert max(ys) - min(ys) == pytest.approx(known["relief.badge.into_wall"])
    for item in flat(scene.items):
        if isinstance(item, Dimension):
            assert item.text == known.text(item.name)
            assert item.measured_mm == pytest.approx(known[item.name])


def test_a_drawing_at_full_size_measures_full_size_on_paper() -> None:
    """The outer edge of the stick, measured on the raster of the page: the pocket and 45 mm at either side."""
    wanted = sizes("foyer")["relief.badge.width"] + 90.0
    with pypdfium2.PdfDocument(document("foyer")) as pdf:
        assert min(abs(run - wanted) for run in runs_mm(pdf[0])) < 0.6


def test_the_cutters_corner_is_a_quarter_circle() -> None:
    points = rounded_pocket(0.0, 60.0, wall=40.0, into=10.0, radius=6.0)
    corner = [p for p in points if p[0] <= 6.0 and p[1] <= 36.0]
    assert all(dist(p, (6.0, 36.0)) == pytest.approx(6.0) for p in corner)
    length = sum(dist(a, b) for a, b in pairwise(corner))
    assert length == pytest.approx(6.0 * pi / 2, rel=0.005)
    assert (min(x for x, _ in points), max(x for x, _ in points)) == (0.0, 60.0)


@pytest.mark.parametrize("size", [(100.0, 80.0), (900.0, 80.0), (80.0, 900.0), (700.0, 500.0)])
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_tiles_cover_the_drawing_with_laps(size: tuple[float, float], paper: str) -> None:
    laid = tiling(size, PAPERS[paper])
    for have, give, count in zip(size, laid.room, (laid.columns, laid.rows), strict=True):
        assert count * give - (count - 1) * LAP_MM >= have - 1e-9
        assert count == 1 or (count - 1) * give - (count - 2) * LAP_MM < have
    assert laid.room == (laid.page[0] - 2 * EDGE_MM, laid.page[1] - HEAD_MM - FOOT_MM)


def test_a_template_larger_than_the_paper_goes_over_several_pages() -> None:
    data = made(wide_pocket())
    assert data is not None
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            wide, high = page.get_size()
            inside = [box for box in characters(page) if 0 < box[0] < box[2] < wide and 0 < box[1] < box[3] < high]
            assert meeting(inside) == []
    texts = page_texts(data)
    assert "page 1 of 4: row 1, column 1" in texts[0]
    assert sum("Pocket for the receiver" in text for text in texts) == 4


def test_the_cable_way_keeps_clear_of_plate_and_batten() -> None:
    known = sizes("foyer")
    at = known["cable.at"]
    assert at - 4 >= known["plate.inset"] + known["plate.leg"]
    assert at - 4 >= known["front.moulding.body"] + known["batten.width"]
    text = next(text for text in page_texts(document("foyer")) if "Cable way of the lights" in text)
    assert squeezed(known.show(at, "mm")) in squeezed(text)


def test_what_has_nothing_to_template_gives_nothing() -> None:
    assert made(design("archive-mirror")) is None
    assert made(design("glass-only")) is None
    assert [one.title for one in templates(sizes("frame-only"))] == ["Pocket for the badge"]


def test_the_same_bytes_each_time() -> None:
    assert made(design("foyer")) == document("foyer")
