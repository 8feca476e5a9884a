"""The numbers of a design, each with its range, as the record that JSON shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from halfsilver.errors import JobError
from halfsilver.layout.design import Design
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.appearance import AppearanceRecord, EchoRecord, LightImageRecord, ScalarRecord, ViewerRecord
from halfsilver.optics.appearance import Ranged, ranged
from halfsilver.optics.photometry import merging_distance_mm
from halfsilver.optics.piece import ECHOES, lateral, numbers, orders_of
from halfsilver.services.appearance.setting import APPROXIMATE, Case, case_of
from halfsilver.services.load import Loaded, placed

LEAST_IMAGES, BEYOND = 6, 2
LEAST_ECHO = 1e-3
SCALARS = (
    "mirror_reflectance", "screen_gain", "screen_luminance_cd_m2", "screen_peak_cd_m2", "screen_content_cd_m2", "room_contrast",
    "room_contrast_lights_off", "veil_cd_m2", "hidden_contrast", "hidden_contrast_off", "hidden_threshold", "visible_images",
    "visible_images_over_picture", "visible_round_trips",
)  # fmt: skip
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
    return AppearanceRecord(
        title=design.facts.job.title, basis=case.basis, viewers=viewers, advice=advice(design, case, viewers, folder=folder),
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
    found = ranged(
        lambda front, rear: numbers(case.setting, case.eyes, front, rear, orders=most),
        front=case.front, rear=case.rear, front_error=case.front_error, rear_error=case.rear_error,
    )  # fmt: skip
    return {who: _viewer(design, case, who, _of(who, found)) for who in case.eyes}


def _of(who: str, found: Found) -> dict[str, Ranged]:
    """One viewer's numbers, the extremes of an unknown polarisation taken into the range."""
    own = {name.removeprefix(f"{who}/"): value for name, value in found.items() if name.startswith(f"{who}/")}
    extremes = {name: [own[name + mark] for mark in ("#s", "#p") if name + mark in own] for name in own if "#" not in name}
    return {name: _widened(own[name], others) for name, others in extremes.items()}


def _widened(value: Ranged, extremes: Iterable[Ranged]) -> Ranged:
    every = (value, *extremes)
    return Ranged(value=value.value, low=min(one.low for one in every), high=max(one.high for one in every))


def _viewer(design: Design, case: Case, who: str, found: Found) -> ViewerRecord:
    eye, lit = case.eyes[who], case.setting.strip is not None
    return ViewerRecord(
        incidence_deg=eye.incidence_deg,
        **{name: _scalar(found[name]) for name in SCALARS if name in found},
        echoes=_echoes(found) if case.setting.screen else None,
        light_wall=lateral(case.setting, eye)[0] if lit else None,
        light_images=_images(found) if lit else None,
        diodes_merge_from_mm=merging_distance_mm(pitch_mm=design.facts.light.pitch) if lit else None,
        picture_share=_share(design, who),
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
        )
        for m in range(most)
        if f"light/{m}/x" in found
    )


def _share(design: Design, who: str) -> ScalarRecord | None:
    name = f"seen.{who}"
    if name not in design.ledger:
        return None
    share, worst = design.ledger[name], tolerance(design.ledger, name).worst_mm
    return ScalarRecord(value=share, low=max(share - worst, 0.0), high=min(share + worst, 1.0))
