"""How work that falls into parts is shared out: the caller says by what, such as the threads of a pool."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol, TypeVar

Given = TypeVar("Given")
Found = TypeVar("Found")


class Each(Protocol):
    """What maps a function over parts of the work, such as ``map`` and ``Executor.map``."""

    def __call__(self, work: Callable[[Given], Found], parts: Iterable[Given], /) -> Iterable[Found]:
        """What the function makes of each part, in their order."""
