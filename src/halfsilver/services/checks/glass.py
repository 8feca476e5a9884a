"""The panes: a person leaning, their own weight when they lean, a warm edge, and how their edges are finished."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from halfsilver.engineering import glass as pane_rules
from halfsilver.engineering import leaning, plates, strength, warm_edges
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, fine
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import GlassKind, GlassMake
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, not_run, panes
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import N_PER_LBF

SUPPLIER = "glass supplier; a licensed structural engineer for sloped or overhead glass"
HAND_MM = 50.0  # radius of what leans on it: a hand or shoulder; assumed
LEAN_H = 1 / 6  # ten minutes
PERMANENT = 0.29  # EN 16612:2019 prints it for fifty years
PLIES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A pane as the rules of strength see it: spans between its rebates, heat treatment, thickness for sag and for stress. [mm]"""

    which: str
    glass: GlassKind
    width_mm: float
    height_mm: float

    @property
    def treated(self) -> str:
        """Its heat treatment."""
        return "toughened" if self.glass.make is GlassMake.TOUGHENED else "annealed"

    def ply_mm(self) -> float:
        """Least thickness of one ply, or of a solid pane. [mm]"""
        if self.glass.make is GlassMake.LAMINATED:
            return least_mm((self.glass.thickness - self.glass.interlayer) / PLIES)
        return least_mm(self.glass.thickness)

    def thicknesses_mm(self, *, lasting: bool) -> tuple[float, float]:
        """Thickness of a solid pane that sags, and of one that is stressed, as much. [mm]"""
        ply = self.ply_mm()
        if self.glass.make is not GlassMake.LAMINATED:
            return ply, ply
        coupling = 0.0 if lasting else self.glass.coupling
        film = self.glass.interlayer
        return (
            strength.laminated_thickness_mm(plies_mm=[ply] * PLIES, interlayers_mm=[film], coupling=coupling),
            strength.laminated_stress_thickness_mm(plies_mm=[ply] * PLIES, ply=0, interlayers_mm=[film], coupling=coupling),
        )

    def given(self, sag_mm: float, stress_mm: float) -> tuple[Given, ...]:
        """What every working of a pane begins with."""
        a, b = sorted((self.width_mm, self.height_mm))
        return (
            Given(name="short side", symbol="a", value=a, unit="mm", origin="ledger"),
            Given(name="long side", symbol="b", value=b, unit="mm", origin="ledger"),
            Given(name="thickness for sag", symbol="tw", value=sag_mm, unit="mm", origin="least, ASTM E1300"),
            Given(name="thickness for stress", symbol="ts", value=stress_mm, unit="mm", origin="least, ASTM E1300"),
        )


def least_mm(nominal_mm: float) -> float:
    """Least thickness of a nominal one; between two of the table that of the thinner. [mm]"""
    known = [nominal for nominal in pane_rules.LEAST_THICKNESS_MM if nominal <= nominal_mm + 0.05]
    return pane_rules.least_thickness_mm(nominal_mm=max(known)) if known else 0.85 * nominal_mm


def pane(design: Design, which: str) -> Pane:
    """A pane between the lips that hold its four edges."""
    glass, ledger = design.facts.front_glass if which == "front" else design.facts.rear_glass, design.ledger
    return Pane(which=which, glass=glass, width_mm=ledger[f"{which}.sight.width"], height_mm=ledger[f"{which}.sight.height"])


