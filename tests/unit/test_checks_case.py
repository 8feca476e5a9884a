"""The case as its heat balance sees it, by hand: walls, openings, heat, what grows, what timber takes on."""

from __future__ import annotations

from math import ceil, log

import pytest

from halfsilver.files.jobs import job_from_text
from halfsilver.services.checks import damp, heat, seasons, timber
from halfsilver.services.checks.casing import casing
from halfsilver.services.checks.check import Check
from halfsilver.services.decide import decided
from jobs import shop
from unit.test_checks_sides import ROOM, SHOW, as_is, lights, ran
from unit.test_findings_sides import recess, text

POWERED = ", power: {typical: 60 W, maximum: 90 W}, highest_surrounding: 40 degC"


def design(**keys):
    return decided(job_from_text(text(**keys)), shop())


def working(rule, keys):
    return next(each.working for each in ran(keys, as_is) if isinstance(each, Check) and each.working.rule == rule)


def test_walls_of_a_hung_piece():
    # Outside 57 7/8 x 35 1/8 in, body 2 1/4 in, lip 7.94 mm: sight 1339.9 x 762.0 mm. Panes of 4 mm (1.0 W/mK, EN 572-1), two layers of air
    # (0.18 and 0.11 m2K/W, EN ISO 6946, from memory), timber 0.15 W/mK as practice
    found = design()
    front, face, edges, top, bottom = casing(found).walls
    ledger = found.ledger
    assert front.area_mm2 == pytest.approx(ledger["front.sight.width"] * ledger["front.sight.height"])
    assert front.thickness_mm * 1e-3 / front.conductivity_w_mk == pytest.approx(0.004 + 0.18 + 0.004 + 0.11)
    assert front.emissivity == 0.837  # EN 673, corrected
    assert front.area_mm2 + face.area_mm2 == pytest.approx(57.875 * 35.125 * 25.4**2)
    assert edges.area_mm2 == pytest.approx(2 * 35.125 * 25.4 * ledger["depth.back"])
    assert (top.facing, bottom.facing, edges.facing) == ("up", "down", "vertical")
    assert {wall.conductivity_w_mk for wall in (face, edges, top, bottom)} == {0.15}
    assert edges.thickness_mm == pytest.approx(57.15)
    # area over perimeter of the level edges
    assert top.length_mm == pytest.approx(57.875 * 25.4 * ledger["depth.back"] / (2 * (57.875 * 25.4 + ledger["depth.back"])))


def test_a_recess_hides_the_edges_and_a_stand_shows_the_back():
    assert len(casing(design(**recess(20.0))).walls) == 2
    standing = casing(design(swap=("kind: hung", "kind: standing"))).walls
    assert len(standing) == 6
    assert standing[-1].area_mm2 == pytest.approx(57.875 * 35.125 * 25.4**2)


def test_openings():
    wide, high = 57.875 * 25.4, 35.125 * 25.4
    hung = casing(design()).openings
    assert hung.low_mm2 == hung.high_mm2 == pytest.approx(0.5 * 6.0 * (wide + high))  # half of a slot of 6 mm, low and high halves
    assert hung.apart_mm == pytest.approx(high * 2 / 3)
    assert casing(design(**recess(20.0))).openings.low_mm2 == pytest.approx(10.0 * (wide + high), rel=1e-3)
    given = casing(design(more="case: {low: 40 cm2, high: 50 cm2, apart: 600 mm, fan: 60 cfm}")).openings
    assert (given.low_mm2, given.high_mm2, given.apart_mm) == pytest.approx((4000.0, 5000.0, 600.0))
    assert given.fan_m3_s == pytest.approx(0.0283168, rel=1e-5)  # a cubic foot a second
    assert casing(design(base="mirror")).openings.low_mm2 == 0.0


def test_heat_is_all_that_goes_in():
    found = casing(design(screen=POWERED))
    assert found.power_w == pytest.approx(90 + 38.4 / 0.88)  # screen, lights and what the supply loses at 88 %
    outside = lights("supply_place: outside")
    assert casing(design(screen=POWERED, **outside)).power_w == pytest.approx(90 + 38.4)
    assert casing(design()).power_w is None
    assert casing(design(screen=POWERED)).room.value == 30.0
    assert casing(design(screen=POWERED, more="room: {temperature: 33 degC}")).room.value == 33.0


def test_capacity_is_mass_times_specific_heat():
    # Glass 720 (EN 572-1, from memory), timber 1600, steel 460, a screen 900 J/kgK (common practice)
    found = design()
    specific = {"front-glass": 720, "rear-glass": 720, "screen": 900, "plate": 460, "bar-side": 460, "bar-top": 460}
    total = sum(part.mass_kg * part.quantity * specific.get(part.id, 1600) for part in found.parts)
    assert casing(found).capacity_j_k == pytest.approx(total)


def test_what_grows():
    # Aluminium 23e-6 (EN 1999-1-1), acrylic 70e-6 (practice), over 40 K: 3.4 mm on 1.2 m of acrylic
    channel = working("heat.channel", lights("", kind="line-24-50"))
    run = max(design(**lights("", kind="line-24-50")).ledger[f"strip.run.{d}"] for d in ("width", "height"))
    assert channel.result == pytest.approx(23e-6 * run * 40)
    acrylic = working("heat.acrylic", {"front_glass": "acrylic-t30-6"})
    assert acrylic.result == pytest.approx(3.36 * acrylic.given[0].value / 1200)
    assert heat.BARE_W_M == 10.0


