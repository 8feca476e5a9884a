"""The numbers of a design, each with its range, as the record that JSON shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import cos, hypot, radians, sin
from pathlib import Path

from halfsilver.errors import JobError
from halfsilver.layout.design import Design
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.appearance import (
    AngleRecord,
    AppearanceRecord,
    EchoRecord,
    LightImageRecord,
    ScalarRecord,
    SightRecord,
    ViewerRecord,
)
from halfsilver.optics.appearance import Ranged, ranged
from halfsilver.optics.cavity import LEAST_ORDERS
from halfsilver.optics.photometry import merging_distance_mm
from halfsilver.optics.piece import ECHOES, Eye, lateral, numbers, orders_of
from halfsilver.services.appearance.behind import infrared
from halfsilver.services.appearance.setting import APPROXIMATE, Case, case_of
from halfsilver.services.appearance.zone import sights_of, zone_of, zone_record
from halfsilver.services.load import Loaded, placed

LEAST_IMAGES, BEYOND = 6, 2
LEAST_ECHO = 1e-3
SCALARS = (
    "mirror_reflectance", "mirror_x", "mirror_y", "screen_gain", "picture_x", "picture_y", "picture_de00", "screen_luminance_cd_m2",
    "screen_peak_cd_m2", "screen_content_cd_m2", "room_contrast", "room_contrast_lights_off", "veil_cd_m2", "hidden_contrast",
    "hidden_contrast_off", "hidden_threshold", "standby_shows_cd_m2", "visible_images", "visible_images_over_picture",
    "visible_round_trips",
)  # fmt: skip
ANGLES_DEG = (0.0, 20.0, 40.0, 60.0)
Found = Mapping[str, Ranged]


def appearance_of(design: Design, *, folder: Path | None = None) -> AppearanceRecord:
    """``appearance.json`` of a design; without viewers it holds none.

    Raises
    ------
    JobError
        If a sheet's numbers, a spectrum or a colour cannot be used.
    """
    from halfsilver.services.appearance.advice import advice

    case = case_of(design, folder=folder)
    viewers = viewers_of(design, case) if case.eyes else {}
    zone = zone_of(design)
    return AppearanceRecord(
        title=design.facts.job.title, basis=case.basis, viewers=viewers, angles=angles_of(case) if case.eyes else (),
        viewing_zone=zone_record(zone) if zone else None, infrared=infrared(design, folder=folder),
        advice=advice(design, case, viewers, folder=folder),
        assumed=case.assumed, approximate=APPROXIMATE, digest=design.digest,
    )  # fmt: skip


def predicted(loaded: Loaded, design: Design) -> AppearanceRecord:
    """The same for a job that was read, its errors placed in the job's file."""
    try:
        return appearance_of(design, folder=loaded.folder)
    except JobError as error:
        raise placed(loaded, error) from None


def viewers_of(design: Design, case: Case) -> dict[str, ViewerRecord]:
    """What every viewer sees."""
    most = orders_of(case.setting, case.front.shifted(by=-case.front_error), case.rear.shifted(by=-case.rear_error))
    found, sights = _ranged(case, case.eyes, orders=most), sights_of(design)
    return {who: _viewer(design, case, who, _of(who, found), sights.get(who)) for who in case.eyes}


def angles_of(case: Case) -> tuple[AngleRecord, ...]:
    """What is seen straight on and off axis, by the angle alone."""
    away = sum(hypot(eye.distance_mm, eye.sideways_mm) for eye in case.eyes.values()) / len(case.eyes)
    eyes = {f"{at:g}": Eye(distance_mm=away * cos(radians(at)), sideways_mm=away * sin(radians(at))) for at in ANGLES_DEG}
    case = replace(case, setting=replace(case.setting, images=False))
    found = _ranged(case, eyes, orders=LEAST_ORDERS)
    return tuple(_angle(at, _of(f"{at:g}", found)) for at in ANGLES_DEG)


