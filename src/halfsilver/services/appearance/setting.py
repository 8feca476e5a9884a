"""From a design to what the optics need: sheets as mounted, the screen and the strip as lights, the room, the eyes.

Whatever the job leaves open is assumed here, and every assumption is said.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import pi
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import DataError, JobError, Problem
from halfsilver.files import tables
from halfsilver.files.workshop import DEFAULT
from halfsilver.layout.design import Design
from halfsilver.model.job import CoatedSide, PolarisationWord
from halfsilver.model.workshop import GlassKind
from halfsilver.optics.appearance import Surroundings, Thresholds
from halfsilver.optics.photometry import strip_luminance_cd_m2
from halfsilver.optics.piece import GRID_DEG, Eye, ScreenLight, Setting, StripLight
from halfsilver.optics.sheets import Limits, Sheet, measured, no_sheet, printed
from halfsilver.optics.spectra import room_light
from halfsilver.optics.standard import WAVELENGTH_NM
from halfsilver.services.appearance.films import said_of_films, sheet_of_films
from halfsilver.services.appearance.screen_colours import screen_colours
from halfsilver.services.appearance.strip_colours import strip_light

# Common practice, used where the job and the workshop say nothing.
WHITE_CD_M2, DARK_CONTRAST, PEAK_OVER_FULL, CONTENT_OVER_FULL = 350.0, 1000.0, 1.0, 0.35
FACE_DIFFUSE, FACE_MIRROR, BACKING_DIFFUSE = 0.01, 0.04, 0.04
WALL_LX, FACING_GREY = 150.0, 0.5
ROOM_K = 4000.0
WIDEST_STEP_NM = 40.0
GRID = {"wavelength_nm": WAVELENGTH_NM, "incidence_deg": GRID_DEG}

APPROXIMATE = (
    "Strips are taken as matt and even; single diodes and unlit rests are not in the numbers.",
    "Coatings are even, glass is flat and without haze; light scattered by dust is not counted.",
    "Light from strip to walls to screen, and echoes between the rear sheet and the screen's face, are not counted.",
    "Stray light is that opposite the middle of the picture; near the strips it is more.",
    "An image of the strip is that on the far side wall, at the height of the eye.",
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """A design as the optics take it.

    Parameters
    ----------
    setting : Setting
        All but the sheets.
    eyes : dict of str to Eye
        Viewers by id.
    front, rear : Sheet
        As mounted; with one sheet, air for the rear one.
    front_error, rear_error : Limits
        Limits of error of T and R.
    basis : str
        ``printed`` or ``spectral``.
    assumed : tuple of str
        What nobody gave.
    """

    setting: Setting
    eyes: dict[str, Eye]
    front: Sheet
    rear: Sheet
    front_error: Limits
    rear_error: Limits
    basis: str
    assumed: tuple[str, ...]


def case_of(design: Design, *, folder: Path | None = None) -> Case:
    """The case of a design.

    Parameters
    ----------
    design : Design
        The resolved job.
    folder : Path, optional
        The workshop's folder, where measured spectra lie.

    Raises
    ------
    JobError
        If a sheet's numbers, a spectrum or a colour cannot be used.
    """
    facts, assumed = design.facts, list[str]()
    kinds = [facts.front_glass, *([facts.rear_glass] if facts.job.glass.rear else [])]
    mounted = [
        mounted_sheet(kind, faces_viewer=faces_viewer(facts.coated_side(which), which), path=f"glass.{which}.kind", folder=folder)
        for which, kind in zip(("front", "rear"), kinds, strict=False)
    ]
    assumed += [gap for kind in kinds if kind.spectrum for gap in _gaps(kind, folder)]
    assumed += [said_of_films(kind) for kind in dict.fromkeys(kinds) if kind.by_films]
    spectral = all(kind.spectral for kind in kinds)
    if not spectral:
        assumed.append("grey spectra for sheets known by printed numbers")
    return Case(
        setting=Setting(
            gap_mm=design.ledger.values.get("gap.optical", 0.0), room=_room(design, assumed), room_light=_room_light(assumed),
            thresholds=thresholds(), backing_diffuse=BACKING_DIFFUSE, screen=_screen(design, assumed), strip=_strip(design, assumed),
        ),
        eyes=_eyes(design), front=mounted[0], rear=mounted[1] if len(mounted) > 1 else no_sheet(**GRID),
        front_error=_limits(kinds[0]), rear_error=_limits(kinds[1]) if len(kinds) > 1 else Limits(T=0.0, R=0.0),
        basis="spectral" if spectral else "printed", assumed=tuple(assumed),
    )  # fmt: skip


def mounted_sheet(kind: GlassKind, *, faces_viewer: bool, path: str, folder: Path | None = None) -> Sheet:
    """A catalogue entry as a sheet, its coated face towards the viewer or away.

    Raises
    ------
    JobError
        If its numbers or its spectrum cannot belong to one sheet.
    """
    try:
        if kind.spectrum:
            sheet = _from_spectrum((folder or DEFAULT) / kind.spectrum)
        elif kind.by_films:
            sheet = sheet_of_films(kind)
        else:
            sheet = printed(T=kind.T, R_front=kind.R_coated, R_back=kind.R_plain, **GRID)
    except (DataError, OSError, ValueError) as error:
        advice = f"Mend the entry {kind.id} of the workshop's glass{f', or its file {kind.spectrum}' if kind.spectrum else ''}."
        raise JobError([Problem(code="bad-glass", path=path, read=kind.id, allowed=str(error), advice=advice)]) from None
    return sheet if faces_viewer else sheet.turned()


def _limits(kind: GlassKind) -> Limits:
    return Limits(T=kind.limit_of_t, R=kind.uncertainty)


def _gaps(kind: GlassKind, folder: Path | None) -> Iterator[str]:
    """What was not measured between two readings farther apart than a coating's spectrum runs straight."""
    known = _spectrum_table((folder or DEFAULT) / kind.spectrum).numbers("wavelength", unit="nm")
    for low, high in pairwise(known):
        if high - low > WIDEST_STEP_NM and low < WAVELENGTH_NM[-1] and high > WAVELENGTH_NM[0]:
            yield f"the spectrum of {kind.id} runs straight from {low:g} to {high:g} nm, where nothing was measured"


