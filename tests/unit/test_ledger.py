"""The ledger: resolution, readings, tolerance and words."""

from __future__ import annotations

import random

import pytest

from halfsilver.ledger.explain import lines, why
from halfsilver.ledger.expression import Deviation, Number, as_expression, from_json, greatest, least, mm, ref, rounded
from halfsilver.ledger.ledger import CycleError, Entry, Kind, Ledger, Measurement, Origin
from halfsilver.ledger.tolerance import chance_below, tolerance


def show(value: float, unit: str) -> str:
    return f"{value:g} {unit}"


def opening(*, measured: bool, saw: float = 1.5, tape: float = 0.5, cutter: float = 1.0, clearance: float = 3.0) -> Ledger:
    off = Deviation("tape", mm(tape)) if measured else least(Deviation("saw, top", mm(saw)), Deviation("saw, bottom", mm(saw)))
    return Ledger.of(
        [
            Entry(name="opening", label="opening", formula=mm(1000), origin=Origin.ASKED, places="least"),
            Entry(name="fit", label="clearance in all", formula=mm(clearance), origin=Origin.ALLOWANCE),
            Entry(name="step", label="step", formula=mm(0.5), origin=Origin.ALLOWANCE),
            Entry(name="glass", label="glass", formula=rounded("down", ref("opening") - ref("fit"), step=ref("step"))),
            Entry(name="opening.actual", label="opening as made", kind=Kind.ACTUAL, formula=ref("opening") + off),
            Entry(
                name="glass.actual", label="glass as cut", kind=Kind.ACTUAL, formula=ref("glass") + Deviation("glass cutter", mm(cutter))
            ),
            Entry(
                name="clearance",
                label="clearance",
                kind=Kind.GAP,
                formula=ref("opening.actual") - ref("glass.actual"),
                serves=("glass",),
                at_least=0.0,
            ),
        ],
        [Measurement(name="opening", value_mm=1000.0, at="middle")] if measured else (),
    )


def test_measuring_first_tightens_the_clearance_as_the_stack_says():
    # Worst case of a stack is the sum of its limits: 3 - 1.5 - 1.0 from plan, 3 - 0.5 - 1.0 from the reading.
    assert tolerance(opening(measured=False), "clearance").low_mm == pytest.approx(0.5)
    assert tolerance(opening(measured=True), "clearance").low_mm == pytest.approx(1.5)
    assert tolerance(opening(measured=False), "clearance").largest.startswith("saw")


def test_a_reading_equal_to_plan_moves_no_target():
    assert opening(measured=True).values["glass"] == opening(measured=False).values["glass"]


def test_targets_do_not_vary():
    spread = tolerance(opening(measured=False), "glass")
    assert (spread.worst_mm, spread.largest) == (0.0, "")


def test_textbook_stacks():
    # 40.00 +-0.10 less 25.00 +-0.05, 2.00 +-0.03, 10.00 +-0.05: gap 3.00, worst 0.23, root-sum-square 0.126 (textbook housing stack).
    parts = {"housing": (40.0, 0.10), "a": (25.0, 0.05), "b": (2.0, 0.03), "c": (10.0, 0.05)}
    entries = [Entry(name=n, label=n, kind=Kind.ACTUAL, formula=mm(v) + Deviation(n, mm(t))) for n, (v, t) in parts.items()]
    entries.append(Entry(name="gap", label="gap", kind=Kind.GAP, formula=ref("housing") - ref("a") - ref("b") - ref("c")))
    spread = tolerance(Ledger.of(entries), "gap")
    assert spread.worst_mm == pytest.approx(0.23)
    assert spread.rss_mm == pytest.approx(0.126, abs=0.0005)
    assert (spread.low_mm, spread.high_mm) == (pytest.approx(2.77), pytest.approx(3.23))