def _angle(at: float, found: Found) -> AngleRecord:
    names = ("screen_gain", "screen_luminance_cd_m2", "picture_de00", "room_contrast")
    echo = {"echo_ratio": "echo/1/ratio", "echo_shift_mm": "echo/1/shift_mm"}
    told = {name: name for name in names} | echo
    return AngleRecord(
        incidence_deg=at,
        mirror_reflectance=_scalar(found["mirror_reflectance"]),
        **{key: _scalar(found[name]) for key, name in told.items() if name in found},
    )


def _ranged(case: Case, eyes: Mapping[str, Eye], *, orders: int) -> Found:
    return ranged(
        lambda front, rear: numbers(case.setting, eyes, front, rear, orders=orders),
        front=case.front, rear=case.rear, front_error=case.front_error, rear_error=case.rear_error,
    )  # fmt: skip


def _of(who: str, found: Found) -> dict[str, Ranged]:
    """One viewer's numbers, the extremes of an unknown polarisation taken into the range."""
    own = {name.removeprefix(f"{who}/"): value for name, value in found.items() if name.startswith(f"{who}/")}
    extremes = {name: [own[name + mark] for mark in ("#s", "#p") if name + mark in own] for name in own if "#" not in name}
    return {name: _widened(own[name], others) for name, others in extremes.items()}


def _widened(value: Ranged, extremes: Iterable[Ranged]) -> Ranged:
    every = (value, *extremes)
    return Ranged(value=value.value, low=min(one.low for one in every), high=max(one.high for one in every))


def _viewer(design: Design, case: Case, who: str, found: Found, sight: tuple[float, tuple[SightRecord, ...]] | None) -> ViewerRecord:
    eye, lit = case.eyes[who], case.setting.strip is not None
    return ViewerRecord(
        incidence_deg=eye.incidence_deg,
        **{name: _scalar(found[name]) for name in SCALARS if name in found},
        echoes=_echoes(found) if case.setting.screen else None,
        light_wall=lateral(case.setting, eye)[0] if lit else None,
        light_images=_images(found) if lit else None,
        diodes_merge_from_mm=merging_distance_mm(pitch_mm=design.facts.light.pitch) if lit else None,
        picture_share=_share(design, who, sight[0]) if sight else None,
        sight=sight[1] if sight else None,
    )


def _scalar(found: Ranged) -> ScalarRecord:
    return ScalarRecord(value=found.value, low=found.low, high=found.high)


def _echoes(found: Found) -> tuple[EchoRecord, ...]:
    return tuple(
        EchoRecord(order=n, ratio=_scalar(found[f"echo/{n}/ratio"]), shift_mm=_scalar(found[f"echo/{n}/shift_mm"]))
        for n in range(1, ECHOES + 1)
        if f"echo/{n}/ratio" in found and found[f"echo/{n}/ratio"].value >= LEAST_ECHO
    )


def _images(found: Found) -> tuple[LightImageRecord, ...]:
    """All images that may be visible and a few beyond, so that the fall is seen."""
    most = max(LEAST_IMAGES, round(found["visible_images"].high) + BEYOND)
    return tuple(
        LightImageRecord(
            m=m,
            luminance_cd_m2=_scalar(found[f"light/{m}/luminance_cd_m2"]),
            x=_scalar(found[f"light/{m}/x"]),
            y=_scalar(found[f"light/{m}/y"]),
            depth_mm=_scalar(found[f"light/{m}/depth_mm"]),
            off_axis_deg=_scalar(found[f"light/{m}/incidence_deg"]),
        )
        for m in range(most)
        if f"light/{m}/x" in found
    )


def _share(design: Design, who: str, share: float) -> ScalarRecord:
    """The share seen, with what deviations of the parts make of the ledger's own."""
    worst = tolerance(design.ledger, f"seen.{who}").worst_mm
    return ScalarRecord(value=share, low=max(share - worst, 0.0), high=min(share + worst, 1.0))
