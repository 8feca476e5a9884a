"""The viewing zone as a chart: the room from above, tinted by the share of the picture seen, with the viewers in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from halfsilver.documents.chart_parts import PLOT_MM, THIN, Chart, scene_of
from halfsilver.documents.words import printable
from halfsilver.drawing.chart import LABEL_MM, SMALL_MM, Axis, Plot, cased, even_axis, ground, marks, rim, title
from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.ink import Box
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Circle, Item, Point, Polygon, Text, rectangle
from halfsilver.drawing.style import ACCENT, DEFAULT_STYLE, GREY, INK, Material, Role
from halfsilver.geometry.contours import contours
from halfsilver.model.charts import Stand, ZoneChart
from halfsilver.model.job import Units
from halfsilver.units.factors import MM_PER_FOOT

LEVELS = (0.5, 0.75, 0.9, 0.95, 0.98, 0.999)
TINTS = ("#8fadb8", "#a9c1ca", "#c3d4db", "#d9e4e9", "#ebf1f4", "#fafcfd", "#ffffff")
HIGH_MM = 96.0


# ---- viewing zone


def zone_chart(shown: ZoneChart, units: Units) -> Chart:
    """The chart."""
    heading = "From where the picture is seen"
    return Chart(name="viewing-zone", scene=scene_of(_zone_items(shown, units, heading), heading), says=_zone_says(shown))


def _zone_says(shown: ZoneChart) -> str:
    seen = ", ".join(f"{printable(one.who)} {_share(one.share)}" for one in shown.stands)
    lead = "The map shows the room from above, the piece at its top. " + (f"Seen of the picture: {seen}. " if seen else "")
    if not shown.limits:
        return lead + "Nothing in the frame stands before the picture anywhere in this room."
    return (
        lead
        + "What is missing lies behind the rim of the frame and the ledge that carries the lights; it grows as you step aside or come near."
    )


def _share(share: float) -> str:
    return "all" if share >= 0.9995 else f"{100 * share:.0f} %" if share < 0.985 else f"{100 * share:.1f} %"


def _zone_items(shown: ZoneChart, units: Units, heading: str) -> Iterator[Item]:
    plot = _room(shown, units)
    yield title(plot, heading, above_mm=9.0)
    yield ground(plot, TINTS[0])
    ups = (*(-z for z in reversed(shown.distance_mm)), 0.0)
    rows = (*reversed(shown.share), shown.share[0])
    lines: list[tuple[float, tuple[Point, ...]]] = []
    for level_, tint in zip(LEVELS, TINTS[1:], strict=True):
        rings = contours(shown.sideways_mm, ups, rows, level=level_)
        loops = [tuple(plot.at(x, -z) for x, z in ring) for ring in rings]
        yield from (Polygon(points=loop, role=None, fill=tint) for loop in loops)
        lines += [(level_, loop) for loop in loops]
    labels: list[Text] = []
    for k, (level_, loop) in enumerate(lines):
        inner = [chain for chain in _inside(plot, loop) if len(chain) > 1]
        yield from (cased(chain, THIN) for chain in inner)
        labels += _level_label(plot, level_, [p for chain in inner for p in chain], (k, shown), labels)
    yield from labels
    yield from _piece(plot, shown)
    yield from rim(plot)
    yield from marks(plot)
    yield from _stands(plot, shown.stands)
    yield from _legend(plot, shown)


def _room(shown: ZoneChart, units: Units) -> Plot:
    """The room in plan, the wall at the top, both ways to one scale."""
    factor, unit = (1 / MM_PER_FOOT, "ft") if units is Units.INCH else (1e-3, "m")
    half, deep = shown.sideways_mm[-1], shown.distance_mm[-1]
    scale = min(HIGH_MM / deep, PLOT_MM[0] / (2 * half))
    across = even_axis("", 0.0, half, most=7, factor=factor)
    sides = tuple(
        (sign * value, text if sign > 0 or value else "")
        for sign in (-1, 1)
        for value, text in across.ticks
        if value <= half and (sign > 0 or value)
    )
    away = even_axis("", 0.0, deep, most=8, factor=factor)
    return Plot(
        x=Axis(label=f"Left and right of the middle, {unit}", low=-half, high=half, ticks=tuple(sorted(sides))),
        y=Axis(label=f"Before the piece, {unit}", low=deep, high=0.0, ticks=tuple(one for one in away.ticks if one[0] <= deep)),
        width_mm=2 * half * scale, height_mm=deep * scale,
    )  # fmt: skip


def _inside(plot: Plot, loop: tuple[Point, ...]) -> list[tuple[Point, ...]]:
    """A ring without the parts that run along the rim of the map."""
    low = plot.bottom_mm
    nearest = max(y for _, y in loop)

    def on_rim(a: Point, b: Point) -> bool:
        return any(
            abs(a[k] - edge) < 1e-6 and abs(b[k] - edge) < 1e-6
            for k, edge in ((0, plot.left_mm), (0, plot.right_mm), (1, low), (1, nearest))
        )

    chains: list[list[Point]] = [[]]
    for a, b in zip(loop, (*loop[1:], loop[0]), strict=True):
        if on_rim(a, b):
            chains.append([])
            continue
        chains[-1] += [b] if chains[-1] else [a, b]
    if len(chains) > 1 and chains[0] and chains[-1] and chains[-1][-1] == chains[0][0]:
        chains[0] = [*chains.pop(), *chains[0][1:]]
    return [tuple(chain) for chain in chains]


def _level_label(plot: Plot, value: float, line: Sequence[Point], of: tuple[int, ZoneChart], others: Sequence[Text]) -> list[Text]:
    """The level's number on its line, on the right where it can be, clear of the other numbers and of the viewers."""
    k, shown = of
    wanted = (plot.left_mm + plot.width_mm * 0.85, plot.bottom_mm + plot.height_mm * (0.3 + 0.13 * (k % 5)))
    taken = [text.at for text in others] + [
        plot.at(one.sideways_mm + d, one.distance_mm) for one in shown.stands for d in (0.0, 400.0, 800.0)
    ]
    room = [
        p for p in line
        if plot.left_mm + 6 < p[0] < plot.right_mm - 6 and plot.bottom_mm + 3 < p[1] < plot.top_mm - 3
        and all(abs(p[0] - x) > 10 or abs(p[1] - y) > 4 for x, y in taken)
    ]  # fmt: skip
    if not room:
        return []
    at = min(room, key=lambda p: hypot(p[0] - wanted[0], p[1] - wanted[1]))
    text = "all" if value > 0.99 else f"{100 * value:.0f} %"
    return [Text(at=at, text=text, anchor=Anchor.MIDDLE_CENTRE, size_mm=1.8, weight=Weight.BOLD)]


