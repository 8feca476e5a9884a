"""Cut plans of whole jobs: what is in them, what never is, and what is said where no stock will do."""

from __future__ import annotations

import math
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.neutral import instance_from_dict, solution_from_dict
from halfsilver.making.grid import mitre_kerf_units, piece_units, stock_units
from halfsilver.making.groups import cut_tasks
from halfsilver.making.marks import piece_marks
from halfsilver.making.plan import cut_plan
from halfsilver.model.job import Job, Scope
from halfsilver.model.making import CutGroup, CutPlan
from halfsilver.model.workshop import StockForm, StockSize, Workshop
from halfsilver.services.decide import decided
from halfsilver.services.findings import findings
from halfsilver.services.load import load

ROOT = Path(__file__).resolve().parents[2]
JOBS = ("src/halfsilver/data/demo/foyer.yaml", *(str(path.relative_to(ROOT)) for path in sorted((ROOT / "examples").glob("*.yaml"))))


def job_of(name: str, **changes: Any) -> Job:
    return replace(load(str(ROOT / name)).job, **changes)


def foyer(workshop: Workshop | None = None, **changes: Any) -> Design:
    return decided(job_of(JOBS[0], **changes), workshop or read_workshop())


def with_stock(*rows: StockSize, without: tuple[str, ...] = ()) -> Workshop:
    """The shop, without the stock of some materials, with other rows instead."""
    shop = read_workshop()
    kept = {name: row for name, row in shop.stock.items() if row.of not in without}
    return replace(shop, stock=kept | {row.id: row for row in rows})


def stick(name: str, of: str, length: float, price: str = "10", **more: Any) -> StockSize:
    return StockSize(id=name, of=of, form=StockForm.STICK, length=length, price=price, dated="2026-10-01", **more)


def group(plan: CutPlan, material: str) -> CutGroup:
    return next(group for group in plan.groups if group.material == material)


def pieces(group: CutGroup) -> dict[str, dict[str, Any]]:
    return {piece["id"]: piece for piece in group.instance["pieces"]}  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("scope", list(Scope))
def test_every_plan_passes_the_checker_and_holds_what_is_in_scope(name: str, scope: Scope) -> None:
    design = decided(job_of(name, scope=scope), read_workshop())
    plan = cut_plan(design)
    assert not plan.missing
    for one in plan.groups:
        assert one.checked
        assert check(instance_from_dict(one.instance), solution_from_dict(one.solution)) == ()
        assert one.bound.value <= one.cost + 1e-9
        assert set(one.piece_to_part.values()) <= {part.id for part in design.parts}
    cut = {part for one in plan.groups for part in one.piece_to_part.values()}
    ordered = {order.part for order in plan.orders}
    assert not cut & ordered
    if scope is Scope.FRAME_ONLY:
        assert all(part.startswith(("front-stick", "rear-stick", "batten", "spacer-frame")) for part in cut | ordered)
    if scope is Scope.GLASS_ONLY:
        assert all(part.endswith("-glass") for part in cut | ordered)


@pytest.mark.parametrize("name", JOBS)
def test_quick_costs_hardly_more_than_usual(name: str) -> None:
    design = decided(job_of(name), read_workshop())
    quick, usual = cut_plan(design, effort="quick"), cut_plan(design, effort="usual")
    assert sum(one.cost for one in quick.groups) <= 1.03 * sum(one.cost for one in usual.groups)


def test_the_same_design_gives_the_same_plan() -> None:
    assert cut_plan(foyer()) == cut_plan(foyer())


def test_pieces_have_the_sizes_of_the_parts() -> None:
    design = foyer()
    sizes = {part.id: part.size_mm for part in design.parts}
    plan = cut_plan(design)
    for one in plan.groups:
        for name, piece in pieces(one).items():
            if name.startswith(("spare", "strip")):
                continue
            told = (piece["length"],) if "length" in piece else (piece["width"], piece["height"])
            assert [size * one.unit_mm for size in told] == pytest.approx(sizes[one.piece_to_part[name]][: len(told)], abs=1.5e-4)


def test_sticks_of_both_frames_are_cut_together_with_one_spare_and_the_job_multiplies() -> None:
    found = pieces(group(cut_plan(foyer(quantity=3)), "gallery-57"))
    assert {name: piece["qty"] for name, piece in found.items()} == {
        "front-stick-long": 6, "front-stick-short": 6, "rear-stick-long": 6, "rear-stick-short": 6, "spare-stick": 1,
    }  # fmt: skip
    assert all(piece["ends"] == {"left": "mitre", "right": "mitre"} for piece in found.values())
    shop = read_workshop()
    habits = replace(shop.habits, spare_stick=False)
    plain = replace(shop, head=replace(shop.head, allowances=replace(shop.allowances, habits=habits)))
    assert "spare-stick" not in pieces(group(cut_plan(foyer(plain)), "gallery-57"))


