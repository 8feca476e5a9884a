"""What layout decides where a job says ``auto``: the value, the reason, and what came second.

The search that finds them lives above, in ``services``; here is only their shape, and where each finds its place in a job file.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One decided length [mm] or word."""

    value: float
    reason: str
    runner_up: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One decided word."""

    value: str
    reason: str
    runner_up: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """All decisions of one design; None where the job itself says, or the construction has no such thing."""

    batten_width: Choice | None = None
    sight_margin: Choice | None = None
    planed: Choice | None = None
    spacer_frame: Choice | None = None
    bedding: Choice | None = None
    feed: Word | None = None
    corner: Word | None = None
