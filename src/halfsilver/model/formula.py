"""The mark of a published formula: its listed name, source and range.

The mark changes nothing about the function. It lets the command line list every formula of the program and evaluate one by name,
so that anybody can hold it against the publication.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeVar

Status = Literal["seen", "oracle", "derived", "memory", "practice", "assumed"]
F = TypeVar("F", bound=Callable[..., object])


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """What is known of a formula beside its arithmetic.

    Parameters
    ----------
    name : str
        ``subject.quantity``, for example ``glass.pane_mass``.
    source : str
        Publication and place.
    status : str
        ``seen`` (the text was read), ``oracle`` (agrees with an independent library), ``derived`` (from first principles),
        ``memory``, ``practice`` or ``assumed``.
    unit : str
        Unit of the result; empty for a pure number or a record.
    validity : str
        The range in which it holds, in words.
    """

    name: str
    source: str
    status: Status
    unit: str = ""
    validity: str = ""


def formula(*, name: str, source: str, status: Status, unit: str = "", validity: str = "") -> Callable[[F], F]:
    """Mark a pure function as a published formula (see :class:`Formula`)."""

    def mark(function: F) -> F:
        function.__formula__ = Formula(name=name, source=source, status=status, unit=unit, validity=validity)  # type: ignore[attr-defined]
        return function

    return mark
