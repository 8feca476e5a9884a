"""The screen as layout needs it: outline, borders and what stands out, from the job or a measured screen, with their origins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from math import hypot

from halfsilver.errors import JobError, Problem
from halfsilver.ledger.ledger import Origin
from halfsilver.model.job import Borders, Box, Cables, Job, Orientation, Screen, Side, SticksOut, Vent
from halfsilver.model.workshop import MeasuredScreen, Workshop, pick

TURNED = {Side.TOP: Side.RIGHT, Side.RIGHT: Side.BOTTOM, Side.BOTTOM: Side.LEFT, Side.LEFT: Side.TOP}


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenFacts:
    """A screen with everything decided that sizes need.

    Lengths in millimetres, as hung. ``origin`` and ``source`` tell where outline and borders come from, ``measured`` whether with a tape;
    ``assumed`` lists in words what was not known.
    """

    screen: Screen
    width_mm: float
    height_mm: float
    depth_mm: float
    borders: Borders
    outline_origin: Origin
    outline_source: str
    border_origin: Origin
    border_source: str
    measured: bool
    mass_kg: float
    assumed: tuple[str, ...] = ()

    @property
    def picture_mm(self) -> tuple[float, float]:
        """Width and height of the picture that outline and borders leave. [mm]"""
        return self.width_mm - self.borders.left - self.borders.right, self.height_mm - self.borders.top - self.borders.bottom


def screen_facts(job: Job, workshop: Workshop) -> ScreenFacts:
    """Everything about the screen, what the job says before what the workshop measured.

    Raises
    ------
    JobError
        If there is no outline, or nothing that gives the borders.
    """
    asked = job.screen or Screen()
    record = pick(workshop.screens, asked.start, path="screen.from", of="measured screens") if asked.start else None
    known = _turned_to(record.screen, asked.orientation) if record else Screen()
    screen = _merged(asked, known)
    assumed: list[str] = []
    borders = _borders(screen, assumed)
    outline = screen.outline or _outline_round_picture(screen, borders)
    if outline is None:
        raise _missing("screen.outline", "the screen's outline: width, height and depth", "Measure the screen with a tape.")
    if borders is None:
        raise _missing(
            "screen.borders",
            "borders, or the picture's size and place, or a diagonal with its aspect",
            "Measure from the outline to the lit picture.",
        )
    if outline.depth is None:
        assumed.append("screen depth 60 mm")
    if screen.mass is None:
        assumed.append("screen mass by 12 kg per square metre")
    source, by_tape = _outline_source(asked, record)
    return ScreenFacts(
        screen=screen,
        width_mm=outline.width,
        height_mm=outline.height,
        depth_mm=outline.depth if outline.depth is not None else 60.0,
        borders=borders,
        outline_origin=Origin.ASKED if asked.outline else Origin.CATALOGUE,
        outline_source=source,
        border_origin=Origin.ASSUMED
        if screen.borders is None and screen.picture is None
        else Origin.ASKED
        if asked.borders or asked.picture
        else Origin.CATALOGUE,
        border_source="in the job"
        if asked.borders or asked.picture
        else source
        if screen.borders or screen.picture
        else "spread evenly round the stated diagonal",
        measured=by_tape,
        mass_kg=screen.mass if screen.mass is not None else 12e-6 * outline.width * outline.height,
        assumed=tuple(assumed),
    )


def _missing(path: str, allowed: str, advice: str) -> JobError:
    return JobError([Problem(code="missing", path=path, allowed=f"Needed: {allowed}.", advice=advice)])


def _merged(asked: Screen, known: Screen) -> Screen:
    chosen = {
        f.name: (getattr(asked, f.name) if getattr(asked, f.name) not in (None, ()) else getattr(known, f.name)) for f in fields(Screen)
    }
    if asked.outline is not None and asked.outline.depth is None and known.outline is not None:
        chosen["outline"] = replace(asked.outline, depth=known.outline.depth)
    return Screen(**chosen)


def _turned_to(known: Screen, wanted: Orientation | None) -> Screen:
    """A screen recorded one way, turned a quarter clockwise as the viewer sees it when the job hangs it the other way."""
    recorded = known.orientation or Orientation.LANDSCAPE
    if wanted is None or wanted is recorded or known.outline is None:
        return known
    box = Box(width=known.outline.height, height=known.outline.width, depth=known.outline.depth)
    b = _borders(known, []) if known.borders or known.picture else None
    return replace(
        known,
        outline=box,
        borders=Borders(left=b.bottom, top=b.left, right=b.top, bottom=b.right) if b else None,
        picture=None,
        orientation=wanted,
        sticks_out=tuple(_turned_part(part, known.outline) for part in known.sticks_out),
        vents=tuple(_turned_vent(vent) for vent in known.vents) if known.vents else known.vents,
        cables=Cables(side=TURNED[known.cables.side]) if known.cables else None,
        holes=(known.holes[1], known.holes[0]) if known.holes else None,
        polarisation=known.polarisation + 90.0 if isinstance(known.polarisation, float) else known.polarisation,
    )


def _turned_vent(vent: Vent) -> Vent:
    return vent if vent is Vent.BACK else Vent(TURNED[Side(vent.value)].value)


def _turned_part(part: SticksOut, outline: Box) -> SticksOut:
    """A side keeps its direction or runs the other way: left's top end becomes top's right end."""
    new = TURNED[part.side]
    if part.side in (Side.LEFT, Side.RIGHT):
        return replace(part, side=new, start=outline.height - part.end, end=outline.height - part.start)
    return replace(part, side=new)


def _borders(screen: Screen, assumed: list[str]) -> Borders | None:
    if screen.borders is not None:
        return screen.borders
    if screen.outline is None:
        return None
    if screen.picture is not None:
        p = screen.picture
        return Borders(
            left=p.left, bottom=p.bottom, right=screen.outline.width - p.left - p.width, top=screen.outline.height - p.bottom - p.height
        )
    size = picture_by_diagonal(screen)
    if size is None:
        return None
    assumed.append("borders spread evenly round the stated diagonal")
    side, end = (screen.outline.width - size[0]) / 2, (screen.outline.height - size[1]) / 2
    return Borders(left=side, right=side, top=end, bottom=end)


def picture_by_diagonal(screen: Screen) -> tuple[float, float] | None:
    """Width and height of the picture by its stated diagonal and aspect, as hung [mm]; None where they are not stated.

    Width is D p/sqrt(p^2 + q^2) for an aspect p:q.
    """
    if screen.diagonal is None or screen.aspect is None:
        return None
    wide, high = screen.aspect
    if screen.orientation is Orientation.PORTRAIT and wide > high:
        wide, high = high, wide
    return screen.diagonal * wide / hypot(wide, high), screen.diagonal * high / hypot(wide, high)


def _outline_round_picture(screen: Screen, borders: Borders | None) -> Box | None:
    size = picture_by_diagonal(screen)
    if size is None or borders is None:
        return None
    return Box(width=size[0] + borders.left + borders.right, height=size[1] + borders.top + borders.bottom)


def _outline_source(asked: Screen, record: MeasuredScreen | None) -> tuple[str, bool]:
    if asked.outline is not None:
        return "in the job", True
    if record is not None:
        how = "measured with the tape" if record.measured else "from its data sheet"
        return f"screen {record.id} of the workshop, {how}", record.measured
    return "diagonal and borders in the job", False


def problems_of_screen(facts: ScreenFacts) -> Iterable[Problem]:
    """A picture must be left, inside the outline; what stands out must lie on its side and run forward."""
    yield from _problems_of_picture(facts)
    yield from _problems_of_parts(facts.screen.sticks_out, facts)


def _problems_of_picture(facts: ScreenFacts) -> Iterable[Problem]:
    wide, high = facts.picture_mm
    given = facts.screen.borders is None and facts.screen.picture is not None
    sides = {side: getattr(facts.borders, side) for side in ("left", "right", "top", "bottom")}
    if wide <= 0 or high <= 0:
        yield Problem(
            code="no-picture",
            path="screen.picture" if given else "screen.borders",
            read=f"a picture of {wide:.1f} x {high:.1f} mm",
            allowed=f"Opposite borders together are less than the outline of {facts.width_mm:.1f} x {facts.height_mm:.1f} mm.",
            advice="Measure from the outline to the lit picture again.",
        )
    elif given and (short := {side: -over for side, over in sides.items() if over < -1e-6}):
        yield Problem(
            code="picture-outside",
            path="screen.picture",
            read=", ".join(f"{over:.1f} mm beyond the {side}" for side, over in short.items()),
            allowed="The picture lies inside the outline.",
            advice="`left` and `bottom` count from the outline's lower left corner to the picture; measure again.",
        )


def _problems_of_parts(parts: Iterable[SticksOut], facts: ScreenFacts) -> Iterable[Problem]:
    for i, part in enumerate(parts):
        length = facts.width_mm if part.side in (Side.TOP, Side.BOTTOM) else facts.height_mm
        if not part.start < part.end <= length + 1e-6:
            yield Problem(
                code="not-on-its-side",
                path=f"screen.sticks_out[{i}]",
                read=f"{part.id} from {part.start:.1f} to {part.end:.1f} mm",
                allowed=f"From must be less than to, and to at most the side's length of {length:.1f} mm.",
                advice="Measure from the side's left (top) end.",
            )
