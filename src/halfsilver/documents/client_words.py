"""What a client is told, in plain words: what it is, what to provide, what to mind, how to look after it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

from halfsilver.documents.lights_sheet import fitting_supply
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.summary import mass_text
from halfsilver.documents.words import printable, shortened
from halfsilver.making.scope import has, trade_of
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import CarriedBy, Construction, MountingKind, Scope, Units
from halfsilver.model.making import Trade
from halfsilver.model.workshop import GlassMake
from halfsilver.units.rounding import decimal_text, nearest

WHAT = {
    Construction.LIT_SCREEN: (
        "Your screen behind two sheets of part-mirror glass, in one frame. A line of light runs round the space between the sheets and"
        " repeats into the distance, while the screen's picture shows through. Switched off, it is a dark mirror."
    ),
    Construction.HIDDEN_SCREEN: (
        "A framed mirror with your screen behind it. Switched on, the picture shows through the glass; switched off, the screen is hidden"
        " and a mirror is left."
    ),
    Construction.LIT_MIRROR: (
        "A framed mirror with a second, part-mirror sheet before it. A line of light runs round the space between them and repeats into"
        " the distance."
    ),
}
ONLY = {
    Scope.COMPLETE: "",
    Scope.FRAME_ONLY: "We make the frame for it; glass, lights and screen come from others.",
    Scope.GLASS_ONLY: "We supply the glass for it, cut or ordered to size; frame, lights and screen come from others.",
    Scope.KIT: "It comes as a kit of finished parts, to be put together by you or by others.",
}
HELD = {
    MountingKind.HUNG: "It hangs on the wall.",
    MountingKind.RECESSED: "It goes into a recess in the wall.",
    MountingKind.STANDING: "It stands by itself, fixed against tipping.",
}
SHOP_ONLY = ("fit.", "frame.", "cutting.", "timber.clearance", "timber.glue", "assumed.entry")
GLASS_SAID = (
    "Which glass a place calls for depends on height, size and who passes by: the local authority decides. Tell us what it asks for."
)
PLAIN: Mapping[str, str] = {
    "glazing.": GLASS_SAID,
    "access.": "It stands out from the wall where people pass. Have an accessibility adviser or the local authority look at its place.",
    "access.headroom": "People walk below it: it hangs higher, or the place under it is kept free. The local authority decides.",
    "access.reach": "Its switch has to be within reach of everybody: agree with us on where it sits.",
    "mass.": "",
    "sight.": "",
    "screen.": "What is known of your screen does not agree in every number. We measure the screen itself before anything is cut.",
    "assumed.screen": "Some of the screen's numbers are assumed. We measure the screen itself before anything is cut.",
    "assumed.walking": "We do not know yet how near people walk past the glass. Tell us: the choice of glass can depend on it.",
    "heat.": "Screen and lights give off heat. The openings behind and around the piece must stay clear.",
    "wiring.": "The lights need their own low-voltage supply within reach; where it sits is agreed with you.",
    "elec.": "The lights need their own low-voltage supply within reach; where it sits is agreed with you.",
    "timber.": (
        "Timber moves with the seasons: a hairline may show at the corners in very damp or very dry air. Steady air keeps them closed."
    ),
    "mount.": "The wall and the fixings have to carry the piece for years: a competent installer chooses and proves them.",
    "lift.": "Lifting it takes several people and a plan.",
    "glass.": "The glass is looked at with its supplier once more before it is ordered.",
    "view.glare": "Seen from near by, the line of light is bright. It can be dimmed: agree on how much before a sample.",
    "view.": "Where people stand and look was looked at; tell us when that changes.",
    "place.walk_into": "Its glass begins low: mark it, or put something before it, so that nobody takes it for a way through.",
    "carriage.": "",
    "appearance.room_contrast": (
        "In a bright room the picture looks pale, because the glass also mirrors the room. Less light before the glass helps most."
    ),
    "appearance.echo": (
        "The two sheets mirror each other: from the side, a fainter second picture stands beside the first. Fine print shows it most;"
        " from straight ahead it lies on the picture. Large shapes on a dark ground suit the piece best."
    ),
    "appearance.hidden_screen": "Switched off, the dark screen can still be made out behind the glass when one looks for it.",
    "appearance.visible_images": "In this light fewer repeats of the lights are seen than the glass could show. A darker room shows more.",
    "appearance.remote_control": "A remote control may not work through the glass: we try yours with a sample.",
    "appearance.light_sensor": "The screen cannot sense the room's light through the glass: its brightness is set by hand.",
    "damp.by_water": (
        "It is close to water. Whether anything electrical may be there, and how it is protected, a licensed electrician has to say first."
    ),
    "damp.wet_room": (
        "The room is wet for weeks. Whether anything electrical may be there, and how it is protected, is for a licensed electrician to say"
        " first."
    ),
    "damp.mould": "The wall behind it is cold: leave it some air from below, and have the wall looked at, or mould may grow behind it.",
    "damp.": (
        "In damp air, or carried from cold into warmth, glass can mist inside. Let it come to room temperature before it is switched on."
    ),
}
MOST_VIEWERS = 3
VIEWER_MM, VIEWER_CAPITAL_MM = 38.0, 2.18
SETTLED = "One size is still to be settled in the workshop. Nothing is cut before that, and you hear from us if it changes anything here."


def describing(sizes: Sizes) -> str:
    """What the piece is, and how much of it is made here."""
    job = sizes.design.facts.job
    told = (WHAT.get(job.construction, "A framed display of glass, light and picture."), HELD[job.mounting.kind], ONLY[job.scope])
    number = f"The offer is for {job.quantity} pieces of the same kind." if job.quantity > 1 else ""
    return " ".join(words for words in (*told, number) if words)


def key_numbers(sizes: Sizes) -> list[dict[str, str]]:
    """Numbers that a client asks for."""
    design, job = sizes.design, sizes.design.facts.job
    rows = [("Visible glass", sizes.by("front.sight.width", "front.sight.height"))]
    if "screen.picture.width" in sizes:
        rows.append(("Picture", sizes.by("screen.picture.width", "screen.picture.height")))
    viewers = sorted((v.id for v in job.viewers if f"seen.{v.id}" in sizes), key=lambda who: sizes[f"seen.{who}"])[:MOST_VIEWERS]
    rows += [(shortened(f"Picture seen, {who}", room_mm=VIEWER_MM, size_mm=VIEWER_CAPITAL_MM), _seen(sizes, who)) for who in viewers]
    if job.mounting.centre_height is not None:
        rows.append(("Centre above floor", sizes.show(job.mounting.centre_height, "mm")))
    if "gap" in sizes and has(design, Trade.GLASS):
        rows.append(("Between the sheets", sizes.text("gap")))
    if job.lights is not None and "strip.length" in sizes and has(design, Trade.LIGHTS):
        colour = f", {decimal_text(job.lights.colour, 0)} K" if job.lights.colour else ""
        rows.append(("Light", f"{about(sizes, sizes['strip.length'])}{colour}"))
    if job.frame.front.finish and has(design, Trade.FRAME):
        rows.append(("Frame, finish", printable(job.frame.front.finish)[:60]))
    return [{"label": label, "value": value} for label, value in rows]


def _seen(sizes: Sizes, who: str) -> str:
    return f"{sizes.text(f'seen.{who}')} at {about(sizes, sizes[f'viewer.{who}.distance'])}"


def about(sizes: Sizes, length_mm: float) -> str:
    """A length that nobody builds to: whole inches, or whole centimetres."""
    step = 25.4 if sizes.design.facts.job.units is Units.INCH else 10.0
    return f"about {sizes.show(nearest(length_mm, step), 'mm')}"


def tiles(sizes: Sizes) -> list[dict[str, str]]:
    """The three numbers set large."""
    if sizes.design.facts.job.scope is Scope.GLASS_ONLY:
        return _pane_tiles(sizes)
    whole = "Weight" if sizes.design.facts.job.scope is Scope.COMPLETE else "Weight, complete"
    depth = "Depth" if sizes.design.facts.job.mounting.kind is not MountingKind.HUNG else "Depth from the wall"
    return [
        {"label": "Size, outside", "value": sizes.by("outside.width", "outside.height")},
        {"label": depth, "value": sizes.text("outside.depth")},
        {"label": whole, "value": mass_text(sizes, sizes.design.mass_kg)},
    ]


def _pane_tiles(sizes: Sizes) -> list[dict[str, str]]:
    panes = [which for which in ("front", "rear") if f"{which}.glass.width" in sizes]
    heads = {"front": "Front pane", "rear": "Rear pane"} if len(panes) > 1 else {"front": "Pane"}
    mass = sum(part.mass_kg * part.quantity for part in sizes.design.parts if trade_of(part) is Trade.GLASS)
    rows = [(heads[which], sizes.by(f"{which}.glass.width", f"{which}.glass.height")) for which in panes]
    return [{"label": label, "value": value} for label, value in (*rows, ("Weight of the glass", mass_text(sizes, mass)))]


def provided(sizes: Sizes) -> list[str]:
    """What the client has to have ready."""
    return list(_provided(sizes))


def _provided(sizes: Sizes) -> Iterator[str]:
    design, job = sizes.design, sizes.design.facts.job
    if "screen.outline.width" in sizes:
        outline = sizes.by(*(f"screen.outline.{d}" for d in ("width", "height", "depth")))
        yield f"The screen itself, at hand before we cut: outline {outline}."
    if job.scope is Scope.GLASS_ONLY:
        yield "The finished frame, or its openings measured at three places in both directions."
    if job.scope in (Scope.COMPLETE, Scope.KIT):
        yield f"A mains outlet{_load(sizes)} behind the piece or near it, put in by a licensed electrician, with a switch within reach."
    if job.scope is not Scope.GLASS_ONLY:
        yield from _wall(sizes)
        biggest = sizes.by("outside.width", "outside.height", "outside.depth")
        yield f"Access: doors, stairs and lift that let a crate pass which is larger than {biggest}; room to set it down."
    if design.mass_kg > 23 and job.scope in (Scope.COMPLETE, Scope.KIT):
        yield f"People to lift it on the day: {ceil(design.mass_kg / 23)} at least, upright, without hurry."


def _load(sizes: Sizes) -> str:
    """What the outlet has to feed."""
    screen = sizes.design.facts.screen.screen if "screen.outline.width" in sizes else None
    power = screen.power.maximum if screen is not None and screen.power is not None else None
    supply = None
    if "strip.path" in sizes and has(sizes.design, Trade.LIGHTS):
        supply = fitting_supply(sizes)
    parts = [f"{decimal_text(power, 0)} W for the screen"] if power else []
    parts += [f"{decimal_text(supply.power / supply.efficiency, 0)} W for the lights"] if supply else []
    return f" ({' and '.join(parts)})" if parts else ""


def _wall(sizes: Sizes) -> Iterator[str]:
    mounting, mass = sizes.design.facts.job.mounting, mass_text(sizes, sizes.design.mass_kg)
    if mounting.kind is MountingKind.RECESSED:
        recess = ", ".join(f"{d} {sizes.text(f'recess.{d}')}" for d in ("width", "height", "depth") if f"recess.{d}" in sizes)
        size = f": {recess}" if recess else ""
        yield f"The finished recess, plumb and dry{size}. We measure it before the frame is made."
    elif mounting.kind is MountingKind.STANDING:
        yield f"A level floor that carries {mass}, and something behind it to fix it to."
    else:
        yield f"A wall that carries {mass} for years; a competent installer chooses the fixings and proves the wall."
    if mounting.carried_by is CarriedBy.SCREEN_MOUNT:
        yield f"A wall mount for the screen that also carries frame and glass: {mass} in all."


def to_settle(findings: Sequence[Finding]) -> list[str]:
    """What has to be settled before work begins, in plain words."""
    stops = (finding for finding in findings if finding.severity is Severity.STOP)
    return _once(SETTLED if finding.rule.startswith(SHOP_ONLY) else (_said(finding) or printable(finding.advice)) for finding in stops)


def to_mind(sizes: Sizes, findings: Sequence[Finding]) -> list[dict[str, str]]:
    """Cautions in plain words: glass, weight, mains and vents always; then what the checks found."""
    told = dict(_always(sizes))
    found = (finding for finding in findings if finding.severity is Severity.CAUTION and not finding.rule.startswith(SHOP_ONLY))
    more = [said for said in _once(_said(finding) for finding in found) if said and said not in told["Glass"]]
    rows = [{"head": head, "text": text} for head, text in told.items()]
    return rows + ([{"head": "For this place", "text": " ".join(more)}] if more else [])


def _said(finding: Finding) -> str:
    """A finding in plain words; its own where none are kept; nothing where a standing caution says it already."""
    known = [start for start in PLAIN if finding.rule.startswith(start)]
    return PLAIN[max(known, key=len)] if known else printable(finding.advice)


def _once(lines: Iterator[str]) -> list[str]:
    return [line for line in dict.fromkeys(lines) if line]


def _always(sizes: Sizes) -> Iterator[tuple[str, str]]:
    design, job = sizes.design, sizes.design.facts.job
    makes = {design.facts.front_glass.make} | ({design.facts.rear_glass.make} if "rear.glass.width" in sizes else set())
    plain = GlassMake.FLOAT in makes
    breaks = " It breaks into sharp pieces: keep away from it and call us." if plain else " Should it break, keep away and call us."
    if not has(design, Trade.GLASS):
        breaks = ""
    yield "Glass", f"{GLASS_SAID} Nothing leans or hangs on the glass.{breaks}"
    lifted = "It is lifted upright by several people, and never by the glass. A competent installer hangs it."
    yield "Weight", f"Complete it weighs {mass_text(sizes, design.mass_kg)}. {lifted}"
    if job.scope in (Scope.COMPLETE, Scope.KIT):
        yield "Mains", "Outlets, switches and everything in the wall are the work of a licensed electrician; local codes decide."
    if "screen.outline.width" in sizes:
        yield "Air", "The screen breathes through its vents and the openings behind the frame. Nothing is put in front of them or on top."
        yield "The rim", _rim(sizes)


def _rim(sizes: Sizes) -> str:
    share = max((1 - sizes[f"seen.{v.id}"] for v in sizes.design.facts.job.viewers if f"seen.{v.id}" in sizes), default=0.0)
    if share <= 0.0005:
        return "From the places you named the whole picture is seen; from further aside the frame begins to cover its edge."
    return (
        f"A narrow rim of the picture lies behind the frame: up to {decimal_text(100 * share, 1)} % from the places you named, more from"
        " further aside. Keep titles and logos away from the edge."
    )


def care(sizes: Sizes) -> list[str]:
    """How to look after it, for what is delivered."""
    told = []
    if has(sizes.design, Trade.GLASS):
        told.append(
            "Wipe the front with a soft cloth, a little water on the cloth and none on the glass. No scouring, no ammonia, no spray."
        )
        told.append("The coated faces lie inside. Do not open the case to clean them: a dry cloth scratches the coating.")
    if has(sizes.design, Trade.FRAME):
        told.append("Dust the frame dry. Timber moves with damp: keep it from radiators, open windows and new plaster.")
    if has(sizes.design, Trade.LIGHTS):
        told.append("The lights fade slowly over years and can be dimmed to last longer. A dark side or a flicker: switch off and call us.")
    if "screen.outline.width" in sizes:
        told.append("Once a year, with the power off, take the dust from the openings at the back with a brush.")
    told.append("Look at the fixings once a year. A piece that has moved is taken down before anything else.")
    return told
