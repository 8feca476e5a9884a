"""The ray of the worst viewer in a section: from the eye past the edge that decides to the first picture that it meets."""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign

from halfsilver.documents.section_frame import SectionFrame
from halfsilver.documents.section_parts import pane_depths
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named
from halfsilver.drawing.scene import Callout, Item, Point, Polyline
from halfsilver.drawing.style import Role
from halfsilver.geometry.sightline import sideways_mm, sine_to_reach

BEFORE_MM = 9.0
LEAST_MM = 0.05


def worst_viewer(sizes: Sizes, side: str) -> str | None:
    """The viewer from whom most is hidden on a side; None where nothing is."""
    hidden = {v.id: sizes.get(f"hidden.{side}.{v.id}") for v in sizes.design.facts.job.viewers}
    who = max(hidden, key=lambda viewer: hidden[viewer], default=None)
    return who if who is not None and hidden[who] > LEAST_MM else None


def sight_line(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """The ray, bent at every sheet, where a viewer loses picture on this side."""
    who = worst_viewer(sizes, frame.side)
    if who is not None and not frame.is_cut:
        yield Polyline(points=tuple(frame.at(*point) for point in _ray(sizes, frame.side, who)), role=Role.SIGHT)


def sight_callout(sizes: Sizes, frame: SectionFrame) -> Iterator[Callout]:
    """Whose ray it is, and what it costs."""
    who = worst_viewer(sizes, frame.side)
    if who is not None and not frame.is_cut:
        words = f"Sight line of {named(who)}:\n{sizes.text(f'hidden.{frame.side}')} of picture hidden"
        yield Callout(tip=frame.at(*_ray(sizes, frame.side, who)[0]), text=words, name=f"hidden.{frame.side}")


def _ray(sizes: Sizes, side: str, who: str) -> list[Point]:
    """Points (inset, depth) from before the front face to the picture. [mm]"""
    hit = sizes[f"screen.offset.{side}.actual"] + sizes[f"screen.border.{side}"] + sizes[f"hidden.{side}.{who}"]
    eye = _eye_inset(sizes, side, who)
    distance, picture = sizes[f"viewer.{who}.distance"], sizes["depth.picture"]
    glass = [(pane_depths(sizes, which), sizes[f"{which}.index"]) for which in sizes.frames]
    air = distance + picture - sum(back - front for (front, back), _ in glass)
    layers = [(air, 1.0), *((back - front, index) for (front, back), index in glass)]
    sine = sine_to_reach(offset_mm=abs(eye - hit), layers=layers)
    points, inset, depth = [(hit, picture)], hit, picture
    for (front, back), index in reversed(glass):
        for until, n in ((back, 1.0), (front, index)):
            inset += copysign(sideways_mm(sine=sine, layers=((depth - until, n),)), eye - hit)
            depth = until
            points.append((inset, depth))
    inset += copysign(sideways_mm(sine=sine, layers=((depth + BEFORE_MM, 1.0),)), eye - hit)
    return [(inset, -BEFORE_MM), *reversed(points)]


def _eye_inset(sizes: Sizes, side: str, who: str) -> float:
    across = side in ("left", "right")
    along = sizes[f"viewer.{who}.{'sideways' if across else 'up'}"]
    half = sizes["outside.width" if across else "outside.height"] / 2
    return half + along if side in ("left", "bottom") else half - along
