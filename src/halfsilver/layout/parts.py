"""Bodies of a design: sizes, masses from real volumes, and where their centres are.

Axes: origin at the centre of the outside on the front face, x to the viewer's right, y up, z towards the viewer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from halfsilver.geometry.profile import Profile, mitred_stick_centroid_x_mm, mitred_stick_centroid_z_mm, mitred_stick_volume_mm3
from halfsilver.layout.facts import Facts
from halfsilver.layout.seat import ACROSS, SIDES
from halfsilver.model.design import Part
from halfsilver.model.workshop import GlassKind, Hardware, Moulding

Values = Mapping[str, float]
KG_PER_MM3 = 1e-9
LEAST_PACKING_MM = 5.0  # thinner is foam alone: common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class _Body:
    """One body: mass [kg] and centre of mass [mm]."""

    mass_kg: float
    at_mm: tuple[float, float, float]


def together(bodies: Iterable[_Body]) -> _Body:
    """Mass and centre of several bodies."""
    known = tuple(bodies)
    mass = sum(body.mass_kg for body in known)
    share = [body.mass_kg / mass if mass else 1 / len(known) for body in known]
    x, y, z = (sum(s * body.at_mm[axis] for s, body in zip(share, known, strict=True)) for axis in range(3))
    return _Body(mass_kg=mass, at_mm=(x, y, z))


def _part(part_id: str, name: str, material: str, size_mm: tuple[float, ...], bodies: Iterable[_Body]) -> Part:
    known = tuple(bodies)
    whole = together(known)
    return Part(
        id=part_id,
        name=name,
        material=material,
        size_mm=size_mm,
        mass_kg=whole.mass_kg / len(known),
        at_mm=whole.at_mm,
        quantity=len(known),
    )


def frame_parts(
    facts: Facts, values: Values, *, which: str, moulding: Moulding, profile: Profile, face_mm: float, seat: bool
) -> Iterator[Part]:
    """The four mitred sticks of one frame, in two lengths.

    Parameters
    ----------
    facts, values
        The job looked up, and the resolved ledger.
    which : str
        ``front`` or ``rear``.
    moulding, profile
        What it is made of, and its section as it stands (planed).
    face_mm : float
        Depth of its (planed) face behind the front face of the piece. [mm]
    seat : bool
        Whether the relief pockets are in this frame.
    """
    wide, high = values["outside.width"], values["outside.height"]
    sticks = {side: _stick(facts, values, side, moulding, profile, face_mm, wide, high, pockets=seat) for side in SIDES}
    across, upright = ("long", "short") if wide >= high else ("short", "long")
    section = (profile.face_mm, profile.depth_mm - profile.planed_mm)
    for length, long_point, sides in ((across, wide, ("top", "bottom")), (upright, high, ("left", "right"))):
        yield _part(
            f"{which}-stick-{length}",
            f"{which} frame, {length} stick, mitred 45 degrees both ends",
            moulding.id,
            (long_point, *section),
            (sticks[side] for side in sides),
        )


def _stick(
    facts: Facts,
    values: Values,
    side: str,
    moulding: Moulding,
    profile: Profile,
    face_mm: float,
    wide: float,
    high: float,
    *,
    pockets: bool,
) -> _Body:
    long_point = wide if ACROSS[side] == "height" else high
    inset = mitred_stick_centroid_x_mm(profile, long_point_mm=long_point)
    z = -(face_mm + mitred_stick_centroid_z_mm(profile, long_point_mm=long_point) - profile.planed_mm)
    at = {
        "left": (inset - wide / 2, 0.0, z),
        "right": (wide / 2 - inset, 0.0, z),
        "bottom": (0.0, inset - high / 2, z),
        "top": (0.0, high / 2 - inset, z),
    }
    whole = _Body(mass_kg=mitred_stick_volume_mm3(profile, long_point_mm=long_point) * moulding.density * KG_PER_MM3, at_mm=at[side])
    if not pockets:
        return whole
    return together(
        [
            whole,
            *(
                _pocket(facts, values, part.id, side, moulding, profile, face_mm, wide, high)
                for part in facts.screen.screen.sticks_out
                if part.side.value == side
            ),
        ]
    )


def _pocket(
    facts: Facts, values: Values, part_id: str, side: str, moulding: Moulding, profile: Profile, face_mm: float, wide: float, high: float
) -> _Body:
    """A relief pocket as a body of negative mass."""
    name = f"relief.{part_id}"
    into, along, deep = max(values[f"{name}.into_wall"], 0.0), values[f"{name}.width"], values[f"{name}.height"]
    inset = profile.body_mm - into / 2
    place = values[f"{name}.at"] + along / 2
    z = -(face_mm + profile.depth_mm - profile.planed_mm - deep / 2)
    at = {
        "left": (inset - wide / 2, high / 2 - place, z),
        "right": (wide / 2 - inset, high / 2 - place, z),
        "bottom": (place - wide / 2, inset - high / 2, z),
        "top": (place - wide / 2, high / 2 - inset, z),
    }
    return _Body(mass_kg=-into * along * deep * moulding.density * KG_PER_MM3, at_mm=at[side])


def pane_part(values: Values, *, which: str, glass: GlassKind, front_mm: float) -> Part:
    """One pane; ``front_mm`` is the depth of its front. [mm]"""
    size = (values[f"{which}.glass.width"], values[f"{which}.glass.height"], glass.thickness)
    mass = size[0] * size[1] * size[2] * glass.density * KG_PER_MM3
    return _part(
        f"{which}-glass", f"{which} glass", glass.id, size, [_Body(mass_kg=mass, at_mm=(0.0, 0.0, -(front_mm + glass.thickness / 2)))]
    )


def batten_parts(facts: Facts, values: Values) -> Iterator[Part]:
    """The two pairs of battens."""
    stock = facts.workshop.stock.get(facts.job.battens.stock or facts.habits.batten)
    density = stock.density if stock else 500.0
    material = stock.id if stock else "batten"
    wide, high = values["front.rebate.width"], values["front.rebate.height"]
    width, depth = values["batten.width"], values["batten.depth"]
    z = -(values["depth.batten"] + depth / 2)
    across, upright = ("long", "short") if wide >= high else ("short", "long")
    for length, level in ((across, True), (upright, False)):
        off = (high if level else wide) / 2 - width / 2
        at = {"top": (0.0, off, z), "bottom": (0.0, -off, z)} if level else {"right": (off, 0.0, z), "left": (-off, 0.0, z)}
        sizes = {place: values.get(f"batten.{length}.{place}", values[f"batten.{length}"]) for place in at}
        alike = len(set(sizes.values())) == 1
        for places in [tuple(at)] if alike else [(place,) for place in at]:
            size, where = sizes[places[0]], "" if alike else places[0]
            mass = size * width * depth * density * KG_PER_MM3
            yield _part(
                f"batten-{length}-{where}" if where else f"batten-{length}",
                f"{length} batten, {where}" if where else f"{length} batten",
                material,
                (size, width, depth),
                (_Body(mass_kg=mass, at_mm=at[place]) for place in places),
            )


def strip_part(facts: Facts, values: Values) -> Part:
    """The strip of lights, all round."""
    light = facts.light
    mass = values["strip.length"] / 1000 * light.density
    z = -(values["depth.batten"] + values["batten.depth"] / 2)
    return _part(
        "strip",
        "strip of lights",
        light.id,
        (values["strip.length"], light.width, light.thickness),
        [_Body(mass_kg=mass, at_mm=(0.0, 0.0, z))],
    )


def spacer_frame_parts(facts: Facts, values: Values) -> Iterator[Part]:
    """The frame between the two frames, flush with the battens, where there is one."""
    depth = values["spacer_frame"]
    if depth <= 0:
        return
    width = values["front.moulding.body"] + values["batten.width"]
    wide, high = values["outside.width"], values["outside.height"]
    z = -(values["depth.joint"] + facts.habits.glue_line + depth / 2)
    longer, shorter = max(wide, high), min(wide, high)
    for length, long_point in (("long", longer), ("short", shorter)):
        level = (length == "long") == (wide >= high)
        area = width * (long_point - width)
        off = (high if level else wide) / 2 - width * (long_point / 2 - 2 * width / 3) / (long_point - width)
        centres = ((0.0, off, z), (0.0, -off, z)) if level else ((off, 0.0, z), (-off, 0.0, z))
        mass = area * depth * facts.front_moulding.density * KG_PER_MM3
        yield _part(
            f"spacer-frame-{length}",
            f"frame between the frames, {length} stick, mitred",
            facts.front_moulding.timber,
            (long_point, width, depth),
            (_Body(mass_kg=mass, at_mm=at) for at in centres),
        )


def lit_bodies(facts: Facts, values: Values, *, seat: bool) -> Iterator[Part]:
    """Frames, panes, battens and strip of a two-frame build; ``seat`` tells whether the rear frame takes in a screen."""
    rear = facts.rear_profile.planed(facts.planed_mm)
    yield from frame_parts(
        facts, values, which="front", moulding=facts.front_moulding, profile=facts.front_profile, face_mm=0.0, seat=False
    )
    yield from frame_parts(
        facts, values, which="rear", moulding=facts.rear_moulding, profile=rear, face_mm=values["depth.rear_lip"], seat=seat
    )
    yield from spacer_frame_parts(facts, values)
    yield pane_part(values, which="front", glass=facts.front_glass, front_mm=values["depth.front_glass"])
    yield from batten_parts(facts, values)
    yield strip_part(facts, values)
    yield pane_part(values, which="rear", glass=facts.rear_glass, front_mm=values["depth.rear_glass"])


def screen_part(facts: Facts, values: Values) -> Part:
    """The screen in its seat."""
    screen = facts.screen
    size = (screen.width_mm, screen.height_mm, screen.depth_mm)
    at = _screen_centre(values, size[2])
    return _part("screen", "screen", "as supplied", size, [_Body(mass_kg=screen.mass_kg, at_mm=at)])


def _screen_centre(values: Values, depth_mm: float) -> tuple[float, float, float]:
    x = values["screen.offset.left"] + values["screen.outline.width"] / 2 - values["outside.width"] / 2
    y = values["screen.offset.bottom"] + values["screen.outline.height"] / 2 - values["outside.height"] / 2
    return x, y, -(values["depth.picture"] + depth_mm / 2)


def retainer_parts(facts: Facts, values: Values, *, bars: bool = True) -> Iterator[Part]:
    """Plates over the mitres; stepped bars on both sides and the top, none at the bottom."""
    plate, bar = facts.plate, facts.bar
    wide, high, back = values["outside.width"] / 2, values["outside.height"] / 2, values["depth.back"]
    mass = plate.thickness * plate.width * (2 * plate.leg - plate.width) * plate.density * KG_PER_MM3
    off = plate.inset + _plate_centre(plate)
    corners = [(sx * (wide - off), sy * (high - off), -(back + plate.thickness / 2)) for sx in (-1, 1) for sy in (-1, 1)]
    yield _part(
        "plate", "corner plate", plate.id, (plate.leg, plate.width, plate.thickness), (_Body(mass_kg=mass, at_mm=at) for at in corners)
    )
    if not bars:
        return
    reach = values["screen.offset.left"] / 2
    z = -(back + max(values["bar.step"], 0.0) / 2 + bar.thickness / 2)
    for name, centres in (("side", ((reach - wide, 0.0, z), (wide - reach, 0.0, z))), ("top", ((0.0, high - reach, z),))):
        length = values[f"bar.{name}"]
        if length <= 0:
            continue
        mass = length * bar.width * bar.thickness * bar.density * KG_PER_MM3
        yield _part(
            f"bar-{name}",
            f"stepped bar, {name}",
            bar.id,
            (length, bar.width, bar.thickness),
            (_Body(mass_kg=mass, at_mm=at) for at in centres),
        )


def _plate_centre(plate: Hardware) -> float:
    """Centroid of an L of two legs from its outside corner, along either leg. [mm]"""
    leg, width = plate.leg, plate.width
    first, second = leg * width, (leg - width) * width
    return (first * leg / 2 + second * width / 2) / (first + second)


def panel_part(facts: Facts, values: Values) -> Part:
    """The panel that closes the back of a lit mirror."""
    size = (values["panel.width"], values["panel.height"], values["panel.thickness"])
    mass = size[0] * size[1] * size[2] * facts.habits.backing_density * KG_PER_MM3
    z = -(values["depth.back"] + size[2] / 2)
    return _part("back-panel", "back panel, screwed to the rear frame", "backing board", size, [_Body(mass_kg=mass, at_mm=(0.0, 0.0, z))])


def packing_parts(facts: Facts, values: Values) -> Iterator[Part]:
    """The strips that hold the mirror against its lip, foam on their face; none where foam alone fills the place."""
    depth = values["packing"] - facts.habits.pad
    if depth < LEAST_PACKING_MM:
        return
    stock = facts.workshop.stock.get(facts.job.battens.stock or facts.habits.batten)
    density, material = (stock.density, stock.id) if stock else (500.0, "batten")
    width, wide, high = values["batten.width"], values["rear.rebate.width"], values["rear.rebate.height"]
    z = -(values["depth.back"] - depth / 2)
    longer, shorter = max(wide, high), min(wide, high) - 2 * width
    for length, size in (("long", longer), ("short", shorter)):
        level = (length == "long") == (wide >= high)
        off = (high if level else wide) / 2 - width / 2
        centres = ((0.0, off, z), (0.0, -off, z)) if level else ((off, 0.0, z), (-off, 0.0, z))
        mass = size * width * depth * density * KG_PER_MM3
        bodies = (_Body(mass_kg=mass, at_mm=at) for at in centres)
        yield _part(f"packing-{length}", f"{length} packing strip behind the mirror", material, (size, width, depth), bodies)


def has_backing(values: Values) -> bool:
    """Whether anything is left of the backing round the screen."""
    return any(values[f"backing.{d}"] < values[f"backing.outside.{d}"] - 1e-6 for d in ("width", "height"))


def backing_parts(facts: Facts, values: Values) -> Iterator[Part]:
    """The opaque backing of a hidden screen, with the cut-out that takes the screen; none where the screen fills the rebate."""
    if not has_backing(values):
        return
    wide, high = values["backing.outside.width"], values["backing.outside.height"]
    hole = values["backing.width"] * values["backing.height"]
    thickness = facts.habits.backing
    z = -(values["depth.front_glass"] + values["front.glass.thickness"] + thickness / 2)
    density = facts.habits.backing_density * thickness * KG_PER_MM3
    x, y, _ = _screen_centre(values, 0.0)
    sheet = together([_Body(mass_kg=wide * high * density, at_mm=(0.0, 0.0, z)), _Body(mass_kg=-hole * density, at_mm=(x, y, z))])
    yield _part("backing", "opaque backing with the screen's cut-out", "backing board", (wide, high, thickness), [sheet])
