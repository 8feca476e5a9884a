"""Steps with their time from the workshop's labour table, checkpoints from the ledger, and the cautions that belong to the work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from halfsilver.layout.declare import tape_limit_mm
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Kind
from halfsilver.ledger.tolerance import tolerance
from halfsilver.model.making import Checkpoint, Step, Trade

GLASS = "Glass: cut-proof gloves, long sleeves, eye protection; carry panes upright, two people for large ones; no one below or behind."
BLADE = "Blades and cutters: guard in place, eye and ear protection, hands clear, work clamped, power off before a setting is changed."
NAILS = "Pins: eye protection, never a hand behind the work; a pin that glances off can come out of the side."
DUST = "Wood dust: extraction and a mask; some timbers irritate. Sweep up, no sparks near dust."
MAINS = "Mains: only a licensed electrician connects to the mains; local codes decide. Test from a supply with residual-current protection."
SOLVENT = "Paints, glues and solvents: read the label, air the room, gloves, no flames; rags soaked in oil can heat up by themselves."
WEIGHT = "Weight: lift with enough people, backs straight, path clear; never stand under a piece that is being hung."


@dataclass(frozen=True)
class Bench:
    """Declares steps for one design."""

    design: Design

    def step(self, step_id: str, title: str, trade: Trade, *, labour: str, pieces: int = 1, wait_min: float = 0.0, **told: Any) -> Step:
        """A step timed by the labour table: setting up once, and a time for each piece of every piece of the job."""
        time = self.design.facts.workshop.labour[labour]
        count = pieces * self.design.facts.job.quantity
        return Step(
            id=step_id,
            title=title,
            trade=trade,
            work_min=(time.fixed + count * time.each) / 60,
            wait_min=max(time.wait / 60, wait_min),
            **told,
        )

    def check(self, entry: str, *at: str) -> Checkpoint:
        """What to measure, what is expected by the ledger, and how far what is made may be off."""
        ledger, limits = self.design.ledger, self.design.facts.limits
        made = f"{entry}.actual"
        varies = made if made in ledger else entry if ledger.entries[entry].kind is not Kind.TARGET else ""
        limit = tolerance(ledger, varies).worst_mm if varies else tape_limit_mm(limits.tape, ledger[entry])
        return Checkpoint(entry=entry, label=ledger.entries[entry].label, expected_mm=ledger[entry], tolerance_mm=limit, at=at)

    def parts(self, *prefixes: str) -> tuple[str, ...]:
        """Ids of the parts that begin with one of these."""
        return tuple(part.id for part in self.design.parts if part.id.startswith(prefixes))

    def count(self, *prefixes: str) -> int:
        """How many such parts there are."""
        return sum(part.quantity for part in self.design.parts if part.id.startswith(prefixes))
