"""Files and folders that are written whole or not at all, whatever ends the program in between.

A file is written beside its place and then renamed onto it. A folder is built beside its place; where the system can exchange two
names in one step it does, elsewhere the old folder steps aside first and `recover` puts it back if the program ended in that moment.
"""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp, mkstemp
from typing import Final

from halfsilver.errors import JobError, Problem

MARK: Final = "manifest.json"  # a folder that holds it was written by this program
_STALE_S: Final = 3600.0


def write_beside(path: str | Path, data: bytes) -> None:
    """Write a file so that at any moment its path holds the old bytes or the new ones, all of them.

    Raises
    ------
    JobError
        If the place cannot be written.
    """
    path = Path(path)
    path = path.resolve() if path.is_symlink() else path
    try:
        mode = path.stat().st_mode & 0o7777 if path.exists() else 0o666 & ~_umask()
        handle, beside = mkstemp(prefix=f".{path.name[:60]}.", suffix=".new", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            Path(beside).chmod(mode)
            Path(beside).replace(path)
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
        _sync_folder(path.parent)
    except OSError as error:
        raise _unwritable(path, error) from None


@contextmanager
def whole_folder(target: str | Path, *, mark: str = MARK) -> Iterator[Path]:
    """A fresh folder to fill, which takes the place of ``target`` when the block ends well and vanishes when it does not.

    Raises
    ------
    JobError
        If ``target`` is something that this program did not write (see `replace_folder`), or cannot be written.
    """
    target = Path(target).resolve()
    recover(target)
    _check_ours(target, mark=mark)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        built = Path(mkdtemp(prefix=_prefix(target) + f"{os.getpid()}-", dir=target.parent))
        built.chmod(0o777 & ~_umask())
    except OSError as error:
        raise _unwritable(target, error) from None
    try:
        yield built
        replace_folder(built, target, mark=mark)
    finally:
        shutil.rmtree(built, ignore_errors=True)


def replace_folder(built: Path, target: Path, *, mark: str = MARK) -> None:
    """Put a finished folder in the place of another, which is then removed.

    Parameters
    ----------
    built : Path
        The finished folder, in the same parent folder as the target.
    target : Path
        Absent, empty, or a folder that holds ``mark``.
    mark : str
        Name of the file by which a folder of this program is known.

    Raises
    ------
    JobError
        If the target is a file or a folder of somebody else's, or cannot be written.
    """
    _check_ours(target, mark=mark)
    try:
        _sync_tree(built)
        if not target.exists():
            built.rename(target)
        elif _exchange(built, target):
            shutil.rmtree(built, ignore_errors=True)
        else:
            previous = _previous(target)
            target.rename(previous)
            built.rename(target)
            shutil.rmtree(previous, ignore_errors=True)
        _sync_folder(target.parent)
    except OSError as error:
        raise _unwritable(target, error) from None


def recover(target: str | Path) -> None:
    """Mend what a killed run left behind: put the old folder back if it had just stepped aside, and remove half-built ones."""
    target = Path(target).resolve()
    previous = _previous(target)
    with suppress(OSError):
        if previous.exists() and not target.exists():
            previous.rename(target)
        for left in (previous, *target.parent.glob(f"{_escaped(_prefix(target))}*")):
            if left == previous or _abandoned(left, prefix=_prefix(target)):
                shutil.rmtree(left, ignore_errors=True)


def _check_ours(target: Path, *, mark: str) -> None:
    if not target.exists() or (target.is_dir() and ((target / mark).is_file() or not any(target.iterdir()))):
        return
    what = "a folder with files of somebody else's" if target.is_dir() else "a file"
    raise JobError(
        [Problem(code="folder-not-ours", file=str(target), allowed=f"This is {what}.", advice="Name a folder that does not exist yet.")]
    )


def _prefix(target: Path) -> str:
    return f".{target.name}.new-"


def _previous(target: Path) -> Path:
    return target.with_name(f".{target.name}.previous")


def _escaped(text: str) -> str:
    return "".join(f"[{c}]" if c in "*?[" else c for c in text)


def _abandoned(folder: Path, *, prefix: str) -> bool:
    """Whether the run that began a folder is over; where that cannot be asked, after an hour."""
    number = folder.name.removeprefix(prefix).partition("-")[0]
    if sys.platform == "win32" or not number.isdigit():
        return time.time() - folder.stat().st_mtime > _STALE_S
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return True
    except (PermissionError, OverflowError):
        pass
    return False


def _exchange(one: Path, other: Path) -> bool:
    """Exchange two names in one step; False where the system has no such step."""
    if not sys.platform.startswith("linux"):
        return False
    import ctypes

    at_cwd, exchange = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of <linux/fs.h>
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return int(call(at_cwd, os.fsencode(one), at_cwd, os.fsencode(other), ctypes.c_uint(exchange))) == 0


def _sync_tree(folder: Path) -> None:
    if sys.platform == "win32":
        return  # a handle for reading cannot be synced there
    for base, _, names in os.walk(folder):
        for name in names:
            with (Path(base) / name).open("rb") as stream:
                os.fsync(stream.fileno())
        _sync_folder(Path(base))


def _sync_folder(folder: Path) -> None:
    if sys.platform == "win32":
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def _unwritable(path: Path, error: OSError) -> JobError:
    words = f"It cannot be written here ({error.strerror or type(error).__name__})."
    return JobError([Problem(code="not-writable", file=str(path), allowed=words, advice="Name a place where you may write.")])
