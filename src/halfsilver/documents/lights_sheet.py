"""Lights and wiring: the strip's path from the front and from behind, what it draws, what its supply and its lead have to carry."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.boxes import Box, box_of
from halfsilver.documents.cut_rows import Row
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.wiring_diagram import wiring_scene
from halfsilver.documents.words import named, printable
from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.fonts import SHIPPED_FONT
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.moves import mirrored
from halfsilver.drawing.scene import Anchor, Circle, Item, Line, Point, Scene, Text
from halfsilver.drawing.style import Material, Role
from halfsilver.drawing.svg import sheet_svg
from halfsilver.drawing.view import Scale, View
from halfsilver.engineering.supply import HEADROOM, strip_power_w, supply_rating_w
from halfsilver.engineering.wiring import longest_run_mm, table8_ohm_per_km
from halfsilver.making.scope import has
from halfsilver.making.wiring import WiringPlan, corner_of, feed_of, lead_limit_a, wiring_plan
from halfsilver.model.job import Units
from halfsilver.model.making import Trade
from halfsilver.model.workshop import LightKind, Supply
from halfsilver.units.factors import MM_PER_FOOT
from halfsilver.units.rounding import decimal_text

DROP = 0.03  # common practice: three parts in a hundred lost in the lead
GAUGES = (18, 16, 14)
WORDS_MM, CORNER_MM, HIGH_MM = 2.0, 12.0, 52.0
OTHER = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def lights_told(sizes: Sizes, pictures: dict[str, bytes], *, room_mm: float) -> Row:
    """The sheet of lights and wiring; empty where the scope or the construction has none.

    Parameters
    ----------
    sizes : Sizes
        The design, and how its job prints lengths.
    pictures : dict
        Takes the two drawings.
    room_mm : float
        Width at hand for both, side by side. [mm]
    """
    design = sizes.design
    if "strip.path" not in sizes or not has(design, Trade.LIGHTS):
        return {}
    scale = Scale(sizes["outside.width"] / min((room_mm - 50.0) / 2, HIGH_MM * sizes["outside.width"] / sizes["outside.height"]))
    front, back = path_scene(sizes, scale), path_scene(sizes, scale, behind=True)
    for name, scene in (("lights-front", front), ("lights-back", back)):
        pictures[f"{name}.svg"] = sheet_svg(sheet_of(View(scene=scene, scale=scale), margin_mm=1.0)).encode()
    light, plan = design.facts.light, wiring_plan(design)
    told: Row = {}
    if plan is not None:
        scene = wiring_scene(sizes, plan, room_mm=room_mm)
        pictures["wiring.svg"] = sheet_svg(sheet_of(View(scene=scene, scale=Scale(1.0)), margin_mm=1.0)).encode()
        told = {"diagram": "wiring.svg", "diagram_caption": scene.title, "drop_now": _drop_words(plan)}
    return told | {
        "drawings": ["lights-front.svg", "lights-back.svg"],
        "captions": [front.title, back.title],
        "facts": [*_strip_facts(sizes, light), *_supply_facts(sizes, light)],
        "sides": [_side(sizes, side) for side in ("top", "right", "bottom", "left")],
        "leads": list(_leads(sizes, plan)),
        "drop": f"{decimal_text(100 * DROP, 1)} %",
        "cautions": [
            "Mains supply, its outlet and everything fixed behind the wall: only by a licensed electrician. Local codes decide.",
            "Outputs of supplies are never joined in parallel; more load takes more supplies, each feeding its own part of the strip.",
            "Run the strip at full brightness on the bench for as long as the build steps ask before the case is closed.",
        ],
    }


def feed_words(sizes: Sizes) -> str:
    """Corner at which the strip is fed, as the viewer sees it."""
    return corner_of(sizes.design.facts)


def feed_kind(sizes: Sizes) -> str:
    """How the strip is fed, such as ``one-end``."""
    return feed_of(sizes.design.facts).value


def direction(side: str) -> str:
    """Direction in which a side's strip runs."""
    return "width" if side in ("top", "bottom") else "height"


