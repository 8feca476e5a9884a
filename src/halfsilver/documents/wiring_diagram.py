"""The wiring as a diagram: mains, supply, fuse, dimmer, leads, and the strip unrolled with its feeds and the light along it.

A diagram, not to scale: lengths of the run go with its segments, everything else has its place. Lengths are millimetres of the paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate, pairwise

from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named, printable
from halfsilver.drawing.fonts import SHIPPED_FONT
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Circle, Item, Line, Point, Polyline, Scene, Text, rectangle
from halfsilver.drawing.style import ACCENT, GREY, INK, Material, Pen, Role
from halfsilver.engineering.wiring import wire_area_mm2, wire_diameter_mm
from halfsilver.making.wiring import Circuit, WiringPlan
from halfsilver.units.rounding import decimal_text

SMALL_MM, WORD_MM = 1.75, 2.1
ROW_MM, TOP_MM = 50.0, 7.0
MAINS = (0.0, 25.0)
SUPPLY = (34.0, 62.0)
FUSE = (67.0, 75.0)
DIMMER = (79.0, 95.0)
RUN_FROM = 103.0
LINK_MM, BAR_MM, PLOT_MM = 4.0, 5.0, 12.0
RAIL_MM = 5.0  # between plus and minus
ASIDE_MM = 0.9  # each wire from the joint it feeds
PLUS = Pen(width_mm=0.5, colour="#a3231f")
MINUS = Pen(width_mm=0.5, colour=INK)
CURVE = Pen(width_mm=0.5, colour="#9a4a12")
EDGE = Pen(width_mm=0.25, colour=GREY, dash_mm=(2.0, 1.0))


def wiring_scene(sizes: Sizes, plan: WiringPlan, *, room_mm: float) -> Scene:
    """The diagram, one row for each circuit.

    Parameters
    ----------
    sizes : Sizes
        The design, and how its job prints lengths.
    plan : WiringPlan
        How the strip is fed.
    room_mm : float
        Width at hand. [mm]

    Returns
    -------
    Scene
        At 1:1.
    """
    items: list[Item] = list(_mains(sizes, len(plan.circuits)))
    for row, circuit in enumerate(plan.circuits):
        items += _row(sizes, plan, circuit, -row * ROW_MM, room_mm - 2.0)
    return Scene(items=tuple(items), title="Wiring diagram, not to scale: the strip unrolled from its feed, and the light along it")


def _words(at: Point, text: str, *, anchor: Anchor = Anchor.MIDDLE_CENTRE, size: float = SMALL_MM, colour: str = "") -> Text:
    return Text(at=at, text=text, anchor=anchor, size_mm=size, colour=colour)


def _box(span: tuple[float, float], low: float, high: float, words: tuple[str, ...], *, material: Material | None = None) -> Iterator[Item]:
    yield rectangle(x_mm=span[0], y_mm=low, width_mm=span[1] - span[0], height_mm=high - low, material=material, role=Role.OUTLINE)
    middle, pitch = (span[0] + span[1]) / 2, 3.6
    for k, word in enumerate(words):
        y = (low + high) / 2 + pitch * ((len(words) - 1) / 2 - k)
        yield _words((middle, y), word, size=WORD_MM if k == 0 else SMALL_MM)


def _mains(sizes: Sizes, rows: int) -> Iterator[Item]:
    """The mains side behind its dashed border: nobody but an electrician works on it."""
    line = sizes.design.facts.workshop.head.mains
    low, high = -(rows - 1) * ROW_MM - 13.0, 13.0
    yield from _box(
        MAINS, -9.0, 9.0, ("Mains", f"{decimal_text(line.voltage, 0)} V, {decimal_text(line.circuit, 0)} A circuit", "outlet in reach")
    )
    x = (MAINS[1] + SUPPLY[0]) / 2
    yield Line(start=(x, low), end=(x, high + 2.0), pen=EDGE)
    yield _words((x - 1.0, high + 2.5), "mains: licensed electrician", anchor=Anchor.BASE_RIGHT, colour=GREY)
    yield _words((x + 1.0, high + 2.5), "low voltage", anchor=Anchor.BASE_LEFT, colour=GREY)
    for row in range(rows):
        y = -row * ROW_MM
        if row:
            yield Line(start=(x - 2.2, 0.0), end=(x - 2.2, y), role=Role.OUTLINE)
            yield Line(start=(x - 2.2, y), end=(SUPPLY[0], y), role=Role.OUTLINE)
    yield Line(start=(MAINS[1], 0.0), end=(SUPPLY[0], 0.0), role=Role.OUTLINE)


def _row(sizes: Sizes, plan: WiringPlan, circuit: Circuit, y: float, right: float) -> Iterator[Item]:
    plus, minus = y + RAIL_MM / 2, y - RAIL_MM / 2
    yield from _box(SUPPLY, y - 8.0, y + 8.0, _supply_words(plan, circuit), material=Material.SCREEN)
    yield from _fuse(plan, plus)
    dimmed = plan.dimmer_a is not None
    begin, end = SUPPLY[1], max(_feed_x(circuit, joint, right) for joint in circuit.feeds)
    yield Line(start=(begin, plus), end=(FUSE[0], plus), pen=PLUS)
    if plan.dimmer_a is not None:
        rated = decimal_text(plan.dimmer_a, 1)
        yield from _box(DIMMER, y - 6.0, y + 6.0, ("Dimmer", f"{rated} A or more"))
    for level, pen, left, aside in ((plus, PLUS, FUSE[1], -ASIDE_MM), (minus, MINUS, begin, ASIDE_MM)):
        for start, stop in ((left, DIMMER[0]), (DIMMER[1], end + aside)) if dimmed else ((left, end + aside),):
            yield Line(start=(start, level), end=(stop, level), pen=pen)
    yield _words((RUN_FROM - 4.0, plus + 1.0), "+", anchor=Anchor.BASE_CENTRE, size=WORD_MM, colour=PLUS.colour)
    yield _words((RUN_FROM - 4.0, minus - 3.0), "–", anchor=Anchor.BASE_CENTRE, size=WORD_MM)
    yield _words((SUPPLY[0], y - 11.0), _lead_words(sizes, plan, circuit), anchor=Anchor.MIDDLE_LEFT)
    yield from _run(circuit, plus, minus, right)
    yield from _light(circuit, plus + TOP_MM + BAR_MM + 5.0, right)


def _supply_words(plan: WiringPlan, circuit: Circuit) -> tuple[str, ...]:
    if plan.supply is None:
        return "Supply", f"{decimal_text(plan.light.voltage, 1)} V", "none in the workshop fits"
    rated = f"{decimal_text(plan.supply.voltage, 1)} V, {decimal_text(plan.supply.power, 0)} W"
    return "Supply", rated, f"loaded with {decimal_text(circuit.power_w, 1)} W", printable(named(plan.supply.id))


def _lead_words(sizes: Sizes, plan: WiringPlan, circuit: Circuit) -> str:
    area = decimal_text(wire_area_mm2(diameter_mm=wire_diameter_mm(gauge=plan.gauge)), 2)
    lights = sizes.design.facts.job.lights
    assumed = " assumed" if lights is not None and lights.lead is None else ""
    number = f"{len(circuit.feeds)} leads" if len(circuit.feeds) > 1 else "Lead"
    return (
        f"{number} of two wires, {plan.gauge} AWG copper ({area} mm²), {sizes.show(plan.lead_mm, 'mm')}{assumed} to the feed corner; "
        f"{decimal_text(circuit.current_a, 2)} A. Corner links the same."
    )


def _fuse(plan: WiringPlan, y: float) -> Iterator[Item]:
    yield rectangle(x_mm=FUSE[0], y_mm=y - 1.2, width_mm=FUSE[1] - FUSE[0], height_mm=2.4, role=Role.OUTLINE)
    yield Line(start=(FUSE[0], y), end=(FUSE[1], y), pen=PLUS)
    text = f"{decimal_text(plan.fuse_a, 2)} A slow" if plan.fuse_a is not None else "divide"
    yield _words(((FUSE[0] + FUSE[1]) / 2, y + 2.4), text, anchor=Anchor.BASE_CENTRE)


def _scale(circuit: Circuit, right: float) -> float:
    """Paper for one segment. [mm]"""
    return (right - RUN_FROM - LINK_MM * (len(circuit.counts) - 1)) / sum(circuit.counts)


def _joint_x(circuit: Circuit, joint: int, right: float) -> float:
    """Where a joint lies; a joint at a corner lies before its link."""
    corners = tuple(accumulate(circuit.counts))
    links = sum(1 for corner in corners[:-1] if corner < joint)
    return RUN_FROM + joint * _scale(circuit, right) + links * LINK_MM


def _feed_x(circuit: Circuit, joint: int, right: float) -> float:
    """Middle of the two wires to a joint, both under the strip. [mm]"""
    return min(max(_joint_x(circuit, joint, right), RUN_FROM + 2 * ASIDE_MM), right - 2 * ASIDE_MM)


def _run(circuit: Circuit, plus: float, minus: float, right: float) -> Iterator[Item]:
    """The strip's sides one after the other, linked at the corners, and the wires to each joint that is fed."""
    low = plus + TOP_MM
    bounds = tuple(pairwise(accumulate(circuit.counts, initial=0)))
    for k, (side, count, (first, last)) in enumerate(zip(circuit.sides, circuit.counts, bounds, strict=True)):
        left = RUN_FROM + first * _scale(circuit, right) + k * LINK_MM
        wide = (last - first) * _scale(circuit, right)
        yield rectangle(x_mm=left, y_mm=low, width_mm=wide, height_mm=BAR_MM, material=Material.LIGHT, name=f"run.{side}", title=side)
        full = f"{side}, {count}"
        fits = width_mm(full, size_mm=SMALL_MM, font=SHIPPED_FONT) < wide - 1.0
        yield _words((left + wide / 2, low + BAR_MM / 2), full if fits else side[0].upper(), colour=INK)
        if k:
            for at in (low + 1.2, low + BAR_MM - 1.2):
                yield Line(start=(left - LINK_MM, at), end=(left, at), role=Role.OUTLINE)
    for joint in circuit.feeds:
        yield from _feed(_feed_x(circuit, joint, right), plus, minus, low)


