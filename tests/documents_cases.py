"""Designs and findings for the tests of documents; all invented."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from halfsilver.files.decode import decode
from halfsilver.files.located import read_located
from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, shower
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Borders, Box, Cables, Job, Mounting, Scope, Side, SticksOut, Viewer
from halfsilver.model.workshop import Workshop
from halfsilver.services.decide import decided

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("foyer", "foyer-measured", "archive-mirror")


@cache
def workshop() -> Workshop:
    return read_workshop()


@cache
def job(name: str) -> Job:
    return decode(read_located(EXAMPLES / f"{name}.yaml"), Job, file=f"{name}.yaml")


@cache
def design(name: str) -> Design:
    return decided(odd_jobs()[name] if name in odd_jobs() else job(name), workshop())


def show_of(made: Design) -> Show:
    return shower(units=made.facts.job.units.value, fraction=made.facts.job.fraction)


@cache
def odd_jobs() -> dict[str, Job]:
    """Jobs at the ends of what comes in: names, numbers of things, sizes, profiles."""
    foyer = job("foyer")
    screen = foyer.screen
    assert screen is not None

    def with_screen(width: float, height: float) -> Job:
        borders = Borders(left=6, right=6, top=6, bottom=8)
        small = replace(screen, start=None, mass=9.0, outline=Box(width=width, height=height, depth=30), borders=borders, sticks_out=())
        return replace(foyer, screen=small)

    def pocket(name: str, side: Side, start: float, end: float) -> SticksOut:
        return SticksOut(id=name, side=side, start=start, end=end, out=8)

    five = (
        pocket("badge", Side.BOTTOM, 600, 700),
        pocket("receiver/../x", Side.BOTTOM, 900, 960),
        pocket("foot #1", Side.TOP, 100, 180),
        pocket("left thing", Side.LEFT, 100, 200),
        pocket("山", Side.RIGHT, 300, 380),
    )
    crowd = tuple(Viewer(id=f"viewer-{k}", distance=1000 + 100 * k, sideways=80 * k - 300, eye_height=1200 + 50 * k) for k in range(12))
    return {
        "tiny": with_screen(220, 140),
        "huge": with_screen(4200, 2400),
        "wide": with_screen(3000, 300),
        "tall": with_screen(700, 1800),
        "pockets": replace(foyer, screen=replace(screen, sticks_out=five)),
        "cables below": replace(foyer, screen=replace(screen, cables=Cables(side=Side.BOTTOM))),
        "crowd": replace(foyer, viewers=crowd),
        "nobody": replace(foyer, viewers=(), mounting=Mounting()),
        "sloped": replace(foyer, frame=replace(foyer.frame, front=replace(foyer.frame.front, moulding="slope-44"))),
        "slim": replace(foyer, frame=replace(foyer.frame, front=replace(foyer.frame.front, moulding="slim-19"))),
        **{scope.value: replace(foyer, scope=scope) for scope in Scope},
    }


def finding(severity: Severity, *, advice: str = "Take a wider lip.", rule: str = "frame.invented", value: float | None = 12.0) -> Finding:
    return Finding(
        rule=rule,
        source="invented",
        status="practice",
        severity=severity,
        value=value,
        limit=3.0,
        unit="mm",
        advice=advice,
        entries=("gap",),
    )


FINDINGS = (
    finding(Severity.NOTE, advice="A note that was invented."),
    finding(Severity.NOT_RUN, advice="Not checked: something invented.", value=None),
    finding(Severity.STOP, advice="A stop that was invented."),
    finding(Severity.CAUTION, advice="A caution that was invented."),
)
