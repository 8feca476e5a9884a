"""From a job file and a workshop folder to a design; every problem found on the way gets its place in the file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from halfsilver.errors import JobError, Problem
from halfsilver.files.edid_beside import with_block, with_block_of
from halfsilver.files.jobs import job_of
from halfsilver.files.located import MappingNode, Node, SequenceNode, locate, read_bytes, text_of
from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind, Ledger, Origin
from halfsilver.ledger.shown import Show, shower
from halfsilver.model.job import Job, Screen
from halfsilver.model.workshop import Workshop
from halfsilver.services.decide import decided
from halfsilver.units.words import nearest_word

NOT_MEASURED = ("fit.", "viewer.", "accept.", "size.")
MAY_BE_NOTHING = ("rear.planed", "spacer_frame", "bar.step", "relief.", "strip.dark.", "strip.at", "window.", "backing.", "screen.border.")
ID_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_")
TAKEN = frozenset({"axis", "cone", "share", "left", "right", "top", "bottom", "margin", "cutter", "below_lip"})


@dataclass(frozen=True, slots=True)
class Loaded:
    """A job file that was read, with its workshop.

    Parameters
    ----------
    file, text : str
        Where it was, and what stood there.
    node : MappingNode
        The located tree, for placing later problems.
    job : Job
        The job.
    workshop : Workshop
        The catalogues.
    folder : Path, optional
        The workshop's folder; None for the one that comes with the program.
    """

    file: str
    text: str
    node: MappingNode
    job: Job
    workshop: Workshop
    folder: Path | None = None

    @property
    def show(self) -> Show:
        """Writes values in the job's units."""
        return shower(units=self.job.units.value, fraction=self.job.fraction)

    @property
    def digest(self) -> str:
        """Digest of the job file's text."""
        import hashlib

        return hashlib.sha256(self.text.encode()).hexdigest()


def load(file: str, *, workshop: str | None = None) -> Loaded:
    """Read a job and its workshop.

    Parameters
    ----------
    file : str
        Path of the job file.
    workshop : str, optional
        Folder of the workshop; without it the one that comes with the program.

    Raises
    ------
    JobError
        With every problem of every file, each with its place.
    """
    problems: list[Problem] = []
    node, job, text = None, None, ""
    try:
        text = text_of(read_bytes(file), file=file)
        node, job = _read(text, file=file, block=partial(with_block, folder=Path(file).parent))
    except JobError as error:
        problems.extend(error.problems)
    shop = None
    try:
        shop = read_workshop(Path(workshop) if workshop else None)
    except JobError as error:
        problems.extend(error.problems)
    if problems or node is None or job is None or shop is None:
        raise JobError(problems)
    return Loaded(file, text, node, job, shop, Path(workshop) if workshop else None)


def load_text(text: str, *, file: str, workshop: Workshop, folder: Path | None = None, beside: Mapping[str, bytes] | None = None) -> Loaded:
    """Read a job that is not a file: from a form, the store, or a request.

    Parameters
    ----------
    text : str
        As it would stand in a file.
    file : str
        Name that problems show.
    workshop : Workshop
        The catalogues.
    folder : Path, optional
        Where the workshop's files are; None for the one that comes with the program.
    beside : mapping of str to bytes, optional
        What the job may name: the files that would lie beside it.

    Raises
    ------
    JobError
        With every problem, each with its place.
    """
    node, job = _read(text, file=file, block=partial(with_block_of, files=beside or {}))
    return Loaded(file, text, node, job, workshop, folder)


def _read(text: str, *, file: str, block: Callable[[Screen], Screen]) -> tuple[MappingNode, Job]:
    """Tree and job of a text, or all of its problems."""
    node = locate(text, file=file)
    problems: list[Problem] = []
    try:
        job = job_of(node, file=file)
        problems.extend(_placed(node, file, (*_names_used(job), *_at_odds(job))))
        if job.screen is not None:
            job = replace(job, screen=block(job.screen))
    except JobError as error:
        problems.extend(_placed(node, file, error.problems))
    if problems:
        raise JobError(problems)
    return node, job


def resolve(loaded: Loaded) -> Design:
    """The design of a loaded job.

    Raises
    ------
    JobError
        If the catalogues lack what the job names, or a reading names what is not in the ledger.
    NoDesignError
        If nothing feasible exists.
    """
    try:
        values = tuple(_values_read(loaded.job))
        if values:
            raise JobError(values)
        design = decided(loaded.job, loaded.workshop)
        problems = tuple(reading_problems(design.ledger, loaded.job))
        if problems:
            raise JobError(problems)
    except JobError as error:
        raise placed(loaded, error) from None
    return design


def placed(loaded: Loaded, error: JobError) -> JobError:
    """The error with the places of its keys in the job's file."""
    return JobError(_placed(loaded.node, loaded.file, error.problems))


