"""A thousand pieces built with the plan and with the tape: how often a pane does not go in, against what the ledger predicts.

Each operation is drawn by ``random.Random`` with a third of its limit as standard deviation, as the ledger says it assumes; nothing of
its tree is used. The interval is that of the binomial, three standard deviations wide.
"""

from __future__ import annotations

import random
from math import sqrt

import pytest

from halfsilver.ledger.shown import shower
from halfsilver.ledger.tolerance import chance_below, tolerance
from halfsilver.model.finding import Severity
from halfsilver.model.workshop import Tape
from halfsilver.services.findings import findings
from jobs import lit, shop, with_limits

SAW, TAPE, CUTTER = 1.5, 0.5, 1.0  # the worked numbers: opening 1000 mm, clearance 3 mm in all
OPENING = {"width": 1000.0, "height": 700.0}
BUILDS = 1000
KEYS = {
    "units": "mm", "width": "1000 mm", "height": "700 mm", "border": "12 mm", "fit_screen": "0 mm", "moulding": "plain-40",
    "batten": "15 mm",
}  # fmt: skip


def design(clearance_mm, *, measured=()):
    workshop = with_limits(shop(), saw=SAW, tape=Tape(constant=TAPE), glass_cut=CUTTER)
    read = ", ".join(f"{{name: rear.rebate.{d}, value: {OPENING[d]} mm}}" for d in measured)
    return lit(workshop, **KEYS, fit_glass=f"{clearance_mm} mm", more=f"measured: [{read}]")


def built(clearance_mm, *, measured=()):
    """Share of builds whose pane does not go in."""
    draw, failed = random.Random(20260304), 0
    for _ in range(BUILDS):
        fits = True
        for d, opening in OPENING.items():
            if d in measured:  # the pane follows the reading; what is there differs from it by the tape
                there = opening + draw.gauss(0.0, TAPE / 3)
            else:  # the narrower end decides: each of two sticks has its own error
                there = opening + min(draw.gauss(0.0, SAW / 3), draw.gauss(0.0, SAW / 3))
            fits = fits and there >= opening - clearance_mm + draw.gauss(0.0, CUTTER / 3)
        failed += not fits
    return failed / BUILDS


@pytest.mark.parametrize(
    ("clearance", "measured"),
    [(1.5, ()), (1.0, ("width",)), (1.0, ("height",)), (0.5, ("width", "height"))],  # multiples of the step of 0.5 mm for glass
)
def test_builds_fail_as_often_as_predicted(clearance, measured):
    ledger = design(clearance, measured=measured).ledger
    predicted = chance_below(ledger, {f"rear.clearance.{d}": 0.0 for d in OPENING})
    assert 0.02 <= predicted <= 0.2
    assert abs(built(clearance, measured=measured) - predicted) <= 3 * sqrt(predicted * (1 - predicted) / BUILDS)


@pytest.mark.parametrize(("measured", "left"), [((), 0.5), (("width", "height"), 1.5)])
def test_the_worked_numbers_in_a_real_job(measured, left):
    # 3 - 1.5 - 1.0 from the plan, 3 - 0.5 - 1.0 from the reading; root-sum-square sqrt(1.5^2 + 1^2) and sqrt(0.5^2 + 1^2).
    ledger = design(3.0, measured=measured).ledger
    for d in OPENING:
        spread = tolerance(ledger, f"rear.clearance.{d}")
        assert ledger[f"rear.clearance.{d}"] == pytest.approx(3.0)
        assert spread.low_mm == pytest.approx(left)
        assert spread.worst_mm == pytest.approx(3.0 - left)
        assert spread.rss_mm == pytest.approx(sqrt((TAPE if measured else SAW) ** 2 + CUTTER**2))
        assert spread.largest == (f"glass cutter, rear pane {d}" if measured else spread.largest)
        assert measured or spread.largest.startswith("saw, rear")


def test_measuring_turns_the_caution_into_a_note():
    show = shower(units="mm", fraction=32)
    for measured, severity in (((), Severity.CAUTION), (("width", "height"), Severity.NOTE)):
        told = [f for f in findings(design(2.0, measured=measured), show) if f.rule == "fit.clearance" and f.entries[0].startswith("rear")]
        assert [f.severity for f in told] == [severity]
        assert ("Measure the rear rebate" in told[0].advice) is not bool(measured)
