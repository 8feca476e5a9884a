"""Is there timber enough: the lip after planing, the wall behind a pocket, the land for screws, the moulding as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import HardwareUse

PRACTICE = "common practice"


def planing(design: Design, show: Show) -> Iterator[Finding]:
    """The catalogue may forbid planing, and the lip must keep a least thickness."""
    ledger = design.ledger
    if "rear.planed" not in ledger:
        return
    moulding, least = design.facts.rear_moulding, design.facts.habits.lip_least
    if ledger["rear.planed"] > 0 and not moulding.may_plane:
        yield Finding(
            rule="frame.planing_forbidden",
            source=f"catalogue of mouldings, {moulding.id}",
            status="practice",
            severity=Severity.STOP,
            value=round(ledger["rear.planed"], 3),
            limit=0.0,
            unit="mm",
            advice=f"{moulding.id} may not be planed. Choose another rear moulding, or plane nothing and join the frames another way.",
            entries=("rear.planed",),
        )
    left = ledger["rear.lip_thickness"]
    thin = left < least
    planing = f"Planing {show(ledger['rear.planed'], 'mm')} leaves" if ledger["rear.planed"] > 0 else "Nothing is planed off, which leaves"
    yield Finding(
        rule="frame.lip_left",
        source=PRACTICE,
        status="practice",
        severity=Severity.STOP if thin else Severity.NOTE,
        value=round(left, 3),
        limit=least,
        unit="mm",
        advice=f"{planing} a lip of {show(left, 'mm')}; at least "
        f"{show(least, 'mm')} carries the pane." + (" Plane less, or choose a moulding with a thicker lip." if thin else ""),
        entries=("rear.lip_thickness", "rear.planed"),
    )


def relief(design: Design, show: Show) -> Iterator[Finding]:
    """The wall left outside each pocket, and what happens when the screen rests against that side."""
    ledger, least = design.ledger, design.facts.habits.wall_least
    for part in design.facts.screen.screen.sticks_out if design.facts.job.screen else ():
        name = f"relief.{part.id}"
        low = tolerance(ledger, f"{name}.wall_left").low_mm
        thin = low < least
        yield Finding(
            rule="frame.relief_wall",
            source=PRACTICE,
            status="practice",
            severity=Severity.STOP if thin else Severity.NOTE,
            value=round(low, 3),
            limit=least,
            unit="mm",
            advice=f"Outside the pocket for the {part.id} at least {show(low, 'mm')} of timber is left; {show(least, 'mm')} is wanted."
            + (" Choose a moulding with a wider body." if thin else ""),
            entries=(f"{name}.wall_left", f"{name}.into_wall"),
        )
        play = ledger["fit.screen"] / 2
        if play > 0 and ledger[f"{name}.into_wall"] > -play:
            yield Finding(
                rule="frame.relief_rests",
                source=PRACTICE,
                status="practice",
                severity=Severity.NOTE,
                value=round(ledger[f"{name}.into_wall"] + play, 3),
                limit=None,
                unit="mm",
                advice=f"The pocket is laid out for a screen packed to the centre. Should the screen rest against the "
                f"{part.side.value}, the {part.id} needs "
                f"{show(ledger[f'{name}.into_wall'] + play, 'mm')} instead of "
                f"{show(ledger[f'{name}.into_wall'], 'mm')}: pack the screen, or rout deeper.",
                entries=(f"{name}.into_wall",),
            )


def screws(design: Design, show: Show) -> Iterator[Finding]:
    """Longest screw and pin at each place; a usual pin that would come through is a caution."""
    ledger, hardware = design.ledger, design.facts.workshop.hardware
    for place in ("plate", "bar", "panel", "pin"):
        name = f"screw.max.{place}"
        if name not in ledger:
            continue
        use = HardwareUse.PIN if place == "pin" else HardwareUse.SCREW
        usable = [item.length for item in hardware.values() if item.use is use and 0 < item.length <= ledger[name]]
        usual = hardware.get(design.facts.habits.pin) if place == "pin" else None
        through = not usable or (usual is not None and usual.length > ledger[name])
        longest = (
            f"the longest in the catalogue that may be used is {show(max(usable), 'mm')}"
            if usable
            else "none in the catalogue is short enough"
        )
        yield Finding(
            rule="frame.screw_length",
            source=PRACTICE,
            status="practice",
            severity=Severity.CAUTION if through else Severity.NOTE,
            value=round(ledger[name], 3),
            limit=None,
            unit="mm",
            advice=f"{'Pins through the battens' if place == 'pin' else f'Screws through a {place}'}: at most "
            f"{show(ledger[name], 'mm')} long; {longest}.",
            entries=(name,),
        )


def bars(design: Design, show: Show) -> Iterator[Finding]:
    """Bars lie between the plates: a small frame leaves them no room."""
    ledger = design.ledger
    short = [name for name in ("bar.side", "bar.top") if name in ledger and ledger[name] <= 0]
    if short:
        yield Finding(
            rule="frame.bar_length",
            source="geometry",
            status="derived",
            severity=Severity.CAUTION,
            value=round(min(ledger[name] for name in short), 3),
            limit=0.0,
            unit="mm",
            advice=f"Between two corner plates of {show(ledger['plate.leg'], 'mm')} leg no bar finds room. Choose smaller plates "
            "(retainers.plates), or hold the screen by clips.",
            entries=tuple(short),
        )


def moulding(design: Design, show: Show) -> Iterator[Finding]:
    """The chosen mouldings against what a moulding must offer here, and which others would do."""
    chosen = {"front": design.facts.front_moulding.id, "rear": design.facts.rear_moulding.id}
    places = dict.fromkeys(suit.place for suit in design.suits)
    for place in places:
        here = [suit for suit in design.suits if suit.place == place]
        works = [suit.moulding for suit in here if suit.works]
        others = "; ".join(f"{suit.moulding}: {', '.join(suit.why)}" for suit in here if not suit.works)
        mine = next(suit for suit in here if suit.moulding == chosen[place])
        said = (
            f"As {place} frame {mine.moulding} will do."
            if mine.works
            else f"As {place} frame {mine.moulding} will not do: {', '.join(mine.why)}."
        )
        yield Finding(
            rule="frame.moulding",
            source="catalogue of mouldings",
            status="derived",
            severity=Severity.NOTE if mine.works else Severity.STOP,
            value=float(len(works)),
            limit=None,
            unit="1",
            advice=f"{said} Would do: {', '.join(works) or 'none'}.{f' Would not: {others}.' if others else ''}",
            entries=(f"{place}.moulding.body", f"{place}.moulding.rebate_depth"),
        )


RULES = (planing, relief, screws, bars, moulding)
