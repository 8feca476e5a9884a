"""A cutting task with its place in the job: which part each piece becomes, and which row of the stock each stock entry is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from halfsilver.making.cutting.instance import Instance


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTask:
    """One material's task.

    Parameters
    ----------
    material, name : str
        Id in the catalogues, and the same in a maker's words.
    instance : Instance
        The task on the grid of `halfsilver.making.grid`; costs in cents.
    piece_to_part : mapping of str to str
        The part that each piece becomes.
    notes : tuple of str
        What the plan alone does not show.
    """

    material: str
    name: str
    instance: Instance
    piece_to_part: Mapping[str, str]
    notes: tuple[str, ...] = ()