def path_scene(sizes: Sizes, scale: Scale, *, behind: bool = False) -> Scene:
    """The strip on the battens' inner faces; from behind it is drawn mirrored."""
    opening = box_of(sizes, "front.rebate")
    inset = sizes["batten.width"] + sizes["strip.thickness"] / 2
    run = Box(left=opening.left + inset, right=opening.right - inset, bottom=opening.bottom + inset, top=opening.top - inset)
    items: list[Item] = [box_of(sizes, "outside").drawn(role=Role.THIN, name="outside", title="Outside"), opening.drawn(role=Role.HIDDEN)]
    for side in OTHER:
        items += _lit(sizes, side, run, scale, behind=behind)
    title = "From behind, mirrored; dot: feed" if behind else "As the viewer sees it; dot: feed"
    return Scene(items=tuple(mirrored(item) for item in items) if behind else tuple(items), title=title)


def _ends(side: str, run: Box) -> tuple[Point, Point]:
    """A side's two ends, left or lower one first."""
    match side:
        case "top":
            return (run.left, run.top), (run.right, run.top)
        case "bottom":
            return (run.left, run.bottom), (run.right, run.bottom)
        case "left":
            return (run.left, run.bottom), (run.left, run.top)
        case _:
            return (run.right, run.bottom), (run.right, run.top)


def from_end(side: str, corner: str) -> str:
    """At which of its ends a side's strip begins, going round from the feed along the level side first.

    Examples
    --------
    >>> [from_end(side, "bottom-right") for side in ("bottom", "left", "top", "right")]
    ['right', 'bottom', 'left', 'top']
    """
    row, column = corner.split("-")
    if direction(side) == "width":
        return column if side == row else OTHER[column]
    return row if side != column else OTHER[row]


def _lit(sizes: Sizes, side: str, run: Box, scale: Scale, *, behind: bool) -> Iterator[Item]:
    """The lit part of a side as a thick line, its unlit rest thin, and its count of segments."""
    low, high, corner = *_ends(side, run), feed_words(sizes)
    along = 0 if direction(side) == "width" else 1
    whole = high[along] - low[along]
    lit = sizes[f"strip.segments.{direction(side)}"] * sizes["strip.segment"]
    first = from_end(side, corner) in ("left", "bottom")
    start, end = (low[along], low[along] + min(lit, whole)) if first else (high[along] - min(lit, whole), high[along])
    ends = [(x, low[1]) if along == 0 else (low[0], x) for x in (start, end)]
    yield Line(start=low, end=high, role=Role.THIN)
    yield Line(start=ends[0], end=ends[1], role=Role.COATING)
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    across = -1.0 if behind else 1.0
    inward = {"top": (0.0, -4.0), "bottom": (0.0, 4.0), "left": (4.0 * across, 0.0), "right": (-4.0 * across, 0.0)}[side]
    words = f"{side}: {sizes.text(f'strip.segments.{direction(side)}')} segments"
    if width_mm(words, size_mm=WORDS_MM, font=SHIPPED_FONT) + CORNER_MM < whole / scale.denominator:
        turned = 0.0 if along == 0 else 90.0
        yield Text(at=middle, text=words, anchor=Anchor.MIDDLE_CENTRE, shift_mm=inward, rotation_deg=turned, size_mm=WORDS_MM)
    if side == corner.split("-")[0]:
        at = low if first else high
        yield Circle(centre=at, radius_mm=1.6 * scale.denominator, material=Material.LIGHT, name="strip.feed", title="Feed")


def _side(sizes: Sizes, side: str) -> dict[str, str]:
    way = direction(side)
    segments = sizes[f"strip.segments.{way}"]
    dark, near = sizes[f"strip.dark.{way}"], from_end(side, feed_words(sizes))
    return {
        "side": side.capitalize(),
        "segments": sizes.text(f"strip.segments.{way}"),
        "length": sizes.show(segments * sizes["strip.segment"], "mm"),
        "run": sizes.text(f"strip.run.{way}"),
        "dark": f"{sizes.text(f'strip.dark.{way}')} at the {OTHER[near]} end" if dark > 1e-6 else "none",
        "from": f"{near} end",
    }


