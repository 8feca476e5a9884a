"""Laws of loads: heavier is never easier to hang or lift, thicker glass never bends more, a gap never helps a screw."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.engineering import bars, glare, lateral, leaning, mounting, packing, spacing, sticks
from halfsilver.engineering.glass import LEAST_THICKNESS_MM
from halfsilver.engineering.standing import standing_workings
from halfsilver.engineering.workings import hanging_workings
from halfsilver.files.jobs import job_from_text
from halfsilver.ledger.shown import shower
from halfsilver.services.checks import balance, carrying, cleats, glass, hanging, retaining, standing
from halfsilver.services.checks.check import Check
from halfsilver.services.decide import decided
from jobs import LIT, PLAIN, lit, shop

SHOW = shower(units="in", fraction=32)
span = st.floats(200, 3000)
mass = st.floats(1, 200)
more = st.floats(1.0, 3.0)


@given(kg=mass, by=more, e=st.floats(5, 300), h=st.floats(100, 2000), n=st.integers(1, 8), gravity=st.floats(0.31, 0.73))
def test_heavier_is_never_easier_to_hang(kg, by, e, h, n, gravity):
    common = {
        "centre_from_wall_mm": e, "fixing_to_contact_mm": h, "screw_number": 10, "thread_mm": 40, "stud_gravity": gravity,
        "lateral_load_n": 300,
    }  # fmt: skip
    light, heavy = (hanging_workings(mass_kg=m, fixings=n, **common) for m in (kg, kg * by))
    assert all((a.use or 0) <= (b.use or 0) * (1 + 1e-9) for a, b in zip(light, heavy, strict=True))
    fewer = hanging_workings(mass_kg=kg, fixings=n + 1, **common)
    assert all(b.result <= a.result * (1 + 1e-9) for a, b in zip(light, fewer, strict=True))


@given(kg=mass, base=st.floats(10, 1000), up=st.floats(100, 2000), by=more)
def test_a_higher_centre_never_stands_better(kg, base, up, by):
    low, high = (standing_workings(mass_kg=kg, base_mm=base, centre_height_mm=c)[0].use for c in (up, up * by))
    assert low <= high * (1 + 1e-9)


@given(kg=mass, base=st.floats(10, 1000), up=st.floats(100, 2000), out=st.floats(0, 2000), by=more)
def test_what_stands_out_further_never_stands_better(kg, base, up, out, by):
    near, far = (standing_workings(mass_kg=kg, base_mm=base, centre_height_mm=up, overhang_mm=o) for o in (out, out * by))
    assert all((a.use or 0) <= (b.use or 0) * (1 + 1e-9) for a, b in zip(near, far, strict=True))


@given(n=st.integers(1, 12), aside=st.floats(-400, 400), spread=st.floats(1, 2000), by=more)
def test_a_row_is_never_eased_by_going_off_its_middle(n, aside, spread, by):
    share = {"fixings": n, "spread_mm": spread}
    near, far = (mounting.load_share(**share, off_centre_mm=a) for a in (aside, aside * by))
    assert 1 / n <= near * (1 + 1e-9)
    assert near <= far * (1 + 1e-9)


@given(load=st.floats(1, 500), arm=st.floats(5, 200), length=st.floats(100, 2000), thick=st.floats(1, 10), by=more, n=st.integers(1, 8))
def test_a_thicker_bar_never_bends_more_and_more_screws_never_pull_harder(load, arm, length, thick, by, n):
    one = {"load_n": load, "width_mm": length, "modulus_mpa": 200_000}
    assert bars.lip_deflection_mm(**one, arm_mm=arm, thickness_mm=thick * by) <= bars.lip_deflection_mm(
        **one, arm_mm=arm, thickness_mm=thick
    ) * (1 + 1e-9)
    bent = [bars.span_deflection_mm(**one, span_mm=length, thickness_mm=t) for t in (thick, thick * by)]
    stress = [bars.bending_stress_mpa(load_n=load, lever_mm=arm, width_mm=length, thickness_mm=t) for t in (thick, thick * by)]
    assert bent == sorted(bent, reverse=True)
    assert stress == sorted(stress, reverse=True)
    few, many = (bars.screw_pull_n(load_n=load, arm_mm=arm, foot_mm=20, screws=k) for k in (n, n + 1))
    assert many <= few


@given(diameter=st.floats(2, 8), which=st.sampled_from(sorted(spacing.DIAMETERS)), steel=st.booleans())
def test_a_drilled_screw_never_asks_for_more_room(diameter, which, steel):
    drilled, forced = (spacing.screw_spacing_mm(diameter_mm=diameter, which=which, drilled=d, under_steel=steel) for d in (True, False))
    assert drilled <= forced


@given(width=span, height=span, load=st.floats(1, 1000), thin=st.sampled_from(sorted(LEAST_THICKNESS_MM.values())), by=more)
def test_thicker_glass_never_bends_more(width, height, load, thin, by):
    size = {"width_mm": width, "height_mm": height, "load_n": load}
    thick = thin * by
    assert leaning.patch_deflection_mm(**size, thickness_mm=thick) <= leaning.patch_deflection_mm(**size, thickness_mm=thin) * (1 + 1e-9)
    stresses = [leaning.patch_stress_mpa(**size, thickness_mm=t, radius_mm=50) for t in (thin, thick) if t <= 100]
    assert stresses == sorted(stresses, reverse=True)


@given(
    number=st.sampled_from([6, 8, 9, 10, 12, 14]), thread=st.floats(10, 80), gravity=st.floats(0.31, 0.6), steel=st.floats(0.5, 6),
    gap=st.floats(0, 30), by=st.floats(1, 1.2),
)  # fmt: skip
def test_shear_grows_with_timber_and_falls_with_a_gap(number, thread, gravity, steel, gap, by):
    plain = {"number": number, "thread_mm": thread, "specific_gravity": gravity, "steel_side_mm": steel}
    one = lateral.screw_lateral_n(**plain, gap_mm=gap)
    assert one <= lateral.screw_lateral_n(**{**plain, "specific_gravity": gravity * by}, gap_mm=gap) * (1 + 1e-9)
    assert one <= lateral.screw_lateral_n(**{**plain, "thread_mm": thread * by}, gap_mm=gap) * (1 + 1e-9)
    assert one >= lateral.screw_lateral_n(**plain, gap_mm=gap * by + 1) * (1 - 1e-9)


@given(load=st.floats(1, 2000), length=st.floats(200, 3000), deep=st.floats(10, 60), high=st.floats(10, 100), by=more)
def test_a_taller_stick_never_sags_more(load, length, deep, high, by):
    beam = {"load_n": load, "span_mm": length, "depth_mm": deep}
    assert sticks.stick_deflection_mm(**beam, height_mm=high * by) <= sticks.stick_deflection_mm(**beam, height_mm=high) * (1 + 1e-9)


@given(bright=st.floats(1e2, 1e5), by=more, wall=st.floats(1, 500), angle=st.floats(3e-4, 0.1))
def test_brighter_is_never_less_glaring_and_dimming_meets_the_limit(bright, by, wall, angle):
    dull, sharp = (glare.glare_rating(luminances_cd_m2=[L], solid_angles_sr=[angle], background_cd_m2=wall) for L in (bright, bright * by))
    assert dull <= sharp + 1e-9
    share = glare.dim_for_glare(rating=sharp)
    met = glare.glare_rating(luminances_cd_m2=[bright * by * share], solid_angles_sr=[angle], background_cd_m2=wall)
    assert met <= glare.GLARE_LIMIT + 1e-6


@given(width=span, height=span, depth=st.floats(20, 300), cushion=st.floats(0, 150))
def test_a_crate_holds_its_piece(width, height, depth, cushion):
    box = packing.crate(width_mm=width, height_mm=height, depth_mm=depth, cushion_mm=cushion, wall_mm=12, density_kg_m3=600)
    assert all(a <= b < c for a, b, c in zip((width, height, depth), box.inside_mm, box.outside_mm, strict=True))
    assert box.mass_kg > 0


def uses(design, module):
    found = [each for rule in module.RULES for each in rule(design, SHOW) if isinstance(each, Check)]
    return {each.working.rule: each.working.use for each in found if each.working.use is not None}


@settings(max_examples=8, deadline=None)
@given(light=st.floats(5, 60), by=st.floats(1.1, 2.0))
def test_a_heavier_screen_never_eases_a_check(light, by):
    first, second = (_weighing(m) for m in (light, light * by))
    for module in (hanging, cleats, carrying, retaining, balance):
        lighter, heavier = uses(first, module), uses(second, module)
        assert lighter.keys() == heavier.keys()
        assert all(lighter[rule] <= heavier[rule] * (1 + 1e-9) for rule in lighter)


@settings(max_examples=6, deadline=None)
@given(foot=st.floats(50, 400), by=st.floats(1.05, 2.0), tilt=st.sampled_from(["0 deg", "15 deg"]))
def test_a_longer_foot_never_tips_sooner(foot, by, tilt):
    short, long = (
        uses(_weighing(20, f"kind: standing, tilt: {tilt}, base: {{front: {f:.2f} mm, back: {f:.2f} mm}},"), standing)
        for f in (foot, foot * by)
    )
    assert long["mount.tip"] <= short["mount.tip"] * (1 + 1e-9)


def _weighing(kg, kind="kind: hung,"):
    return decided(job_from_text(LIT.format(**PLAIN).replace("mass: 20 kg", f"mass: {kg:.2f} kg").replace("kind: hung,", kind)), shop())


def test_a_thicker_front_pane_uses_less_of_its_strength():
    found = [uses(lit(front_glass=kind), glass)["glass.strength"] for kind in ("split-t50-4", "split-t50-6")]
    assert found[0] > found[1]
