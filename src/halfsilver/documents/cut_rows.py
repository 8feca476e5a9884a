"""What a cut sheet hands to its template."""

from __future__ import annotations

from dataclasses import dataclass

Row = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One group of the cut plan in words and drawings.

    Parameters
    ----------
    kind : {"bar", "roll", "sheet"}
        Which table the template sets.
    facts : list of dict
        Label and value of what holds for the whole group.
    rows : list of dict
        One per bar, roll or sheet.
    drawings : list of bytes
        An SVG for each.
    """

    kind: str
    facts: list[dict[str, str]]
    rows: list[Row]
    drawings: list[bytes]
