"""The ledger as drawings read it: values for the geometry, the same entries' words for print.

A number is printed only through `Sizes.text`, so that what a drawing says is what the ledger holds.
"""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.drawing.scene import Axis, Dimension, Point, Side
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show


@dataclass(frozen=True, slots=True)
class Sizes:
    """A design's ledger beside the way its job prints lengths.

    Parameters
    ----------
    design : Design
        What is drawn.
    show : Show
        Writes a value in the job's own units.
    """

    design: Design
    show: Show

    def __getitem__(self, name: str) -> float:
        return self.design.ledger[name]

    def __contains__(self, name: str) -> bool:
        return name in self.design.ledger

    def get(self, name: str, default: float = 0.0) -> float:
        """Value of an entry, or the default where this construction has none."""
        return self.design.ledger.values.get(name, default)

    @property
    def frames(self) -> tuple[str, ...]:
        """Names of the frames, front to back."""
        return ("front", "rear") if "rear.rebate.width" in self else ("front",)

    @property
    def seat(self) -> str:
        """Name of the frame that takes the screen in."""
        return self.frames[-1]

    def text(self, name: str) -> str:
        """An entry as it is printed."""
        ledger = self.design.ledger
        return self.show(ledger[name], ledger.entries[name].unit)

    def by(self, *names: str) -> str:
        """Several entries as one size, such as ``53 1/4 in × 30 1/2 in``."""
        return " × ".join(self.text(name) for name in names)

    def dimension(
        self,
        name: str,
        start: Point,
        end: Point,
        *,
        side: Side = Side.ABOVE,
        chain: str = "",
        base_mm: float | None = None,
        row: int | None = None,
    ) -> Dimension:
        """A dimension whose text is the entry's; horizontal above or below, vertical at the left or right."""
        axis = Axis.HORIZONTAL if side in (Side.ABOVE, Side.BELOW) else Axis.VERTICAL
        return Dimension(start=start, end=end, text=self.text(name), axis=axis, side=side, name=name, chain=chain, base_mm=base_mm, row=row)
