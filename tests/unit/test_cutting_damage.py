"""Ten kinds of damage, each done to each of two hundred seeded plans: the checker calls every one by its name.

The plans are made here, not by an engine: sheets are cut up at chance places, and their parts are the pieces. So each plan has what each
damage needs: cuts with a kerf, a leftover in the rack, coated panes that must not be turned, and five panes that also make a pinwheel.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import pytest

from halfsilver.making.cutting.checker import check
from halfsilver.making.cutting.instance import Pane, Sheet, SheetInstance, Trim
from halfsilver.making.cutting.solution import Node, PlacedPane, SheetPlan, SheetSolution

pytestmark = pytest.mark.cutting

PLANS = 200
WIDTH, HEIGHT, REST = 2000, 1500, (900, 700)
CUT_UP, WHEEL, ON_FULL, ON_REST = range(4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A plan of four sheets, and what made it."""

    instance: SheetInstance
    solution: SheetSolution
    wheel: tuple[PlacedPane, ...]


def cut_up(dice: random.Random, box: tuple[int, int, int, int], kerf: int, strip: int, depth: int) -> Node:
    """A rectangle cut at chance places; at the end of each row a waste strip."""
    x, y, w, h = box
    along = w > h
    size, waste = (w if along else h), dice.randint(strip, 2 * strip)
    room = size - waste - 2 * kerf
    if depth == 0 or room < 400:
        return Node(x=x, y=y, w=w, h=h, piece=f"p-{x}-{y}")
    first = dice.randint(room // 3, 2 * room // 3)
    sizes = (first, room - first, waste)
    children, at = [], x if along else y
    for number, part in enumerate(sizes):
        place = (at, y, part, h) if along else (x, at, w, part)
        inner = Node(x=place[0], y=place[1], w=place[2], h=place[3], waste=True)
        children.append(inner if number == 2 else cut_up(dice, place, kerf, strip, depth - 1))
        at += part + kerf
    return Node(x=x, y=y, w=w, h=h, cut="v" if along else "h", children=tuple(children))


def corner(piece: Pane, box: tuple[int, int, int, int], kerf: int, before: int = 0) -> Node:
    """One pane at the lower edge of a rectangle, with a waste strip of so much to its left; the rest is waste."""
    x, y, w, h = box
    at = x + (before + kerf if before else 0)
    pane = Node(x=at, y=y, w=piece.width, h=piece.height, piece=piece.id)
    above = Node(x=at, y=y + piece.height + kerf, w=piece.width, h=h - piece.height - kerf, waste=True)
    column = Node(x=at, y=y, w=piece.width, h=h, cut="h", children=(pane, above))
    right = Node(x=at + piece.width + kerf, y=y, w=x + w - at - piece.width - kerf, h=h, waste=True)
    left = (Node(x=x, y=y, w=before, h=h, waste=True),) if before else ()
    return Node(x=x, y=y, w=w, h=h, cut="v", children=(*left, column, right))


def pinwheel(dice: random.Random, origin: tuple[int, int], kerf: int) -> tuple[PlacedPane, ...]:
    """Four panes round a middle one: no cut goes through from edge to edge."""
    (x, y), long, short = origin, dice.randint(320, 420), dice.randint(120, 150)
    out, core = long + kerf, long - short - kerf
    spots = (
        (0, 0, long, short), (out, 0, short, long), (short + kerf, out, long, short), (0, short + kerf, short, long),
        (short + kerf, short + kerf, core - kerf, core - kerf),
    )  # fmt: skip
    return tuple(PlacedPane(piece=f"w{i}", x=x + a, y=y + b, w=w, h=h) for i, (a, b, w, h) in enumerate(spots))


def in_a_row(panes: tuple[PlacedPane, ...], origin: tuple[int, int], gap: int) -> tuple[PlacedPane, ...]:
    """The same panes one beside the other."""
    at, found = origin[0], []
    for pane in panes:
        found.append(replace(pane, x=at, y=origin[1]))
        at += pane.w + gap
    return tuple(found)


@cache
def made(seed: int) -> Made:
    """The plan of a seed."""
    dice = random.Random(seed)
    kerf, strip = dice.randint(3, 6), dice.randint(15, 25)
    trim = Trim(left=dice.randint(5, 12), right=dice.randint(0, 8), bottom=dice.randint(5, 10), top=dice.randint(0, 6))
    full = Sheet(id="full", width=WIDTH, height=HEIGHT, cost=100, trim=trim)
    rest = Sheet(id="rest", width=REST[0], height=REST[1], qty=1, cost=10, offcut=True)
    usable = (trim.left, trim.bottom, full.usable_width, full.usable_height)
    tree = cut_up(dice, usable, kerf, strip, 3)
    lone = [Pane(id=f"lone{i}", width=dice.randint(300, 500), height=dice.randint(150, 280), qty=1, rotate=False) for i in range(2)]
    wheel = pinwheel(dice, usable[:2], kerf)
    others = [Pane(id=n.piece, width=n.w, height=n.h, qty=1, rotate=False) for n in tree.walk() if n.piece is not None]
    others += [Pane(id=p.piece, width=p.w, height=p.h, qty=1, rotate=False) for p in wheel]
    instance = SheetInstance(id=f"s{seed}", stock=(full, rest), pieces=(*others, *lone), kerf=kerf, min_strip=strip)
    sheets = (
        SheetPlan(stock="full", tree=tree),
        SheetPlan(stock="full", cuts=in_a_row(wheel, usable[:2], kerf + strip + kerf)),
        SheetPlan(stock="full", tree=corner(lone[0], usable, kerf)),
        SheetPlan(stock="rest", tree=corner(lone[1], (0, 0, *REST), kerf)),
    )
    return Made(instance=instance, solution=SheetSolution(instance=instance.id, sheets=sheets), wheel=wheel)


def codes(instance: SheetInstance, solution: SheetSolution) -> set[str]:
    return {violation.code for violation in check(instance, solution)}


def with_sheet(made: Made, number: int, sheet: SheetPlan) -> SheetSolution:
    sheets = list(made.solution.sheets)
    sheets[number] = sheet
    return replace(made.solution, sheets=tuple(sheets))


def with_panes(made: Made, number: int, change: Callable[[list[PlacedPane]], None]) -> SheetSolution:
    """A sheet as a mere list of panes, changed."""
    panes = list(made.solution.sheets[number].panes())
    change(panes)
    return with_sheet(made, number, SheetPlan(stock=made.solution.sheets[number].stock, cuts=tuple(panes)))


def shifted(made: Made, dice: random.Random) -> set[str]:
    """One part of the tree moved by a little, all else as it was."""
    tree = made.solution.sheets[CUT_UP].tree
    assert tree is not None
    number, step = dice.randrange(2), dice.choice([-2, -1, 1, 2])
    moved = tree.children[number]
    moved = replace(moved, x=moved.x + step) if tree.cut == "v" else replace(moved, y=moved.y + step)
    children = tuple(moved if i == number else child for i, child in enumerate(tree.children))
    return codes(made.instance, with_sheet(made, CUT_UP, SheetPlan(stock="full", tree=replace(tree, children=children))))


def overlapping(made: Made, dice: random.Random) -> set[str]:
    def change(panes: list[PlacedPane]) -> None:
        one, other = dice.sample(range(len(panes)), 2)
        panes[one] = replace(panes[one], x=panes[other].x, y=panes[other].y)

    return codes(made.instance, with_panes(made, CUT_UP, change))


def missing(made: Made, dice: random.Random) -> set[str]:
    return codes(made.instance, with_panes(made, CUT_UP, lambda panes: panes.remove(dice.choice(panes))))


def kerf_ignored(made: Made, dice: random.Random) -> set[str]:
    """Two panes of a row that touch."""

    def change(panes: list[PlacedPane]) -> None:
        at = dice.randrange(len(panes) - 1)
        panes[at + 1] = replace(panes[at + 1], x=panes[at].x + panes[at].w + dice.randrange(made.instance.kerf))

    return codes(made.instance, with_panes(made, WHEEL, change))


def not_guillotine(made: Made, _: random.Random) -> set[str]:
    return codes(made.instance, with_sheet(made, WHEEL, SheetPlan(stock="full", cuts=made.wheel)))


def strip_too_narrow(made: Made, dice: random.Random) -> set[str]:
    full, lone = made.instance.stock[0], next(piece for piece in made.instance.pieces if piece.id == "lone0")
    usable = (full.trim.left, full.trim.bottom, full.usable_width, full.usable_height)
    tree = corner(lone, usable, made.instance.kerf, before=dice.randrange(1, made.instance.min_strip))
    return codes(made.instance, with_sheet(made, ON_FULL, SheetPlan(stock="full", tree=tree)))


def turned(made: Made, dice: random.Random) -> set[str]:
    def change(panes: list[PlacedPane]) -> None:
        panes[0] = replace(panes[0], w=panes[0].h, h=panes[0].w)

    return codes(made.instance, with_panes(made, dice.choice([ON_FULL, ON_REST]), change))


def offcut_twice(made: Made, _: random.Random) -> set[str]:
    """The first of the lone panes out of the leftover too: it would fit, but there is only one."""
    lone = next(piece for piece in made.instance.pieces if piece.id == "lone0")
    return codes(made.instance, with_sheet(made, ON_FULL, SheetPlan(stock="rest", tree=corner(lone, (0, 0, *REST), made.instance.kerf))))


def wrong_stock(made: Made, _: random.Random) -> set[str]:
    """A plan for the large sheet, said to be on the small one."""
    return codes(made.instance, with_sheet(made, CUT_UP, replace(made.solution.sheets[CUT_UP], stock="rest")))


def outside(made: Made, dice: random.Random) -> set[str]:
    """A pane over an edge by a little; within the trim it is outside already."""
    full, by = made.instance.stock[0], dice.randint(1, 4)

    def change(panes: list[PlacedPane]) -> None:
        pane, right = panes[0], full.trim.left + full.usable_width
        panes[0] = replace(pane, x=dice.choice([full.trim.left - by, right - pane.w + by]))

    return codes(made.instance, with_panes(made, ON_FULL, change))


DAMAGE: dict[str, tuple[Callable[[Made, random.Random], set[str]], set[str]]] = {
    "shifted": (shifted, {"kerf", "not-guillotine", "outside"}),
    "overlapping": (overlapping, {"overlap"}),
    "missing": (missing, {"missing"}),
    "kerf ignored": (kerf_ignored, {"kerf"}),
    "not guillotine": (not_guillotine, {"not-guillotine"}),
    "strip too narrow": (strip_too_narrow, {"strip"}),
    "turned coated pane": (turned, {"turned"}),
    "offcut used twice": (offcut_twice, {"stock-exceeded"}),
    "wrong stock": (wrong_stock, {"outside"}),
    "outside": (outside, {"outside"}),
}


def test_ten_kinds_and_two_hundred_plans() -> None:
    assert (len(DAMAGE), PLANS) == (10, 200)
    assert len({made(seed).instance.pieces for seed in range(PLANS)}) == PLANS


@pytest.mark.parametrize("seed", range(PLANS))
def test_each_kind_of_damage_is_found(seed: int) -> None:
    plan = made(seed)
    assert codes(plan.instance, plan.solution) == set()
    for kind, (damage, names) in DAMAGE.items():
        assert damage(plan, random.Random(seed)) & names, kind
