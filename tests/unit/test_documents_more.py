"""Pages after the shop's own: cut sheets, orders, lights, steps, bill; printed numbers against what was given."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from documents_cases import FINDINGS, design, job, show_of, workshop
from halfsilver.documents.cut_drawings import PaneShape, sheet_drawing
from halfsilver.documents.drawings import drawn, sheets
from halfsilver.documents.more import more_pages
from halfsilver.documents.scores import scores
from halfsilver.documents.shop import shop_pdf
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.steps_sheet import chart, drawing_title, time_text
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.style import Material
from halfsilver.making.cutting.neutral import solution_from_dict
from halfsilver.making.cutting.solution import LinearSolution, Node, SheetSolution
from halfsilver.making.marks import piece_marks
from halfsilver.making.steps.build import build_steps
from halfsilver.model.job import Scope
from halfsilver.model.making import CutPlan, Scheduled
from halfsilver.services.decide import decided
from making_cases import HOSTILE, STEPS, in_a_row, many_steps, plan, shop_bill
from printed_pages import faults, font_names, meeting, page_texts, squeezed, words_of

CHANGES = ("Rear glass 34 1/4 in to 34 3/16 in: the opening was measured.",)


def files(name: str, **changes: Any) -> dict[str, bytes]:
    given = {"steps": STEPS, "schedule": in_a_row(STEPS), "bill": shop_bill(name), "changes": CHANGES, "plan": plan(name), **changes}
    made = design(name)
    return dict(
        more_pages(made, given["plan"], given["steps"], given["schedule"], given["bill"], given["changes"], show_of(made))
    )  # fmt: skip


def told(name: str, **changes: Any) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(files(name, **changes)["more.json"])
    return found


def whole(name: str, more: dict[str, bytes] | None) -> bytes:
    made = design(name)
    return shop_pdf(made, FINDINGS, show=show_of(made), date="2026-10-01", revision=3, version="0.1.0", more=more)


@cache
def document(name: str) -> bytes:
    return whole(name, files(name))


@cache
def own_pages(name: str) -> int:
    return len(page_texts(whole(name, None)))


def test_the_check_of_characters_can_fail() -> None:
    assert meeting([(0, 0, 10, 10, "a"), (5, 5, 15, 15, "b"), (30, 0, 40, 10, "c")]) == [("a", "b")]


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "tiny", "tall"])
def test_no_two_characters_meet_and_none_leaves_the_page(name: str) -> None:
    assert faults(document(name)) == []


@pytest.mark.parametrize("name", ["foyer", "archive-mirror"])
def test_pages_are_numbered_through_and_the_own_ones_stay(name: str) -> None:
    pages = page_texts(document(name))
    assert len(pages) > own_pages(name)
    for number, text in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in text
    assert font_names(document(name)) == {"Inter-Regular", "Inter-Bold"}


def test_the_first_page_lists_the_further_ones() -> None:
    first = page_texts(document("foyer"))[0]
    for head in ("Cut sheets", "Glass order", "Lights and wiring", "Build steps", "Schedule", "Bill"):
        assert head in first


def test_the_same_bytes_each_time() -> None:
    assert whole("tiny", files("tiny")) == document("tiny")


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "glass-only", "kit"])
def test_every_cut_is_printed_with_its_stop_and_its_running_measure(name: str) -> None:
    show, made = show_of(design(name)), plan(name)
    groups = told(name)["cuts"]
    assert len(groups) == len(made.groups)
    for group, row in zip(made.groups, groups, strict=True):
        solution = solution_from_dict(group.solution)
        if not isinstance(solution, LinearSolution):
            continue
        marks = piece_marks(design(name), group)
        for k, bar in enumerate(solution.bars):
            printed = row["sheets"][k]["rows"]
            assert [r["length"] for r in printed] == [show((c.end - c.start) * group.unit_mm, "mm") for c in bar.cuts]
            assert [r["from"] for r in printed] == [show(c.start * group.unit_mm, "mm") for c in bar.cuts]
            assert [r["to"] for r in printed] == [show(c.end * group.unit_mm, "mm") for c in bar.cuts]
            assert [r["mark"].lower() for r in printed] == [mark.lower() for mark in marks[k]]
            assert sorted(c.start for c in bar.cuts) == [c.start for c in bar.cuts]


def test_strip_is_cut_at_whole_segments() -> None:
    roll = next(group for group in told("foyer")["cuts"] if group["kind"] == "roll")
    rows = [row for sheet in roll["sheets"] for row in sheet["rows"]]
    assert sum(int(row["segments"]) for row in rows) == round(design("foyer").ledger["strip.segments"])
    assert all(int(row["mark_to"]) - int(row["mark_from"]) == int(row["segments"]) for row in rows)


def test_the_numbers_of_the_cut_sheets_reach_the_page() -> None:
    words = squeezed(" ".join(page_texts(document("foyer"))))
    rows = [(group["kind"], row) for group in told("foyer")["cuts"] for sheet in group["sheets"] for row in sheet["rows"]]
    for kind, row in rows:
        printed = {"bar": ("length", "from", "to"), "roll": ("length", "mark_to"), "sheet": ("measure", "at")}[kind]
        assert all(squeezed(row[key]) in words for key in printed)


TREE = Node(
    x=10, y=10, w=100, h=80, cut="h",
    children=(
        Node(x=10, y=10, w=100, h=30, cut="v", children=(
            Node(x=10, y=10, w=40, h=30, piece="a"), Node(x=50, y=10, w=60, h=30, piece="b"))),
        Node(x=10, y=40, w=100, h=25, piece="c"),
        Node(x=10, y=65, w=100, h=25, waste=True),
    ),
)  # fmt: skip


def test_a_rectangle_is_parted_before_its_strips_are_cut() -> None:
    """Worked by hand: two cuts across leave three strips, then the lowest is cut once up the sheet."""
    order = [(s.number, s.cut, s.at, s.start, s.end, s.measure, s.parts, s.whole, s.last) for s in scores(TREE)]
    assert order == [
        (1, "h", 40, 10, 110, 30, ("a", "b"), False, ""),
        (2, "h", 65, 10, 110, 25, ("c",), True, ""),
        (3, "v", 50, 10, 40, 40, ("a",), True, "b"),
    ]


def test_every_pane_is_free_after_the_last_score() -> None:
    for name in ("foyer", "glass-only", "huge"):
        for group in plan(name).groups:
            solution = solution_from_dict(group.solution)
            for sheet in solution.sheets if isinstance(solution, SheetSolution) else ():
                assert sheet.tree is not None
                found = scores(sheet.tree)
                free = [piece for s in found if s.whole for piece in s.parts] + [s.last for s in found if s.last]
                lone = [] if found else [node.piece for node in sheet.tree.walk() if node.piece]
                assert sorted(free + lone) == sorted(pane.piece for pane in sheet.panes())


def test_numbers_of_cuts_stand_on_nothing() -> None:
    drawn = sheet_drawing(
        [PaneShape(x=100, y=100, wide=400, high=300, words=("Front glass", "400 × 300 mm")),
         PaneShape(x=500, y=100, wide=600, high=300, words=("Rear glass", "600 × 300 mm")),
         PaneShape(x=100, y=400, wide=1000, high=250, words=("Rear glass",))],
        scores(TREE), unit_mm=10.0, size_mm=(1200, 1000), usable=(100, 100, 1100, 900), room_mm=(174, 112), material=Material.GLASS,
    )  # fmt: skip
    assert overlaps(drawn) == ()


def test_a_plan_that_was_not_checked_is_not_shown() -> None:
    made = plan("tiny")
    doubtful = CutPlan(groups=(replace(made.groups[0], checked=False),), orders=(), missing=())
    row = told("tiny", plan=doubtful)["cuts"][0]
    assert (row["kind"], row["sheets"]) == ("unchecked", [])
    assert "was not passed by the checker" in words_of(whole("tiny", files("tiny", plan=doubtful)))


def test_missing_stock_is_said() -> None:
    huge = plan("huge")
    assert huge.missing
    assert [row["why"] for row in told("huge")["missing"]] == [one.why for one in huge.missing]


def test_the_order_holds_what_was_planned_and_boxes_for_what_is_not_measured() -> None:
    show, order = show_of(design("foyer")), plan("foyer").orders[0]
    card = told("foyer")["orders"][0]
    facts = {fact["label"]: fact["value"] for fact in card["facts"]}
    assert facts["Width × height"] == f"{show(order.width_mm, 'mm')} × {show(order.height_mm, 'mm')}"
    assert facts["Impact class"] == order.impact
    assert facts["Lead time"] == f"{order.lead_days} days"
    assert not card["measured"]
    assert {box["value"] for reading in card["readings"] for box in reading["boxes"]} == {""}
    read = told("foyer-measured")["orders"][0]
    assert read["measured"]
    assert [box["value"] for box in read["readings"][0]["boxes"]] == ["53 3/8 in", "53 11/32 in", "53 13/32 in"]


def test_power_and_supply_of_the_lights() -> None:
    """4 m at 9.6 W/m are 38.4 W and 1.6 A at 24 V; loaded to four fifths a supply needs 48 W (worked by hand)."""
    facts = {fact["label"]: fact["value"] for fact in told("foyer")["lights"]["facts"]}
    assert facts["Power"] == "4 m × 9.6 W/m = 38.4 W, 1.6 A at 24 V"
    assert facts["Supply, least"].startswith("48 W")
    assert "60 W" in facts["Supply, chosen"]


def test_the_longest_lead_follows_ohms_law() -> None:
    """18 AWG: 6 A as fixture wire (NEC 402.5), 26.1 ohm/km (chapter 9 Table 8). 1.6 A, 0.72 V lost: 0.72/(2 x 1.6 x 26.1) km, 28.3 ft."""
    lead = told("foyer")["lights"]["leads"][0]
    assert lead == {"gauge": "18 AWG", "run": f"{0.72 / (2 * 1.6 * 26.1) * 1000 / 0.3048:.1f} ft", "limit": "6 A"}


def test_lights_go_round_from_the_feed() -> None:
    """By hand: from the lower right corner along the bottom to the left, up, across, and down."""
    assert Sizes(design("foyer"), show_of(design("foyer"))).design.facts.choices.corner is not None
    sides = {side["side"]: (side["from"], side["dark"]) for side in told("foyer")["lights"]["sides"]}
    assert [sides[s][0] for s in ("Bottom", "Left", "Top", "Right")] == ["right end", "bottom end", "left end", "top end"]
    assert sides["Bottom"][1].endswith("at the left end")


def test_a_step_has_its_boxes_cautions_and_numbers() -> None:
    show = show_of(design("foyer"))
    step = told("foyer")["steps"][0]
    assert [point["expected"] for point in step["checkpoints"]] == [show(6.35, "mm"), show(1355.725, "mm")]
    assert [len(point["boxes"]) for point in step["checkpoints"]] == [3, 2]
    assert step["cautions"] == list(STEPS[0].cautions)
    assert told("foyer")["steps"][3]["after"] == "2, 3"
    assert [box["value"] for box in told("foyer-measured")["steps"][0]["checkpoints"][1]["boxes"]] == ["53 3/8 in", "53 13/32 in"]


def test_user_text_is_never_markup() -> None:
    assert squeezed(" ".join(HOSTILE.split())) in squeezed(words_of(document("foyer")))


def test_the_schedule_is_in_proportion() -> None:
    steps = STEPS[:2]
    times = (
        Scheduled(step="plane", start_min=0, end_min=25, ready_min=25),
        Scheduled(step="glue", start_min=25, end_min=75, ready_min=100),
    )
    made: Any = chart(steps, times)
    assert [(row["start"], row["work"], row["wait"]) for row in made["rows"]] == [(0, 25, 0), (25, 50, 25)]
    assert made["sentence"].startswith("Earliest finish: 1 h 40 min")


def test_times_in_words() -> None:
    assert [time_text(t) for t in (0, 59.6, 60, 61, 21600)] == ["0 min", "1 h", "1 h", "1 h 1 min", "15 days"]


def test_the_bill_is_printed_line_by_line() -> None:
    bill, rows = shop_bill("foyer"), told("foyer")["bill"]
    assert sum(len(group["rows"]) for group in rows["groups"]) == len(bill.lines)
    sums = {row["label"]: row["value"].replace("\u2009", "") for row in rows["sums"]}
    assert sums["Cost"] == f"{bill.cost:.2f}"
    assert sums["Price"] == f"{bill.price:.2f}"
    assert sums["Total"] == f"{bill.total:.2f}"
    words = squeezed(words_of(document("foyer")))
    assert squeezed(rows["sums"][-3]["value"]) in words


def test_a_first_revision_says_nothing_of_changes() -> None:
    assert "What changed" not in words_of(whole("tiny", files("tiny", changes=())))
    assert CHANGES[0].replace(" ", "") in squeezed(words_of(document("tiny")))


@pytest.mark.parametrize("scope", list(Scope))
def test_scope_decides_which_pages_there_are(scope: Scope) -> None:
    found = told(scope.value)
    heads = {row["kind"] for row in found["cuts"]}
    assert bool(found["lights"]) is (scope in (Scope.COMPLETE, Scope.KIT))
    assert bool(found["orders"]) is (scope is not Scope.FRAME_ONLY)
    assert ("bar" in heads) is (scope is not Scope.GLASS_ONLY)
    assert ("sheet" in heads) is (scope is not Scope.FRAME_ONLY)


def test_many_long_steps_fill_pages_without_meeting() -> None:
    steps = many_steps(45)
    data = whole("tiny", files("tiny", steps=steps, schedule=in_a_row(steps)))
    assert faults(data) == []
    assert "Step 44" in words_of(data)


def test_several_pieces_are_numbered() -> None:
    several = decided(replace(job("foyer"), quantity=3), workshop())
    from halfsilver.making.plan import cut_plan

    made = json.loads(more_pages(several, cut_plan(several), (), (), None, (), show_of(several))["more.json"])
    marks = [row["mark"] for group in made["cuts"] for sheet in group["sheets"] for row in sheet["rows"] if group["kind"] == "bar"]
    assert {f"Front frame top, piece {k}" for k in (1, 2, 3)} <= set(marks)
    assert made["steps"] == []
    assert made["bill"] == {}


@pytest.mark.parametrize(
    ("limit_mm", "inches", "millimetres"),
    [
        (0.79375, "±1/32 in", "±0.79 mm"),  # 25.4/32
        (1.5875, "±1/16 in", "±1.59 mm"),  # 25.4/16
        (2.38125, "±3/32 in", "±2.38 mm"),  # 3 x 25.4/32
        (0.4, "±1/64 in", "±0.4 mm"),  # 25.4/64 = 0.397
        (0.25, "±0.01 in", "±0.25 mm"),  # 0.25/25.4 = 0.0098
        (0.5, "±0.02 in", "±0.5 mm"),  # 0.0197: no 64th comes near
    ],
)
def test_a_limit_is_in_the_units_of_its_job(limit_mm: float, inches: str, millimetres: str) -> None:
    assert Sizes(design("foyer"), show_of(design("foyer"))).limit(limit_mm) == inches
    assert Sizes(design("archive-mirror"), show_of(design("archive-mirror"))).limit(limit_mm) == millimetres


def test_an_inch_job_tells_nothing_by_the_metre_but_glass_and_rates() -> None:
    """Glass and supplies are sold by metric numbers; what is cut, measured or held within a limit is not."""
    data = told("foyer")
    texts = [p["expected"] + p["tolerance"] for step in data["steps"] for p in step["checkpoints"]]
    assert texts
    assert [text for text in texts if "mm" in text] == []


def test_shares_and_areas_of_the_bill_read_as_people_write_them() -> None:
    quantities = [row["quantity"] for group in told("foyer")["bill"]["groups"] for row in group["rows"]]
    assert "12 % of" in quantities
    assert not any("share" in quantity or quantity.endswith("m2") for quantity in quantities)


@pytest.mark.parametrize("name", ["foyer", "pockets", "kit", "archive-mirror", "kit-mirror", "glass-only", "frame-only"])
def test_every_drawing_that_a_step_names_is_a_sheet_of_the_document(name: str) -> None:
    of = design(name)
    titles = {sheet.title for sheet in sheets(drawn(of, show_of(of)), date="2026-10-01", revision=1)}
    named = {drawing_title(step.drawing) for step in build_steps(of)} - {""}
    assert named
    assert named <= titles
