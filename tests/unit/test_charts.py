"""Charts of what will be seen: the points they draw are the numbers of the appearance, and nothing printed runs into anything."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from math import log10
from pathlib import Path
from xml.etree import ElementTree

import pytest

from halfsilver.documents.charts import chart_files, chart_rows, charts
from halfsilver.drawing.chart import Axis, Plot, curve, even_axis, log_axis, side_labels
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.scene import Circle, Polyline, Text
from halfsilver.drawing.style import Pen
from halfsilver.drawing.view import Scale, View
from halfsilver.model.finding import Severity
from halfsilver.model.job import Units
from halfsilver.services.appearance.charts import charts_of
from halfsilver.services.appearance.findings import appearance_findings
from halfsilver.services.appearance.predict import predicted
from halfsilver.services.load import load, resolve

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("foyer", "archive-mirror", "kit-mirror")


@cache
def made(name: str):
    return _made(EXAMPLES / f"{name}.yaml")


def _made(path: Path):
    loaded = load(str(path), workshop=None)
    design = resolve(loaded)
    record = predicted(loaded, design)
    return loaded, design, record, charts_of(design, record)


def drawn(name: str):
    _, design, _, shown = made(name)
    return {chart.name: chart for chart in charts(shown, units=design.facts.job.units)}


@pytest.mark.parametrize(
    ("name", "names"),
    [
        ("foyer", {"light-images", "viewing-zone", "contrast", "spectra-front", "spectra-rear"}),
        ("archive-mirror", {"viewing-zone", "contrast", "spectra-front"}),
        ("kit-mirror", {"light-images", "spectra-front", "spectra-rear"}),
    ],
)
def test_each_construction_has_the_charts_of_what_it_has(name, names):
    assert set(drawn(name)) == names


@pytest.mark.parametrize("name", JOBS)
def test_no_text_of_a_chart_runs_into_another(name):
    for chart in drawn(name).values():
        assert [one for one in overlaps(sheet_of(View(scene=chart.scene, scale=Scale(1.0)))) if one.on_text] == [], chart.name


@pytest.mark.parametrize("name", JOBS)
def test_files_are_whole_documents_and_the_same_each_time(name):
    _, design, _, shown = made(name)
    once = chart_files(charts(shown, units=design.facts.job.units))
    assert once == chart_files(charts(shown, units=design.facts.job.units))
    for data in once.values():
        root = ElementTree.fromstring(data.decode())
        assert root.tag.endswith("svg")
        assert set(re.findall(r'font-family="([^"]+)"', data.decode())) == {"Inter"}


def test_discs_of_the_light_images_stand_at_depth_and_luminance():
    _, _, record, shown = made("foyer")
    viewer = record.viewers[shown.images.viewer]
    assert [(one.depth_mm, one.luminance_cd_m2) for one in shown.images.points] == [
        (one.depth_mm.value, one.luminance_cd_m2.value) for one in viewer.light_images
    ]
    discs = [one for one in drawn("foyer")["light-images"].scene.items if isinstance(one, Circle)]
    assert len(discs) == len(viewer.light_images)
    # Equal round trips lie equally far apart, and fall by equal steps of the logarithm at the same angle: depth m and m + 2.
    x = [disc.centre[0] for disc in discs]
    assert x[4] - x[2] == pytest.approx(x[2] - x[0])
    first, third = viewer.light_images[0], viewer.light_images[2]
    decade = (discs[0].centre[1] - discs[2].centre[1]) / log10(first.luminance_cd_m2.value / third.luminance_cd_m2.value)
    assert decade == pytest.approx(74.0 / 7)  # 0.01 to 100 000 over 74 mm


def test_visible_images_are_those_above_the_threshold():
    _, _, record, shown = made("foyer")
    count = sum(one.luminance_cd_m2 >= shown.images.threshold_cd_m2 for one in shown.images.points)
    assert count == shown.images.visible == record.viewers[shown.images.viewer].visible_images.value


def test_the_contrast_curve_goes_through_the_job_and_falls_with_light():
    _, _, record, shown = made("foyer")
    chart = shown.contrast
    before = max(k for k, lux in enumerate(chart.illuminance_lx) if lux <= chart.job_lx)
    assert chart.lit[before] >= chart.job_ratio >= chart.lit[before + 1]
    assert chart.job_ratio == record.viewers[chart.viewer].room_contrast.value
    assert all(a > b for a, b in pairwise(chart.lit))
    assert all(low <= value <= high for low, value, high in zip(chart.low, chart.lit, chart.high, strict=True))
    assert all(off >= on for off, on in zip(chart.unlit, chart.lit, strict=True))


def test_luminous_numbers_of_the_spectra_are_the_printed_ones():
    _, design, _, shown = made("foyer")
    front, rear = shown.spectra
    kind = design.facts.front_glass
    assert front.luminous == pytest.approx((kind.T, kind.R_plain, kind.R_coated), abs=1e-9)  # coated face into the cavity
    kind = design.facts.rear_glass
    assert rear.luminous == pytest.approx((kind.T, kind.R_coated, kind.R_plain), abs=1e-9)


def test_viewers_stand_in_the_map_where_they_stand_in_the_room():
    _, _, record, shown = made("foyer")
    scene = drawn("foyer")["viewing-zone"].scene
    dots = [one for one in scene.items if isinstance(one, Circle) and one.radius_mm > 1]
    zone = shown.zone
    assert len(dots) == len(record.viewers)
    scale = (dots[1].centre[0] - dots[0].centre[0]) / (zone.stands[1].sideways_mm - zone.stands[0].sideways_mm)
    assert (dots[2].centre[1] - dots[0].centre[1]) / (zone.stands[0].distance_mm - zone.stands[2].distance_mm) == pytest.approx(scale)
    assert [one.share for one in zone.stands] == [viewer.picture_share.value for viewer in record.viewers.values()]


def test_every_chart_says_in_plain_words_what_it_shows():
    for name in JOBS:
        rows, pictures = chart_rows(tuple(drawn(name).values()))
        assert {row["file"] for row in rows} == set(pictures)
        assert all(row["says"].endswith((".", ").")) for row in rows)


def test_axes_have_round_marks():
    assert [text for _, text in even_axis("m", 0, 4000, factor=1e-3).ticks] == ["0", "1", "2", "3", "4"]
    axis = log_axis("cd/m2", 0.02, 40_000)
    assert [text for _, text in axis.ticks] == ["0.01", "0.1", "1", "10", "100", "1000", "10\u2009000", "100\u2009000"]
    assert axis.share(1.0) == pytest.approx(2 / 7)


def test_a_curve_stays_in_its_plot_and_labels_stand_apart():
    plot = Plot(x=Axis(label="", low=0, high=10, ticks=()), y=Axis(label="", low=0, high=1, ticks=()), width_mm=100, height_mm=50)
    line = curve(plot, [-1, 0, 5, 10, 11], [0, -1, 0.5, 2, 0], Pen(width_mm=0.3))
    assert isinstance(line, Polyline)
    assert line.points == ((0.0, 0.0), (50.0, 25.0), (100.0, 50.0))
    heights = sorted(
        one.at[1] for one in side_labels(plot, [(0.5, "a", None), (0.5, "b", None), (0.51, "c", None)]) if isinstance(one, Text)
    )
    assert min(b - a for a, b in pairwise(heights)) > 1.9


def findings_of(tmp_path: Path, text: str):
    path = tmp_path / "job.yaml"
    path.write_text(text, encoding="utf-8")
    loaded, design, record, _ = _made(path)
    return {one.rule: one for one in appearance_findings(design, record, loaded.show)}


def test_metal_films_are_said_to_block_radio_and_dielectric_ones_are_asked_about(tmp_path):
    foyer = (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8")
    clear = findings_of(tmp_path, foyer)
    assert clear["appearance.radio"].severity is Severity.NOTE
    assert clear["appearance.remote_control"].severity is Severity.NOT_RUN
    # 12 % through and 55 % mirrored leave a third that only metal keeps; 12 % times 48 % of light passes both sheets.
    metal = findings_of(tmp_path, foyer.replace("kind: split-t30-4", "kind: chrome-t12-6"))
    assert metal["appearance.radio"].severity is Severity.CAUTION
    assert "chrome-t12-6" in metal["appearance.radio"].advice
    assert "5.8%" in metal["appearance.remote_control"].advice


def test_a_sensor_gets_what_the_sheets_pass(tmp_path):
    """T1 T2/(1 - R1 R2) of the foyer's sheets, 0.48, 0.30, 0.48 and 0.68: the sum of a geometric series."""
    found = findings_of(tmp_path, (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8"))
    assert found["appearance.light_sensor"].value == pytest.approx(0.48 * 0.30 / (1 - 0.48 * 0.68), abs=1e-4)


def test_the_inside_of_the_frame_is_said_where_it_shows(tmp_path):
    foyer = (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8")
    assert "appearance.beside_picture" not in findings_of(tmp_path, foyer)
    wide = findings_of(tmp_path, foyer.replace("sight_margin: 0 in", "sight_margin: 1 in"))
    assert wide["appearance.beside_picture"].severity is Severity.CAUTION
    assert "frame's inside" in wide["appearance.beside_picture"].advice


def test_advice_computes_strips_surround_and_more_rooms():
    _, _, record, _ = made("foyer")
    tried = {(one.change, one.to) for one in record.advice}
    assert {("room", "half the light"), ("room", "a quarter of the light"), ("gap", "half as wide again")} <= tried
    assert ("lights.kind", "line-24-50") in tried
    now = record.viewers[record.advice[0].viewer]
    surround = next(one for one in record.advice if one.change == "surround")
    assert surround.room_contrast == pytest.approx(now.room_contrast.value)
    assert surround.hidden_contrast < now.hidden_contrast.value
    # A quarter of all the room's light lifts the contrast as (L + v/4)/(b + v/4) does.
    quarter = next(one for one in record.advice if one.to == "a quarter of the light")
    assert quarter.room_contrast > 3 * now.room_contrast.value


def test_a_job_in_millimetres_has_axes_in_metres():
    _, design, _, _ = made("archive-mirror")
    assert design.facts.job.units is Units.MILLIMETRE
    assert any(isinstance(one, Text) and one.text.endswith(", m") for one in drawn("archive-mirror")["viewing-zone"].scene.items)
