"""Drawings of a design: what is printed is what the ledger holds, what is drawn is as long as it says, and nothing covers anything."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from itertools import pairwise

import ezdxf
import pytest

from documents_cases import NAMES, design, odd_jobs, show_of
from halfsilver.documents.drawings import drawing_files, drawn, scene, scenes, sheets
from halfsilver.documents.section_parts import face_depth_mm
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, shortened
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.fonts import SHIPPED_FONT
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Callouts, Dimension, Scene, flat
from halfsilver.drawing.view import View
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind

# Drawn shorter than they are: a piece is left out between two break lines.
LEFT_OUT = ("screen.offset.", "relief.badge.at", "relief.receiver/../x.at", "relief.山.at")


def views(name: str) -> dict[str, View]:
    made = design(name)
    return dict(drawn(made, show_of(made)).views)


def dimensions(scene: Scene) -> Iterator[Dimension]:
    return (item for item in flat(scene.items) if isinstance(item, Dimension))


def printed(made: Design, name: str) -> str:
    return show_of(made)(made.ledger[name], made.ledger.entries[name].unit)


@pytest.mark.parametrize("name", NAMES)
def test_every_printed_dimension_is_its_ledger_entry(name: str) -> None:
    made = design(name)
    found = [d for view in views(name).values() for d in dimensions(view.scene)]
    assert found
    assert [(d.name, d.text) for d in found if d.text != printed(made, d.name)] == []


def test_the_demo_prints_at_least_forty_entries() -> None:
    assert len({d.name for view in views("foyer").values() for d in dimensions(view.scene)}) >= 40


@pytest.mark.parametrize("name", NAMES)
def test_a_drawing_made_alone_is_the_one_made_with_all(name: str) -> None:
    made = design(name)
    sizes = Sizes(made, show_of(made))
    together = scenes(sizes)
    assert {stem: scene(sizes, stem) for stem in together} == together
    with pytest.raises(KeyError):
        scene(sizes, "section-middle")


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "pockets", "sloped", "slim", "tiny", "huge"])
def test_what_is_drawn_is_as_long_as_it_says(name: str) -> None:
    made = design(name)
    wrong = [
        (stem, d.name, d.measured_mm, made.ledger[d.name])
        for stem, view in views(name).items()
        for d in dimensions(view.scene)
        if not d.name.startswith(LEFT_OUT) and abs(d.measured_mm - made.ledger[d.name]) > 0.01
    ]
    # A reach is formed of actuals; it is drawn as the plan has it, which at no deviation is the same.
    assert wrong == []


@pytest.mark.parametrize("name", [*NAMES, *odd_jobs()])
def test_no_text_covers_anything(name: str) -> None:
    made = design(name)
    on_sheets = {sheet.title: overlaps(sheet) for sheet in sheets(drawn(made, show_of(made)), date="2026-10-01", revision=1)}
    assert {title: found for title, found in on_sheets.items() if found} == {}


def test_a_callout_that_names_an_entry_prints_it() -> None:
    made = design("foyer")
    entries = [e for view in views("foyer").values() for item in flat(view.scene.items) if isinstance(item, Callouts) for e in item.entries]
    named = [e for e in entries if e.name in ("screw.max.plate", "screw.max.bar", "hidden.left", "hidden.bottom", "rear.planed")]
    assert len(named) >= 5
    assert all(printed(made, e.name) in e.text.replace("\n", " ") for e in named)


def test_the_back_is_the_front_exchanged() -> None:
    front, back = (next(d for d in dimensions(views("foyer")[name].scene) if d.name == "outside.height") for name in ("front", "back"))
    assert front.start[0] == -back.start[0] != 0
    assert "viewer's left is at the right" in views("foyer")["back"].caption


def test_the_pocket_is_measured_from_the_left_long_point_and_lies_at_the_right_from_behind() -> None:
    made, scene = design("foyer"), views("foyer")["relief-badge"].scene
    at = next(d for d in dimensions(scene) if d.name == "relief.badge.at")
    width = next(d for d in dimensions(scene) if d.name == "relief.badge.width")
    assert min(at.start[0], at.end[0]) >= max(width.start[0], width.end[0]) - 1e-9
    # From the ledger's chain by hand: 53 1/4 in screen in a 57 7/8 in outside, badge from 25 3/8 in, 3 mm play and a 6.35 mm cutter.
    assert made.ledger["relief.badge.at"] == pytest.approx(((57.875 - 53.25) / 2 + 25.375) * 25.4 - 9.35, abs=1e-6)


def test_the_sight_line_meets_the_picture_where_the_ledger_says() -> None:
    from halfsilver.documents.sight_line import _ray, worst_viewer

    sizes = Sizes(design("foyer"), show_of(design("foyer")))
    for side in ("left", "right", "top", "bottom"):
        who = worst_viewer(sizes, side)
        assert who is not None
        inset, depth = _ray(sizes, side, who)[-1]
        assert depth == sizes["depth.picture"]
        assert inset == pytest.approx(sizes[f"screen.offset.{side}"] + sizes[f"screen.border.{side}"] + sizes[f"hidden.{side}"])
        # On its way it clears every edge and grazes one: found here corner by corner, not by the ledger's own tree.
        spare = [_inset_at(_ray(sizes, side, who), depth) - inset for inset, depth in corners(sizes)]
        assert min(spare) == pytest.approx(0, abs=1e-6)


def corners(sizes: Sizes) -> Iterator[tuple[float, float]]:
    """Inset and depth of every corner that a ray through the foyer's piece may graze."""
    wood = sizes["front.moulding.body"] + sizes["batten.width"]
    start = sizes["depth.batten"]
    yield from ((wood, start), (wood, start + sizes["batten.depth"]))
    yield from ((wood + sizes["strip.thickness"], start + sizes["strip.at"] + along) for along in (0.0, sizes["strip.width"]))
    for which in sizes.frames:
        face = sizes["front.moulding.body"] + sizes["front.moulding.lip"]
        yield from ((face, depth + face_depth_mm(sizes, which)) for depth in (1.6, 7.9375))  # the corners of gallery-57 in the catalogue