def _piece(plot: Plot, shown: ZoneChart) -> Iterator[Item]:
    half = shown.piece_width_mm / 2
    (left, y), (right, _) = plot.at(-half, 0.0), plot.at(half, 0.0)
    yield rectangle(x_mm=left, y_mm=y, width_mm=right - left, height_mm=1.8, material=Material.TIMBER_LONG, role=Role.THIN)


def _stands(plot: Plot, stands: Sequence[Stand]) -> Iterator[Item]:
    """Every viewer with the share seen, each text where it runs into no other viewer."""
    middles = [plot.at(one.sideways_mm, one.distance_mm) for one in stands]
    taken = [(x - 2.0, y - 2.0, x + 2.0, y + 2.0) for x, y in middles]
    for stand, (x, y) in zip(stands, middles, strict=True):
        yield Circle(centre=(x, y), radius_mm=1.7, role=Role.OUTLINE, fill="#ffffff")
        yield Circle(centre=(x, y), radius_mm=0.7, role=Role.THIN, fill=INK)
        text = f"{printable(stand.who)}: {_share(stand.share)}"
        wide = width_mm(text, size_mm=SMALL_MM, font=DEFAULT_STYLE.font, weight=Weight.BOLD)
        places = [(x + 2.6, y), (x - 2.6 - wide, y), *((x - wide / 2, y + d) for d in (-3.6, 3.6, -6.8, 6.8, -10.0))]
        boxes = [(left, mid - 1.4, left + wide, mid + 1.4) for left, mid in places]
        free = [
            box for box in boxes if plot.left_mm + 1 < box[0] and box[2] < plot.right_mm - 1 and not any(_meet(box, one) for one in taken)
        ]
        box = free[0] if free else boxes[0]
        taken.append(box)
        at = (box[0], (box[1] + box[3]) / 2)
        yield Text(at=at, text=text, anchor=Anchor.MIDDLE_LEFT, size_mm=SMALL_MM, weight=Weight.BOLD, colour=ACCENT)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _part(limit: str) -> str:
    """A part and its side in words: ``strip, left`` is the strip on the left."""
    part, _, side = limit.partition(", ")
    return f"{part} {'at' if side in ('top', 'bottom') else 'on'} the {side}"


def _legend(plot: Plot, shown: ZoneChart) -> Iterator[Item]:
    """The tints, and what hides most from where."""
    x, y = plot.right_mm + 4.0, plot.top_mm - 2.0
    yield Text(at=(x, y), text="Share of the picture seen", anchor=Anchor.TOP_LEFT, size_mm=LABEL_MM, weight=Weight.BOLD)
    names = ("less than half", *(f"{100 * one:.0f} % and more" for one in LEVELS[:-1]), "all")
    for k, (tint, name) in enumerate(zip(TINTS, names, strict=True)):
        top = y - 5.0 - 4.2 * k
        yield Polygon(points=rectangle(x_mm=x, y_mm=top - 3.2, width_mm=6.0, height_mm=3.2).points, role=Role.THIN, fill=tint)
        yield Text(at=(x + 7.6, top - 1.6), text=name, anchor=Anchor.MIDDLE_LEFT, size_mm=SMALL_MM)
    foot = y - 5.0 - 4.2 * len(TINTS) - 3.0
    lines = [f"{place}: {_part(limit)}" for place, limit in shown.limits]
    said = "\n".join(lines) if lines else "nothing: all of it is seen\nfrom everywhere here"
    yield Text(at=(x, foot), text="What hides most, seen", anchor=Anchor.TOP_LEFT, size_mm=LABEL_MM, weight=Weight.BOLD)
    yield Text(at=(x, foot - 4.4), text=said, anchor=Anchor.TOP_LEFT, size_mm=SMALL_MM)
    heights = "Plan at the first viewer's eye height;\nnumbers beside a viewer hold for\ntheir own eyes."
    yield Text(at=(x, foot - 8.0 - 1.75 * SMALL_MM * (len(lines) + 1)), text=heights, anchor=Anchor.TOP_LEFT, size_mm=1.7, colour=GREY)
