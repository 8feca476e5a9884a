"""The wiring plan: order of the run, joints that are fed, circuits, supplies, leads; and the diagram that shows it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfsilver.costing.wires import wiring_lines
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.wiring_diagram import wiring_scene
from halfsilver.drawing.scene import Text, flat
from halfsilver.engineering.ladder import solve_strip
from halfsilver.errors import JobError
from halfsilver.files.jobs import job_from_text
from halfsilver.ledger.shown import shower
from halfsilver.making.wiring import KINDS, choose_feed, fed, joints, lead_limit_a, run_of, strip_of, wiring_plan
from halfsilver.model.bill import BillLine
from halfsilver.model.job import FeedPoints
from halfsilver.services.decide import decided
from jobs import shop
from unit.test_findings_sides import text

LIGHTS = "kind: tape-24-100, feed: one-end, corner: bottom-left"


def design(words=LIGHTS, *, workshop=None, **keys):
    return decided(job_from_text(text(swap=(LIGHTS, words), **keys)), workshop or shop())


def with_supplies(**power):
    kept = shop().supplies["supply-24-60"]
    return replace(shop(), supplies={name: replace(kept, id=name, power=watts) for name, watts in power.items()})


@pytest.mark.parametrize(
    ("corner", "run"),
    [
        ("bottom-left", ("bottom", "right", "top", "left")),
        ("bottom-right", ("bottom", "left", "top", "right")),
        ("top-left", ("top", "right", "bottom", "left")),
        ("top-right", ("top", "left", "bottom", "right")),
    ],
)
def test_the_run_goes_along_the_level_side_and_round(corner, run):
    assert run_of(corner) == run


@pytest.mark.parametrize(
    ("feed", "fed_at"),
    [
        (FeedPoints.ONE_END, (0,)), (FeedPoints.BOTH_ENDS, (0, 40)), (FeedPoints.OPPOSITE_CORNERS, (0, 20, 40)),
        (FeedPoints.EACH_SIDE, (0, 13, 20, 33, 40)),
    ],
)  # fmt: skip
def test_joints_are_corners_of_the_run(feed, fed_at):
    assert joints(feed, (13, 7, 13, 7)) == fed_at


def test_nothing_lit_has_no_wiring():
    assert wiring_plan(decided(job_from_text(text(base="hidden")), shop())) is None


def test_one_circuit_by_hand():
    # 53 3/8 x 30 5/8 in less battens and corners hold 13 and 7 segments of 100 mm each way: 4 m, 38.4 W, 1.6 A; 2 A is 1.25 times that
    plan = wiring_plan(design())
    (circuit,) = plan.circuits
    assert (circuit.sides, circuit.counts, circuit.feeds) == (("bottom", "right", "top", "left"), (13, 7, 13, 7), (0,))
    assert (circuit.power_w, circuit.current_a, plan.fuse_a) == pytest.approx((38.4, 1.6, 2.0))
    assert plan.supply.id == "supply-24-60"
    assert plan.lead_ohm == pytest.approx(2 * 2e-3 * 26.1)  # NEC chapter 9 Table 8, 18 AWG of seven strands


@pytest.mark.parametrize(
    ("watts", "sides"),
    [
        (48.0, (4,)),  # 38.4 W at 80 %
        (47.9, (2, 2)),
        (24.0, (2, 2)),
        (23.9, (1, 1, 1, 1)),
    ],
)
def test_more_power_than_a_supply_gives_divides_the_run(watts, sides):
    found = design(workshop=with_supplies(one=watts))
    assert tuple(len(circuit.sides) for circuit in wiring_plan(found).circuits) == sides


def test_limited_supplies_come_before_larger_ones():
    # 100 VA is the most of a Class 2 source: NEC chapter 9 Table 11(B)
    plan = wiring_plan(design(workshop=with_supplies(small=30.0, large=150.0)))
    assert (plan.supply.id, len(plan.circuits)) == ("small", 2)
    plan = wiring_plan(design(workshop=with_supplies(tiny=5.0, large=150.0)))
    assert (plan.supply.id, len(plan.circuits)) == ("large", 1)


def test_a_supply_that_is_not_there_is_a_problem_of_the_job():
    with pytest.raises(JobError, match=r"lights\.supply"):
        wiring_plan(design(f"{LIGHTS}, supply: none-such"))


def test_auto_takes_the_fewest_feeds_that_are_bright_enough():
    shares = {feed: fed(design().facts, design().ledger, feed).dimmest for feed in KINDS}
    assert list(shares.values()) == sorted(shares.values())
    for wanted, feed in ((0.94, FeedPoints.ONE_END), (0.98, FeedPoints.BOTH_ENDS), (0.99, FeedPoints.OPPOSITE_CORNERS)):
        found = design(f"kind: tape-24-100, feed: auto, dimmest: {100 * wanted:g} %")
        assert wiring_plan(found).feed is feed
        assert found.facts.choices.feed.value == feed.value
    hopeless = design("kind: tape-24-100, feed: auto, dimmest: 100 %")
    assert choose_feed(hopeless.facts, hopeless.ledger).feed is FeedPoints.EACH_SIDE
    assert "no way of feeding" in hopeless.facts.choices.feed.reason


@pytest.mark.parametrize(
    ("lead", "gauge"),
    [
        ("8.6 m", 18),  # 0.72 V over both wires at 1.6 A: 8.62 m of 18 AWG (26.1 ohm/km), 13.7 m of 16 AWG (16.4 ohm/km)
        ("8.7 m", 16),
        ("13.8 m", 14),
    ],
)
def test_the_thinnest_lead_that_loses_little_enough(lead, gauge):
    assert wiring_plan(design(f"{LIGHTS}, lead: {lead}")).gauge == gauge


def test_lead_limits_are_the_codes():
    # NEC 402.5: 6 and 8 A; 310.16 at 60 degC: 15, 20, 30, 40 A; a gauge between two counts as the thinner
    assert [lead_limit_a(gauge) for gauge in (18, 17, 16, 14, 13, 12, 10, 8)] == [6, 6, 8, 15, 15, 20, 30, 40]


def test_what_the_catalogue_leaves_open_is_estimated():
    kind = replace(shop().lights["tape-24-100"], rails=0.0, forward=0.0, regulated=True)
    strip = strip_of(kind, 10)
    # two rails of 4 x 0.07 mm of copper at 1.7241e-8 ohm m over 0.1 m
    assert strip.segment_ohm == pytest.approx(2 * 1.7241e-8 * 0.1 / (4e-3 * 0.07e-3))
    assert (strip.forward_v, strip.full_v) == pytest.approx((18.0, 21.6))


@pytest.mark.parametrize("regulated", [False, True])
@pytest.mark.parametrize("feeds", ["one", "both"])
def test_a_longer_strip_is_never_brighter_at_its_end(regulated, feeds):
    kind = replace(shop().lights["tape-24-100"], regulated=regulated)
    last = 2.0
    for segments in range(2, 160, 6):
        at = (0,) if feeds == "one" else (0, segments)
        state = solve_strip(strip=strip_of(kind, segments), feeds=at, supply_v=24.0, lead_ohm=0.1)
        least = min(state.share)
        assert least <= last + 1e-9
        last = least


def words_of(found, feed):
    plan = fed(found.facts, found.ledger, feed)
    scene = wiring_scene(Sizes(found, shower(units="in", fraction=32)), plan, room_mm=180.0)
    return plan, [item.text for item in flat(scene.items) if isinstance(item, Text)]


def test_the_diagram_prints_what_the_plan_says():
    found = design(f"{LIGHTS}, dim: 0.5, lead: 36 in")
    plan, words = words_of(found, FeedPoints.BOTH_ENDS)
    told = " | ".join(words)
    for due in (
        "Mains",
        "120 V, 15 A circuit",
        "loaded with 38.4 W",
        "2 A slow",
        "Dimmer",
        "bottom, 13",
        "18 AWG copper (0.82 mm²), 36 in to",
    ):
        assert due in told
    assert f"{100 * plan.dimmest:.0f} %, " in told
    assert "assumed" not in told
    assert "assumed" in " | ".join(words_of(design(), FeedPoints.ONE_END)[1])


def test_each_circuit_has_its_row():
    found = design(workshop=with_supplies(one=24.0))
    assert sum(word == "Supply" for word in words_of(found, FeedPoints.ONE_END)[1]) == 2


W, H = 57.875 * 25.4, 35.125 * 25.4  # outside of the frame


def beyond(plan):
    return [[round(length - plan.lead_mm, 6) for length in each] for each in plan.leads]


def test_a_lead_goes_to_every_joint_along_the_frame_by_the_shorter_way():
    # A joint at a corner is one side, two sides or, by the other way, one side beyond the feed corner.
    for feed, far in (
        (FeedPoints.ONE_END, [0]),
        (FeedPoints.BOTH_ENDS, [0, 0]),
        (FeedPoints.OPPOSITE_CORNERS, [0, W + H, 0]),
        (FeedPoints.EACH_SIDE, [0, W, W + H, H, 0]),
    ):
        plan = wiring_plan(design(LIGHTS.replace("one-end", feed.value)))
        assert beyond(plan) == [pytest.approx(far)]
        assert plan.links == 3
        assert plan.wire_mm == pytest.approx(sum(far) + len(far) * plan.lead_mm + 3 * 150.0)


def test_circuits_of_their_own_begin_where_they_are_nearest():
    # Halves both begin at the feed corner; of four sides the two that meet there do, the other two a side away.
    halves = wiring_plan(design(workshop=with_supplies(one=24.0)))
    assert beyond(halves) == [[0], [0]]
    assert [circuit.sides for circuit in halves.circuits] == [("bottom", "right"), ("left", "top")]
    four = wiring_plan(design(workshop=with_supplies(one=23.9)))
    assert [circuit.sides for circuit in four.circuits] == [("bottom",), ("right",), ("top",), ("left",)]
    assert beyond(four) == [pytest.approx([0]), pytest.approx([W]), pytest.approx([H]), pytest.approx([0])]
    assert four.furthest_mm == pytest.approx(four.lead_mm + W)
    assert four.links == 0


@pytest.mark.parametrize(("watts", "supplies"), [(48.0, 1), (24.0, 2), (23.9, 4)])
@pytest.mark.parametrize("feed", KINDS)
def test_bill_and_diagram_count_from_the_plan(watts, supplies, feed):
    """One supply, one fuse and one dimmer a circuit, one connector a joint: in the plan, on the bill and in the drawing."""
    found = design(f"{LIGHTS.replace('one-end', feed.value)}, dim: 0.5", workshop=with_supplies(one=watts))
    plan, words = words_of(found, feed)
    joints_fed = sum(len(circuit.feeds) for circuit in plan.circuits)
    assert (len(plan.circuits), sum(len(each) for each in plan.leads)) == (supplies, joints_fed)
    lines = {line.what: line.quantity for line in wiring_lines(found) if isinstance(line, BillLine)}
    counted = {word: next(int(n) for what, n in lines.items() if word in what) for word in ("fuse", "socket", "Dimmer")}
    assert counted == {"fuse": supplies, "socket": joints_fed, "Dimmer": supplies}
    assert sum(word.endswith("A slow") for word in words) == supplies
    assert words.count("Dimmer") == supplies


@pytest.mark.parametrize(("share", "gauge"), [(None, 18), (0.02, 16), (0.05, 18)])
def test_the_workshop_says_what_a_lead_may_lose(share, gauge):
    # 8.6 m of 18 AWG lose 3 % at 1.6 A: too much where 2 % are allowed
    head = shop().head
    found = design(f"{LIGHTS}, lead: 8.6 m", workshop=replace(shop(), head=replace(head, rules=replace(head.rules, lead_drop=share))))
    assert wiring_plan(found).gauge == gauge