def _inset_at(ray: list[tuple[float, float]], depth: float) -> float:
    for (u0, v0), (u1, v1) in pairwise(ray):
        if v0 <= depth <= v1:
            return u0 + (u1 - u0) * (depth - v0) / (v1 - v0)
    raise AssertionError(depth)


def test_the_scope_decides_what_is_drawn() -> None:
    complete, frame, glass = (set(views(name)) for name in ("complete", "frame-only", "glass-only"))
    assert {"front", "back", "section-left", "section-bottom", "relief-badge", "front-glass", "rear-stick-long", "batten-short"} <= complete
    assert "front-glass" not in frame
    assert "rear-stick-long" in frame
    assert "front-glass" in glass
    assert not {"rear-stick-long", "batten-short", "relief-badge"} & glass


def test_hostile_names_of_parts_are_plain_names_of_files() -> None:
    stems = [stem for stem in views("pockets") if stem.startswith("relief")]
    assert len(stems) == 10
    assert all(set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") for stem in stems)


def test_files_are_svg_and_dxf_with_real_dimensions() -> None:
    made = design("foyer")
    files = drawing_files(drawn(made, show_of(made)))
    assert {"front.svg", "front.dxf", "section-left.dxf", "relief-badge.svg"} <= set(files)
    document = ezdxf.read(StringIO(files["front.dxf"].decode()))
    found = {round(d.get_measurement(), 3) for d in document.modelspace().query("DIMENSION")}
    assert {round(57.875 * 25.4, 3), round(35.125 * 25.4, 3)} <= found  # the outside, as the job's own sizes add up
    assert document.audit().errors == []


@pytest.mark.parametrize(("text", "plain"), [("a\tb\nc", "a b c"), ("\u202eevil\u0000", "evil"), ("ﬁ ½ é Ω", "fi ½ é Ω"), ("山", "□")])
def test_only_signs_of_the_shipped_font_are_printed(text: str, plain: str) -> None:
    assert printable(text) == plain


def test_a_shortened_text_fits_its_place() -> None:
    text = shortened("W" * 200, room_mm=40.0, size_mm=2.5)
    assert text.endswith("…")
    assert 36.0 < width_mm(text, size_mm=2.5, font=SHIPPED_FONT) <= 40.0


def test_gaps_are_printed_as_gaps() -> None:
    made = design("foyer")
    names = {d.name for view in views("foyer").values() for d in dimensions(view.scene)}
    assert {"gap", "cover.left", "reach.left", "screen.proud"} <= {name for name in names if made.ledger.entries[name].kind is Kind.GAP}
