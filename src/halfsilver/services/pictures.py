"""Stills of a job: the framed piece on its wall, as each viewer sees it."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from math import ceil
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import JobError, Problem
from halfsilver.files.png import png_bytes
from halfsilver.geometry.profile import Profile
from halfsilver.layout.design import Design
from halfsilver.model.job import CoatedSide, MountingKind, Viewer
from halfsilver.model.workshop import GlassKind
from halfsilver.optics.cavity import Cavity, cavity
from halfsilver.optics.colour import LUMENS_PER_WATT, xyz
from halfsilver.optics.each import Each
from halfsilver.optics.films import Response
from halfsilver.optics.picture import XYZ_TO_SRGB
from halfsilver.optics.piece import Setting, orders_of
from halfsilver.optics.sheets import Sheet
from halfsilver.optics.still import Face, Finish, Frame, Pane, Rectangle, RoomLook, ScreenLook, Space, State, Still, Stretch, StripLook
from halfsilver.optics.still_content import as_shown, bars, grid, night_sky
from halfsilver.optics.still_render import render_still
from halfsilver.optics.still_screen import texture_px
from halfsilver.optics.still_tone import glare_of, glare_rows, shown, tone_of
from halfsilver.optics.still_view import View, view_of
from halfsilver.services.appearance.screen_colours import gamma_of
from halfsilver.services.appearance.setting import Case, case_of
from halfsilver.units.words import nearest_word

Picture = NDArray[np.float32]
StateWord = Literal["on", "dark", "lights", "all"]
NIGHT_SKY = "night-sky"
CONTENT = {NIGHT_SKY: night_sky, "grid": grid, "bars": bars}
WOOD_DIFFUSE = 0.05  # battens and lips painted matt black: common practice
BEHIND_VIEWER_MM, LEAST_ROOM_MM = 1500.0, 3600.0
ROWS_AT_ONCE = 32
CENTRE_MM = 1500.0

# Surfaces by the words of a finish: albedo in linear sRGB, gloss, metal, grain. Assumed, from common practice.
FINISHES: tuple[tuple[str, Finish], ...] = (
    ("silver leaf", Finish(albedo=(0.86, 0.85, 0.82), gloss=0.5, metal=0.8, grain=0.10, leaf=True)),
    ("gold leaf", Finish(albedo=(0.90, 0.62, 0.26), gloss=0.5, metal=0.8, grain=0.10, leaf=True)),
    ("silver", Finish(albedo=(0.80, 0.79, 0.77), gloss=0.5, metal=0.7)),
    ("gold", Finish(albedo=(0.85, 0.58, 0.25), gloss=0.5, metal=0.7)),
    ("brass", Finish(albedo=(0.78, 0.56, 0.27), gloss=0.6, metal=0.8)),
    ("black", Finish(albedo=(0.028, 0.028, 0.029), gloss=0.35)),
    ("white", Finish(albedo=(0.74, 0.73, 0.70), gloss=0.2, grain=0.03)),
    ("grey", Finish(albedo=(0.22, 0.22, 0.22), gloss=0.25)),
    ("dark", Finish(albedo=(0.075, 0.048, 0.032), gloss=0.35, grain=0.30)),
    ("walnut", Finish(albedo=(0.150, 0.085, 0.050), gloss=0.35, grain=0.30)),
    ("oak", Finish(albedo=(0.36, 0.235, 0.125), gloss=0.3, grain=0.24)),
    ("ash", Finish(albedo=(0.47, 0.345, 0.215), gloss=0.3, grain=0.22)),
    ("maple", Finish(albedo=(0.55, 0.42, 0.28), gloss=0.3, grain=0.10)),
    ("pine", Finish(albedo=(0.52, 0.36, 0.20), gloss=0.25, grain=0.16)),
    ("poplar", Finish(albedo=(0.42, 0.36, 0.24), gloss=0.25, grain=0.12)),
    ("basswood", Finish(albedo=(0.52, 0.42, 0.29), gloss=0.25, grain=0.08)),
)
PLAIN = Finish(albedo=(0.40, 0.31, 0.21), gloss=0.3, grain=0.15)
GLOSS_WORDS = (("matt", 0.12), ("satin", 0.4), ("gloss", 0.9), ("polished", 0.9))


def picture(
    design: Design, *, viewer: str, state: StateWord = "all", width_px: int = 960, height_px: int = 540, samples: int = 1,
    content: NDArray[np.floating] | str = NIGHT_SKY, folder: Path | None = None, tell: Callable[[float], None] | None = None,
) -> tuple[Picture, bytes]:  # fmt: skip
    """Still of a design from a viewer, linear and as a PNG.

    Parameters
    ----------
    design : Design
        The resolved job.
    viewer : str
        Id of a viewer of the job.
    state : str
        ``on`` (screen alone), ``lights`` (strip alone), ``all`` or ``dark``.
    width_px, height_px : int
        Size.
    samples : int
        Samples per pixel; edges are exact with one.
    content : str or array, shape (rows, columns, 3)
        What the screen shows: the name of a built-in picture, or linear red, green, blue, 0 to 1, shown whole.
    folder : Path, optional
        The workshop's folder, where measured spectra lie.
    tell : callable, optional
        Told the share that is done.

    Returns
    -------
    linear : array, shape (height_px, width_px, 3), float32
        Linear sRGB, 1 being 1 cd/m2.
    png : bytes
        The picture, sRGB, with its exposure in words.

    Raises
    ------
    JobError
        If there is no such viewer, or the optics of the job cannot be used.
    RangeError
        If the size or the number of samples is below 1.
    """
    still, view = still_of(design, viewer=viewer, width_px=width_px, height_px=height_px, folder=folder)
    chosen = State(state)
    with ThreadPoolExecutor(max_workers=_processors()) as pool:
        given = content_for(still, view, content, each=pool.map) if isinstance(content, str) else _whole(content, still)
        shown_content = as_shown(given, gamma=gamma_of(design), each=pool.map)
        linear = render_still(still, view, state=chosen, content=shown_content, samples=samples, each=pool.map, tell=tell)
        return linear, _png(still, chosen, linear, pool)


def content_for(still: Still, view: View, name: str = NIGHT_SKY, *, each: Each = map) -> Picture:
    """A built-in picture at the size at which it will be seen."""
    if still.screen is None:
        return np.zeros((2, 2, 3), dtype=np.float32)
    draw = partial(night_sky, each=each) if name == NIGHT_SKY else CONTENT[name]
    return draw(*texture_px(still.screen.picture, still, view))


def _whole(content: NDArray[np.floating], still: Still) -> Picture:
    """A picture with black beside it, or above and below, until it has the screen's proportions."""
    found = np.clip(np.asarray(content, dtype=np.float32), 0.0, 1.0)
    if still.screen is None:
        return found
    lit = still.screen.picture
    high, wide = found.shape[:2]
    over_x = round(high * (lit.right - lit.left) / (lit.top - lit.bottom)) - wide
    over_y = round(wide * (lit.top - lit.bottom) / (lit.right - lit.left)) - high
    beside, above = max(over_x, 0), max(over_y, 0)
    return np.pad(found, ((above // 2, above - above // 2), (beside // 2, beside - beside // 2), (0, 0)))


def still_of(design: Design, *, viewer: str, width_px: int, height_px: int, folder: Path | None = None) -> tuple[Still, View]:
    """The piece as a still takes it, and the camera of one viewer.

    Raises
    ------
    JobError
        If there is no such viewer, or the optics of the job cannot be used.
    """
    eye = _eye(design, viewer)
    centre = design.facts.job.mounting.centre_height
    up = 0.0 if eye.eye_height is None or centre is None else eye.eye_height - centre
    frame = _frame(design)
    view = view_of(frame, x_mm=eye.sideways, y_mm=up, distance_mm=eye.distance, width_px=width_px, height_px=height_px)
    case = case_of(design, folder=folder)
    X, Y, Z = (float(one) for one in xyz(case.setting.room_light, normal=LUMENS_PER_WATT))
    room = RoomLook(
        illuminance_lx=case.setting.room.illuminance_lx, mirrored_cd_m2=case.setting.room.mirrored_cd_m2,
        XYZ=(X, Y, Z), centre_height_mm=CENTRE_MM if centre is None else centre,
        facing_mm=max(eye.distance + BEHIND_VIEWER_MM, LEAST_ROOM_MM),
    )  # fmt: skip
    still = Still(
        frame=frame, front=_pane(design, "front"), rear=_pane(design, "rear") if "depth.rear_glass" in design.ledger else None,
        table=_table(case, view, frame), room=room, space=_space(design), strip=_strip(design, case), screen=_screen(design, case.setting),
    )  # fmt: skip
    return still, view


def _eye(design: Design, viewer: str) -> Viewer:
    known = {one.id: one for one in design.facts.job.viewers}
    if viewer in known:
        return known[viewer]
    near = nearest_word(viewer, list(known)) if known else None
    allowed = f"Viewers of this job: {', '.join(known)}." if known else "The job names no viewer."
    advice = f"Did you mean {near}?" if near else "Choose one of them." if known else "Add one under `viewers`, with a distance."
    raise JobError([Problem(code="no-such-viewer", path="viewers", read=viewer[:40], allowed=allowed, advice=advice)])


def _table(case: Case, view: View, frame: Frame) -> Cavity:
    """The cavity's table, as far as the eye looks aside."""
    setting = case.setting
    widest = np.hypot(abs(view.x_mm) + frame.width_mm / 2, abs(view.y_mm) + frame.height_mm / 2) / view.distance_mm
    angles = min(case.front.incidence_deg.size, ceil(np.degrees(np.arctan(widest)) / case.front.incidence_deg[1]) + 2)
    front, rear = (_narrowed(sheet, angles) for sheet in (case.front, case.rear))
    return cavity(
        front, rear, emitters=setting.strip.spectrum if setting.strip else setting.room_light,
        primaries=setting.screen.primaries if setting.screen else setting.room_light, room=setting.room_light,
        orders=orders_of(setting, case.front, case.rear), face_mirror=setting.screen.face_mirror if setting.screen else 0.0,
    )  # fmt: skip


def _narrowed(sheet: Sheet, angles: int) -> Sheet:
    return replace(sheet, incidence_deg=sheet.incidence_deg[:angles], response=Response(*(one[:, :angles] for one in sheet.response)))


def _frame(design: Design) -> Frame:
    ledger, job = design.ledger, design.facts.job
    recessed = job.mounting.kind is MountingKind.RECESSED
    wall = 0.0 if recessed else ledger["outside.depth"]
    play = ledger["recess.play.width"] / 2 if "recess.play.width" in ledger else 0.0
    front = design.facts.front_moulding
    words = job.frame.front.finish or front.finish
    return Frame(
        width_mm=ledger["outside.width"], height_mm=ledger["outside.height"],
        profile=((0.0, max(wall, _face(design.facts.front_profile)[0][1])), *_face(design.facts.front_profile)),
        wall_depth_mm=wall, recess_mm=play, finish=finish_of(words, front.timber),
    )  # fmt: skip


def _face(profile: Profile) -> tuple[tuple[float, float], ...]:
    """Points of the profile from its outer edge over the face to the back of the lip."""
    points = [(x, z) for x, z in profile.points]
    start = min(range(len(points)), key=lambda k: (points[k][0], points[k][1]))
    ring = points[start:] + points[:start]
    if ring[1][0] < 1e-9 or (ring[-1][0] > 1e-9 and ring[1][1] > ring[-1][1] + 1e-9):
        ring = [ring[0], *ring[:0:-1]]
    end = max(k for k, (x, z) in enumerate(ring) if x > profile.body_mm + 1e-6 and z <= profile.lip_back_mm + 1e-6)
    return tuple(ring[: end + 1])


def finish_of(words: str, timber: str) -> Finish:
    """A surface by the words of a finish, else by the timber."""
    found = next((finish for text in (words.lower(), timber.lower()) for word, finish in FINISHES if word in text), PLAIN)
    text = words.lower()
    gloss = next((value for word, value in GLOSS_WORDS if word in text), None)
    return found if gloss is None else replace(found, gloss=gloss)


def _kind(design: Design, which: str) -> GlassKind:
    return design.facts.front_glass if which == "front" else design.facts.rear_glass


def _pane(design: Design, which: str) -> Pane:
    ledger = design.ledger
    return Pane(depth_mm=ledger[f"depth.{which}_glass"], thickness_mm=ledger[f"{which}.glass.thickness"], index=_kind(design, which).index)


def _space(design: Design) -> Space | None:
    """Side walls between the sheets, front to rear: batten, strip, batten, and the rear lip behind it."""
    ledger = design.ledger
    if "gap.optical" not in ledger:
        return None
    before = 0.0
    if design.facts.coated_side("front") is not CoatedSide.CAVITY:
        before = ledger["front.glass.thickness"] / design.facts.front_glass.index
    wood = _wall_mm(design, "front") + _actual(design, "batten.width")
    lip = _wall_mm(design, "rear") + _actual(design, "rear.moulding.lip")
    strip = wood + ledger["strip.thickness"]
    start = before + ledger["strip.at"]
    end = start + ledger["strip.width"]
    last, gap = before + ledger["batten.depth"] + ledger["spacer_frame"], before + ledger["gap"]
    rows = (
        (Face.WOOD, (wood, wood), (before, start)), (Face.WOOD, (wood, strip), (start, start)), (Face.STRIP, (strip, strip), (start, end)),
        (Face.WOOD, (strip, wood), (end, end)), (Face.WOOD, (wood, wood), (end, last)), (Face.WOOD, (wood, lip), (last, last)),
        (Face.WOOD, (lip, lip), (last, gap)),
    )  # fmt: skip
    side = tuple(Stretch(face=face, inset_mm=inset, behind_mm=behind) for face, inset, behind in rows)
    return Space(gap_mm=ledger["gap.optical"], before_mm=before, side=side, wood=WOOD_DIFFUSE)


def _wall_mm(design: Design, which: str) -> float:
    """Outside to a frame's rebate wall, the mean of both directions."""
    ends = [design.ledger[f"outside.{d}"] - _actual(design, f"{which}.rebate.{d}") for d in ("width", "height")]
    return sum(ends) / 4


def _actual(design: Design, name: str) -> float:
    """A length as it will be, where the ledger tells it apart."""
    return design.ledger[f"{name}.actual"] if f"{name}.actual" in design.ledger else design.ledger[name]


def _strip(design: Design, case: Case) -> StripLook | None:
    strip = case.setting.strip
    if strip is None or "gap.optical" not in design.ledger:
        return None
    kind = design.facts.light
    return StripLook(
        luminance_cd_m2=strip.luminance_cd_m2, half_across_mm=strip.half_length_across_mm, half_up_mm=strip.half_length_up_mm,
        pitch_mm=kind.pitch, spread_mm=max(2.2, kind.thickness),
    )  # fmt: skip


def _screen(design: Design, setting: Setting) -> ScreenLook | None:
    light = setting.screen
    if light is None:
        return None
    ledger = design.ledger
    half_x, half_y = ledger["outside.width"] / 2, ledger["outside.height"] / 2
    off = {side: _actual(design, f"screen.offset.{side}") for side in ("left", "bottom")}
    outline = Rectangle(
        left=off["left"] - half_x, right=off["left"] - half_x + ledger["screen.outline.width"],
        bottom=off["bottom"] - half_y, top=off["bottom"] - half_y + ledger["screen.outline.height"],
    )  # fmt: skip
    border = {side: ledger[f"screen.border.{side}"] for side in ("left", "right", "bottom", "top")}
    lit = Rectangle(
        left=outline.left + border["left"], right=outline.right - border["right"],
        bottom=outline.bottom + border["bottom"], top=outline.top - border["top"],
    )  # fmt: skip
    return ScreenLook(
        picture=lit, outline=outline, air_mm=light.behind_mm, white_cd_m2=light.white_cd_m2, black_cd_m2=light.black_cd_m2,
        shares=np.asarray(light.shares), axis_deg=light.axis_deg, face_diffuse=light.face_diffuse, face_mirror=light.face_mirror,
        beside_diffuse=setting.backing_diffuse,
    )  # fmt: skip


def _png(still: Still, state: State, linear: Picture, pool: ThreadPoolExecutor) -> bytes:
    height_px, width_px, _ = linear.shape
    tone = tone_of(still, state, linear, white=np.array(still.room.XYZ) @ XYZ_TO_SRGB.T)
    coarse = glare_of(linear)

    def rows(start: int) -> bytes:
        band = slice(start, min(start + ROWS_AT_ONCE, height_px))
        return shown(linear[band], glare_rows(coarse, band, width=width_px), tone).tobytes()

    bands = pool.map(rows, range(0, height_px, ROWS_AT_ONCE))
    return png_bytes(bands, width_px=width_px, height_px=height_px, words={"Description": tone.words})


def _processors() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
