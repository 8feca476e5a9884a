"""What is checked of a part that is delivered alone, what is told once, the proof of a support, and numbers that are put in as printed."""

from __future__ import annotations

import re

import pytest

from halfsilver.services.checks import run
from unit.test_checks_loads_sides import as_is, ground, hang, in_recess, one, room
from unit.test_checks_sides import HOT, NOT_RUN, NOTE, ROOM, finding_of, lights, ran, screen


def delivered(scope, **keys):
    return {"swap": ("construction:", f"scope: {scope}\nconstruction:"), **keys}


def subjects(keys):
    return {finding_of(each).rule.partition(".")[0] for each in ran(keys, as_is)}


def test_of_panes_alone_nothing_is_said_about_hanging_frames_heat_and_wires():
    said = subjects(delivered("glass-only"))
    assert not said & {"lift", "mount", "frame", "heat", "wiring", "view", "access"}
    assert {"glass", "glazing", "carriage", "mass", "scope"} <= said
    assert one("scope.others", delivered("glass-only")).severity is NOT_RUN


def test_of_a_frame_alone_neither_its_strip_nor_screws_that_others_choose():
    keys = delivered("frame-only")
    rules = {finding_of(each).rule for each in ran(keys, as_is)}
    assert not rules & {"wiring.even", "wiring.supply", "wiring.lead"}
    assert {"wiring.mains", "mount.fixings", "scope.others"} <= rules
    mitres = one("frame.mitres", keys)
    assert mitres.severity is NOT_RUN
    assert "hardware.csv" not in mitres.advice
    assert mitres.value == pytest.approx(one("frame.mitres", {}).working.result)


def test_what_is_delivered_whole_is_checked_whole():
    assert "scope" not in subjects({})
    assert len(run.PANES) < len(run.RULES)


def test_a_mount_in_a_recess_is_told_once():
    keys = in_recess(", carries: fixings", "ground: stud, carried_by: screen-mount")
    assert sum(finding_of(each).rule == "mount.screen_mount" for each in ran(keys, as_is)) == 1


@pytest.mark.parametrize("keys", [hang("fixings: {count: 4}"), ground("masonry, fixings: {rated: 40 kg}")])
def test_a_support_is_proved_with_four_times_the_weight(keys):
    # Mounting-means test of a UL product standard, clause 64: four times the weight
    found, whole = one("mount.fixings", keys), one("mass.total", keys)
    proof = next(working for working in found.also if working.rule == "mount.proof_load")
    assert proof.result == pytest.approx(4 * whole.working.result * 9.80665)
    assert "UL" in proof.source


def test_a_hung_piece_that_leans_pulls_harder():
    pulls = [
        next(w.result for w in one("mount.fixings", hang(f"tilt: {deg} deg")).also if w.rule == "mount.pull_out") for deg in (0, 5, 20)
    ]
    assert pulls == sorted(pulls)
    assert pulls[0] < pulls[-1] / 3  # half of 870 mm x sin 20 deg, 150 mm, beside 60 mm


def printed(pattern, advice):
    return re.search(pattern, advice)[1]


def warm(case):
    return {**screen(f"{HOT} 40 degC"), "more": f"{ROOM}\ncase: {{{case}}}"}


def test_openings_and_fan_as_printed_keep_the_limit():
    asked = one("heat.vent", warm("low: 10 cm2, apart: 700 mm")).finding.advice
    for case in (f"low: {printed(r'([0-9.]+ sq in) .[0-9]+ cm2. free low', asked).replace(' sq in', ' in2')}, apart: 700 mm",
                 f"low: {printed(r'([0-9]+ cm2). free low', asked)}, apart: 700 mm"):  # fmt: skip
        assert one("heat.air", warm(case)).finding.severity is NOTE
    fan = printed(r"moves ([0-9.]+) l/s", one("heat.vent", warm("low: 0 cm2")).finding.advice)
    assert one("heat.air", warm(f"low: 0 cm2, fan: {fan} l/s")).finding.severity is NOTE


@pytest.mark.parametrize("lux", [20, 33, 50, 80])
def test_a_dimmer_set_as_printed_keeps_the_glare(lux):
    share = printed(r"dim it to (\d+) %", one("view.glare", room(f"wall_light: {lux} lx")).finding.advice)
    found = one("view.glare", room(f"wall_light: {lux} lx", **lights(f"dim: {int(share) / 100}"))).finding
    assert found.value <= found.limit


@pytest.mark.parametrize("fit", [1.0, 1.3, 1.6])
def test_a_clearance_as_printed_is_enough(fit):
    found = one("timber.clearance", {"fit_glass": f"{fit} mm"}).finding
    more = float(printed(r"Ask for ([0-9.]+) in more", found.advice)) * 25.4
    assert more >= -found.value
    assert more - 0.03 < -found.value
