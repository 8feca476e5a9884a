"""What the advice names passes when it is put in: lengths are rounded to the side that passes, leads and screws are counted."""

from __future__ import annotations

import re

import pytest

from halfsilver.errors import JobError
from halfsilver.ledger.shown import shower
from halfsilver.making.fasteners import fasteners
from halfsilver.model.finding import Severity
from halfsilver.services.checks import carrying, standing
from halfsilver.services.checks.known import at_least, at_most
from halfsilver.services.findings import findings
from halfsilver.units.lengths import read_length_mm
from unit.test_checks_loads_numbers import design_of
from unit.test_checks_loads_sides import hang, one, stand
from unit.test_checks_sides import HOT, LARGE, ROOM, both, finding_of, light, lights, screen
from unit.test_findings_sides import SHOW, recess

CAUTION, NOTE, STOP = Severity.CAUTION, Severity.NOTE, Severity.STOP


def named(pattern, advice):
    found = re.search(pattern, advice)
    assert found, advice
    return found[1]


@pytest.mark.parametrize(
    ("units", "length", "least", "most"),
    [
        ("in", 240.67, "9 1/2 in", "9 15/32 in"),
        ("mm", 240.67, "240.7 mm", "240.6 mm"),
        ("in", 25.4, "1 in", "1 in"),
        ("mm", 4, "4 mm", "4 mm"),
    ],
)  # fmt: skip
def test_a_length_that_passes_is_rounded_to_the_side_that_passes(units, length, least, most):
    # 9 15/32 in are 240.51 mm; 1 in are 25.4 mm, exactly.
    design, show = design_of(units=units), shower(units=units, fraction=32)
    assert at_least(design, show, length) == least
    assert at_most(design, show, length) == most


def test_the_foot_that_is_named_keeps_it_upright():
    def foot(mm):
        return stand(f"{{front: {mm:.4f} mm, back: {mm:.4f} mm, height: 900 mm}}")

    told = finding_of(one("mount.tip", foot(20)))
    assert told.severity is STOP
    design = design_of(**foot(20))
    least = min(edge.inside_mm for edge in standing.stand(design, design.facts.job.mounting.base).edges)
    # The foot grows by what is missing, as printed.
    grown = 20 + read_length_mm(named(r"It takes (.+?) from the plumb line", told.advice)) - least
    assert finding_of(one("mount.tip", foot(grown))).severity is NOTE


def test_the_recess_that_is_named_takes_the_piece():
    shallow = recess(20.0)
    old, new = shallow["swap"]
    shallow["swap"] = (old, new.replace("depth: 120.0 mm", "depth: 40 mm"))
    told = [each for each in findings(design_of(**shallow), SHOW) if each.rule == "fit.recess" and "depth" in each.advice]
    deep = named(r"Make it (.+? in),", told[0].advice)
    shallow["swap"] = (old, new.replace("depth: 120.0 mm", f"depth: {deep}"))
    assert not [each for each in findings(design_of(**shallow), SHOW) if each.rule == "fit.recess" and "in depth" in each.advice]


@pytest.mark.parametrize("lead", ["11 m", "20 m"])
def test_the_lead_that_is_named_loses_no_more_than_is_usual(lead):
    told = finding_of(one("wiring.lead_drop", lights(f"gauge: 18, lead: {lead}")))
    assert told.severity is CAUTION
    gauge = named(r"(\d+) AWG would pass", told.advice)
    assert finding_of(one("wiring.lead_drop", lights(f"gauge: {gauge}, lead: {lead}"))).severity is NOTE
    # The next thinner one of NEC chapter 9 Table 8 does not.
    assert finding_of(one("wiring.lead_drop", lights(f"gauge: {int(gauge) + 2}, lead: {lead}"))).severity is CAUTION


def test_a_lead_that_no_gauge_makes_good_is_to_be_shorter():
    told = finding_of(one("wiring.lead_drop", lights("gauge: 18, lead: 20 m"), both(light(power=100.0), LARGE)))
    assert "bring the supply nearer" in told.advice