def _feed(x: float, plus: float, minus: float, low: float) -> Iterator[Item]:
    for level, pen, aside in ((plus, PLUS, -ASIDE_MM), (minus, MINUS, ASIDE_MM)):
        yield Line(start=(x + aside, level), end=(x + aside, low), pen=pen)
        yield Circle(centre=(x + aside, level), radius_mm=0.7, role=None, fill=pen.colour)


def _light(circuit: Circuit, floor: float, right: float) -> Iterator[Item]:
    """Light along the run as a share of the brightest, on a scale that begins at the next lower tenth."""
    most = max(circuit.state.share)
    shares = [share / most for share in circuit.state.share] if most else [0.0 for _ in circuit.state.share]
    least = min(shares)
    base = max(0.0, int(least * 10 - 1e-9) / 10)
    height = PLOT_MM / (1.0 - base) if base < 1 else PLOT_MM
    for level in (base, 1.0):
        y = floor + (level - base) * height
        yield Line(start=(RUN_FROM, y), end=(right, y), role=Role.THIN)
        yield _words((RUN_FROM - 1.2, y), f"{decimal_text(100 * level, 0)} %", anchor=Anchor.MIDDLE_RIGHT, colour=GREY)
    yield _words((RUN_FROM, floor + PLOT_MM + 1.6), "Light along the run, share of the brightest", anchor=Anchor.BASE_LEFT, colour=GREY)
    points = [
        ((_joint_x(circuit, k, right) + _joint_x(circuit, k + 1, right)) / 2, floor + (share - base) * height)
        for k, share in enumerate(shares)
    ]
    if len(points) > 1:
        yield Polyline(points=tuple(points), pen=CURVE)
    x, y = points[shares.index(least)]
    yield Circle(centre=(x, y), radius_mm=0.8, role=None, fill=CURVE.colour)
    volts = decimal_text(min(circuit.state.voltage_v), 1)
    above = y + 1.6 if y < floor + PLOT_MM / 2 else y - 3.4
    anchor = Anchor.BASE_RIGHT if x > right - 15 else Anchor.BASE_LEFT if x < RUN_FROM + 15 else Anchor.BASE_CENTRE
    yield _words((x, above), f"{decimal_text(100 * least, 0)} %, {volts} V", anchor=anchor, colour=ACCENT)