def lean(design: Design, show: Show) -> Iterator[Check | Finding]:
    """A person pushing on the front pane: stress against the strength for ten minutes, sag against what is allowed."""
    one = pane(design, "front")
    if one.glass.make is GlassMake.ACRYLIC:
        yield not_run(
            "glass.strength", what="strength of the acrylic front sheet", key="glass.front.kind", source="EN 16612:2019 is for glass",
            unit="MPa", meanwhile="Its maker knows it; it bends about twenty times as much as glass, and scratches.",
        )  # fmt: skip
        return
    sag_mm, stress_mm = one.thicknesses_mm(lasting=False)
    span = {"width_mm": one.width_mm, "height_mm": one.height_mm}
    push = ruled(design, "person_push")
    radius = min(HAND_MM, min(span.values()) / 4)
    stress = leaning.patch_stress_mpa(**span, thickness_mm=stress_mm, load_n=push.value, radius_mm=max(radius, stress_mm / 2))
    sag = leaning.patch_deflection_mm(**span, thickness_mm=sag_mm, load_n=push.value)
    k_mod = strength.duration_factor(duration_h=LEAN_H)
    limit = strength.design_strength_mpa(kind=one.treated, k_mod=k_mod)
    given = (*one.given(sag_mm, stress_mm), push.given("push of a person", "P", "N"))
    laminated = one.glass.make is GlassMake.LAMINATED
    assumed = (
        "four edges held by lip and battens, free to turn",
        "linear theory: a pane that sags beyond half its thickness stretches and is stressed less",
        "no holes, notches, scratches",
        *(
            (f"two equal plies; the film passes on {100 * one.glass.coupling:.0f} % of the shear for minutes, from memory",)
            if laminated
            else ()
        ),
    )
    short, rigid = min(span.values()), plates.plate_rigidity_n_mm(thickness_mm=sag_mm)
    theory, design_value, bend, span_limit = map(
        mark_of, (leaning.patch_stress_mpa, strength.design_strength_mpa, leaning.patch_deflection_mm, plates.deflection_limit_mm)
    )
    at_most = plates.deflection_limit_mm(span_mm=short)
    both = (
        Working(
            rule="glass.stress",
            title=f"stress in the {one.treated} front pane under a person's push",
            given=(*given, Given(name="radius of the push", symbol="r", value=radius, unit="mm", origin="assumed")),
            formula="3 P/(2 pi ts^2) ((1 + nu) ln(2 a/(pi r)) + beta) <= k_mod 45/1.8 + (f_bk - 45)/1.2",
            result=stress,
            limit=limit,
            unit="MPa",
            source=theory.source,
            limit_source=design_value.source,
            status=weakest(theory.status, design_value.status, push.status),
            assumptions=assumed,
            confirms=SUPPLIER,
        ),
        Working(
            rule="glass.sag",
            title="sag of the front pane under a person's push",
            given=given,
            formula="k P a^2/D <= least of a/65 and 50 mm",
            put_in=f"{sag * rigid / (push.value * short**2):.5f} x {push.value:.0f} x {short:.0f}^2/{rigid:.0f} = {sag:.2f} mm, D in N mm",
            result=sag,
            limit=at_most,
            unit="mm",
            source=bend.source,
            limit_source=span_limit.source,
            status=weakest(bend.status, span_limit.status, push.status),
            assumptions=assumed,
            confirms=SUPPLIER,
        ),
    )
    cure = _thicker(one, max((stress / limit) ** 0.5, (sag / at_most) ** (1 / 3)))
    yield Check(
        working=_governing("glass.strength", both),
        also=both,
        advice=f"Someone who pushes {push.value:.0f} N ({push.value / N_PER_LBF:.0f} lbf) on the middle of the front pane "
        f"({one.glass.id}, {one.treated}) "
        f"stresses it to {stress:.0f} MPa against {limit:.0f} MPa for ten minutes, and bends it "
        f"{fine(show, sag)} against {fine(show, at_most)}{cure}. "
        f"{'Two plies of the least thickness count, hardly joined by their film. ' if laminated else ''}"
        f"{'' if design.facts.job.mounting.tilt else 'Upright and held on four edges no lasting load bends it. '}Have every edge "
        "seamed (arrissed); a chipped edge is not built in.",
        entries=("front.glass.thickness", "front.sight.width", "front.sight.height"),
    )  # fmt: skip


def _governing(rule: str, both: tuple[Working, ...]) -> Working:
    """The working that uses up most of its limit, under the name of the rule."""
    return replace(max(both, key=lambda one: one.use or 0.0), rule=rule)