def reading_problems(ledger: Ledger, job: Job) -> Iterator[Problem]:
    """Readings of names that are not in the ledger, or that nobody can measure."""
    for i, reading in enumerate(job.measured):
        problem = name_problem(ledger, reading.name)
        if problem is not None:
            yield replace(problem, path=f"measured[{i}].name")


def _values_read(job: Job) -> Iterator[Problem]:
    for i, reading in enumerate(job.measured):
        problem = value_problem(reading.name, reading.value)
        if problem is not None:
            yield replace(problem, path=f"measured[{i}].value")


def value_problem(name: str, value_mm: float) -> Problem | None:
    """Why a reading cannot be: what has a size never measures nothing or less."""
    if value_mm > 0 or name.startswith(MAY_BE_NOTHING):
        return None
    return Problem(
        code="no-length",
        read=f"{value_mm:g} mm",
        allowed=f"{name} has a size: a reading is more than nothing.",
        advice="Read it again.",
    )


def name_problem(ledger: Ledger, name: str) -> Problem | None:
    """Why a name cannot carry a reading; None if it can."""
    known = [entry.name for entry in ledger.entries.values() if is_measurable(ledger, entry.name)]
    if name in known:
        return None
    if name in ledger:
        near = name.removesuffix(".actual")
        what = "a decision or an allowance" if ledger.entries[name].kind is Kind.TARGET else "formed of other entries"
        advice = f"Measure {near}." if near in known else "Measure the lengths it is formed of."
        return Problem(code="not-measured", read=name, allowed=f"{name} is {what}: no reading replaces it.", advice=advice)
    near_word = nearest_word(name, known)
    return Problem(
        code="unknown-name",
        read=name,
        allowed="A reading names an entry of the ledger.",
        advice=f"Did you mean {near_word}?" if near_word else "See `halfsilver resolve` for the names.",
    )


def is_measurable(ledger: Ledger, name: str) -> bool:
    """Whether a reading may stand for an entry: targets that are lengths, but no allowances and nothing merely asked."""
    entry = ledger.entries[name]
    return entry.kind is Kind.TARGET and entry.unit == "mm" and entry.origin is not Origin.ALLOWANCE and not name.startswith(NOT_MEASURED)


def _at_odds(job: Job) -> Iterator[Problem]:
    """Answers that exclude each other, or cannot be."""
    if job.screen is not None and job.screen.borders is not None and job.screen.picture is not None:
        words = "The picture is given once: by borders or by its size and place."
        yield Problem(code="two-answers", path="screen.picture", allowed=words, advice="Leave one of them out.")
    if job.terms.margin is not None and job.terms.margin >= 1:
        words = "A margin is a share of the price and stays below 100 %."
        yield Problem(
            code="margin-too-large", path="terms.margin", read=f"{100 * job.terms.margin:g} %", allowed=words, advice="Ask for less."
        )


def _names_used(job: Job) -> Iterator[Problem]:
    """Ids that become part of a ledger name: plain letters, each once, none taken."""
    named = [("viewers", i, viewer.id) for i, viewer in enumerate(job.viewers)]
    named += [("screen.sticks_out", i, part.id) for i, part in enumerate(job.screen.sticks_out if job.screen else ())]
    seen: set[tuple[str, str]] = set()
    for key, i, name in named:
        path = f"{key}[{i}].id"
        if not name or not set(name) <= ID_LETTERS or len(name) > 40:
            yield Problem(
                code="bad-id",
                path=path,
                read=name[:60],
                allowed="An id has letters, digits, - and _, at most 40.",
                advice="Choose a short plain name.",
            )
        elif name in TAKEN:
            yield Problem(
                code="taken-id",
                path=path,
                read=name,
                allowed=f"Taken by the program: {', '.join(sorted(TAKEN))}.",
                advice="Choose another name.",
            )
        elif (key, name) in seen:
            yield Problem(code="double-id", path=path, read=name, allowed="Every id stands once.", advice="Choose another name.")
        seen.add((key, name))


def _placed(node: MappingNode, file: str, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(problem if problem.file else _at(node, file, problem) for problem in problems)


def _at(node: MappingNode, file: str, problem: Problem) -> Problem:
    """The problem with the place of its key, or of the nearest key above it that the file has."""
    found: Node = node
    for step in problem.path.replace("[", ".[").split("."):
        inner: Node | None = None
        if step.startswith("[") and isinstance(found, SequenceNode) and int(step[1:-1]) < len(found.items):
            inner = found.items[int(step[1:-1])]
        elif isinstance(found, MappingNode):
            inner = found.get(step)
        if inner is None:
            break
        found = inner
    return replace(problem, file=file, line=found.start.line, column=found.start.column)
