"""Lines of one level through numbers on a grid, closed: what lies at or above the level is inside."""

from __future__ import annotations

from collections.abc import Sequence

Point = tuple[float, float]
Edge = tuple[int, int, bool]  # row and column of a grid point, and whether the edge runs on to the next column (else to the next row)

# Ways through a cell by which of its corners are inside, counted anticlockwise from the lower left: sides bottom 0, right 1, top 2, left 3.
WAYS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),), 2: ((0, 1),), 3: ((3, 1),), 4: ((1, 2),), 5: ((3, 2), (1, 0)), 6: ((0, 2),), 7: ((3, 2),), 8: ((2, 3),), 9: ((2, 0),),
    10: ((0, 3), (2, 1)), 11: ((2, 1),), 12: ((1, 3),), 13: ((1, 0),), 14: ((0, 3),),
}  # fmt: skip


def contours(x: Sequence[float], y: Sequence[float], values: Sequence[Sequence[float]], *, level: float) -> tuple[tuple[Point, ...], ...]:
    """Closed lines round everything at or above a level.

    Parameters
    ----------
    x, y : sequence of float
        Places of columns and rows, rising.
    values : sequence of sequence of float
        Rows of numbers.
    level : float
        The level. Lines run straight between the places on the grid's edges where it is met, and along the grid's rim.

    Returns
    -------
    tuple of tuple of Point
        Rings, the last point joined to the first.

    Examples
    --------
    >>> contours([0, 1, 2], [0, 1, 2], [[0, 0, 0], [0, 1, 0], [0, 0, 0]], level=0.5)
    (((1.0, 0.5), (0.5, 1.0), (1.0, 1.5), (1.5, 1.0)),)
    """
    low = min(min(map(min, values)), level) - 1.0
    wide = [low] * (len(x) + 2)
    rows = [wide, *([low, *row, low] for row in values), wide]
    xs, ys = (x[0], *x, x[-1]), (y[0], *y, y[-1])
    following: dict[Edge, list[Edge]] = {}
    for r in range(len(rows) - 1):
        for c in range(len(wide) - 1):
            corners = (rows[r][c], rows[r][c + 1], rows[r + 1][c + 1], rows[r + 1][c])
            inside = sum(1 << k for k, value in enumerate(corners) if value >= level)
            sides = ((r, c, True), (r, c + 1, False), (r + 1, c, True), (r, c, False))
            for start, end in WAYS.get(inside, ()):
                following.setdefault(sides[start], []).append(sides[end])

    def place(edge: Edge) -> Point:
        r, c, across = edge
        one, other = rows[r][c], rows[r][c + 1] if across else rows[r + 1][c]
        share = (level - one) / (other - one)
        to = (xs[c + 1], ys[r]) if across else (xs[c], ys[r + 1])
        return xs[c] + share * (to[0] - xs[c]), ys[r] + share * (to[1] - ys[r])

    rings = []
    while following:
        ring, edge = [], next(iter(following))
        while edge in following:
            ring.append(place(edge))
            onward = following[edge].pop()
            if not following[edge]:
                del following[edge]
            edge = onward
        rings.append(tuple(ring))
    return tuple(rings)
