"""Readings in the chain: which place decides, what follows them, what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfsilver.errors import JobError
from halfsilver.files.located import locate
from halfsilver.ledger.ledger import Origin
from halfsilver.ledger.shown import shower
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.finding import Severity
from halfsilver.model.job import Reading
from halfsilver.services.decide import decided
from halfsilver.services.findings import findings
from halfsilver.services.load import Loaded, is_measurable, resolve
from jobs import lit, lit_job, shop, with_limits

IN = 25.4
SHOW = shower(units="in", fraction=32)


def read(*readings: tuple[str, str, float], **changes):
    job = lit_job(**changes)
    return decided(replace(job, measured=tuple(Reading(name=n, at=at, value=v) for n, at, v in readings)), shop())


def rules(design, rule):
    return [finding for finding in findings(design, SHOW) if finding.rule == rule]


def test_the_least_of_an_opening_and_the_greatest_of_a_pane_decide():
    openings = [("front.rebate.width", at, v) for at, v in (("top", 1355.0), ("middle", 1354.0), ("bottom", 1356.0))]
    design = read(
        *openings, ("front.glass.width", "top", 1350.0), ("front.glass.width", "bottom", 1352.5), ("front.glass.width", "", 1351.0)
    )
    assert design.ledger["front.rebate.width"] == 1354.0
    assert design.ledger["front.glass.width"] == 1352.5
    assert design.ledger["front.clearance.width"] == pytest.approx(1354.0 - 1352.5)
    # By the workshop's tape of class II, 0.3 mm + 0.2 mm for each metre begun: 0.7 mm at 1.35 m, on both.
    assert tolerance(design.ledger, "front.clearance.width").low_mm == pytest.approx(1.5 - 2 * 0.7)


def test_the_later_reading_at_a_place_counts_and_the_older_stays():
    design = read(("front.rebate.width", "top", 1350.0), ("front.rebate.width", "top", 1355.0))
    assert design.ledger["front.rebate.width"] == 1355.0
    assert len(design.ledger.measurements) == 2


def test_without_a_rule_of_places_the_last_reading_counts_for_size_and_for_what_is_there():
    design = read(("front.moulding.rebate_depth", "left", 25.0), ("front.moulding.rebate_depth", "right", 26.0))
    assert design.ledger["front.moulding.rebate_depth"] == 26.0


@pytest.mark.parametrize("through", ["long", "short"])
def test_each_batten_takes_the_reading_at_its_own_place(through):
    # Common practice: the pair that runs through is as long as its rebate, the other as its rebate less two battens.
    places = [("front.rebate.width", "top", 1356.0), ("front.rebate.width", "bottom", 1354.5)]
    places += [("front.rebate.height", "left", 777.0), ("front.rebate.height", "right", 778.0)]
    design = read(*places, batten=f"3/4 in, through: {through}")
    between = {"long": 0.0, "short": 0.0} | {"short" if through == "long" else "long": 2 * 0.75 * IN}
    v = design.ledger.values
    assert v["batten.long.top"] == pytest.approx(1356.0 - between["long"])
    assert v["batten.long.bottom"] == pytest.approx(1354.5 - between["long"])
    assert v["batten.short.left"] == pytest.approx(777.0 - between["short"])
    assert v["batten.short.right"] == pytest.approx(778.0 - between["short"])
    assert v["batten.long"] == pytest.approx(1354.5 - between["long"])  # without a place: the least
    assert design.ledger.origin("front.rebate.width.top") is Origin.MEASURED
    cut = {part.id: (part.size_mm[0], part.quantity) for part in design.parts if part.id.startswith("batten")}
    assert cut["batten-long-top"] == (pytest.approx(1356.0 - between["long"]), 1)
    assert cut["batten-short-right"] == (pytest.approx(778.0 - between["short"]), 1)
    assert len(cut) == 4


def test_equal_readings_or_one_place_leave_one_pair_of_battens():
    for places in ([("front.rebate.width", "top", 1355.0)], [("front.rebate.width", at, 1355.0) for at in ("top", "bottom")]):
        parts = [part for part in read(*places).parts if part.id.startswith("batten-long")]
        assert [(part.id, part.quantity) for part in parts] == [("batten-long", 2)]


def test_cover_and_hidden_picture_follow_a_measured_rebate():
    # 2 mm less between the front walls brings either batten 1 mm further in; the screen stays centred behind.
    plan = lit()
    for name in ("front.rebate.width", "rear.rebate.width"):
        narrow = read((name, "", plan.ledger[name] - 2.0))
        moved = 1.0 if name.startswith("front") else 0.0  # the rear lip reaches less far than the battens
        for side in ("left", "right"):
            for entry in (f"cover.{side}", f"hidden.{side}.axis"):
                assert narrow.ledger[entry] - plan.ledger[entry] == pytest.approx(moved, abs=1e-9), (name, entry)
        assert narrow.ledger["cover.top"] == pytest.approx(plan.ledger["cover.top"])


def test_glass_batten_strip_and_sight_follow_a_measured_rebate():
    # Common practice: everything that goes into an opening follows its reading.
    plan, less = lit().ledger, read(("front.rebate.width", "", lit().ledger["front.rebate.width"] - 3.175)).ledger
    for name in ("front.glass.width", "batten.long", "strip.run.width", "front.sight.width"):
        assert plan[name] - less[name] == pytest.approx(3.175), name


def test_a_measured_depth_moves_the_battens_and_the_gap():
    plan, deep = lit().ledger, read(("front.remaining", "", lit().ledger["front.remaining"] - 0.8)).ledger
    assert plan["batten.depth"] - deep["batten.depth"] == pytest.approx(0.8)
    assert plan["gap"] - deep["gap"] == pytest.approx(0.8)


def test_every_measurable_entry_takes_a_reading_and_what_is_left_is_told():
    plan = lit()
    for name in (n for n in plan.ledger.entries if is_measurable(plan.ledger, n)):
        design = read((name, "", plan.ledger[name] + 0.5))
        assert design.ledger[name] == pytest.approx(plan.ledger[name] + 0.5)
        assert design.ledger.planned[name] == pytest.approx(plan.ledger[name])
        assert design.parts


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("front.clearance.width", "not-measured"),
        ("fit.glass", "not-measured"),
        ("front.rebat.width", "unknown-name"),
        ("gap", "not-measured"),
    ],
)
def test_a_reading_of_what_nobody_can_measure_is_placed_in_the_file(name, code):
    with pytest.raises(JobError) as caught:
        resolve(loaded(f"measured: [{{name: {name}, value: 100 mm}}]"))
    assert [(p.code, p.path, p.line > 0) for p in caught.value.problems] == [(code, "measured[0].name", True)]


@pytest.mark.parametrize("value", ["0 mm", "-53 in"])
def test_a_reading_of_nothing_is_refused(value):
    with pytest.raises(JobError) as caught:
        resolve(loaded(f"measured: [{{name: front.rebate.width, value: {value}}}]"))
    assert [(p.code, p.path) for p in caught.value.problems] == [("no-length", "measured[0].value")]
    assert resolve(loaded("measured: [{name: rear.planed, value: 0 mm}]")).ledger["rear.planed"] == 0.0


def loaded(more):
    from jobs import LIT, PLAIN

    text = LIT.format(**{**PLAIN, "more": more})
    return Loaded("job.yaml", text, locate(text), lit_job(more=more), shop())


def test_a_pane_that_no_longer_fits_is_a_stop_and_one_that_was_cut_small_a_note():
    plan = lit().ledger
    small = [("front.glass.width", "", plan["front.glass.width"] - 3.0)]
    assert [f.severity for f in rules(read(*small), "fit.already_cut")] == [Severity.NOTE]
    closed = [("front.glass.width", "", plan["front.glass.width"]), ("front.rebate.width", "", plan["front.glass.width"] - 1.0)]
    assert [f.severity for f in rules(read(*closed), "fit.already_cut")] == [Severity.STOP]
    assert rules(read(("front.glass.width", "", plan["front.glass.width"])), "fit.already_cut") == []


def test_a_batten_that_was_cut_is_compared_with_its_rebate():
    length = lit().ledger["batten.long"]
    assert rules(read(("batten.long", "", length + 0.4)), "fit.already_cut") == []
    for off, said in ((1.0, "Trim it"), (-1.0, "Cut another")):
        told = rules(read(("batten.long", "", length + off)), "fit.already_cut")
        assert [f.severity for f in told] == [Severity.CAUTION]
        assert said in told[0].advice


def test_measuring_tightens_the_play_of_the_screen():
    # Saw 1.5 on either stick and 1.0 on the outline, or tape 0.5 on both: the worst play is 3 - 2.5 or 3 - 1.0.
    workshop = with_limits(shop(), saw=1.5, screen_tape=1.0, tape=type(shop().limits.tape)(constant=0.5))
    keys = {"units": "mm", "width": "1000 mm", "height": "700 mm", "fit_screen": "3 mm", "moulding": "plain-40"}
    readings = "measured: [{name: rear.rebate.width, value: 1003 mm}, {name: screen.outline.width, value: 1000 mm}]"
    assert tolerance(lit(workshop, **keys).ledger, "screen.play.width").low_mm == pytest.approx(0.5)
    assert tolerance(lit(workshop, **keys, more=readings).ledger, "screen.play.width").low_mm == pytest.approx(2.0)