def test_a_profile_that_may_be_turned_over_nests_by_its_face() -> None:
    shop = read_workshop()
    turned = replace(shop, mouldings=dict(shop.mouldings) | {"gallery-57": replace(shop.mouldings["gallery-57"], may_turn_over=True)})
    for workshop, flip in ((shop, False), (turned, True)):
        design = foyer(workshop)
        rule = group(cut_plan(design), "gallery-57").instance["mitre"]
        nest = piece_units(design.facts.front_profile.face_mm) if flip else 0
        assert rule == {"kerf": mitre_kerf_units(shop.allowances.kerf), "nest": nest, "flip": flip}


def test_strip_comes_in_whole_segments_per_side_and_says_where_it_is_fed() -> None:
    design = foyer()
    found = group(cut_plan(design), "tape-24-100")
    lengths = {name: piece["length"] * found.unit_mm * piece["qty"] for name, piece in pieces(found).items()}
    assert set(lengths) == {"strip-top", "strip-bottom", "strip-left", "strip-right"}
    assert sum(lengths.values()) == pytest.approx(design.ledger["strip.length"])
    assert found.instance["increment"] == 100 * 8000
    assert found.instance["kerf"] == 0
    assert "bottom-right" in found.notes[0]


def test_a_side_longer_than_a_roll_is_linked_from_runs() -> None:
    roll = StockSize(id="short", of="tape-24-100", form=StockForm.ROLL, length=500.0, price="3", dated="2026-10-01")
    design = foyer(with_stock(roll, without=("tape-24-100",)))
    found = group(cut_plan(design), "tape-24-100")
    lengths = [piece["length"] * found.unit_mm for piece in pieces(found).values() for _ in range(piece["qty"])]
    assert max(lengths) <= 500.0
    assert sum(lengths) == pytest.approx(design.ledger["strip.length"])
    assert all(length % 100 == pytest.approx(0) for length in lengths)


def test_glass_is_scored_and_keeps_its_direction_and_boards_are_sawn() -> None:
    pane = group(cut_plan(foyer()), "split-t30-4").instance
    assert (pane["kerf"], pane["min_strip"]) == (0, 40 * 8000)
    assert [piece["rotate"] for piece in pane["pieces"]] == [False]  # type: ignore[attr-defined]
    trims = {stock["id"]: stock["trim"]["left"] for stock in pane["stock"]}  # type: ignore[attr-defined]
    assert trims == {"split-t30-4-sheet": 12.7 * 8000, "split-t30-4-left-1": 0}
    board = group(cut_plan(decided(job_of("examples/archive-mirror.yaml", scope=Scope.COMPLETE), read_workshop())), "backing-3").instance
    assert board["kerf"] == piece_units(read_workshop().allowances.kerf)


def test_panes_bought_to_size_are_ordered_and_say_whether_their_opening_was_measured() -> None:
    planned, measured = cut_plan(foyer()).orders, cut_plan(decided(job_of("examples/foyer-measured.yaml"), read_workshop())).orders
    assert [(order.part, order.glass, order.edge, order.lead_days, order.coated_side, order.measured) for order in planned] == [
        ("front-glass", "split-t50-lam-6", "seamed", 15, "cavity", False)
    ]
    assert measured[0].measured
    assert "ANSI Z97.1" in measured[0].impact
    assert cut_plan(foyer(quantity=4)).orders[0].quantity == 4


def test_a_stick_longer_than_any_stock_is_a_stop_that_says_what_would_do() -> None:
    shop = with_stock(stick("stub", "gallery-57", 1200.0), without=("gallery-57",))
    design = foyer(shop)
    plan = cut_plan(design)
    (missing,) = plan.missing
    assert missing.rule == "cutting.stick_too_short"
    assert set(missing.parts) == {"front-stick-long", "rear-stick-long"}
    assert "split-t30-4" in {one.material for one in plan.groups}  # the rest is planned all the same
    (found,) = [one for one in findings(design, load(str(ROOT / JOBS[0])).show) if one.rule == missing.rule]
    assert found.severity.value == "stop"
    assert "Buy a length of at least" in found.advice
    assert found.entries == ("front.stick.long", "rear.stick.long")


def test_the_length_that_is_advised_does() -> None:
    missing = cut_plan(foyer(with_stock(stick("stub", "gallery-57", 1200.0), without=("gallery-57",)))).missing[0]
    assert missing.value_mm is not None
    ends = 2 * read_workshop().allowances.trim_stick
    assert cut_plan(foyer(with_stock(stick("long", "gallery-57", missing.value_mm + ends), without=("gallery-57",)))).missing == ()


