"""What must hold for every job that a shop might be asked for: sizes, parts, layers, shares; decided jobs; slopes; masses and centres."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.files.jobs import job_from_text
from halfsilver.files.located import locate
from halfsilver.ledger.expression import Arithmetic, Deviation, Name, Number
from halfsilver.ledger.ledger import Kind
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.job import Reading
from halfsilver.services.decide import decided
from halfsilver.services.load import Loaded, is_measurable
from halfsilver.services.rewrite import decided_text
from jobs import LIT, PLAIN, lit, lit_job, shop
from properties.strategies import HIDDEN, PLAIN_HIDDEN, hidden_job, lengths, lit_keys, viewers

FEW = settings(max_examples=20)


def sound(design, *, two_frames):
    """Nothing is negative that has a size, layers follow each other, shares are shares, the centre of mass lies in the piece."""
    v = design.ledger.values
    for part in design.parts:
        assert part.mass_kg > 0 or part.id == "strip", part.id
        assert min(part.size_mm) > 0 or part.id == "strip", part.id
    for which in ("front", "rear") if two_frames else ("front",):
        for d in ("width", "height"):
            assert v[f"{which}.sight.{d}"] < v[f"{which}.glass.{d}"] < v[f"{which}.rebate.{d}"] < v[f"outside.{d}"]
            assert v[f"{which}.glass.{d}"] <= v[f"{which}.rebate.{d}"] - v["fit.glass"] + 1e-6
    seat = "rear" if two_frames else "front"
    assert all(v[f"{seat}.rebate.{d}"] >= v[f"screen.outline.{d}"] + v["fit.screen"] - 1e-6 for d in ("width", "height"))
    assert all(layer.from_mm <= layer.to_mm for layer in design.layers)
    if two_frames:
        assert all(a.from_mm <= b.from_mm + 1e-9 for a, b in pairwise(design.layers))
    assert all(0.0 <= value <= 1.0 for name, value in v.items() if name.startswith("seen.") or name == "hidden.share")
    assert all(value >= 0.0 for name, value in v.items() if name.startswith("hidden."))
    for side in ("left", "right", "top", "bottom"):
        assert v[f"cover.{side}"] == pytest.approx(v[f"reach.{side}"] - v[f"screen.border.{side}"])
    x, y, z = design.centre_mm
    assert abs(x) < v["outside.width"] / 2
    assert abs(y) < v["outside.height"] / 2
    assert -v["stack.depth"] < z < 0


@FEW
@given(keys=lit_keys)
def test_two_frames_of_any_size_are_sound_and_decided_once(keys):
    text = LIT.format(**{**PLAIN, **keys})
    job = job_from_text(text)
    design = decided(job, shop())
    sound(design, two_frames=True)
    again = job_from_text(decided_text(Loaded("job.yaml", text, locate(text), job, shop()), design))
    assert decided(again, shop()).digest == design.digest


@FEW
@given(
    keys=st.fixed_dictionaries(
        {"width": lengths(150, 2200), "height": lengths(150, 1600), "left": lengths(0, 25), "bottom": lengths(0, 40), "viewers": viewers}
    ),
    extra=st.tuples(st.floats(min_value=0, max_value=900), st.floats(min_value=0, max_value=900)) | st.none(),
    units=st.sampled_from(["in", "mm"]),
)
def test_one_frame_of_any_size_is_sound_and_decided_once(keys, extra, units):
    width, height = (float(keys[d].split()[0]) for d in ("width", "height"))
    more = f"size: {{of: outside, width: {width + 84 + extra[0]:.2f} mm, height: {height + 84 + extra[1]:.2f} mm}}" if extra else ""
    text = HIDDEN.format(**{**PLAIN_HIDDEN, **keys, "more": more, "units": units})
    job = job_from_text(text)
    design = decided(job, shop())
    sound(design, two_frames=False)
    again = job_from_text(decided_text(Loaded("job.yaml", text, locate(text), job, shop()), design))
    assert decided(again, shop()).digest == design.digest


@FEW
@given(data=st.data(), off=st.floats(min_value=-3.0, max_value=3.0))
def test_a_job_with_a_reading_is_decided_once_too(data, off):
    plain = lit()
    name = data.draw(st.sampled_from([n for n in plain.ledger.entries if is_measurable(plain.ledger, n) and plain.ledger[n] > 4.0]))
    more = f"measured: [{{name: {name}, value: {plain.ledger[name] + off:.3f} mm}}]"
    text = LIT.format(**{**PLAIN, "more": more})
    job = lit_job(more=more)
    design = decided(job, shop())
    again = job_from_text(decided_text(Loaded("job.yaml", text, locate(text), job, shop()), design))
    assert decided(again, shop()).digest == design.digest, name


def test_every_reading_equal_to_plan_changes_no_target():
    for job in (lit_job(), hidden_job(more="size: {of: sheet, width: 1200 mm, height: 700 mm}")):
        plain = decided(job, shop()).ledger
        for name in (n for n in plain.entries if is_measurable(plain, n)):
            read = decided(replace(job, measured=(Reading(name=name, value=plain[name]),)), shop()).ledger
            moved = [n for n, e in plain.entries.items() if e.kind is Kind.TARGET and abs(read[n] - plain[n]) > 1e-6]
            assert moved == [], name


def smooth(formula):
    return all(isinstance(node, (Arithmetic, Name, Number, Deviation)) for node in formula.walk())


@pytest.mark.parametrize("make", [lit, lambda: decided(hidden_job(), shop())])
def test_slopes_of_smooth_formulas_agree_with_the_uncertainties_package(make):
    # An oracle for plain arithmetic only: it drops least, greatest and rounding without a word.
    ledger, met = make().ledger, 0
    for name, entry in ledger.entries.items():
        if not smooth(entry.formula) or not entry.formula.names():
            continue
        carried = {source: uncertainties.ufloat(ledger[source], 1.0) for source in entry.formula.names()}
        result = entry.formula.value({**ledger.values, **carried})
        assert result.nominal_value == pytest.approx(ledger[name]), name
        slopes = ledger.partials(name)
        for source, variable in carried.items():
            assert slopes.get(source, 0.0) == pytest.approx(result.derivatives.get(variable, 0.0), abs=1e-12), (name, source)
        met += 1
    assert met > 30


def test_the_spread_of_the_gap_agrees_with_the_uncertainties_package():
    ledger, limits = lit().ledger, shop().limits
    # Batten ripped (one-sided: half its limit either way about a shifted middle), and the planer.
    batten = uncertainties.ufloat(ledger["batten.depth"] - limits.rip / 2, limits.rip / 2)
    lip = uncertainties.ufloat(ledger["rear.lip_thickness"], limits.planer)
    total = batten + lip + ledger["glue_line"] + ledger["spacer_frame"] + ledger["rear.bedding"]
    spread = tolerance(ledger, "gap")
    assert spread.rss_mm == pytest.approx(total.std_dev)
    assert (spread.low_mm + spread.high_mm) / 2 == pytest.approx(total.nominal_value)


@pytest.mark.parametrize("moulding", ["gallery-57", "slope-44", "undercut-51", "soft-76"])
@pytest.mark.parametrize("planed", ["0 mm", "2 mm"])
def test_sticks_weigh_and_balance_as_a_sum_of_small_boxes(moulding, planed):
    design = lit(moulding=moulding, planed=planed, width="700 mm", height="500 mm")
    v, profile = design.ledger.values, shop().mouldings[moulding].profile
    off = float(planed.split()[0])
    face = v["front.moulding.depth"] + v["glue_line"] + v["spacer_frame"] - off  # where the unplaned face would be
    cells, step = [], 0.5
    inner, deep = max(x for x, _ in profile), max(z for _, z in profile)
    for i in range(int(inner / step) + 1):
        for j in range(int(deep / step) + 1):
            x, z = (i + 0.5) * step, (j + 0.5) * step
            if z > off and inside(profile, x, z):
                cells.append((x, z))
    for length, part_id in ((v["outside.width"], "rear-stick-long"), (v["outside.height"], "rear-stick-short")):
        part = next(part for part in design.parts if part.id == part_id)
        weights = [(length - 2 * x) * step * step for x, _ in cells]
        density = shop().mouldings[moulding].density * 1e-9
        assert part.mass_kg == pytest.approx(sum(weights) * density, rel=0.01)
        depth = sum(w * z for w, (_, z) in zip(weights, cells, strict=True)) / sum(weights)
        assert part.at_mm[2] == pytest.approx(-(face + depth), abs=0.1)


def inside(polygon, x, z):
    """Whether a point lies in a polygon: an odd number of sides above it."""
    odd = False
    for (x0, z0), (x1, z1) in pairwise([*polygon, polygon[0]]):
        if (x0 > x) != (x1 > x) and z < z0 + (x - x0) / (x1 - x0) * (z1 - z0):
            odd = not odd
    return odd


def test_the_whole_balances_as_the_sum_of_its_parts_by_hand():
    # A badge's pocket in the bottom stick lifts the centre; the screen of 20 kg draws it back: all but the sticks are boxes.
    design = lit(screen=", sticks_out: [{id: badge, side: bottom, from: 10 in, to: 20 in, out: 1 in}]")
    v = design.ledger.values
    by_id = {part.id: part for part in design.parts}
    pocket = v["relief.badge.into_wall"] * v["relief.badge.width"] * v["relief.badge.height"]
    plain = lit()
    less = sum(p.mass_kg * p.quantity for p in plain.parts) - design.mass_kg
    assert less == pytest.approx(pocket * shop().mouldings["gallery-57"].density * 1e-9)
    y = -v["outside.height"] / 2 + 57.15 - v["relief.badge.into_wall"] / 2
    assert design.mass_kg * design.centre_mm[1] == pytest.approx(plain.mass_kg * plain.centre_mm[1] - less * y)
    assert by_id["screen"].at_mm[2] == pytest.approx(-(v["depth.picture"] + 22.5))
    assert by_id["front-glass"].at_mm[2] == pytest.approx(-(7.9375 + 2.0))
    assert by_id["rear-glass"].at_mm[2] == pytest.approx(-(7.9375 + 4.0 + v["gap"] + 2.0))
