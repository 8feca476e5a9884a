"""A workshop's folder: read with every mistake of every file at once, and copied as a beginning.

The head file and the measured screens are YAML, the catalogues are tables (see :mod:`halfsilver.files.rows`); one decoder reads both.
What names something in another file is held against it in :mod:`halfsilver.files.crosscheck`.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.crosscheck import (
    ProfilePoint,
    check_glass,
    check_habits,
    check_ids,
    check_labour,
    check_screens,
    check_stock,
    outlines_of,
)
from halfsilver.files.edid_beside import with_blocks
from halfsilver.files.films import check_films
from halfsilver.files.folder import Reading, Table, text_at
from halfsilver.files.glass_readings import check_readings, filled, measurements
from halfsilver.model.workshop import (
    GlassKind,
    Hardware,
    Labour,
    LightKind,
    MeasuredScreen,
    Moulding,
    Rate,
    StockSize,
    Supply,
    Workshop,
    WorkshopFile,
)

DEFAULT: Final = Path(__file__).resolve().parents[1] / "data" / "workshop"
FILES: Final = (
    "README.txt", "workshop.yaml", "glass.csv", "glass_readings.csv", "mouldings.csv", "profiles.csv", "lights.csv", "supplies.csv",
    "hardware.csv", "stock.csv", "labour.csv", "rates.csv", "screens.yaml",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreensFile:
    """The screens measured so far: ``screens.yaml``."""

    halfsilver: str = field(metadata={"doc": "kind and version of the file: `screens/1`"})
    screens: tuple[MeasuredScreen, ...] = field(metadata={"doc": "measured screens"}, default=())


def read_workshop(folder: Path | None = None) -> Workshop:
    """The workshop in a folder.

    Parameters
    ----------
    folder : Path, optional
        Where its files are; without it, the invented workshop that comes with the program.

    Raises
    ------
    JobError
        With the problems of all its files, each with its place.
    """
    folder = DEFAULT if folder is None else folder
    if not folder.is_dir():
        raise _refused("folder-missing", folder, "There is no such folder.", "Write one with `halfsilver workshop copy DIR`.")
    reading = Reading(folder)
    workshop = _gather(reading)
    if reading.problems or workshop is None:
        raise JobError(reading.problems)
    return workshop


def copy_workshop(folder: Path) -> list[Path]:
    """Write the files of the invented workshop into a folder, as a beginning for one's own.

    Returns
    -------
    list of Path
        The files written.

    Raises
    ------
    JobError
        If one of them stands there already (then nothing is written), or the folder cannot be written.
    """
    targets = [folder / name for name in FILES]
    if standing := [path for path in targets if path.exists() or path.is_symlink()]:
        words = "This file is there already and is not overwritten."
        raise JobError(problem for path in standing for problem in _refused("file-exists", path, words, "Name a new folder.").problems)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path in targets:
            with path.open("xb") as stream:
                stream.write((DEFAULT / path.name).read_bytes())
    except OSError as error:
        raise _refused("folder-forbidden", folder, f"The folder cannot be written ({error.strerror}).", "Name another folder.") from None
    return targets


def _gather(reading: Reading) -> Workshop | None:
    tree, head = reading.document("workshop.yaml", WorkshopFile, kind="workshop/1")
    meter = measurements(reading)
    cells = meter.cells
    glass = reading.table("glass.csv", GlassKind, mend=lambda row: filled(row, cells.get(text_at(row, "id"), {})))
    mouldings = reading.table("mouldings.csv", Moulding, units={"across": "1/%"})
    points = reading.table("profiles.csv", ProfilePoint)
    lights = reading.table("lights.csv", LightKind, units={"flux": "lm/m", "density": "kg/m", "rails": "ohm/m"})
    supplies = reading.table("supplies.csv", Supply)
    hardware = reading.table("hardware.csv", Hardware)
    stock = reading.table("stock.csv", StockSize, units={"price": head.currency} if head is not None else {})
    labour = reading.table("labour.csv", Labour)
    rates = reading.table("rates.csv", Rate, units={"hour": head.currency} if head is not None else {})
    screens_tree, screens = reading.document("screens.yaml", ScreensFile, kind="screens/1")

    things: tuple[Table[Any], ...] = (glass, mouldings, lights, supplies, hardware)
    check_ids(reading, (*things, stock))
    check_labour(reading, labour, rates)
    check_glass(reading, glass)
    check_readings(reading, meter, glass)
    check_films(reading, glass)
    outlines = outlines_of(reading, mouldings, points)
    check_stock(reading, stock, things)
    check_habits(reading, tree, hardware, stock)
    check_screens(reading, screens_tree)
    read = with_blocks(reading, screens_tree, screens.screens) if screens is not None else ()
    if reading.problems or head is None or screens is None:
        return None
    return Workshop(
        head=head,
        glass={name: replace(kind, readings=meter.by_glass.get(name)) for name, kind in glass.by_id().items()},
        mouldings={name: replace(moulding, profile=outlines[name]) for name, moulding in mouldings.by_id().items()},
        lights=lights.by_id(),
        supplies=supplies.by_id(),
        hardware=hardware.by_id(),
        stock=stock.by_id(),
        labour=labour.by_id(),
        rates=rates.by_id(),
        screens={screen.id: screen for screen in read},
    )


def _refused(code: str, path: Path, allowed: str, advice: str) -> JobError:
    return JobError([Problem(code=code, file=str(path), allowed=allowed, advice=advice)])
