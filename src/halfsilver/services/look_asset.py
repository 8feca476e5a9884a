"""What a page needs to draw a job's piece itself: a header in JSON and one file of tables. See ``docs/shader-input.md``."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from math import pi, sqrt
from pathlib import Path

import numpy as np

from halfsilver.errors import JobError, Problem
from halfsilver.layout.design import Design
from halfsilver.model.look_asset import (
    AssetExposure,
    AssetPane,
    AssetRectangle,
    AssetScreen,
    AssetStrip,
    AssetTable,
    AssetViewer,
    LookAsset,
)
from halfsilver.optics.cavity import Cavity, cavity
from halfsilver.optics.films import Response
from halfsilver.optics.piece import orders_of
from halfsilver.optics.sheets import Sheet
from halfsilver.optics.spectra import screen_primaries, white_led
from halfsilver.optics.still import Rectangle, ScreenLook, Still
from halfsilver.optics.still_asset import PLACE_MM, Table, colours_of, frame_of, room_of, room_table, space_of, tables_of
from halfsilver.optics.still_tone import DARKEST_CARD_CD_M2, KNEE
from halfsilver.optics.still_view import View
from halfsilver.services.appearance.screen_colours import gamma_of
from halfsilver.services.appearance.setting import Case, case_of
from halfsilver.services.pictures import still_of
from halfsilver.services.records import as_text, document

WIDEST_DEG = 72.0
EMITTERS = ("strip", "2700 K", "6500 K", "red", "green", "blue")
TYPES = {"float32": "<f4", "float16": "<f2", "int8": "|i1"}


def look_asset(design: Design, *, folder: Path | None = None) -> tuple[str, bytes]:
    """Header and tables of a design.

    Parameters
    ----------
    design : Design
        The resolved job; it needs at least one viewer.
    folder : Path, optional
        The workshop's folder, where measured spectra lie.

    Returns
    -------
    header : str
        JSON by the schema ``look_asset``.
    tables : bytes
        The tables one after the other, as the header lists them.

    Raises
    ------
    JobError
        If the job names no viewer, or its optics cannot be used.
    """
    viewers = design.facts.job.viewers
    if not viewers:
        raise JobError(
            [Problem(code="no-such-viewer", path="viewers", allowed="The job names no viewer.", advice="Add one with a distance.")]
        )
    eyes = {one.id: still_of(design, viewer=one.id, width_px=960, height_px=540, folder=folder) for one in viewers}
    narrow, view = eyes[viewers[0].id]
    still = replace(narrow, table=_table(case_of(design, folder=folder)))
    rooms = {who: room_table(*eye, viewers=len(eyes)) for who, eye in eyes.items()}
    entries, data = list[AssetTable](), b""
    for name, table in tables_of(still, view, {who: table for who, (_, table) in rooms.items()}):
        entries.append(AssetTable(name=name, type=str(table.dtype), shape=table.shape, offset=len(data)))
        data += _padded(table)
    seen = tuple(_viewer(who, *eye, rooms[who][0]) for who, eye in eyes.items())
    record = _header(design, still, seen, tuple(entries), sha256(data).hexdigest())
    return as_text(document("look_asset", record)), data


def _header(design: Design, still: Still, viewers: tuple[AssetViewer, ...], tables: tuple[AssetTable, ...], digest: str) -> LookAsset:
    panes = [one for one in (still.front, still.rear) if one]
    return LookAsset(
        title=design.facts.job.title, digest=design.digest, frame=frame_of(still.frame), space=space_of(still.space),
        panes=tuple(AssetPane(depth_mm=one.depth_mm, thickness_mm=one.thickness_mm, index=one.index) for one in panes),
        strip=_strip(still), screen=_screen(still, gamma_of(design)), room=room_of(still.room), viewers=viewers,
        exposure=_exposure(still), angle_step_deg=float(still.table.incidence_deg[1]), place_step_mm=PLACE_MM,
        emitters=EMITTERS if still.strip else (), tables=tables, tables_sha256=digest,
    )  # fmt: skip


def _table(case: Case) -> Cavity:
    """The cavity's table for every angle that a page may look at, and for every light that it may mix."""
    setting = case.setting
    angles = int(WIDEST_DEG / case.front.incidence_deg[1]) + 1
    front, rear = (_narrowed(sheet, angles) for sheet in (case.front, case.rear))
    own = setting.strip.spectrum if setting.strip else setting.room_light
    return cavity(
        front, rear, emitters=np.stack([own, *(white_led(colour_temperature_k=k) for k in (2700, 6500)), *screen_primaries()]),
        primaries=setting.screen.primaries if setting.screen else setting.room_light, room=setting.room_light,
        orders=orders_of(setting, case.front, case.rear), face_mirror=setting.screen.face_mirror if setting.screen else 0.0,
    )  # fmt: skip


