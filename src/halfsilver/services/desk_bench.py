"""The bench: a job's build steps one by one, what was read at each, and which are done.

A step that is ticked off, and a size that is only checked because nothing follows from it, are states of the job like every change: the
history holds them, and they are read back from there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Final

from halfsilver.documents.sizes import Sizes
from halfsilver.documents.steps_sheet import time_text
from halfsilver.documents.words import sentence
from halfsilver.errors import JobError, Problem, QuantityError, RenderError, StoreError
from halfsilver.making.steps.build import build_steps
from halfsilver.model.job import Reading, Units
from halfsilver.model.making import Checkpoint, Step
from halfsilver.services.desk import Desk
from halfsilver.services.desk_readings import MOST_TRIES, Taken, doubts_of, far_mm, planned_mm, take_reading
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.load import is_measurable, resolve
from halfsilver.store.values import ConflictError, State
from halfsilver.units.quantities import read_quantity

STEP, CHECKED = "step", "checked"
DONE, OPEN = "done", "open again"
RULE_MM: Final = 0.5  # what is read off a rule divided in millimetres
FINE_MM: Final = 0.1  # what is read off a gauge
ROOMS_MM: Final = ((128.0, 96.0), (205.0, 150.0))  # of paper: the smaller, the larger the lettering on the same screen
FINE_LIMIT_MM: Final = 0.4  # a size that may be off by less is read with a gauge


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A reading that stands in a box."""

    shown: str
    by: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A place at which a size is read; ``place`` is empty where there is only one."""

    place: str
    kept: Kept | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """The rule that readings are tapped on.

    Parameters
    ----------
    unit : str
        ``in`` or ``mm``.
    step : float
        One division, in that unit.
    parts : int
        Divisions of an inch; 0 on a rule of millimetres.
    """

    unit: str
    step: float
    parts: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One size to read.

    Parameters
    ----------
    name, label : str
        The entry.
    due, limit : str
        What it should be, and how far off it may be, in the job's units.
    due_mm, limit_mm, far_mm : float
        The same, and how far off a reading is questioned. [mm]
    moves : bool
        Whether a reading takes the plan's place; else it is only checked.
    boxes : tuple of Box
        Where it is read.
    rule : Rule
        What it is read with.
    """

    name: str
    label: str
    due: str
    limit: str
    due_mm: float
    limit_mm: float
    far_mm: float
    moves: bool
    boxes: tuple[Box, ...]
    rule: Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """A step that has to be done before: whether it is, and until when it rests (ISO 8601; empty if it does not)."""

    id: str
    number: int
    title: str
    done: bool
    rests_until: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One step as the bench shows it.

    Parameters
    ----------
    step : Step
        What is done.
    number : int
        1 for the first.
    parts : str
        Names of the parts.
    work, wait : str
        Minutes in words; ``wait`` is empty where nothing has to rest.
    points : tuple of Point
        What is read.
    before : tuple of Before
        What has to be done before.
    done : str
        Who ticked it off and when, in words; empty while it is open.
    """

    step: Step
    number: int
    parts: str
    work: str
    wait: str
    points: tuple[Point, ...]
    before: tuple[Before, ...]
    done: str = ""

    @property
    def left(self) -> tuple[Before, ...]:
        """What should have been done before and is not, or still rests."""
        return tuple(one for one in self.before if not one.done or one.rests_until)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the history tells of the bench: which steps are done, and what was checked."""

    done: Mapping[str, State] = field(default_factory=dict)
    checked: Mapping[tuple[str, str], tuple[str, State]] = field(default_factory=dict)


def cards(desk: Desk, state: State) -> tuple[Card, ...]:
    """Every step of a job, in the order in which they are done.

    Parameters
    ----------
    desk : Desk
        Where the job is kept.
    state : State
        The state that stands.

    Raises
    ------
    JobError, NoDesignError
        If there is no design, or the labour table lacks an operation.
    """
    reckoned, marks = desk.reckoned(state), marks_of(desk.store.history(state.record))
    steps, limits = build_steps(reckoned.design), _limits(reckoned)
    numbers = {step.id: number for number, step in enumerate(steps, start=1)}
    by_id = {step.id: step for step in steps}
    names = {part.id: part.name.partition(", mitred")[0] for part in reckoned.design.parts}

    def befores(step: Step) -> Iterator[Before]:
        for name in sorted((name for name in step.after if name in numbers), key=numbers.__getitem__):
            made = marks.done[name].made.at if name in marks.done else ""
            rests = _until(made, by_id[name].wait_min, desk.now()) if made else ""
            yield Before(id=name, number=numbers[name], title=by_id[name].title, done=bool(made), rests_until=rests)

    def card(step: Step) -> Card:
        made = marks.done[step.id].made if step.id in marks.done else None
        return Card(
            step=step, number=numbers[step.id], parts=sentence("; ".join(names.get(part, part) for part in step.parts)),
            work=time_text(step.work_min), wait=time_text(step.wait_min) if step.wait_min else "",
            points=tuple(_point(reckoned, point, limits, marks) for point in step.checkpoints), before=tuple(befores(step)),
            done=f"{made.at} {made.by}" if made else "",
        )  # fmt: skip

    return tuple(card(step) for step in steps)


