"""How far screws stay from edge, end and each other, so that timber does not split: recommended least distances in diameters.

Holes drilled first halve most of them. Hard timber, short grain at a mitre and screws in line along the grain want more.
"""

from __future__ import annotations

from typing import Literal

from halfsilver.engineering.bounds import entry, positive
from halfsilver.model.formula import formula

Which = Literal["edge", "end, pulled", "end, pressed", "along", "across", "rows"]

# NDS 2018 commentary, Table C12.1.5.7, in diameters: not drilled and drilled, under wood and under steel. From memory.
DIAMETERS: dict[str, dict[tuple[bool, bool], float]] = {
    # (drilled, under steel)
    "edge": {(False, False): 2.5, (True, False): 2.5, (False, True): 2.5, (True, True): 2.5},
    "end, pulled": {(False, False): 15, (True, False): 10, (False, True): 10, (True, True): 5},
    "end, pressed": {(False, False): 10, (True, False): 5, (False, True): 5, (True, True): 3},
    "along": {(False, False): 15, (True, False): 10, (False, True): 10, (True, True): 5},
    "across": {(False, False): 10, (True, False): 5, (False, True): 5, (True, True): 2.5},
    "rows": {(False, False): 5, (True, False): 3, (False, True): 3, (True, True): 2.5},
}


@formula(
    name="timber.screw_spacing", source="NDS 2018 commentary, Table C12.1.5.7", status="memory", unit="mm",
    validity="wood screws in side grain; recommended, not required",
)  # fmt: skip
def screw_spacing_mm(*, diameter_mm: float, which: Which, drilled: bool = True, under_steel: bool = False) -> float:
    """Recommended least distance of a wood screw from an edge, an end or the next screw.

    Parameters
    ----------
    diameter_mm : float
        Shank diameter. [mm]
    which : {"edge", "end, pulled", "end, pressed", "along", "across", "rows"}
        To the edge; to the end that the load pulls towards, or away from; to the next screw along or across the grain; between rows.
    drilled : bool
        Whether the hole is drilled first.
    under_steel : bool
        Whether the member under the head is steel instead of timber.

    Returns
    -------
    float
        Between middles, or from the middle to the edge. [mm]

    References
    ----------
    NDS 2018 commentary, Table C12.1.5.7. From memory.

    Examples
    --------
    >>> round(screw_spacing_mm(diameter_mm=4.2, which="end, pulled", under_steel=True), 3)
    21.0
    """
    positive(diameter_mm=diameter_mm)
    return entry(DIAMETERS, which, "distance")[drilled, under_steel] * diameter_mm
