"""The working of one check, as an engineer would write it down: inputs, formula, numbers, result, limit, source.

A working says what was computed and against which limit. It never says that a piece may be used: it names who confirms.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from halfsilver.engineering.bounds import exceeds
from halfsilver.model.formula import Formula, Status


class Limit(Enum):
    """On which side of its limit a result has to lie."""

    AT_MOST = "at most"
    AT_LEAST = "at least"


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One number that goes into a working.

    Parameters
    ----------
    name : str
        In words, for example ``mass``.
    symbol : str
        As it stands in the formula.
    value : float
        Value, in ``unit``.
    unit : str
        Unit; empty for a pure number.
    origin : str
        Where it is from: asked, catalogue, measured, derived, assumed, or the publication.
    """

    name: str
    symbol: str
    value: float
    unit: str = ""
    origin: str = "derived"


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """One check, written out.

    Parameters
    ----------
    rule : str
        Stable name, ``subject.rule``.
    title : str
        What is checked, in words.
    given : tuple of Given
        Numbers that go in.
    formula : str
        The formula in symbols.
    result : float
        What comes out, in ``unit``.
    unit : str
        Unit of result and limit.
    limit : float or None
        What it is held against; None where there is none.
    side : Limit
        On which side of the limit the result has to lie.
    source : str
        Publication and place of the formula.
    limit_source : str
        The same for the limit.
    status : str
        The weaker of the two, see :class:`halfsilver.model.formula.Formula`.
    assumptions : tuple of str
        What was taken for granted.
    confirms : str
        Who decides: licensed electrician, structural engineer, local authority, maker.
    put_in : str
        The formula with its numbers, where it is more than one expression of what is given, and only then.
    """

    rule: str
    title: str
    given: tuple[Given, ...]
    formula: str
    result: float
    unit: str
    limit: float | None = None
    side: Limit = Limit.AT_MOST
    source: str
    limit_source: str = ""
    status: Status
    assumptions: tuple[str, ...] = ()
    confirms: str
    put_in: str = ""

    @property
    def holds(self) -> bool | None:
        """Whether the result keeps its limit; None where there is none."""
        if self.limit is None:
            return None
        if self.side is Limit.AT_MOST:
            return not exceeds(self.result, self.limit)
        return not exceeds(self.limit, self.result)

    @property
    def use(self) -> float | None:
        """How much of the limit is used up: 1 is the limit, above 1 breaks it; None where there is none."""
        if self.limit is None:
            return None
        top, bottom = (self.result, self.limit) if self.side is Limit.AT_MOST else (self.limit, self.result)
        return top / bottom if bottom else float("inf") if top else 0.0

    def numbers(self) -> str:
        """The inputs in one line: ``W = 294.2 N (derived), e = 75 mm (catalogue)``."""
        return ", ".join(" ".join(f"{g.symbol} = {g.value:.6g} {g.unit}".split()) + f" ({g.origin})" for g in self.given)


# From the best known to the least.
STATUSES: tuple[Status, ...] = ("oracle", "seen", "derived", "practice", "memory", "assumed")


def weakest(*statuses: Status) -> Status:
    """The least well known of several statuses."""
    return max(statuses, key=STATUSES.index)


def mark_of(function: object) -> Formula:
    """The listed mark of a formula.

    Raises
    ------
    TypeError
        If the function bears none.
    """
    mark = getattr(function, "__formula__", None)
    if not isinstance(mark, Formula):
        raise TypeError(f"{function!r} is not a listed formula")
    return mark
