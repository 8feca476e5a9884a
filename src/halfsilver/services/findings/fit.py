"""Does it go together: clearance of panes, what is already cut, battens and strip, the recess."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.layout.frames import DIRECTIONS
from halfsilver.layout.parts import has_backing
from halfsilver.ledger.shown import Show, fine
from halfsilver.ledger.tolerance import chance_below, tolerance
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import MountingKind
from halfsilver.services.checks.known import at_least, panes

PRACTICE = "common practice"
BATTEN_END_MM = 0.5  # a batten a little short is bedded in glue: common practice
FAR_MM = 6.0  # a quarter of an inch: common practice
FAR_SHARE = 0.01
BOUGHT_CLEARANCE_MM = 4.0  # 2 mm a side for glass that is bought to size: common practice


def clearance(design: Design, show: Show) -> Iterator[Finding]:
    """Every pane must drop into its opening, at the worst the operations leave open."""
    for which in panes(design):
        names = [f"{which}.clearance.{d}" for d in DIRECTIONS]
        spreads = [tolerance(design.ledger, name) for name in names]
        name, spread = min(zip(names, spreads, strict=True), key=lambda pair: pair[1].low_mm)
        chance = chance_below(design.ledger, dict.fromkeys(names, 0.0))
        measured = all(design.ledger.is_measured(f"{which}.rebate.{d}") for d in DIRECTIONS)
        if design.ledger[name] < 0:
            severity, said = Severity.STOP, f"The {which} pane is larger than its opening by {fine(show, -design.ledger[name])}."
        elif spread.low_mm < -0.05:
            severity = Severity.CAUTION
            said = (
                f"Cut from {'the reading' if measured else 'the plan'}, the {which} pane may not go in: "
                f"{_chance(chance)}. At worst it is {fine(show, -spread.low_mm)} too large."
            )
        else:
            severity, said = (
                Severity.NOTE,
                f"The {which} pane keeps at least {fine(show, spread.low_mm)} of clearance in all; chance that it does not "
                f"go in: {_chance(chance)}.",
            )
        cure = (
            "" if measured else f" Measure the {which} rebate in both directions, at three places each, before the pane is cut or ordered."
        )
        yield Finding(
            rule="fit.clearance",
            source="worst case of a tolerance stack; normal distribution with a third of each limit for the chance",
            status="practice",
            severity=severity,
            value=round(spread.low_mm, 3),
            limit=0.0,
            unit="mm",
            advice=said + cure,
            entries=tuple(names),
        )


def _chance(chance: float) -> str:
    return "less than 1 in 10 000" if chance < 1e-4 else f"about {100 * chance:.2g} %"


def screen_play(design: Design, show: Show) -> Iterator[Finding]:
    """The screen must go into its rebate, at the worst the saw and the tape leave open."""
    names = [f"screen.play.{d}" for d in DIRECTIONS if f"screen.play.{d}" in design.ledger]
    if not names:
        return
    if "backing.width" in design.ledger and has_backing(design.ledger.values):
        yield _in_backing(design, show)
        return
    name, spread = min(((name, tolerance(design.ledger, name)) for name in names), key=lambda pair: pair[1].low_mm)
    severity = Severity.STOP if design.ledger[name] < 0 else Severity.CAUTION if spread.low_mm < 0 else Severity.NOTE
    said = {
        Severity.STOP: f"The screen is larger than its rebate by {fine(show, -design.ledger[name])}.",
        Severity.CAUTION: f"The screen may not go into its rebate: at worst it is {fine(show, -spread.low_mm)} too large.",
        Severity.NOTE: f"The screen keeps at least {fine(show, spread.low_mm)} of play in all.",
    }[severity]
    cure = "" if severity is Severity.NOTE else " Measure screen and rebate, and ease the rebate or ask for more play (fit.screen)."
    yield Finding(
        rule="fit.screen",
        source="worst case of a tolerance stack",
        status="practice",
        severity=severity,
        value=round(spread.low_mm, 3),
        limit=0.0,
        unit="mm",
        advice=said + cure,
        entries=tuple(names),
    )


def _in_backing(design: Design, show: Show) -> Finding:
    """A screen smaller than its rebate sits in the cut-out of the backing: that one has to take it in, sawn and taped as it is."""
    ledger, limits = design.ledger, design.facts.limits
    closed = [d for d in DIRECTIONS if ledger[f"backing.{d}"] < ledger[f"backing.outside.{d}"] - 1e-6]
    play = {d: ledger[f"backing.{d}"] - ledger[f"screen.outline.{d}"] for d in closed}
    off = {d: 2 * limits.rout + tolerance(ledger, f"screen.outline.{d}.actual").worst_mm for d in closed}
    tight = min(closed, key=lambda d: play[d] - off[d])
    least = play[tight] - off[tight]
    severity = Severity.STOP if play[tight] < 0 else Severity.CAUTION if least < 0 else Severity.NOTE
    said = {
        Severity.STOP: f"The screen is larger than its cut-out in the backing by {fine(show, -play[tight])}: ask for more (fit.screen).",
        Severity.CAUTION: f"The screen may not go into its cut-out in the backing: at worst it is {fine(show, -least)} too large. Measure "
        f"the screen before the backing is cut, or ask for {fine(show, -least)} more (fit.screen).",
        Severity.NOTE: f"The screen keeps at least {fine(show, least)} of play in the cut-out of its backing.",
    }[severity]
    return Finding(
        rule="fit.screen", source="worst case of a tolerance stack", status="practice", severity=severity, value=round(least, 3), limit=0.0,
        unit="mm", entries=("fit.screen", f"backing.{tight}"),
        advice=f"{said} The rebate is wider still: the backing, and what carries the screen, hold it in its place.",
    )  # fmt: skip


def bought_clearance(design: Design, show: Show) -> Iterator[Finding]:
    """Glass bought to size wants more clearance than glass cut to a reading."""
    for which in panes(design):
        glass = design.facts.front_glass if which == "front" else design.facts.rear_glass
        given = design.ledger["fit.glass"]
        if not glass.cut_here and given < BOUGHT_CLEARANCE_MM:
            yield Finding(
                rule="fit.bought_clearance",
                source=PRACTICE,
                status="practice",
                severity=Severity.CAUTION,
                value=round(given, 3),
                limit=BOUGHT_CLEARANCE_MM,
                unit="mm",
                advice=f"The {which} pane is bought to size ({glass.make.value}) and cannot be trimmed here: allow "
                f"{at_least(design, show, BOUGHT_CLEARANCE_MM)} altogether, half on each side, instead of {show(given, 'mm')}, and order "
                "it after measuring.",
                entries=("fit.glass", f"{which}.glass.width", f"{which}.glass.height"),
            )


def far_reading(design: Design, show: Show) -> Iterator[Finding]:
    """A reading far from its plan is more often a slip of the tape or the pencil than a frame so far off."""
    ledger = design.ledger
    for name in ledger.readings:
        off = ledger[name] - ledger.planned[name]
        limit = max(FAR_MM, FAR_SHARE * abs(ledger.planned[name]))
        if abs(off) > limit:
            yield Finding(
                rule="fit.far_reading",
                source=PRACTICE,
                status="practice",
                severity=Severity.CAUTION,
                value=round(off, 3),
                limit=round(limit, 3),
                unit="mm",
                advice=f"{name} was read as {show(ledger[name], 'mm')}, {show(abs(off), 'mm')} from the plan of "
                f"{show(ledger.planned[name], 'mm')}. Measure again: an inch misread, width and height swapped, another unit?",
                entries=(name,),
            )


def bedding(design: Design, show: Show) -> Iterator[Finding]:
    """Bedding that an asked gap needs is told to the bench."""
    choice = design.facts.choices.bedding
    if choice is not None:
        yield Finding(
            rule="fit.bedding",
            source="derived from the asked gap",
            status="derived",
            severity=Severity.NOTE,
            value=round(choice.value, 3),
            unit="mm",
            advice=f"Lay bedding of {choice.value:.2f} mm on the front lip before the pane goes in: {choice.reason}.",
            entries=("front.bedding", "gap"),
        )


def already_cut(design: Design, show: Show) -> Iterator[Finding]:
    """A part that was measured is compared with what it should be now."""
    ledger = design.ledger
    for which in panes(design):
        for d in DIRECTIONS:
            name = f"{which}.glass.{d}"
            if not ledger.is_measured(name):
                continue
            over = ledger[name] - ledger.planned[name]
            if abs(over) > ledger["step.glass"] / 2:
                severity = Severity.STOP if ledger[f"{which}.clearance.{d}"] < 0 else Severity.CAUTION if over > 0 else Severity.NOTE
                yield Finding(
                    rule="fit.already_cut",
                    source="the readings",
                    status="derived",
                    severity=severity,
                    value=round(ledger[name], 3),
                    limit=round(ledger.planned[name], 3),
                    unit="mm",
                    advice=f"The {which} pane measures {show(ledger[name], 'mm')} in {d}; by the opening it should be "
                    f"{show(ledger.planned[name], 'mm')}. "
                    f"{'It no longer fits.' if severity is Severity.STOP else 'Check the clearance that is left before it goes in.'}",
                    entries=(name, f"{which}.clearance.{d}"),
                )


def cut_battens(design: Design, show: Show) -> Iterator[Finding]:
    """A batten that was cut and measured is compared with the rebate it goes into now."""
    ledger = design.ledger
    for name in ledger.readings:
        if name not in ledger or not name.startswith(("batten.long", "batten.short")):
            continue
        over = ledger[name] - ledger.planned[name]
        if abs(over) > BATTEN_END_MM:
            yield Finding(
                rule="fit.already_cut",
                source="the readings",
                status="derived",
                severity=Severity.CAUTION,
                value=round(ledger[name], 3),
                limit=round(ledger.planned[name], 3),
                unit="mm",
                advice=f"The {ledger.entries[name].label} measures {show(ledger[name], 'mm')}; by the rebate it should be "
                f"{show(ledger.planned[name], 'mm')}. {'Trim it: forced in, it spreads the frame.' if over > 0 else 'Cut another.'}",
                entries=(name,),
            )


def battens(design: Design, show: Show) -> Iterator[Finding]:
    """A proud batten keeps the glue joint open, a short one lets the pane rattle; the strip must find room on it."""
    ledger = design.ledger
    if "batten.depth" not in ledger:
        return
    proud = ledger["batten.depth"] - ledger["front.remaining"]
    if abs(proud) > 0.05:
        yield Finding(
            rule="fit.batten_depth",
            source=PRACTICE,
            status="practice",
            severity=Severity.STOP if proud > 0 else Severity.CAUTION,
            value=round(ledger["batten.depth"], 3),
            limit=round(ledger["front.remaining"], 3),
            unit="mm",
            advice=f"The battens are {fine(show, abs(proud))} "
            f"{'proud: the joint between the frames would not close' if proud > 0 else 'short: the front pane would rattle'}. "
            f"Rip them to {show(ledger['front.remaining'], 'mm')}, never more.",
            entries=("batten.depth", "front.remaining"),
        )
    spread = tolerance(ledger, "batten.slack")
    if proud <= 0.05 and spread.low_mm < 0:
        yield Finding(
            rule="fit.batten_proud",
            source="worst case of a tolerance stack",
            status="practice",
            severity=Severity.NOTE,
            value=round(spread.low_mm, 3),
            limit=0.0,
            unit="mm",
            advice=f"Cut from the plan, a batten may end up to {fine(show, -spread.low_mm)} proud of the front frame's "
            f"back. Measure what remains behind the pane "
            "(front.remaining) and plane the battens to it; a little short and bedded is better than proud.",
            entries=("batten.slack", "front.remaining"),
        )
    dark = [d for d in DIRECTIONS if ledger[f"strip.segments.{d}"] < 1]
    if dark:
        yield Finding(
            rule="fit.strip_run",
            source="geometry",
            status="derived",
            severity=Severity.STOP,
            value=round(min(ledger[f"strip.run.{d}"] for d in dark), 3),
            limit=round(ledger["strip.segment"], 3),
            unit="mm",
            advice=f"Along the {' and the '.join(dark)} not one segment of {show(ledger['strip.segment'], 'mm')} finds room: that side "
            f"stays dark. Choose a strip with shorter segments, narrower battens or a larger piece.",
            entries=tuple(f"strip.run.{d}" for d in dark),
        )
    if ledger["strip.at"] < 0:
        yield Finding(
            rule="fit.strip_width",
            source="geometry",
            status="derived",
            severity=Severity.STOP,
            value=round(ledger["strip.width"], 3),
            limit=round(ledger["batten.depth"], 3),
            unit="mm",
            advice=f"The strip is {show(ledger['strip.width'], 'mm')} wide and the battens only "
            f"{show(ledger['batten.depth'], 'mm')} deep. Choose a narrower strip, a thinner front pane or a deeper rebate.",
            entries=("strip.width", "batten.depth"),
        )


def recess(design: Design, show: Show) -> Iterator[Finding]:
    """A recess takes the whole frame into itself, with play."""
    ledger, play = design.ledger, design.facts.habits.recess_play
    if design.facts.job.mounting.kind is MountingKind.RECESSED and design.facts.job.mounting.recess is None:
        yield Finding(
            rule="fit.recess",
            source=PRACTICE,
            status="practice",
            severity=Severity.NOT_RUN,
            unit="mm",
            advice="The piece is recessed, but the recess is not given (mounting.recess): whether it goes in was not checked.",
        )
    for d in (*DIRECTIONS, "depth"):
        name = f"recess.play.{d}"
        if name not in ledger:
            continue
        wanted = play if d != "depth" else 0.0
        if ledger[name] < wanted - 1e-6:
            yield Finding(
                rule="fit.recess",
                source=PRACTICE,
                status="practice",
                severity=Severity.STOP if ledger[name] < 0 else Severity.CAUTION,
                value=round(ledger[name], 3),
                limit=wanted,
                unit="mm",
                advice=f"The recess leaves {show(ledger[name], 'mm')} in {d}; {show(wanted, 'mm')} is wanted. Make it "
                f"{at_least(design, show, ledger[f'outside.{d}'] + wanted)}, or the piece smaller. "
                "Cutting into a wall is for its owner, a structural engineer and the local authority to agree.",
                entries=(name,),
            )


RULES = (clearance, screen_play, bought_clearance, far_reading, bedding, already_cut, cut_battens, battens, recess)
