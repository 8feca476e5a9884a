"""Stills of a piece against pinhole geometry, Snell's law and the products of mirrors, all worked out here by hand.

Sheets are grey and the same at all angles, so that the luminance of image m is L T1 R2^ceil(m/2) R1^floor(m/2) and the screen's gain
T1 T2/(1 - R1 R2) (the geometric series, derived).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import asin, atan2, ceil, cos, floor, sin, tan
from pathlib import Path

import numpy as np
import pytest

from halfsilver.errors import JobError, RangeError
from halfsilver.files.jobs import read_job
from halfsilver.optics.cavity import cavity
from halfsilver.optics.films import Response
from halfsilver.optics.picture import GREY, SRGB_TO_XYZ
from halfsilver.optics.sheets import Sheet
from halfsilver.optics.spectra import room_light, screen_primaries, white_led
from halfsilver.optics.standard import WAVELENGTH_NM
from halfsilver.optics.still import Face, Finish, Pane, State
from halfsilver.optics.still_content import bars, clouds, grid, night_sky
from halfsilver.optics.still_render import render_still
from halfsilver.optics.still_tone import KNEE, curve
from halfsilver.optics.still_view import slope_to
from halfsilver.services.appearance.predict import predicted
from halfsilver.services.content import read_content
from halfsilver.services.decide import decided
from halfsilver.services.load import load
from halfsilver.services.pictures import content_for, finish_of, picture, still_of
from jobs import shop

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
T1, R1, T2, R2 = 0.50, 0.48, 0.30, 0.68
ANGLES = np.arange(0.0, 60.1, 1.0)
WHITE = np.ones((36, 64, 3), dtype=np.float32)


@cache
def design(name):
    return decided(read_job(str(EXAMPLES / f"{name}.yaml")), shop())


def sheet(T, R):
    shape = (2, ANGLES.size, WAVELENGTH_NM.size)
    return Sheet(wavelength_nm=WAVELENGTH_NM, incidence_deg=ANGLES, response=Response(*(np.full(shape, one) for one in (R, R, T, T))))


def table(*, r1=R1, r2=R2):
    return cavity(
        sheet(T1, r1), sheet(T2, r2), emitters=white_led(colour_temperature_k=3000), primaries=screen_primaries(), room=room_light()
    )


def dark(viewer, *, width_px=1600, height_px=900, **changes):
    """The foyer's piece in a room without light, its diodes run into one line, its wood black."""
    still, view = still_of(design("foyer"), viewer=viewer, width_px=width_px, height_px=height_px)
    return replace(
        still, table=changes.pop("table", table()),
        room=replace(still.room, illuminance_lx=0.0, mirrored_cd_m2=0.0),
        strip=replace(still.strip, spread_mm=1000.0), space=replace(still.space, wood=0.0), **changes,
    ), view  # fmt: skip


def luminance(still, view, state, content=WHITE, rows=None, **more):
    """Luminance of some rows of the picture."""
    if rows is None:
        return render_still(still, view, state=state, content=content, **more) @ GREY
    return rows_of(still, view, state, rows, content=content, **more) @ GREY


def rows_of(still, view, state, rows, content=WHITE, **more):
    """Some rows of the linear picture."""

    def wanted(part):
        return not isinstance(part, slice) or (part.start < rows.stop and part.stop > rows.start)

    def each(work, parts):
        return map(work, filter(wanted, parts))

    return render_still(still, view, state=state, content=content, each=each, **more)[rows]


def sideways(sine, layers):
    return sum(t * tan(asin(sine / n)) for t, n in layers)


def slope_through(offset, layers):
    """Slope in air of the ray that goes so far aside through layers of (thickness, index), by halving."""
    low, high = 0.0, 0.999
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if sideways(middle, layers) < abs(offset) else (low, middle)
    return np.sign(offset) * low / np.sqrt(1 - low**2)


