"""What the sheets keep from the screen behind them, and what of it shows: remote control, radio, light sensor, standby light."""

from __future__ import annotations

from collections.abc import Iterator
from math import prod
from pathlib import Path

from halfsilver.files import tables
from halfsilver.files.workshop import DEFAULT
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.appearance import AppearanceRecord, ScalarRecord
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.workshop import GlassDuty, GlassKind

INFRARED_NM = (850.0, 950.0)
METAL_ABSORBS = 0.1  # clear glass and dielectric films keep less; a part mirror that keeps more is of metal: common practice
ENOUGH_INFRARED = 0.1
PASSES_SENSOR = 0.5
REMEDY = "Lead a receiver out to the frame, or control the screen by cable."


def infrared(design: Design, *, folder: Path | None = None) -> ScalarRecord | None:
    """Share of 850 to 950 nm that passes all sheets, straight on; None unless every sheet's spectrum reaches so far.

    Raises
    ------
    DataError
        If a spectrum cannot be read.
    """
    each = [_infrared_of(kind, folder) for kind in _kinds(design)]
    known = [one for one in each if one is not None]
    if design.facts.job.screen is None or len(known) < len(each):
        return None
    low, high = (
        prod(min(max(T + sign * kind.limit_of_t, 0.0), 1.0) for T, kind in zip(known, _kinds(design), strict=True)) for sign in (-1, 1)
    )
    return ScalarRecord(value=prod(known), low=low, high=high)


def _infrared_of(kind: GlassKind, folder: Path | None) -> float | None:
    if not kind.spectrum:
        return None
    file = (folder or DEFAULT) / kind.spectrum
    table = tables.checked_spectrum(tables.parse(file.read_text(encoding="utf-8"), name=file.name))
    wavelengths, T = table.numbers("wavelength", unit="nm"), table.numbers("t", unit="1")
    inside = [t for nm, t in zip(wavelengths, T, strict=True) if INFRARED_NM[0] <= nm <= INFRARED_NM[1]]
    return sum(inside) / len(inside) if inside and wavelengths[-1] >= INFRARED_NM[1] else None


def _kinds(design: Design) -> list[GlassKind]:
    return [design.facts.front_glass, *([design.facts.rear_glass] if design.facts.job.glass.rear else [])]


def _coated(design: Design) -> list[GlassKind]:
    """The sheets that are more than clear glass, where there is a screen behind them."""
    return [] if design.facts.job.screen is None else [kind for kind in _kinds(design) if kind.duty is not GlassDuty.CLEAR]


def _metal(kind: GlassKind) -> bool:
    """Whether a sheet absorbs so much, seen from either side, that its film must be of metal."""
    return 1 - kind.T - max(kind.R_coated, kind.R_plain) > METAL_ABSORBS


def remote_control(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Infrared of a remote control: from the spectra where they reach 950 nm, from the film's kind, else asked."""
    coated, through = _coated(design), record.infrared
    if not coated:
        return
    if through is not None:
        said = "reaches it from a shorter distance" if through.value >= ENOUGH_INFRARED else "may not reach it"
        advice = f"Of 850 to 950 nm {through.value:.1%} passes the sheets: a remote control {said}. {REMEDY}"
        severity = Severity.NOTE if through.value >= ENOUGH_INFRARED else Severity.CAUTION
    elif any(_metal(kind) for kind in coated):
        share = prod(kind.T for kind in _kinds(design))
        advice = (
            f"Metal films keep back infrared much as they do light, of which {share:.1%} passes: a remote control may not work. {REMEDY}"
        )
        severity = Severity.CAUTION
    else:
        advice = (
            "The catalogue does not say how much infrared (850 to 950 nm) the sheets pass, and dielectric films differ. Ask the "
            "supplier. Does the screen's own remote control work through a sample of each, or shall a receiver be led out?"
        )
        severity = Severity.NOT_RUN
    yield Finding(
        rule="appearance.remote_control", source="spectra of the sheets; absorption tells metal films: common practice", status="practice",
        severity=severity, value=round(through.value, 5) if through else None, limit=ENOUGH_INFRARED if through else None, unit="1",
        advice=advice,
    )  # fmt: skip


def radio(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Radio through metal films."""
    coated = _coated(design)
    metal = [kind for kind in coated if _metal(kind)]
    if not coated:
        return
    names = " and ".join(dict.fromkeys(kind.id for kind in metal))
    said = (
        f"By what it absorbs, {names} carries a film of metal, which weakens radio: wireless network and remote controls by radio may fail "
        "to the front. Give the screen a cable, or its antenna a place behind timber."
        if metal
        else "No sheet absorbs as a metal film does, so radio should pass; what else of metal stands round the screen is not counted."
    )
    yield Finding(
        rule="appearance.radio", source="absorption tells metal films from dielectric ones: common practice", status="practice",
        severity=Severity.CAUTION if metal else Severity.NOTE, unit="1", advice=said,
    )  # fmt: skip


def light_sensor(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """How much of the room's light a sensor behind the sheets gets."""
    straight = next((one.screen_gain for one in record.angles if one.screen_gain), None)
    if not _coated(design) or straight is None:
        return
    strip = ", and the strip's besides" if "strip.at" in design.ledger else ""
    yield Finding(
        rule="appearance.light_sensor", source="sheets in series, straight on; half: assumed", status="derived",
        severity=Severity.NOTE, value=round(straight.value, 4), limit=PASSES_SENSOR, unit="1",
        advice=f"A light sensor in the screen gets {straight.value:.0%} of the room's light{strip}: it takes the room "
        "for another one. Switch the automatic brightness off and set it by hand.",
    )  # fmt: skip


def standby_light(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """The luminance from which a standby light shows through, for the viewer who sees most."""
    seen = {who: viewer.standby_shows_cd_m2 for who, viewer in record.viewers.items() if viewer.standby_shows_cd_m2}
    if not _coated(design) or not seen:
        return
    who = min(seen, key=lambda one: seen[one].value)
    yield Finding(
        rule="appearance.standby_light", source="Weber contrast; thresholds after Barten 1999, four times for plainly seen",
        status="memory", severity=Severity.NOTE, value=round(seen[who].value, 3), unit="cd/m2",
        advice=f"A standby light brighter than {seen[who].value:.2g} cd/m2 shows plainly through the dark piece for {who}; most are far "
        "brighter. Switch it off in the screen's menu, or cover it with black tape that does not cover the receiver.",
    )  # fmt: skip


RULES = (remote_control, radio, light_sensor, standby_light)