def marks_of(history: Sequence[State]) -> Marks:
    """What a job's history tells of the bench; the later word counts."""
    done: dict[str, State] = {}
    checked: dict[tuple[str, str], tuple[str, State]] = {}
    for state in history:
        name, _, said = state.made.words.partition(": ")
        if state.made.what == STEP:
            done.pop(name, None)
            if said == DONE:
                done[name] = state
        elif state.made.what == CHECKED:
            entry, _, place = name.partition(" at ")
            checked[entry, place] = (said, state)
    return Marks(done=done, checked=checked)


def tick(desk: Desk, record: str, step: str, *, done: bool, by: str, token: str = "") -> State:
    """Tick a step off, or open it again; what stands so already is left as it is.

    Raises
    ------
    JobError
        If the job has no such step.
    StoreError
        If it cannot be written.
    """
    if step not in {one.id for one in build_steps(desk.reckoned(desk.head(record)).design)}:
        raise JobError([Problem(code="unknown-step", path="step", read=step[:40], allowed="The job has no such step (any more).")])

    def needed(head: State) -> bool:
        return (step in marks_of(desk.store.history(head.record)).done) is not done

    return _noted(desk, record, STEP, f"{step}: {DONE if done else OPEN}", by=by, token=token, needed=needed)


def take(
    desk: Desk, record: str, *, name: str, value: str, at: str = "", by: str = "", when: str = "", sure: bool = False, token: str = ""
) -> Taken:
    """Write down what was read: as a reading that takes the plan's place, or as a check where nothing follows (as `take_reading`)."""
    reckoned = desk.reckoned(desk.head(record))
    ledger = reckoned.design.ledger
    if name not in ledger or is_measurable(ledger, name) or name not in _named(reckoned):
        return take_reading(desk, record, name=name, value=value, at=at, by=by, when=when, sure=sure, token=token)
    try:
        read_mm = float(read_quantity("length", value))
    except QuantityError as error:
        raise JobError([error.at(file="", line=0, column=0, path="VALUE")]) from None
    reading = Reading(name=name, value=read_mm, at=at[:60], by=by or None, when=when or desk.now()[:10])
    if doubts := () if sure else tuple(doubts_of(reckoned.design, name, read_mm, reckoned.show)):
        return Taken(state=None, reading=reading, doubts=doubts)
    place = f" at {at[:60]}" if at else ""
    state = _noted(desk, record, CHECKED, f"{name}{place}: {value.strip()}", by=by, token=token)
    return Taken(state=state, reading=reading, lines=("It is only checked: nothing is cut from it.",))


def compared(point: Point, value_mm: float, reckoned: Reckoned) -> str:
    """A reading beside what is due, in words."""
    off = value_mm - point.due_mm
    if abs(off) < FINE_MM / 2:
        return "As planned."
    said = f"{_shown(reckoned, point.rule, abs(off))} {'more' if off > 0 else 'less'} than planned"
    within = "within" if abs(off) <= point.limit_mm + FINE_MM / 2 else "beyond"
    return f"{said}, {within} {point.limit}." if point.limit else f"{said}."


def drawing(reckoned: Reckoned, name: str) -> str:
    """One drawing as SVG, with the largest lettering at which it can be drawn: it is read from an arm's length.

    Raises
    ------
    KeyError
        If the job has no such drawing.
    """
    return reckoned.once(f"bench drawing {name}", lambda: _drawn(reckoned, name))


