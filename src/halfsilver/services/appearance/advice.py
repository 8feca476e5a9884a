"""Advice by computing the alternatives: each other glass, a turned coating, another gap, dimmer lights, a darker room.

Nothing is said that was not computed. The sizes are not laid out anew for a change, and neither its price nor how the glass
breaks is looked at: the job has to be changed and checked for that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from halfsilver.layout.design import Design
from halfsilver.model.appearance import AdviceRecord, ViewerRecord
from halfsilver.model.job import CoatedSide
from halfsilver.model.workshop import GlassDuty, GlassKind
from halfsilver.optics.piece import Setting, numbers, orders_of
from halfsilver.optics.sheets import Sheet
from halfsilver.services.appearance.setting import Case, faces_viewer, mounted_sheet

ALIKE, BETTER = 0.025, 1.01
SAME_FLUX, SAME_GREY = 0.1, 1e-3
PICTURE, DEPTH, HIDING = "picture", "depth", "hiding"
FIGURES = ("screen_luminance_cd_m2", "room_contrast", "hidden_contrast", "visible_images", "deepest_mm")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Change:
    """One thing done otherwise: the key of the job, what stands there, what would, and the case that results."""

    key: str
    now: str
    to: str
    setting: Setting
    front: Sheet
    rear: Sheet


def advice(design: Design, case: Case, viewers: Mapping[str, ViewerRecord], *, folder: Path | None = None) -> tuple[AdviceRecord, ...]:
    """Every alternative with its figures for the viewer who is worst off, in the order of the job's keys; none without viewers."""
    if not viewers:
        return ()
    who = worst_viewer(viewers)
    eye = {who: case.eyes[who]}

    def figures(one: Change) -> dict[str, float]:
        found = numbers(one.setting, eye, one.front, one.rear, orders=orders_of(one.setting, one.front, one.rear))
        return {name.removeprefix(f"{who}/"): value for name, value in found.items()}

    as_is = Change(key="", now="", to="", setting=case.setting, front=case.front, rear=case.rear)
    now, tried = figures(as_is), list(changes(design, case, folder))
    made = [figures(one) for one in tried]
    helps = _helps(now, tried, made)
    return tuple(_record(one, figure, who, helps[i]) for i, (one, figure) in enumerate(zip(tried, made, strict=True)))


def worst_viewer(viewers: Mapping[str, ViewerRecord]) -> str:
    """Who sees the least contrast; where there is no picture, the fewest images; of equals the one farthest off axis."""

    def rank(who: str) -> tuple[float, float]:
        scalar = viewers[who].room_contrast or viewers[who].visible_images or viewers[who].mirror_reflectance
        return scalar.value, -viewers[who].incidence_deg

    return min(viewers, key=rank)


def changes(design: Design, case: Case, folder: Path | None) -> Iterator[Change]:
    """What could be done otherwise."""
    base = Change(key="", now="", to="", setting=case.setting, front=case.front, rear=case.rear)
    for which in ("front", *(["rear"] if design.facts.job.glass.rear else [])):
        yield from _glasses(design, base, which, folder)
        yield from _turned(design, base, which)
    yield from _gaps(base)
    yield from _lights(design, base)
    yield from _strips(design, base)
    yield from _rooms(base)
    yield from _surround(base)


def _rooms(base: Change) -> Iterator[Change]:
    """Less light in the room; what the glass mirrors goes with it."""
    room = base.setting.room
    for part, words in ((2, "half the light"), (4, "a quarter of the light")):
        less = replace(room, illuminance_lx=room.illuminance_lx / part, mirrored_cd_m2=room.mirrored_cd_m2 / part)
        yield replace(base, key="room", now="as it is", to=words, setting=replace(base.setting, room=less))


def _surround(base: Change) -> Iterator[Change]:
    """What lies beside the screen as grey as its face."""
    screen, now = base.setting.screen, base.setting.backing_diffuse
    if screen is not None and abs(screen.face_diffuse - now) > SAME_GREY:
        to = replace(base.setting, backing_diffuse=screen.face_diffuse)
        yield replace(base, key="surround", now=f"{now:.0%} diffuse", to=f"{screen.face_diffuse:.1%} diffuse, as the face", setting=to)


def _strips(design: Design, base: Change) -> Iterator[Change]:
    """Other strips of the catalogue in the same place, at the same dimmer setting."""
    strip = base.setting.strip
    if strip is None:
        return
    now = design.facts.light
    for kind in sorted(design.facts.workshop.lights.values(), key=lambda kind: (kind.flux, kind.id)):
        if abs(kind.flux / now.flux - 1) <= SAME_FLUX or (kind.colour == "rgb") != (now.colour == "rgb"):
            continue
        bright = strip.luminance_cd_m2 * (kind.flux / kind.width) / (now.flux / now.width)
        lit = replace(strip, luminance_cd_m2=bright, width_mm=kind.width)
        yield replace(base, key="lights.kind", now=now.id, to=kind.id, setting=replace(base.setting, strip=lit))


def _turned(design: Design, base: Change, which: str) -> Iterator[Change]:
    """The same sheet with its coated face the other way; a silvered mirror cannot be turned."""
    kind, side = _kind(design, which), design.facts.coated_side(which)
    if abs(kind.R_coated - kind.R_plain) <= ALIKE or kind.duty is GlassDuty.MIRROR:
        return
    other = _other_side(side, which, single=design.facts.job.glass.rear is None)
    made = replace(base, key=f"glass.{which}.coated_side", now=side.value, to=other.value, setting=_moved(design, base, which, kind, other))
    yield replace(made, front=base.front.turned()) if which == "front" else replace(made, rear=base.rear.turned())


