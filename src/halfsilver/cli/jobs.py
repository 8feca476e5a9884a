"""Verbs that read one job: check, resolve, why, measure."""

from __future__ import annotations

from pathlib import Path

import click

from halfsilver.cli.options import job_argument, json_option, workshop_option
from halfsilver.cli.text import headline, letter_lines, working_lines

STRICT_EXIT = 4


@click.command()
@job_argument
@workshop_option
@click.option("--strict", is_flag=True, help="End with code 4 if there is a stop.")
@click.option("--workings", is_flag=True, help="Print every finding in full, with its working.")
@json_option
def check(job: str, workshop: str | None, strict: bool, workings: bool, as_json: bool) -> int:
    """Read a job and its workshop; print every problem with its place, or the findings.

    Example: halfsilver check examples/foyer.yaml
    """
    from halfsilver.model.finding import Severity
    from halfsilver.services.findings import examined
    from halfsilver.services.load import load, resolve

    loaded = load(job, workshop=workshop)
    design = resolve(loaded)
    held = examined(design, loaded.show)
    found = held.findings
    if as_json:
        from halfsilver.services.records import as_text, document, findings_record

        click.echo(as_text(document("findings", findings_record(found, held.workings))), nl=False)
    else:
        told = working_lines if workings else letter_lines
        for line in (*headline(design, loaded.show), "", *told(found, held.workings, loaded.show)):
            click.echo(line)
    return STRICT_EXIT if strict and any(finding.severity is Severity.STOP for finding in found) else 0


@click.command()
@job_argument
@workshop_option
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="Where design.json goes.")
@click.option("--job", "job_out", type=click.Path(dir_okay=False), help="Also write the job with every auto decided.")
def resolve(job: str, workshop: str | None, output: str, job_out: str | None) -> int:
    """Write the ledger of sizes, the parts and the layers as JSON.

    Example: halfsilver resolve examples/foyer.yaml -o design.json
    """
    from halfsilver.files.atomic import write_beside
    from halfsilver.services.load import load
    from halfsilver.services.load import resolve as resolved
    from halfsilver.services.records import as_text, design_record, document
    from halfsilver.services.rewrite import decided_text

    _spare(job, output, job_out)
    loaded = load(job, workshop=workshop)
    design = resolved(loaded)
    write_beside(Path(output), as_text(document("design", design_record(design, loaded.show))).encode())
    click.echo(f"{output}: {len(design.ledger.entries)} entries, {len(design.parts)} parts, digest {design.digest[:12]}")
    if job_out:
        write_beside(Path(job_out), decided_text(loaded, design).encode())
        click.echo(f"{job_out}: the job with every auto decided")
    return 0


def _spare(job: str, *outputs: str | None) -> None:
    """Refuse to write over the job, or one output over the other."""
    from halfsilver.errors import JobError, Problem

    named = [Path(path).resolve() for path in (job, *outputs) if path]
    if len(set(named)) < len(named):
        raise JobError(
            [
                Problem(
                    code="same-file",
                    read=", ".join(path for path in outputs if path),
                    allowed="The job and every output are files of their own: nothing is written over the job.",
                    advice="Name another file.",
                )
            ]
        )


@click.command()
@job_argument
@click.argument("name")
@workshop_option
@json_option
def why(job: str, name: str, workshop: str | None, as_json: bool) -> int:
    """Say where a dimension comes from, how far it may be off, and what would tighten it.

    Example: halfsilver why examples/foyer.yaml rear.glass.width
    """
    from halfsilver.errors import JobError, Problem
    from halfsilver.ledger.explain import lines
    from halfsilver.ledger.explain import why as explained
    from halfsilver.services.load import load
    from halfsilver.services.load import resolve as resolved
    from halfsilver.units.words import nearest_word

    loaded = load(job, workshop=workshop)
    ledger = resolved(loaded).ledger
    if name not in ledger:
        near = nearest_word(name, ledger.entries)
        advice = f"Did you mean {near}?" if near else "`halfsilver resolve` lists them all."
        raise JobError(
            [Problem(code="unknown-name", read=name, allowed=f"The ledger of this job has {len(ledger.entries)} names.", advice=advice)]
        )
    told = explained(ledger, name, show=loaded.show)
    if as_json:
        from halfsilver.services.records import as_text, document, why_record

        click.echo(as_text(document("why", why_record(told))), nl=False)
        return 0
    click.echo(told.sentence)
    click.echo("")
    for line in lines(told):
        click.echo(line)
    return 0


@click.command()
@job_argument
@click.argument("name")
@click.argument("value")
@click.option("--at", default="", help="Where it was taken: middle, left, top ...")
@click.option("--by", default=None, help="Who read it.")
@click.option("--when", default=None, metavar="YYYY-MM-DD", help="When it was read.")
@workshop_option
def measure(job: str, name: str, value: str, at: str, by: str | None, when: str | None, workshop: str | None) -> int:
    """Append a reading to a job file; nothing is ever overwritten.

    Example: halfsilver measure mine.yaml front.rebate.width "53 5/16 in" --at middle
    """
    from halfsilver.services.measuring import append

    for line in append(job, name=name, value=value, at=at, by=by, when=when, workshop=workshop):
        click.echo(line)
    return 0
