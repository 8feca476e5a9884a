"""The chain on pieces of every shape: turned, square, small, larger than the screen, of one frame, of unlike mouldings."""

from __future__ import annotations

import pytest

from halfsilver.errors import JobError, NoDesignError
from halfsilver.files.jobs import job_from_text
from halfsilver.layout.design import Design
from halfsilver.layout.screens import screen_facts
from halfsilver.ledger.shown import shower
from halfsilver.model.finding import Severity
from halfsilver.model.job import Job
from halfsilver.services.decide import decided
from halfsilver.services.findings import findings
from jobs import LIT, PLAIN, lit, shop
from properties.strategies import HIDDEN, PLAIN_HIDDEN, hidden_job

IN = 25.4
SHOW = shower(units="mm", fraction=32)


def changed(old: str, new: str, **changes: str) -> Job:
    text = LIT.format(**{**PLAIN, **changes})
    assert old in text
    return job_from_text(text.replace(old, new))


def hidden(**changes: str) -> Design:
    return decided(hidden_job(**changes), shop())


def by_rule(design: Design, rule: str):
    return [finding for finding in findings(design, SHOW) if finding.rule == rule]


# --- turned and square


def test_a_portrait_piece_is_the_landscape_one_turned():
    wide, high = lit(width="1200 mm", height="700 mm"), lit(width="700 mm", height="1200 mm")
    for what in ("outside", "front.rebate", "front.glass", "rear.glass", "front.sight"):
        assert high.ledger[f"{what}.height"] == pytest.approx(wide.ledger[f"{what}.width"]), what
    for what in ("front.stick.long", "front.stick.short", "batten.long", "batten.short", "strip.length", "outside.depth"):
        assert high.ledger[what] == pytest.approx(wide.ledger[what]), what
    without_bars = [sum(p.mass_kg * p.quantity for p in d.parts if "bar" not in p.id) for d in (wide, high)]
    assert without_bars[0] == pytest.approx(without_bars[1])
    long = next(part for part in high.parts if part.id == "front-stick-long")
    assert long.size_mm[0] == pytest.approx(high.ledger["outside.height"])


def test_a_square_piece_has_four_equal_sticks_and_one_pair_of_battens_between():
    design = lit(width="700 mm", height="700 mm")
    v = design.ledger.values
    assert v["front.stick.long"] == v["front.stick.short"]
    assert v["batten.long"] - v["batten.short"] == pytest.approx(2 * v["batten.width"])
    x, y, _ = design.centre_mm
    bar = next(part for part in design.parts if part.id == "bar-top")  # the only part without its counterpart
    assert x == pytest.approx(0.0, abs=1e-9)
    assert y == pytest.approx(bar.mass_kg * bar.at_mm[1] / design.mass_kg)


def test_the_short_battens_may_run_through():
    long, short = lit(), lit(batten="3/4 in, through: short")
    assert short.ledger["batten.short"] == pytest.approx(short.ledger["front.rebate.height"])
    assert short.ledger["batten.long"] == pytest.approx(long.ledger["batten.long"] - 1.5 * IN)


def test_a_recorded_screen_turns_with_everything_on_it():
    # A quarter turn clockwise brings what was below to the left, what was on the right below.
    job = changed(
        "{outline: {width: 53 1/4 in, height: 30 1/2 in, depth: 45 mm},\n"
        "   borders: {left: 7/16 in, right: 7/16 in, top: 7/16 in, bottom: 7/16 in}, mass: 20 kg}",
        "{from: screen-60a, orientation: portrait}",
    )
    screen = screen_facts(job, shop()).screen
    assert (screen.outline.width, screen.outline.height) == pytest.approx((30.5 * IN, 53.25 * IN))
    assert screen.borders.left == pytest.approx(5 / 8 * IN)
    assert [(part.side.value, part.start) for part in screen.sticks_out] == [("left", pytest.approx(25.375 * IN))]
    assert screen.cables.side.value == "bottom"
    assert screen.picture is None


# --- asked sizes


