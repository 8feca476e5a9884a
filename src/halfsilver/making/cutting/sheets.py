"""Plans for sheets: shelves first, then beams, all joins of a few panes, two-stage columns for batches, re-laying, the offcut pass last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from halfsilver.making.cutting.bounds import Bound, dual_bound, rounded_up
from halfsilver.making.cutting.effort import Effort
from halfsilver.making.cutting.engine import Draft
from halfsilver.making.cutting.instance import SheetInstance
from halfsilver.making.cutting.sheet_beam import GUIDES, Guide
from halfsilver.making.cutting.sheet_bounds import area_bound
from halfsilver.making.cutting.sheet_columns import StripSearch
from halfsilver.making.cutting.sheet_joins import joined_plan
from halfsilver.making.cutting.sheet_mixes import mix_bound, mixed
from halfsilver.making.cutting.sheet_offcut import gathered
from halfsilver.making.cutting.sheet_repair import combined, laid, repaired
from halfsilver.making.cutting.sheet_rows import tree
from halfsilver.making.cutting.sheet_shelves import shelf_plans
from halfsilver.making.cutting.sheet_task import Manner, SheetUse, fits_alone, manners, task, uses_cost
from halfsilver.making.cutting.solution import SheetPlan, SheetSolution

BATCH = 12  # copies per piece from which column generation pays
NEAR = 1.002  # cost over bound at which a batch is good enough
GOOD = 1.06  # cost over the best at which a plan's sheets are still worth combining
MOST_STEPS = 4_000_000  # panes times ways to lay them
MOST_QUICK_LAYINGS = 40
SMALL_TASK_NODES = 100  # search over columns is worth it for a few panes only from this effort on


def unfitting(instance: SheetInstance) -> tuple[str, ...]:
    """Ids of wanted pieces that no sheet can hold by themselves, their leftovers allowed."""
    return tuple(piece.id for i, piece in enumerate(instance.pieces) if piece.qty and not fits_alone(instance, i))


def sheet_drafts(instance: SheetInstance, effort: Effort) -> Iterator[Draft]:
    """Plans of growing quality, the first one almost at once.

    Parameters
    ----------
    instance : SheetInstance
        The task; every piece fits some sheet by itself.
    effort : Effort
        Amount of work.

    Yields
    ------
    Draft
        A plan, perhaps none, the engine's name and a bound.
    """
    search = _Search(instance, effort)
    for engine, plans in search.engines():
        for uses in plans:
            if uses is not None:
                search.keep(uses)
                yield Draft(solution=unfold(instance, uses), engine=engine, bound=search.bound)
    if search.best is not None:
        final = gathered(search.works, search.best, width=effort.beams[0], joins=effort.joins)
        yield Draft(solution=unfold(instance, final), engine="offcut", bound=search.bound)
    else:
        yield Draft(solution=None, engine="beam", bound=search.bound)


class _Search:
    """The state that engines share: the best plan, the bound, and every sheet laid so far."""

    def __init__(self, instance: SheetInstance, effort: Effort) -> None:
        self.instance, self.effort = instance, effort
        self.works = [task(instance, manner) for manner in manners(instance)]
        self.best: list[SheetUse] | None = None
        self.plans: list[list[SheetUse]] = []
        self.deepest = [work for work in self.works if work.manner.stages == self.works[0].manner.stages]
        self.bound = area_bound(self.works[0])
        few = GUIDES if effort.nodes >= SMALL_TASK_NODES else GUIDES[:2]
        self.guides = [Guide(offset=offset, power=power) for offset, power in few]
        self.batch = sum(self.works[0].demand) >= BATCH * sum(1 for d in self.works[0].demand if d)

    def keep(self, uses: list[SheetUse]) -> None:
        """Remember a plan."""
        self.plans.append(uses)
        if self.best is None or uses_cost(self.instance, uses) < uses_cost(self.instance, self.best) - 1e-9:
            self.best = uses

    def enough(self, cost: float) -> bool:
        """Whether a cost equals the bound."""
        return cost <= self.bound.value * (1 + 1e-12) + 1e-9

    def done(self) -> bool:
        """Whether the best plan is proved best."""
        return self.best is not None and self.enough(uses_cost(self.instance, self.best))

    def near(self) -> bool:
        """Whether searching on is not worth it: a linear programme leaves next to nothing to gain."""
        if self.best is None or self.bound.kind != "lp":
            return self.done()
        return uses_cost(self.instance, self.best) < NEAR * self.bound.value

    def large(self) -> bool:
        """Whether the task is left to the quick rules."""
        work = self.works[0]
        return sum(work.demand) * len(work.layings) > MOST_STEPS

    def engines(self) -> Iterator[tuple[str, Iterator[list[SheetUse] | None]]]:
        """The engines in order, each with its plans."""
        yield "shelves", self._shelves()
        if self.large():
            return
        self._tighten()
        two = self.works[0].manner.stages == 2
        if self._by_columns() and two:
            yield "columns", self._columns()
        yield "joins", self._joins()
        yield "beam", self._beams()
        yield "mixes", self._mixes()
        if self._by_columns() and not two and not self.done():
            yield "columns", self._columns()
        yield "repair", self._repair()

    def _by_columns(self) -> bool:
        """Whether column generation pays: for batches and wherever two stages are all there is, unless only little is to be searched."""
        few = len(self.works[0].layings) <= MOST_QUICK_LAYINGS and self.instance.min_strip <= 1
        return (self.batch or self.instance.stages == 2) and (few or self.effort.nodes >= SMALL_TASK_NODES)

    def _shelves(self) -> Iterator[list[SheetUse] | None]:
        for work in self.works:
            yield from shelf_plans(work)[:1]

    def _columns(self) -> Iterator[list[SheetUse] | None]:
        searches = []
        for work in self.works:
            exact = work.manner.exact and work.manner.stages == 2
            two = task(self.instance, Manner(direction=work.manner.direction, stages=2, exact=exact))
            searches.append(StripSearch(two, self.effort))
        searches = [search for search in searches if search.holds]
        prices = [search.generate() for search in searches]
        if len(searches) == len(self.works) and all(work.manner.stages == 2 for work in self.works):
            self._prove(searches, prices)
        for search in searches:
            if not self.done() and (self.batch or self.effort.nodes >= SMALL_TASK_NODES):
                yield search.plan(self.effort.nodes if self.batch else self.effort.nodes // 8)

    def _prove(self, searches: Sequence[StripSearch], prices: Sequence[Sequence[float]]) -> None:
        work = self.works[0]
        for some in prices:
            worth = [max(values) for values in zip(*(search.worth(some) for search in searches), strict=True)]
            value = rounded_up(dual_bound(some, work.demand, worth, work.costs, work.quantities), work.costs, work.quantities)
            if value >= self.bound.value:
                self.bound = Bound(value=value, kind="lp")

    def _joins(self) -> Iterator[list[SheetUse] | None]:
        panes = sum(self.works[0].demand)
        if self.instance.stages is None and panes <= self.effort.joins and not self.done():
            yield joined_plan(self.instance)

    def _beams(self) -> Iterator[list[SheetUse] | None]:
        for width in self.effort.beams:
            for guide in self.guides:
                for work in self.deepest if width > self.effort.beams[0] else self.works:
                    if self.near():
                        return
                    yield laid(work, work.demand, work.quantities, guide, width)

    def _mixes(self) -> Iterator[list[SheetUse] | None]:
        if self.best is not None and not self.done():
            yield mixed(
                self.works, self.best, least=self.bound.value, tries=self.effort.mixes, guides=self.guides, width=self.effort.beams[0]
            )
        self._tighten()

    def _tighten(self) -> None:
        """A better bound for a small task, where the mixes of sheets can be counted."""
        if self.best is not None and not self.done():
            value = mix_bound(self.works[0], self.best, least=self.bound.value)
            if value > self.bound.value + 1e-9:
                self.bound = Bound(value=value, kind="material")

    def _repair(self) -> Iterator[list[SheetUse] | None]:
        if self.best is None or self.near():
            return
        width = self.effort.beams[-1]
        for _ in range(2):
            yield repaired(
                self.deepest, self.best, times=self.effort.repairs // 2, width=width, joins=self.effort.joins - 1, enough=self.enough
            )
            if not self.done() and self.effort.nodes >= SMALL_TASK_NODES:
                yield combined(self.works[0], self._good(), self.effort.nodes // 4)

    def _good(self) -> list[SheetUse]:
        """Sheets of the cheaper plans, the latest first."""
        assert self.best is not None
        cost = uses_cost(self.instance, self.best)
        plans = [plan for plan in reversed(self.plans) if uses_cost(self.instance, plan) <= GOOD * cost]
        return [use for plan in plans for use in plan][: self.effort.columns]


def unfold(instance: SheetInstance, uses: Sequence[SheetUse]) -> SheetSolution:
    """The trees of cuts; stock in the instance's order, the rest as it comes."""
    order = sorted(range(len(uses)), key=lambda i: (uses[i].stock, i))
    plans = ((instance.stock[uses[i].stock], uses[i].content) for i in order)
    return SheetSolution(
        instance=instance.id, sheets=tuple(SheetPlan(stock=sheet.id, tree=tree(sheet, content, instance.kerf)) for sheet, content in plans)
    )