def _drawn(reckoned: Reckoned, name: str) -> str:
    from halfsilver.documents.drawings import DRAWN_SCALES
    from halfsilver.drawing.collide import overlaps
    from halfsilver.drawing.fit import fitted
    from halfsilver.drawing.svg import view_svg

    for width_mm, height_mm in ROOMS_MM:
        try:
            view = fitted(reckoned.scenes[name], box=(0.0, 0.0, width_mm, height_mm), scales=DRAWN_SCALES)
        except RenderError:
            continue
        if not overlaps(view):
            return view_svg(view, margin_mm=2.0)
    return reckoned.svg(name)


def _limits(reckoned: Reckoned) -> Mapping[str, float]:
    """How far off each size may be as planned, whatever was read: a reading is only as far off as its tape. [mm]"""

    def make() -> dict[str, float]:
        loaded = reckoned.loaded
        plan = resolve(replace(loaded, job=replace(loaded.job, measured=()))) if loaded.job.measured else reckoned.design
        return {point.entry: point.tolerance_mm for step in build_steps(plan) for point in step.checkpoints}

    return reckoned.once("limits", make)


def _named(reckoned: Reckoned) -> set[str]:
    return {point.entry for step in build_steps(reckoned.design) for point in step.checkpoints}


def _noted(
    desk: Desk, record: str, what: str, words: str, *, by: str, token: str, needed: Callable[[State], bool] = lambda _: True
) -> State:
    """The job as it stands, once more, with a note: notes add up, so nobody has to choose between two of them."""
    with desk.turn(record):
        for _ in range(MOST_TRIES):
            head = desk.head(record)
            if not needed(head):
                return head
            try:
                return desk.store.append(record, desk.store.content(head), desk.made(by, what, words, token=token), based_on=head.number)
            except ConflictError:  # another program on the same store was quicker
                continue
    raise StoreError("Too many changes come at once. This one was not written; send it again.")


def _point(reckoned: Reckoned, point: Checkpoint, limits: Mapping[str, float], marks: Marks) -> Point:
    ledger, limit_mm = reckoned.design.ledger, limits.get(point.entry, point.tolerance_mm)
    rule = _rule(reckoned, limit_mm)
    known = point.entry in ledger
    due_mm = planned_mm(reckoned.design, point.entry) if known else point.expected_mm
    moves = known and is_measurable(ledger, point.entry)
    return Point(
        name=point.entry, label=sentence(point.label), due=_shown(reckoned, rule, due_mm), limit=_limit(reckoned, rule, limit_mm),
        due_mm=due_mm, limit_mm=limit_mm, far_mm=far_mm(due_mm), moves=moves, rule=rule,
        boxes=tuple(Box(place=place, kept=_kept(reckoned, point.entry, place, rule, marks)) for place in point.at or ("",)),
    )  # fmt: skip


def _kept(reckoned: Reckoned, name: str, place: str, rule: Rule, marks: Marks) -> Kept | None:
    if said := marks.checked.get((name, place)):
        return Kept(shown=said[0], by=said[1].made.by, when=said[1].made.at[:10])
    read = reckoned.design.ledger.readings.get(name, {}).get(place)
    return Kept(shown=_shown(reckoned, rule, read.value_mm), by=read.by, when=read.when) if read else None


def _shown(reckoned: Reckoned, rule: Rule, value_mm: float) -> str:
    """A size as it stands on the rule it is read with."""
    return f"{value_mm:.1f} mm" if _is_gauge(reckoned, rule) else reckoned.show(value_mm, "mm")


def _limit(reckoned: Reckoned, rule: Rule, limit_mm: float) -> str:
    if not limit_mm:
        return ""
    return f"±{limit_mm:.1f} mm" if _is_gauge(reckoned, rule) else Sizes(reckoned.design, reckoned.show).limit(limit_mm)


def _is_gauge(reckoned: Reckoned, rule: Rule) -> bool:
    return rule.unit != reckoned.loaded.job.units.value


def _rule(reckoned: Reckoned, limit_mm: float) -> Rule:
    job = reckoned.loaded.job
    if 0 < limit_mm < FINE_LIMIT_MM:
        return Rule(unit="mm", step=FINE_MM)
    if job.units is Units.INCH:
        return Rule(unit="in", step=1 / job.fraction, parts=job.fraction)
    return Rule(unit="mm", step=RULE_MM)


def _until(made: str, wait_min: float, now: str) -> str:
    """When what was done then has rested; empty if it has by now."""
    until = datetime.fromisoformat(re.sub(r"Z$", "+00:00", made)) + timedelta(minutes=wait_min)
    rests = wait_min > 0 and until > datetime.fromisoformat(re.sub(r"Z$", "+00:00", now))
    return until.isoformat(timespec="minutes") if rests else ""
