"""The command line: one verb per line of the table, each loaded only when it is called.

Exit codes: 0 done, 2 a problem in the input, 3 no feasible design, 4 stop findings with ``--strict``, 5 store or rendering failed,
130 cancelled. Problems go to standard error, or with ``--json`` as one document to standard output.
"""

from __future__ import annotations

import gc
import sys
from importlib import import_module
from typing import Any

import click

from halfsilver import __version__
from halfsilver.errors import HalfsilverError, JobError, NoDesignError, Problem

COLLECT_SELDOM = 100_000  # a verb ends before the collector would find anything: it cost a tenth of a check's time

VERBS = {
    "check": ("halfsilver.cli.jobs:check", "Read a job: its problems, or its findings."),
    "resolve": ("halfsilver.cli.jobs:resolve", "Write every size, part and layer as JSON."),
    "why": ("halfsilver.cli.jobs:why", "Say where a dimension comes from."),
    "measure": ("halfsilver.cli.jobs:measure", "Append a reading to a job."),
    "predict": ("halfsilver.cli.looking:predict", "Say in numbers what will be seen."),
    "look": ("halfsilver.cli.looking:look", "Draw a picture."),
    "pack": ("halfsilver.cli.packs:pack", "Write the documents of a job into a folder."),
    "demo": ("halfsilver.cli.packs:demo", "Make the pack of an invented job."),
    "compare": ("halfsilver.cli.comparing:compare", "Put two to four options side by side."),
    "cut": ("halfsilver.cli.cutting:cut", "Plan how to cut an instance in the neutral form."),
    "cut-check": ("halfsilver.cli.cutting:cut_check", "Check a cutting plan, independently of what made it."),
    "reckon": ("halfsilver.cli.reckoning:reckon", "Evaluate a published formula by name."),
    "screen": ("halfsilver.cli.screen:screen", "Read what a screen says of itself."),
    "workshop": ("halfsilver.cli.reckoning:workshop", "List or copy the workshop's catalogues."),
    "serve": ("halfsilver.web.verb:serve", "Open the workshop in a browser."),
    "backup": ("halfsilver.cli.stores:backup", "Write the whole store to one file."),
    "restore": ("halfsilver.cli.stores:restore", "Put a backup into a store."),
    "export": ("halfsilver.cli.stores:export", "Write one job with its history to a file."),
    "import": ("halfsilver.cli.stores:import_", "Take in a job file or an exported job."),
    "schema": ("halfsilver.cli.reckoning:schema", "Print the JSON Schema of a file."),
}


class Verbs(click.Group):
    """A group whose commands are imported when they are called, so that help is quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order of a job."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command behind a name."""
        if cmd_name not in VERBS:
            return None
        module, _, name = VERBS[cmd_name][0].partition(":")
        command: click.Command = getattr(import_module(module), name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The table of verbs, without importing them."""
        with formatter.section("Verbs"):
            formatter.write_dl([(name, said) for name, (_, said) in VERBS.items()])


@click.group(cls=Verbs, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110})
@click.version_option(__version__, message="halfsilver %(version)s")
def cli() -> None:
    """From one job file to every size, finding, drawing and document of an illusion display.

    Example: halfsilver check examples/foyer.yaml
    """


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and end with its exit code."""
    gc.set_threshold(COLLECT_SELDOM)
    given = sys.argv[1:] if arguments is None else arguments
    try:
        sys.exit(_run(given))
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)


def _run(given: list[str]) -> int:
    try:
        result: Any = cli.main(args=given, prog_name="halfsilver", standalone_mode=False)
        return result if isinstance(result, int) else 0
    except click.ClickException as error:
        error.show()
        if "--json" in given:
            _print_problems((Problem(code="usage", allowed=error.format_message(), advice="See `halfsilver VERB --help`."),))
        return 2
    except (click.Abort, KeyboardInterrupt):
        click.echo("Cancelled.", err=True)
        return 130
    except HalfsilverError as error:
        _tell(error, as_json="--json" in given)
        return error.exit_code


def _tell(error: HalfsilverError, *, as_json: bool) -> None:
    problems = _problems(error)
    if as_json:
        _print_problems(problems)
    for problem in problems:
        click.echo(problem.text(), err=True)
    if len(problems) > 1:
        click.echo(f"{len(problems)} problems. Nothing was written.", err=True)


def _print_problems(problems: tuple[Problem, ...]) -> None:
    from halfsilver.services.records import as_text, document, problems_record

    click.echo(as_text(document("problems", problems_record(problems))), nl=False)


def _problems(error: HalfsilverError) -> tuple[Problem, ...]:
    if isinstance(error, JobError):
        return error.problems
    if isinstance(error, NoDesignError):
        return (Problem(code="no-design", allowed=error.limit, advice=" ".join(part for part in (error.nearest, error.advice) if part)),)
    return (Problem(code=type(error).__name__.removesuffix("Error").lower(), allowed=str(error)),)
