"""What the checks of loads put into the published rules, reckoned again by hand from the job's own sizes."""

from __future__ import annotations

from math import ceil, hypot

import pytest

from halfsilver.files.jobs import job_from_text
from halfsilver.services.checks import balance, glass, retaining, standing
from halfsilver.services.decide import decided
from jobs import shop
from unit.test_checks_loads_sides import hang, hardware, one, stand
from unit.test_findings_sides import text

G = 9.80665


def design_of(**keys):
    return decided(job_from_text(text(**keys)), shop())


def given(working, symbol):
    return next(each.value for each in working.given if each.symbol == symbol)


def named(check, rule):
    return next(each for each in check.also if each.rule == rule)


def niosh_kg(*, hands_cm, travel_cm, reach_cm, coupling):
    """NIOSH 94-110, metric, rare lifts, no twist: 23 HM VM DM CM, written out."""
    return 23 * min(1, 25 / reach_cm) * (1 - 0.003 * abs(hands_cm - 75)) * (0.82 + 4.5 / travel_cm) * coupling


def test_a_pane_is_lifted_from_blocks_to_the_bench():
    # Blocks of 10 cm, a bench of 90 cm, hands a quarter up, no cups (0.90), HSE L23: two thirds of the sum; common practice.
    found = {each.body.name: each for each in balance.carried(design_of())}
    pane = found["the front pane"]
    grip = pane.high_mm / 40
    ends = [niosh_kg(hands_cm=low + grip, travel_cm=80, reach_cm=20 + pane.thick_mm / 20, coupling=0.90) for low in (10, 90)]
    assert pane.limit_kg(2) == pytest.approx(min(ends) * 4 / 3, rel=1e-6)
    frames = found["the frames, empty"]
    grip = frames.high_mm / 40
    low, high = (
        niosh_kg(hands_cm=h + grip, travel_cm=80, reach_cm=20 + frames.thick_mm / 20, coupling=0.95 if h + grip < 75 else 1)
        for h in (10, 90)
    )
    assert frames.limit_kg(3) == pytest.approx(min(low, high) * 1.5, rel=1e-6)


@pytest.mark.parametrize(("width", "people"), [("1230 mm", 1), ("1350 mm", 2)])
def test_two_carry_a_pane_from_one_square_metre_on(width, people):
    # 0.7747 m high: 1 m2 at 1.29 m; common practice.
    pane = next(each for each in balance.carried(design_of(width=width)) if each.body.name == "the rear pane")
    assert (pane.pane_m2 > 1.0, pane.people) == (people == 2, people)


def test_hangers_share_weight_and_pull():
    check = one("mount.hangers", {}, hardware("hanger", rated=29.0))
    whole = one("mass.total", {}).working.result
    wall = one("mount.fixings", {})
    e, h = (given(named(wall, "mount.pull_out"), symbol) for symbol in ("e", "h"))
    down, out = whole * G / 2, (whole * G * e + 222 * h) / h / 2
    assert check.working.result == pytest.approx(hypot(down, out), rel=2e-3)  # the badge of no pocket: as good as even
    assert check.working.limit == pytest.approx(29 * G)


def test_screws_of_the_hangers_in_poplar():
    # NDS Eq 12.2-2 for years: 0.9 x 2850 G^2 D lb/in, two thirds of 1 1/2 in of thread, G = 470/1120.
    check = one("mount.hanger_screws", {})
    rest = named(check, "mount.pull_out")
    assert given(rest, "p") == pytest.approx(25.4)
    assert given(rest, "G") == pytest.approx(470 / 1120)
    assert rest.limit == pytest.approx(0.9 * 2850 * (470 / 1120) ** 2 * 0.190 * 1.0 * 4.4482216, rel=1e-6)
    assert given(rest, "n") == 8
    short = hardware("screw", length=30.0)
    assert given(named(one("mount.hanger_screws", {}, short), "mount.pull_out"), "p") == pytest.approx(20.0)  # two thirds
    stub = hardware("screw", length=5.0)
    assert given(named(one("mount.hanger_screws", {}, stub), "mount.pull_out"), "p") == pytest.approx(3.0)  # less 2 mm of metal


def test_a_bar_reaches_over_the_screen_by_twelve_millimetres():
    # From the middle of the body, 57.15 mm, across the gap beside the screen, to the middle of 12 mm over it; three bars share.
    design = design_of()
    found = retaining.bar(design)
    gap = design.ledger["screen.offset.left"] - 57.15
    assert found.arm_mm == pytest.approx(57.15 / 2 + gap + 6)
    assert found.load_n == pytest.approx(20 * G / 3)
    assert found.screws == 4