def _kind(design: Design, which: str) -> GlassKind:
    return design.facts.front_glass if which == "front" else design.facts.rear_glass


def _other_side(side: CoatedSide, which: str, *, single: bool) -> CoatedSide:
    if which == "front":
        away = CoatedSide.SCREEN if single else CoatedSide.CAVITY
        return away if faces_viewer(side, which) else CoatedSide.VIEWER
    return CoatedSide.SCREEN if faces_viewer(side, which) else CoatedSide.CAVITY


def _moved(design: Design, base: Change, which: str, kind: GlassKind, side: CoatedSide) -> Setting:
    """The setting with its mirrors where the coated faces then are: glass between them lengthens the gap by t/n."""
    setting, was, now = base.setting, design.facts.coated_side(which), _kind(design, which)
    if design.facts.job.glass.rear is None:
        return setting
    by = (side is not CoatedSide.CAVITY) * kind.thickness / kind.index - (was is not CoatedSide.CAVITY) * now.thickness / now.index
    strip = setting.strip
    if strip is not None and which == "rear":
        strip = replace(strip, from_rear_mm=strip.from_rear_mm + by)
    return replace(setting, gap_mm=setting.gap_mm + by, strip=strip)


def _glasses(design: Design, base: Change, which: str, folder: Path | None) -> Iterator[Change]:
    facts = design.facts
    now = _kind(design, which)
    taken = [now]
    seen_through = which == "front" or base.setting.screen is not None
    kinds = sorted(
        facts.workshop.glass.values(), key=lambda kind: (kind.make is not now.make, abs(kind.thickness - now.thickness), kind.id)
    )
    for kind in kinds:
        if (seen_through and kind.duty is GlassDuty.MIRROR) or any(_alike(kind, other) for other in taken):
            continue
        taken.append(kind)
        side = facts.coated_side(which)
        if kind.duty is not now.duty and GlassDuty.MIRROR in (kind.duty, now.duty):
            side = CoatedSide.SCREEN if kind.duty is GlassDuty.MIRROR else CoatedSide.CAVITY
        sheet = mounted_sheet(kind, faces_viewer=faces_viewer(side, which), path=f"glass.{which}.kind", folder=folder)
        made = replace(base, key=f"glass.{which}.kind", now=now.id, to=kind.id, setting=_moved(design, base, which, kind, side))
        yield replace(made, front=sheet) if which == "front" else replace(made, rear=sheet)


def _alike(one: GlassKind, other: GlassKind) -> bool:
    if one.spectral or other.spectral:
        return one.id == other.id
    return all(abs(getattr(one, name) - getattr(other, name)) <= ALIKE for name in ("T", "R_coated", "R_plain"))


def _gaps(base: Change) -> Iterator[Change]:
    strip, gap = base.setting.strip, base.setting.gap_mm
    if gap <= 0:
        return
    for factor, words in ((0.5, "half of it"), (1.5, "half as wide again"), (2.0, "twice as wide")):
        moved = replace(strip, from_rear_mm=strip.from_rear_mm * factor) if strip else None
        yield replace(base, key="gap", now=f"{gap:.1f} mm", to=words, setting=replace(base.setting, gap_mm=gap * factor, strip=moved))


def _lights(design: Design, base: Change) -> Iterator[Change]:
    strip, lights = base.setting.strip, design.facts.job.lights
    if strip is None or lights is None:
        return
    for dim in sorted({lights.dim / 4, lights.dim / 2, 1.0} - {lights.dim}):
        lit = replace(strip, luminance_cd_m2=strip.luminance_cd_m2 * dim / lights.dim)
        yield replace(base, key="lights.dim", now=f"{lights.dim:g}", to=f"{dim:g}", setting=replace(base.setting, strip=lit))


def _score(figure: Mapping[str, float], aim: str) -> float:
    """How well a case does for an aim, the more the better; nothing where it has no such number."""
    if aim == PICTURE:
        return figure.get("room_contrast", 0.0)
    if aim == DEPTH:
        return figure.get("deepest_mm", 0.0)
    return figure["hidden_threshold"] / max(figure["hidden_contrast"], 1e-9) if "hidden_contrast" in figure else 0.0


def _helps(now: Mapping[str, float], tried: Sequence[Change], made: Sequence[Mapping[str, float]]) -> list[tuple[str, ...]]:
    """For each change, the aims for which it is the best of its kind and better than what is."""
    helps: list[tuple[str, ...]] = [()] * len(tried)
    for aim in (PICTURE, DEPTH, HIDING):
        for key in dict.fromkeys(one.key for one in tried):
            best = max((i for i, one in enumerate(tried) if one.key == key), key=lambda i: _score(made[i], aim))
            if _score(made[best], aim) > BETTER * _score(now, aim) > 0:
                helps[best] += (aim,)
    return helps


def _record(one: Change, figure: Mapping[str, float], who: str, helps: tuple[str, ...]) -> AdviceRecord:
    return AdviceRecord(
        change=one.key, now=one.now, to=one.to, viewer=who, helps=helps, mirror_reflectance=figure["mirror_reflectance"],
        **{name: figure.get(name) for name in FIGURES}, first_echo=figure.get("echo/1/ratio"),
    )  # fmt: skip