def power_w(sizes: Sizes, light: LightKind) -> float:
    """What the strip draws at full brightness. [W]"""
    return strip_power_w(length_mm=sizes["strip.length"], power_w_per_m=light.power)


def fitting_supply(sizes: Sizes) -> Supply | None:
    """The supply of each part of the strip; None where the workshop has none that fits, or nothing is lit."""
    plan = wiring_plan(sizes.design)
    return plan.supply if plan is not None else None


def _drop_words(plan: WiringPlan) -> str:
    """What the planned leads lose, and the fuse before them."""
    share = decimal_text(100 * plan.lead_drop_v / plan.light.voltage, 1)
    of = "the" if len(plan.circuits) == 1 else "each"
    fuse = f"; fuse of {decimal_text(plan.fuse_a, 2)} A, slow, at the output of {of} supply" if plan.fuse_a is not None else ""
    return f"Planned: {plan.gauge} AWG, {decimal_text(plan.lead_drop_v, 2)} V or {share} % lost at full brightness{fuse}."


def _strip_facts(sizes: Sizes, light: LightKind) -> Iterator[dict[str, str]]:
    corner, kind = feed_words(sizes), feed_kind(sizes)
    yield {"label": "Strip", "value": f"{printable(light.name)} ({named(light.id)})"}
    yield {
        "label": "Lit length",
        "value": f"{sizes.text('strip.length')}, {sizes.text('strip.segments')} segments of {sizes.text('strip.segment')}",
    }
    yield {"label": "Feed", "value": f"{corner.replace('-', ' ')} corner as the viewer sees it, {kind.replace('-', ' ')}".lstrip(", ")}
    yield {"label": "Corners", "value": "Cut at a mark and linked with wire; never bent"}


def _supply_facts(sizes: Sizes, light: LightKind) -> Iterator[dict[str, str]]:
    power = power_w(sizes, light)
    least = supply_rating_w(power_w=power)
    plan = wiring_plan(sizes.design)
    supply, number = (plan.supply, len(plan.circuits)) if plan is not None else (None, 1)
    share = decimal_text(100 * HEADROOM, 0)
    length = f"{decimal_text(sizes['strip.length'] / 1000, 3)} m × {decimal_text(light.power, 2)} W/m"
    yield {
        "label": "Power",
        "value": f"{length} = {decimal_text(power, 1)} W, {decimal_text(power / light.voltage, 2)} A at {decimal_text(light.voltage, 1)} V",
    }
    yield {"label": "Supply, least", "value": f"{decimal_text(least, 1)} W: loaded to {share} % at most (common practice for lasting load)"}
    found = (
        f"{f'{number} x ' if number > 1 else ''}{printable(supply.name)}, {decimal_text(supply.power, 0)} W ({named(supply.id)})"
        if supply
        else "none in the workshop is large enough"
    )
    yield {"label": "Supply, chosen", "value": found}


def _leads(sizes: Sizes, plan: WiringPlan | None) -> Iterator[dict[str, str]]:
    """How long a lead of each gauge may be that feeds the largest circuit, and what it may carry at most."""
    if plan is None:
        return
    current = max(circuit.current_a for circuit in plan.circuits)
    for gauge in GAUGES:
        run = longest_run_mm(supply_v=plan.light.voltage, share=DROP, current_a=current, ohm_per_km=table8_ohm_per_km(gauge=gauge))
        yield {"gauge": f"{gauge} AWG", "run": _lead_text(sizes, run), "limit": f"{decimal_text(lead_limit_a(gauge), 0)} A"}


def _lead_text(sizes: Sizes, run_mm: float) -> str:
    if sizes.design.facts.job.units is Units.INCH:
        return f"{decimal_text(run_mm / MM_PER_FOOT, 1)} ft"
    return f"{decimal_text(run_mm / 1000, 1)} m"
