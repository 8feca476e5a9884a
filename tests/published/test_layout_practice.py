"""Facts of the trade that the chain of dimensions has to reproduce: common practice, without a published source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfsilver.ledger.shown import shower
from halfsilver.model.finding import Severity
from halfsilver.services.findings import findings
from jobs import lit, shop, with_moulding

IN = 25.4


def inches(design, *names):
    return [design.ledger[name] / IN for name in names]


@pytest.mark.parametrize(("fit", "outside"), [("0 in", (57.75, 35.0)), ("1/8 in", (57.875, 35.125))])
def test_outside_of_a_screen_in_a_moulding(fit, outside):
    # Common practice: outline + fit + twice the body of 2 1/4 in.
    design = lit(fit_screen=fit)
    assert inches(design, "outside.width", "outside.height") == pytest.approx(outside)


def test_two_frames_take_four_sticks_of_each_length_at_45_degrees():
    # Common practice: each frame has two long and two short sticks.
    design = lit(fit_screen="0 in")
    sticks = [part for part in design.parts if "-stick-" in part.id]
    assert sum(part.quantity for part in sticks if part.size_mm[0] == pytest.approx(57.75 * IN)) == 4
    assert sum(part.quantity for part in sticks if part.size_mm[0] == pytest.approx(35.0 * IN)) == 4
    assert all("45 degrees" in part.name for part in sticks)


BADGE = ", sticks_out: [{id: badge, side: bottom, from: 20 in, to: 22 in, out: 1/16 in, added: 1/16 in}]"


def test_a_badge_gives_its_relief_and_the_cutter_stops_short_of_the_lip():
    # Common practice: outermost point 7/16 in from the picture, 1/16 in added for a receiver: 1/2 in.
    design = lit(border="3/8 in", screen=BADGE)
    assert inches(design, "relief.badge.from_picture") == pytest.approx([0.5])
    # The cutter stays about 1/32 in below the lip: an entry of its own, never derived from the other.
    assert design.ledger["relief.below_lip"] == pytest.approx(IN / 32, abs=0.01)
    assert "relief.below_lip" not in design.ledger.entries["relief.badge.from_picture"].formula.names()
    assert design.ledger["relief.badge.height"] == pytest.approx(
        design.ledger["rear.moulding.rebate_depth"] - design.ledger["relief.below_lip"]
    )


def test_glass_is_a_millimetre_in_all_under_its_opening_rounded_down():
    # Common practice: reading 53 5/16 in, less 1 mm, down to 1/32 in: 53 1/4 in.
    design = lit(fit_glass="1 mm", more="measured: [{name: front.rebate.width, value: 53 5/16 in}]")
    assert design.ledger["front.glass.width"] / IN == pytest.approx(53.25)


def test_battens_of_three_quarters_in_five_eighths_remaining():
    # Common practice: 5/8 in remaining, battens 3/4 in wide: long 53 5/16 in as measured, short 29 in from a rebate of 30 1/2 in.
    base = shop().mouldings["gallery-57"]
    deep = replace(base, id="five-eighths", profile=_with_rebate(base.profile, 4.0 + 5 / 8 * IN))
    design = lit(
        with_moulding(shop(), deep), moulding="five-eighths", fit_screen="0 in",
        more="measured: [{name: front.rebate.width, value: 53 5/16 in}, {name: front.rebate.height, value: 30 1/2 in}]",
    )  # fmt: skip
    assert inches(design, "front.remaining", "batten.depth", "batten.long", "batten.short") == pytest.approx([0.625, 0.625, 53.3125, 29.0])


def _with_rebate(profile, rebate_mm):
    back = max(z for _, z in profile)
    lip_back = 7.9375
    return tuple((x, lip_back + rebate_mm if z == back else z) for x, z in profile)


def test_what_a_given_batten_hides_is_told():
    # On axis 5/16 in plus the strip's thickness behind a border of 7/16 in.
    design = lit(fit_screen="0 in")
    thickness = design.ledger["strip.thickness"]
    assert design.ledger["batten.width"] / IN == pytest.approx(0.75)
    assert design.ledger["cover.left"] == pytest.approx(5 / 16 * IN + thickness)
    told = [f for f in findings(design, shower(units="in", fraction=32)) if f.rule == "sight.cover"]
    assert len(told) == 4
    assert all(f.severity is Severity.CAUTION for f in told)


def test_a_diagonal_that_cannot_belong_to_the_outline_is_a_stop():
    # 65 in at 16:9 is 65 x 16/sqrt(337) = 56.65 in wide: more than an outline of 53 1/4 in.
    design = lit(screen=", diagonal: 65 in, aspect: '16:9'")
    stop = next(f for f in findings(design, shower(units="in", fraction=32)) if f.rule == "screen.diagonal")
    assert stop.severity is Severity.STOP
    assert "56.7" in stop.advice


def test_a_large_pane_is_raised():
    # 53 1/4 x 30 1/2 in is 11.3 sq ft, over the 9 sq ft of IBC 2406.4.3.
    told = [f for f in findings(lit(fit_screen="1/8 in"), shower(units="in", fraction=32)) if f.rule == "glazing.pane"]
    assert [f.severity for f in told] == [Severity.CAUTION, Severity.CAUTION]
    assert all("11.3 sq ft" in f.advice and "Category II" in f.advice for f in told)
