"""Dimension rows, texts, callouts, scales and sheets: where things come to stand on paper."""

from __future__ import annotations

import doctest
import importlib
import itertools
import re
from fractions import Fraction

import pytest
from PIL import ImageFont

from golden.drawing.demo_scenes import SCENES, front_view, section
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.dimensions import place_dimensions
from halfsilver.drawing.fit import fitted, sheet_of
from halfsilver.drawing.fonts import SHIPPED_FONT, Weight, read_metrics
from halfsilver.drawing.gaps import span_inside
from halfsilver.drawing.ink import InkPath, InkText, bounds, leaves
from halfsilver.drawing.lettering import runs, width_mm, wrapped
from halfsilver.drawing.moves import mirrored, moved
from halfsilver.drawing.plot import least_bounds, plot_view, view_bounds
from halfsilver.drawing.png import font_paths
from halfsilver.drawing.scene import (
    Anchor,
    Axis,
    Callout,
    Callouts,
    CoatedFace,
    Dimension,
    Line,
    Polygon,
    Scene,
    Side,
    Text,
    baseline_dimensions,
    dimension_chain,
    flat,
    rectangle,
)
from halfsilver.drawing.sheets import TitleBlock, framed, landscape, room
from halfsilver.drawing.style import DEFAULT_STYLE, Material, Role
from halfsilver.drawing.view import SCALES, Scale, View, largest_scale
from halfsilver.errors import RenderError

PANE = rectangle(x_mm=0, y_mm=0, width_mm=600, height_mm=400, material=Material.GLASS)


def drawn(*items: object, scale: float = 5.0) -> View:
    return View(scene=Scene(items=(PANE, *items)), scale=Scale(scale))  # type: ignore[arg-type]


def millimetres(text: str) -> float:
    """Value of a shop length such as ``53 1/4 in``; 25.4 mm to the inch by definition (NIST SP 811)."""
    return float(sum(Fraction(word) for word in text.removesuffix(" in").split()) * Fraction(254, 10))


def test_a_fraction_is_set_small_and_keeps_its_characters() -> None:
    text = "sight 53 1/4 x 27 15/16 in"
    assert "".join(run.text for run in runs(text)) == text
    assert [run.text for run in runs(text) if run.size < 0.8] == ["1", "4", "15", "16"]


@pytest.mark.parametrize("text", ["sheet 1/3", "2026/03/04", "1/2/3", "and/or", "", "3/41"])
def test_what_is_no_fraction_of_an_inch_stays_plain(text: str) -> None:
    assert [run.text for run in runs(text)] == [text]


def test_width_table_is_that_of_the_shipped_font_files() -> None:
    regular, bold = font_paths()
    from pathlib import Path

    read = read_metrics(Path(regular), Path(bold))
    assert (read.family, read.cap_height, read.regular, read.bold) == (
        SHIPPED_FONT.family, SHIPPED_FONT.cap_height, SHIPPED_FONT.regular, SHIPPED_FONT.bold,
    )  # fmt: skip


@pytest.mark.parametrize("text", ["Front glass", "Relief for the badge", "0123456789", "27 in"])
def test_text_width_agrees_with_another_reader_of_the_font(text: str) -> None:
    font = ImageFont.truetype(font_paths()[0], size=1000, layout_engine=ImageFont.Layout.BASIC)
    em_mm = 2.5 * 1000 / SHIPPED_FONT.cap_height
    assert width_mm(text, size_mm=2.5, font=SHIPPED_FONT) == pytest.approx(font.getlength(text) / 1000 * em_mm, rel=0.005)


def test_bold_is_wider_than_regular() -> None:
    assert width_mm("Front", size_mm=3, font=SHIPPED_FONT, weight=Weight.BOLD) > width_mm("Front", size_mm=3, font=SHIPPED_FONT)


def test_wrapped_text_stays_within_its_room() -> None:
    text = wrapped("the pane is dropped in from behind onto the lip", room_mm=30, size_mm=2.5, font=SHIPPED_FONT)
    assert text.replace("\n", " ") == "the pane is dropped in from behind onto the lip"
    assert width_mm(text, size_mm=2.5, font=SHIPPED_FONT) <= 30


@pytest.mark.parametrize("name", SCENES)
def test_no_text_of_the_demo_scenes_stands_on_anything(name: str) -> None:
    build, scale = SCENES[name]
    assert overlaps(View(scene=build(), scale=Scale(scale), caption="Caption")) == ()


