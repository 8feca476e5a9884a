"""The EDID file that a screen names, found beside the file that names it: never outside of that folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath, PureWindowsPath

from halfsilver.errors import JobError, Problem
from halfsilver.files.folder import Reading, inside
from halfsilver.files.located import MappingNode, SequenceNode
from halfsilver.model.job import Screen
from halfsilver.model.workshop import MeasuredScreen

WITHIN = "The EDID file lies in the folder of the file that names it, or below, and is named from there with /."


def with_block(screen: Screen, *, folder: Path) -> Screen:
    """The screen with what its EDID file says; as it is where it names none.

    Raises
    ------
    JobError
        If the file lies elsewhere, is not there, or is no block. A fault of the name has the path ``screen.edid`` and no file yet.
    """
    if screen.edid is None:
        return screen
    from halfsilver.files.edid import read_edid

    try:
        return replace(screen, block=read_edid(_beside(screen.edid, folder), file=screen.edid))
    except JobError as error:
        raise JobError(_named(problem, screen.edid) for problem in error.problems) from None


def with_block_of(screen: Screen, *, files: Mapping[str, bytes]) -> Screen:
    """The same for files that are in hand by their names, such as those of a store (errors as `with_block`)."""
    if screen.edid is None:
        return screen
    from halfsilver.files.complaints import complaint
    from halfsilver.files.edid import edid_of

    data = files.get(screen.edid)
    if data is None:
        raise JobError([_named(complaint("file-missing", file=screen.edid), screen.edid)])
    return replace(screen, block=edid_of(data, file=screen.edid))


def with_blocks(reading: Reading, tree: MappingNode | None, screens: tuple[MeasuredScreen, ...]) -> tuple[MeasuredScreen, ...]:
    """The measured screens of a workshop, each with its block; notes what is wrong with their files."""
    return tuple(_with_block(reading, tree, i, one) for i, one in enumerate(screens))


def _with_block(reading: Reading, tree: MappingNode | None, i: int, one: MeasuredScreen) -> MeasuredScreen:
    try:
        return replace(one, screen=with_block(one.screen, folder=reading.folder))
    except JobError as error:
        listed = inside(tree, "screens")
        node = inside(inside(listed.items[i], "screen"), "edid") if isinstance(listed, SequenceNode) else None
        for problem in error.problems:
            if problem.file:
                reading.problems.append(replace(problem, file=str(reading.folder / problem.file)))
            else:
                path = f"screens[{i}].{problem.path}"
                reading.note(problem.code, str(reading.folder / "screens.yaml"), node, path, allowed=problem.allowed, advice=problem.advice)
        return one


def _beside(name: str, folder: Path) -> Path:
    """The path of a named file; refuses what leads out of the folder, also by a link."""
    if "\\" in name or PurePosixPath(name).is_absolute() or PureWindowsPath(name).drive or ".." in PurePosixPath(name).parts:
        raise JobError([_outside(name)])
    path = folder / name
    try:
        if path.resolve().is_relative_to(folder.resolve()):
            return path
    except (OSError, RuntimeError, ValueError):
        pass  # a ring of links, or a name that no file can have
    raise JobError([_outside(name)])


def _outside(name: str) -> Problem:
    return Problem(code="file-outside", path="screen.edid", read=name[:80], allowed=WITHIN, advice="Copy the file there.")


def _named(problem: Problem, name: str) -> Problem:
    """A fault of the file itself is shown where the job names it; one of its bytes in the file."""
    if problem.code.startswith("file-"):
        return replace(problem, file="", path="screen.edid", read=name[:80])
    return problem
