"""The viewing zone: from where in the room how much of the picture is seen, what hides the rest, and what shows that should not."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from halfsilver.geometry.openings import SIDES, Aperture, Seen, seen_through
from halfsilver.layout.design import Design
from halfsilver.layout.zone import aperture_of
from halfsilver.model.appearance import SightRecord, ZoneRecord

Real = NDArray[np.float64]
COLUMNS, ROWS, EVERY = 61, 45, 4
LEAST_HALF_WIDTH_MM, LEAST_DEPTH_MM, NEAREST_MM = 2500.0, 4000.0, 50.0
BEYOND_VIEWERS = 1.25
LEAST_SHOWN_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Zone:
    """Share of the picture over the room in plan, at one height of the eye.

    Parameters
    ----------
    sideways_mm, distance_mm : array
        Columns to the right of the middle, rows before the face. [mm]
    up_mm : float
        The eyes above the middle of the piece. [mm]
    share : array, shape (rows, columns)
        Share seen. [-]
    limit : array of int, shape (rows, columns)
        What hides most: ``len(SIDES)`` times the opening plus the side.
    labels : tuple of str
        Of what ``limit`` names, in its order.
    """

    sideways_mm: Real
    distance_mm: Real
    up_mm: float
    share: Real
    limit: NDArray[np.intp]
    labels: tuple[str, ...]


def zone_of(design: Design) -> Zone | None:
    """The zone of a design at its first viewer's eye height, wide and deep enough for all viewers; None where there is no picture."""
    aperture = aperture_of(design)
    if aperture is None:
        return None
    eyes = _eyes(design)
    half = max(LEAST_HALF_WIDTH_MM, BEYOND_VIEWERS * max((abs(x) for x, _, _ in eyes.values()), default=0.0))
    depth = max(LEAST_DEPTH_MM, BEYOND_VIEWERS * max((z for _, _, z in eyes.values()), default=0.0))
    up = next((y for _, y, _ in eyes.values()), 0.0)
    half, depth = 500.0 * ceil(half / 500.0), 500.0 * ceil(depth / 500.0)
    return zone(aperture, sideways_mm=np.linspace(-half, half, COLUMNS), distance_mm=np.linspace(NEAREST_MM, depth, ROWS), up_mm=up)


def zone(aperture: Aperture, *, sideways_mm: Real, distance_mm: Real, up_mm: float) -> Zone:
    """The zone over a grid of the room."""
    x, z = np.meshgrid(sideways_mm, distance_mm)
    seen = seen_through(aperture, np.stack((x.ravel(), np.full(x.size, up_mm), z.ravel())))
    side = seen.worst_side()
    limit = len(SIDES) * seen.limit[side, np.arange(side.size)] + side
    labels = tuple(f"{opening.label}, {name}" for opening in aperture.openings for name in SIDES)
    return Zone(
        sideways_mm=sideways_mm, distance_mm=distance_mm, up_mm=up_mm, share=seen.share.reshape(x.shape),
        limit=limit.reshape(x.shape), labels=labels,
    )  # fmt: skip


def zone_record(found: Zone) -> ZoneRecord:
    """Every fourth row and column of a zone, as JSON shows it."""
    share, limit = found.share[::EVERY, ::EVERY], found.limit[::EVERY, ::EVERY]
    used = sorted({found.labels[k] for k in limit.ravel()})
    return ZoneRecord(
        up_mm=round(found.up_mm, 3),
        sideways_mm=tuple(round(float(x), 1) for x in found.sideways_mm[::EVERY]),
        distance_mm=tuple(round(float(z), 1) for z in found.distance_mm[::EVERY]),
        share=tuple(tuple(round(float(one), 4) for one in row) for row in share),
        limits=tuple(used),
        limited_by=tuple(tuple(used.index(found.labels[k]) for k in row) for row in limit),
    )


def sights_of(design: Design) -> dict[str, tuple[float, tuple[SightRecord, ...]]]:
    """For each viewer: the share of the picture seen, and on each side what ends sight and what shows beside the picture."""
    aperture, eyes = aperture_of(design), _eyes(design)
    if aperture is None or not eyes:
        return {}
    seen = seen_through(aperture, np.array(list(eyes.values())).T)
    return {who: (float(seen.share[k]), _sides(design, aperture, seen, k)) for k, who in enumerate(eyes)}


def _sides(design: Design, aperture: Aperture, seen: Seen, eye: int) -> tuple[SightRecord, ...]:
    return tuple(
        SightRecord(
            side=side,
            part=aperture.openings[int(seen.limit[k, eye])].label,
            beyond_mm=round(float(seen.border_mm[k, eye]), 3),
            shows=_shows(design, side, float(seen.border_mm[k, eye])),
        )
        for k, side in enumerate(SIDES)
    )


def _shows(design: Design, side: str, beyond_mm: float) -> str:
    """What is seen beside the picture: its border, then the backing where there is one, else the inside of the frame."""
    if beyond_mm <= LEAST_SHOWN_MM:
        return "nothing"
    if beyond_mm <= design.ledger[f"screen.border.{side}"] + LEAST_SHOWN_MM:
        return "border"
    return "backing" if "backing.width" in design.ledger else "inside"


def _eyes(design: Design) -> dict[str, tuple[float, float, float]]:
    ledger = design.ledger.values
    return {
        viewer.id: (ledger[f"viewer.{viewer.id}.sideways"], ledger[f"viewer.{viewer.id}.up"], ledger[f"viewer.{viewer.id}.distance"])
        for viewer in design.facts.job.viewers
        if f"viewer.{viewer.id}.distance" in ledger
    }