@pytest.mark.parametrize("name", SCENES)
def test_no_text_of_the_views_from_behind_stands_on_anything(name: str) -> None:
    build, scale = SCENES[name]
    behind = Scene(items=tuple(mirrored(item) for item in build().items))
    assert overlaps(View(scene=behind, scale=Scale(scale))) == ()


def test_two_texts_on_one_place_are_found() -> None:
    notes = [Text(at=(300, 200), text=word, anchor=Anchor.MIDDLE_CENTRE) for word in ("front", "glass")]
    (found,) = overlaps(drawn(*notes))
    assert (found.text, found.other, found.on_text) == ("front", "glass", True)


def test_a_turned_text_is_judged_by_its_own_box() -> None:
    a = Text(at=(300, 200), text="a long text set straight across", anchor=Anchor.MIDDLE_CENTRE)
    upright = Text(at=(300, 300), text="upright", anchor=Anchor.MIDDLE_CENTRE, rotation_deg=90)
    assert overlaps(drawn(a, upright)) == ()
    assert overlaps(drawn(a, moved(upright, by_mm=(0, -100))))[0].on_text


def test_a_text_on_an_outline_is_found() -> None:
    (found,) = overlaps(drawn(Text(at=(600, 200), text="on the edge", anchor=Anchor.MIDDLE_CENTRE)))
    assert (found.other, found.on_text) == ("outline", False)


def test_hatch_and_centre_lines_give_way_to_a_text() -> None:
    view = drawn(
        Line(start=(0, 200), end=(600, 200), role=Role.CENTRE), Text(at=(300, 200), text="Front glass", anchor=Anchor.MIDDLE_CENTRE)
    )
    (centre,) = [p for p in leaves((plot_view(view),)) if isinstance(p, InkPath) and p.role is Role.CENTRE]
    assert len(centre.chains) == 2
    assert overlaps(view) == ()


def test_no_hatch_line_runs_behind_a_text() -> None:
    timber = rectangle(x_mm=0, y_mm=0, width_mm=600, height_mm=400, material=Material.METAL)
    note = Text(at=(300, 200), text="Stepped bar", anchor=Anchor.MIDDLE_CENTRE)
    ink = list(leaves((plot_view(View(scene=Scene(items=(timber, note)), scale=Scale(5))),)))
    (box,) = [part.corners() for part in ink if isinstance(part, InkText)]
    lines = [chain for part in ink if isinstance(part, InkPath) and part.role is Role.HATCH and part.pen for chain in part.chains]
    assert len(lines) > 50
    assert not [line for line in lines if span_inside((line[0], line[1]), box)]


def test_an_opening_is_neither_tinted_nor_hatched() -> None:
    ring = Polygon(
        points=((0, 0), (100, 0), (100, 100), (0, 100)), holes=(((20, 20), (80, 20), (80, 80), (20, 80)),), material=Material.METAL
    )
    ink = [p for p in leaves((plot_view(View(scene=Scene(items=(ring,)), scale=Scale(1))),)) if isinstance(p, InkPath)]
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for p in ink if p.role is Role.HATCH and p.pen for a, b in p.chains]
    assert middles
    assert not [m for m in middles if 20 < m[0] < 80 and 20 < m[1] < 80]
    assert [len(p.chains) for p in ink if p.fill] == [2]


def test_an_open_edge_gets_no_outline() -> None:
    part = rectangle(x_mm=0, y_mm=0, width_mm=100, height_mm=50, open_edges=(1,))
    (outline,) = leaves((plot_view(View(scene=Scene(items=(part,)), scale=Scale(1))),))
    assert isinstance(outline, InkPath)
    assert len(outline.chains) == 3
    assert not [chain for chain in outline.chains if chain[0][0] == chain[1][0] == 100]


def test_a_coated_face_is_marked_on_the_left_of_its_way() -> None:
    (line,) = leaves((plot_view(View(scene=Scene(items=(CoatedFace(start=(0, 0), end=(0, 50)),)), scale=Scale(1))),))
    assert isinstance(line, InkPath)
    assert all(x < 0 for x, _ in line.chains[0])


@pytest.mark.parametrize(("end", "side", "up"), [((40, 30), Side.ABOVE, 1), ((40, 30), Side.BELOW, -1), ((-40, 30), Side.ABOVE, -1)])
def test_an_aligned_dimension_stands_on_the_side_asked_for(end: tuple[float, float], side: Side, up: int) -> None:
    view = View(scene=Scene(items=(Dimension(start=(0, 0), end=end, text="50", axis=Axis.ALIGNED, side=side),)), scale=Scale(1))
    (placed,) = place_dimensions(view)
    x, y = placed.frame.paper((placed.low + placed.high) / 2, placed.line_v)
    assert placed.high - placed.low == pytest.approx(50)  # 3-4-5 triangle
    assert (y - abs(x) * 0.75) * up > 0
    assert -90 < placed.frame.rotation_deg <= 90


