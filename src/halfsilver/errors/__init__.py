"""What can go wrong, in one family, and the record that says where and what to do.

::

    HalfsilverError
    ├── InputError      something a person wrote can be mended there (exit 2)
    │   ├── JobError        a job, workshop, scene or instance file, or a command's argument
    │   └── QuantityError   one written quantity, before its place in a file is known
    ├── RangeError      a formula was asked outside its validity (exit 2)
    ├── NoDesignError   nothing feasible: names the limit that binds and the nearest value (exit 3)
    ├── DataError       a table shipped with the program is wrong
    ├── StoreError      the database cannot be read or written (exit 5)
    └── RenderError     a document or picture cannot be made (exit 5)

Bugs stay bare Python exceptions. A design that breaks a rule is a finding, never an exception.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing in the input that a person has to mend.

    Parameters
    ----------
    code : str
        Stable short name, for example ``fraction-needs-inch``.
    file : str
        File as the person named it; empty for a command's argument.
    line, column : int
        Place in the file, counted from 1; 0 where there is none.
    path : str
        Dotted key path, for example ``glass.front.kind``.
    read : str
        What stands there, shortened.
    allowed : str
        What may stand there, and by which rule.
    advice : str
        What to do.
    """

    code: str
    file: str = ""
    line: int = 0
    column: int = 0
    path: str = ""
    read: str = ""
    allowed: str = ""
    advice: str = ""

    def text(self) -> str:
        """Two lines for a person: where and what, then what is allowed and what to do."""
        place = ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])
        what = f'{self.path} = "{self.read}"' if self.path else f'"{self.read}"'
        head = "  ".join(part for part in (place, what if self.read or self.path else "") if part)
        return f"{head}  [{self.code}]\n  {self.allowed}  {self.advice}".rstrip()

    def as_dict(self) -> dict[str, object]:
        """The record as JSON shows it."""
        return asdict(self)


class HalfsilverError(Exception):
    """Root of everything the program raises on purpose."""

    exit_code = 1


class InputError(HalfsilverError):
    """Something a person wrote can be mended where it stands."""

    exit_code = 2


class JobError(InputError):
    """A file or an argument that cannot be used; carries every problem found in it.

    Parameters
    ----------
    problems : iterable of Problem
        At least one.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.text() for problem in self.problems))


class QuantityError(InputError):
    """One written quantity cannot be read; the reader of the file adds its place.

    Parameters
    ----------
    code : str
        Stable short name.
    read : str
        The text as written.
    allowed : str
        What may be written there.
    advice : str
        What to write instead.
    """

    def __init__(self, code: str, *, read: str, allowed: str, advice: str = "") -> None:
        self.code, self.read, self.allowed, self.advice = code, read, allowed, advice
        super().__init__(f'"{read}"  [{code}]\n  {allowed}  {advice}'.rstrip())

    def at(self, *, file: str, line: int, column: int, path: str) -> Problem:
        """The same as a problem with its place."""
        return Problem(
            code=self.code, file=file, line=line, column=column, path=path,
            read=self.read[:80], allowed=self.allowed, advice=self.advice,
        )  # fmt: skip


class RangeError(HalfsilverError, ValueError):
    """A formula was asked outside the range in which it holds.

    Parameters
    ----------
    message : str
        What was asked and what holds.
    path : str
        Which of the inputs it is, such as ``layers[0].n``, where one alone is at fault.
    """

    exit_code = 2

    def __init__(self, message: str = "", *, path: str = "") -> None:
        self.path = path
        super().__init__(message)


class NoDesignError(HalfsilverError):
    """No feasible design exists.

    Parameters
    ----------
    limit : str
        The limit that binds, in words.
    nearest : str
        The nearest value that would work, in words; empty when there is none.
    advice : str
        What to change.
    """

    exit_code = 3

    def __init__(self, limit: str, *, nearest: str = "", advice: str = "") -> None:
        self.limit, self.nearest, self.advice = limit, nearest, advice
        super().__init__("  ".join(part for part in (limit, nearest, advice) if part))


class DataError(HalfsilverError):
    """A table shipped with the program does not hold what it must."""


class StoreError(HalfsilverError):
    """The store cannot be read or written."""

    exit_code = 5


class RenderError(HalfsilverError):
    """A document or a picture cannot be made."""

    exit_code = 5
