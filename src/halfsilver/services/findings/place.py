"""What the place asks: standing out into a path, panes people may walk into, mass to lift. Local codes and authorities decide."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from halfsilver.engineering.access import protrusion_limit_mm
from halfsilver.engineering.glazing import cpsc_category, mirror_exception, pane_area_sq_ft, window_rule
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind, Visit
from halfsilver.services.checks.known import panes

LARGE_SQ_FT = 9.0
ONE_PERSON_KG = 23.0  # NIOSH load constant, at best conditions (revised lifting equation, 1994)


def protrusion(design: Design, show: Show) -> Iterator[Finding]:
    """A hung piece must not stand out further than 4 in between 27 and 80 in above the floor, where the public passes."""
    job, ledger = design.facts.job, design.ledger
    source = "ADA 2010 Standards, 307.2"
    if job.mounting.kind is not MountingKind.HUNG:
        return
    if job.mounting.centre_height is None:
        yield Finding(
            rule="access.protrusion",
            source=source,
            status="seen",
            severity=Severity.NOT_RUN,
            unit="mm",
            advice="The height of the centre above the floor is not given (mounting.centre_height).",
        )
        return
    bottom = job.mounting.centre_height - ledger["outside.height"] / 2
    limit = protrusion_limit_mm(bottom_edge_mm=max(bottom, 0.0))
    depth = ledger["outside.depth"]
    over = limit is not None and depth > limit
    public = job.place.visitors is Visit.PUBLIC
    where = f"Its lower edge is {show(bottom, 'mm')} above the floor and it stands out {show(depth, 'mm')}"
    if limit is None:
        said = f"{where}: at this height there is no limit to how far it may stand out."
    elif over:
        said = (
            f"{where}; at most {show(limit, 'mm')} is allowed. Recess it, bring its lower edge down to 27 in, or "
            f"give it a base or wing walls."
        )
    else:
        said = f"{where}, within {show(limit, 'mm')}."
    home = "" if public else " Homes are usually outside this standard."
    severity = Severity.NOTE if not over else Severity.CAUTION
    yield Finding(
        rule="access.protrusion",
        source=source,
        status="seen",
        severity=severity,
        value=round(depth, 2),
        limit=limit,
        unit="mm",
        advice=said + home + " The owner's accessibility adviser and the local authority decide.",
        entries=("outside.depth", "outside.height"),
    )


def glazing(design: Design, show: Show) -> Iterator[Finding]:
    """Each pane against the window rule, with the product classes for comparison, and what that means for plain glass."""
    job, ledger = design.facts.job, design.ledger
    for which in panes(design):
        glass = design.facts.front_glass if which == "front" else design.facts.rear_glass
        wide, high = ledger[f"{which}.glass.width"], ledger[f"{which}.glass.height"]
        area = pane_area_sq_ft(width_mm=wide, height_mm=high)
        category = cpsc_category(area_sq_ft=area)
        bottom = None if job.mounting.centre_height is None else max(job.mounting.centre_height - high / 2, 0.0)
        walking = job.place.walking_within if job.place.walking_within is not None else 0.0
        hazardous = False
        said = (
            f"The {which} pane has {area:.1f} sq ft; over {LARGE_SQ_FT:g} sq ft it counts as large. "
            if area > LARGE_SQ_FT
            else f"The {which} pane has {area:.1f} sq ft. "
        )
        if bottom is None:
            yield Finding(
                rule="glazing.window",
                source="IBC 2406.4.3",
                status="seen",
                severity=Severity.NOT_RUN,
                value=round(area, 2),
                limit=LARGE_SQ_FT,
                unit="sq ft",
                advice=said + "The height above the floor is not given (mounting.centre_height).",
            )
        else:
            rule = window_rule(width_mm=wide, height_mm=high, bottom_edge_mm=bottom, walking_distance_mm=walking)
            hazardous = rule.applies
            told = ", ".join(
                f"{name}: {'yes' if met else 'no'}"
                for name, met in (
                    ("over 9 sq ft", rule.large),
                    ("lower edge below 18 in", rule.low),
                    ("upper edge above 36 in", rule.high),
                    ("walking surface within 36 in", rule.near),
                )
            )
            said += (
                f"The window rule holds only if all are met ({told}), so "
                f"{'it holds here: safety glazing is called for' if hazardous else 'it does not hold here by itself'}. "
            )
        said += f"For comparison, in a door 16 CFR 1201 would ask Category {category} of it. "
        said += _meaning(glass.impact, which)
        plain = not glass.impact
        severity = Severity.STOP if hazardous and plain else Severity.CAUTION if area > LARGE_SQ_FT and plain else Severity.NOTE
        yield Finding(
            rule="glazing.pane",
            source="IBC 2406.4.3; 16 CFR 1201 for comparison",
            status="seen",
            severity=severity,
            value=round(area, 2),
            limit=LARGE_SQ_FT,
            unit="sq ft",
            advice=said + " The local authority decides.",
            entries=(f"{which}.glass.width", f"{which}.glass.height"),
        )
    if not mirror_exception(continuous_backing=True, cavity_behind=True):
        yield Finding(
            rule="glazing.mirror_exception",
            source="IBC 2406.1, exception for mirrors on continuous backing",
            status="seen",
            severity=Severity.NOTE,
            unit="1",
            advice="The exception for mirrors on a continuous backing is not claimed: there is a cavity or a screen "
            "behind the glass, not a backing that holds it.",
        )


def _meaning(impact: str, which: str) -> str:
    if impact:
        return f"The pane is marked {impact}; the mark must be permanent and stay legible."
    front = (
        "people can touch it: ask for laminated glass, glass toughened before coating, or a film"
        if which == "front"
        else "it stands behind the front pane; if that breaks, this one is reached"
    )
    return f"Plain annealed glass breaks into sharp pieces and meets no impact class; {front}."


def mass(design: Design, show: Show) -> Iterator[Finding]:
    """What it weighs and how many people lift it."""
    people = max(2, ceil(design.mass_kg / ONE_PERSON_KG)) if design.mass_kg > 10 else 1
    _, y, z = design.centre_mm
    yield Finding(
        rule="mass.total",
        source="NIOSH revised lifting equation: 23 kg is the most at best conditions",
        status="seen",
        severity=Severity.CAUTION if design.mass_kg > ONE_PERSON_KG else Severity.NOTE,
        value=round(design.mass_kg, 2),
        limit=ONE_PERSON_KG,
        unit="kg",
        advice=f"Complete it weighs {design.mass_kg:.1f} kg ({design.mass_kg / 0.45359237:.0f} lb); its centre of "
        f"mass lies {show(-z, 'mm')} behind the face and {show(abs(y), 'mm')} {'above' if y >= 0 else 'below'} the middle. "
        f"At least {people} {'people lift' if people > 1 else 'person lifts'} it, glass upright. Fixings over people "
        f"are for a competent installer to choose and prove.",
    )


RULES = (protrusion, glazing, mass)
