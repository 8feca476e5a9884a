"""The outline of a moulding in a drawing file: DXF as text, one closed line of straight pieces and arcs.

Only what an outline is made of is read (LINE, ARC, LWPOLYLINE, POLYLINE in the model space); words and dimensions beside it do not count,
and anything else is refused by its name, so that no curve is lost unseen. The drawing is in the position of the README's sketch: outer
edge on the left, face on top. Reference: *DXF Reference*, group codes 0, 8, 10 to 42, 50, 51, 67, 70, 230 and the variable
``$INSUNITS``; from memory, and held against an independent reader of the format in the tests.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, atan, ceil, cos, hypot, pi, radians, sin
from typing import Final, TypeAlias

from halfsilver.errors import JobError, Problem
from halfsilver.files.profiles import MOST_CORNERS, SAME_MM
from halfsilver.geometry.polygon import Point
from halfsilver.units.factors import MM_PER_FOOT, MM_PER_INCH

MOST_BYTES: Final = 4 * 1024 * 1024
LONGEST_LINE: Final = 4096
MOST_PIECES: Final = 400
FARTHEST_MM: Final = 10_000.0
CHORD_MM: Final = 0.01  # how far a straight piece may stand off the arc it is part of
JOIN_MM: Final = 0.02  # ends nearer than this are one corner: drawings are rounded
UNITS: Final = {1: MM_PER_INCH, 2: MM_PER_FOOT, 4: 1.0, 5: 10.0, 6: 1000.0}
BESIDE: Final = frozenset(
    {"TEXT", "MTEXT", "DIMENSION", "LEADER", "MULTILEADER", "MLEADER", "POINT", "HATCH", "VIEWPORT", "ATTDEF", "SEQEND", "VERTEX"}
)
_NUMBER: Final = re.compile(r"[+-]?(\d{1,30}(\.\d{0,40})?|\.\d{1,40})([eE][+-]?\d{1,3})?", re.ASCII)
_CODE: Final = re.compile(r"-?\d{1,4}", re.ASCII)

Tag: TypeAlias = tuple[int, str, int]  # group code, value, number of its line
Line: TypeAlias = list[Point]


def outline_from_dxf(data: bytes, *, file: str, unit_mm: float | None = None) -> tuple[Point, ...]:
    """Corners of the one closed line in a drawing, x from the outer edge, z from the face backwards. [mm]

    Parameters
    ----------
    data : bytes
        The drawing.
    file : str
        Name that problems show.
    unit_mm : float, optional
        Its unit; by default the one that the drawing names. [mm]

    Raises
    ------
    JobError
        If it is no such drawing, or holds none or several lines, an open one, or what no outline is made of.
    """
    reader = _Reader(file)
    tags = reader.tags(data)
    scale = unit_mm or reader.unit(tags)
    lines = [[(x * scale, y * scale) for x, y in line] for line in reader.lines(tags, scale)]
    loop = reader.joined(lines)
    left, top = min(x for x, _ in loop), max(y for _, y in loop)
    return tuple((round(x - left, 4) + 0.0, round(top - y, 4) + 0.0) for x, y in loop)


class _Reader:
    """Reads one drawing, and says where it stumbled."""

    def __init__(self, file: str) -> None:
        self.file = file

    def tags(self, data: bytes) -> list[Tag]:
        if len(data) > MOST_BYTES:
            words = f"A drawing of an outline has at most {MOST_BYTES // 1024**2} MiB."
            raise self.refused("file-too-large", allowed=words, advice="Save the outline alone.")
        if b"\x00" in data[:1_000_000] or b"\x00" in data:
            raise self.refused("dxf-binary", allowed="The drawing is text; this one is binary.", advice="Save it as DXF in ASCII.")
        lines = data.decode("utf-8", errors="replace").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        found: list[Tag] = []
        for at in range(0, len(lines) - 1, 2):
            code, value = lines[at].strip(), lines[at + 1]
            if not _CODE.fullmatch(code):
                words = "A drawing is pairs of lines: a group code, which is a whole number, and its value."
                raise self.refused("dxf-code", at + 1, code, allowed=words, advice="Save the drawing as DXF in ASCII once more.")
            if len(value) > LONGEST_LINE:
                raise self.refused("line-too-long", at + 2, value, allowed=f"A line has at most {LONGEST_LINE} characters.")
            found.append((int(code), value.strip(), at + 2))
            if found[-1][:2] == (0, "EOF"):
                return found
        words = "The drawing ends with EOF; this one was cut short, or is none."
        raise self.refused("dxf-cut-short", len(lines), allowed=words, advice="Save it once more.")

    def unit(self, tags: Sequence[Tag]) -> float:
        for at, (code, value, line) in enumerate(tags[:-1]):
            if (code, value) == (9, "$INSUNITS"):
                number = tags[at + 1][1]
                if number.isdecimal() and len(number) < 4 and int(number) in UNITS:
                    return UNITS[int(number)]
                if number != "0":
                    words = "A drawing is in inches, feet, millimetres, centimetres or metres."
                    raise self.refused("dxf-unit", line + 2, number, allowed=words, advice="Say in which unit it is drawn.")
                break
        raise self.refused("dxf-unit", allowed="The drawing does not say in which unit it is.", advice="Say it: mm or in.")

    def lines(self, tags: Sequence[Tag], scale: float) -> Iterator[Line]:
        count = 0
        for group in self._entities(tags):
            name, line = group[0][1], group[0][2]
            values = [(code, value, at) for code, value, at in group[1:] if code in {0, 10, 20, 11, 21, 40, 42, 50, 51, 67, 70, 230}]
            if name in BESIDE or any((code, value) == (67, "1") for code, value, _ in values):
                continue
            if name not in {"LINE", "ARC", "LWPOLYLINE", "POLYLINE"}:
                words = "An outline is made of LINE, ARC, LWPOLYLINE and POLYLINE; words and dimensions beside it do not count."
                raise self.refused("dxf-entity", line, name, allowed=words, advice="Break it up into lines and arcs, or delete it.")
            if any(code == 230 and self.number(value, at) < 0 for code, value, at in values):
                words = "The drawing is seen from its front."
                raise self.refused("dxf-entity", line, name, allowed=words, advice="Turn this piece round, or draw it anew.")
            count += 1
            if count > MOST_PIECES:
                raise self.refused("dxf-too-many", line, allowed=f"An outline has at most {MOST_PIECES} pieces.", advice="Delete the rest.")
            yield self._piece(name, values, line, scale)

    def _entities(self, tags: Sequence[Tag]) -> Iterator[list[Tag]]:
        """Groups of the section of entities; the corners of a POLYLINE stand with it."""
        inside, group = False, list[Tag]()
        for (code, value, line), after in pairwise([*tags, (0, "EOF", 0)]):
            if code == 0 and not (group and group[0][1] == "POLYLINE" and value == "VERTEX"):
                if inside and group:
                    yield group
                group = []
                if value == "SECTION":
                    inside = after[:2] == (2, "ENTITIES")
                elif inside and value == "ENDSEC":
                    return
                elif inside:
                    group = [(code, value, line)]
            elif group:
                if len(group) > 20 * MOST_CORNERS:
                    words = f"An outline has at most {MOST_CORNERS} corners."
                    raise self.refused("dxf-too-many", line, allowed=words, advice="Draw curves as arcs.")
                group.append((code, value, line))

    def _piece(self, name: str, values: Sequence[Tag], line: int, scale: float) -> Line:
        if name in {"LINE", "ARC"}:
            found = {code: self.number(value, at) for code, value, at in values if code}
            due = (10, 20, 11, 21) if name == "LINE" else (10, 20, 40, 50, 51)
            if lacking := [code for code in due if code not in found]:
                words = f"{name} has the group code {lacking[0]}; here it lacks."
                raise self.refused("dxf-entity", line, name, allowed=words, advice="Draw it anew.")
            if name == "LINE":
                return [(found[10], found[20]), (found[11], found[21])]
            return _arc((found[10], found[20]), found[40], found[50], found[51], scale)
        return self._polyline(name, values, line, scale)

    def _polyline(self, name: str, values: Sequence[Tag], line: int, scale: float) -> Line:
        closed, corners = False, list[tuple[Point, float]]()
        is_head = True  # of a POLYLINE: a point before its first corner is its height alone
        for code, value, at in values:
            is_head = is_head and code != 0
            if code == 70 and is_head:
                flags = int(self.number(value, at)) & 0xFFFF
                closed = bool(flags & 1)
                if name == "POLYLINE" and flags & ~(1 | 128):
                    words = "A POLYLINE is flat, of straight pieces and arcs."
                    raise self.refused("dxf-entity", at, value, allowed=words, advice="Break it up into lines and arcs.")
            elif name == "POLYLINE" and is_head:
                continue
            elif code == 10:
                corners.append(((self.number(value, at), 0.0), 0.0))
            elif code == 20 and corners:
                corners[-1] = ((corners[-1][0][0], self.number(value, at)), 0.0)
            elif code == 42 and corners:
                corners[-1] = (corners[-1][0], self.number(value, at))
        if len(corners) < 2:
            raise self.refused("dxf-entity", line, name, allowed="A line has at least two corners.", advice="Delete it, or draw it anew.")
        sides = pairwise([*corners, corners[0]] if closed else corners)
        points = [corners[0][0]]
        for (start, bulge), (end, _) in sides:
            points.extend(_bulged(start, end, bulge, scale))
        return points

    def joined(self, lines: Sequence[Line]) -> Line:
        """The one closed line that the pieces form, without the corner that stands twice."""
        left = [_thinned(line) for line in lines]
        left = [line for line in left if len(line) > 1]
        if not left:
            words = "The drawing holds one closed line; here there is none."
            raise self.refused("dxf-no-outline", allowed=words, advice="Draw the outline in the model space.")
        loop = left.pop()
        while not _meet(loop[0], loop[-1]) or len(loop) < 3:
            at = next((i for i, line in enumerate(left) if _meet(line[0], loop[-1]) or _meet(line[-1], loop[-1])), None)
            if at is None:
                x, y = loop[-1]
                words = f"The outline is closed; here it ends at ({x:.3f}, {y:.3f}) mm and nothing goes on."
                raise self.refused("dxf-open", allowed=words, advice="Close the line there.")
            more = left.pop(at)
            loop += more[1:] if _meet(more[0], loop[-1]) else more[-2::-1]
        if left:
            words = f"The drawing holds one closed line and nothing else; {len(left)} more pieces stand beside it."
            raise self.refused("dxf-several", allowed=words, advice="Save the outline alone.")
        return loop[:-1]

    def number(self, text: str, line: int) -> float:
        value = float(text) if _NUMBER.fullmatch(text) else float("inf")
        if not abs(value) <= 1e6:
            words = "A number in digits, at most a million."
            raise self.refused("not-a-number", line, text, allowed=words, advice="Draw this piece anew.")
        return value

    def refused(self, code: str, line: int = 0, read: str = "", *, allowed: str, advice: str = "Is this the right file?") -> JobError:
        shown = "".join(c for c in read[:40] if c.isprintable())
        column = 1 if line else 0
        return JobError([Problem(code=code, file=self.file, line=line, column=column, read=shown, allowed=allowed, advice=advice)])


def _meet(a: Point, b: Point) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= JOIN_MM


def _thinned(line: Line) -> Line:
    """Without corners that stand on the one before."""
    kept = line[:1]
    for point in line[1:]:
        if abs(point[0] - kept[-1][0]) > SAME_MM or abs(point[1] - kept[-1][1]) > SAME_MM:
            kept.append(point)
    return kept


def _steps(radius_mm: float, angle: float) -> int:
    """Into how many straight pieces an arc goes."""
    finest = 2 * acos(1 - min(1.0, CHORD_MM / radius_mm)) if radius_mm > CHORD_MM else pi
    return max(1, min(MOST_CORNERS, ceil(abs(angle) / finest)))


def _arc(centre: Point, radius: float, start_deg: float, end_deg: float, scale: float) -> Line:
    start = radians(start_deg)
    sweep = radians((end_deg - start_deg) % 360 or 360)
    count = _steps(abs(radius) * scale, sweep)
    angles = (start + sweep * i / count for i in range(count + 1))
    return [(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles]


def _bulged(start: Point, end: Point, bulge: float, scale: float) -> Iterator[Point]:
    """Corners from a start, which is left out, to an end: a bulge is the tangent of a quarter of the arc's angle, positive to the left."""
    chord = hypot(end[0] - start[0], end[1] - start[1])
    if abs(bulge) > 1e-9 and chord > 1e-12:
        sweep = 4 * atan(bulge)
        reach = (1 - bulge * bulge) / (4 * bulge)
        x = (start[0] + end[0]) / 2 - reach * (end[1] - start[1])
        y = (start[1] + end[1]) / 2 + reach * (end[0] - start[0])
        count = _steps(hypot(start[0] - x, start[1] - y) * scale, sweep)
        for i in range(1, count):
            c, s = cos(sweep * i / count), sin(sweep * i / count)
            yield x + c * (start[0] - x) - s * (start[1] - y), y + s * (start[0] - x) + c * (start[1] - y)
    yield end
