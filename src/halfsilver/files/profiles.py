"""Whether the outline of a moulding, as somebody typed it, can be a moulding.

An outline is a closed polygon of (x, z) in millimetres: x from the outer edge towards the opening, z from the face backwards. It has
one rebate: a wall square to the back and a lip whose back is parallel to it. Kept counter-clockwise as seen with x to the right and z
up the page: face, lip, wall, back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from halfsilver.geometry.polygon import Point, first_crossing, is_simple

# Two points nearer than this are one point: a tenth of the finest division on a calliper.
SAME_MM = 0.005
MOST_CORNERS = 400  # a quarter round in steps of a hundredth of a millimetre has fifty


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileFault:
    """What is wrong with an outline, and at which of its points (counted from 0)."""

    code: str
    at: int
    allowed: str
    advice: str


def counter_clockwise(points: Sequence[Point]) -> tuple[Point, ...]:
    """The same outline, counter-clockwise.

    Examples
    --------
    >>> counter_clockwise([(0, 0), (0, 2), (1, 0)])
    ((1, 0), (0, 2), (0, 0))
    """
    doubled_area = sum(x1 * z2 - x2 * z1 for (x1, z1), (x2, z2) in pairwise([*points, points[0]]))
    return tuple(points) if doubled_area >= 0 else tuple(reversed(points))


def profile_fault(points: Sequence[Point]) -> ProfileFault | None:
    """The first thing that keeps an outline from being a moulding's profile; None when it is one.

    Parameters
    ----------
    points : sequence of (float, float)
        Corners in order, either way round, x and z. [mm]
    """
    return next(_faults(points), None)


def _faults(points: Sequence[Point]) -> Iterator[ProfileFault]:
    if len(points) < 5:
        yield ProfileFault(
            code="profile-too-few-points",
            at=0,
            allowed=f"A rebated outline has at least five corners, this one has {len(points)}.",
            advice="Add the missing corners in order.",
        )
        return
    if len(points) > MOST_CORNERS:
        yield ProfileFault(
            code="profile-too-many-points",
            at=MOST_CORNERS,
            allowed=f"An outline has at most {MOST_CORNERS} corners, this one has {len(points)}.",
            advice="Draw curves with fewer short lines: a hundredth of a millimetre is fine enough.",
        )
        return
    yield from _doubled(points)
    yield from _off_origin(points)
    yield from _crossing(points)
    yield from _not_rebated(points)


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= SAME_MM


def _doubled(points: Sequence[Point]) -> Iterator[ProfileFault]:
    for at, ((x1, z1), (x2, z2)) in enumerate(pairwise([points[-1], *points])):
        if _same(x1, x2) and _same(z1, z2):
            yield ProfileFault(
                code="profile-doubled-point",
                at=at,
                allowed="Every corner stands once; the last joins the first by itself.",
                advice="Delete this row.",
            )


def _off_origin(points: Sequence[Point]) -> Iterator[ProfileFault]:
    for axis, name in enumerate(("x = 0 at the outer edge", "z = 0 at the highest part of the face")):
        least = min(point[axis] for point in points)
        if not _same(least, 0.0):
            at = next(i for i, point in enumerate(points) if point[axis] == least)
            yield ProfileFault(
                code="profile-off-origin",
                at=at,
                allowed=f"The outline begins at {name}; here it begins at {least:g} mm.",
                advice=f"Take {least:g} mm off every {'xz'[axis]}.",
            )


def _crossing(points: Sequence[Point]) -> Iterator[ProfileFault]:
    if not is_simple(tuple(points)):
        count = len(points)
        i, j = first_crossing(tuple(points)) or (0, 0)  # whatever mends it takes away a corner of these two sides
        near = sorted({i, (i + 1) % count, j, (j + 1) % count})
        mending = (i for i in near if is_simple((*points[:i], *points[i + 1 :])))
        yield ProfileFault(
            code="profile-crosses-itself",
            at=next(mending, 0),
            allowed="The outline goes round once and never crosses or touches itself.",
            advice="Look for two corners in the wrong order near this row.",
        )


def _not_rebated(points: Sequence[Point]) -> Iterator[ProfileFault]:
    loop = counter_clockwise(points)
    depth = max(z for _, z in loop)
    corner = max((i for i, (_, z) in enumerate(loop) if _same(z, depth)), key=lambda i: loop[i][0])
    body = loop[corner][0]
    if max(x for x, _ in loop) - body <= SAME_MM:
        yield _rebate_fault(points, loop[corner], "The lip reaches further towards the opening than the back does; here nothing does.")
        return
    step = 1
    while step < len(loop) and _same(loop[corner - step][0], body):
        step += 1
    lip_root, lip_end = loop[corner - step + 1], loop[corner - step]
    if step == 1:
        yield _rebate_fault(points, loop[corner], "The wall of the rebate stands square to the back.")
    elif not (_same(lip_root[1], lip_end[1]) and lip_end[0] > body):
        yield _rebate_fault(points, lip_root, "The back of the lip lies parallel to the back: glass rests on it.")
    elif beyond := [p for p in loop if p[0] > body + SAME_MM and p[1] > lip_root[1] + SAME_MM]:
        yield _rebate_fault(points, beyond[0], "Nothing stands in the rebate, from the wall towards the opening.")


def _rebate_fault(points: Sequence[Point], where: Point, allowed: str) -> ProfileFault:
    advice = "Compare with the sketch in README.txt."
    return ProfileFault(code="profile-not-rebated", at=list(points).index(where), allowed=allowed, advice=advice)
