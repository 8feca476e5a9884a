"""Readings taken in the shop: questioned when they look like a slip, written down once, and what moved is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from halfsilver.errors import StoreError
from halfsilver.files.edit import append_reading
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.job import Reading
from halfsilver.services.desk import JOB, Desk
from halfsilver.services.load import resolve
from halfsilver.services.measuring import moved, reading_of
from halfsilver.store.values import ConflictError, State

INCH_MM: Final = 25.4
NEAR_MM: Final = 2.0  # as near as a reading is to its plan when nothing went wrong: assumed
FAR_MM, FAR_SHARE = 8.0, 0.01  # further from the plan than any saw goes astray: assumed
MOST_TRIES: Final = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Why a reading looks like a slip.

    Parameters
    ----------
    code : str
        ``inch-slip``, ``other-unit``, ``swapped`` or ``far-off``.
    said : str
        The question, in words.
    meant : str
        What was perhaps meant, in the job's units; empty where nobody can tell.
    """

    code: str
    said: str
    meant: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A reading that was written down, or is questioned first.

    Parameters
    ----------
    state : State or None
        The state that holds it; None while it is questioned.
    reading : Reading
        What was read.
    doubts : tuple of Doubt
        Why it is questioned.
    lines : tuple of str
        What moved because of it.
    """

    state: State | None
    reading: Reading
    doubts: tuple[Doubt, ...] = ()
    lines: tuple[str, ...] = ()


def take_reading(
    desk: Desk, record: str, *, name: str, value: str, at: str = "", by: str = "", when: str = "", sure: bool = False, token: str = ""
) -> Taken:
    """Append a reading to the newest state of a job: readings add up, so nobody has to choose between two of them.

    Parameters
    ----------
    desk : Desk
        Where.
    record : str
        The job.
    name, value, at, when : str
        The entry, what was read with its unit, the place and the date.
    by : str
        Who read it.
    sure : bool
        Whether a doubtful reading was confirmed.
    token : str
        Key of this reading: sent twice, it is written down once.

    Raises
    ------
    JobError
        If the name cannot carry a reading, or the value cannot be read.
    StoreError
        If it cannot be written.
    """
    for _ in range(MOST_TRIES):
        head = desk.head(record)
        before = desk.reckoned(head)
        reading = reading_of(before.design, name=name, value=value, at=at, by=by or None, when=when or desk.now()[:10])
        doubts = () if sure else tuple(doubts_of(before.design, name, reading.value, before.show))
        if doubts:
            return Taken(state=None, reading=reading, doubts=doubts)
        after = resolve(replace(before.loaded, job=replace(before.loaded.job, measured=(*before.loaded.job.measured, reading))))
        text = append_reading(desk.text(head), reading, units=before.loaded.job.units.value, value=value, file=JOB)
        held = desk.store.content(head)
        content = replace(held, files={**held.files, JOB: text.encode()})
        place = f" at {at}" if at else ""
        made = desk.made(by, "measured", f"{name}{place}: {value}", token=token)
        try:
            state = desk.store.append(record, content, made, based_on=head.number)
        except ConflictError:
            continue
        return Taken(state=state, reading=reading, lines=tuple(line.strip() for line in moved(before.design, after, before.show)))
    raise StoreError("Too many readings come at once. This one was not written; send it again.")


def doubts_of(design: Design, name: str, value_mm: float, show: Show) -> Iterator[Doubt]:
    """Why a reading looks like a slip: nothing, or the likeliest cause.

    Parameters
    ----------
    design : Design
        The job as it stands.
    name : str
        The entry.
    value_mm : float
        What was read. [mm]
    show : callable
        Writes values in the job's units.
    """
    planned = design.ledger[name]
    off = value_mm - planned
    if abs(off) <= max(FAR_MM, FAR_SHARE * abs(planned)):
        return
    said = f"{show(value_mm, 'mm')} was read, {show(planned, 'mm')} is due."
    for factor, words in ((INCH_MM, "inches written as millimetres"), (10.0, "centimetres written as millimetres")):
        for meant in (value_mm * factor, value_mm / factor):
            if abs(meant - planned) <= max(NEAR_MM, 0.005 * planned):
                turned = words if meant > value_mm else " written as ".join(reversed(words.split(" written as ")))
                yield Doubt(code="other-unit", said=f"{said} Was it {turned}?", meant=show(meant, "mm"))
                return
    across = name.replace(".width", ".height") if ".width" in name else name.replace(".height", ".width")
    if across != name and across in design.ledger and abs(value_mm - design.ledger[across]) <= NEAR_MM:
        yield Doubt(code="swapped", said=f"{said} That is what {design.ledger.entries[across].label} should be. Width and height swapped?")
        return
    inches = round(off / INCH_MM)
    if 1 <= abs(inches) <= 12 and abs(off - inches * INCH_MM) <= NEAR_MM:
        slip = "one inch" if abs(inches) == 1 else f"{abs(inches)} inches"
        yield Doubt(code="inch-slip", said=f"{said} A slip of {slip}?", meant=show(value_mm - inches * INCH_MM, "mm"))
        return
    yield Doubt(code="far-off", said=f"{said} That is {show(abs(off), 'mm')} away. Read it once more.")
