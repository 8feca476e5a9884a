"""Verbs that look things up: reckon, workshop, schema."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from halfsilver.cli.options import json_option, workshop_option
from halfsilver.errors import JobError, Problem

LARGEST = 32 << 20


@click.command()
@click.argument("name", required=False)
@click.argument("inputs", required=False, metavar="IN.json|-")
@click.option("--list", "listing", is_flag=True, help="List every formula.")
@json_option
def reckon(name: str | None, inputs: str | None, listing: bool, as_json: bool) -> int:
    """Evaluate a published formula by its listed name, with inputs from a JSON file or standard input.

    Example: echo '{"incidence_deg": 30, "air_mm": 24, "glass_mm": 3, "index": 1.52}' | halfsilver reckon sight.near_side_loss -
    """
    from halfsilver.services.reckon import listed
    from halfsilver.services.reckon import reckon as reckoned
    from halfsilver.services.records import as_text, document

    if listing:
        record = listed()
        if as_json:
            click.echo(as_text(document("reckon", record)), nl=False)
        else:
            for f in record.formulas:
                click.echo(f"{f.name:34} {f.unit or '-':10} {f.summary}")
        return 0
    if not name or not inputs:
        raise JobError(
            [
                Problem(
                    code="missing",
                    allowed="Needed: a name and a file of inputs, or - for standard input.",
                    advice="`halfsilver reckon --list` lists the names.",
                )
            ]
        )
    told = reckoned(name, _inputs(inputs), file=inputs)
    click.echo(as_text(document("reckon", told, places=None)), nl=False)
    return 0


def _inputs(file: str) -> dict[str, object]:
    try:
        text = sys.stdin.read(LARGEST) if file == "-" else Path(file).read_text("utf-8")
        told = json.loads(text)
    except (OSError, ValueError, RecursionError) as error:
        raise JobError(
            [
                Problem(
                    code="not-json",
                    file=file,
                    read=str(error)[:80],
                    allowed="A JSON object of the formula's parameters.",
                    advice="See `halfsilver reckon --list --json`.",
                )
            ]
        ) from None
    if not isinstance(told, dict):
        raise JobError(
            [
                Problem(
                    code="not-json",
                    file=file,
                    read=type(told).__name__,
                    allowed="A JSON object of the formula's parameters.",
                    advice='Write {"name": value}.',
                )
            ]
        )
    return told


@click.group()
def workshop() -> None:
    """List or copy the workshop's catalogues."""


@workshop.command("list")
@workshop_option
def list_(workshop: str | None) -> int:
    """List what the workshop has, by catalogue."""
    from halfsilver.files.workshop import read_workshop

    shop = read_workshop(Path(workshop) if workshop else None)
    click.echo(shop.head.name)
    for title, entries in (
        ("glass", shop.glass),
        ("mouldings", shop.mouldings),
        ("lights", shop.lights),
        ("supplies", shop.supplies),
        ("hardware", shop.hardware),
        ("screens", shop.screens),
    ):
        click.echo(f"{title}:")
        for key, entry in entries.items():
            click.echo(f"  {key:20} {entry.name}")
    click.echo(f"stock: {len(shop.stock)} sizes")
    return 0


@workshop.command()
@click.argument("folder", metavar="DIR", type=click.Path())
def copy(folder: str) -> int:
    """Copy the invented workshop into a folder, as the beginning of the shop's own."""
    from halfsilver.files.workshop import copy_workshop

    for path in copy_workshop(Path(folder)):
        click.echo(str(path))
    return 0


@workshop.command()
@click.argument("folder", metavar="DIR", type=click.Path())
@click.argument("moulding", metavar="MOULDING")
@click.argument("file", type=click.Path())
@click.option("--unit", default="", type=click.Choice(["", "mm", "in"]), help="Of a drawing that does not name its own.")
def profile(folder: str, moulding: str, file: str, unit: str) -> int:
    """Put the outline of a moulding into a workshop's profiles.csv: a drawing (DXF in ASCII), or a table with the columns x and z.

    Draw it with the outer edge on the left and the face on top.

    Example: halfsilver workshop profile myshop slim-19 slim.dxf
    """
    from halfsilver.files.atomic import write_beside
    from halfsilver.files.located import read_bytes, text_of
    from halfsilver.files.outline_dxf import MOST_BYTES
    from halfsilver.files.outlines import PROFILES, outline_of, with_outline

    points = outline_of(read_bytes(file, most=MOST_BYTES), file=file, unit=unit)
    table = Path(folder) / PROFILES
    text = with_outline(text_of(read_bytes(table), file=str(table)), moulding, points)
    write_beside(table, text.encode())
    width, depth = (max(point[axis] for point in points) for axis in (0, 1))
    click.echo(f"{table}: {len(points)} corners of {moulding}, {width:g} x {depth:g} mm")
    return 0


@click.command()
@click.argument("name")
def schema(name: str) -> int:
    """Print the JSON Schema of a file: job, workshop, design, findings, problems, why, reckon, manifest ...

    Example: halfsilver schema job
    """
    from halfsilver.services.schemas import schema_text

    click.echo(schema_text(name), nl=False)
    return 0
