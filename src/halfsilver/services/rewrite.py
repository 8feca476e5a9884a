"""A job with every ``auto`` decided, as text: only the decided keys change, comments and layout stay."""

from __future__ import annotations

from typing import Literal

from halfsilver.files.edit import set_values
from halfsilver.files.encode import quantity_text
from halfsilver.layout.design import Design
from halfsilver.model.job import Units
from halfsilver.model.quantities import Quantity
from halfsilver.services.decide import decided_values
from halfsilver.services.load import Loaded


def decided_text(loaded: Loaded, design: Design) -> str:
    """The text of the job file with the decisions written in, exactly.

    Parameters
    ----------
    loaded : Loaded
        The job as it was read.
    design : Design
        Its design.
    """
    units: Literal["in", "mm"] = "in" if loaded.job.units is Units.INCH else "mm"
    values = {
        key: value if isinstance(value, str) else quantity_text(value, Quantity("length"), units=units)
        for key, value in decided_values(design).items()
    }
    return set_values(loaded.text, values, file=loaded.file) if values else loaded.text
