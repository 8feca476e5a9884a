"""All guillotine layouts of a few panes, by joining blocks side by side and one above the other.

For every set of panes the blocks that enclose it are kept, none that another one fits into; a set's blocks come from all its halvings.
The cheapest way to split the whole set into sheets follows from the same table. After Wang, "Two algorithms for constrained
two-dimensional cutting stock problems", Operations Research 31 (1983) [from memory]. Cuts may turn as often as they like, so this is for
tasks without a limit on stages.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from halfsilver.making.cutting.instance import SheetInstance
from halfsilver.making.cutting.sheet_rows import Content, Direction
from halfsilver.making.cutting.sheet_task import Counts, SheetUse, allowed

MOST_BLOCKS = 12
MOST_SETS = 700


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle that encloses a set of panes; sizes with one kerf."""

    w: int
    h: int
    content: Content


def joined_plan(instance: SheetInstance) -> list[SheetUse] | None:
    """The cheapest plan over all joins.

    Parameters
    ----------
    instance : SheetInstance
        A task of few panes without a limit on stages.

    Returns
    -------
    list of SheetUse or None
        None if there are too many sets, or the stock does not suffice.
    """
    demand = tuple(piece.qty for piece in instance.pieces)
    sets = sorted(product(*(range(d + 1) for d in demand)), key=lambda counts: (sum(counts), counts))
    if len(sets) > MOST_SETS:
        return None
    blocks: dict[Counts, list[Block]] = {}
    for counts in sets[1:]:
        blocks[counts] = _blocks(instance, counts, blocks)
    return _cheapest(instance, sets, blocks)


def _blocks(instance: SheetInstance, counts: Counts, blocks: dict[Counts, list[Block]]) -> list[Block]:
    if sum(counts) == 1:
        return _single(instance, counts.index(1))
    found: list[Block] = []
    for part in product(*(range(c + 1) for c in counts)):
        rest = tuple(c - p for c, p in zip(counts, part, strict=True))
        if not any(part) or part > rest:
            continue
        for a in blocks[part]:
            for b in blocks.get(rest, ()):
                found += _joins(instance, a, b)
    return _kept(instance, found)


def _single(instance: SheetInstance, number: int) -> list[Block]:
    piece, kerf = instance.pieces[number], instance.kerf
    blocks = [Block(piece.width + kerf, piece.height + kerf, piece.id)]
    if piece.rotate and piece.width != piece.height:
        blocks.append(Block(piece.height + kerf, piece.width + kerf, piece.id))
    return _kept(instance, blocks)


def _joins(instance: SheetInstance, a: Block, b: Block) -> list[Block]:
    kerf, found = instance.kerf, []
    high, wide = max(a.h, b.h), max(a.w, b.w)
    if allowed(instance, high - a.h) and allowed(instance, high - b.h):
        parts = tuple((block.w - kerf, _filled(block, "h", block.h - kerf, high - kerf)) for block in (a, b))
        found.append(Block(a.w + b.w, high, ("v", parts)))
    if allowed(instance, wide - a.w) and allowed(instance, wide - b.w):
        parts = tuple((block.h - kerf, _filled(block, "v", block.w - kerf, wide - kerf)) for block in (a, b))
        found.append(Block(wide, a.h + b.h, ("h", parts)))
    return found


def _filled(block: Block, direction: Direction, size: int, extent: int) -> Content:
    return block.content if size == extent else (direction, ((size, block.content),))


def _kept(instance: SheetInstance, blocks: list[Block]) -> list[Block]:
    """Those that fit a sheet, smallest area first, without what another fits into (unless strips are limited), at most so many."""
    kerf = instance.kerf
    fit = [b for b in blocks if any(s.qty != 0 and b.w <= s.usable_width + kerf and b.h <= s.usable_height + kerf for s in instance.stock)]
    fit.sort(key=lambda b: (b.w * b.h, b.w))
    kept: list[Block] = []
    for block in fit:
        same = any(k.w == block.w and k.h == block.h for k in kept)
        held = instance.min_strip <= 1 and any(k.w <= block.w and k.h <= block.h for k in kept)
        if not same and not held:
            kept.append(block)
        if len(kept) == MOST_BLOCKS:
            break
    return kept


def _cheapest(instance: SheetInstance, sets: list[Counts], blocks: dict[Counts, list[Block]]) -> list[SheetUse] | None:
    """Cheapest split of each set into sheets; limited stock is respected along the best split of each set."""
    best: dict[Counts, tuple[float, float, list[SheetUse]]] = {sets[0]: (0.0, 0.0, [])}
    single = {counts: uses for counts in sets[1:] if (uses := _on_one(instance, counts, blocks[counts]))}
    for counts in sets[1:]:
        for part, uses in single.items():
            if any(p > c for p, c in zip(part, counts, strict=True)):
                continue
            before = best.get(tuple(c - p for c, p in zip(counts, part, strict=True)))
            if before is None:
                continue
            for cost, rest, use in uses:
                limit = instance.stock[use.stock].qty
                if limit is not None and sum(other.stock == use.stock for other in before[2]) >= limit:
                    continue
                key = (before[0] + cost, min(before[1], -rest))
                if counts not in best or key < best[counts][:2]:
                    best[counts] = (*key, [*before[2], use])
    return best[sets[-1]][2] if sets[-1] in best else None


def _on_one(instance: SheetInstance, counts: Counts, blocks: list[Block]) -> list[tuple[float, float, SheetUse]]:
    """Ways to put a set on one sheet of each size: cost, largest leftover area, use."""
    found = []
    kerf = instance.kerf
    for j, sheet in enumerate(instance.stock):
        width, height = sheet.usable_width + kerf, sheet.usable_height + kerf
        ways = [
            (max((width - b.w) * height, width * (height - b.h)), b)
            for b in blocks
            if sheet.qty != 0 and allowed(instance, width - b.w) and allowed(instance, height - b.h)
        ]
        if ways:
            rest, block = max(ways, key=lambda way: way[0])
            across = (width - block.w) * height >= width * (height - block.h)
            found.append(
                (sheet.cost, float(rest), SheetUse(stock=j, counts=counts, content=_on_sheet(block, width, height, kerf, across=across)))
            )
    return found


def _on_sheet(block: Block, width: int, height: int, kerf: int, *, across: bool) -> Content:
    content = block.content
    order: tuple[tuple[Direction, int, int], ...] = (("h", block.h, height), ("v", block.w, width))
    for direction, size, extent in order if across else order[::-1]:
        content = content if size == extent else (direction, ((size - kerf, content),))
    return content
