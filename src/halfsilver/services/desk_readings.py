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
from halfsilver.services.measuring import moved, reading_of
from halfsilver.store.values import ConflictError, State

INCH_MM: Final = 25.4
NEAR_MM: Final = 2.0  # as near as a reading is to its plan when nothing went wrong: assumed
FAR_MM, FAR_SHARE = 8.0, 0.01  # further from the plan than any saw goes astray: assumed
SMALL_SHARE: Final = 0.15  # of a small size, such as a thickness: assumed
MOST_FAR_MM: Final = 20.0  # less than an inch, so that a slip of one is seen on any length
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
    if token and (known := _written_before(desk, record, token, name=name, value=value, at=at)):
        return known
    with desk.turn(record):
        for _ in range(MOST_TRIES):
            try:
                return _taken(desk, record, name=name, value=value, at=at, by=by, when=when, sure=sure, token=token)
            except ConflictError:  # another program on the same store was quicker: read it anew
                continue
    raise StoreError("Too many readings come at once. This one was not written; send it again.")


def _taken(desk: Desk, record: str, *, name: str, value: str, at: str, by: str, when: str, sure: bool, token: str) -> Taken:
    head = desk.head(record)
    before = desk.reckoned(head)
    reading = reading_of(before.design, name=name, value=value, at=at, by=by or None, when=when or desk.now()[:10])
    doubts = () if sure else tuple(doubts_of(before.design, name, reading.value, before.show))
    if doubts:
        return Taken(state=None, reading=reading, doubts=doubts)
    text = append_reading(desk.text(head), reading, units=before.loaded.job.units.value, value=value, file=JOB)
    after = desk.reckoned_text(text, beside=head.files).design
    held = desk.store.content(head)
    content = replace(held, files={**held.files, JOB: text.encode()})
    place = f" at {at}" if at else ""
    made = desk.made(by, "measured", f"{name}{place}: {value}", token=token)
    state = desk.store.append(record, content, made, based_on=head.number)
    return Taken(state=state, reading=reading, lines=tuple(line.strip() for line in moved(before.design, after, before.show)))


def _written_before(desk: Desk, record: str, token: str, *, name: str, value: str, at: str) -> Taken | None:
    """What was said when this very reading was written down; None where it was not yet."""
    state = desk.store.written(token)
    if state is None or state.record != record:
        return None
    before, after = desk.reckoned(desk.store.state(record, state.number - 1)), desk.reckoned(state)
    reading = reading_of(before.design, name=name, value=value, at=at, by=state.made.by, when=state.made.at[:10])
    return Taken(state=state, reading=reading, lines=tuple(line.strip() for line in moved(before.design, after.design, before.show)))


def planned_mm(design: Design, name: str) -> float:
    """What an entry was to be before it was measured. [mm]"""
    return design.ledger.planned.get(name, design.ledger[name])


def far_mm(planned: float) -> float:
    """How far from its plan a reading is questioned. [mm]

    Examples
    --------
    >>> far_mm(6.0), far_mm(300.0), far_mm(1200.0), far_mm(3000.0)
    (2.0, 8.0, 12.0, 20.0)
    """
    return min(max(FAR_MM, FAR_SHARE * abs(planned)), max(NEAR_MM, SMALL_SHARE * abs(planned)), MOST_FAR_MM)


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
    planned = planned_mm(design, name)
    off = value_mm - planned
    if abs(off) <= far_mm(planned):
        return
    said = f"{show(value_mm, 'mm')} was read, {show(planned, 'mm')} is due."
    for factor, words in ((INCH_MM, "inches written as millimetres"), (10.0, "centimetres written as millimetres")):
        for meant in (value_mm * factor, value_mm / factor):
            if abs(meant - planned) <= max(NEAR_MM, 0.005 * planned):
                turned = words if meant > value_mm else " written as ".join(reversed(words.split(" written as ")))
                yield Doubt(code="other-unit", said=f"{said} Was it {turned}?", meant=show(meant, "mm"))
                return
    across = _across(name)
    if across != name and across in design.ledger and abs(value_mm - planned_mm(design, across)) <= NEAR_MM:
        swapped = "Long and short" if name.endswith((".long", ".short")) else "Width and height"
        yield Doubt(code="swapped", said=f"{said} That is what {design.ledger.entries[across].label} should be. {swapped} swapped?")
        return
    inches = round(off / INCH_MM)
    if 1 <= abs(inches) <= 12 and abs(off - inches * INCH_MM) <= NEAR_MM:
        slip = "one inch" if abs(inches) == 1 else f"{abs(inches)} inches"
        yield Doubt(code="inch-slip", said=f"{said} A slip of {slip}?", meant=show(value_mm - inches * INCH_MM, "mm"))
        return
    yield Doubt(code="far-off", said=f"{said} That is {show(abs(off), 'mm')} away. Read it once more.")


def _across(name: str) -> str:
    """The entry of the other direction, or of the other pair; the name itself where there is none."""
    pairs = ((".width", ".height"), (".height", ".width"), (".long", ".short"), (".short", ".long"))
    return next((name.removesuffix(one) + other for one, other in pairs if name.endswith(one)), name)