def test_short_dimensions_stand_inside_long_ones() -> None:
    parts = [
        Dimension(start=(0, 0), end=(600, 0), text="600", side=Side.BELOW),
        Dimension(start=(100, 0), end=(300, 0), text="200", side=Side.BELOW),
        Dimension(start=(350, 0), end=(500, 0), text="150", side=Side.BELOW),
    ]
    level = {p.dimension.text: p.line_v for p in place_dimensions(drawn(*parts))}
    assert level["200"] == level["150"] < level["600"]


def test_a_chain_stands_in_one_row() -> None:
    chain = dimension_chain([(0, 0), (10, 0), (300, 0), (600, 0)], ["a", "b", "c"], axis=Axis.HORIZONTAL, side=Side.ABOVE, chain="x")
    placed = place_dimensions(drawn(*chain))
    assert len({p.line_v for p in placed}) == 1
    assert [p.raised for p in placed] == [True, False, False]


def test_baseline_dimensions_rise_one_row_each() -> None:
    dims = baseline_dimensions((0, 0), [(100, 0), (250, 0), (600, 0)], ["1", "2", "3"], axis=Axis.HORIZONTAL, side=Side.BELOW)
    levels = [p.line_v for p in place_dimensions(drawn(*dims))]
    assert levels == sorted(levels)
    assert min(b - a for a, b in itertools.pairwise(levels)) >= DEFAULT_STYLE.level_mm - 1e-9


def test_the_wrong_number_of_texts_is_refused() -> None:
    with pytest.raises(RenderError, match="'x' has 2 stations and 2 texts"):
        dimension_chain([(0, 0), (1, 0)], ["a", "b"], axis=Axis.HORIZONTAL, side=Side.ABOVE, chain="x")


@pytest.mark.parametrize("name", SCENES)
def test_printed_inches_are_the_length_between_the_points(name: str) -> None:
    inches = [d for d in flat(SCENES[name][0]().items) if isinstance(d, Dimension) and d.text.endswith(" in")]
    assert inches
    for d in inches:
        assert millimetres(d.text) == pytest.approx(d.measured_mm, abs=25.4 / 64), d.name


def test_callouts_keep_their_texts_apart_and_their_leaders_uncrossed() -> None:
    tips = [(500.0, 200.0), (480.0, 205.0), (460.0, 195.0), (440.0, 204.0), (20.0, 201.0)]
    column = Callouts(entries=tuple(Callout(tip=tip, text=f"part {k}\nsecond line") for k, tip in enumerate(tips)))
    assert overlaps(drawn(column)) == ()


def test_a_callout_leader_goes_round_a_dimension_text() -> None:
    d = Dimension(start=(0, 0), end=(0, 400), text="15 3/4 in", axis=Axis.VERTICAL, side=Side.LEFT)
    column = Callouts(entries=(Callout(tip=(30, 200), text="Glass"),), side=Side.LEFT)
    assert overlaps(drawn(d, column)) == ()


def test_the_largest_scale_that_fits_is_taken() -> None:
    # By hand: 1450 mm at 1:10 is 145 mm, at 1:5 it is 290 mm.
    assert largest_scale((0, 0, 1450, 850), width_mm=180, height_mm=120) == Scale(10)
    assert largest_scale((0, 0, 1450, 850), width_mm=290, height_mm=170) == Scale(5)
    with pytest.raises(RenderError, match="even at 1:50"):
        largest_scale((0, 0, 30000, 10), width_mm=180, height_mm=120)


def test_a_fitted_view_stays_within_its_box() -> None:
    view = fitted(front_view(), box=(20, 40, 200, 180), caption="Front view")
    left, bottom, right, top = view_bounds(view)
    assert left >= 20 and right <= 200 and bottom >= 40 and top <= 180  # noqa: PT018
    assert view.scale in SCALES
    larger = [s for s in SCALES if s < view.scale]
    for scale in larger:
        box = view_bounds(View(scene=view.scene, scale=scale, caption="Front view"))
        assert box[2] - box[0] > 180 or box[3] - box[1] > 140


