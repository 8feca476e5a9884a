"""Beam search over partly cut sheets: every step lays one pane at the cutting front.

A sheet is filled strip by strip, a strip stack by stack, a stack pane by pane. The first stack of a strip sets its height and the first
pane of a stack its width, which loses nothing, for stacks and panes may change places. After every step the states that promise most are
kept: little waste behind the front, large panes first. The idea follows Fontan and Libralesso, "An anytime tree search algorithm for
two-dimensional two- and three-staged guillotine packing problems" (2020) [from memory]; here a whole level is worked out at once in arrays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from halfsilver.making.cutting.sheet_rows import strips
from halfsilver.making.cutting.sheet_task import Laying, SheetTask, SheetUse

GUIDES = ((0.1, 1.0), (0.02, 0.5), (0.05, 1.0), (0.1, 0.7))
SAME_STACK, NEW_STACK, NEW_STRIP, NEW_SHEET = range(4)
LEAST_DENSITY = 0.9
CELLS_PER_WIDTH = 16_000  # large tasks get a narrower beam: panes times layings times width


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """What makes a state promising: (waste share + offset) / (area laid to a power), the less the better."""

    offset: float
    power: float


@dataclass(slots=True, kw_only=True)
class _States:
    """One level of the search; every array has one entry per state (``left`` and ``used`` one row)."""

    left: Any
    used: Any
    closed: Any
    sheet: Any
    y: Any
    high: Any
    x: Any
    wide: Any
    top: Any
    first: Any
    area: Any
    mark: Any


class Beam:
    """A beam search for one task.

    Parameters
    ----------
    work : SheetTask
        The task.
    guide : Guide
        What is promising.
    """

    def __init__(self, work: SheetTask, guide: Guide) -> None:
        import numpy as np

        self.np, self.work, self.guide = np, work, guide
        self.piece = np.array([laying.piece for laying in work.layings])
        self.w = np.array([laying.w for laying in work.layings], dtype=np.int64)
        self.h = np.array([laying.h for laying in work.layings], dtype=np.int64)
        self.widths, self.heights = np.array([*work.widths, 1], dtype=np.int64), np.array([*work.heights, 1], dtype=np.int64)
        area = self.widths[:-1].astype(float) * self.heights[:-1]
        self.real = np.array(work.costs, dtype=float)
        self.density = np.array([*_densities(work, area.tolist()), 0.0])
        self.costs = self.density * np.array([*area, 0.0])
        self.most = np.array([2**31 if q is None else q for q in work.quantities], dtype=np.int64)
        self.opened: Sequence[int] = ()
        self.least = min((min(laying.w, laying.h) for laying in work.layings), default=1)
        self.marks = np.array([_mix(i + 1) for i in range(len(work.demand))], dtype=np.uint64)

    def run(self, demand: Sequence[int], quantities: Sequence[int | None], width: int) -> list[SheetUse] | None:
        """Search with a beam of this width; the cheapest complete plan, None if none was reached."""
        np = self.np
        total = sum(demand)
        width = max(6, min(width, CELLS_PER_WIDTH * width // max(1, total * len(self.w))))
        self.most = np.array([2**31 if q is None else q for q in quantities], dtype=np.int64)
        self.opened = [j for j, most in enumerate(quantities) if most != 0]
        states = self._start(demand)
        history = []
        for _ in range(total):
            chosen = self._choose(*self._offers(states), states, width)
            if chosen is None:
                return None
            states, step = chosen
            history.append(step)
        best = self._best(states)
        return None if best is None else self._plan(history, best)

    def _start(self, demand: Sequence[int]) -> _States:
        np = self.np
        one = np.zeros(1, dtype=np.int64)
        return _States(
            left=np.array([demand], dtype=np.int32), used=np.zeros((1, len(self.costs) - 1), dtype=np.int32), closed=np.zeros(1),
            sheet=np.full(1, len(self.costs) - 1), y=one, high=one, x=one, wide=one, top=one, first=np.ones(1, dtype=bool),
            area=np.zeros(1), mark=np.zeros(1, dtype=np.uint64),
        )  # fmt: skip

    def _legal(self, rest: Any) -> Any:
        instance = self.work.instance
        if instance.min_strip <= 1:
            return rest >= 0
        return (rest >= instance.kerf + instance.min_strip) | ((rest >= 0) & (rest <= instance.kerf))

    def _open(self, rest: Any) -> Any:
        """Whether a leftover is allowed, or large enough for a pane that may still mend it."""
        if self.work.instance.min_strip <= 1:
            return rest >= 0
        return self._legal(rest) | (rest >= self.least)

    def _offers(self, s: _States) -> tuple[Any, Any]:
        """Cost behind the front after every possible step (infinite where impossible), and which step it is."""
        np, w, h = self.np, self.w[None, :], self.h[None, :]
        y, high, x, wide, top = (a[:, None] for a in (s.y, s.high, s.x, s.wide, s.top))
        first, density, closed = s.first[:, None], self.density[s.sheet][:, None], s.closed[:, None]
        W, H = self.widths[s.sheet][:, None], self.heights[s.sheet][:, None]
        have = s.left[:, self.piece] > 0
        started = s.sheet[:, None] < len(self.costs) - 1
        stack_ok = first | self._legal(high - top)
        strip_ok = stack_ok & self._legal(W - x - wide)
        sheet_ok = (strip_ok & self._legal(H - y - high)) | ~started
        offers, steps = [], []

        def offer(possible: Any, front: Any, step: int) -> None:
            offers.append(np.where(possible & have, front, np.inf))
            steps.append(step)

        two, exact = self.work.manner.stages == 2, self.work.manner.exact
        if not two:
            grown = np.where(first, top + h, high)
            room = self._open(np.where(first, H - y - top - h, high - top - h))
            across = wide == w if exact else self._legal(wide - w)
            offer(started & room & across, closed + density * (W * y + x * grown + wide * (top + h)), SAME_STACK)
        lower = (h == high if exact else self._legal(high - h)) if two else self._open(high - h)
        used_h = high if two else h
        offer(
            started & stack_ok & lower & self._open(W - x - wide - w),
            closed + density * (W * y + (x + wide) * high + w * used_h),
            NEW_STACK,
        )
        offer(started & strip_ok & self._open(H - y - high - h) & self._open(W - w), closed + density * (W * (y + high) + w * h), NEW_STRIP)
        before = closed + self.costs[s.sheet][:, None]
        for j in self.opened:
            enough = (s.used[:, j] < self.most[j])[:, None]
            fits = self._open(self.widths[j] - w) & self._open(self.heights[j] - h)
            offer(enough & sheet_ok & fits, before + self.density[j] * (w * h), NEW_SHEET + j)
        return np.stack(offers), np.array(steps)

    def _choose(self, offers: Any, steps: Any, s: _States, width: int) -> tuple[_States, tuple[Any, Any, Any]] | None:
        np = self.np
        area = s.area[:, None] + (self.w * self.h)[None, :]
        with np.errstate(invalid="ignore"):
            score = (np.maximum(0.0, 1.0 - area[None] / offers) + self.guide.offset) / area[None] ** self.guide.power
        flat = np.where(np.isfinite(offers), score, np.inf).ravel()
        count = int(np.isfinite(flat).sum())
        if not count:
            return None
        take = min(count, 4 * width)
        pick = np.argpartition(flat, take - 1)[:take] if take < flat.size else np.arange(flat.size)[np.isfinite(flat)]
        pick = pick[np.lexsort((pick, flat[pick]))]
        kind, parent, laying = np.unravel_index(pick, offers.shape)
        new = self._step(s, steps[kind], parent, laying)
        _, unique = np.unique(new.mark, return_index=True)
        keep = np.sort(unique)[:width]
        fields = {name: getattr(new, name)[keep] for name in _States.__slots__}
        return _States(**fields), (parent[keep], steps[kind][keep], laying[keep])

    def _step(self, s: _States, step: Any, parent: Any, laying: Any) -> _States:
        np = self.np
        w, h = self.w[laying], self.h[laying]
        y, high, x, wide, top, first, sheet = (a[parent] for a in (s.y, s.high, s.x, s.wide, s.top, s.first, s.sheet))
        same, stack, strip, fresh = step == SAME_STACK, step == NEW_STACK, step == NEW_STRIP, step >= NEW_SHEET
        rows = np.arange(len(step))
        left, used = s.left[parent], s.used[parent]
        left[rows, self.piece[laying]] -= 1
        stock = np.where(fresh, step - NEW_SHEET, 0)
        used[rows[fresh], stock[fresh]] += 1
        new = _States(
            left=left, used=used, closed=s.closed[parent] + np.where(fresh, self.costs[sheet], 0.0), sheet=np.where(fresh, stock, sheet),
            y=np.where(fresh, 0, np.where(strip, y + high, y)),
            high=np.where(same, np.where(first, top + h, high), np.where(stack, high, h)),
            x=np.where(same, x, np.where(stack, x + wide, 0)), wide=np.where(same, wide, w), top=np.where(same, top + h, h),
            first=np.where(same, first, ~stack), area=s.area[parent] + w * h, mark=s.mark[parent],
        )  # fmt: skip
        new.mark = self._mark(new)
        return new

    def _mark(self, s: _States) -> Any:
        """A number that states with the same rest and the same front share."""
        np = self.np
        mark = (s.left.astype(np.uint64) * self.marks[None, :]).sum(axis=1, dtype=np.uint64)
        for number, part in enumerate((s.y, s.high, s.x, s.wide, s.top, s.sheet, s.first, np.round(s.closed * 16))):
            mark = mark * np.uint64(_mix(number + 1000)) + part.astype(np.uint64)
        return mark

    def _best(self, s: _States) -> int | None:
        np = self.np
        W, H = self.widths[s.sheet], self.heights[s.sheet]
        sound = (s.first | self._legal(s.high - s.top)) & self._legal(W - s.x - s.wide) & self._legal(H - s.y - s.high)
        if not sound.any():
            return None
        cost = np.where(sound, np.round(s.used @ self.real, 6), np.inf)
        order = np.lexsort((-(W * (H - s.y - s.high)), cost))
        return int(order[0])

    def _plan(self, history: list[tuple[Any, Any, Any]], best: int) -> list[SheetUse]:
        steps = []
        for parents, kinds, layings in reversed(history):
            steps.append((int(kinds[best]), self.work.layings[int(layings[best])]))
            best = int(parents[best])
        return _sheets(self.work, steps[::-1])


def _densities(work: SheetTask, areas: Sequence[float]) -> list[float]:
    """Cost per area of each stock size against the cheapest that is there without limit; how cheap an offcut is counts a little only."""
    rows = list(zip(work.costs, areas, work.quantities, strict=True))
    usual = [c / a for c, a, q in rows if a > 0 and c > 0 and q is None] or [c / a for c, a, _ in rows if a > 0 and c > 0] or [1.0]
    return [max(c / a / min(usual), LEAST_DENSITY) if a > 0 else 0.0 for c, a, _ in rows]


def _mix(number: int) -> int:
    """A well spread odd number of 64 bits for a small one (the finaliser of splitmix64)."""
    z = (number * 0x9E3779B97F4A7C15) & (2**64 - 1)
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & (2**64 - 1)
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & (2**64 - 1)
    return (z ^ (z >> 31)) | 1


def _sheets(work: SheetTask, steps: Sequence[tuple[int, Laying]]) -> list[SheetUse]:
    sheets: list[tuple[int, list[list[list[Laying]]]]] = []
    for kind, laying in steps:
        if kind >= NEW_SHEET:
            sheets.append((kind - NEW_SHEET, [[[laying]]]))
        elif kind == NEW_STRIP:
            sheets[-1][1].append([[laying]])
        elif kind == NEW_STACK:
            sheets[-1][1][-1].append([laying])
        else:
            sheets[-1][1][-1][-1].append(laying)
    return [_use(work, stock, rows) for stock, rows in sheets]


def _use(work: SheetTask, stock: int, rows: list[list[list[Laying]]]) -> SheetUse:
    kerf = work.instance.kerf
    counts = [0] * len(work.demand)
    layout = []
    for row in rows:
        stacks = []
        for stack in row:
            for laying in stack:
                counts[laying.piece] += 1
            stacks.append((stack[0].w - kerf, [(p.w - kerf, p.h - kerf, work.name(p)) for p in stack]))
        layout.append((sum(p.h for p in row[0]) - kerf, stacks))
    return SheetUse(stock=stock, counts=tuple(counts), content=strips(work.manner.direction, layout))