def _thicker(one: Pane, factor: float) -> str:
    """The thickness that would pass, where it has to grow by a factor."""
    if factor <= 1:
        return ""
    wanted = one.ply_mm() * factor
    nominal = next((n for n, least in pane_rules.LEAST_THICKNESS_MM.items() if least >= wanted), None)
    if nominal is None:
        return ". Divide it, or give it a rail or a support behind"
    return f". {'Two plies of ' if one.glass.make is GlassMake.LAMINATED else ''}{nominal:g} mm would pass, in the glass it is of"


def leaning_pane(design: Design, show: Show) -> Iterator[Check | Finding]:
    """Panes of a piece that leans: their own weight for years, and what the sag does to the image."""
    tilt = design.facts.job.mounting.tilt
    for which in panes(design) if tilt else ():
        one = pane(design, which)
        if one.glass.make is GlassMake.ACRYLIC:
            continue
        yield _own_weight(one, tilt, show)


def _own_weight(one: Pane, tilt_deg: float, show: Show) -> Check:
    sag_mm, stress_mm = one.thicknesses_mm(lasting=True)
    load = plates.slope_load_pa(thickness_mm=one.glass.thickness, slope_deg=90 - tilt_deg, density_kg_m3=one.glass.density)
    span = {"width_mm": one.width_mm, "height_mm": one.height_mm, "pressure_pa": load}
    stress = plates.plate_stress_mpa(**span, thickness_mm=stress_mm)
    sag = plates.plate_deflection_mm(**span, thickness_mm=sag_mm)
    limit = strength.design_strength_mpa(kind=one.treated, k_mod=PERMANENT)
    short = min(one.width_mm, one.height_mm)
    factors = plates.plate_factors(aspect=max(one.width_mm, one.height_mm) / short)
    rigid = plates.plate_rigidity_n_mm(thickness_mm=sag_mm)
    turn = 2 * 4 * sag / short  # slope at the edge of a parabola, doubled by reflection [rad]
    bend, theory, design_value = map(mark_of, (plates.plate_deflection_mm, plates.plate_stress_mpa, strength.design_strength_mpa))
    given = (
        *one.given(sag_mm, stress_mm),
        Given(name="lean from upright", symbol="v", value=tilt_deg, unit="deg", origin="asked"),
        Given(name="own weight across the pane", symbol="q", value=load, unit="Pa"),
    )
    assumed = ("four edges held, free to turn", "permanent: fifty years", "the film of a laminated pane passes on no shear")
    at_most = plates.deflection_limit_mm(span_mm=short)
    both = (
        Working(
            rule="glass.stress",
            title=f"stress in the leaning {one.which} pane for years",
            given=given,
            formula="6 beta q a^2/ts^2, q = rho g t sin v <= k_mod 45/1.8 + (f_bk - 45)/1.2",
            put_in=f"6 x {factors.moment_short:.4f} x {load:.0f} Pa x {short:.0f}^2/{stress_mm:.2f}^2 = {stress:.2f} MPa",
            result=stress,
            limit=limit,
            unit="MPa",
            source=theory.source,
            limit_source=design_value.source,
            status=weakest(theory.status, design_value.status),
            assumptions=assumed,
            confirms=SUPPLIER,
        ),
        Working(
            rule="glass.sag",
            title=f"sag of the leaning {one.which} pane",
            given=given,
            formula="alpha q a^4/D <= least of a/65 and 50 mm",
            put_in=f"{factors.deflection:.5f} x {load:.0f} Pa x {short:.0f}^4/{rigid:.0f} = {sag:.2f} mm, D in N mm",
            result=sag,
            limit=at_most,
            unit="mm",
            source=bend.source,
            limit_source=mark_of(plates.deflection_limit_mm).source,
            status=bend.status,
            assumptions=assumed,
            confirms=SUPPLIER,
        ),
    )
    cure = _thicker(one, max(stress / limit, (sag / at_most) ** 0.5))  # its weight grows with its thickness
    return Check(
        working=_governing("glass.own_weight", both),
        broken=Severity.STOP,
        also=both,
        advice=f"Leaning {tilt_deg:g} degrees, the {one.which} pane carries {load:.0f} Pa of its own for years: {stress:.1f} MPa against "
        f"{limit:.1f} MPa, and it sags {fine(show, sag)} against {fine(show, at_most)}{cure}. The sag turns a mirrored ray at its edge by "
        f"{1000 * turn:.1f} mrad, "
        f"{show(1000 * turn, 'mm')} at 1 m: straight lines bend by that. Sloped glass under which people stand is laminated and goes to an "
        "engineer (IBC 2405, from memory).",
        entries=(f"{one.which}.glass.thickness",),
    )  # fmt: skip


