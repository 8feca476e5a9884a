"""The verbs ``cut`` and ``cut-check``: a cutting task in the neutral form to a plan, and a plan before the checker."""

from __future__ import annotations

import json
import os
import sys
from threading import Thread
from typing import TYPE_CHECKING, Literal, NoReturn, TypeVar

import click

from halfsilver.errors import HalfsilverError, JobError, NoDesignError

WAIT_S = 0.2
CANCELLED = 130
Result = TypeVar("Result")

if TYPE_CHECKING:
    from collections.abc import Callable

    from halfsilver.making.cutting.portfolio import CutResult


@click.command(name="cut", epilog="Example: halfsilver cut frames.json#week-12 -o plan.json --effort usual")
@click.argument("instance", metavar="INSTANCE.json[#ID]")
@click.option("-o", "--output", required=True, metavar="SOLUTION.json", help="Where the plan is written.")
@click.option(
    "--effort",
    type=click.Choice(["quick", "usual", "long"]),
    default="usual",
    show_default=True,
    help="A fixed amount of search, not a time.",
)
def cut(instance: str, output: str, effort: Literal["quick", "usual", "long"]) -> None:
    """Plan how pieces are cut from bars or sheets.

    The plan is the same for the same task and effort. It has passed the checker of cut-check. Exit code 3: the demand cannot be met.
    """
    from halfsilver.files.cutting import read_instance, write_json
    from halfsilver.making.cutting.portfolio import solve
    from halfsilver.services.cutting import plan_document

    try:
        task = read_instance(instance)
        result = _interruptible(lambda: solve(task, effort=effort, progress=_progress))
        write_json(output, plan_document(result))
    except HalfsilverError as error:
        _fail(error)
    click.echo(_summary(result), err=True)


@click.command(name="cut-check", epilog="Example: halfsilver cut-check frames.json#week-12 plan.json")
@click.argument("instance", metavar="INSTANCE.json[#ID]")
@click.argument("solution", metavar="SOLUTION.json")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def cut_check(instance: str, solution: str, as_json: bool) -> None:
    """Check a cutting plan against its task: demand, stock, sizes, kerf, trim, and that it can be cut.

    Exit code 0: the plan can be cut and meets the demand; 1: it does not; 2: a file cannot be read.
    """
    from halfsilver.files.cutting import read_instance, read_solution
    from halfsilver.services.cutting import check_document

    try:
        told = check_document(read_instance(instance), read_solution(solution))
    except HalfsilverError as error:
        _fail(error, as_json=as_json)
    if as_json:
        from halfsilver.services.records import as_text

        click.echo(as_text(told), nl=False)
    else:
        for violation in told["violations"]:
            click.echo(f"{violation['where']}: {violation['text']}  [{violation['code']}]")
        feasible = f"feasible, cost {_number(told['cost'])}"
        click.echo(feasible if told["feasible"] else f"not feasible: {len(told['violations'])} violations")
    sys.exit(0 if told["feasible"] else 1)


def _interruptible(work: Callable[[], Result]) -> Result:
    """What a piece of work returns or raises; it runs in a thread of its own, so that an interrupt need not wait for a solver."""
    done: list[Result] = []
    failed: list[BaseException] = []

    def run() -> None:
        try:
            done.append(work())
        except BaseException as error:
            failed.append(error)

    worker = Thread(target=run, daemon=True)
    worker.start()
    try:
        while worker.is_alive():
            worker.join(WAIT_S)
    except KeyboardInterrupt:
        click.echo("\nCancelled.", err=True)
        os._exit(CANCELLED)  # a solver in the midst of its work does not bear the interpreter's orderly end
    if failed:
        raise failed[0]
    return done[0]


def _progress(engine: str, cost: float) -> None:
    click.echo(f"{engine}: cost {_number(cost)}", err=True)


def _number(value: float | None) -> str:
    return "unknown" if value is None else f"{value:.10g}"


def _summary(result: CutResult) -> str:
    from halfsilver.making.cutting.solution import used_stock

    bound = result.bound
    over = f", within {100 * (result.cost / bound.value - 1):.2f} % of the least possible ({bound.kind} bound)" if bound.value > 0 else ""
    return f"{len(used_stock(result.solution))} stock pieces, cost {_number(result.cost)}{over}"


def _fail(error: HalfsilverError, *, as_json: bool = False) -> NoReturn:
    if as_json and isinstance(error, JobError):
        problems = [problem.as_dict() for problem in error.problems]
        click.echo(json.dumps({"schema": "halfsilver/problems/1", "problems": problems}, ensure_ascii=False))
    else:
        click.echo(f"No plan: {error}" if isinstance(error, NoDesignError) else str(error), err=True)
    sys.exit(error.exit_code)
