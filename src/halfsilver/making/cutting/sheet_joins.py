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
from halfsilver.making.cutting.sheet_rows import Content, Direction, other
from halfsilver.making.cutting.sheet_task import Counts, SheetUse, allowed

MOST_BLOCKS = 8
MOST_SETS = 1100


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle that encloses a set of panes; sizes with one kerf.

    It is a pane, or two blocks side by side (``v``) or one above the other (``h``).
    """

    w: int
    h: int
    pane: str = ""
    direction: Direction = "v"
    parts: tuple[Block, ...] = ()

    def content(self, kerf: int) -> Content:
        """The layout inside."""
        if self.pane:
            return self.pane
        along = self.direction == "v"
        rows = []
        for part in self.parts:
            size, across, extent = (part.w, part.h, self.h) if along else (part.h, part.w, self.w)
            inner = part.content(kerf)
            rows.append((size - kerf, inner if across == extent else (other(self.direction), ((across - kerf, inner),))))
        return self.direction, tuple(rows)


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
    found: dict[tuple[int, int], Block] = {}
    for part in product(*(range(c + 1) for c in counts)):
        rest = tuple(c - p for c, p in zip(counts, part, strict=True))
        if any(part) and part <= rest:
            for a in blocks[part]:
                for b in blocks[rest]:
                    _join(instance, a, b, found)
    return _kept(instance, found)


def _single(instance: SheetInstance, number: int) -> list[Block]:
    piece, kerf = instance.pieces[number], instance.kerf
    sizes = [(piece.width + kerf, piece.height + kerf)]
    if piece.rotate:
        sizes.append(sizes[0][::-1])
    return _kept(instance, {size: Block(*size, pane=piece.id) for size in sizes})


def _join(instance: SheetInstance, a: Block, b: Block, found: dict[tuple[int, int], Block]) -> None:
    """Both joins of two blocks, where no block of that size is known yet and the leftover beside the smaller one is allowed."""
    size = a.w + b.w, max(a.h, b.h)
    if size not in found and allowed(instance, abs(a.h - b.h)):
        found[size] = Block(*size, direction="v", parts=(a, b))
    size = max(a.w, b.w), a.h + b.h
    if size not in found and allowed(instance, abs(a.w - b.w)):
        found[size] = Block(*size, direction="h", parts=(a, b))


def _kept(instance: SheetInstance, found: dict[tuple[int, int], Block]) -> list[Block]:
    """Those that fit a sheet, smallest area first, without what another fits into (unless strips are limited), at most so many."""
    sheets = [(s.usable_width + instance.kerf, s.usable_height + instance.kerf) for s in instance.stock if s.qty != 0]
    kept: list[Block] = []
    for w, h in sorted(found, key=lambda size: (size[0] * size[1], size[0])):
        held = instance.min_strip <= 1 and any(k.w <= w and k.h <= h for k in kept)
        if not held and any(w <= width and h <= height for width, height in sheets):
            kept.append(found[w, h])
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
    content = block.content(kerf)
    order: tuple[tuple[Direction, int, int], ...] = (("h", block.h, height), ("v", block.w, width))
    for direction, size, extent in order if across else order[::-1]:
        content = content if size == extent else (direction, ((size - kerf, content),))
    return content