def _spectrum_table(file: Path) -> tables.Table:
    return tables.checked_spectrum(tables.parse(file.read_text(encoding="utf-8"), name=file.name))


def _from_spectrum(file: Path) -> Sheet:
    """A measured spectrum: columns wavelength [nm], t, r_front (coated face), r_back (plain face)."""
    table = _spectrum_table(file)
    t, r_front, r_back = (table.numbers(column, unit="1") for column in ("t", "r_front", "r_back"))
    return measured(
        wavelength_nm=table.numbers("wavelength", unit="nm"), T=t, R_front=r_front, R_back=r_back,
        grid_nm=WAVELENGTH_NM, incidence_deg=GRID_DEG,
    )  # fmt: skip


def faces_viewer(side: CoatedSide, which: str) -> bool:
    """Whether a coated face looks at the viewer."""
    return side is CoatedSide.VIEWER or (side is CoatedSide.CAVITY and which == "rear")


def thresholds() -> Thresholds:
    """Contrasts that are just seen, from the reference table."""
    table = tables.load("optics/contrast_thresholds")
    return Thresholds(luminance_cd_m2=tables.rising(table, "luminance", unit="cd/m2"), contrast=table.numbers("threshold", unit="1"))


def _room(design: Design, assumed: list[str]) -> Surroundings:
    room = design.facts.job.room
    if room.wall_light is None:
        assumed.append(f"{WALL_LX:g} lx on the piece (room.wall_light)")
    on_piece = WALL_LX if room.wall_light is None else room.wall_light
    if room.facing_luminance is not None:
        return Surroundings(illuminance_lx=on_piece, mirrored_cd_m2=room.facing_luminance)
    facing = room.facing_light if room.facing_light is not None else on_piece
    of = "room.facing_light" if room.facing_light is not None else "the light on the piece"
    assumed.append(f"what the glass mirrors is a half-grey wall under {facing:g} lx, from {of} (room.facing_luminance)")
    return Surroundings(illuminance_lx=on_piece, mirrored_cd_m2=FACING_GREY * facing / pi)


def _room_light(assumed: list[str]) -> NDArray[np.float64]:
    assumed.append(f"room light of {ROOM_K:g} K")
    return room_light(colour_temperature_k=ROOM_K)