@pytest.mark.parametrize("name", SCENES)
def test_a_scale_is_passed_over_only_where_all_that_is_printed_would_not_fit(name: str) -> None:
    scene = SCENES[name][0]()
    for scale in SCALES:
        view = View(scene=scene, scale=scale, caption="Front view", at_mm=(30.0, 20.0))
        least, whole = least_bounds(view), view_bounds(view)
        assert least[2] - least[0] <= whole[2] - whole[0] + 1e-9
        assert least[3] - least[1] <= whole[3] - whole[1] + 1e-9
        assert bounds((plot_view(view),)) == pytest.approx(whole, abs=1e-9)
    for reach in (120.0, 180.0, 260.0, 400.0):
        boxes = ((s, view_bounds(View(scene=scene, scale=s))) for s in sorted(SCALES))
        slow = [s for s, (left, bottom, right, top) in boxes if right - left <= reach and top - bottom <= reach]
        if slow:
            assert fitted(scene, box=(0, 0, reach, reach)).scale == slow[0]


def test_a_view_that_cannot_fit_says_so() -> None:
    with pytest.raises(RenderError, match="Front view"):
        fitted(front_view(), box=(0, 0, 40, 40))


def test_leaving_the_hatch_out_does_not_move_a_view() -> None:
    view = View(scene=section(), scale=Scale(1), caption="Section")
    sheet = sheet_of(view)
    assert view_bounds(sheet.views[0])[0] >= 5.0 - 0.5


def test_a_framed_sheet_keeps_texts_apart() -> None:
    cells = (("Job", "Lobby"), ("Scale", "as shown"), ("Units", "inches"), ("Revision", "A"), ("Date", "2026-03-04"), ("Sheet", "1 of 3"))
    block = TitleBlock(title="A long title that has to be broken into more than one line of words", cells=cells)
    for width, height in (landscape("A4"), landscape("A3"), (210.0, 297.0)):
        box = room(width_mm=width, height_mm=height, block=block)
        view = fitted(front_view(), box=box, caption="Front view")
        assert overlaps(framed([view], width_mm=width, height_mm=height, block=block)) == ()


def test_the_check_line_is_a_hundred_millimetres() -> None:
    sheet = framed([], width_mm=297, height_mm=210, block=TitleBlock(title="T", cells=(("Date", "2026-03-04"),)))
    lengths = {round(abs(i.end[0] - i.start[0]), 6) for i in sheet.items if isinstance(i, Line)}
    assert 100.0 in lengths


def test_a_title_block_too_wide_for_its_paper_is_refused() -> None:
    block = TitleBlock(title="T", cells=(("Note", "words " * 40),))
    with pytest.raises(RenderError, match="title block"):
        room(width_mm=210, height_mm=297, block=block)


def test_a_point_that_is_no_number_is_refused() -> None:
    with pytest.raises(RenderError, match="not a number"):
        Scene(items=(Line(start=(0, float("nan")), end=(1, 1)),)).extents()


def test_line_widths_are_those_of_the_standard_series() -> None:
    # ISO 128-20 line width series in mm, from memory.
    series = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0}
    assert {pen.width_mm for pen in DEFAULT_STYLE.pens.values()} <= series


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.1."""
    shares = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("material", [m for m in Material if m is not Material.LIGHT])
def test_lettering_stays_readable_on_every_tint(material: Material) -> None:
    # WCAG 2.1 success criterion 1.4.3: a contrast of at least 4.5 to 1 for text.
    ground = luminance(DEFAULT_STYLE.fillings[material].tint)
    for colour in (DEFAULT_STYLE.text_colour, DEFAULT_STYLE.dimension_colour):
        assert (ground + 0.05) / (luminance(colour) + 0.05) >= 4.5


@pytest.mark.parametrize("name", ["lettering", "moves", "sheets", "spread", "svg", "view"])
def test_examples_in_the_docstrings_hold(name: str) -> None:
    result = doctest.testmod(importlib.import_module(f"halfsilver.drawing.{name}"))
    assert result.attempted
    assert not result.failed


def test_names_in_the_tour_exist() -> None:
    import halfsilver.drawing

    tour = halfsilver.drawing.__doc__ or ""
    imports = re.findall(r"from (halfsilver\.drawing\.\w+) import \(?([^#)]*?)\)?(?:#[^\n]*)?\n(?=    from|\n)", tour)
    assert len(imports) >= 10
    for module, names in imports:
        for name in re.findall(r"\w+", names):
            assert hasattr(importlib.import_module(module), name), (module, name)
