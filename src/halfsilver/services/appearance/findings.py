"""What the numbers mean, as findings: contrast class, hiding, echoes, repeats of the lights, single diodes, and what was not known."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import atan2, degrees

from halfsilver.files import tables
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.appearance import AdviceRecord, AppearanceRecord, ScalarRecord, ViewerRecord
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Construction
from halfsilver.optics.appearance import PLAINLY
from halfsilver.services.appearance import behind

NOT_COMPUTED = "appearance.numbers"
ARC_MINUTE_DEG = 1 / 60
STRONG_ECHO = 0.1  # a tenth of the picture's own light: assumed
FEW_TRIPS = 2
ACCEPTED = 0.1  # hidden, where the job does not say: assumed
BARTEN = "thresholds after Barten 1999, four times for plainly seen"
ORDER = {severity: i for i, severity in enumerate(Severity)}


def appearance_findings(design: Design, record: AppearanceRecord, show: Show) -> tuple[Finding, ...]:
    """Findings of what will be seen, gravest first."""
    if not record.viewers:
        return (
            Finding(
                rule=NOT_COMPUTED, source="none", status="assumed", severity=Severity.NOT_RUN, unit="1",
                advice="Not computed: what will be seen. Name at least one viewer with a distance and an eye height.",
            ),
        )  # fmt: skip
    found = [finding for rule in RULES for finding in rule(design, record, show)]
    return tuple(sorted(found, key=lambda finding: ORDER[finding.severity]))


def with_appearance(found: Sequence[Finding], seen: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings of a design with those of its appearance in the place of the note that it was not computed."""
    every = [finding for finding in found if finding.rule != NOT_COMPUTED] + list(seen)
    return tuple(sorted(every, key=lambda finding: ORDER[finding.severity]))


