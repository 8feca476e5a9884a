"""The numbers behind the charts of an appearance."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfsilver.files import tables
from halfsilver.layout.design import Design
from halfsilver.model.appearance import AppearanceRecord, LightImageRecord
from halfsilver.model.charts import Charts, ContrastChart, ImagePoint, ImagesChart, SpectraChart, Stand, ZoneChart
from halfsilver.optics.appearance import PLAINLY, ranged
from halfsilver.optics.cavity import LEAST_ORDERS
from halfsilver.optics.colour import luminous
from halfsilver.optics.picture import encoded, in_gamut, linear_srgb
from halfsilver.optics.piece import numbers
from halfsilver.optics.sheets import Sheet
from halfsilver.services.appearance.advice import worst_viewer
from halfsilver.services.appearance.setting import Case, case_of
from halfsilver.services.appearance.zone import Zone, sights_of, zone_of

OBLIQUE_DEG = 60.0
ALL_SEEN = 0.9995
LIGHTS_LX = np.geomspace(1.0, 2000.0, 45)
Real = NDArray[np.float64]


def charts_of(design: Design, record: AppearanceRecord, *, folder: Path | None = None) -> Charts:
    """Every chart of a design.

    Parameters
    ----------
    design : Design
        The resolved job.
    record : AppearanceRecord
        Its numbers.
    folder : Path, optional
        The workshop's folder, where measured spectra lie.

    Raises
    ------
    JobError
        If a sheet's numbers, a spectrum or a colour cannot be used.
    """
    case, zone = case_of(design, folder=folder), zone_of(design)
    worst = worst_viewer(record.viewers) if record.viewers else None
    return Charts(
        spectra=tuple(_spectra(design, case)),
        images=_images(case, record, worst) if worst else None,
        zone=_zone(design, zone) if zone else None,
        contrast=_contrast(case, record, worst) if worst and record.viewers[worst].room_contrast else None,
    )


def _spectra(design: Design, case: Case) -> Iterator[SpectraChart]:
    facts = design.facts
    yield _sheet("front", facts.front_glass.name, facts.front_glass.spectral, case.front, case.front_error.most)
    if facts.job.glass.rear:
        yield _sheet("rear", facts.rear_glass.name, facts.rear_glass.spectral, case.rear, case.rear_error.most)


def _sheet(which: str, name: str, known: bool, sheet: Sheet, error: float) -> SpectraChart:
    def curves(at_deg: float) -> tuple[Real, Real, Real]:
        k = int(np.abs(sheet.incidence_deg - at_deg).argmin())
        T, front, back = (one.mean(axis=0)[k] for one in (sheet.response.T_front, sheet.response.R_front, sheet.response.R_back))
        return T, front, back

    straight, oblique = curves(0.0), curves(OBLIQUE_DEG)
    T, front, back = (_row(one) for one in straight)
    T60, front60, back60 = (_row(one) for one in oblique)
    at_all = tuple(float(luminous(one)) for one in straight)
    return SpectraChart(
        which=which, name=name, known=known, error=error, wavelength_nm=_row(sheet.wavelength_nm), straight=(T, front, back),
        oblique=(T60, front60, back60), oblique_deg=OBLIQUE_DEG, luminous=(at_all[0], at_all[1], at_all[2]),
    )  # fmt: skip


def _row(values: Real) -> tuple[float, ...]:
    return tuple(float(one) for one in values)


def _images(case: Case, record: AppearanceRecord, who: str) -> ImagesChart | None:
    viewer = record.viewers[who]
    if not viewer.light_images or viewer.visible_images is None:
        return None
    found = numbers(case.setting, {who: case.eyes[who]}, case.front, case.rear, orders=LEAST_ORDERS)
    background = found[f"{who}/background_cd_m2"]
    return ImagesChart(
        viewer=who, points=tuple(_point(one) for one in viewer.light_images), visible=round(viewer.visible_images.value),
        background_cd_m2=background, threshold_cd_m2=case.setting.thresholds.least_step_cd_m2(background, times=PLAINLY),
        screen=case.setting.screen is not None,
    )  # fmt: skip


def _point(image: LightImageRecord) -> ImagePoint:
    light = image.luminance_cd_m2
    return ImagePoint(
        m=image.m, depth_mm=image.depth_mm.value, luminance_cd_m2=light.value, low_cd_m2=light.low, high_cd_m2=light.high,
        colour=_swatch(image.x.value, image.y.value),
    )  # fmt: skip


def _swatch(x: float, y: float) -> str:
    """The colour of a chromaticity at full brightness, as a screen shows it."""
    if not y > 0:
        return "#000000"
    linear = in_gamut(linear_srgb([x / y, 1.0, (1 - x - y) / y], white_cd_m2=4.0))
    red, green, blue = (round(255 * float(one)) for one in encoded(linear / max(float(linear.max()), 1e-9)))
    return f"#{red:02x}{green:02x}{blue:02x}"


def _zone(design: Design, found: Zone) -> ZoneChart:
    sights = sights_of(design)
    ledger = design.ledger.values
    stands = []
    for who, (share, sides) in sights.items():
        worst = min(sides, key=lambda side: side.beyond_mm)
        limit = f"{worst.part}, {worst.side}" if worst.beyond_mm < 0 else ""
        x, z = ledger[f"viewer.{who}.sideways"], ledger[f"viewer.{who}.distance"]
        stands.append(Stand(who=who, sideways_mm=x, distance_mm=z, share=share, limit=limit))
    accept = design.facts.job.accept.hidden_share
    return ZoneChart(
        sideways_mm=_row(found.sideways_mm), distance_mm=_row(found.distance_mm), share=tuple(_row(row) for row in found.share),
        piece_width_mm=ledger["outside.width"], up_mm=found.up_mm, stands=tuple(stands), limits=tuple(_limits(found)),
        accepted=None if accept is None else 1 - accept,
    )  # fmt: skip


def _limits(found: Zone) -> Iterator[tuple[str, str]]:
    """What hides most, left, in front and right, counted over the eyes that do not see all."""
    third = np.abs(found.sideways_mm).max() / 3
    for place, here in (
        ("to the left", found.sideways_mm < -third),
        ("in front", np.abs(found.sideways_mm) <= third),
        ("to the right", found.sideways_mm > third),
    ):
        at = here[None, :] & (found.share < ALL_SEEN)
        if at.any():
            part = Counter(found.labels[k] for k in found.limit[at]).most_common(1)[0][0]
            yield place, part


def _contrast(case: Case, record: AppearanceRecord, who: str) -> ContrastChart | None:
    setting, eye = case.setting, {who: case.eyes[who]}
    now, screen = setting.room.illuminance_lx, setting.screen
    seen = record.viewers[who].room_contrast
    if screen is None or seen is None or not now > 0:
        return None

    def curves(front: Sheet, rear: Sheet) -> dict[str, float]:
        found = numbers(replace(setting, images=False), eye, front, rear, orders=LEAST_ORDERS)
        gain, veil, stray = (found[f"{who}/{name}"] for name in ("screen_gain", "veil_cd_m2", "stray_cd_m2"))
        white, black, room = gain * screen.white_cd_m2, gain * screen.black_cd_m2, veil * LIGHTS_LX / now
        lit = (white + room + stray) / np.maximum(black + room + stray, 1e-9)
        unlit = (white + room) / np.maximum(black + room, 1e-9)
        return {f"{name}/{k}": float(one[k]) for name, one in (("lit", lit), ("unlit", unlit)) for k in range(LIGHTS_LX.size)}

    found = ranged(curves, front=case.front, rear=case.rear, front_error=case.front_error, rear_error=case.rear_error)
    lit = [found[f"lit/{k}"] for k in range(LIGHTS_LX.size)]
    table = tables.load("engineering/contrast_categories")
    names = (str(row["category"]) for row in table.rows())
    return ContrastChart(
        viewer=who, illuminance_lx=_row(LIGHTS_LX), lit=tuple(one.value for one in lit), low=tuple(one.low for one in lit),
        high=tuple(one.high for one in lit), job_lx=now, job_ratio=seen.value,
        unlit=tuple(found[f"unlit/{k}"].value for k in range(LIGHTS_LX.size)) if setting.strip else None,
        classes=tuple(zip(names, table.numbers("least_ratio", unit="1"), strict=True)),
    )  # fmt: skip