@pytest.mark.parametrize(("beside", "far"), [(59.8, False), (60.3, True)])
def test_from_sixty_millimetres_on_a_bar_runs_across(beside, far):
    # Screen 962 x 557 mm in a rebate that is wider and higher by as much on each side: the sheet and its fit of 4 mm.
    wide, high = 962 + 2 * beside - 4, 557 + 2 * beside - 4
    more = f"size: {{of: sheet, width: {wide} mm, height: {high} mm}}\nfit: {{glass: 4 mm}}"
    design = design_of(base="hidden", more=more, bottom="10 mm")
    assert design.ledger["screen.offset.left"] - design.ledger["front.moulding.body"] == pytest.approx(beside, abs=0.1)
    found = retaining.bar(design)
    assert found.far is far
    if far:
        # P L^3/(48 E I) of a flat bar 20 x 3 mm of steel, I = 45 mm4; stress P L/4 over 30 mm3
        assert found.bent_mm() == pytest.approx(found.load_n * found.length_mm**3 / (48 * 200_000 * 45))
        assert found.stress_mpa() == pytest.approx(found.load_n * found.length_mm / 4 / 30)


def test_a_mirror_hangs_on_the_screws_of_its_panel():
    check, design = one("frame.mitres", {"base": "mirror"}), design_of(base="mirror")
    panel = next(part for part in design.parts if part.id == "back-panel")
    assert given(check.working, "n") == ceil(panel.size_mm[0] / 200)
    carried = ("front-glass", "rear-glass", "batten", "strip", "back-panel")
    mass = sum(part.mass_kg * part.quantity for part in design.parts if part.id.startswith(carried))
    sticks = sum(part.mass_kg * part.quantity for part in design.parts if "-stick-" in part.id) / 4
    assert check.working.result == pytest.approx((mass + sticks) * G)


def test_pushes_act_up_to_a_metre_and_a_half():
    # IEC 62368-1 8.6: 1.5 m; over a lower piece at its top.
    tall = standing.stand(
        design_of(**stand("{front: 500 mm, back: 400 mm}")), design_of(**stand("{front: 500 mm, back: 400 mm}")).facts.job.mounting.base
    )
    assert tall.push_mm == 1500
    assert {edge.name for edge in tall.edges} == {"front edge", "back edge", "side"}


def test_what_leans_out_over_its_foot_is_pressed_down_upon():
    # Leaning back 30 degrees: what lies at 1.5 m, and no foot behind; a foot of 400 mm lies under it.
    over = {}
    for back in ("0 mm", "400 mm"):
        design = design_of(**stand("{front: 500 mm, back: " + back + "}, tilt: 30 deg"))
        over[back] = next(e for e in standing.stand(design, design.facts.job.mounting.base).edges if e.name == "back edge").overhang_mm
    assert over["400 mm"] == 0
    assert over["0 mm"] > 100


def test_an_off_centre_piece_loads_one_fixing_more():
    even = one("mount.fixings", hang("fixings: {count: 2}"))
    assert given(named(even, "mount.pull_out"), "u") == pytest.approx(1.0, abs=0.01)
    badge = ", sticks_out: [{id: box, side: left, from: 2 in, to: 28 in, out: 40 mm}]"
    uneven = one("mount.fixings", {**hang("fixings: {count: 2}"), "screen": badge})
    assert given(named(uneven, "mount.pull_out"), "u") > given(named(even, "mount.pull_out"), "u")


@pytest.mark.parametrize(
    ("nominal", "least"), [(3.0, 2.92), (5.94, 4.57), (5.96, 5.56), (6.0, 5.56), (7.94, 5.56), (7.96, 7.42), (2.4, 2.04)]
)
def test_the_least_thickness_that_a_pane_may_have(nominal, least):
    # ASTM E1300, designations in mm: 3 is 2.92 at least, 5 is 4.57, 6 is 5.56, 8 is 7.42; between two the thinner counts.
    assert glass.least_mm(nominal) == pytest.approx(least)


def test_a_laminated_pane_counts_as_two_least_plies():
    # 3 + 0.76 + 3 mm: plies of 2.92 (ASTM E1300) that slide for years: the cubes add.
    pane = glass.pane(design_of(front_glass="split-t50-lam-6", fit_glass="4 mm"), "front")
    sag, stress = pane.thicknesses_mm(lasting=True)
    assert sag == pytest.approx((2 * 2.92**3) ** (1 / 3))
    assert stress == pytest.approx((2 * 2.92**2) ** 0.5)
    brief, _ = pane.thicknesses_mm(lasting=False)
    assert sag < brief < 2 * 2.92


def test_on_its_screen_the_lower_mitres_lift_all_but_the_screen():
    # Both bottom sticks, panes, battens and strip; half of it on either mitre.
    keys = {"swap": ("kind: hung,", "kind: hung, carried_by: screen-mount,")}
    check, design = one("frame.mitres", keys), design_of(**keys)
    kg = {part.id: part.mass_kg * part.quantity for part in design.parts}
    sticks = sum(each for name, each in kg.items() if "-stick" in name) / 4
    rest = sum(each for name, each in kg.items() if name.startswith(("front-glass", "rear-glass", "batten", "strip")))
    assert check.working.result == pytest.approx(G * (sticks + rest) / 2, rel=1e-6)
    assert check.finding.advice.startswith("Hung on its screen by the bars, each lower mitre is pulled apart")
