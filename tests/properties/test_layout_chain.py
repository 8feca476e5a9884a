"""What must hold for every job: larger screens, slimmer bodies, readings equal to plan, decided jobs, derivatives, masses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.files.jobs import job_from_text, write_job
from halfsilver.files.located import locate
from halfsilver.ledger.ledger import Kind
from halfsilver.services.decide import decided
from halfsilver.services.load import Loaded, is_measurable
from halfsilver.services.rewrite import decided_text
from jobs import LIT, PLAIN, lit, lit_job, shop, with_moulding

FEW = settings(max_examples=25, deadline=None)
sizes = st.floats(min_value=200.0, max_value=2000.0).map(lambda x: round(x, 2))
more = st.floats(min_value=0.0, max_value=200.0).map(lambda x: round(x, 2))


@FEW
@given(width=sizes, height=sizes, wider=more, higher=more)
def test_a_larger_screen_never_gives_a_smaller_frame(width, height, wider, higher):
    small = lit(width=f"{width} mm", height=f"{height} mm").ledger
    large = lit(width=f"{width + wider:.2f} mm", height=f"{height + higher:.2f} mm").ledger
    assert large["outside.width"] >= small["outside.width"]
    assert large["outside.height"] >= small["outside.height"]


@FEW
@given(slimmer=st.floats(min_value=0.0, max_value=35.0))
def test_a_slimmer_body_leaves_the_picture_seen_within_the_rounding_step(slimmer):
    base = shop().mouldings["gallery-57"]
    profile = tuple((x if x < 5 else x - slimmer, z) for x, z in base.profile)
    slim = replace(base, id="slim", profile=profile)
    design, thick = lit(with_moulding(shop(), slim), moulding="slim"), lit()
    for side in ("left", "right", "top", "bottom"):
        assert design.ledger[f"hidden.{side}"] == pytest.approx(thick.ledger[f"hidden.{side}"], abs=thick.ledger["step.timber"])


@FEW
@given(data=st.data())
def test_a_reading_equal_to_plan_changes_no_target(data):
    plain = lit()
    names = [name for name in plain.ledger.entries if is_measurable(plain.ledger, name)]
    name = data.draw(st.sampled_from(names))
    measured = lit(more=f"measured: [{{name: {name}, value: {plain.ledger[name]!r} mm}}]")
    for entry in plain.ledger.entries.values():
        if entry.kind is Kind.TARGET:
            assert measured.ledger[entry.name] == pytest.approx(plain.ledger[entry.name], abs=1e-6), (name, entry.name)


@FEW
@given(
    gap=st.sampled_from(["auto", "20 mm", "22 mm", "24.7 mm", "31 mm", "40 mm", "60 mm"]),
    batten=st.sampled_from(["auto", "3/4 in", "12 mm"]),
    margin=st.sampled_from(["", ", sight_margin: auto", ", sight_margin: 4 mm"]),
    units=st.sampled_from(["in", "mm"]),
)
def test_a_decided_job_gives_the_same_design(gap, batten, margin, units):
    text = LIT.format(**{**PLAIN, "gap": gap, "batten": batten, "fit": margin, "units": units})
    job = job_from_text(text)
    design = decided(job, shop())
    again = job_from_text(decided_text(Loaded("job.yaml", text, locate(text), job, shop()), design))
    assert decided(again, shop()).digest == design.digest
    assert decided(job_from_text(write_job(again)), shop()).digest == design.digest


def test_derivatives_agree_with_differences_along_the_whole_ledger():
    ledger = lit().ledger
    for name, entry in ledger.entries.items():
        for source, slope in ledger.partials(name).items():
            h = 1e-3
            up = entry.formula.value({**ledger.values, source: ledger[source] + h})
            down = entry.formula.value({**ledger.values, source: ledger[source] - h})
            rounds = any(type(node).__name__ == "Rounded" for node in entry.formula.walk())
            if not rounds:
                assert slope == pytest.approx((up - down) / (2 * h), rel=2e-3, abs=2e-3), (name, source)


def test_masses_add_up_from_independent_volumes():
    # A mitred frame is its profile swept round: the volume by fine slices of the profile, each a rectangle ring.
    design = lit()
    values, profile = design.ledger.values, design.facts.front_profile
    wide, high = values["outside.width"], values["outside.height"]
    steps, volume = 4000, 0.0
    for i in range(steps):
        x = (i + 0.5) * profile.face_mm / steps
        volume += _thickness(profile.points, x) * 2 * ((wide - 2 * x) + (high - 2 * x)) * profile.face_mm / steps
    sticks = sum(part.mass_kg * part.quantity for part in design.parts if part.id.startswith("front-stick"))
    assert sticks == pytest.approx(volume * 1e-9 * design.facts.front_moulding.density, rel=1e-3)
    pane = next(part for part in design.parts if part.id == "front-glass")
    # EN 572-1: 2.5 kg/m2 per mm of thickness.
    assert pane.mass_kg == pytest.approx(2.5 * 4.0 * values["front.glass.width"] * values["front.glass.height"] * 1e-6)


def _thickness(points, x):
    cuts = []
    for (x0, z0), (x1, z1) in zip(points, (*points[1:], points[0]), strict=True):
        if (x0 <= x) != (x1 <= x):
            cuts.append(z0 + (x - x0) / (x1 - x0) * (z1 - z0))
    cuts.sort()
    return sum(b - a for a, b in zip(cuts[::2], cuts[1::2], strict=True))


def test_every_job_part_reads_back():
    assert lit_job() == job_from_text(write_job(lit_job()))
