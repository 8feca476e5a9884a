"""Verbs about a screen: what its EDID block says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from halfsilver.cli.options import json_option

if TYPE_CHECKING:
    from halfsilver.model.edid import Edid


@click.group()
def screen() -> None:
    """Read what a screen says of itself."""


@screen.command("edid")
@click.argument("file", type=click.Path())
@json_option
def edid_(file: str, as_json: bool) -> int:
    """Read a screen's EDID block, written as bytes or as a dump in hexadecimal.

    Its sizes are a hint and drive no cut: measure with a tape. In a job it stands as `screen: {edid: FILE}`.

    Example: halfsilver screen edid screen.bin
    """
    from halfsilver.files.edid import read_edid

    found = read_edid(file)
    if as_json:
        from halfsilver.model.edid import edid_record
        from halfsilver.services.records import as_text, document

        click.echo(as_text(document("edid", edid_record(found))), nl=False)
        return 0
    for label, text in _rows(found):
        click.echo(f"{label:18}{text}")
    for note in found.notes:
        click.echo(f"note: {note}")
    return 0


def _rows(edid: Edid) -> Iterator[tuple[str, str]]:
    yield "EDID", f"version {edid.version}, {edid.signal}"
    made = f"model of {edid.model_year}" if edid.model_year else f"made {edid.year}" + (f", week {edid.week}" if edid.week else "")
    serial = edid.serial_text or (str(edid.serial) if edid.serial is not None else "")
    yield (
        "screen",
        ", ".join(part for part in (edid.name, f"code {edid.maker} {edid.product:04x}", serial and f"no. {serial}", made) if part),
    )
    yield from _picture(edid)
    yield "gamma", "not given" if edid.gamma is None else f"{edid.gamma:.2f}"
    if colours := edid.colours:
        each = ((name, getattr(colours, name)) for name in ("red", "green", "blue", "white"))
        yield "colours x, y", ", ".join(f"{name} {x:.4f} {y:.4f}" for name, (x, y) in each)
    else:
        yield "colours x, y", "not given"
    if limits := edid.limits:
        yield "takes", f"{_span(limits.vertical_hz)} Hz, {_span(limits.horizontal_khz)} kHz, up to {limits.clock_mhz} MHz"
    if others := [f"{one.width_px}x{one.height_px} {one.rate_hz} Hz" for one in edid.standard]:
        yield "also", ", ".join(others)
    if edid.established:
        yield "established", ", ".join(edid.established)
    for text in edid.texts:
        yield "says", text
    for one in edid.extensions:
        light = f"; asks for pictures of up to {one.peak_cd_m2:.0f} cd/m2" if one.peak_cd_m2 else ""
        light += f", {one.full_cd_m2:.0f} cd/m2 on average" if one.full_cd_m2 else ""
        yield "extension", f"{one.tag:02x}h {one.what}{light}"


def _picture(edid: Edid) -> Iterator[tuple[str, str]]:
    for i, one in enumerate(edid.detailed):
        size = f", {one.width_mm:.0f} x {one.height_mm:.0f} mm" if one.width_mm and one.height_mm else ""
        way = " interlaced" if one.interlaced else ""
        yield "format" if i else "preferred format", f"{one.width_px} x {one.height_px} pixels, {one.rate_hz:.2f} Hz{way}{size}"
    if hint := edid.picture_mm:
        yield "picture, a hint", f"{hint[0]:.0f} x {hint[1]:.0f} mm, within {hint[2]:g} mm: measure it"
    elif edid.aspect:
        yield "picture, a hint", f"aspect {edid.aspect:.2f}, no size: measure it"
    else:
        yield "picture, a hint", "no size is given: measure it"


def _span(ends: tuple[int, int]) -> str:
    return f"{ends[0]} to {ends[1]}"