def _narrowed(sheet: Sheet, angles: int) -> Sheet:
    return replace(sheet, incidence_deg=sheet.incidence_deg[:angles], response=Response(*(one[:, :angles] for one in sheet.response)))


def _padded(table: Table) -> bytes:
    """Bytes of a table, filled up to whole words of four bytes, so that every type can be read in place."""
    data = np.ascontiguousarray(table).astype(TYPES[str(table.dtype)]).tobytes()
    return data + b"\0" * (-len(data) % 4)


def _strip(still: Still) -> AssetStrip | None:
    strip, space = still.strip, still.space
    if strip is None or space is None:
        return None
    return AssetStrip(
        luminance_cd_m2=strip.luminance_cd_m2, inset_mm=max(inset for one in space.side for inset in one.inset_mm),
        half_across_mm=strip.half_across_mm, half_up_mm=strip.half_up_mm, pitch_mm=strip.pitch_mm, bell_mm=strip.spread_mm,
    )  # fmt: skip


def _screen(still: Still, gamma: float | None) -> AssetScreen | None:
    screen: ScreenLook | None = still.screen
    if screen is None:
        return None
    red, green, blue = ((float(r), float(g), float(b)) for r, g, b in colours_of(still))
    first, second, third = (float(one) for one in screen.shares)
    return AssetScreen(
        picture=_rectangle(screen.picture), outline=_rectangle(screen.outline), air_mm=screen.air_mm, white_cd_m2=screen.white_cd_m2,
        black_cd_m2=screen.black_cd_m2, shares=(first, second, third), colours=(red, green, blue), gamma=gamma, axis_deg=screen.axis_deg,
        face_diffuse=screen.face_diffuse, face_mirror=screen.face_mirror, beside_diffuse=screen.beside_diffuse,
    )  # fmt: skip


def _rectangle(one: Rectangle) -> AssetRectangle:
    return AssetRectangle(left_mm=one.left, right_mm=one.right, bottom_mm=one.bottom, top_mm=one.top)


def _viewer(who: str, still: Still, view: View, room: AssetRectangle) -> AssetViewer:
    return AssetViewer(id=who, x_mm=view.x_mm, y_mm=view.y_mm, distance_mm=view.distance_mm, facing_mm=still.room.facing_mm, room=room)


def _exposure(still: Still) -> AssetExposure:
    """The stills' rule: the geometric mean of a white card on the wall and the screen's white; the brightest is the strip seen straight."""
    card = shown = max(still.room.illuminance_lx / pi, DARKEST_CARD_CD_M2)
    if still.screen is not None:
        gain = float(np.asarray(still.screen.shares) @ still.table.screen[:, :, 0, :, 1].mean(axis=1).sum(axis=1))
        shown = max(still.screen.white_cd_m2 * gain, 1e-6)
    on = sqrt(card * shown)
    strip = still.strip.luminance_cd_m2 * float(still.table.walls[0, :, 0, 0, 1].mean()) if still.strip else 0.0
    return AssetExposure(screen_on_cd_m2=on, screen_off_cd_m2=card, most_cd_m2=max(2 * on, 2 * card, strip), knee=KNEE)
