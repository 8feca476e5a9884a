"""A sheet task as engines see it: kerf and trim folded away, turned so that the first cuts leave strips of full width.

n parts in a row need n - 1 kerfs, so every pane and every sheet is grown by one kerf; then parts touch. A leftover is allowed when it is
nothing, no wider than the kerf (sawdust), or at least the narrowest strip and its kerf.
"""

from __future__ import annotations

from dataclasses import dataclass

from halfsilver.making.cutting.instance import FirstCut, SheetInstance
from halfsilver.making.cutting.sheet_rows import Content, Direction

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a sheet may be cut: direction of the first cuts, stages (2 or 3), and whether a last trimming cut is barred."""

    direction: Direction
    stages: int
    exact: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """One way to lay a pane: number of the piece, size along the strips and across, kerf included."""

    piece: int
    w: int
    h: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetUse:
    """One sheet of a plan: stock number, how many of each piece, layout."""

    stock: int
    counts: Counts
    content: Content


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTask:
    """The folded task in one manner of cutting.

    Attributes
    ----------
    layings : tuple of Laying
        All ways to lay all pieces.
    widths, heights : tuple of int
        Of each stock size, along the strips and across; 0 when the stock is used up.
    """

    instance: SheetInstance
    manner: Manner
    layings: tuple[Laying, ...]
    widths: tuple[int, ...]
    heights: tuple[int, ...]

    @property
    def demand(self) -> Counts:
        """How many of each piece are wanted."""
        return tuple(piece.qty for piece in self.instance.pieces)

    @property
    def costs(self) -> tuple[float, ...]:
        """Cost of each stock size."""
        return tuple(sheet.cost for sheet in self.instance.stock)

    @property
    def quantities(self) -> tuple[int | None, ...]:
        """How many there are of each stock size."""
        return tuple(sheet.qty for sheet in self.instance.stock)

    def legal(self, rest: int) -> bool:
        """Whether a leftover of this (folded) size may stay."""
        return allowed(self.instance, rest)

    def name(self, laying: Laying) -> str:
        """Id of the piece."""
        return self.instance.pieces[laying.piece].id


def allowed(instance: SheetInstance, rest: int) -> bool:
    """Whether a folded leftover may stay: none, sawdust, or a strip that breaks cleanly."""
    return 0 <= rest <= instance.kerf or rest >= instance.kerf + max(1, instance.min_strip)


def manners(instance: SheetInstance) -> tuple[Manner, ...]:
    """The manners of cutting that the engines try; more than three stages gain little over three with a trimming cut."""
    found = []
    directions: tuple[Direction, ...] = ("h", "v")
    for direction in directions:
        stages = instance.stages
        if stages is None:
            found.append(Manner(direction=direction, stages=3, exact=False))
            continue
        if instance.first_cut is not FirstCut.ANY and instance.first_cut.value != direction:
            stages -= 1
        if stages >= 2:
            found.append(Manner(direction=direction, stages=min(3, stages), exact=instance.exact and stages <= 3))
    return tuple(sorted(found, key=lambda manner: -manner.stages))


def task(instance: SheetInstance, manner: Manner) -> SheetTask:
    """Fold an instance for one manner of cutting."""
    kerf, turned = instance.kerf, manner.direction == "v"
    layings = []
    for number, piece in enumerate(instance.pieces):
        sizes = [(piece.width + kerf, piece.height + kerf)]
        if piece.rotate and piece.width != piece.height:
            sizes.append(sizes[0][::-1])
        layings += [Laying(piece=number, w=h if turned else w, h=w if turned else h) for w, h in sizes]
    spans = [(sheet.usable_width + kerf, sheet.usable_height + kerf) if sheet.qty != 0 else (0, 0) for sheet in instance.stock]
    return SheetTask(
        instance=instance, manner=manner, layings=tuple(layings),
        widths=tuple(h if turned else w for w, h in spans), heights=tuple(w if turned else h for w, h in spans),
    )  # fmt: skip


def fits_alone(instance: SheetInstance, number: int) -> bool:
    """Whether some stock size can hold this piece by itself, its leftovers allowed."""
    piece = instance.pieces[number]
    ways = [(piece.width, piece.height)] + ([(piece.height, piece.width)] if piece.rotate else [])
    return any(
        allowed(instance, sheet.usable_width - w) and allowed(instance, sheet.usable_height - h)
        for sheet in instance.stock
        if sheet.qty != 0
        for w, h in ways
    )


def uses_cost(instance: SheetInstance, uses: list[SheetUse]) -> float:
    """Cost of the sheets of a plan."""
    return sum(instance.stock[use.stock].cost for use in uses)