@pytest.mark.parametrize("of", ["outside", "sight", "sheet"])
@pytest.mark.parametrize("make", [lit, hidden])
def test_an_asked_size_is_what_comes_out(of, make):
    design = make(units="mm", more=f"size: {{of: {of}, width: 1600 mm, height: 1000 mm}}")
    name = {"outside": "outside", "sight": "front.sight", "sheet": "front.glass"}[of]
    step = design.ledger["step.timber"] if of == "sight" else 1e-6
    assert design.ledger[f"{name}.width"] == pytest.approx(1600.0, abs=step)
    assert design.ledger[f"{name}.height"] == pytest.approx(1000.0, abs=step)
    if of == "sheet":
        assert design.ledger["front.rebate.width"] == pytest.approx(1600.0 + design.ledger["fit.glass"], abs=design.ledger["step.timber"])


def test_what_is_asked_beyond_the_screen_becomes_margin_each_direction_by_itself():
    v = lit(units="mm", more="size: {of: outside, width: 1600 mm, height: 1000 mm}").ledger.values
    # Half of outside less two bodies of 57.15 mm, outline and 1/8 in of play.
    assert v["fit.sight_margin.width"] == pytest.approx((1600 - 2 * 57.15 - 53.25 * IN - IN / 8) / 2)
    assert v["fit.sight_margin.height"] == pytest.approx((1000 - 2 * 57.15 - 30.5 * IN - IN / 8) / 2)


@pytest.mark.parametrize("make", [lit, hidden])
def test_a_size_smaller_than_the_screen_is_no_design_and_the_nearest_is_one(make):
    with pytest.raises(NoDesignError) as caught:
        make(more="size: {of: outside, width: 900 mm, height: 1000 mm}")
    assert "width by" in caught.value.limit
    width = float(caught.value.nearest.split(":")[1].split("x")[0])
    assert make(more=f"size: {{of: outside, width: {width + 0.05:.2f} mm, height: 1000 mm}}").parts


# --- hidden screens


def test_a_hidden_screen_without_a_size_follows_the_screen():
    v = hidden().ledger.values
    assert v["outside.width"] == pytest.approx(962 + 3.175 + 80, abs=v["step.timber"])
    # The lower border is 8 mm wider: the screen is kept in its rebate and the picture is 4 mm above the middle.
    assert v["window.bottom"] + v["window.height"] / 2 - v["front.glass.height"] / 2 == pytest.approx(4.0, abs=0.05)
    assert v["screen.offset.bottom"] - v["front.moulding.body"] >= v["fit.screen"] / 2 - 1e-6
    assert [f.severity for f in by_rule(hidden(), "sight.window")] == [Severity.NOTE]
    assert not [part for part in hidden().parts if part.id == "backing"]
    assert "backing" not in [layer.part for layer in hidden().layers]


def test_with_room_the_picture_stands_in_the_middle_of_the_sight():
    design = hidden(more="size: {of: sheet, width: 1400 mm, height: 900 mm}")
    v = design.ledger.values
    assert v["window.left"] == pytest.approx((1400 - (962 - 20)) / 2)
    assert v["window.bottom"] == pytest.approx((900 - (557 - 28)) / 2)
    assert by_rule(design, "sight.window") == []
    backing = next(part for part in design.parts if part.id == "backing")
    whole = v["backing.outside.width"] * v["backing.outside.height"] - v["backing.width"] * v["backing.height"]
    assert backing.mass_kg == pytest.approx(whole * v["backing.thickness"] * 700e-9)  # the workshop's 700 kg/m3


def test_a_window_may_stand_off_the_middle_but_not_in_the_frame():
    size = "size: {of: sheet, width: 1400 mm, height: 900 mm}\n"
    design = hidden(more=size + "window: {left: 100 mm, bottom: 300 mm}")
    v = design.ledger.values
    # From the outside: body of 40 mm, half the glass play, the window, less the border of 10 mm.
    assert v["screen.offset.left"] == pytest.approx(40 + v["fit.glass"] / 2 + 100 - 10, abs=v["step.timber"])
    assert v["screen.offset.left"] + v["screen.outline.width"] + v["screen.offset.right"] == pytest.approx(v["outside.width"])
    for window in ("left: 3 mm", "left: 800 mm", "bottom: 3 mm", "bottom: 700 mm"):
        with pytest.raises(NoDesignError, match="Move the window"):
            hidden(more=f"{size}window: {{{window}}}")