def contrast(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Contrast of the picture in the room's light, by the classes for passive viewing, basic and analytical decisions, and full motion."""
    seen = {who: viewer.room_contrast for who, viewer in record.viewers.items() if viewer.room_contrast}
    if not seen:
        return
    who, worst = _least(seen)
    table = tables.load("engineering/contrast_categories")
    ratios, names = table.numbers("least_ratio", unit="1"), [str(row["category"]) for row in table.rows()]
    met = [i for i, ratio in enumerate(ratios) if worst.value >= ratio]
    better = next((i for i, ratio in enumerate(ratios) if worst.value < ratio), None)
    said = f"enough for {names[met[-1]]} ({ratios[met[-1]]:g} : 1)" if met else f"below {names[0]} ({ratios[0]:g} : 1)"
    more = f" {names[better].capitalize()} asks {ratios[better]:g} : 1." if better is not None and met else ""
    yield Finding(
        rule="appearance.room_contrast", source="ANSI/INFOCOMM 3M-2011 (AVIXA V201.01): contrast classes", status="seen",
        severity=Severity.CAUTION if not met else Severity.NOTE, value=round(worst.value, 2), limit=ratios[0], unit="1",
        advice=f"In the room's light the picture's contrast is {_range(worst, '{:.1f}')} : 1 for {who}: {said}.{more}"
        + (_cure(record, "picture", "room_contrast", "{:.1f} : 1") if better is not None else ""),
    )  # fmt: skip


def hiding(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Whether the dark screen shows as a rectangle: its contrast against what lies beside it, and the contrast that is just seen."""
    seen = {who: viewer.hidden_contrast for who, viewer in record.viewers.items() if viewer.hidden_contrast}
    if not seen:
        return
    who = max(seen, key=lambda one: seen[one].value)
    viewer, worst = record.viewers[who], seen[who]
    limit, off = viewer.hidden_threshold, viewer.hidden_contrast_off
    assert limit is not None
    assert off is not None
    times = worst.value / limit.value
    said = "it is not seen" if times < 1 else "it can be made out" if times < PLAINLY else "it shows plainly"
    hides = design.facts.job.construction is Construction.HIDDEN_SCREEN
    yield Finding(
        rule="appearance.hidden_screen", source=f"Weber contrast; {BARTEN}", status="memory",
        severity=Severity.CAUTION if hides and times >= 1 else Severity.NOTE, value=round(worst.value, 5), limit=round(limit.value, 5),
        unit="1",
        advice=f"Showing black, the screen stands {_range(worst, '{:.2%}')} off from what lies beside it behind the glass, for {who}; "
        f"{limit.value:.2%} is just seen: {said}. Without power it is {off.value:.2%}. The surround's colour is assumed; one of the "
        f"face's own grey and gloss hides best." + (_cure(record, "hiding", "hidden_contrast", "{:.2%}") if times >= 1 else ""),
    )  # fmt: skip


def echoes(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """How clean the picture is: strength and place of its first echo, for the viewer who sees it farthest off."""
    seen = {who: viewer.echoes[0] for who, viewer in record.viewers.items() if viewer.echoes}
    if not seen:
        return
    who = max(seen, key=lambda one: seen[one].shift_mm.value * seen[one].ratio.value)
    first, distance = seen[who], next(viewer.distance for viewer in design.facts.job.viewers if viewer.id == who)
    apart_deg = degrees(atan2(first.shift_mm.value, distance))
    strong = first.ratio.value > STRONG_ECHO and apart_deg > ARC_MINUTE_DEG
    said = "it blurs fine print and doubles bright edges" if strong else "it melts into the picture"
    yield Finding(
        rule="appearance.echo", source="two facing sheets, (R1 R2)^n at 2 n g tan(theta); one arc minute is 20/20 acuity", status="derived",
        severity=Severity.CAUTION if strong and first.shift_mm.value > 10 else Severity.NOTE, value=round(first.ratio.value, 4),
        limit=STRONG_ECHO, unit="1",
        advice=f"The picture's first echo has {_range(first.ratio, '{:.1%}')} of its light and stands {show(first.shift_mm.value, 'mm')} "
        f"beside it for {who} ({60 * apart_deg:.1f} arc minutes): {said}. At a right angle it lies on the picture.",
        entries=("gap.optical",),
    )  # fmt: skip


def images(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """How many repeats of the lights stay visible, and how deep the last one seems."""
    seen = {who: viewer.visible_images for who, viewer in record.viewers.items() if viewer.visible_images}
    if not seen:
        return
    who, worst = _least(seen)
    viewer = record.viewers[who]
    assert viewer.light_images is not None
    assert viewer.visible_round_trips is not None
    deepest = viewer.light_images[round(worst.value) - 1].depth_mm.value if worst.value >= 1 else 0.0
    trips = viewer.visible_round_trips.value
    cure = _cure(record, "depth", "deepest_mm", "{:.0f} mm") if trips < FEW_TRIPS else ""
    yield Finding(
        rule="appearance.visible_images", source=f"unfolded cavity; {BARTEN}", status="derived",
        severity=Severity.CAUTION if trips < FEW_TRIPS else Severity.NOTE, value=worst.value, limit=None, unit="1",
        advice=f"With the screen dark, {who} plainly sees {_range(worst, '{:.0f}')} images of the lights, {trips:.0f} whole round trips; "
        f"the last seems to lie {show(deepest, 'mm')} behind the front pane.{cure}",
        entries=("gap.optical", "strip.at"),
    )  # fmt: skip


def diodes(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Whether single diodes are told apart: nearer than 3438 pitches they are, unless a diffuser levels them."""
    if not any(viewer.light_images for viewer in record.viewers.values()):
        return
    light = design.facts.light
    merge = next(viewer.diodes_merge_from_mm for viewer in record.viewers.values() if viewer.diodes_merge_from_mm)
    nearest = min(design.facts.job.viewers, key=lambda viewer: viewer.distance)
    points = nearest.distance < merge
    yield Finding(
        rule="appearance.single_diodes", source="one arc minute, 20/20 acuity: 3438 x pitch", status="memory", severity=Severity.NOTE,
        value=round(nearest.distance, 1), limit=round(merge, 1), unit="mm",
        advice=f"Diodes {show(light.pitch, 'mm')} apart run into a line from {merge / 1000:.0f} m on; {nearest.id} stands at "
        f"{nearest.distance / 1000:.1f} m and sees {'points, unless a diffuser levels them' if points else 'a line'}. Ask which is wanted.",
    )  # fmt: skip


def beside(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """What shows beside the picture: the inside of the frame is a caution, the screen's border a note."""
    seen = [(who, side) for who, viewer in record.viewers.items() for side in viewer.sight or () if side.shows in ("border", "inside")]
    if not seen:
        return
    who, worst = max(seen, key=lambda one: (one[1].shows == "inside", one[1].beyond_mm))
    border = design.ledger[f"screen.border.{worst.side}"]
    inside = worst.shows == "inside"
    what = f"the frame's inside, {show(worst.beyond_mm - border, 'mm')} of it" if inside else "the screen's border"
    yield Finding(
        rule="appearance.beside_picture", source="sight lines with refraction (Snell's law) in three dimensions; derived", status="derived",
        severity=Severity.CAUTION if inside else Severity.NOTE, value=round(worst.beyond_mm, 2), limit=round(border, 2), unit="mm",
        advice=f"On the {worst.side} {who} sees {what} past the {worst.part}."
        + (" Paint it matt black, or let what hides it reach further in." if inside else " A black border goes unseen in a dim room."),
    )  # fmt: skip


def zone(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """Between which places the picture is seen as far as the job accepts, at the distance of the viewer who stands farthest."""
    found, accept = record.viewing_zone, design.facts.job.accept.hidden_share
    if found is None:
        return
    wanted = 1 - (ACCEPTED if accept is None else accept)
    farthest = max(viewer.distance for viewer in design.facts.job.viewers)
    row = min(range(len(found.distance_mm)), key=lambda k: abs(found.distance_mm[k] - farthest))
    good = [x for x, share in zip(found.sideways_mm, found.share[row], strict=True) if share >= wanted]
    away = show(found.distance_mm[row], "mm")
    least = min(range(len(found.share[row])), key=lambda k: found.share[row][k])
    part, _, side = found.limits[found.limited_by[row][least]].partition(", ")
    worst = (
        f"Worst on that line is {found.share[row][least]:.1%}: the {part} hides most, on the {side}. "
        if found.share[row][least] < 0.9995
        else ""
    )
    everywhere = len(good) == len(found.sideways_mm)
    said = (
        f"from everywhere within {show(found.sideways_mm[-1], 'mm')} to either side"
        if everywhere
        else f"from {show(-good[0], 'mm')} left to {show(good[-1], 'mm')} right of the middle"
        if good
        else "from nowhere"
    )
    yield Finding(
        rule="appearance.viewing_zone", source="sight lines with refraction (Snell's law) in three dimensions; derived", status="derived",
        severity=Severity.NOTE if good else Severity.CAUTION, value=round(min(found.share[row]), 4), limit=round(wanted, 4), unit="1",
        advice=f"At {away} before the piece, {wanted:.0%} or more of the picture is seen {said}. {worst}The map is among the charts.",
    )  # fmt: skip


def assumptions(design: Design, record: AppearanceRecord, show: Show) -> Iterator[Finding]:
    """What the numbers take for granted, in one note."""
    yield Finding(
        rule="appearance.assumed", source="assumed", status="assumed", severity=Severity.NOTE, unit="1",
        advice=f"Basis of what will be seen: {'measured spectra' if record.basis == 'spectral' else 'the numbers printed by suppliers'}. "
        f"Assumed: {'; '.join(record.assumed)}.",
    )  # fmt: skip


Rule = Callable[[Design, AppearanceRecord, Show], Iterator[Finding]]
RULES: tuple[Rule, ...] = (contrast, hiding, echoes, images, diodes, beside, zone, *behind.RULES, assumptions)


def _least(seen: dict[str, ScalarRecord]) -> tuple[str, ScalarRecord]:
    who = min(seen, key=lambda one: seen[one].value)
    return who, seen[who]


def _range(number: ScalarRecord, form: str) -> str:
    """A number with its range where the range shows."""
    value, low, high = (form.format(one) for one in (number.value, number.low, number.high))
    return value if low == high else f"{value} ({low} to {high})"


def _cure(record: AppearanceRecord, aim: str, name: str, form: str) -> str:
    """The computed change that helps an aim most, for the viewer who is worst off; rather one that keeps the dark screen unseen."""
    helping = [one for one in record.advice if aim in one.helps and getattr(one, name) is not None]
    if not helping:
        return ""
    helping = [one for one in helping if _unseen(record, one)] or helping
    best = (min if aim == "hiding" else max)(helping, key=lambda one: float(getattr(one, name)))
    return f" Most would help: {best.change} {best.to} instead of {best.now} ({form.format(getattr(best, name))} for {best.viewer})."


def _unseen(record: AppearanceRecord, one: AdviceRecord) -> bool:
    viewer = record.viewers[one.viewer]
    if one.hidden_contrast is None or viewer.hidden_threshold is None or viewer.hidden_contrast is None:
        return True
    return one.hidden_contrast <= max(viewer.hidden_threshold.value, viewer.hidden_contrast.value)


def headline_numbers(record: AppearanceRecord) -> dict[str, float]:
    """A few numbers of the viewer who is worst off, to four digits, for comparing options."""
    if not record.viewers:
        return {}
    from halfsilver.services.appearance.advice import worst_viewer

    viewer: ViewerRecord = record.viewers[worst_viewer(record.viewers)]
    names = ("screen_luminance_cd_m2", "room_contrast", "mirror_reflectance", "hidden_contrast", "visible_images")
    return {name: float(f"{getattr(viewer, name).value:.4g}") for name in names if getattr(viewer, name) is not None}
