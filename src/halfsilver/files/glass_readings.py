"""``glass_readings.csv``: what a lux or luminance meter read with and without a sheet, turned into cells of ``glass.csv``.

The file may be absent. What was measured stands for what is printed, also where the cell is empty.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from halfsilver.errors import RangeError
from halfsilver.files.folder import Reading, Table, text_at
from halfsilver.files.located import Entry, MappingNode, Place, ScalarNode
from halfsilver.model.glass_readings import GlassReading, Measured, MeasuredGlass, MeasuredShare
from halfsilver.model.workshop import GlassKind
from halfsilver.optics.meter import Uncertain, mean_of, meter_ratio, within_one
from halfsilver.units.words import nearest_word

NAME: Final = "glass_readings.csv"
_OfOne = dict[Measured, list[tuple[MappingNode, Uncertain]]]


@dataclass(slots=True)
class Measurements:
    """The readings of a workshop: what they give for each sheet, and the cells that they fill."""

    file: str = ""
    by_glass: dict[str, MeasuredGlass] = field(default_factory=dict)
    rows: dict[str, MappingNode] = field(default_factory=dict)

    @property
    def cells(self) -> Mapping[str, Mapping[str, str]]:
        """Text for the columns of ``glass.csv``, by id."""
        return {name: _cells(found) for name, found in self.by_glass.items()}


def measurements(reading: Reading) -> Measurements:
    """What the file of readings gives; notes every row that cannot be, and sheets that give more light than falls on them."""
    if not (reading.folder / NAME).exists():
        return Measurements()
    table = reading.table(NAME, GlassReading)
    read: dict[str, _OfOne] = {}
    for row, value in table.pairs():
        share = _share(reading, table.file, row, value)
        if share is not None:
            read.setdefault(value.glass, {}).setdefault(value.quantity, []).append((row, share))
    rows = {name: next(iter(by.values()))[0][0] for name, by in read.items()}
    return Measurements(
        file=table.file, rows=rows,
        by_glass={name: _glass(reading, table.file, name, by) for name, by in read.items()},
    )  # fmt: skip


def _share(reading: Reading, file: str, row: MappingNode, value: GlassReading) -> Uncertain | None:
    if value.quantity is Measured.T and "reference" in {entry.key for entry in row.entries} and value.reference < 1:
        words = "A transmittance is read with and without the sheet; no mirror is in the way."
        reading.note(
            "reference-for-t", file, row.get("reference"), f"{value.glass}.reference", allowed=words, advice="Leave the cell empty."
        )
        return None
    try:
        found = meter_ratio(
            sheet=value.sheet, bare=value.bare, dark=value.dark, meter=value.meter, step=value.step,
            reference=value.reference, reference_limit=value.reference_error,
        )  # fmt: skip
    except RangeError as error:
        reading.note("reading-cannot-be", file, row.get(error.path) or row, value.glass, allowed=str(error), advice="Read it again.")
        return None
    if found.value < -found.expanded or found.value > 1 + found.expanded:
        words = (
            f"{value.quantity.value} would be {100 * found.value:.1f} % +- {100 * found.expanded:.1f} %; a share lies between 0 and 100 %."
        )
        advice = "Look whether the lamp was steady and the readings stand in their columns."
        reading.note("reading-cannot-be", file, row.get("sheet"), value.glass, allowed=words, advice=advice)
        return None
    return replace(found, value=min(max(found.value, 0.0), 1.0))


def _glass(reading: Reading, file: str, name: str, by: _OfOne) -> MeasuredGlass:
    """Means of one sheet, T and R brought to a sum of at most 1 where their uncertainty lets them."""
    means = {quantity: mean_of([share for _, share in each]) for quantity, each in by.items()}
    values = {quantity: mean.value for quantity, mean in means.items()}
    over = 0.0
    for side in (Measured.R_COATED, Measured.R_PLAIN):
        if Measured.T in means and side in means:
            T, R = means[Measured.T], means[side]
            fitted = within_one(T, R)
            if fitted is None:
                row = by[side][0][0]
                _note_gain(reading, file, row, f"{name}.{side.value}", T, R)
            # Beyond mending it is a problem already; what else is read must not complain of it again.
            values[side] = fitted[1] if fitted else max(1 - T.value, 0.0)
            values[Measured.T] = min(values[Measured.T], fitted[0] if fitted else T.value)
            over = max(over, T.value + R.value - 1)
    told = {one.value: MeasuredShare(value=values[one], expanded=mean.expanded, readings=len(by[one])) for one, mean in means.items()}
    return MeasuredGlass(**told, over=over)


def _note_gain(reading: Reading, file: str, row: MappingNode, path: str, T: Uncertain, R: Uncertain) -> None:
    words = (
        f"T and R together are at most 100 %; measured are {100 * T.value:.1f} +- {100 * T.expanded:.1f} % and "
        f"{100 * R.value:.1f} +- {100 * R.expanded:.1f} %, more than their uncertainty allows."
    )
    advice = "Read again: a steady lamp, the same distance, no light past the sheet, the true reflectance of the mirror."
    reading.note("more-light-than-falls-on-it", file, row.get("sheet"), path, allowed=words, advice=advice)


def _cells(found: MeasuredGlass) -> dict[str, str]:
    shares = {"T": found.T, "R_coated": found.R_coated, "R_plain": found.R_plain}
    cells = {name: _percent(share.value) for name, share in shares.items() if share is not None}
    if found.T is not None:
        cells["t_uncertainty"] = _percent(found.T.expanded)
    if found.R_coated is not None and found.R_plain is not None:
        cells["uncertainty"] = _percent(max(found.R_coated.expanded, found.R_plain.expanded))
    return cells


def _percent(share: float) -> str:
    return f"{100 * share:.10f} %"


def filled(row: MappingNode, cells: Mapping[str, str]) -> MappingNode:
    """A row of ``glass.csv`` with measured cells in the place of printed or empty ones."""
    kept = tuple(entry for entry in row.entries if entry.key not in cells)
    return replace(row, entries=(*kept, *(_entry(row, key, text) for key, text in cells.items())))


def _entry(row: MappingNode, key: str, text: str) -> Entry:
    old = row.get(key)
    place: Place = old.start if old is not None else row.start
    return Entry(key=key, place=place, value=ScalarNode(text=text, quoted=False, start=place, end=place))


def check_readings(reading: Reading, found: Measurements, glass: Table[GlassKind]) -> None:
    """Note each reading of a sheet that is not in the catalogue."""
    for name, row in found.rows.items():
        if name not in glass.ids and glass.whole:
            near = nearest_word(name, list(glass.ids))
            advice = f"Did you mean {near}?" if near else "Give the sheet a row in glass.csv; its T and R may stay empty."
            words = "A reading belongs to a sheet of glass.csv."
            reading.note("not-in-catalogue", found.file, row.get("glass"), text_at(row, "glass"), allowed=words, advice=advice)
