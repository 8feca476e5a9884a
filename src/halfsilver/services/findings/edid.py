"""What the screen says of itself against what was measured: a hint that never drives a cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from halfsilver.engineering.panel import DISAGREEMENT, disagreement
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity

if TYPE_CHECKING:
    from halfsilver.model.edid import Edid

ENTRIES = ("screen.picture.width", "screen.picture.height")


def size(design: Design, show: Show) -> Iterator[Finding]:
    """The stated size of the picture against outline and borders; half of the step in which it is stated does not count."""
    block = _block(design)
    stated = block.picture_mm if block else None
    if stated is None:
        return
    wide, high, within = (*_as_hung((stated[0], stated[1]), design), stated[2])
    measured = design.facts.screen.picture_mm
    apart = [disagreement(trusted_mm=mm, other_mm=hint) for mm, hint in zip(measured, (wide, high), strict=True)]
    which = max((0, 1), key=lambda i: apart[i] - within / measured[i])
    limit = DISAGREEMENT + within / measured[which]
    beyond = apart[which] > limit
    yield Finding(
        rule="screen.edid_size",
        source="1 % is common practice",
        status="practice",
        severity=Severity.CAUTION if beyond else Severity.NOTE,
        value=round(apart[which], 4),
        limit=round(limit, 4),
        unit="1",
        advice=f"The screen's EDID says a picture of {show(wide, 'mm')} x {show(high, 'mm')}, within {within:g} mm; outline and borders "
        f"give {show(measured[0], 'mm')} x {show(measured[1], 'mm')}, {100 * apart[which]:.1f} % apart. The tape counts, not the EDID"
        + ("; is it this screen's file? Measure the lit picture again." if beyond else "."),
        entries=ENTRIES,
    )


def pixels(design: Design, show: Show) -> Iterator[Finding]:
    """The aspect of the pixels against that of the measured picture: square pixels are common practice."""
    block = _block(design)
    if block is None or block.pixels is None:
        return
    across, down = _as_hung(block.pixels, design)
    wide, high = design.facts.screen.picture_mm
    apart = abs(across / down * high / wide - 1)
    yield Finding(
        rule="screen.edid_pixels",
        source="square pixels, 1 %: common practice",
        status="practice",
        severity=Severity.CAUTION if apart > DISAGREEMENT else Severity.NOTE,
        value=round(across / down, 4),
        limit=round(wide / high, 4),
        unit="1",
        advice=f"The screen's EDID says {across:g} x {down:g} pixels, {across / down:.3f} to 1; the measured picture is "
        f"{wide / high:.3f} to 1, {100 * apart:.1f} % apart"
        + (". Measure the lit picture again; a border may hide behind the trim." if apart > DISAGREEMENT else ": they agree."),
        entries=ENTRIES,
    )


def odd(design: Design, show: Show) -> Iterator[Finding]:
    """What is odd in the block but can be lived with."""
    block = _block(design)
    for note in block.notes if block else ():
        yield Finding(
            rule="screen.edid_note",
            source="VESA E-EDID, structure 1.3 and 1.4",
            status="memory",
            severity=Severity.NOTE,
            unit="1",
            advice=f"The screen's EDID, {note}.",
        )


def _block(design: Design) -> Edid | None:
    return design.facts.screen.screen.block if design.facts.job.screen is not None else None


def _as_hung(pair: tuple[float, float], design: Design) -> tuple[float, float]:
    """Across and up as the screen hangs: a block is written for one way, mostly lying."""
    wide, high = design.facts.screen.picture_mm
    return pair if (pair[0] >= pair[1]) == (wide >= high) else (pair[1], pair[0])


RULES = (size, pixels, odd)
