"""Steps timed by the workshop's labour table, with checkpoints from the ledger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import ceil
from typing import Any

from halfsilver.layout.declare import tape_limit_mm
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind
from halfsilver.ledger.shown import shower
from halfsilver.ledger.tolerance import tolerance
from halfsilver.making.fasteners import fasteners
from halfsilver.making.scope import has
from halfsilver.model.design import Part
from halfsilver.model.job import Corner, Side
from halfsilver.model.making import Checkpoint, Step, Trade
from halfsilver.model.workshop import GlassKind, Labour, pick

TABLE = "labour.csv"


@dataclass(frozen=True)
class Bench:
    """Declares the steps of one piece of a design."""

    design: Design

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Names of the frames, front to back."""
        return ("front", "rear") if self.two else ("front",)

    @property
    def two(self) -> bool:
        """Whether two frames stand back to back, with a lit cavity between their panes."""
        return "batten.depth" in self.design.ledger

    @property
    def corner(self) -> str:
        """Where the lights are fed, as the viewer sees it."""
        lights, decided = self.design.facts.job.lights, self.design.facts.choices.corner
        asked = lights.corner if lights is not None else None
        return asked.value if isinstance(asked, Corner) else decided.value if decided else Corner.BOTTOM_RIGHT.value

    @property
    def seat(self) -> str:
        """The frame that takes in what is behind the panes."""
        return self.frames[-1]

    def has(self, *trades: Trade) -> bool:
        """Whether all of these trades are in the job's scope."""
        return all(has(self.design, trade) for trade in trades)

    def glass(self, which: str) -> GlassKind:
        """The glass of a pane."""
        return self.design.facts.front_glass if which == "front" else self.design.facts.rear_glass

    def parts(self, *prefixes: str) -> tuple[Part, ...]:
        """The parts whose ids begin with one of these."""
        return tuple(part for part in self.design.parts if part.id.startswith(prefixes))

    def stick_of(self, side: Side) -> str:
        """Which pair the stick of a side belongs to: ``long`` or ``short``."""
        lies = side in (Side.TOP, Side.BOTTOM)
        return "long" if lies == (self.design.ledger["outside.width"] >= self.design.ledger["outside.height"]) else "short"

    def sticks(self) -> tuple[Part, ...]:
        """The sticks of all frames."""
        return self.parts(*(f"{which}-stick" for which in self.frames), "spacer-frame")

    def step(
        self,
        step_id: str,
        title: str,
        trade: Trade,
        *,
        labour: str = "",
        parts: Iterable[Part] = (),
        pieces: int = 0,
        face_m2: float | None = None,
        lead_min: float = 0.0,
        **told: Any,
    ) -> Step:
        """A step with its time, in whole minutes.

        Parameters
        ----------
        step_id, title, trade
            As the step carries them.
        labour : str
            Row of the labour table; without it the one named like the step.
        parts : iterable of Part
            What it works on: their length and face count.
        pieces : int
            How many times its `each` counts; 0: once for each of the parts.
        face_m2 : float, optional
            The area that counts, where it is not that of the parts. [m2]
        lead_min : float
            Lead time, where that is longer than the table's waiting time. [min]
        **told
            The step's other fields.
        """
        known = tuple(parts)
        row = pick(self.design.facts.workshop.labour, labour or step_id, path=TABLE, of="operations")
        return Step(
            id=step_id,
            title=title,
            trade=trade,
            parts=tuple(part.id for part in known),
            work_min=_work_min(row, known, pieces, face_m2),
            wait_min=max(row.wait / 60, lead_min),
            rate=row.rate,
            **told,
        )

    def check(self, entry: str, *at: str, limit: float | None = None) -> Checkpoint:
        """What to measure, what the ledger expects, and how far what is made may be off.

        Where no limit of an operation is given it is the spread of what will be there, or of a gap itself, else the tape's own limit.
        """
        ledger, varies = self.design.ledger, ""
        if f"{entry}.actual" in ledger:
            varies = f"{entry}.actual"
        elif ledger.entries[entry].kind is not Kind.TARGET:
            varies = entry
        if limit is None:
            limit = tolerance(ledger, varies).worst_mm if varies else tape_limit_mm(self.design.facts.limits.tape, ledger[entry])
        return Checkpoint(entry=entry, label=ledger.entries[entry].label, expected_mm=ledger[entry], tolerance_mm=limit, at=at)

    def said(self, entry: str) -> str:
        """An entry's value as the job's units print it."""
        job = self.design.facts.job
        return shower(units=job.units.value, fraction=job.fraction)(self.design.ledger[entry], self.design.ledger.entries[entry].unit)

    def fastened(self, word: str, *, most: str = "") -> str:
        """Count and kind of the fasteners whose place holds a word, with their rule and the longest that may be used there."""
        found = [one for one in fasteners(self.design) if word in one.place]
        longest = f"; none longer than {self.said(most)}" if most in self.design.ledger else ""
        return "; ".join(f"{one.count} × {one.name or 'to be chosen'}: {one.rule}" for one in found) + (longest if found else "")


def _work_min(row: Labour, parts: tuple[Part, ...], pieces: int, face_m2: float | None) -> float:
    """Working time by the table, begun minutes counted. [min]"""
    count = pieces or sum(part.quantity for part in parts)
    metres = sum(part.quantity * part.size_mm[0] for part in parts) / 1e3
    area = sum(part.quantity * part.size_mm[0] * part.size_mm[1] for part in parts) / 1e6 if face_m2 is None else face_m2
    return float(ceil((row.fixed + count * row.each + metres * row.per_metre + area * row.per_area) / 60 - 1e-9))