def warm_edge(design: Design, show: Show) -> Iterator[Check]:
    """The strip warms the edges of the panes beside it: difference to the middle against what such glass stands."""
    if design.facts.job.lights is None or "strip.length" not in design.ledger:
        return
    # Half of the heat to either pane; at full power, whatever the dimmer is set to.
    heat = design.facts.light.power / 2
    stands, both = ruled(design, "thermal_shock"), [pane(design, which) for which in panes(design)]
    found = [_warm(one, heat, stands) for one in both if one.glass.make is not GlassMake.ACRYLIC]
    if not found:
        return
    worst = max(found, key=lambda one: one.use or 0.0)
    rise, limit = worst.result, worst.limit or 0.0
    doubt = " (from memory)" if worst.status == "memory" else ""
    cure = (
        f" Dim it to {100 * limit / rise:.0f} %, put the strip in a metal channel, or take toughened glass." if worst.holds is False else ""
    )
    yield Check(
        working=worst,
        also=tuple(found),
        advice=f"The strip warms the edges of the panes by at most {rise:.0f} K, if all of its heat goes into them; "
        f"{worst.title.split(',')[0]} "
        f"stands {limit:.0f} K between edge and middle{doubt}, less where an edge is chipped.{cure}",
        entries=("strip.length",),
    )  # fmt: skip


def _warm(one: Pane, heat_w_m: float, annealed: Known) -> Working:
    rise = mark_of(warm_edges.edge_rise_k)
    shock = annealed if one.treated == "annealed" else Known(value=warm_edges.SHOCK_K[one.treated], origin="from memory")
    difference = warm_edges.edge_rise_k(heat_w_m=heat_w_m, thickness_mm=one.glass.thickness)
    return Working(
        rule="glass.heat_stress",
        title=f"{one.treated} glass, {one.which} pane",
        given=(
            Given(name="heat into the edge", symbol="q", value=heat_w_m, unit="W/m", origin="catalogue"),
            Given(name="thickness", symbol="t", value=one.glass.thickness, unit="mm", origin="catalogue"),
            Given(name="heat passed to air", symbol="h", value=warm_edges.FILM_W_M2K, unit="W/m2K", origin=PRACTICE),
            Given(name="stress of it", symbol="s", value=warm_edges.heat_stress_mpa(difference_k=difference), unit="MPa"),
        ),
        formula="q/sqrt(2 h k t) <= thermal shock; s = E a dT",
        put_in=f"{heat_w_m:.1f}/sqrt(2 x {warm_edges.FILM_W_M2K:g} x {warm_edges.GLASS_CONDUCTIVITY_W_MK:g} x "
        f"{one.glass.thickness / 1000:.4f}) = {difference:.1f} K",
        result=difference,
        limit=shock.value,
        unit="K",
        source=rise.source,
        limit_source=shock.source("EN 572-1, EN 12150-1"),
        status=weakest(rise.status, shock.status),
        assumptions=("half of the heat goes into either pane", "no sun on the pane"),
        confirms=SUPPLIER,
    )


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (lean, leaning_pane, warm_edge)
