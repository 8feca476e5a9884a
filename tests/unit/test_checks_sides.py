"""Every rule of the engineering checks on both sides of its limit, each with its working; and no text that says the word it may not."""

from __future__ import annotations

import ast
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from halfsilver.files.jobs import job_from_text
from halfsilver.ledger.shown import shower
from halfsilver.model.finding import Severity
from halfsilver.services.checks import run
from halfsilver.services.checks.check import Check
from halfsilver.services.decide import decided
from jobs import shop
from unit.test_findings_sides import recess, text

SHOW = shower(units="in", fraction=32)
STOP, CAUTION, NOTE, NOT_RUN = Severity.STOP, Severity.CAUTION, Severity.NOTE, Severity.NOT_RUN
LIGHTS = "kind: tape-24-100, feed: one-end"


def lights(words, **changes):
    """The strip with other keys; ``kind`` names another."""
    return {"swap": (LIGHTS, f"kind: {changes.get('kind', 'tape-24-100')}, feed: {changes.get('feed', 'one-end')}, {words}".rstrip(", "))}


def screen(words):
    return {"screen": f", {words}", "more": ROOM}


def more(words):
    return {"more": words}


def light(**changes):
    def altered(workshop):
        return replace(workshop, lights={key: replace(kind, **changes) for key, kind in workshop.lights.items()})

    return altered


def supply(**changes):
    def altered(workshop):
        return replace(workshop, supplies={key: replace(kind, **changes) for key, kind in workshop.supplies.items()})

    return altered


def both(*steps):
    def altered(workshop):
        for step in steps:
            workshop = step(workshop)
        return workshop

    return altered


def head(**changes):
    def altered(workshop):
        return replace(
            workshop, head=replace(workshop.head, **{key: replace(getattr(workshop.head, key), **each) for key, each in changes.items()})
        )

    return altered


def ruled(**changes):
    return head(rules=changes)


def timber(**changes):
    def altered(workshop):
        return replace(workshop, mouldings={key: replace(kind, **changes) for key, kind in workshop.mouldings.items()})

    return altered


def as_is(workshop):
    return workshop


ROOM = "room: {temperature: 21 degC, humidity: 50 %, warmest: 25 degC}"
HOT = "power: {typical: 60 W, maximum: 90 W}, highest_surrounding:"
NAMED = lights("supply: supply-24-60")
THIN = lights("supply: supply-24-150, gauge: 18")
LARGE = supply(power=900.0)

