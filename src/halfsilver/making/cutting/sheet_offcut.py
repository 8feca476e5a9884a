"""The offcut pass for sheets: the emptiest sheet of a plan is laid anew so that its largest leftover grows."""

from __future__ import annotations

from collections.abc import Sequence

from halfsilver.making.cutting.instance import SheetInstance
from halfsilver.making.cutting.sheet_beam import GUIDES, Guide
from halfsilver.making.cutting.sheet_repair import joined, laid
from halfsilver.making.cutting.sheet_rows import tree
from halfsilver.making.cutting.sheet_task import SheetTask, SheetUse


def leftover(instance: SheetInstance, use: SheetUse) -> int:
    """Largest waste rectangle of a sheet. [unit squared]"""
    root = tree(instance.stock[use.stock], use.content, instance.kerf)
    return max((node.w * node.h for node in root.walk() if node.waste), default=0)


def gathered(works: Sequence[SheetTask], uses: Sequence[SheetUse], *, width: int, joins: int) -> list[SheetUse]:
    """The plan with the sheet of the largest leftover laid anew.

    Parameters
    ----------
    works : sequence of SheetTask
        The task in every manner of cutting allowed.
    uses : sequence of SheetUse
        A complete plan.
    width : int
        Width of the beams.
    joins : int
        Most panes for which all joins are tried, where stages are free.
    """
    instance = works[0].instance
    if not uses:
        return []
    spot = max(range(len(uses)), key=lambda i: (leftover(instance, uses[i]), -i))
    old = uses[spot]
    only: list[int | None] = [1 if j == old.stock else 0 for j in range(len(instance.stock))]
    offers = [laid(work, old.counts, only, Guide(offset=offset, power=power), width) for work in works for offset, power in GUIDES[:3]]
    if instance.stages is None and sum(old.counts) <= joins:
        offers.append(joined(works[0], old.counts, only))
    best = max([old, *(offer[0] for offer in offers if offer)], key=lambda use: leftover(instance, use))
    return [*uses[:spot], best, *uses[spot + 1 :]]
