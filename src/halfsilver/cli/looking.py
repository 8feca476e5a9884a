"""Verbs for what will be seen: predict, in numbers, and look, as a picture."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Literal

import click

from halfsilver.cli.options import job_argument, workshop_option
from halfsilver.errors import JobError, Problem
from halfsilver.services.look_size import SIZE, size_of

MOST_SAMPLES = 1024
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
@click.option("--viewer", default=None, metavar="ID", help="Who looks at a job that names several; a scene has its own camera.")
@click.option("--linear", default=None, type=click.Path(dir_okay=False), metavar="P.npy", help="Also the linear values, float32.")
@click.option("--size", default=SIZE, show_default=True, metavar="WxH", help="Size in pixels.")
@click.option("--samples", default=None, type=click.IntRange(1, MOST_SAMPLES), metavar="N", help="Samples a pixel: 1, 4, 9 ...")
@click.option("--state", default="all", type=click.Choice(["on", "dark", "lights", "all"]), help="What is lit in a job.")
@click.option("--content", default=None, metavar="FILE|NAME", help="On a job's screen: a picture file, or night-sky, grid, bars.")
def look(
    source: str, workshop: str | None, output: str, viewer: str | None, linear: str | None, size: str, samples: int | None,
    state: Literal["on", "dark", "lights", "all"], content: str | None,
) -> int:  # fmt: skip
    """Draw a picture of a job as a viewer sees it, or of a scene, with the exposure stated in the file.

    Example: halfsilver look examples/foyer.yaml --viewer front -o foyer.png --size 1920x1080
    """
    from halfsilver.files.atomic import write_beside
    from halfsilver.files.located import read_located
    from halfsilver.files.scene import is_scene

    width_px, height_px = size_of(size, path="--size")
    tell = _progress(width_px * height_px)
    node = read_located(source)
    if is_scene(node):
        if content is not None:
            raise JobError([_no_content(content)])
        from halfsilver.files.scene import scene_of
        from halfsilver.services.look_scene import as_png, scene_picture

        scene = scene_of(node, file=source)
        values = scene_picture(scene, width_px=width_px, height_px=height_px, samples=samples, tell=tell)
        png = as_png(values)
    else:
        from halfsilver.services.look_job import job_picture

        values, png = job_picture(
            source, workshop=workshop, viewer=viewer, state=state, content=content, width_px=width_px, height_px=height_px,
            samples=samples or 1, tell=tell,
        )  # fmt: skip
    if linear is not None:
        from halfsilver.services.look_scene import as_npy

        write_beside(Path(linear), as_npy(values))
    write_beside(Path(output), png)
    click.echo(f"{output}: {width_px} x {height_px}")
    return 0


def _no_content(content: str) -> Problem:
    words = "A scene has its own checker on its screen."
    return Problem(code="content-of-scene", path="--content", read=content[:40], allowed=words, advice="Leave it out.")


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
