"""A reading taken in the shop: appended to the job, and what moved because of it told in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from halfsilver.errors import JobError, Problem, QuantityError
from halfsilver.files.edit import append_reading, edit_file
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind
from halfsilver.ledger.shown import Show
from halfsilver.model.job import Reading
from halfsilver.services.load import Loaded, load, name_problem, resolve, value_problem
from halfsilver.units.quantities import read_quantity

MOST_MOVED = 12


def append(
    job: str, *, name: str, value: str, at: str = "", by: str | None = None, when: str | None = None, workshop: str | None = None
) -> Iterator[str]:
    """Append one reading to a job file and say what it moved.

    Parameters
    ----------
    job : str
        Path of the job file; only the reading is added, everything else stays byte for byte.
    name, value : str
        The entry, and what was read, with its unit.
    at, by, when : str
        Place, person and date of the reading.
    workshop : str, optional
        Folder of the workshop.

    Yields
    ------
    str
        Lines for a person.

    Raises
    ------
    JobError
        If the name cannot carry a reading, or the value cannot be read. The file is untouched then.
    """
    loaded = load(job, workshop=workshop)
    reading, before, after = _with_reading(loaded, name=name, value=value, at=at, by=by, when=when)
    show = loaded.show
    edit_file(job, lambda text: append_reading(text, reading, units=loaded.job.units.value, value=value, file=job))
    place = f" at {at}" if at else ""
    yield f"{name}{place}: {show(reading.value, 'mm')} read, {show(after.ledger.planned[name], 'mm')} planned."
    yield from moved(before, after, show)


def measured_text(
    loaded: Loaded, *, name: str, value: str, at: str = "", by: str | None = None, when: str | None = None
) -> tuple[str, tuple[str, ...]]:
    """The text of a job with one more reading, and what it moved in words (parameters and errors as `append`)."""
    reading, before, after = _with_reading(loaded, name=name, value=value, at=at, by=by, when=when)
    text = append_reading(loaded.text, reading, units=loaded.job.units.value, value=value, file=loaded.file)
    return text, tuple(line.strip() for line in moved(before, after, loaded.show))


def _with_reading(loaded: Loaded, *, name: str, value: str, at: str, by: str | None, when: str | None) -> tuple[Reading, Design, Design]:
    """A reading, and the designs without and with it."""
    before = resolve(loaded)
    reading = reading_of(before, name=name, value=value, at=at, by=by, when=when)
    return reading, before, resolve(replace(loaded, job=replace(loaded.job, measured=(*loaded.job.measured, reading))))


def reading_of(design: Design, *, name: str, value: str, at: str, by: str | None, when: str | None) -> Reading:
    """A reading of an entry, as written (parameters and errors as `append`)."""
    problems = [problem for problem in [name_problem(design.ledger, name)] if problem]
    read_mm: float = 0.0
    for kind, text, path in (("length", value, "VALUE"), ("date", when, "--when")):
        try:
            if text is not None:
                found = read_quantity(kind, text)
                read_mm = found if kind == "length" else read_mm
        except QuantityError as error:
            problems.append(error.at(file="", line=0, column=0, path=path))
    for text, path in ((at, "--at"), (by or "", "--by")):
        if len(text) > 60 or any(ord(letter) < 32 for letter in text):
            problems.append(
                Problem(
                    code="too-long", path=path, read=text[:60], allowed="At most 60 characters in one line.", advice="Write it shorter."
                )
            )
    if not problems and (problem := value_problem(name, read_mm)):
        problems.append(replace(problem, path="VALUE"))
    if problems:
        raise JobError(problems)
    return Reading(name=name, value=read_mm, at=at, by=by, when=when)


def moved(before: Design, after: Design, show: Show) -> Iterator[str]:
    """What changed between two designs of one job, targets only, in a maker's words.

    Yields
    ------
    str
        One line per entry that moved in print; the last say how many more did, and how many by less than is printed.
    """
    changed = [
        entry
        for name, entry in after.ledger.entries.items()
        if entry.kind is Kind.TARGET
        and entry.unit == "mm"
        and name in before.ledger
        and abs(after.ledger[name] - before.ledger[name]) > 0.005
    ]
    told = [
        f"  {entry.label}: {was} -> {now}"
        for entry in changed
        if (was := show(before.ledger[entry.name], "mm")) != (now := show(after.ledger[entry.name], "mm"))
    ]
    yield from told[:MOST_MOVED]
    if len(told) > MOST_MOVED:
        yield f"  and {len(told) - MOST_MOVED} more"
    if hidden := len(changed) - len(told):
        yield f"  {hidden} {'more ' if told else ''}by less than is printed"
    if not changed:
        yield "  Nothing else moves."
