"""The ledger as drawings read it: values for the geometry, the same entries' words for print.

A number is printed only through `Sizes.text`, so that what a drawing says is what the ledger holds.
"""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.drawing.scene import Axis, Dimension, Point, Side
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.job import Units
from halfsilver.units.factors import MM_PER_INCH
from halfsilver.units.lengths import write_length
from halfsilver.units.rounding import decimal_text, nearest

STEP_MM = MM_PER_INCH / 64
READ_AS_FRACTION = 0.02


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

    def limit(self, limit_mm: float) -> str:
        """How far off a size may be, in the job's units: a fraction of an inch where it is one, else thousandths.

        Parameters
        ----------
        limit_mm : float
            Largest deviation to either side. [mm]
        """
        if self.design.facts.job.units is not Units.INCH:
            return f"±{decimal_text(limit_mm, 2)} mm"
        nearest_mm = nearest(limit_mm, STEP_MM)
        if nearest_mm and abs(limit_mm - nearest_mm) <= READ_AS_FRACTION * limit_mm:
            return f"±{write_length(nearest_mm, units='in', fraction=64)}"
        return f"±{decimal_text(limit_mm / MM_PER_INCH, 3)} in"

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
