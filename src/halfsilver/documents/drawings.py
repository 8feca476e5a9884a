"""All drawings of a design, by name; as files for other programs, and as framed sheets for the shop's document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from halfsilver.documents.back_view import back_view
from halfsilver.documents.cut_parts import cut_parts
from halfsilver.documents.front_view import front_view
from halfsilver.documents.relief import reliefs
from halfsilver.documents.section_frame import SIDES
from halfsilver.documents.sections import section, sections
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import shortened
from halfsilver.drawing.fit import fitted, sheet_of
from halfsilver.drawing.ink import Box
from halfsilver.drawing.scene import Scene
from halfsilver.drawing.sheets import TitleBlock, framed, landscape, room
from halfsilver.drawing.view import Scale, Sheet, View
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.job import Job, Scope, Units

STRAIGHT = ("batten-", "front-stick-", "rear-stick-", "spacer-frame-")
RELIEF_SHARES = (0.42, 0.58)
DRAWN_SCALES = tuple(Scale(d) for d in (1.0, 2.0, 2.5, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 25.0, 50.0, 100.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """Papers of a document: an upright one for words, one laid across for drawings."""

    words: str
    drawings: str


def papers(job: Job) -> Papers:
    """The papers that go with a job's units."""
    return Papers(words="letter", drawings="tabloid") if job.units is Units.INCH else Papers(words="A4", drawings="A3")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One sheet: its title, names of drawings in rows from the top, and the rows' shares of the height (none: even)."""

    title: str
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...] = ()


def scenes(sizes: Sizes) -> dict[str, Scene]:
    """Every drawing that this job's scope asks for, by name."""
    found: dict[str, Scene] = {"front": front_view(sizes), "back": back_view(sizes)}
    found |= {f"section-{side}": scene for side, scene in sections(sizes).items()}
    if sizes.design.facts.job.scope is not Scope.GLASS_ONLY:
        found |= reliefs(sizes)
    return found | cut_parts(sizes)


def scene(sizes: Sizes, name: str) -> Scene:
    """One of them alone.

    Raises
    ------
    KeyError
        If this job has no such drawing.
    """
    if name == "front":
        return front_view(sizes)
    which, _, side = name.partition("-")
    return section(sizes, side) if which == "section" and side in SIDES else scenes(sizes)[name]


def plans(found: Mapping[str, Scene]) -> Iterator[Plan]:
    """Which drawings share a sheet."""
    yield Plan(title="Front view", rows=(("front",),))
    yield Plan(title="Back view", rows=(("back",),))
    for side in ("left", "right", "top", "bottom"):
        yield Plan(title=f"Section through the {side}", rows=((f"section-{side}",),))
    pockets = [name for name in found if name.startswith("relief-")]
    for pair in zip(pockets[::2], pockets[1::2], strict=True):
        yield Plan(title=f"Relief pocket: {pair[0].removeprefix('relief-')}", rows=tuple((name,) for name in pair), shares=RELIEF_SHARES)
    sticks = [name for name in found if "-stick-" in name]
    if sticks:
        yield Plan(title="Sticks", rows=tuple((name,) for name in sticks))
    battens = [name for name in found if name.startswith("batten-")]
    if battens:
        yield Plan(title="Battens", rows=tuple((name,) for name in battens))
    for name in ("front-glass", "rear-glass"):
        if name in found:
            yield Plan(title=found[name].title, rows=((name,),))


def title_block(job: Job, title: str, *, date: str, revision: int) -> TitleBlock:
    """What stands along the foot of a sheet."""
    finest = f"inches, to 1/{job.fraction}" if job.units is Units.INCH else "millimetres"
    cells = [
        ("Job", shortened(job.title, room_mm=70.0, size_mm=2.5)),
        ("Scale", "under each view"),
        ("Units", finest),
        ("Revision", str(revision)),
    ]
    return TitleBlock(title=title, cells=(*cells, ("Date", date)) if date else tuple(cells), inches=job.units is Units.INCH)


def free_box(job: Job) -> Box:
    """Where views may stand on a drawing sheet. [mm]"""
    width, height = landscape(papers(job).drawings)
    return room(width_mm=width, height_mm=height, block=title_block(job, "Section", date="2000-01-01", revision=1))


def cells(box: Box, plan: Plan) -> Iterator[tuple[str, Box]]:
    """A share of the box for each name."""
    left, bottom, right, top = box
    edge = top
    for row, share in zip(plan.rows, plan.shares or (1.0 / len(plan.rows),) * len(plan.rows), strict=True):
        wide, foot = (right - left) / len(row), edge - share * (top - bottom)
        for c, name in enumerate(row):
            yield name, (left + c * wide, foot, left + (c + 1) * wide, edge)
        edge = foot


def placed(plan: Plan, found: Mapping[str, Scene], box: Box) -> tuple[View, ...]:
    """The sheet's views, all at the one scale at which each fits its place."""
    shares = tuple(cells(box, plan))
    views = [fitted(found[name], box=share, caption=found[name].title, scales=DRAWN_SCALES) for name, share in shares]
    common = max(view.scale for view in views)
    return tuple(
        view if view.scale == common else fitted(found[name], box=share, caption=found[name].title, scales=(common,))
        for view, (name, share) in zip(views, shares, strict=True)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Every drawing of a design, fitted once to its place on its sheet."""

    job: Job
    sheets: tuple[tuple[Plan, tuple[View, ...]], ...]

    @property
    def views(self) -> Mapping[str, View]:
        """The drawings by name, such as ``front``, ``section-left``, ``relief-badge``."""
        return {name: view for plan, views in self.sheets for name, view in zip(_names(plan), views, strict=True)}


def drawn(design: Design, show: Show) -> Drawn:
    """Every drawing at the scale and place of its sheet.

    Parameters
    ----------
    design : Design
        What is drawn.
    show : Show
        Writes a value in the job's own units.

    Returns
    -------
    Drawn
        To be written as sheets, and as files for other programs.

    Raises
    ------
    RenderError
        If a view does not fit its sheet at any usual scale.
    """
    job, found = design.facts.job, scenes(Sizes(design, show))
    box = free_box(job)
    return Drawn(job=job, sheets=tuple((plan, placed(plan, found, box)) for plan in plans(found)))


def _names(plan: Plan) -> list[str]:
    return [name for row in plan.rows for name in row]


def sheets(done: Drawn, *, date: str, revision: int) -> Iterator[Sheet]:
    """The framed sheets of the shop's document."""
    width, height = landscape(papers(done.job).drawings)
    for plan, views in done.sheets:
        block = title_block(done.job, plan.title, date=date, revision=revision)
        yield framed(views, width_mm=width, height_mm=height, block=block)


def drawing_files(done: Drawn) -> dict[str, bytes]:
    """Every drawing as SVG, and what a machine or another drawing may take up as DXF too, by file name.

    Straight sticks and battens have no DXF: their cut sheet says all there is.
    """
    from halfsilver.drawing.dxf import view_dxf
    from halfsilver.drawing.svg import sheet_svg

    files: dict[str, bytes] = {}
    for name, view in done.views.items():
        files[f"{name}.svg"] = sheet_svg(sheet_of(view), paper="#ffffff").encode()
        if not name.startswith(STRAIGHT):
            files[f"{name}.dxf"] = view_dxf(view).encode()
    return files