def pinhole(view, point):
    """Column and row of a point (x, y, z) for a level camera turned about the upright, by rotation."""
    x, y, z = point[0] - view.x_mm, point[1] - view.y_mm, point[2] - view.distance_mm
    turn = atan2(-view.x_mm, view.distance_mm)
    right, ahead = x * cos(turn) + z * sin(turn), x * sin(turn) - z * cos(turn)
    pixels = view.width_px / (2 * view.half)
    return view.width_px / 2 + right / ahead * pixels, view.height_px / 2 - (y / ahead - view.middle) * pixels


def row_level_with_the_eye(view):
    return int(view.slopes_px(0.0, 0.0)[1])


@pytest.mark.parametrize("viewer", ["front", "side"])
def test_each_image_of_the_lights_has_what_the_mirrors_leave_of_it(viewer):
    still, view = dark(viewer, width_px=3600, height_px=2025)
    row = row_level_with_the_eye(view)
    seen = luminance(still, view, State.LIGHTS, rows=slice(row, row + 1))[0]
    strip = next(s for s in still.space.side if s.face is Face.STRIP)
    gap, middle = still.space.gap_mm, sum(strip.behind_mm) / 2
    offset = -(still.frame.width_mm / 2 - strip.inset_mm[0]) - view.x_mm
    for m in range(7):
        depth = m * gap + (middle if m % 2 == 0 else gap - middle)
        slope = slope_through(
            offset, [(view.distance_mm + still.front.depth_mm + depth, 1.0), (still.front.thickness_mm, still.front.index)]
        )
        column = int(view.slopes_px(slope, 0.0)[0])
        expected = still.strip.luminance_cd_m2 * T1 * R2 ** ceil(m / 2) * R1 ** floor(m / 2)
        assert seen[column] == pytest.approx(expected, rel=0.005), m


@pytest.mark.parametrize("viewer", ["front", "side"])
def test_the_still_and_the_numbers_say_the_same_of_each_image(viewer):
    # Two ways through the program: appearance.json reckons one ray, the picture adds up what its pixels cover.
    loaded = load(str(EXAMPLES / "foyer.yaml"))
    images = predicted(loaded, design("foyer")).viewers[viewer].light_images
    still, view = still_of(design("foyer"), viewer=viewer, width_px=3600, height_px=2025)
    dark_still, _ = dark(viewer, table=still.table, width_px=3600, height_px=2025)
    row = row_level_with_the_eye(view)
    seen = rows_of(dark_still, view, State.LIGHTS, slice(row, row + 1))[0] @ SRGB_TO_XYZ.T
    strip = next(s for s in still.space.side if s.face is Face.STRIP)
    for image in images[:5]:
        offset = -(still.frame.width_mm / 2 - strip.inset_mm[0]) - view.x_mm
        layers = [(view.distance_mm + still.front.depth_mm + image.depth_mm.value, 1.0), (still.front.thickness_mm, still.front.index)]
        X, Y, Z = seen[int(view.slopes_px(slope_through(offset, layers), 0.0)[0])]
        assert image.luminance_cd_m2.value == pytest.approx(Y, rel=0.005), image.m
        assert (image.x.value, image.y.value) == pytest.approx((X / (X + Y + Z), Y / (X + Y + Z)), abs=5e-4), image.m


def test_a_little_more_mirror_in_one_sheet_shows_in_its_images():
    peaks = {}
    for r1 in (R1, R1 + 0.02):
        still, view = dark("front", table=table(r1=r1), width_px=2400, height_px=1350)
        row = row_level_with_the_eye(view)
        seen = luminance(still, view, State.LIGHTS, rows=slice(row, row + 1))[0][:600]
        strip = still.strip.luminance_cd_m2 * T1
        peaks[r1] = [seen[(seen > 0.6 * level) & (seen < 1.2 * level)].max() / strip for level in (strip * R1 * R2,)]
    assert peaks[R1 + 0.02][0] / peaks[R1][0] == pytest.approx((R1 + 0.02) / R1, rel=0.005)


