"""Laws of layout that hold for every drawing: texts never meet, hatches stay inside, mirror twice and nothing has changed."""

from __future__ import annotations

import itertools
from math import atan2, hypot, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.columns import crosses
from halfsilver.drawing.hatch import dots, rings, scan
from halfsilver.drawing.ink import InkGroup, InkPath, leaves
from halfsilver.drawing.moves import mirrored, moved
from halfsilver.drawing.plot import plot_view
from halfsilver.drawing.scene import Axis, Callout, Callouts, Dimension, Item, Point, Scene, Side, dimension_chain, rectangle
from halfsilver.drawing.spread import spread
from halfsilver.drawing.style import Material, Role
from halfsilver.drawing.view import SCALES, View

TEXTS = st.sampled_from(["3", "1/2", "7/8 in", "53 1/4 in", "1352.6 mm", "1 1/16", "27 15/16 in (tape)"])
LENGTHS = st.floats(min_value=0.4, max_value=900.0)
SIDES = st.sampled_from(list(Side))
SCALE = st.sampled_from(SCALES)


def axis_of(side: Side) -> Axis:
    return Axis.HORIZONTAL if side in (Side.ABOVE, Side.BELOW) else Axis.VERTICAL


def along(side: Side, length: float) -> Point:
    return (length, 0.0) if axis_of(side) is Axis.HORIZONTAL else (0.0, length)


@given(st.lists(st.tuples(LENGTHS, TEXTS), min_size=1, max_size=14), SIDES, SCALE, TEXTS)
def test_a_chain_and_its_overall_never_put_a_text_on_anything(
    pieces: list[tuple[float, str]], side: Side, scale: object, overall: str
) -> None:
    ends = [0.0]
    for length, _ in pieces:
        ends.append(ends[-1] + length)
    stations = [along(side, end) for end in ends]
    chain = dimension_chain(stations, [text for _, text in pieces], axis=axis_of(side), side=side, chain="chain")
    whole = Dimension(start=stations[0], end=stations[-1], text=overall, axis=axis_of(side), side=side)
    x, y = along(side, ends[-1])
    body = rectangle(x_mm=0, y_mm=0, width_mm=max(x, 40.0), height_mm=max(y, 40.0), material=Material.TIMBER_END)
    assert overlaps(View(scene=Scene(items=(body, *chain, whole)), scale=scale)) == ()  # type: ignore[arg-type]


@given(st.lists(st.tuples(LENGTHS, LENGTHS, TEXTS), min_size=1, max_size=8), SIDES, SCALE)
def test_dimensions_find_free_rows_by_themselves(spans: list[tuple[float, float, str]], side: Side, scale: object) -> None:
    dims = [Dimension(start=along(side, a), end=along(side, a + b), text=text, axis=axis_of(side), side=side) for a, b, text in spans]
    body = rectangle(x_mm=0, y_mm=0, width_mm=40, height_mm=40)
    assert overlaps(View(scene=Scene(items=(body, *dims)), scale=scale)) == ()  # type: ignore[arg-type]


@given(st.lists(st.tuples(st.floats(0, 400), st.floats(0, 300), TEXTS), min_size=1, max_size=9), SIDES, SCALE)
def test_callouts_never_meet_and_their_leaders_never_cross(tips: list[tuple[float, float, str]], side: Side, scale: object) -> None:
    column = Callouts(entries=tuple(Callout(tip=(x, y), text=text) for x, y, text in tips), side=side)
    body = rectangle(x_mm=0, y_mm=0, width_mm=400, height_mm=300)
    view = View(scene=Scene(items=(body, column)), scale=scale)  # type: ignore[arg-type]
    assert not [o for o in overlaps(view) if o.on_text or o.other != "leader"]
    lines = [p.chains[0][:2] for p in leaves((plot_view(view),)) if isinstance(p, InkPath) and p.role is Role.LEADER and p.pen]
    pairs = [(a, b) for k, a in enumerate(lines) for b in lines[k + 1 :]]
    assert not [pair for pair in pairs if crosses((pair[0][0], pair[0][1]), (pair[1][0], pair[1][1]))]


