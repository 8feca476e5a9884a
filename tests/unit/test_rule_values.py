"""Values that nobody confirmed: each has a key of the workshop, a default that says how it is known, and gives way to what is written."""

from __future__ import annotations

import re
from dataclasses import fields, replace

import pytest

from halfsilver.errors import JobError
from halfsilver.files.workshop import copy_workshop, read_workshop
from halfsilver.model.workshop import RuleValues
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.ruled import DEFAULTS
from jobs import shop
from unit.test_checks_sides import LIGHTS, finding_of, head, lights, more, ran, screen

# Name, another value, keys of a job whose check rests on it, and that check's rule.
MOVED = [
    ("power_factor", 0.8, screen("power: {maximum: 90 W}"), "wiring.branch"),
    ("cord_share", 0.5, screen("power: {maximum: 90 W}"), "wiring.branch"),
    ("inrush_multiple", 10.0, {}, "wiring.inrush"),
    ("lead_drop", 0.05, {}, "wiring.lead_drop"),
    ("tub_distance", 1524.0, more("place: {water_within: 2 m}"), "damp.by_water"),
    ("tub_height", 2000.0, more("place: {water_within: 2 m}"), "damp.by_water"),
    ("still_air", 0.3, screen("power: {maximum: 90 W}, highest_surrounding: 40 degC"), "heat.air"),
    ("still_air_thin", 0.3, screen("power: {maximum: 90 W}, highest_surrounding: 40 degC"), "heat.air"),
    ("glass_emissivity", 0.2, screen("power: {maximum: 90 W}, highest_surrounding: 40 degC"), "heat.air"),
    ("slot_free", 0.9, screen("power: {maximum: 90 W}, highest_surrounding: 40 degC"), "heat.air"),
    ("touch_glass", 60.0, screen("power: {maximum: 90 W}, highest_surrounding: 40 degC"), "heat.touch"),
    ("metal_growth", 12.0, lights("", kind="line-24-50"), "heat.channel"),
    ("mould_humidity", 0.7, more("room: {temperature: 20 degC, humidity: 50 %, wall: 15 degC}"), "damp.mould"),
    ("pane_warmed", 40.0, {}, "timber.clearance"),
    ("clear_width", 1000.0, more("place: {path_width: 1 m}"), "access.path"),
    ("side_reach_deep", 1000.0, more("place: {controls: 40 in, reach_over: {depth: 20 in}}"), "access.reach"),
    ("mirror_edge", 800.0, {"base": "hidden"}, "access.mirror"),
    ("glare", 19.0, more("room: {wall_light: 100 lx}"), "view.glare"),
    ("flicker", 2000.0, lights("dim: 0.5, pulses: 3000"), "view.flicker"),
    ("person_push", 300.0, {}, "glass.strength"),
    ("timber_stiffness", 12.0, {}, "frame.bottom_stick"),
    ("timber_creep", 1.5, {}, "frame.bottom_stick"),
    ("thermal_shock", 30.0, {}, "glass.heat_stress"),
    ("steel_yield", 235.0, {}, "frame.bars"),
    ("aluminium_yield", 160.0, more("retainers: {bars: bar-alu-25x5}"), "frame.bars"),
    ("team_of_two", 0.8, {}, "lift.team"),
    ("team_of_three", 0.8, {}, "lift.team"),
    ("beside_door", 500.0, more("place: {door_within: 20 in}"), "glazing.pane"),
    ("sloped_glass", 18.0, {"swap": ("kind: hung,", "kind: hung, tilt: 20 deg,")}, "glazing.overhead"),
    ("camera", 2000.0, lights("dim: 0.5, pulses: 2500"), "view.flicker"),
    ("class2_current", 4.0, {"swap": (LIGHTS, LIGHTS.replace("tape-24-100", "tape-12-50"))}, "wiring.limited"),
    ("pallet_mass", 60.0, {}, "carriage.crate"),
    ("pallet_height", 300.0, {}, "carriage.crate"),
]  # fmt: skip


def test_every_key_has_a_default_and_says_what_it_is():
    told = {field.name: field.metadata["doc"] for field in fields(RuleValues)}
    assert set(told) == set(DEFAULTS)
    for name, (_, how) in DEFAULTS.items():
        assert "absent:" in told[name]
        assert how in told[name], name


@pytest.mark.parametrize(("name", "value", "keys", "rule"), MOVED, ids=[name for name, *_ in MOVED])
def test_what_the_workshop_wrote_takes_the_place_of_the_default(name, value, keys, rule):
    before = [one for one in ran(keys, lambda workshop: workshop) if finding_of(one).rule == rule]
    after = [one for one in ran(keys, head(rules={name: value})) if finding_of(one).rule == rule]
    assert before
    assert after
    assert any(names(one, name) for one in before)
    assert not any(names(one, name) for one in after)
    assert [finding_of(one) for one in before] != [finding_of(one) for one in after] or [said(one) for one in before] != [
        said(one) for one in after
    ]


@pytest.mark.parametrize(("name", "value", "keys", "rule"), MOVED, ids=[name for name, *_ in MOVED])
def test_the_default_itself_counts_as_confirmed_when_it_is_written(name, value, keys, rule):
    after = [one for one in ran(keys, head(rules={name: DEFAULTS[name][0]})) if finding_of(one).rule == rule]
    before = [one for one in ran(keys, lambda workshop: workshop) if finding_of(one).rule == rule]
    assert not any(names(one, name) for one in after)
    assert [finding_of(one).value for one in after] == pytest.approx([finding_of(one).value for one in before])


def names(one, name):
    return re.search(rf"rules\.{name}\b", said(one)) is not None


def said(one):
    """All that is printed of a check."""
    finding = finding_of(one)
    words = [finding.advice, finding.source]
    if isinstance(one, Check):
        for working in (one.working, *one.also):
            words += [working.limit_source, *working.assumptions, *(given.origin for given in working.given)]
    return " | ".join(words)


def test_a_file_may_name_them(tmp_path):
    copy_workshop(tmp_path / "w")
    path = tmp_path / "w" / "workshop.yaml"
    text = path.read_text("utf-8")
    line = next(line for line in text.splitlines() if line.startswith("# rules:"))
    path.write_text(text.replace(line, line.removeprefix("# ")), "utf-8")
    rules = read_workshop(tmp_path / "w").head.rules
    assert (rules.tub_distance, rules.touch_glass, rules.power_factor) == pytest.approx((914.4, 71.0, 0.92))
    assert replace(shop().head).rules == RuleValues()


@pytest.mark.parametrize(
    "words", ["person_push: 0", "power_factor: 0 %", "timber_creep: 0", "timber_stiffness: 0", "steel_yield: 0", "inrush_multiple: 0"]
)
def test_a_value_that_nothing_can_be_divided_by_is_refused_where_it_stands(tmp_path, words):
    copy_workshop(tmp_path / "shop")
    head_file = tmp_path / "shop" / "workshop.yaml"
    written = head_file.read_text(encoding="utf-8")
    head_file.write_text(f"{written}\nrules: {{{words}}}\n", encoding="utf-8")
    with pytest.raises(JobError, match="out-of-range") as caught:
        read_workshop(tmp_path / "shop")
    assert words.split(":")[0] in str(caught.value)
