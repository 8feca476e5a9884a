"""Bills of whole jobs: what is on them by scope, how waste is shared, what the client sees."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from halfsilver.costing.bill import bill, client_view
from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.making.fasteners import fasteners, pins_of, ties_of
from halfsilver.making.plan import cut_plan
from halfsilver.making.steps.build import build_steps
from halfsilver.making.wiring import wiring_plan
from halfsilver.model.bill import Bill, LineKind
from halfsilver.model.job import Scope, Terms
from halfsilver.model.making import Step, Trade
from halfsilver.model.workshop import HardwareUse, StockForm, StockSize, Workshop
from halfsilver.services.decide import decided
from halfsilver.services.load import load

ROOT = Path(__file__).resolve().parents[2]
JOBS = ("src/halfsilver/data/demo/foyer.yaml", "examples/foyer-measured.yaml", "examples/archive-mirror.yaml", "examples/kit-mirror.yaml")
RATE = Decimal(60)
STEPS = tuple(Step(id=trade.value, title=f"work on {trade.value}", trade=trade, work_min=45.0) for trade in Trade)
KIT = JOBS[3]
GLASS = ("glass", "mirror", "pane", "edges")
LIGHTS = ("tape", "supply", "lights")
TIMBER = ("gallery", "batten", "metric", "glue", "frame")


def design_of(name: str = JOBS[0], workshop: Workshop | None = None, **changes: Any) -> Design:
    return decided(replace(load(str(ROOT / name)).job, **changes), workshop or read_workshop())


def bill_of(design: Design) -> Bill:
    return bill(design, cut_plan(design), STEPS, rate=RATE)


def words(told: Bill) -> str:
    return "\n".join(line.what for line in told.lines).lower()


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("scope", list(Scope))
def test_lines_sum_to_the_cost_and_nothing_is_unpriced(name: str, scope: Scope) -> None:
    told = bill_of(design_of(name, scope=scope))
    assert sum(line.total for line in told.lines) == told.cost > 0
    assert told.missing == ()
    assert {line.kind for line in told.lines} >= {LineKind.MATERIAL, LineKind.LABOUR, LineKind.PACKING, LineKind.OVERHEAD}


@pytest.mark.parametrize("name", JOBS)
def test_a_frame_alone_costs_no_glass_no_lights_and_no_screen_work(name: str) -> None:
    told = words(bill_of(design_of(name, scope=Scope.FRAME_ONLY)))
    for word in (*GLASS, *LIGHTS, "mirror", "screen", "assembly", "retainers", "pad", "plate"):
        assert word not in told


@pytest.mark.parametrize("name", JOBS)
def test_glass_alone_costs_no_timber_and_no_hardware(name: str) -> None:
    told = bill_of(design_of(name, scope=Scope.GLASS_ONLY))
    for word in (*TIMBER, *LIGHTS, "screen", "assembly"):
        assert word not in words(told)
    assert told.of(LineKind.HARDWARE) == 0


def test_a_kit_has_all_but_assembly_and_screen() -> None:
    told = words(bill_of(design_of(scope=Scope.KIT)))
    assert "work on glass" in told
    assert "supply" in told
    assert "work on assembly" not in told
    assert "work on screen" not in told


def test_labour_is_by_step_and_multiplies() -> None:
    one, three = bill_of(design_of()), bill_of(design_of(quantity=3))
    hours = [line for line in one.lines if line.kind is LineKind.LABOUR]
    assert {line.quantity for line in hours} == {Decimal("0.75")}
    assert one.of(LineKind.LABOUR) == len(Trade) * Decimal("45.00")
    assert three.of(LineKind.LABOUR) == 3 * one.of(LineKind.LABOUR)
    assert three.of(LineKind.HARDWARE) >= 2 * one.of(LineKind.HARDWARE)


def test_rates_may_differ_by_trade() -> None:
    design = design_of()
    rates = dict.fromkeys(Trade, Decimal(40)) | {Trade.LIGHTS: Decimal(80)}
    told = bill(design, cut_plan(design), STEPS, rate=rates)
    assert {line.what: line.each for line in told.lines if line.kind is LineKind.LABOUR}["work on lights"] == 80


def test_margin_and_tax_are_the_jobs_else_the_workshops() -> None:
    asked = bill_of(design_of())
    assert (asked.margin_share, asked.tax_share) == (Decimal("0.35"), Decimal("0.08"))
    usual = bill_of(design_of(terms=Terms()))
    assert (usual.margin_share, usual.tax_share) == (Decimal("0.32"), Decimal("0.0"))
    assert usual.total == usual.price


def test_the_job_bears_what_it_opens_less_what_is_kept() -> None:
    # One roll of 5 m for 39.00; 40 segments of 100 mm are used; the metre that is left counts at 30 % of a fifth of the roll: 2.34.
    told = {line.what: line for line in bill_of(design_of()).lines}
    roll = next(line for what, line in told.items() if "tape" in what.lower() and line.unit == "roll")
    kept = next(line for what, line in told.items() if "tape" in what.lower() and line.unit == "leftover")
    assert (roll.total, kept.total) == (Decimal("39.00"), Decimal("-2.34"))


def test_short_leftovers_are_waste() -> None:
    shop = read_workshop()
    strict = replace(shop, head=replace(shop.head, prices=replace(shop.prices, keep_length=5000.0)))
    told = bill_of(design_of(workshop=strict))
    assert not [line for line in told.lines if line.unit == "leftover"]
    assert "16 ft" in told.notes[0] or "in on" in told.notes[0]


def test_a_pane_bought_to_size_is_billed_by_area_and_edge() -> None:
    design = design_of()
    told = [line for line in bill_of(design).lines if line.unit in ("m2", "m") and line.kind is LineKind.MATERIAL]
    area = design.ledger["front.glass.width"] * design.ledger["front.glass.height"] / 1e6  # 53 1/4 x 30 1/2 in: 1.0478 m2
    assert told[0].quantity == Decimal("1.048") >= Decimal(area)
    assert told[0].total == Decimal("277.72")  # 1.048 x 265.00
    assert told[1].quantity == Decimal("4.255")  # 2 x (1352.55 + 774.7) mm, rounded up


def test_a_small_pane_is_billed_at_the_least_area() -> None:
    shop = read_workshop()
    dear = replace(shop, head=replace(shop.head, prices=replace(shop.prices, glass_least=2.0)))
    told = next(line for line in bill_of(design_of(workshop=dear)).lines if "bought to size" in line.what)
    assert told.quantity == 2


def test_recessed_work_carries_more_contingency() -> None:
    lines = {line.what: line.quantity for line in bill_of(design_of(JOBS[2])).lines}
    assert lines["contingency, recessed work"] == Decimal("0.08")
    assert {line.what: line.quantity for line in bill_of(design_of()).lines}["contingency"] == Decimal("0.05")


def test_what_has_no_price_is_named_and_not_counted() -> None:
    shop = read_workshop()
    bare = replace(shop, stock={name: row for name, row in shop.stock.items() if row.of not in ("plate-75", "split-t50-lam-6")})
    told = bill_of(design_of(workshop=bare))
    assert len(told.missing) == 2
    assert any("corner plate" in one for one in told.missing)


def test_without_steps_the_bill_says_that_labour_is_missing() -> None:
    design = design_of()
    assert "labour" in bill(design, cut_plan(design), (), rate=RATE).missing[0]


def test_another_currency_is_not_invented() -> None:
    told = bill_of(design_of(currency="EUR"))
    assert told.currency == "USD"
    assert any("EUR" in note for note in told.notes)


def test_the_client_sees_no_cost_and_no_margin() -> None:
    design = design_of()
    shop = bill_of(design)
    seen = client_view(design, shop)
    names = {field.name for field in fields(seen)}
    assert not names & {"cost", "margin", "margin_share", "lines", "taxable", "notes", "missing"}
    assert (seen.price, seen.total) == (shop.price, shop.total)
    assert str(shop.cost) not in repr(seen)
    assert "the screen itself: you provide it" in seen.not_included


def test_the_client_of_a_frame_reads_what_is_not_included() -> None:
    design = design_of(JOBS[2])
    seen = client_view(design, bill_of(design))
    assert any("frame" in words for words in seen.included)
    assert any("glass" in words for words in seen.not_included)


def test_pins_follow_the_usual_count() -> None:
    # Common practice: five pins on a long batten and four on a short one, for a piece a metre and a half wide.
    assert (pins_of(1355.7), pins_of(739.8)) == (5, 4)
    assert pins_of(60.0) == 2
    found = {one.place: one for one in fasteners(design_of())}
    assert found["pins through the battens"].count == 2 * 5 + 2 * 4
    assert found["screws through the plates"].count == 16


@pytest.mark.parametrize("name", JOBS)
def test_no_screw_comes_through(name: str) -> None:
    design = design_of(name)
    hardware = design.facts.workshop.hardware
    for one in fasteners(design):
        place = {
            "screws through the plates": "plate",
            "screws through the bars": "bar",
            "pins through the battens": "pin",
            "screws round the back panel": "panel",
            "screws from the rear frame into the front one": "tie",
        }.get(one.place)
        if place:
            assert hardware[one.id].length <= design.ledger[f"screw.max.{place}"]


def test_the_supply_is_loaded_to_four_fifths_at_most() -> None:
    # Common practice: 80 % load. 4 m of 9.6 W/m are 38.4 W, so 48 W is enough and the 60 W one is taken.
    plan = wiring_plan(design_of())
    assert plan is not None
    assert plan.supply is not None
    assert (plan.supply.id, len(plan.circuits)) == ("supply-24-60", 1)


def test_a_stock_row_of_another_size_gives_the_same_price_per_area() -> None:
    shop = read_workshop()
    half = StockSize(id="half", of="split-t50-lam-6", form=StockForm.SHEET, width=500.0, height=1000.0, price="132.50", dated="2026-10-01")
    other = {name: row for name, row in shop.stock.items() if row.of != "split-t50-lam-6"} | {"half": half}
    assert bill_of(design_of(workshop=replace(shop, stock=other))).cost == bill_of(design_of()).cost


def complete(name: str, workshop: Workshop | None = None) -> Design:
    return design_of(name, workshop, scope=Scope.COMPLETE)


@pytest.mark.parametrize("name", JOBS)
def test_thin_metal_is_held_by_short_screws_and_hangers_by_long_ones(name: str) -> None:
    # Common practice: an inch is enough for a plate or a thin panel, whatever depth of timber there is; what carries goes deep.
    design = complete(name)
    found = {one.place: one for one in fasteners(design)}
    hardware = design.facts.workshop.hardware
    holding = [hardware[one.id].length for place, one in found.items() if place.startswith(("screws through the plates", "screws round"))]
    assert holding
    assert max(holding) <= 25.4
    hanging = [one for place, one in found.items() if place == "screws through the hangers"]
    assert [one.count for one in hanging] == [2 * 4] * ("hangers" in found)  # a rail of 300 mm: at 0, 100, 200 and 300
    assert all(hardware[one.id].length == pytest.approx(38.1) for one in hanging)


def test_without_a_screw_that_fits_the_bill_says_what_to_order() -> None:
    shop = read_workshop()
    long = {name: item for name, item in shop.hardware.items() if item.use is not HardwareUse.SCREW or item.length > 30}
    found = bill_of(complete(JOBS[0], replace(shop, hardware=long)))
    assert "screws through the plates: the catalogue has none that fits; 16 screws to be ordered, at most 1 in long" in found.missing
    assert not any("through the plates" in line.what for line in found.lines)


def test_foam_is_bought_for_bars_and_spacer_in_whole_rolls() -> None:
    # By hand: two side bars and the top one, and twice 53 1/4 + 30 1/2 in round the pane: 2.76 + 4.25 m, one roll of 10 m.
    pad = next(line for line in bill_of(complete(JOBS[0])).lines if "foam" in line.what)
    assert (pad.quantity, pad.total) == (Decimal(1), Decimal("14.00"))
    assert "between bars and screen and between pane and screen" in pad.what
    three = next(line for line in bill_of(design_of(JOBS[0], quantity=3)).lines if "foam" in line.what)
    assert three.quantity == Decimal(3)  # 21.0 m


def test_the_packing_behind_a_mirror_is_cut_billed_and_weighed() -> None:
    design = design_of(KIT)
    parts = {part.id: part for part in design.parts}
    rebate = (design.ledger["rear.rebate.height"], design.ledger["rear.rebate.width"])
    assert parts["packing-long"].size_mm[0] == pytest.approx(max(rebate))
    assert parts["packing-short"].size_mm[0] == pytest.approx(min(rebate) - 2 * design.ledger["batten.width"])
    assert parts["packing-long"].size_mm[2] == pytest.approx(design.ledger["packing"] - 3.0)  # 3 mm of foam
    groups = [group for group in cut_plan(design).groups if "packing-long" in group.piece_to_part]
    assert [group.material for group in groups] == ["batten-3-4"]
    assert "batten-long" in groups[0].piece_to_part
    bare = cut_plan(design_of(KIT, scope=Scope.FRAME_ONLY))
    assert not any(part.startswith("packing") for group in bare.groups for part in group.piece_to_part)


def test_packing_too_deep_for_the_battens_stock_comes_from_larger_timber() -> None:
    shop = read_workshop()
    flat = {name: replace(row, height=19.5) if row.of == "batten-3-4" else row for name, row in shop.stock.items()}
    design = design_of(KIT, replace(shop, stock=flat))
    parts = [replace(part, size_mm=(*part.size_mm[:2], 24.0)) if part.id.startswith("packing") else part for part in design.parts]
    groups = cut_plan(replace(design, parts=tuple(parts))).groups
    assert [group.material for group in groups if "packing-long" in group.piece_to_part] == ["batten-20"]


def test_screws_tie_the_two_frames() -> None:
    # Common practice: 5 in from each corner, 10 apart at most. By hand: 57 7/8 in leaves 47 7/8, five spaces; 35 1/8 leaves 25 1/8, three.
    # NDS 2018 12.1.5: a wood screw counts from six diameters of penetration on, 0.98 in for a No. 8.
    design = design_of()
    tie = next(one for one in fasteners(design) if "rear frame" in one.place)
    assert (ties_of(57.875 * 25.4), ties_of(35.125 * 25.4), ties_of(200.0), tie.count) == (6, 4, 2, 20)
    length, ledger = design.facts.workshop.hardware[tie.id].length, design.ledger
    bite = length - (ledger["rear.moulding.depth"] - ledger["rear.planed"]) - ledger["glue_line"]
    assert 6 * 0.164 * 25.4 <= bite <= ledger["front.moulding.depth"] - 3.0
    close = next(step for step in build_steps(design) if step.id == "close")
    assert close.fasteners.startswith("20 × No. 8 wood screw, 2 1/4 in")
    assert any("into the front one" in line.what and line.quantity == 20 for line in bill_of(design).lines)


@pytest.mark.parametrize("scope", [Scope.FRAME_ONLY, Scope.GLASS_ONLY])
def test_what_is_not_closed_here_is_tied_with_nothing(scope: Scope) -> None:
    assert not any("rear frame" in one.place for one in fasteners(design_of(scope=scope)))


def test_a_shop_without_screws_long_enough_is_told_what_ties_the_frames() -> None:
    shop = read_workshop()
    short = {name: item for name, item in shop.hardware.items() if item.use is not HardwareUse.SCREW or item.length < 50}
    told = bill_of(design_of(workshop=replace(shop, hardware=short))).missing
    assert any("into the front one: the catalogue has none that fits; 20 screws to be ordered" in one for one in told)


def test_the_wiring_is_billed_from_its_plan() -> None:
    # By hand: one lead of 2 m and three corner links of 0.15 m, from a roll of 10 m; 38.4 W at 24 V are 1.6 A, at most 80 % of a dimmer.
    lines = {line.what: line for line in bill_of(design_of()).lines}
    for words, count, total in (
        ("Two-wire copper lead, 18 AWG, supply to strip", 1, "9.00"),
        ("Two-pole plug and socket, up to 5 A, one in each lead", 1, "1.80"),
        ("In-line holder with its slow fuse, up to 5 A, 2 A, one at each supply", 1, "2.60"),
        ("Dimmer for 12 to 24 V, constant voltage, 6 A, one behind each supply", 1, "18.00"),
    ):
        assert (lines[words].quantity, lines[words].total) == (count, Decimal(total))
    six = {line.what: line.quantity for line in bill_of(design_of(quantity=6)).lines}
    assert six["Two-wire copper lead, 18 AWG, supply to strip"] == 2  # 14.7 m


def test_an_undimmed_piece_has_no_dimmer_and_none_without_lights_any_wire() -> None:
    assert not any("Dimmer" in line.what for line in bill_of(design_of(KIT)).lines)
    bare = bill_of(design_of(scope=Scope.GLASS_ONLY)).lines
    assert not any(word in line.what for line in bare for word in ("lead", "Dimmer", "fuse", "plug"))


def test_plain_timber_is_billed_by_its_name() -> None:
    whats = [line.what for line in bill_of(design_of()).lines]
    assert any(what.startswith("Pine batten, 3/4 by 1 in,") for what in whats)
    assert not any("batten stock" in what for what in whats)