# Rule, keys of the job, changes of the workshop, severities that come; the sum or the source that tells the side stands beside.
SIDES = [
    # Rails of 0.12 ohm/m, 0.4 A/m over 24 - 17.4 V, 4 m: 1/cosh(4 sqrt(0.12 x 0.4/6.6)) = 0.945 (fin equation, one end)
    ("wiring.even", lights("dimmest: 94 %"), as_is, {NOTE}),
    ("wiring.even", lights("dimmest: 95 %"), as_is, {CAUTION}),
    ("wiring.supply", {}, as_is, {NOTE}),
    ("wiring.supply", NAMED, supply(power=15.7), {NOTE}),  # four circuits; a long side of 13 x 0.96 W = 12.48 W, 80 % of 15.6 W
    ("wiring.supply", NAMED, supply(power=15.5), {CAUTION}),
    ("wiring.supply", NAMED, supply(power=12.4), {STOP}),
    ("wiring.supply", {}, supply(voltage=12.0), {NOT_RUN}),
    ("wiring.voltage", lights("supply: supply-24-60"), as_is, set()),
    ("wiring.voltage", lights("supply: supply-12-60"), as_is, {STOP}),
    ("wiring.limited", lights("supply: supply-24-96"), as_is, {NOTE}),  # NEC chapter 9 Table 11(B): 100 VA
    ("wiring.limited", lights("supply: supply-24-150"), as_is, {CAUTION}),
    ("wiring.lead", THIN, both(light(power=35.9), LARGE), {NOTE}),  # NEC 402.5: 6 A; 4 m x 36 W/m / 24 V = 6 A
    ("wiring.lead", THIN, both(light(power=36.1), LARGE), {STOP}),
    ("wiring.lead_drop", lights("gauge: 18, lead: 8 m"), as_is, {NOTE}),  # 2 x 8.6 m x 1.6 A x 26.1 ohm/km is 3 % of 24 V
    ("wiring.lead_drop", lights("gauge: 18, lead: 11 m"), as_is, {CAUTION}),
    ("wiring.fuse", THIN, both(light(power=23.9), LARGE), {NOTE}),  # 3.98 A: a fuse of 5 A, wire of 6 A
    ("wiring.fuse", THIN, both(light(power=30.0), LARGE), {CAUTION}),  # 5 A: a fuse of 6.3 A
    ("wiring.fuse", THIN, both(light(power=90.0), LARGE), {CAUTION}),  # 15 A: no fuse of 18.75 A in the series to 16 A
    ("wiring.dimmer", lights("dim: 0.8"), as_is, {NOTE}),
    ("wiring.dimmer", lights("dim: 0.8, supply: supply-24-150"), both(light(power=57.5), LARGE), {NOTE}),  # 9.58 A of 12 A, 80 %
    ("wiring.dimmer", lights("dim: 0.8, supply: supply-24-150"), both(light(power=58.0), LARGE), {CAUTION}),
    ("wiring.dimmer", {}, as_is, set()),
    ("wiring.branch", {}, as_is, {NOT_RUN}),
    ("wiring.branch", screen("power: {maximum: 1250 W}"), as_is, {NOTE}),  # 12 A x 120 V x 0.9 = 1296 W, less 38.4/0.88 W of lights
    ("wiring.branch", screen("power: {maximum: 1255 W}"), as_is, {STOP}),
    ("wiring.energy", screen("power: {maximum: 100 W}"), as_is, {NOTE}),
    ("wiring.energy", {}, as_is, set()),
    ("wiring.inrush", {}, supply(inrush=75.0), {NOTE}),  # five times 15 A
    ("wiring.inrush", {}, supply(inrush=75.1), {CAUTION}),
    ("wiring.inrush", {}, supply(inrush=0.0), {NOT_RUN}),
    ("wiring.inrush", {}, ruled(inrush_multiple=3.0), {NOTE}),  # characteristic B: 45 A against one supply of 30 A
    ("wiring.inrush", screen("power: {inrush: 15 A}"), ruled(inrush_multiple=3.0), {NOTE}),
    ("wiring.inrush", screen("power: {inrush: 15.1 A}"), ruled(inrush_multiple=3.0), {CAUTION}),
    ("wiring.lead_drop", lights("gauge: 18, lead: 8 m"), ruled(lead_drop=0.02), {CAUTION}),
    ("wiring.branch", screen("power: {maximum: 1250 W}"), ruled(power_factor=0.86), {STOP}),
    ("wiring.branch", screen("power: {maximum: 1000 W}"), ruled(cord_share=0.6), {STOP}),  # 9 A x 120 V x 0.9 = 972 W
    ("wiring.branch", screen("power: {maximum: 900 W}"), ruled(cord_share=0.6), {NOTE}),
    ("wiring.mains", {}, as_is, {NOTE}),
    ("wiring.mains", recess(20.0), as_is, {CAUTION}),
    ("heat.air", {}, as_is, {NOT_RUN}),
    ("heat.air", screen("power: {maximum: 90 W}"), as_is, {NOT_RUN}),
    ("heat.air", screen(f"{HOT} 47 degC"), light(highest_surrounding=60.0), {NOTE}),
    ("heat.air", screen(f"{HOT} 44 degC"), as_is, {CAUTION}),  # 46 degC at most, 43 degC as usual
    ("heat.air", screen(f"{HOT} 30 degC"), as_is, {STOP}),
    ("heat.air", screen("power: {maximum: 4 kW}, highest_surrounding: 40 degC"), as_is, {STOP}),  # it would pass 99 degC
    ("heat.touch", {"base": "mirror"}, as_is, {NOTE}),
    ("heat.touch", {"base": "mirror", "swap": ("humidity: 45 %", "warmest: -20 degC")}, light(power=110.0), {STOP}),
    ("heat.warm_up", screen(f"{HOT} 70 degC"), as_is, {NOTE}),
    ("heat.warm_up", {}, as_is, set()),
    ("heat.vent", {**screen(f"{HOT} 40 degC"), "more": f"{ROOM}\ncase: {{low: 400 cm2, high: 400 cm2}}"}, as_is, {NOTE}),
    ("heat.vent", {**screen(f"{HOT} 40 degC"), "more": f"{ROOM}\ncase: {{low: 40 cm2, high: 40 cm2}}"}, as_is, {CAUTION}),
    ("heat.vent", screen(f"{HOT} 24 degC"), as_is, {STOP}),
    ("heat.blocked", screen("power: {maximum: 1 W}, highest_surrounding: 45 degC"), as_is, {NOTE}),
    ("heat.blocked", screen(f"{HOT} 40 degC"), as_is, {CAUTION}),
    ("heat.blocked", screen("power: {maximum: 900 W}, highest_surrounding: 40 degC"), as_is, {CAUTION}),
    ("heat.blocked", {"base": "mirror"}, as_is, set()),
    ("heat.screen_vents", {}, as_is, {NOT_RUN}),
    ("heat.screen_vents", {"screen": ", vents: [back]"}, as_is, set()),
    ("heat.screen_vents", {"screen": ", vents: [back, top]"}, as_is, {CAUTION}),
    ("heat.strip", {}, light(power=10.0), {NOTE}),  # common practice
    ("heat.strip", {}, light(power=10.1), {CAUTION}),
    ("heat.strip", {}, light(power=10.1, channel=True), {NOTE}),
    ("heat.acrylic", {}, as_is, set()),
    ("heat.acrylic", {"front_glass": "acrylic-t30-6", "fit_glass": "2.9 mm"}, as_is, {CAUTION}),  # 70e-6 x 1350 mm x 40 K = 3.8 mm
    ("heat.acrylic", {"front_glass": "acrylic-t30-6", "fit_glass": "4.5 mm"}, as_is, {NOTE}),
    ("heat.channel", {}, as_is, set()),
    ("heat.channel", lights("", kind="line-24-50"), as_is, {NOTE}),
    ("heat.recess", {}, as_is, set()),
    ("heat.recess", recess(20.0), as_is, {CAUTION}),
    ("damp.dew_point", {}, as_is, {NOT_RUN}),
    ("damp.dew_point", more("room: {temperature: 25 degC, dampest: 50 %, wall: 14 degC}"), as_is, {NOTE}),  # WMO-No. 8: 13.9 degC
    ("damp.dew_point", more("room: {temperature: 25 degC, dampest: 50 %, wall: 13.8 degC}"), as_is, {STOP}),
    # Saturation at 20 degC 23.39 hPa (steam tables); 50 % of it is 80 % of 14.62 hPa, which is saturation at 12.7 degC
    ("damp.mould", more("room: {temperature: 20 degC, humidity: 50 %, wall: 12.9 degC}"), as_is, {NOTE}),
    ("damp.mould", more("room: {temperature: 20 degC, humidity: 50 %, wall: 12.5 degC}"), as_is, {CAUTION}),
    ("damp.arrival", {}, as_is, {NOTE}),
    ("damp.carriage", {}, as_is, {NOTE}),
    ("damp.arrival", more("room: {temperature: 20 degC, humidity: 20 %}"), as_is, {NOTE}),
    ("damp.wet_room", more("room: {dampest: 75 %}"), as_is, set()),
    ("damp.wet_room", more("room: {dampest: 76 %}"), as_is, {STOP}),
    ("damp.by_water", {}, as_is, set()),
    ("damp.by_water", more("place: {water_within: 36 in}"), as_is, {STOP}),  # NEC 410.10(D): 3 ft [memory]
    ("damp.by_water", more("place: {water_within: 37 in}"), as_is, {CAUTION}),
    ("damp.by_water", more("place: {water_within: 37 in}"), ruled(tub_distance=60 * 25.4), {STOP}),
    ("damp.by_water", more("place: {water_within: 36 in}"), ruled(tub_distance=35 * 25.4), {CAUTION}),
    ("damp.mould", more("room: {temperature: 20 degC, humidity: 50 %, wall: 12.9 degC}"), ruled(mould_humidity=0.7), {CAUTION}),
    # Wood Handbook Table 4-2 at 70 degF: 25 % 5.4, 30 % 6.2, 40 % 7.7, 45 % 8.5, 50 % 9.2 of moisture
    ("timber.glued", {}, head(air={"temperature": 21.1, "humidity": 0.32}), {NOTE}),
    ("timber.glued", {}, head(air={"temperature": 21.1, "humidity": 0.25}), {CAUTION}),
    ("timber.glued", {}, head(air={"temperature": 21.1, "humidity": 0.50}), {CAUTION}),
    # Yellow-poplar 0.00289, 65.1 mm: 0.5 mm is 1.88 % of moisture; from 7.7 % at 40 to 9.2 % at 50, to 11.0 % at 60 %
    ("timber.mitre", more("room: {temperature: 21.1 degC, driest: 35 %, dampest: 50 %}"), as_is, {NOTE}),
    ("timber.mitre", more("room: {temperature: 21.1 degC, driest: 35 %, dampest: 60 %}"), as_is, {CAUTION}),
    ("timber.mitre", {}, timber(timber="plum"), {NOT_RUN}),
    ("timber.mitre", more("room: {temperature: 21.1 degC, driest: 35 %, dampest: 60 %}"), timber(timber="plum", across=0.0002), {NOTE}),
    ("timber.clearance", {"fit_glass": "5 mm"}, as_is, {NOTE}),
    ("timber.clearance", {"fit_glass": "1/16 in"}, as_is, {CAUTION}),
    ("timber.glue", {}, head(air={"temperature": 10.0}), {NOTE}),
    ("timber.glue", {}, head(air={"temperature": 9.9}), {CAUTION}),
]  # fmt: skip


