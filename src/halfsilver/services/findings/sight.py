"""What of the picture is lost, to which edge, and what would cure it."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from halfsilver.layout.design import Design
from halfsilver.layout.seat import SIDES
from halfsilver.ledger.explain import limiting
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.decide import cone_share

GEOMETRY = "sight lines with refraction (Snell's law); derived"


def cover(design: Design, show: Show) -> Iterator[Finding]:
    """On axis: picture hidden, border shown, or the frame's inside shown."""
    ledger = design.ledger
    for side in SIDES if "cover.left" in ledger else ():
        over, border = ledger[f"cover.{side}"], ledger[f"screen.border.{side}"]
        what = limiting(ledger, f"reach.{side}")
        entries = (f"cover.{side}", f"reach.{side}", f"screen.border.{side}")
        if over > 0.05:
            said = (
                f"{side.capitalize()}: {show(over, 'mm')} of the picture is hidden, looked at straight, by {what}: "
                f"{show(ledger[f'reach.{side}'], 'mm')} over a border of {show(border, 'mm')}."
            )
            yield _cover(Severity.CAUTION, over, said, entries)
        elif over < -border - 0.05 and "backing.width" in ledger:
            continue
        elif over < -border - 0.05:
            yield _cover(
                Severity.CAUTION,
                over,
                f"{side.capitalize()}: the frame's inside shows beside the screen, {show(-over - border, 'mm')} of it.",
                entries,
            )
        elif over < -0.05:
            yield _cover(Severity.NOTE, over, f"{side.capitalize()}: {show(-over, 'mm')} of the screen's border shows.", entries)


def _cover(severity: Severity, over: float, said: str, entries: tuple[str, ...]) -> Finding:
    return Finding(
        rule="sight.cover",
        source="geometry",
        status="derived",
        severity=severity,
        value=round(over, 3),
        limit=0.0,
        unit="mm",
        advice=said,
        entries=entries,
    )


def hidden_share(design: Design, show: Show) -> Iterator[Finding]:
    """Share of the picture hidden from the worst viewer and within the cone, against what the job accepts."""
    ledger, job = design.ledger, design.facts.job
    if "hidden.share" not in ledger:
        return
    if not job.viewers:
        yield Finding(
            rule="sight.viewers",
            source=GEOMETRY,
            status="derived",
            severity=Severity.NOT_RUN,
            unit="1",
            advice="No viewer is given: what is hidden off axis was not computed. Name at least one viewer with a "
            "distance and an eye height.",
        )
    share = max(ledger["hidden.share"], cone_share(ledger))
    limit = job.accept.hidden_share
    from_cone = cone_share(ledger) > ledger["hidden.share"]
    place = "at the edge of the cone" if from_cone else f"from {limiting(ledger, 'hidden.share')}"
    said = (
        f"{100 * share:.1f} % of the picture is hidden {place}; worst edge: {_worst(design, show, from_cone)}."
        if share > 1e-9
        else "Nothing of the picture is hidden."
    )
    over = limit is not None and share > limit
    cure = f" Accepted are {100 * limit:g} %. {_cure(design, show)}" if over and limit is not None else ""
    yield Finding(
        rule="sight.hidden_share",
        source=GEOMETRY,
        status="derived",
        severity=Severity.CAUTION if over else Severity.NOTE,
        value=round(share, 5),
        limit=limit,
        unit="1",
        advice=said + cure,
        entries=("hidden.share", *(f"hidden.{side}" for side in SIDES)),
    )


def _worst(design: Design, show: Show, from_cone: bool) -> str:
    ledger = design.ledger
    suffix = ".cone" if from_cone else ""
    side = max(SIDES, key=lambda s: ledger[f"hidden.{s}{suffix}"])
    name = f"hidden.{side}{suffix}"
    viewer = limiting(ledger, name)
    edge = viewer if from_cone else limiting(ledger, f"hidden.{side}.{viewer}") if f"hidden.{side}.{viewer}" in ledger else viewer
    return f"{edge} on the {side}, {show(ledger[name], 'mm')}"


def _cure(design: Design, show: Show) -> str:
    """What would bring the loss within what is accepted: a narrower batten, or a margin, with the figure."""
    ledger = design.ledger
    need = max(ledger[f"hidden.{side}{suffix}"] for side in SIDES for suffix in ("", ".cone") if f"hidden.{side}{suffix}" in ledger)
    cures = []
    if "batten.width" in ledger:
        land = design.facts.habits.batten_land
        spare = ledger["batten.width"] - land
        if spare > 0:
            cures.append(f"battens of {show(land, 'mm')} instead of {show(ledger['batten.width'], 'mm')} win {show(spare, 'mm')} a side")
    cures.append(f"a sight margin of {show(need, 'mm')} a side (fit.sight_margin: auto finds the least) shows all of it")
    return "Cures: " + "; ".join(cures) + "."


def near_side(design: Design, show: Show) -> Iterator[Finding]:
    """Where people look from the side, a gap always costs picture on the near side."""
    ledger = design.ledger
    if "gap" not in ledger or "accept.cone" not in ledger or "hidden.share" not in ledger:
        return
    cost = ledger["gap"] * tan(radians(ledger["accept.cone"]))
    yield Finding(
        rule="sight.gap_cost",
        source=GEOMETRY,
        status="derived",
        severity=Severity.NOTE,
        value=round(cost, 2),
        limit=None,
        unit="mm",
        advice=f"The gap of {show(ledger['gap'], 'mm')} alone costs {show(cost, 'mm')} of picture on the near side at "
        f"{ledger['accept.cone']:g} degrees.",
        entries=("gap", "accept.cone"),
    )


def window(design: Design, show: Show) -> Iterator[Finding]:
    """Where the picture is not in the middle of the sight, say by how much."""
    ledger = design.ledger
    if "window.left" not in ledger:
        return
    for d, near, far in (("width", "left", "right"), ("height", "bottom", "top")):
        off = ledger[f"window.{near}"] + (ledger[f"window.{d}"] - ledger[f"front.glass.{d}"]) / 2
        if abs(off) > 0.5:
            yield Finding(
                rule="sight.window",
                source="geometry",
                status="derived",
                severity=Severity.NOTE,
                value=round(off, 3),
                limit=0.0,
                unit="mm",
                advice=f"The middle of the picture lies {show(abs(off), 'mm')} from the sight's middle, "
                f"towards the {far if off > 0 else near} ({limiting(ledger, f'window.{near}') or 'as asked'}).",
                entries=(f"window.{near}",),
            )


RULES = (cover, hidden_share, near_side, window)
