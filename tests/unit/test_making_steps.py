"""Build steps: a good shop's order, checkpoints of the ledger, cautions where they belong, and nothing outside the scope.

The order, the counts of pins and what each scope contains are common practice of frame makers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from halfsilver.errors import JobError
from halfsilver.files.jobs import job_from_text
from halfsilver.layout.design import Design
from halfsilver.making.cutting.effort import EffortName
from halfsilver.making.marks import piece_marks
from halfsilver.making.plan import cut_plan
from halfsilver.making.schedule import bound_min, finish_min, schedule, working_days
from halfsilver.making.scope import IN_SCOPE, made_parts
from halfsilver.making.steps import cautions
from halfsilver.making.steps.build import build_steps
from halfsilver.model.job import Scope
from halfsilver.model.making import Step, Trade
from halfsilver.services.decide import decided
from halfsilver.services.making import hourly, making_of
from jobs import lit, shop

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("foyer", "kit-mirror", "archive-mirror", "foyer-measured")


@cache
def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")


@cache
def design(name: str, scope: Scope = Scope.COMPLETE, *changes: tuple[str, str]) -> Design:
    text = re.sub(r"^scope: \S+", f"scope: {scope.value}", text_of(name), flags=re.MULTILINE)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return decided(job_from_text(text, file=f"{name}.yaml"), shop())


def steps(name: str, scope: Scope = Scope.COMPLETE, *changes: tuple[str, str]) -> dict[str, Step]:
    return {step.id: step for step in build_steps(design(name, scope, *changes))}


def every() -> Iterator[tuple[Design, tuple[Step, ...]]]:
    designs = [design(name, scope) for name in NAMES for scope in Scope]
    designs += [design("foyer", Scope.COMPLETE, ("kind: hung", f"kind: {kind}")) for kind in ("standing", "recessed")]
    designs += [spaced(), design("kit-mirror", Scope.COMPLETE, ("kind: split-t30-6", "kind: acrylic-t30-6"))]
    return ((one, build_steps(one)) for one in designs)


@cache
def spaced() -> Design:
    """A gap that only a frame between the two frames gives."""
    return lit(gap="60 mm")


def waited_for(known: dict[str, Step], name: str) -> set[str]:
    """Everything that must be done before a step."""
    before = set(known[name].after)
    return before.union(*(waited_for(known, one) for one in before))


LIT = (
    "plane", "rout-badge", "mitre", "dry-fit", "glue-frame", "clean-frame", "measure", "front-pane", "fit", "fit-batten", "drill", "finish",
    "paint", "front-set", "pin", "strip", "power", "close", "rear-set", "spacer", "screen", "plates", "bars", "soak", "final-clean", "pack",
)  # fmt: skip
MIRROR = (
    "mitre", "dry-fit", "glue-frame", "clean-frame", "measure", "front-pane", "fit", "fit-batten", "drill", "finish", "paint", "front-set",
    "pin", "strip", "power", "close", "rear-set", "pack-mirror", "panel", "soak", "final-clean", "pack",
)  # fmt: skip
HIDDEN = (
    "measure-recess", "mitre", "dry-fit", "glue-frame", "clean-frame", "measure", "front-pane", "fit", "front-set", "backing", "spacer",
    "screen", "plates", "bars", "soak", "final-clean", "pack",
)  # fmt: skip


@pytest.mark.parametrize(("name", "order"), [("foyer", LIT), ("kit-mirror", MIRROR), ("archive-mirror", HIDDEN)])
def test_each_step_waits_for_the_one_before_in_a_good_shop(name: str, order: tuple[str, ...]) -> None:
    known = steps(name)
    for before, after in pairwise(order):
        assert before in waited_for(known, after), f"{after} does not wait for {before}"


@pytest.mark.parametrize(
    ("name", "before", "after"),
    [
        ("foyer", "measure-screen", "mitre"),
        ("foyer", "measure", "rear-pane"),
        ("foyer", "rear-pane", "rear-set"),
        ("foyer", "bench-test", "strip"),
        ("foyer", "make-bars", "bars"),
        ("kit-mirror", "cut-panel", "panel"),
        ("archive-mirror", "paint", "front-set"),
        ("archive-mirror", "cut-backing", "backing"),
    ],
)
def test_side_ways_join_where_they_are_needed(name: str, before: str, after: str) -> None:
    assert before in waited_for(steps(name), after)


def test_battens_are_ripped_before_anything_is_mitred_in_the_list() -> None:
    names = list(steps("foyer"))
    assert names.index("rip") < names.index("mitre")


def test_every_list_can_be_done_in_its_own_order() -> None:
    for _, known in every():
        done: set[str] = set()
        for step in known:
            assert set(step.after) <= done, step.id
            done.add(step.id)
        assert len(done) == len(known)
        assert known[-1].id == "pack"


def test_packing_comes_after_everything() -> None:
    for _, known in every():
        by_id = {step.id: step for step in known}
        assert waited_for(by_id, "pack") == set(by_id) - {"pack"}


def test_every_checkpoint_is_the_ledgers_own_number() -> None:
    for one, known in every():
        points = [point for step in known for point in step.checkpoints]
        assert points
        for point in points:
            assert point.expected_mm == one.ledger[point.entry]
            assert point.label == one.ledger.entries[point.entry].label
            assert one.ledger.entries[point.entry].unit == "mm"
            assert 0 < point.tolerance_mm < 5


def test_tolerances_are_those_of_the_operation() -> None:
    limits, known = shop().limits, steps("foyer")

    def tolerance(step: str, entry: str) -> float:
        return next(point.tolerance_mm for point in known[step].checkpoints if point.entry == entry)

    assert tolerance("mitre", "front.stick.long") == limits.saw
    assert tolerance("rout-badge", "relief.badge.into_wall") == limits.rout
    assert tolerance("plane", "rear.lip_thickness") == pytest.approx(limits.planer)
    assert tolerance("front-pane", "front.glass.width") == pytest.approx(limits.glass_bought)
    assert tolerance("rear-pane", "rear.glass.width") == pytest.approx(limits.glass_cut)
    assert tolerance("fit", "rear.clearance.width") == pytest.approx(limits.saw + limits.glass_cut)
    assert tolerance("glue-frame", "front.diagonal") == limits.squareness


def test_a_reading_is_what_is_expected_from_then_on() -> None:
    point = next(p for p in steps("foyer-measured")["measure"].checkpoints if p.entry == "front.rebate.width")
    assert point.expected_mm == pytest.approx((53 + 11 / 32) * 25.4)  # the least of its three places
    assert point.at == ("top", "middle", "bottom")


def test_pins_as_frame_makers_count_them() -> None:
    # Common practice for a piece a metre and a half wide: five in a long batten, four in a short one.
    pins = steps("foyer")["pin"].fasteners
    assert "5 in each long batten, 4 in each short batten" in pins
    assert "18 ×" in pins
    assert "13 in apart" in pins


# Words of a step's title, tool or text, and the word with which its caution must begin.
HAZARDS: tuple[tuple[str, str], ...] = (
    (r"\bpanes?\b(?! wide)|\bmirror\b(?!.*screen)", "Glass"),
    (r"\b(saw|router|planer|thicknesser|hacksaw|jigsaw|drill|chisel)\b", "Blades"),
    (r"\b(saw|router|planer|thicknesser|sanding|drill)\b", "Dust"),
    (r"\bpin gun\b", "Pins"),
    (r"\b(supply|supplies|mains)\b", "Mains"),
    (r"\b(soldering|powered|lights at full|runs out)\b", "Low voltage"),
    (r"^(?:Glue|Paint|Finish)|\bglue brush\b|\bpaint dull\b|\badhesive\b|^Clean", "Glue, paint"),
    (r"\bhangers\b|\bfeet\b|two people\b|\bcrate\b", "Weight"),
)


@pytest.mark.parametrize(("words", "caution"), HAZARDS)
def test_cautions_stand_where_the_work_is(words: str, caution: str) -> None:
    met = 0
    for _, known in every():
        for step in known:
            if re.search(words, f"{step.title}\n{step.tool}", re.IGNORECASE | re.MULTILINE):
                met += 1
                assert any(said.startswith(caution) for said in step.cautions), f"{step.id} lacks {caution}"
    assert met


def test_a_step_that_touches_glass_says_so() -> None:
    for _, known in every():
        for step in known:
            if any(part.endswith("-glass") for part in step.parts) or re.search(r"\bpanes?\b", step.text):
                assert step.id == "measure" or any(said.startswith("Glass") for said in step.cautions), step.id


def test_cautions_leave_the_decision_to_others_and_never_promise() -> None:
    said = {caution for _, known in every() for step in known for caution in step.cautions}
    told = " ".join(said)
    assert "licensed electrician" in told
    assert "competent installer" in told
    assert sum("ocal codes" in one for one in said) >= 3
    everything = " ".join(f"{step.title} {step.text} {' '.join(step.cautions)}" for _, known in every() for step in known)
    assert not re.search(r"\bsafe(ly)?\b|certified|complies", everything, re.IGNORECASE)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("scope", list(Scope))
def test_no_trade_from_outside_the_scope(name: str, scope: Scope) -> None:
    known = steps(name, scope)
    assert {step.trade for step in known.values()} <= IN_SCOPE[scope]
    made = {part.id for part in made_parts(design(name, scope))} | ({"screen"} if "screen" in known else set())
    assert {part for step in known.values() for part in step.parts} == made


FOREIGN: dict[Scope, str] = {
    Scope.FRAME_ONLY: r"\bscreens?\b|\bpanes?\b|glass|\bstrip\b|\blights\b|\bsupply\b",
    Scope.GLASS_ONLY: r"\bsaw\b|\bmitre|\bbatten|\bglue|\btimber\b|\bsticks?\b|\bpaint(?!ed back)|\bscreens?\b|\bstrip\b",
    Scope.KIT: r"\bpin gun\b|\bclose the case\b|\bsoak\b",
}


@pytest.mark.parametrize("scope", list(FOREIGN))
@pytest.mark.parametrize("name", NAMES)
def test_a_scope_speaks_of_nothing_foreign(name: str, scope: Scope) -> None:
    for step in steps(name, scope).values():
        told = f"{step.title} {step.tool} {step.setting} {step.text} {step.fasteners} {' '.join(step.parts)}"
        assert not re.search(FOREIGN[scope], told, re.IGNORECASE), f"{step.id}: {told}"


def test_a_kit_is_made_and_packed_but_not_put_together() -> None:
    known = steps("foyer", Scope.KIT)
    assert {"mitre", "glue-frame", "front-pane", "fit-batten", "make-bars", "cut-strip", "bench-test", "paint", "pack"} <= known.keys()
    assert not {"pin", "strip", "close", "screen", "soak", "hang"} & known.keys()
    assert "bags" in known["pack"].text
    assert "cut-panel" in steps("kit-mirror", Scope.KIT)


def test_glass_alone_begins_with_the_openings_readings() -> None:
    known = steps("foyer", Scope.GLASS_ONLY)
    assert list(known) == ["measure", "front-pane", "rear-pane", "pack"]
    assert known["measure"].trade is Trade.GLASS
    assert known["front-pane"].after == ("measure",)


def test_glass_bought_to_size_is_ordered_after_measuring_and_waited_for() -> None:
    known = steps("foyer")
    assert known["front-pane"].title.startswith("Order")
    assert known["front-pane"].wait_min == 15 * 1440  # lead_days of split-t50-lam-6 in the catalogue
    assert known["rear-pane"].title.startswith("Cut")
    assert known["rear-pane"].wait_min == 0
    begun = {one.step: one for one in schedule(build_steps(design("foyer")), day_min=480)}
    assert begun["front-set"].start_min >= begun["front-pane"].end_min + 15 * 1440


def test_mountings() -> None:
    hung = steps("foyer")
    assert "2 ×" in hung["hang"].fasteners
    standing = steps("foyer", Scope.COMPLETE, ("kind: hung", "kind: standing"))
    assert "hang" not in standing
    assert "tipping" in standing["stand"].text
    recessed = steps("archive-mirror")
    assert not {"hang", "stand"} & recessed.keys()
    assert [point.entry for point in recessed["measure-recess"].checkpoints] == ["recess.width", "recess.height", "recess.depth"]
    assert "own mount" in recessed["screen"].text  # carried_by: screen-mount


def test_a_frame_between_the_frames_is_ripped_before_it_is_mitred_and_closed_in() -> None:
    known = {step.id: step for step in build_steps(spaced())}
    assert known["rip-between"].checkpoints[0].expected_mm == spaced().ledger["spacer_frame"] > 0
    assert "rip-between" in waited_for(known, "mitre")
    assert {part for part in known["close"].parts if part.startswith("spacer-frame")}
    assert "rip-between" not in steps("foyer")


def test_acrylic_is_sawn_not_scored() -> None:
    pane = steps("kit-mirror", Scope.COMPLETE, ("kind: split-t30-6", "kind: acrylic-t30-6"))["front-pane"]
    assert "score" not in pane.text.lower()
    assert any(said.startswith("Blades") for said in pane.cautions)


def test_a_mirrors_painted_back_goes_to_the_back() -> None:
    text = steps("kit-mirror")["rear-pane"].text
    assert "painted back down" in text
    assert "to the back" in text


def test_working_time_by_hand() -> None:
    known, labour = steps("foyer"), shop().labour
    # plane: 10 min, and 3 min a metre of 2 x 57 7/8 in and 2 x 35 1/8 in: 4.7244 m -> 24.17 min, begun minutes counted
    assert (labour["plane"].fixed, labour["plane"].per_metre) == (600, 180)
    assert known["plane"].work_min == 25
    # mitre: 15 min, and 3 min for each of eight sticks
    assert known["mitre"].work_min == 15 + 8 * 3
    # set a pane: 5 + 8 min, and 10 min a m2 of 53 1/4 x 30 1/2 in: 1.0478 m2 -> 23.48 min
    assert known["front-set"].work_min == 24
    assert known["glue-frame"].wait_min + known["clean-frame"].wait_min == 1440  # full strength after a day: common practice


def test_times_are_those_of_one_piece() -> None:
    one, three = steps("foyer"), steps("foyer", Scope.COMPLETE, ("scope: complete", "scope: complete\nquantity: 3"))
    assert {name: step.work_min for name, step in one.items()} == {name: step.work_min for name, step in three.items()}


def test_every_operation_of_the_table_is_somebodys_and_every_rate_is_known() -> None:
    used: set[tuple[str, float]] = set()
    for one, known in every():
        assert all(step.rate in one.facts.workshop.rates for step in known)
        used |= {(step.rate, step.wait_min) for step in known}
    assert {rate for rate, _ in used} == set(shop().rates)


def test_a_table_without_an_operation_is_refused_by_name() -> None:
    workshop = shop()
    labour = {name: row for name, row in workshop.labour.items() if name != "mitre"}
    poor = decided(design("foyer").facts.job, replace(workshop, labour=labour))
    with pytest.raises(JobError) as refused:
        build_steps(poor)
    assert refused.value.problems[0].read == "mitre"
    with pytest.raises(JobError) as located:
        making_of(poor, folder=Path("shop"))
    told = located.value.problems[0]
    assert (told.code, Path(told.file), told.line, told.column, told.read) == ("labour-missing", Path("shop/labour.csv"), 1, 1, "mitre")


def test_a_step_is_billed_at_its_own_rate() -> None:
    rate, known = hourly(shop()), steps("foyer")
    assert rate(known["rear-pane"]) == Decimal("64.00")
    assert rate(replace(known["rear-pane"], rate="")) == Decimal(shop().prices.hour)
    quick: EffortName = "quick"
    made = making_of(design("archive-mirror"), effort=quick)
    paint = next(line for line in made.bill.lines if line.what == "Paint the inside black and let it cure")
    hours = (Decimal(made.steps[[s.id for s in made.steps].index("paint")].work_min) / 60).quantize(Decimal("0.01"))
    assert paint.total == (hours * Decimal("52.00")).quantize(Decimal("0.01"))


def test_the_earliest_finish_cannot_be_beaten() -> None:
    for _, known in every():
        planned = schedule(known)
        # The bound is a longest way or all the work; one pair of hands may have to keep some of it apart: sawing that all comes
        # before the finish.
        assert bound_min(known) - 1e-9 <= finish_min(planned) <= bound_min(known) + 90
        assert finish_min(schedule(known, day_min=480)) >= finish_min(planned) - 1e-9


def test_working_days_of_the_example() -> None:
    # 15 days for the glass; a day each for glue, finish, paint and the joint, and one of soaking; work in between.
    assert 20 <= working_days(schedule(build_steps(design("foyer")), day_min=480)) <= 23


def test_every_caution_is_a_whole_sentence() -> None:
    told = {text for name, text in vars(cautions).items() if name.isupper()}
    assert len(told) >= 10
    assert [caution for caution in told if not caution.endswith(".")] == []


def test_a_coated_sheet_is_scored_on_the_face_its_cut_sheet_shows() -> None:
    """The coating touches nothing on the table; the cut sheet is drawn with the coated face up (common practice)."""
    step = steps("foyer")["rear-pane"]
    assert "coated face up" in step.text


def test_a_pocket_is_routed_into_the_stick_of_its_side() -> None:
    assert steps("foyer")["rout-badge"].parts == ("rear-stick-long",)


@pytest.mark.parametrize("name", ["foyer", "kit-mirror", "archive-mirror"])
def test_whatever_is_sawn_or_routed_is_sawn_before_anything_is_finished(name: str) -> None:
    # Common practice: no saw runs once there is wet finish or a clean pane about.
    order = list(steps(name))
    sawn = {"plane", "rip", "mitre", "fit-batten", "make-bars", "cut-panel", "cut-packing", "cut-backing", "drill"} & set(order)
    assert max(order.index(step) for step in sawn) < order.index("finish")


def test_a_batten_read_by_itself_keeps_its_side_on_the_label() -> None:
    plan = cut_plan(design("foyer"))
    group = next(group for group in plan.groups if "batten-long" in group.piece_to_part)
    owner = {piece: part.replace("batten-long", "batten-long-top") for piece, part in group.piece_to_part.items()}
    marks = {mark for bar in piece_marks(design("foyer"), replace(group, piece_to_part=owner)) for mark in bar}
    assert marks == {"batten top", "batten left", "batten right"}


def test_a_standing_piece_has_feet_and_a_restraint_with_their_price() -> None:
    """Outside depth of the foyer 93 mm; with a base of 150 mm before and 200 mm behind it, 443 mm: the foot of 500 mm."""
    for base, foot in (("", "200 mm"), (", base: {front: 150 mm, back: 200 mm}", "500 mm")):
        making = making_of(design("foyer", Scope.COMPLETE, ("kind: hung", f"kind: standing{base}")))
        lines = {line.what: (line.quantity, line.each) for line in making.bill.lines}
        feet = next(what for what in lines if what.endswith(", feet"))
        assert foot in feet
        assert lines[feet][0] == 2
        strap = next(value for what, value in lines.items() if what.endswith("restraint against tipping"))
        assert strap == (1, Decimal("6.40"))
        assert foot in next(step.fasteners for step in making.steps if step.id == "stand")
    long = ("kind: hung", "kind: standing, base: {front: 250 mm, back: 250 mm}")
    assert "feet of 23 11/32 in at least, to be ordered" in " ".join(making_of(design("foyer", Scope.COMPLETE, long)).bill.missing)