def test_the_year_that_is_assumed():
    year = seasons.seasons(design())
    assert (year.room.value, year.driest.value, year.dampest.value) == (21.0, 0.30, 0.60)
    assert year.assumed == ("room.temperature", "room.driest", "room.dampest")
    wet = seasons.seasons(design(more="room: {temperature: 20 degC, humidity: 70 %}"))
    assert (wet.driest.value, wet.dampest.value) == (0.30, 0.70)
    # Wood Handbook Table 4-2 at 70 degF: 30 % 6.2, 65 % 12.0
    told = seasons.seasons(design(more="room: {temperature: 21.1 degC, driest: 30 %, dampest: 65 %}"))
    assert (told.site_pct(dampest=False), told.site_pct(dampest=True)) == pytest.approx((6.2, 12.0), abs=0.06)
    assert (seasons.in_range(4.0), seasons.in_range(9.0), seasons.in_range(20.0)) == (6.0, 9.0, 14.0)
    assert (damp.WET, damp.COLD_DEGC) == (0.75, 5.0)
    assert (timber.GLUE_PCT, timber.OPEN_MM) == ((6.0, 8.5), 0.5)


def test_a_mitre_and_a_clearance_by_hand():
    # Yellow-poplar 0.00289 (Wood Handbook Table 13-5): 65.1 mm x sqrt(2) x 0.00289 for each per cent; two bodies of 57.15 mm
    keys = {"more": "room: {temperature: 21.1 degC, driest: 40 %, dampest: 60 %}"}
    mitre, clearance = working("timber.mitre", keys), working("timber.clearance", keys)
    values = {given.symbol: given.value for given in mitre.given}
    change = values["Mw"] - values["M1"]
    assert mitre.result == pytest.approx(65.1 * 2**0.5 * 0.00289 * change, rel=1e-3)
    given = {one.symbol: one.value for one in clearance.given}
    assert given["s"] == pytest.approx(2 * 57.15 * 0.00289 * change, rel=1e-3)
    pane = design(**keys).ledger["front.glass.width"]
    assert clearance.result == pytest.approx(given["c"] - given["s"] - 9e-6 * pane * 20, abs=0.01)


CLIMATE = "room: {temperature: 21 degC, humidity: 55 %}\nhandling: {coldest: 3 degC}"


def test_fog_on_the_way_and_the_wait_before_it_is_unwrapped():
    # By hand: foam of 50 mm and 0.04 W/mK with 9 W/m2K in still air pass 0.735 W/m2K through both faces; tau ln((T - Tc)/(T - Td))
    found = design(more=CLIMATE)
    arrival = next(each for each in ran({"more": CLIMATE}, as_is) if isinstance(each, Check) and each.working.rule == "damp.arrival")
    (wait,) = arrival.also
    given = {one.symbol: one.value for one in wait.given}
    assert given["U"] == pytest.approx(1 / (0.05 / 0.04 + 1 / 9))
    assert given["A"] == pytest.approx(2 * 57.875 * 35.125 * 25.4**2 * 1e-6)
    assert given["C"] == pytest.approx(casing(found).capacity_j_k)
    assert given["Td"] == pytest.approx(11.6, abs=0.1)  # ASHRAE psychrometric chart [memory]
    hours = given["C"] / (given["U"] * given["A"]) * log((21 - 3) / (21 - given["Td"])) / 3600
    assert wait.result == pytest.approx(hours)
    assert f"at least {ceil(hours)} h" in arrival.advice
    dry = {"more": CLIMATE.replace("3 degC", "12 degC")}
    warm = next(each for each in ran(dry, as_is) if isinstance(each, Check) and each.working.rule == "damp.arrival")
    assert (warm.also, "stays dry" in warm.advice) == ((), True)


@pytest.mark.parametrize(("coldest", "kept"), [(6.2, True), (5.8, False)])
def test_the_air_closed_in_fogs_below_its_own_dew_point(coldest, kept):
    # Air of 20 degC and 40 %: 6.0 degC (ASHRAE psychrometric chart, from memory)
    keys = {"more": CLIMATE.replace("3 degC", f"{coldest} degC")}
    found = working("damp.carriage", keys)
    assert found.holds is kept
    assert found.limit == pytest.approx(6.0, abs=0.05)
    dry = "stays dry inside" in next(each.advice for each in ran(keys, as_is) if isinstance(each, Check) and each.working == found)
    assert dry is kept


def test_every_working_names_its_assumptions():
    found = [each for each in ran({"screen": POWERED, "more": ROOM}, as_is) if isinstance(each, Check)]
    air = next(each.working for each in found if each.working.rule == "heat.air")
    assert any("rules.slot_free, 50 %" in words for words in air.assumptions)
    assert "room.warmest" not in air.assumptions
    assert air.numbers().startswith("To = 25 degC (asked)")
    assert SHOW(25.4, "mm") == "1 in"
