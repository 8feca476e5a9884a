"""What a job's viewers see, held against the closed formulas worked by hand.

Two sheets: T1 T2/(1 - R1 R2), echoes (R1 R2)^n at 2 n g tan(theta), images L0 T1 R2^ceil(m/2) R1^floor(m/2), all derived (geometric series
and mirror images). Contrast in a lit room as in ISO 9241-305. Numbers of the glass are those its invented supplier prints.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from math import atan, degrees, hypot, log, pi, tan
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli
from halfsilver.errors import JobError
from halfsilver.files.workshop import copy_workshop
from halfsilver.layout.design import Design
from halfsilver.model.appearance import AppearanceRecord, ScalarRecord, ViewerRecord
from halfsilver.model.finding import Severity
from halfsilver.optics.sheets import no_sheet
from halfsilver.optics.spectra import white_led
from halfsilver.optics.stray import Run, run_illuminance_lx, through_rear_lx
from halfsilver.services.appearance.findings import NOT_COMPUTED, appearance_findings, with_appearance
from halfsilver.services.appearance.predict import predicted
from halfsilver.services.appearance.setting import GRID, mounted_sheet
from halfsilver.services.findings import findings
from halfsilver.services.load import Loaded, load, resolve
from halfsilver.services.records import document
from halfsilver.services.schemas import schema

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FOYER = (EXAMPLES / "foyer.yaml").read_text(encoding="utf-8")
ARCHIVE = (EXAMPLES / "archive-mirror.yaml").read_text(encoding="utf-8")
# Of the foyer's sheets, coated faces into the cavity: T and R towards the cavity, and the front sheet's R towards the viewer.
T1, R1, R1_VIEWER, T2, R2, R2_SCREEN = 0.48, 0.48, 0.45, 0.30, 0.68, 0.66
FAR = "  - {id: far, distance: 190 m, eye_height: 60 in}\n"
Made = tuple[Loaded, Design, AppearanceRecord]


def seen_by(text: str, viewers: str) -> str:
    """A job with other viewers."""
    lines = text.splitlines(keepends=True)
    start = lines.index("viewers:\n") + 1
    end = next(i for i in range(start, len(lines)) if not lines[i].startswith("  - "))
    return "".join((*lines[:start], viewers, *lines[end:]))


@pytest.fixture
def made(tmp_path: Path) -> Callable[..., Made]:
    def make(text: str, *, workshop: Path | None = None) -> Made:
        path = tmp_path / "job.yaml"
        path.write_text(text, encoding="utf-8")
        loaded = load(str(path), workshop=str(workshop) if workshop else None)
        design = resolve(loaded)
        return loaded, design, predicted(loaded, design)

    return make


def with_glass(folder: Path, *rows: str) -> Path:
    """The invented workshop with more sheets in its catalogue."""
    copy_workshop(folder)
    glass = folder / "glass.csv"
    glass.write_text(glass.read_text(encoding="utf-8") + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return folder


def value(number: ScalarRecord | None) -> float:
    assert number is not None
    assert number.low <= number.value <= number.high
    return number.value


def test_screen_and_mirror_through_two_sheets(made: Callable[..., Made]) -> None:
    _, _, record = made(seen_by(FOYER, FAR))
    viewer = record.viewers["far"]
    assert record.basis == "printed"
    assert value(viewer.screen_gain) == pytest.approx(T1 * T2 / (1 - R1 * R2), rel=1e-4)
    assert value(viewer.screen_luminance_cd_m2) == pytest.approx(450 * T1 * T2 / (1 - R1 * R2), rel=1e-4)
    assert value(viewer.screen_peak_cd_m2) == pytest.approx(2 * value(viewer.screen_luminance_cd_m2))
    face = 0.02
    rear = R2 + T2**2 * face / (1 - R2_SCREEN * face)
    assert value(viewer.mirror_reflectance) == pytest.approx(R1_VIEWER + T1**2 * rear / (1 - R1 * rear), rel=1e-4)


def test_ranges_follow_the_limits_of_the_catalogue(made: Callable[..., Made]) -> None:
    _, _, record = made(seen_by(FOYER, FAR))
    gain = record.viewers["far"].screen_gain
    assert gain is not None
    # Both sheets print 3 % as their limit: T up and R down by as much, and the other way about.
    assert gain.high == pytest.approx(0.51 * 0.33 / (1 - 0.45 * 0.65), rel=1e-4)
    assert gain.low == pytest.approx(0.45 * 0.27 / (1 - 0.51 * 0.71), rel=1e-4)


def test_echoes_stand_beside_the_picture(made: Callable[..., Made]) -> None:
    _, design, record = made(seen_by(FOYER, "  - {id: side, distance: 2 m, sideways: 800 mm, eye_height: 60 in}\n" + FAR))
    side, far = record.viewers["side"], record.viewers["far"]
    assert side.echoes is not None
    assert far.echoes is not None
    assert [value(echo.ratio) for echo in far.echoes[:3]] == pytest.approx([(R1 * R2) ** n for n in (1, 2, 3)], rel=1e-3)
    theta = side.incidence_deg
    # The eye stands before the rear face of the front pane: 2 m, the lip and the pane.
    assert theta == pytest.approx(degrees(atan(800 / (2000 + 7.9375 + 6.76))), abs=1e-4)
    gap = design.ledger["gap.optical"]
    assert [value(echo.shift_mm) for echo in side.echoes[:2]] == pytest.approx([2 * n * gap * tan(theta * pi / 180) for n in (1, 2)])


def test_images_of_the_lights(made: Callable[..., Made]) -> None:
    _, design, record = made(seen_by(FOYER, FAR))
    viewer = record.viewers["far"]
    assert viewer.light_images is not None
    L0 = 950 * 0.8 / (pi * 0.010)  # the strip's flux at its dimmer, through 10 mm: phi'/(pi w)
    gap, from_front = design.ledger["gap"], design.ledger["strip.at"] + design.ledger["strip.width"] / 2
    for image in viewer.light_images[:8]:
        m = image.m
        expected = L0 * T1 * R2 ** ((m + 1) // 2) * R1 ** (m // 2)
        assert value(image.luminance_cd_m2) == pytest.approx(expected, rel=2e-3)
        assert value(image.depth_mm) == pytest.approx(m * gap + (from_front if m % 2 == 0 else gap - from_front))
        # 3000 K on the black body (Planck): x 0.4369, y 0.4041; a grey sheet does not move it.
        assert (value(image.x), value(image.y)) == pytest.approx((0.4369, 0.4041), abs=1e-3)
    # Weber: images count while they exceed four times Barten's threshold before what veils them.
    assert viewer.veil_cd_m2 is not None
    background = viewer.veil_cd_m2.value + 0.05 * value(viewer.screen_gain)
    threshold = 0.0078 * (background / 10) ** (log(0.0051 / 0.0078) / log(10))  # straight in the logarithms, 10 to 100 cd/m2
    least = 4 * threshold * background
    count = sum(L0 * T1 * R2 ** ((m + 1) // 2) * R1 ** (m // 2) >= least for m in range(60))
    assert value(viewer.visible_images) == count
    assert value(viewer.visible_round_trips) == (count - 1) // 2


def test_contrast_in_the_room_without_lights(made: Callable[..., Made]) -> None:
    _, _, record = made(seen_by(FOYER, FAR).replace("dim: 0.8", "dim: 0"))
    viewer = record.viewers["far"]
    gain = T1 * T2 / (1 - R1 * R2)
    added = 0.01 * gain**2 * 120 / pi + value(viewer.mirror_reflectance) * 15
    assert value(viewer.room_contrast) == pytest.approx((450 * gain + added) / (0.05 * gain + added), rel=1e-4)
    assert viewer.light_images is None
    assert viewer.visible_images is None


def test_the_worked_example_of_a_part_mirror(made: Callable[..., Made], tmp_path: Path) -> None:
    """Hand-worked: T 0.30, R 0.60, 350 cd/m2 at 1000 : 1, face 0.04 under 300 lx, room 40 cd/m2: X 24.34, contrast 5.29."""
    shop = with_glass(tmp_path / "shop", "worked,Worked example,6,toughened,splitter,30,60,60,0,1.52,2500,yes,,0,,")
    text = seen_by(ARCHIVE, "  - {id: far, distance: 190 m, eye_height: 1500 mm}\n").replace("split-t30-tough-6", "worked")
    text = text.replace("wall_light: 200 lx", "wall_light: 300 lx").replace("facing_luminance: 30", "facing_luminance: 40")
    light = "luminance: {full: 350 cd/m2, black: 0.35 cd/m2}, face: {diffuse: 4 %, mirror: 0 %}"
    _, _, record = made(text.replace("{from: screen-42b}", "{from: screen-42b, " + light + "}"), workshop=shop)
    viewer = record.viewers["far"]
    assert value(viewer.screen_luminance_cd_m2) == pytest.approx(105, abs=0.01)
    assert value(viewer.veil_cd_m2) == pytest.approx(24.34, abs=0.005)
    assert value(viewer.room_contrast) == pytest.approx(5.29, abs=0.005)
    # A face of the surround's own grey and without gloss: only the black level is left, 0.3 x 0.35 before 24.34.
    assert value(viewer.hidden_contrast) == pytest.approx(0.105 / 24.34, rel=1e-3)
    assert value(viewer.hidden_contrast_off) == pytest.approx(0, abs=1e-9)
    assert viewer.room_contrast_lights_off is None
    assert viewer.echoes == ()


def test_a_dark_screen_shows_by_grey_and_by_gloss(made: Callable[..., Made], tmp_path: Path) -> None:
    shop = with_glass(tmp_path / "shop", "worked,Worked example,6,toughened,splitter,30,60,60,0,1.52,2500,yes,,0,,")
    text = seen_by(ARCHIVE, "  - {id: far, distance: 190 m, eye_height: 1500 mm}\n").replace("split-t30-tough-6", "worked")
    light = "luminance: {full: 350 cd/m2, black: 0 cd/m2}, face: {diffuse: 20 %, mirror: 3 %}"
    _, _, record = made(text.replace("{from: screen-42b}", "{from: screen-42b, " + light + "}"), workshop=shop)
    viewer = record.viewers["far"]
    # By hand: (0.20 - 0.04) x 0.09 x 200/pi, and T^2 R_face/(1 - R R_face) of the room's 30 cd/m2, before 0.6 x 30 and the matt backing.
    step = 0.16 * 0.09 * 200 / pi + 0.09 * 0.03 / (1 - 0.6 * 0.03) * 30
    background = 0.6 * 30 + 0.04 * 0.09 * 200 / pi
    assert value(viewer.hidden_contrast) == pytest.approx(step / background, rel=2e-3)
    loaded, design, _ = made(text.replace("{from: screen-42b}", "{from: screen-42b, " + light + "}"), workshop=shop)
    found = {one.rule: one for one in appearance_findings(design, record, loaded.show)}
    assert found["appearance.hidden_screen"].severity is Severity.CAUTION
    assert "shows plainly" in found["appearance.hidden_screen"].advice


def test_turning_a_coating_makes_another_mirror(made: Callable[..., Made]) -> None:
    """An absorbing film: the catalogue prints 45 % from the coated and 19 % from the plain face."""
    text = seen_by(ARCHIVE, "  - {id: far, distance: 190 m, eye_height: 1500 mm}\n").replace("split-t30-tough-6", "chrome-t20-4")
    away, towards = (made(text.replace("coated_side: screen", f"coated_side: {side}"))[2] for side in ("screen", "viewer"))
    face = 0.035
    for record, front, back in ((away, 0.19, 0.45), (towards, 0.45, 0.19)):
        expected = front + 0.2**2 * face / (1 - back * face)
        assert value(record.viewers["far"].mirror_reflectance) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(("axis", "wide"), [("unknown", True), ("none", False), ("90 deg", False)])
def test_unknown_polarisation_widens_the_range_off_axis(made: Callable[..., Made], axis: str, wide: bool) -> None:
    viewers = "  - {id: side, distance: 1 m, sideways: 900 mm, eye_height: 60 in}\n" + FAR
    known = "{id: badge, side: bottom"
    text = seen_by(FOYER, viewers).replace("  from: screen-60a", f"  polarisation: {axis}\n  from: screen-60a")
    assert known in text
    record = made(text)[2]
    off, on = (record.viewers[who].screen_gain for who in ("side", "far"))
    assert off is not None
    assert on is not None
    spread = (off.high - off.low) / off.value - (on.high - on.low) / on.value
    assert (spread > 0.1) is wide


def test_a_polarised_screen_follows_the_law_of_malus(made: Callable[..., Made]) -> None:
    viewers = "  - {id: side, distance: 1 m, sideways: 900 mm, eye_height: 60 in}\n"
    gains = []
    for axis in ("0 deg", "90 deg", "45 deg", "none"):
        text = seen_by(FOYER, viewers).replace("  from: screen-60a", f"  polarisation: {axis}\n  from: screen-60a")
        gains.append(value(made(text)[2].viewers["side"].screen_gain))
    p, s, between, natural = gains
    assert p > s  # in the plane of incidence a dielectric pane passes more
    assert between == pytest.approx((p + s) / 2) == natural


def test_a_lit_mirror_has_no_screen(made: Callable[..., Made]) -> None:
    record = made((EXAMPLES / "kit-mirror.yaml").read_text(encoding="utf-8"))[2]
    for viewer in record.viewers.values():
        assert viewer.screen_gain is None
        assert viewer.echoes is None
        assert viewer.room_contrast is None
        assert viewer.hidden_contrast is None
        assert value(viewer.visible_images) > 10
    told = document("appearance", record)
    assert "screen_gain" not in next(iter(told["viewers"].values()))


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "kit-mirror"])
def test_the_record_follows_its_schema_and_stays_the_same(made: Callable[..., Made], name: str) -> None:
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    told = json.loads(json.dumps(document("appearance", made(text)[2]), allow_nan=False))
    jsonschema.validate(told, schema("appearance"))
    assert told == json.loads(json.dumps(document("appearance", made(text)[2])))
    for viewer in told["viewers"].values():
        for number in viewer.values():
            if isinstance(number, dict):
                assert number["low"] <= number["value"] <= number["high"]


def test_a_measured_spectrum_is_read_from_its_own_side(made: Callable[..., Made], tmp_path: Path) -> None:
    row = "measured,Measured,6,toughened,splitter,30,60,40,2,1.52,2500,yes,,0,,measured.csv"
    shop = with_glass(tmp_path / "shop", row)
    (shop / "measured.csv").write_text("wavelength,t,r_front,r_back\nnm,1,1,1\n370,0.3,0.6,0.4\n800,0.3,0.6,0.4\n", encoding="utf-8")
    text = seen_by(ARCHIVE, "  - {id: far, distance: 190 m, eye_height: 1500 mm}\n").replace("split-t30-tough-6", "measured")
    record = made(text, workshop=shop)[2]
    assert record.basis == "spectral"
    # The coated face looks back at the screen: the viewer meets the plain one.
    assert value(record.viewers["far"].mirror_reflectance) == pytest.approx(0.4 + 0.09 * 0.035 / (1 - 0.6 * 0.035), rel=1e-6)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("380,0.5,0.6,0.4\n780,0.3,0.6,0.4\n", "exceeds 1.02"),
        ("400,0.3,0.6,0.4\n700,0.3,0.6,0.4\n", "known from 400 to 700 nm"),
        ("380,0.3,,0.4\n780,0.3,0.6,0.4\n", "must be"),
        ("780,0.3,0.6,0.4\n380,0.3,0.6,0.4\n", "must increase"),
    ],
)
def test_a_bad_spectrum_is_said_where_the_glass_is_named(made: Callable[..., Made], tmp_path: Path, rows: str, words: str) -> None:
    shop = with_glass(tmp_path / "shop", "measured,Measured,6,toughened,splitter,30,60,40,2,1.52,2500,yes,,0,,measured.csv")
    (shop / "measured.csv").write_text("wavelength,t,r_front,r_back\nnm,1,1,1\n" + rows, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        made(ARCHIVE.replace("split-t30-tough-6", "measured"), workshop=shop)
    problem = caught.value.problems[0]
    assert (problem.code, problem.path) == ("bad-glass", "glass.front.kind")
    assert ARCHIVE.splitlines()[problem.line - 1].startswith("  front: {kind: split-t30-tough-6")
    assert words in problem.allowed


def test_a_colour_that_no_strip_has_is_said_in_its_place(made: Callable[..., Made]) -> None:
    with pytest.raises(JobError) as caught:
        made(FOYER.replace("colour: 3000 K", "colour: 1100 K"))
    assert [(problem.code, problem.path, problem.line > 1) for problem in caught.value.problems] == [
        ("colour-out-of-reach", "lights.colour", True)
    ]


def test_without_viewers_nothing_is_computed_and_that_is_said(made: Callable[..., Made]) -> None:
    loaded, design, record = made(seen_by(FOYER, ""))
    assert record.viewers == {}
    found = appearance_findings(design, record, loaded.show)
    assert [(one.rule, one.severity) for one in found] == [(NOT_COMPUTED, Severity.NOT_RUN)]


def test_what_is_computed_is_no_longer_not_checked(made: Callable[..., Made]) -> None:
    loaded, design, record = made(FOYER)
    plain = findings(design, loaded.show)
    assert NOT_COMPUTED in {one.rule for one in plain}
    every = with_appearance(plain, appearance_findings(design, record, loaded.show))
    rules = {one.rule for one in every}
    assert NOT_COMPUTED not in rules
    assert {"appearance.room_contrast", "appearance.hidden_screen", "appearance.echo", "appearance.visible_images"} <= rules
    order = [list(Severity).index(one.severity) for one in every]
    assert order == sorted(order)


@pytest.mark.parametrize(
    ("room", "severity", "words"),
    [
        ("15 cd/m2", Severity.NOTE, "passive viewing (7 : 1)"),
        ("60 cd/m2", Severity.CAUTION, "below passive"),
        ("2 cd/m2", Severity.NOTE, "analytical"),
        ("1 cd/m2", Severity.NOTE, "full motion"),
    ],
)
def test_contrast_has_a_class(made: Callable[..., Made], room: str, severity: Severity, words: str) -> None:
    """Classes of ANSI/INFOCOMM 3M-2011: 7, 15, 50 and 80 to 1."""
    loaded, design, record = made(FOYER.replace("facing_luminance: 15 cd/m2", f"facing_luminance: {room}"))
    found = next(one for one in appearance_findings(design, record, loaded.show) if one.rule == "appearance.room_contrast")
    assert found.severity is severity
    assert words in found.advice


def test_diodes_merge_at_one_arc_minute(made: Callable[..., Made]) -> None:
    """3438 x 16.667 mm = 57.3 m (20/20 acuity, one arc minute)."""
    loaded, design, record = made(FOYER)
    found = next(one for one in appearance_findings(design, record, loaded.show) if one.rule == "appearance.single_diodes")
    assert found.limit == pytest.approx(3438 * 16.667, rel=1e-3)
    assert "sees points" in found.advice


@pytest.mark.parametrize(
    ("change", "to", "old", "new"),
    [
        ("glass.rear.kind", "split-t50-4", "rear: {kind: split-t30-4", "rear: {kind: split-t50-4"),
        ("glass.front.coated_side", "viewer", "split-t50-lam-6, coated_side: cavity", "split-t50-lam-6, coated_side: viewer"),
        ("lights.dim", "0.4", "dim: 0.8", "dim: 0.4"),
        (
            "room",
            "half the light",
            "wall_light: 120 lx, facing_light: 80 lx, facing_luminance: 15",
            "wall_light: 60 lx, facing_luminance: 7.5",
        ),
    ],
)
def test_advice_is_what_the_changed_job_would_show(made: Callable[..., Made], change: str, to: str, old: str, new: str) -> None:
    text = seen_by(FOYER, "  - {id: side, distance: 2 m, sideways: 800 mm, eye_height: 60 in}\n")
    told = next(one for one in made(text)[2].advice if (one.change, one.to) == (change, to))
    assert old in text
    changed: ViewerRecord = made(text.replace(old, new))[2].viewers["side"]
    for name in ("screen_luminance_cd_m2", "room_contrast", "hidden_contrast", "visible_images", "mirror_reflectance"):
        assert getattr(told, name) == pytest.approx(value(getattr(changed, name)), rel=1e-6), name


def test_advice_names_what_helps_most(made: Callable[..., Made]) -> None:
    record = made(FOYER)[2]
    rear = [one for one in record.advice if one.change == "glass.rear.kind"]
    best = max(rear, key=lambda one: one.room_contrast or 0)
    assert "picture" in best.helps
    assert all("picture" not in one.helps for one in rear if one is not best)
    # A gap of twice the width: the same images twice as far apart.
    gap = next(one for one in record.advice if (one.change, one.to) == ("gap", "twice as wide"))
    assert gap.helps == ("depth",)


def test_extreme_places_have_numbers(made: Callable[..., Made]) -> None:
    viewers = "  - {id: near, distance: 10 mm, sideways: 49 m, eye_height: 60 in}\n  - {id: close, distance: 10 mm}\n"
    record = made(seen_by(FOYER, viewers).replace("facing_luminance: 15", "facing_luminance: 0"))[2]
    assert record.viewers["near"].incidence_deg > 89
    assert value(record.viewers["near"].screen_gain) < 0.1
    dark = (
        FOYER.replace("wall_light: 120 lx", "wall_light: 0 lx")
        .replace("facing_luminance: 15", "facing_luminance: 0")
        .replace("dim: 0.8", "dim: 0")
    )
    assert value(made(dark)[2].viewers["front"].room_contrast) == pytest.approx(9000)  # 450/0.05: the screen's own


def test_a_run_of_strip_by_summing_its_pieces() -> None:
    """Second derivation: short Lambertian pieces, both cosines, inverse square."""
    L, w, h, d, a, step = 2000.0, 10.0, 20.0, 300.0, 250.0, 0.5
    pieces = (hypot(d, h, -a + (i + 0.5) * step) for i in range(round(2 * a / step)))
    expected = sum(L * w * step * (d / r) * (h / r) / r**2 for r in pieces)
    assert run_illuminance_lx(luminance_cd_m2=L, width_mm=w, height_mm=h, run=Run(distance_mm=d, half_length_mm=a)) == pytest.approx(
        expected, rel=1e-5
    )


def test_stray_light_through_ideal_sheets_is_the_sum_of_images() -> None:
    air = no_sheet(**GRID)
    run = Run(distance_mm=300.0, half_length_mm=250.0)
    given = {"spectrum": white_led(colour_temperature_k=3000.0), "luminance_cd_m2": 2000.0, "width_mm": 10.0, "from_rear_mm": 20.0,
             "gap_mm": 30.0, "behind_mm": 5.0}  # fmt: skip
    alone = run_illuminance_lx(luminance_cd_m2=2000.0, width_mm=10.0, height_mm=25.0, run=run)
    # Without sheets only the strips themselves shine, one run on each of two sides.
    assert through_rear_lx(front=air, rear=air, runs=[run], **given) == pytest.approx(2 * alone)
    assert through_rear_lx(front=air, rear=air, runs=[run, run], **given) == pytest.approx(4 * alone)


def test_a_catalogue_entry_faces_as_asked(made: Callable[..., Made]) -> None:
    kind = made(FOYER)[0].workshop.glass["chrome-t20-4"]
    towards, away = (mounted_sheet(kind, faces_viewer=faces, path="glass.front.kind") for faces in (True, False))
    assert towards.response.R_front[0, 0, 40] == pytest.approx(0.45)
    assert away.response.R_front[0, 0, 40] == pytest.approx(0.19)


def test_the_verb_writes_and_tells(tmp_path: Path) -> None:
    out = tmp_path / "appearance.json"
    result = CliRunner().invoke(cli, ["predict", str(EXAMPLES / "foyer.yaml"), "-o", str(out)], catch_exceptions=False)
    assert result.exit_code == 0
    assert json.loads(out.read_text(encoding="utf-8"))["schema"] == "halfsilver/appearance/1"
    for words in ("contrast in the room", "Changes computed, for", "as it is", "appearance.echo"):
        assert words in result.stdout
    assert "safe" not in result.stdout.lower().replace("safety", "")


def test_check_does_not_load_what_only_prediction_needs() -> None:
    code = (
        "import sys\nfrom halfsilver.cli.main import _run\n"
        f"_run(['check', {str(EXAMPLES / 'foyer.yaml')!r}])\nsys.exit('numpy' in sys.modules)\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, stdout=subprocess.DEVNULL).returncode == 0


@pytest.mark.parametrize("glass", ["dark,Nearly opaque,4,float,splitter,2,60,50,3,1.52,2500,yes,,0,40,", "mirror-4"])
@pytest.mark.parametrize("which", ["split-t50-lam-6", "split-t30-4"])
def test_a_sheet_that_passes_nothing_has_numbers(made: Callable[..., Made], tmp_path: Path, glass: str, which: str) -> None:
    shop = with_glass(tmp_path / "shop", *([glass] if "," in glass else []))
    record = made(FOYER.replace(which, glass.split(",")[0]), workshop=shop)[2]
    told = json.dumps(document("appearance", record), allow_nan=False)
    assert "NaN" not in told
    assert record.viewers["front"].screen_gain is not None
    assert value(record.viewers["front"].screen_gain) < 0.02
    assert value(record.viewers["front"].room_contrast) >= 1
