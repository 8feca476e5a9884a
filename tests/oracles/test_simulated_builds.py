"""Measuring first, in a real job: the worst case and the chance, against builds simulated without the ledger."""

from __future__ import annotations

import random
from math import sqrt

import pytest

from halfsilver.ledger.tolerance import chance_below, tolerance
from halfsilver.model.workshop import Tape
from jobs import lit, shop, with_limits

# Opening 1000 mm, clearance 3 mm in all, saw 1.5, tape 0.5, glass cutter 1.0: the numbers of a textbook stack.
LIMITS = {"saw": 1.5, "tape": Tape(constant=0.5), "glass_cut": 1.0}
MILLIMETRES = {
    "units": "mm",
    "width": "1000 mm",
    "height": "700 mm",
    "border": "12 mm",
    "fit_screen": "0 mm",
    "fit_glass": "3 mm",
    "moulding": "plain-40",
    "batten": "15 mm",
}


def test_from_plan_half_a_millimetre_is_left_and_from_the_reading_one_and_a_half():
    workshop = with_limits(shop(), **LIMITS)
    planned = lit(workshop, **MILLIMETRES)
    measured = lit(workshop, **MILLIMETRES, more="measured: [{name: rear.rebate.width, value: 1000 mm}]")
    assert planned.ledger["rear.rebate.width"] == pytest.approx(1000)
    assert planned.ledger["rear.glass.width"] == measured.ledger["rear.glass.width"] == pytest.approx(997)
    assert tolerance(planned.ledger, "rear.clearance.width").low_mm == pytest.approx(3 - 1.5 - 1.0)
    assert tolerance(measured.ledger, "rear.clearance.width").low_mm == pytest.approx(3 - 0.5 - 1.0)


@pytest.mark.parametrize("clearance_mm", [0.5, 1.0])
def test_a_thousand_builds_fail_as_often_as_predicted(clearance_mm):
    design = lit(with_limits(shop(), **LIMITS), **{**MILLIMETRES, "fit_glass": f"{clearance_mm} mm"})
    predicted = chance_below(design.ledger, {"rear.clearance.width": 0.0, "rear.clearance.height": 0.0})
    draw, failed, builds = random.Random(7), 0, 1000
    for _ in range(builds):
        fits = True
        for nominal in (1000.0, 700.0):
            made = nominal + min(draw.gauss(0, 0.5), draw.gauss(0, 0.5))  # two sticks, each within its limit as three sigma
            cut = nominal - clearance_mm + draw.gauss(0, 1 / 3)
            fits &= made >= cut
        failed += not fits
    share = failed / builds
    assert 0.02 < predicted < 0.8
    assert abs(share - predicted) < 3.0 * sqrt(predicted * (1 - predicted) / builds)
