"""The linear programme over patterns, and the integer programme over those found; solved by HiGHS on one thread with a fixed seed.

Rows hold what is wanted (at least) and what there is (at most). A column is a cost and what it adds to the rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Column = tuple[float, Mapping[int, float]]
GUARD_S = 600.0  # a guard against a solver that does not come back; the work is limited by rounds and nodes


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """Solution of the linear programme: value, one number per column, one price per row."""

    value: float
    columns: tuple[float, ...]
    prices: tuple[float, ...]


def _solver() -> Any:
    import highspy

    class Silent(highspy.Highs):
        """Leaves out the callbacks, whose setting up prints a banner to standard output before it can be turned off."""

        def __init__(self) -> None:
            super(highspy.Highs, self).__init__()

    solver = Silent()
    for name, value in (("output_flag", False), ("threads", 1), ("random_seed", 1), ("time_limit", GUARD_S)):
        solver.setOptionValue(name, value)
    return solver


class Master:
    """A linear programme that grows by columns and keeps its basis between solutions.

    Parameters
    ----------
    rows : sequence of (float, float)
        Least and most of every row.
    columns : sequence of Column
        Columns to begin with.
    """

    def __init__(self, rows: Sequence[tuple[float, float]], columns: Sequence[Column] = ()) -> None:
        self.solver = _solver()
        for least, most in rows:
            self.solver.addRow(least, most, 0, [], [])
        self.count = 0
        for column in columns:
            self.add(column)

    def add(self, column: Column) -> None:
        """Add one column."""
        cost, entries = column
        index = sorted(entries)
        self.solver.addCol(cost, 0.0, float("inf"), len(index), index, [entries[i] for i in index])
        self.count += 1

    def solve(self) -> Relaxed:
        """Solve the linear programme."""
        self.solver.run()
        solution = self.solver.getSolution()
        return Relaxed(
            value=float(self.solver.getInfo().objective_function_value), columns=tuple(solution.col_value), prices=tuple(solution.row_dual)
        )


def whole(rows: Sequence[tuple[float, float]], columns: Sequence[Column], *, nodes: int) -> tuple[int, ...] | None:
    """Best whole-numbered use of given columns within a limit of nodes.

    Parameters
    ----------
    rows : sequence of (float, float)
        Least and most of every row.
    columns : sequence of Column
        The columns.
    nodes : int
        Most nodes of the search.

    Returns
    -------
    tuple of int or None
        How often each column is used; None if nothing feasible was found.

    Notes
    -----
    No plan is handed over to begin with: HiGHS 1.16 was seen to call such a start optimal when it was not.
    """
    import highspy

    master = Master(rows, columns)
    solver = master.solver
    count = master.count
    solver.changeColsIntegrality(count, list(range(count)), [highspy.HighsVarType.kInteger] * count)
    for name, value in (("mip_max_nodes", nodes), ("mip_max_stall_nodes", max(1, nodes // 2)), ("mip_rel_gap", 0.0)):
        solver.setOptionValue(name, value)
    solver.run()
    value = solver.getInfo()
    if value.primal_solution_status != 2:
        return None
    return tuple(round(x) for x in solver.getSolution().col_value)
