"""Leaders, notes and captions to ink."""

from __future__ import annotations

from math import hypot

from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.ink import Box, Ink, InkArc, InkGroup, ink_path, lettering
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Leader, Point, Text
from halfsilver.drawing.style import DrawingStyle, Role
from halfsilver.drawing.view import View


def leader_ink(item: Leader, view: View, style: DrawingStyle) -> InkGroup:
    """A dot at the tip, a line, and the text on a short shoulder or in a circle."""
    tip = view.paper(item.tip)
    end = (tip[0] + item.to_mm[0], tip[1] + item.to_mm[1])
    dot = InkArc(
        centre=tip,
        radius_mm=style.dot_mm / 2.0,
        start_deg=0.0,
        end_deg=360.0,
        role=Role.LEADER,
        pen=None,
        fill=style.pens[Role.LEADER].colour,
    )
    if item.number:
        return InkGroup(items=(dot, *_balloon(tip, end, item.text, style)), kind="leader", name=item.name)
    right = item.to_mm[0] >= 0.0
    shoulder = (end[0] + (2.5 if right else -2.5), end[1])
    text = lettering(
        at=(shoulder[0] + (0.8 if right else -0.8), end[1]),
        text=item.text,
        size_mm=style.text_mm,
        anchor=Anchor.MIDDLE_LEFT if right else Anchor.MIDDLE_RIGHT,
        font=style.font,
        colour=style.text_colour,
        spacing=style.line_spacing,
    )
    return InkGroup(items=(dot, ink_path(((tip, end, shoulder),), Role.LEADER, style), *text), kind="leader", name=item.name)


def _balloon(tip: Point, centre: Point, text: str, style: DrawingStyle) -> list[Ink]:
    radius = style.text_mm * 1.15
    length = hypot(centre[0] - tip[0], centre[1] - tip[1]) or 1.0
    rim = (centre[0] - (centre[0] - tip[0]) / length * radius, centre[1] - (centre[1] - tip[1]) / length * radius)
    ring = InkArc(
        centre=centre,
        radius_mm=radius,
        start_deg=0.0,
        end_deg=360.0,
        role=Role.LEADER,
        pen=style.pens[Role.LEADER],
        fill="#ffffff",
    )
    label = lettering(at=centre, text=text, size_mm=style.text_mm, anchor=Anchor.MIDDLE_CENTRE, font=style.font, colour=style.text_colour)
    return [ink_path(((tip, rim),), Role.LEADER, style), ring, *label]


def text_ink(item: Text, view: View, style: DrawingStyle) -> InkGroup:
    """The lines of a text."""
    x, y = view.paper(item.at)
    placed = lettering(
        at=(x + item.shift_mm[0], y + item.shift_mm[1]),
        text=item.text,
        size_mm=item.size_mm or style.text_mm,
        anchor=item.anchor,
        font=style.font,
        colour=item.colour or style.text_colour,
        rotation_deg=item.rotation_deg,
        weight=item.weight,
        spacing=style.line_spacing,
    )
    return InkGroup(items=placed, kind="note")


def caption_ink(view: View, *, around: Box, middle_mm: float, style: DrawingStyle) -> InkGroup:
    """Title and scale under everything else, centred on the shapes."""
    size, small = style.title_mm, style.text_mm
    baseline = around[1] - 7.0 - size
    title = width_mm(view.caption, size_mm=size, font=style.font, weight=Weight.BOLD)
    scale = width_mm(view.scale.text, size_mm=small, font=style.font)
    left = middle_mm - (title + 4.0 + scale) / 2.0
    words = lettering(
        at=(left, baseline),
        text=view.caption,
        size_mm=size,
        anchor=Anchor.BASE_LEFT,
        font=style.font,
        colour=style.text_colour,
        weight=Weight.BOLD,
    )
    note = lettering(
        at=(left + title + 4.0, baseline),
        text=view.scale.text,
        size_mm=small,
        anchor=Anchor.BASE_LEFT,
        font=style.font,
        colour=style.text_colour,
    )
    return InkGroup(items=(*words, *note), kind="caption")