@given(
    st.lists(st.tuples(st.floats(-100, 100), st.floats(0.1, 30)), min_size=1, max_size=12),
    st.floats(0, 5),
    st.randoms(use_true_random=False),
)
def test_spread_labels_are_clear_and_nowhere_nearer(labels: list[tuple[float, float]], clear: float, random: object) -> None:
    labels = sorted(labels)
    wanted, sizes = [w for w, _ in labels], [s for _, s in labels]
    places = spread(wanted, sizes, clear=clear)
    need = [(a + b) / 2 + clear for a, b in itertools.pairwise(sizes)]
    assert all(b - a >= gap - 1e-9 for a, b, gap in zip(places, places[1:], need, strict=False))
    cost = sum((p - w) ** 2 for p, w in zip(places, wanted, strict=True))
    # The least sum of squares over a convex set: no step towards another allowed arrangement makes it smaller.
    other = [min(wanted) + random.uniform(-50, 50)]  # type: ignore[attr-defined]
    for gap in need:
        other.append(other[-1] + gap + random.uniform(0, 20))  # type: ignore[attr-defined]
    nearer = [p + 1e-3 * (q - p) for p, q in zip(places, other, strict=True)]
    assert sum((p - w) ** 2 for p, w in zip(nearer, wanted, strict=True)) >= cost - 1e-9


@given(st.floats(0, 100), st.floats(1, 40), st.floats(-20, 20))
def test_a_label_kept_in_its_room_stays_there(want: float, size: float, low: float) -> None:
    room = (low, low + size + 10)
    (place,) = spread([want], [size], clear=1, room=room)
    assert room[0] - 1e-9 <= place - size / 2
    assert place + size / 2 <= room[1] + 1e-9


def star(radii: list[float]) -> list[Point]:
    """A shape with one corner in each direction."""
    from math import cos, sin

    return [(50 + r * cos(2 * pi * k / len(radii)), 50 + r * sin(2 * pi * k / len(radii))) for k, r in enumerate(radii)]


def winding(loop: list[Point], p: Point) -> float:
    """Turns of the boundary round a point, summed angle by angle: independent of the crossings used for hatching."""
    total = 0.0
    for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
        a, b = (x0 - p[0], y0 - p[1]), (x1 - p[0], y1 - p[1])
        total += atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
    return total / (2 * pi)


SHAPES = st.lists(st.floats(5, 45), min_size=4, max_size=9).map(star)


@given(SHAPES, st.floats(0, 180), st.floats(0.3, 4))
def test_hatch_lines_lie_inside_their_shape(shape: list[Point], angle: float, spacing: float) -> None:
    for (x0, y0), (x1, y1) in scan([shape], angle_deg=angle, steps=(spacing,)):
        if hypot(x1 - x0, y1 - y0) > 1e-6:
            assert winding(shape, ((x0 + x1) / 2, (y0 + y1) / 2)) == pytest.approx(1.0, abs=1e-6)


@given(SHAPES, st.floats(0, 180))
def test_dense_hatching_measures_the_area(shape: list[Point], angle: float) -> None:
    # Cavalieri: length of all lines times their distance tends to the area, here by the shoelace formula.
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(shape, [*shape[1:], shape[0]], strict=True)) / 2
    lines = scan([shape], angle_deg=angle, steps=(0.2,))
    assert sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in lines) * 0.2 == pytest.approx(area, rel=0.02)


@settings(max_examples=40)
@given(SHAPES)
def test_rings_and_dots_lie_inside_their_shape(shape: list[Point]) -> None:
    from math import cos, radians, sin

    for (cx, cy), radius, start, end in rings([shape], spacing_mm=1.3):
        for share in (0.25, 0.75):
            a = radians(start + share * (end - start))
            assert winding(shape, (cx + radius * cos(a), cy + radius * sin(a))) == pytest.approx(1.0, abs=1e-6)
    for p in dots([shape], spacing_mm=1.2):
        assert winding(shape, p) == pytest.approx(1.0, abs=1e-6)


@given(LENGTHS, LENGTHS, SIDES, st.floats(-500, 500))
def test_mirrored_twice_is_the_same(a: float, b: float, side: Side, about: float) -> None:
    items: list[Item] = [
        Dimension(start=(a, b), end=(a + 10, b + 5), text="x", axis=axis_of(side), side=side, base_mm=b),
        rectangle(x_mm=a, y_mm=b, width_mm=5, height_mm=7, grain_deg=30.0),
        Callouts(entries=(Callout(tip=(a, b), text="y"),), side=side),
    ]
    for item in items:
        again = mirrored(mirrored(item, about_x_mm=about), about_x_mm=about)
        assert_same(again, item)
        assert_same(moved(moved(item, by_mm=(a, b)), by_mm=(-a, -b)), item)


def assert_same(a: object, b: object) -> None:
    if isinstance(a, float) and isinstance(b, float):
        assert a == pytest.approx(b, abs=1e-6)
    elif isinstance(a, tuple) and isinstance(b, tuple):
        assert len(a) == len(b)
        for x, y in zip(a, b, strict=True):
            assert_same(x, y)
    elif hasattr(a, "__dataclass_fields__") and not isinstance(a, InkGroup):
        assert type(a) is type(b)
        for name in a.__dataclass_fields__:
            assert_same(getattr(a, name), getattr(b, name))
    else:
        assert a == b
