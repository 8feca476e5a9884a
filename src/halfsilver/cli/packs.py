"""Verbs that write documents: pack and demo."""

from __future__ import annotations

import sys

import click

from halfsilver.cli.options import job_argument, workshop_option
from halfsilver.cli.text import headline, letter_lines
from halfsilver.errors import JobError, Problem

MOST_OPTIONS = 3
DEMO_DATE = "2026-10-01"


@click.command()
@job_argument
@workshop_option
@click.option("-o", "--output", required=True, type=click.Path(), help="Folder of the pack; replaced as a whole.")
@click.option("--date", default=None, metavar="YYYY-MM-DD", help="Date printed on the documents.")
@click.option("--no-pictures", is_flag=True, help="Leave the pictures out.")
@click.option("--option", "others", multiple=True, metavar="JOB", help="Another way to make it, for the client to see beside; up to three.")
def pack(job: str, workshop: str | None, output: str, date: str | None, no_pictures: bool, others: tuple[str, ...]) -> int:
    """Write the documents of one revision of a job into a folder.

    Example: halfsilver pack examples/foyer.yaml -o foyer-pack --date 2026-03-04
    """
    from halfsilver.services.load import load
    from halfsilver.services.pack import write_pack

    if date is None:
        raise JobError(
            [
                Problem(
                    code="date-missing",
                    path="--date",
                    allowed="The date on the documents is an input, so that the same input gives the same bytes.",
                    advice="Add --date YYYY-MM-DD.",
                )
            ]
        )
    if len(others) > MOST_OPTIONS:
        allowed = f"Up to {MOST_OPTIONS} options stand beside the job."
        raise JobError([Problem(code="number-of-jobs", path="--option", read=str(len(others)), allowed=allowed, advice="Name fewer.")])
    beside = [load(other, workshop=workshop) for other in others]
    written = write_pack(load(job, workshop=workshop), output, date=date, others=beside, pictures=not no_pictures, say=_say)
    click.echo(f"{written.folder}: revision {written.revision}, {len(written.files)} files")
    return 0


@click.command()
@click.option("-o", "--output", default="demo-pack", show_default=True, type=click.Path(), help="Folder of the pack.")
def demo(output: str) -> int:
    """Make the pack of an invented job, and print its headline sizes and findings."""
    from halfsilver.services.findings import examined
    from halfsilver.services.load import load
    from halfsilver.services.pack import demo_job, write_pack

    loaded = load(str(demo_job()))
    written = write_pack(loaded, output, date=DEMO_DATE, say=_say)
    held = examined(written.design, loaded.show)
    for line in (*headline(written.design, loaded.show), "", *letter_lines(held.findings, held.workings, loaded.show), ""):
        click.echo(line)
    click.echo(f"The pack lies in {written.folder}: {', '.join(written.files)}")
    click.echo(f"How it will look: {written.folder}/pictures, and {written.folder}/client.pdf.")
    return 0


def _say(stage: str) -> None:
    """Progress, to standard error, where somebody is looking."""
    if sys.stderr.isatty():
        click.echo(f"{stage} ...", err=True)