def test_a_pane_larger_than_any_sheet_is_a_stop() -> None:
    small = StockSize(id="small", of="split-t30-4", form=StockForm.SHEET, width=900.0, height=1500.0, price="90", dated="2026-10-01")
    (missing,) = cut_plan(foyer(with_stock(small, without=("split-t30-4",)))).missing
    assert missing.rule == "cutting.sheet_too_small"
    assert "coating may not be turned" in missing.advice  # turned by a quarter it would go in


def test_a_rest_too_narrow_to_break_off_does_not_do() -> None:
    pane = next(part for part in foyer().parts if part.id == "rear-glass")
    near = StockSize(
        id="near", of="split-t30-4", form=StockForm.SHEET, width=pane.size_mm[0] + 2 * 12.7 + 20.0, height=pane.size_mm[1] + 2 * 12.7,
        price="90", dated="2026-10-01",
    )  # fmt: skip
    assert cut_plan(foyer(with_stock(near, without=("split-t30-4",)))).missing[0].rule == "cutting.sheet_too_small"
    wide = replace(near, width=near.width + 20.0)
    assert cut_plan(foyer(with_stock(wide, without=("split-t30-4",)))).missing == ()


@pytest.mark.parametrize("material", ["gallery-57", "batten-3-4", "bar-20x3", "tape-24-100", "split-t30-4"])
def test_a_material_without_stock_is_reported_and_the_rest_planned(material: str) -> None:
    plan = cut_plan(foyer(with_stock(without=(material,))))
    assert [(one.material, one.rule) for one in plan.missing] == [(material, "cutting.no_stock")]
    assert len(plan.groups) == 4


def test_stock_that_runs_short_is_reported() -> None:
    plan = cut_plan(foyer(with_stock(stick("only", "gallery-57", 3000.0, quantity=1), without=("gallery-57",))))
    assert [one.rule for one in plan.missing] == ["cutting.stock_runs_short"]


def test_a_leftover_without_a_price_is_not_planned_at_nothing() -> None:
    rows = (stick("new", "gallery-57", 3000.0, "60"), stick("rest", "gallery-57", 1500.0, "0", offcut=True, quantity=1))
    stock = {row["id"]: row for row in group(cut_plan(foyer(with_stock(*rows, without=("gallery-57",)))), "gallery-57").instance["stock"]}  # type: ignore[attr-defined]
    assert stock["rest"]["cost"] == 900  # 30 % of half of 60.00, in cents
    assert stock["rest"]["trim"]["start"] < stock["new"]["trim"]["start"]


def test_marks_name_every_stick_once() -> None:
    design = foyer()
    found = group(cut_plan(design), "gallery-57")
    marks = [mark for row in piece_marks(design, found) for mark in row]
    sides = {f"{frame} frame {side}" for frame in ("front", "rear") for side in ("top", "bottom", "left", "right")}
    assert sorted(marks) == sorted([*sides, "spare"])
    assert [len(row) for row in piece_marks(design, found)] == [len(bar["cuts"]) for bar in found.solution["bars"]]  # type: ignore[attr-defined]


def test_the_grid_is_exact_for_both_units_and_never_wrong_by_direction() -> None:
    for n in range(1, 3000, 7):
        assert piece_units(n * 25.4 / 64) == stock_units(n * 25.4 / 64) == Fraction(n * 254, 640) * 8000
        assert piece_units(n / 2) == stock_units(n / 2) == n * 4000
    assert piece_units(1.00001) >= 8000.08 > stock_units(1.00001)
    # A cut at 45 degrees crosses the bar over kerf times the root of two; 1/8 in takes 4.49 mm.
    assert mitre_kerf_units(3.175) == math.ceil(3.175 * math.sqrt(2) * 8000)


def test_a_check_loads_neither_solver_nor_arrays() -> None:
    code = (
        "import sys\nfrom halfsilver.cli.main import main\ntry:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
        "print(sorted({'numpy', 'highspy'} & set(sys.modules)))"
    )
    command = [sys.executable, "-c", code, "check", str(ROOT / JOBS[0]), "--json"]
    told = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True).stdout
    assert told.splitlines()[-1] == "[]"


def test_a_check_builds_tasks_without_searching() -> None:
    tasks = cut_tasks(foyer()).tasks
    assert {task.material for task in tasks} == {"gallery-57", "batten-3-4", "bar-20x3", "tape-24-100", "split-t30-4"}


def test_a_frame_between_the_frames_needs_timber_of_its_section() -> None:
    design = foyer(gap=40.0)
    plan = cut_plan(design)
    spacer = next(part for part in design.parts if part.id.startswith("spacer-frame"))
    assert [one.rule for one in plan.missing] == ["cutting.no_stock"]
    board = stick("board", "board", 2400.0, width=spacer.size_mm[1] + 1, height=spacer.size_mm[2] + 1)
    found = cut_plan(foyer(with_stock(board), gap=40.0))
    assert found.missing == ()
    assert set(group(found, "board").piece_to_part.values()) == {"spacer-frame-long", "spacer-frame-short"}