def test_one_frame_gives_a_badge_its_pocket():
    badge = ", sticks_out: [{id: badge, side: top, from: 100 mm, to: 150 mm, out: 5 mm}]"
    v = hidden(screen=badge).ledger.values
    assert v["relief.badge.from_picture"] == pytest.approx(10 + 5)
    assert v["relief.badge.into_wall"] == pytest.approx(5 - 3.175 / 2)
    assert v["relief.badge.height"] == pytest.approx(37 - IN / 32, abs=0.01)


@pytest.mark.parametrize(("mounting", "fixing"), [("hung", 6.0), ("standing", 0.0), ("recessed", 0.0)])
def test_only_what_hangs_needs_a_rail(mounting, fixing):
    v = hidden(mounting=mounting).ledger.values
    assert v["wall.fixing"] == fixing
    assert v["outside.depth"] == pytest.approx(v["stack.depth"] + fixing)


# --- mouldings


@pytest.mark.parametrize("moulding", ["slope-44", "undercut-51", "soft-76", "plain-40", "slim-19", "leaf-51"])
def test_a_rear_moulding_of_another_kind_keeps_the_screen_and_the_outside(moulding):
    v = decided(changed("rear: {moulding: gallery-57", f"rear: {{moulding: {moulding}"), shop()).ledger.values
    assert v["outside.width"] - 2 * v["rear.moulding.body"] >= v["screen.outline.width"] + v["fit.screen"] - 1e-6
    assert v["front.rebate.width"] == pytest.approx(v["outside.width"] - 2 * 57.15)
    assert v["cover.left"] == pytest.approx(
        max(57.15 + 7.9375, 57.15 + 19.05 + v["strip.thickness"], v["rear.moulding.body"] + v["rear.moulding.lip"])
        - (v["outside.width"] - v["screen.outline.width"]) / 2
        - 7 / 16 * IN
    )


def test_a_sloped_lip_loses_reach_and_keeps_its_rebate_as_it_is_planed():
    thin, thick = (lit(moulding="slope-44", planed=planed).ledger for planed in ("0 mm", "3 mm"))
    assert thick["rear.moulding.rebate_depth"] == thin["rear.moulding.rebate_depth"]
    assert thin["rear.lip_thickness"] - thick["rear.lip_thickness"] == pytest.approx(3.0)
    assert thick["rear.moulding.lip"] <= thin["rear.moulding.lip"]
    assert thin["outside.depth"] - thick["outside.depth"] == pytest.approx(3.0)


def test_planing_away_the_lip_is_a_problem_of_the_job():
    with pytest.raises(JobError) as caught:
        lit(planed="9 mm")
    assert [(p.code, p.path) for p in caught.value.problems] == [("planed-through", "frame.rear.planed")]


# --- battens, gap


@pytest.mark.parametrize(("depth", "severity"), [("15 mm", Severity.CAUTION), ("30 mm", Severity.STOP)])
def test_an_asked_batten_depth_is_kept_and_judged(depth, severity):
    design = lit(batten=f"3/4 in, depth: {depth}")
    assert design.ledger["batten.depth"] == float(depth.split()[0])
    assert [f.severity for f in by_rule(design, "fit.batten_depth")] == [severity]


@pytest.mark.parametrize("gap", ["20 mm", "40 mm", "60 mm"])
@pytest.mark.parametrize("moulding", ["gallery-57", "plain-40", "undercut-51"])
def test_an_asked_gap_is_met_or_the_nearest_is_named(gap, moulding):
    try:
        design = lit(gap=gap, moulding=moulding)
    except NoDesignError as error:
        nearest = float(error.nearest.split(":")[1].split("mm")[0])
        assert lit(gap=f"{nearest + 0.05:.2f} mm", moulding=moulding).ledger["gap"] == pytest.approx(nearest, abs=0.11)
    else:
        assert design.ledger["gap"] == pytest.approx(float(gap.split()[0]), abs=0.05)
        depths = [(layer.from_mm, layer.to_mm) for layer in design.layers]
        assert all(a <= b for a, b in depths)
        front, rear = (next(layer for layer in design.layers if layer.part == f"{which}-glass") for which in ("front", "rear"))
        assert rear.from_mm - front.to_mm == pytest.approx(design.ledger["gap"])


