"""Verbs for what will be seen: predict, in numbers, and look, as a picture."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path

import click

from halfsilver.cli.options import job_argument, workshop_option
from halfsilver.errors import JobError, Problem

SIZE = "960x540"
MOST_PX, MOST_SAMPLES = 7680, 1024
LARGE_PX = 1_000_000


@click.command()
@job_argument
@workshop_option
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="Where appearance.json goes.")
def predict(job: str, workshop: str | None, output: str) -> int:
    """Say in numbers what each viewer will see, what that means, and which change would help most.

    Example: halfsilver predict examples/foyer.yaml -o appearance.json
    """
    from halfsilver.cli.seen import lines
    from halfsilver.cli.text import finding_lines
    from halfsilver.files.atomic import write_beside
    from halfsilver.services.appearance.findings import appearance_findings
    from halfsilver.services.appearance.predict import predicted
    from halfsilver.services.load import load, resolve
    from halfsilver.services.records import as_text, document

    loaded = load(job, workshop=workshop)
    design = resolve(loaded)
    record = predicted(loaded, design)
    write_beside(Path(output), as_text(document("appearance", record)).encode())
    for line in (
        *lines(record),
        "",
        *finding_lines(appearance_findings(design, record, loaded.show)),
        "",
        f"{output}: appearance of {record.title}",
    ):
        click.echo(line)
    return 0


@click.command()
@click.argument("source", metavar="JOB|SCENE.json", type=click.Path())
@workshop_option
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="Where the PNG goes.")
@click.option("--viewer", default=None, metavar="ID", help="Who looks at a job; a scene has its own camera.")
@click.option("--linear", default=None, type=click.Path(dir_okay=False), metavar="P.npy", help="Also the linear values, float32.")
@click.option("--size", default=SIZE, show_default=True, metavar="WxH", help="Size in pixels.")
@click.option("--samples", default=None, type=click.IntRange(1, MOST_SAMPLES), metavar="N", help="Samples a pixel: 1, 4, 9 ...")
@click.option("--state", default="all", type=click.Choice(["on", "dark", "lights", "all"]), help="What is lit in a job.")
def look(
    source: str, workshop: str | None, output: str, viewer: str | None, linear: str | None, size: str, samples: int | None, state: str
) -> int:
    """Draw a picture of a scene, with the exposure stated in the file.

    Example: halfsilver look scene.json -o scene.png --size 1920x1080
    """
    from halfsilver.files.atomic import write_beside
    from halfsilver.files.located import read_located
    from halfsilver.files.scene import is_scene, scene_of

    width_px, height_px = _size(size)
    node = read_located(source)
    if not is_scene(node):
        raise JobError([_not_a_scene(source)])
    scene = scene_of(node, file=source)

    from halfsilver.services.look_scene import SAMPLES, as_npy, as_png, scene_picture

    tell = _progress(width_px * height_px)
    picture = scene_picture(scene, width_px=width_px, height_px=height_px, samples=samples or SAMPLES, tell=tell)
    if linear is not None:
        write_beside(Path(linear), as_npy(picture))
    write_beside(Path(output), as_png(picture))
    click.echo(f"{output}: {width_px} x {height_px}")
    return 0


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"([1-9]\d{0,4})x([1-9]\d{0,4})", text)
    if match is None or max(map(int, match.groups())) > MOST_PX:
        allowed = f"A size is WIDTHxHEIGHT in pixels, each 1 to {MOST_PX}."
        raise JobError([Problem(code="bad-size", path="--size", read=text[:40], allowed=allowed, advice=f"Write {SIZE}.")])
    return int(match[1]), int(match[2])


def _not_a_scene(source: str) -> Problem:
    return Problem(
        code="not-a-scene", file=source, line=1, column=1, path="schema",
        allowed='This verb draws scene files: JSON with "schema": "halfsilver/scene/1".', advice="See `halfsilver schema scene`.",
    )  # fmt: skip


def _progress(pixels: int) -> Callable[[float], None]:
    """One line that is rewritten where somebody is looking; elsewhere a line per quarter of a large picture."""
    shown = [0]

    def tell(share: float) -> None:
        percent = int(100 * share)
        if sys.stderr.isatty():
            click.echo(f"\rdrawing {percent:3d} %" + ("\n" if percent >= 100 else ""), err=True, nl=False)
        elif pixels >= LARGE_PX and percent // 25 > shown[0]:
            shown[0] = percent // 25
            click.echo(f"drawing {percent} %", err=True)

    return tell