@pytest.mark.parametrize("viewer", ["front", "side", "child"])
def test_the_screen_is_as_bright_as_its_gain_says(viewer):
    still, view = dark(viewer, width_px=480, height_px=270)
    still = replace(still, screen=replace(still.screen, axis_deg=None))
    seen = luminance(still, view, State.ON, content=WHITE / 2)[view.height_px // 2, view.width_px // 2]
    level = (still.screen.white_cd_m2 + still.screen.black_cd_m2) / 2
    assert seen == pytest.approx(level * T1 * T2 / (1 - R1 * R2), rel=0.005)


@pytest.mark.parametrize("axis", [0.0, 90.0, None])
def test_polarised_light_of_a_screen_meets_the_sheets_its_own_way(axis):
    still, view = still_of(design("foyer"), viewer="side", width_px=480, height_px=270)
    still = replace(still, screen=replace(still.screen, axis_deg=axis), room=replace(still.room, illuminance_lx=0.0, mirrored_cd_m2=0.0))
    seen = luminance(still, view, State.ON)[view.height_px // 2, view.width_px // 2]
    angle = np.degrees(np.arctan(np.hypot(view.x_mm, view.y_mm) / view.distance_mm))
    azimuth = np.degrees(np.arctan2(view.y_mm, view.x_mm))
    gains = still.table.picture(incidence_deg=angle, to_plane_deg=None if axis is None else axis - azimuth)[:, :, 1].sum(axis=1)
    assert seen == pytest.approx(still.screen.white_cd_m2 * float(np.asarray(still.screen.shares) @ gains), rel=0.01)


@pytest.mark.parametrize("viewer", ["front", "side", "child"])
def test_the_corners_of_the_sight_lie_where_a_pinhole_camera_puts_them(viewer):
    still, view = dark(viewer, width_px=960, height_px=540)
    still = replace(
        still, frame=replace(still.frame, finish=Finish(albedo=(0.0, 0.0, 0.0), gloss=0.0)),
        room=replace(still.room, illuminance_lx=1000.0),
        screen=replace(still.screen, face_diffuse=1.0, beside_diffuse=1.0),
    )  # fmt: skip
    seen = luminance(still, view, State.DARK)
    ledger = design("foyer").ledger
    half_x, half_y, back = ledger["front.sight.width"] / 2, ledger["front.sight.height"] / 2, ledger["front.moulding.lip_thickness"]
    chamfer = 1.6  # the lip's face edge is broken by as much; the edge that shows lies between there and its back
    for sx in (-1, 1):
        for sy in (-1, 1):
            ends = [pinhole(view, (sx * half_x, sy * half_y, -z)) for z in (chamfer, back)]
            column = (min if sx > 0 else max)(end[0] for end in ends)
            row = (max if sy > 0 else min)(end[1] for end in ends)
            assert seen[int(row + sy * 1.6), int(column - sx * 1.6)] > 1.0
            assert seen[int(row + sy * 1.6), int(column + sx * 1.6)] < 1.0
            assert seen[int(row - sy * 1.6), int(column - sx * 1.6)] < 1.0


@pytest.mark.parametrize("viewer", ["front", "side", "child"])
@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_the_picture_begins_where_the_ledger_says_that_it_is_no_longer_hidden(viewer, side):
    still, view = dark(viewer, width_px=960, height_px=540)
    ledger = design("foyer").ledger
    hidden, lit = ledger[f"hidden.{side}.{viewer}"], still.screen.picture
    layers = [
        (view.distance_mm + ledger["depth.front_glass"] + ledger["gap"] + ledger["spacer"], 1.0),
        (ledger["front.glass.thickness"], 1.52), (ledger["rear.glass.thickness"], 1.52),
    ]  # fmt: skip
    edge = {"left": lit.left + hidden, "right": lit.right - hidden, "bottom": lit.bottom + hidden, "top": lit.top - hidden}[side]
    seen = luminance(still, view, State.ON)
    full = still.screen.white_cd_m2 * T1 * T2
    column, row = (int(one) for one in view.slopes_px(-view.x_mm / view.distance_mm, -view.y_mm / view.distance_mm))
    if side in ("left", "right"):
        column, row = view.slopes_px(slope_through(edge - view.x_mm, layers), 0.0)[0], row_level_with_the_eye(view)
        row = min(max(row, 120), 420)
        line, place, inwards = seen[row], column, 1 if side == "left" else -1
    else:
        slope = slope_through(edge - view.y_mm, layers)
        place = view.slopes_px(-view.x_mm / view.distance_mm, slope)[1]
        line, inwards = seen[:, column], 1 if side == "top" else -1
    assert line[int(place + 1.5 * inwards)] > 0.9 * full
    assert line[int(place - 1.5 * inwards)] < 0.1 * full


def test_the_first_echo_steps_aside_by_two_gaps_times_the_tangent():
    still, view = dark("side", width_px=1600, height_px=900)
    content = np.zeros((720, 1280, 3), dtype=np.float32)
    content[300:420, 636:644] = 1.0
    row = row_level_with_the_eye(view)
    middle = still.screen.picture.bottom + (still.screen.picture.top - still.screen.picture.bottom) / 2
    row = int(view.slopes_px(0.0, (middle - view.y_mm) / view.distance_mm)[1])
    seen = luminance(still, view, State.ON, content=content, rows=slice(row, row + 1))[0]
    seen = seen - np.median(seen)
    peak = int(seen.argmax())
    lit = seen > 0.15 * seen[peak]
    edges, _ = view.columns()
    slopes = (edges[1:] + edges[:-1]) / 2
    groups = np.split(np.flatnonzero(lit), np.flatnonzero(np.diff(np.flatnonzero(lit)) > 1) + 1)
    first, second = sorted((float(np.average(slopes[g], weights=seen[g])) for g in groups[:2]), key=lambda s: abs(s - slopes[peak]))
    away = view.distance_mm + still.front.depth_mm + still.space.gap_mm + still.rear.thickness_mm / 1.52 + still.screen.air_mm + 6.76 / 1.52
    # Seen from the eye, the echo is the same line 2 g further back: x = s (d + 2 g).
    assert second * (away + 2 * still.space.gap_mm) == pytest.approx(first * away, rel=0.0005)


def test_off_axis_the_near_side_closes_and_the_far_side_opens():
    pictures = []
    for viewer in ("front", "side"):
        still, view = dark(viewer)
        matt_black = replace(still.screen, face_diffuse=0.0, beside_diffuse=0.0)
        pictures.append(luminance(replace(still, screen=matt_black), view, State.LIGHTS))
    front, side = pictures
    half = front.shape[1] // 2
    lit = [[(picture[450, part] > 1.0).sum() for part in (slice(None, half), slice(half, None))] for picture in (front, side)]
    assert lit[0][0] == pytest.approx(lit[0][1], abs=2)
    assert lit[1][0] > 1.15 * lit[0][0]
    assert lit[1][1] < 0.6 * lit[0][1], lit


@pytest.mark.parametrize(("name", "viewer"), [("foyer", "side"), ("archive-mirror", "seated"), ("kit-mirror", "landing")])
def test_one_sample_with_filtered_edges_is_close_to_many(name, viewer):
    still, view = still_of(design(name), viewer=viewer, width_px=800, height_px=450)
    content = content_for(still, view)
    one, many = (render_still(still, view, state=State.ALL, content=content, samples=count) for count in (1, 16))
    lit = many @ GREY > 0.5
    assert np.sqrt(np.mean((((one - many) @ GREY)[lit] / (many @ GREY)[lit]) ** 2)) < 0.04


def test_a_slanted_edge_of_the_frame_has_no_steps():
    still, view = dark("side", width_px=640, height_px=360)
    still = replace(
        still, frame=replace(still.frame, finish=Finish(albedo=(0.0, 0.0, 0.0), gloss=0.0), wall_depth_mm=0.0),
        room=replace(still.room, illuminance_lx=100.0),
    )  # fmt: skip
    seen = luminance(still, view, State.DARK)[: view.height_px // 4, 250:500]
    heights = (seen / seen[0]).sum(axis=0)
    assert np.abs(np.diff(heights, 2)).max() < 0.02


@pytest.mark.parametrize("state", ["on", "dark", "lights", "all"])
def test_every_state_shows_what_is_switched_on(state):
    linear, png = picture(design("foyer"), viewer="front", state=state, width_px=192, height_px=108)
    light = linear @ GREY
    assert png.startswith(b"\x89PNG")
    assert (light.max() > 2000) == (state in ("lights", "all"))
    plain, _ = picture(design("foyer"), viewer="front", state="dark", width_px=192, height_px=108)
    brighter = (light - plain @ GREY)[40:70, 60:130].mean()
    assert (brighter > 3.0) == (state in ("on", "all"))


def test_the_same_bytes_every_time():
    first, again = (picture(design("foyer"), viewer="side", width_px=192, height_px=108) for _ in range(2))
    assert first[1] == again[1]
    assert np.array_equal(first[0], again[0])
    still, view = still_of(design("foyer"), viewer="side", width_px=192, height_px=108)
    assert np.array_equal(first[0], render_still(still, view, state=State.ALL, content=content_for(still, view)))


def test_the_exposure_is_stated_in_the_file():
    _, png = picture(design("kit-mirror"), viewer="landing", width_px=64, height_px=36)
    assert b"cd/m2 is white" in png


def test_the_tone_curve_is_straight_then_bends_without_a_corner_and_keeps_order():
    light = np.geomspace(1e-3, 1000, 4000)
    shown = curve(light, 1000.0)
    assert np.all(np.diff(shown) > 0)
    assert shown[light <= KNEE] == pytest.approx(light[light <= KNEE])
    assert shown[-1] == pytest.approx(1.0, abs=1e-6)
    step = 1e-6
    before, at, after = curve(np.array([KNEE - step, KNEE, KNEE + step]), 1000.0)
    assert (after - at) / step == pytest.approx((at - before) / step, rel=1e-3)


def test_an_unknown_viewer_is_named_with_those_there_are():
    with pytest.raises(JobError, match="front, side, child"):
        picture(design("foyer"), viewer="frnt")


def test_no_pixels_and_no_samples_are_refused():
    with pytest.raises(RangeError):
        picture(design("foyer"), viewer="front", width_px=0)
    with pytest.raises(RangeError):
        picture(design("foyer"), viewer="front", width_px=16, height_px=9, samples=0)


def test_a_file_that_is_no_image_is_a_problem_with_its_name(tmp_path):
    file = tmp_path / "no.png"
    file.write_bytes(b"not an image")
    with pytest.raises(JobError) as caught:
        read_content(file)
    assert caught.value.problems[0].file == str(file)


def test_an_image_file_becomes_linear(tmp_path):
    from PIL import Image

    Image.new("RGB", (4, 4), (188, 188, 188)).save(tmp_path / "grey.png")
    assert read_content(tmp_path / "grey.png")[0, 0, 0] == pytest.approx(0.5028, abs=1e-3)  # IEC 61966-2-1: 188/255 is 0.5029


@pytest.mark.parametrize(
    ("words", "timber", "darker"),
    [("matt black", "ash", 0.05), ("oiled oak", "", 0.4), ("", "walnut, black", 0.2), ("silver leaf", "", 1.0)],
)
def test_finishes_follow_their_words(words, timber, darker):
    assert max(finish_of(words, timber).albedo) < darker


def test_the_built_in_pictures_stay_within_what_a_screen_shows():
    for draw in (night_sky, grid, bars):
        shown = draw(160, 90)
        assert shown.shape == (90, 160, 3)
        assert shown.min() >= 0
        assert shown.max() <= 1
    assert not np.array_equal(clouds(32, 18, cells=3, octaves=2, seed=1), clouds(32, 18, cells=3, octaves=2, seed=2))


@pytest.mark.parametrize("offset", [-900.0, 40.0, 700.0])
def test_a_thick_pane_bends_a_ray_by_snell(offset):
    pane = Pane(depth_mm=0.0, thickness_mm=60.0, index=1.52)
    assert slope_to(offset, 640.0, (pane,)) == pytest.approx(slope_through(offset, [(640.0, 1.0), (60.0, 1.52)]), rel=1e-6)