# --- screens that cannot be


@pytest.mark.parametrize(
    ("borders", "code"),
    [
        ("borders: {left: 30 in, right: 30 in, top: 1 in, bottom: 1 in},", "no-picture"),
        ("picture: {width: 53 in, height: 20 in, left: 1 in, bottom: 1 in},", "picture-outside"),
        ("picture: {width: 90 in, height: 90 in, left: 1 in, bottom: 1 in},", "picture-outside"),
    ],
)
def test_a_picture_that_is_not_in_its_outline_is_a_problem(borders, code):
    job = changed("borders: {left: 7/16 in, right: 7/16 in, top: 7/16 in, bottom: 7/16 in},", borders)
    with pytest.raises(JobError) as caught:
        decided(job, shop())
    assert [p.code for p in caught.value.problems] == [code]


def test_a_picture_by_size_and_place_is_the_one_by_borders():
    by_size = changed(
        "borders: {left: 7/16 in, right: 7/16 in, top: 7/16 in, bottom: 7/16 in},",
        "picture: {width: 52 3/8 in, height: 29 5/8 in, left: 7/16 in, bottom: 7/16 in},",
    )
    assert decided(by_size, shop()).ledger.values == pytest.approx(lit().ledger.values)


def test_a_stick_out_beyond_its_side_is_placed():
    with pytest.raises(JobError, match="not-on-its-side"):
        lit(screen=", sticks_out: [{id: foot, side: left, from: 0 mm, to: 900 mm, out: 5 mm}]")


# --- viewers and what is not given


def test_without_viewers_or_heights_everything_is_still_laid_out():
    design = lit(viewers="")
    assert design.ledger["hidden.left"] == design.ledger["hidden.left.axis"]
    assert [f.severity for f in by_rule(design, "sight.viewers")] == [Severity.NOT_RUN]
    bare = decided(changed("mounting: {kind: hung, centre_height: 60 in, ground: stud}\n", ""), shop())
    assert bare.ledger["viewer.front.up"] == 0.0
    assert any("Assumed: eye of front above the centre" in f.advice for f in by_rule(bare, "assumed.entry"))
    assert [f.severity for f in by_rule(bare, "access.protrusion")] == [Severity.NOT_RUN]


def test_an_eye_far_to_the_side_sees_nothing_and_never_less():
    design = lit(viewers="{id: far, distance: 100 mm, sideways: 50 m}")
    assert design.ledger["seen.far"] == 0.0
    assert design.ledger["hidden.share"] == 1.0


# --- too small to be made


@pytest.mark.parametrize("keys", [{"batten": "400 mm"}, {"fit_glass": "2 m"}])
def test_an_opening_that_closes_is_no_design(keys):
    with pytest.raises(NoDesignError, match="Nothing is left"):
        lit(**keys)


def test_a_side_without_one_segment_and_a_bar_without_room_are_told():
    small = lit(width="130 mm", height="100 mm", border="2 mm")
    assert [f.severity for f in by_rule(small, "fit.strip_run")] == [Severity.STOP]
    assert by_rule(lit(), "fit.strip_run") == []
    tiny = hidden(width="60 mm", height="50 mm", bottom="10 mm")
    assert [f.severity for f in by_rule(tiny, "frame.bar_length")] == [Severity.CAUTION]
    assert all(part.mass_kg > 0 for part in tiny.parts)
    assert by_rule(hidden(), "frame.bar_length") == []


def test_nothing_of_a_job_is_lost_without_its_rear_sheet_or_lights():
    for old, path in (
        (", rear: {kind: split-t30-4}}", "glass.rear"),
        ("lights: {kind: tape-24-100, feed: one-end, corner: bottom-left}\n", "lights"),
    ):
        with pytest.raises(JobError) as caught:
            decided(changed(old, "}" if path == "glass.rear" else ""), shop())
        assert [(p.code, p.path) for p in caught.value.problems] == [("missing", path)]
    bare = HIDDEN.format(**PLAIN_HIDDEN)
    start, end = bare.index("screen:"), bare.index("viewers:")
    with pytest.raises(JobError, match=r"screen\.outline"):
        decided(job_from_text(bare[:start] + bare[end:]), shop())
