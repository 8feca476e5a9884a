"""The verb that puts options side by side: compare."""

from __future__ import annotations

import click

from halfsilver.cli.options import json_option, workshop_option

WIDEST = 44


@click.command()
@click.argument("jobs", nargs=-1, required=True, type=click.Path(), metavar="JOB JOB...")
@workshop_option
@json_option
def compare(jobs: tuple[str, ...], workshop: str | None, as_json: bool) -> int:
    """Put two to four options side by side: sizes, depth, mass, what is hidden, gap and price.

    Example: halfsilver compare examples/foyer.yaml examples/archive-mirror.yaml
    """
    from halfsilver.services.compare import compared, table

    record = compared(jobs, workshop=workshop)
    if as_json:
        from halfsilver.services.records import as_text, document

        click.echo(as_text(document("compare", record)), nl=False)
        return 0
    rows = [tuple(cell if len(cell) <= WIDEST else cell[: WIDEST - 1] + "…" for cell in row) for row in table(record)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        click.echo("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
    return 0