@pytest.mark.parametrize("clearance", [0.5, 1.0, 1.5])
def test_chance_agrees_with_builds_simulated_without_the_ledger(clearance):
    draw = random.Random(20260304)
    builds = 20_000
    failed = 0
    for _ in range(builds):
        made = 1000 + min(draw.gauss(0, 0.5), draw.gauss(0, 0.5))
        failed += made - (1000 - clearance + draw.gauss(0, 1 / 3)) < 0
    share = failed / builds
    predicted = chance_below(opening(measured=False, clearance=clearance), {"clearance": 0.0})
    assert predicted == pytest.approx(share, abs=4 * (share * (1 - share) / builds) ** 0.5 + 0.002)


def test_a_ring_is_named():
    entries = [Entry(name="a", label="a", formula=ref("b") + 1), Entry(name="b", label="b", formula=ref("a") * 2)]
    with pytest.raises(CycleError, match="a -> b -> a"):
        _ = Ledger.of(entries).values


def test_an_unknown_name_is_named():
    with pytest.raises(ValueError, match="a refers to nowhere"):
        _ = Ledger.of([Entry(name="a", label="a", formula=ref("nowhere") + 1)]).values


def test_the_later_reading_at_a_place_counts_and_the_least_place_decides():
    ledger = Ledger.of(
        [Entry(name="o", label="o", formula=mm(10), places="least")],
        [
            Measurement(name="o", at="top", value_mm=9),
            Measurement(name="o", at="low", value_mm=9.5),
            Measurement(name="o", at="top", value_mm=9.8),
        ],
    )
    assert ledger["o"] == 9.5
    assert ledger.planned["o"] == 10


def test_json_gives_the_same_tree_back():
    tree = rounded("down", least(ref("a"), ref("b") / 2, labels=("first", "second")) - mm(3) * 2, step=mm(0.5)) + Deviation("saw", mm(1))
    assert from_json(tree.as_json(), functions={}) == tree


def test_derivatives_agree_with_differences():
    tree = (ref("a") - 2 * ref("b")) / (ref("c") + Number(1))
    at = {"a": 5.0, "b": 3.0, "c": 4.0}
    for name, slope in tree.partials(at).items():
        up, down = {**at, name: at[name] + 1e-6}, {**at, name: at[name] - 1e-6}
        assert slope == pytest.approx((tree.value(up) - tree.value(down)) / 2e-6, rel=1e-6)


def test_words_keep_the_brackets_that_matter():
    ledger = Ledger.of([Entry(name=n, label=n, formula=as_expression(1.0)) for n in "abc"])
    from halfsilver.ledger.expression import Voice

    assert (ref("a") - (ref("b") - ref("c"))).words(Voice(show)) == "a − (b − c)"
    assert ((ref("a") - ref("b")) * 2).words(Voice(show)) == "(a − b) × 2"
    assert ledger["a"] == 1


def test_why_reads_down_to_what_was_asked():
    told = why(opening(measured=False), "glass", show=show)
    assert told.sentence.startswith("Glass is 997 mm: down to step 0.5 mm (opening 1000 mm − clearance in all 3 mm).")
    assert "Clearance 3 mm may be off by 2.50 mm at worst" in told.sentence
    assert [child.origin for child in told.inputs] == ["allowance", "asked", "allowance"]
    assert any("opening = 1000 mm  (asked)" in line for line in lines(told))


def test_the_range_of_nested_extremes_holds_the_plan():
    edges = [Entry(name=n, label=n, kind=Kind.ACTUAL, formula=mm(v) + Deviation(n, mm(1))) for n, v in (("a", 4.0), ("b", 3.5), ("c", 1.0))]
    edges.append(Entry(name="hidden", label="hidden", kind=Kind.GAP, formula=greatest(mm(0), ref("a"), ref("b"), ref("c"))))
    edges.append(Entry(name="seen", label="seen", kind=Kind.GAP, formula=greatest(mm(0), mm(100) - ref("hidden") - ref("hidden"))))
    ledger = Ledger.of(edges)
    spread = tolerance(ledger, "seen")
    assert ledger["seen"] == 92
    assert spread.low_mm == pytest.approx(90)
    assert spread.low_mm <= ledger["seen"] <= spread.high_mm