def test_more_screws_than_two_a_stud_are_counted():
    # Studs 48 in apart: floor(w/s) = 1 surely lies behind 1.6 m.
    told = finding_of(one("mount.fixings", hang("fixings: {screw: 6, length: 1 1/2 in, count: 1, studs: 48 in}")))
    assert told.severity is STOP
    count = int(named(r"(\d+) such screws would carry it", told.advice))
    each = {2: "two", 3: "three", 4: "four"}.get(count, str(count))
    assert f"1 stud surely lies behind it, so set {each} in a stud" in told.advice


def hot(case):
    return {**screen(f"{HOT} 40 degC"), "more": f"{ROOM}\ncase: {{{case}}}"}


@pytest.mark.parametrize("case", [f"low: {area} cm2, fan: {flow} l/s" for area in (40, 200, 400) for flow in (0, 2, 4, 6, 8, 10)])
def test_openings_pass_where_the_air_inside_does(case):
    # Balance with the stronger of stack flow and fan: one verdict in both findings.
    air, vent = (finding_of(one(rule, hot(case))) for rule in ("heat.air", "heat.vent"))
    assert (air.severity is NOTE) is (vent.severity is NOTE)


@pytest.mark.parametrize("case", ["low: 40 cm2", "low: 40 cm2, fan: 2 l/s"])
def test_the_fan_and_the_openings_that_are_named_keep_it_cool(case):
    advice = finding_of(one("heat.vent", hot(case))).advice
    fan, area = named(r"moves ([0-9.]+) l/s", advice), named(r"needs [0-9.]+ sq in \((\d+) cm2\)", advice)
    assert finding_of(one("heat.air", hot(f"low: 40 cm2, fan: {fan} l/s"))).severity is NOTE
    assert finding_of(one("heat.air", hot(f"low: {area} cm2"))).severity is NOTE


def test_a_publication_is_named_once_with_what_is_from_memory():
    check = one("access.path", {"more": "place: {path_width: 1 m}"})
    assert finding_of(check).source == "ADA 2010 307.5 with 403.5.1 (from memory: rules.clear_width)"


@pytest.mark.parametrize(("units", "apart"), [("in", "10 in"), ("mm", "254 mm")])
def test_letter_and_steps_name_the_same_ties(units, apart):
    # 5 in from the corners, 10 in apart at most: common practice; 25.4 mm to an inch.
    design = design_of(units=units)
    line = next(each for each in fasteners(design) if each.place == "screws from the rear frame into the front one")
    assert f"at most {apart} apart" in line.rule
    told = next(carrying.glue_joint(design, shower(units=units, fraction=32))).finding.advice
    assert f"{line.count} screws of the build steps tie it" in told
    assert "They are No. 8 screws" in told
    assert f"at most {apart} apart" in told
    assert not any(re.search(r"\d in (from|apart)" if units == "mm" else r"\d mm\b", each.rule) for each in fasteners(design))


def test_without_ties_the_letter_asks_for_as_many_as_the_steps_put_in():
    planned = next(each for each in fasteners(design_of()) if each.place == "screws from the rear frame into the front one").count
    told = finding_of(one("frame.glue_joint", {"swap": ("frame: {front", "frame: {ties: 0, front")})).advice
    assert f"Tie it with {planned} " in told


@pytest.mark.parametrize(
    "room", ["temperature: -30 degC", "temperature: -5 degC", "temperature: 60 degC, humidity: 100 %", "humidity: 1 %, driest: 1 %"]
)
def test_no_climate_ends_in_an_exception(room):
    assert findings(design_of(more=f"room: {{{room}}}"), SHOW)


@pytest.mark.parametrize("key", ["humidity", "driest", "dampest"])
def test_air_without_water_is_refused_where_it_stands(key):
    with pytest.raises(JobError, match=rf"room\.{key}.*out-of-range"):
        design_of(more=f"room: {{{key}: 0 %}}")


def test_one_screw_ties():
    told = finding_of(one("frame.glue_joint", {"swap": ("frame: {front", "frame: {ties: 1, front")})).advice
    assert " 1 screw asked for ties it" in told