def _screen(design: Design, assumed: list[str]) -> ScreenLight | None:
    job = design.facts.job
    if "depth.picture" not in design.ledger:
        return None
    screen = design.facts.screen.screen
    known, face = screen.luminance, screen.face
    white, peak, content, black = (getattr(known, name) if known else None for name in ("full", "peak", "content", "black"))
    if white is None:
        white = min(peak, WHITE_CD_M2) if peak is not None else WHITE_CD_M2
        assumed.append(f"full white of {white:g} cd/m2 (screen.luminance.full)")
    if peak is None:
        peak = PEAK_OVER_FULL * white
        assumed.append("a small white patch is as bright as full white (screen.luminance.peak)")
    if content is None:
        content = CONTENT_OVER_FULL * white
        assumed.append(f"an average picture of {content:g} cd/m2 (screen.luminance.content)")
    if black is None:
        black = white / DARK_CONTRAST
        assumed.append(f"black of {black:g} cd/m2 (screen.luminance.black)")
    diffuse, mirror = (getattr(face, name) if face else None for name in ("diffuse", "mirror"))
    if diffuse is None or mirror is None:
        assumed.append(f"a screen's face with {FACE_DIFFUSE:.0%} diffuse and {FACE_MIRROR:.0%} mirror reflectance (screen.face)")
    axis = screen.polarisation
    if axis is None or axis is PolarisationWord.UNKNOWN:
        assumed.append("screen light not polarised; the ranges hold both extremes (screen.polarisation)")
    primaries, white_shares = screen_colours(screen, assumed)
    assumed.append(f"what lies beside the screen is matt black, {BACKING_DIFFUSE:.0%} diffuse")
    layers = {layer.part: layer for layer in design.layers}
    last = layers["rear-glass" if job.glass.rear else "front-glass"]
    return ScreenLight(
        white_cd_m2=white, peak_cd_m2=peak, content_cd_m2=content, black_cd_m2=black,
        face_diffuse=FACE_DIFFUSE if diffuse is None else diffuse, face_mirror=FACE_MIRROR if mirror is None else mirror,
        primaries=primaries, shares=white_shares,
        axis_deg=axis if isinstance(axis, float) else None, axis_known=axis is PolarisationWord.NONE or isinstance(axis, float),
        behind_mm=max(design.ledger["depth.picture"] - last.to_mm, 0.0),
    )  # fmt: skip


def _strip(design: Design, assumed: list[str]) -> StripLight | None:
    job, ledger = design.facts.job, design.ledger
    if job.lights is None or "strip.at" not in ledger or job.lights.dim == 0:
        return None
    kind = design.facts.light
    spectrum, share = strip_light(job.lights, kind, assumed)
    luminance = strip_luminance_cd_m2(flux_lm_m=kind.flux * job.lights.dim * share, width_mm=kind.width)
    if luminance <= 0:
        return None
    behind = 0.0
    if job.glass.rear is not None and not faces_viewer(design.facts.coated_side("rear"), "rear"):
        behind = ledger["rear.glass.thickness"] / design.facts.rear_glass.index
    return StripLight(
        luminance_cd_m2=luminance, spectrum=spectrum, width_mm=kind.width,
        from_rear_mm=max(ledger["gap"] - ledger["strip.at"] - ledger["strip.width"] / 2, 0.0) + behind,
        half_width_mm=ledger["strip.run.width"] / 2, half_height_mm=ledger["strip.run.height"] / 2,
        half_length_across_mm=ledger["strip.segments.width"] * ledger["strip.segment"] / 2,
        half_length_up_mm=ledger["strip.segments.height"] * ledger["strip.segment"] / 2,
    )  # fmt: skip


def _eyes(design: Design) -> dict[str, Eye]:
    centre = design.facts.job.mounting.centre_height
    depth = next(layer.to_mm for layer in design.layers if layer.part == "front-glass")
    return {
        viewer.id: Eye(
            distance_mm=viewer.distance + depth,
            sideways_mm=viewer.sideways,
            up_mm=0.0 if viewer.eye_height is None or centre is None else viewer.eye_height - centre,
        )
        for viewer in design.facts.job.viewers
    }