def ran(keys, altered):
    return run.checks(decided(job_from_text(text(**keys)), altered(shop())), SHOW)


def finding_of(found):
    return found.finding if isinstance(found, Check) else found


@pytest.mark.parametrize(("rule", "keys", "altered", "severities"), SIDES, ids=[f"{side[0]}-{i}" for i, side in enumerate(SIDES)])
def test_a_rule_on_either_side_of_its_limit(rule, keys, altered, severities):
    found = [each for each in ran(keys, altered) if finding_of(each).rule == rule]
    assert {finding_of(each).severity for each in found} == severities
    for each in found:
        finding = finding_of(each)
        assert finding.source
        assert finding.advice.endswith((".", "?")), finding.advice
        assert "  " not in finding.advice
        if isinstance(each, Check):
            assert each.working.given
            assert each.working.formula
            assert each.working.confirms


def modules():
    return sorted({Path(sys.modules[rule.__module__].__file__) for rule in run.RULES})


def strings(path):
    return [
        node
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def test_no_text_of_a_check_says_the_word():
    for path in modules():
        assert not [node.value for node in strings(path) if re.search(r"\bsafe\b", node.value, re.IGNORECASE)]


@pytest.mark.parametrize("subject", ["wiring", "heat", "damp", "timber"])
def test_every_rule_of_a_subject_is_held_on_some_side(subject):
    named = {node.value for path in modules() for node in strings(path) if re.fullmatch(rf"{subject}\.[a-z_]+", node.value)}
    assert named - {rule for rule, *_ in SIDES} == set()


def air(words, warmest="25 degC"):
    keys = {**screen(f"{HOT} 40 degC"), "more": f"room: {{temperature: 21 degC, warmest: {warmest}}}\n{words}"}
    return next(finding_of(each).value for each in ran(keys, as_is) if finding_of(each).rule == "heat.air")


def test_more_vent_more_fan_and_a_cooler_room_are_never_hotter():
    by_vent = [air(f"case: {{low: {area} cm2, high: {area} cm2}}") for area in (0, 20, 60, 180, 540)]
    assert by_vent == sorted(by_vent, reverse=True)
    by_fan = [air(f"case: {{fan: {flow} l/s}}") for flow in (0, 2, 6, 18)]
    assert by_fan == sorted(by_fan, reverse=True)
    by_room = [air("", f"{room} degC") for room in (15, 22, 29)]
    assert by_room == sorted(by_room)
    assert air("case: {low: 60 cm2, high: 20 cm2}") == pytest.approx(air("case: {low: 20 cm2, high: 60 cm2}"))


def test_openings_of_the_size_that_is_asked_for_keep_the_limit():
    keys = {**screen(f"{HOT} 40 degC"), "more": f"{ROOM}\ncase: {{low: 10 cm2, apart: 700 mm}}"}
    needed = next(finding_of(each).limit for each in ran(keys, as_is) if finding_of(each).rule == "heat.vent")
    assert air(f"case: {{low: {needed / 100:.4f} cm2, apart: 700 mm}}") == pytest.approx(40.0, abs=0.02)
