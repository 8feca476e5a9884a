"""What has to be cut, one task per material: the parts in scope against the stock of the workshop.

A task is made without searching for a plan, so that a check of a job can say what no stock will hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from halfsilver.layout.design import Design
from halfsilver.making import sheet_groups, stick_groups
from halfsilver.making.cutting.instance import End
from halfsilver.making.scope import made_parts, trade_of
from halfsilver.making.tasks import CutTask
from halfsilver.model.design import Part
from halfsilver.model.making import MissingStock, Trade

Made = CutTask | MissingStock


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTasks:
    """The tasks of a design, and the materials for which there is none."""

    tasks: tuple[CutTask, ...]
    missing: tuple[MissingStock, ...]


def cut_tasks(design: Design) -> CutTasks:
    """One task per material that is cut here.

    Parameters
    ----------
    design : Design
        The resolved job; its scope and its quantity decide what is cut.
    """
    made = tuple(_made(design))
    return CutTasks(
        tasks=tuple(one for one in made if isinstance(one, CutTask)), missing=tuple(one for one in made if isinstance(one, MissingStock))
    )


def _made(design: Design) -> Iterator[Made]:
    by_trade: dict[Trade, list[Part]] = {}
    for part in made_parts(design):
        by_trade.setdefault(trade_of(part), []).append(part)
    frame = by_trade.get(Trade.FRAME, [])
    mouldings = design.facts.workshop.mouldings
    for material, parts in by_material(part for part in frame if part.material in mouldings).items():
        yield stick_groups.moulding_task(design, material, parts)
    spacer = [part for part in frame if part.material not in mouldings]
    if spacer:
        yield stick_groups.section_task(design, spacer, End.MITRE, "the frame between the frames")
    behind = by_trade.get(Trade.BACKING, [])
    packing = [part for part in behind if part.id.startswith("packing")]
    yield from stick_groups.batten_tasks(design, by_trade.get(Trade.BATTENS, []), packing)
    bars = [part for part in by_trade.get(Trade.RETAINERS, []) if part.id.startswith("bar")]
    for material, parts in by_material(bars).items():
        yield stick_groups.bar_task(design, material, parts)
    for part in by_trade.get(Trade.LIGHTS, []):
        yield stick_groups.strip_task(design, part)
    glass = design.facts.workshop.glass
    for material, parts in by_material(part for part in by_trade.get(Trade.GLASS, []) if glass[part.material].cut_here).items():
        yield sheet_groups.glass_task(design, material, parts)
    for material, parts in by_material(part for part in behind if part not in packing).items():
        yield sheet_groups.board_task(design, material, parts)


def by_material(parts: Iterator[Part] | list[Part]) -> Mapping[str, list[Part]]:
    """Parts by what they are made of, in the order of the design."""
    found: dict[str, list[Part]] = {}
    for part in parts:
        found.setdefault(part.material, []).append(part)
    return found
