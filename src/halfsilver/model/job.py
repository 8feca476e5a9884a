"""The job: what was asked and chosen for one piece, as a person wrote it.

Every field mirrors a key of the job file. ``None`` means the key is absent and the workshop's habit applies; ``auto`` means that layout
decides and gives its reason. Lengths are millimetres, angles degrees, shares 0 to 1. Left, right, top and bottom are the viewer's.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Annotated, Any

from halfsilver.model.quantities import (
    Angle,
    Area,
    Auto,
    ColourTemperature,
    Distance,
    Flow,
    Fraction,
    HalfAngle,
    Humidity,
    Illuminance,
    Length,
    Luminance,
    Mass,
    Percent,
    PositiveLength,
    Power,
    Quantity,
    Share,
    SignedLength,
    Temperature,
)

if TYPE_CHECKING:
    from halfsilver.model.edid import Edid
else:
    Edid = Any  # few jobs name a block; making its classes would cost every start


def told(doc: str, *, key: str | None = None, **default: Any) -> Any:
    """A dataclass field with its sentence for the docs and, where it differs, its key in the file."""
    metadata = {"doc": doc} if key is None else {"doc": doc, "key": key}
    return field(metadata=metadata, **default)


class Units(Enum):
    """How lengths are shown."""

    INCH = "in"
    MILLIMETRE = "mm"


class Construction(Enum):
    """What kind of piece it is."""

    LIT_SCREEN = "lit-screen"
    LIT_MIRROR = "lit-mirror"
    HIDDEN_SCREEN = "hidden-screen"
    ANGLED_STAGE = "angled-stage"
    FACETED_STAGE = "faceted-stage"


class Scope(Enum):
    """How much of the piece the shop delivers."""

    COMPLETE = "complete"
    FRAME_ONLY = "frame-only"
    GLASS_ONLY = "glass-only"
    KIT = "kit"


class MountingKind(Enum):
    """How the piece is held in its place."""

    HUNG = "hung"
    RECESSED = "recessed"
    STANDING = "standing"


class CarriedBy(Enum):
    """The load path: the frame carries the screen, or the screen's own mount carries frame and glass."""

    FRAME = "frame"
    SCREEN_MOUNT = "screen-mount"


class Ground(Enum):
    """What the fixings go into."""

    STUD = "stud"
    MASONRY = "masonry"
    BOARD = "board"
    FLOOR = "floor"
    UNKNOWN = "unknown"


class Orientation(Enum):
    """Which way the screen is turned."""

    LANDSCAPE = "landscape"
    PORTRAIT = "portrait"


class Side(Enum):
    """A side of the piece as the viewer sees it."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


class Vent(Enum):
    """Where the screen lets its warm air out."""

    BACK = "back"
    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


class CoatedSide(Enum):
    """Which way the coated face of a sheet looks."""

    CAVITY = "cavity"
    VIEWER = "viewer"
    SCREEN = "screen"


class PolarisationWord(Enum):
    """What is known of the screen's polarisation when no angle is given."""

    NONE = "none"
    UNKNOWN = "unknown"


class SizeOf(Enum):
    """Which size an asked size fixes."""

    OUTSIDE = "outside"
    SIGHT = "sight"
    SHEET = "sheet"


class Through(Enum):
    """Which pair of battens runs through; the other fits between."""

    LONG = "long"
    SHORT = "short"


class Corner(Enum):
    """Where the strip is fed, as the viewer sees it."""

    TOP_LEFT = "top-left"
    TOP_RIGHT = "top-right"
    BOTTOM_LEFT = "bottom-left"
    BOTTOM_RIGHT = "bottom-right"


class FeedPoints(Enum):
    """How the strip is fed."""

    ONE_END = "one-end"
    BOTH_ENDS = "both-ends"
    OPPOSITE_CORNERS = "opposite-corners"
    EACH_SIDE = "each-side"


class SupplyPlace(Enum):
    """Where the supply of the lights is: its losses warm the case or do not."""

    CASE = "case"
    OUTSIDE = "outside"


class Visit(Enum):
    """Who comes near the piece: decides which access rules are held against it."""

    PUBLIC = "public"
    HOME = "home"


class RecessCarries(Enum):
    """What carries a piece in its recess."""

    SILL = "sill"
    FIXINGS = "fixings"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """The hole in the wall that takes the whole piece."""

    width: PositiveLength = told("clear width of the recess")
    height: PositiveLength = told("clear height of the recess")
    depth: PositiveLength = told("clear depth of the recess")
    carries: RecessCarries | None = told("what carries the piece: the sill it stands on, or fixings", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixings:
    """What holds the piece to its wall. Absent values are assumed, and printed as assumed."""

    count: Annotated[int, Quantity("count", least=1, most=100)] | None = told(
        "fixings along the top; absent: the studs that surely lie behind it, in another ground 2", default=None
    )
    rated: Mass | None = told("load that one fixing may carry in this ground, as its maker prints it", default=None)
    screw: Annotated[int, Quantity("count", least=6, most=14)] | None = told("number of the wood screw in a stud; absent: 10", default=None)
    length: PositiveLength | None = told("length of that screw; absent: 3 in", default=None)
    below_top: Length | None = told("fixings below the upper edge of the outside; absent: 2 in", default=None)
    studs: PositiveLength | None = told("from one stud to the next; absent: 16 in", default=None)
    gravity: Annotated[float, Quantity("number", least=0.31, most=0.73)] | None = told(
        "assigned gravity of the studs; absent: 0.42, spruce-pine-fir", default=None
    )
    lining: Length | None = told("plasterboard between rail and stud; absent: 1/2 in", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The foot of a standing piece."""

    front: Length = told("how far the foot reaches out before the front face")
    back: Length = told("how far it reaches out behind the back")
    height: Length = told("height of the foot under the frame", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mounting:
    """Where the piece goes and what carries it."""

    kind: MountingKind = told("hung on a wall, recessed into it, or standing", default=MountingKind.HUNG)
    carried_by: CarriedBy = told("the frame carries the screen, or the screen's mount carries the frame", default=CarriedBy.FRAME)
    ground: Ground = told("what the fixings go into", default=Ground.UNKNOWN)
    centre_height: Length | None = told("height of the centre of the outside above the floor", default=None)
    recess: Recess | None = told("the recess, when the piece goes into one", default=None)
    fixings: Fixings = told("what holds it to the wall", default_factory=Fixings)
    mount_rated: Mass | None = told("load of the screen's own mount, when it carries the frame", default=None)
    base: Base | None = told("the foot, when the piece stands", default=None)
    tilt: HalfAngle = told("how far the face leans from upright", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """Width, height and depth of the screen's body."""

    width: PositiveLength = told("outline, left to right")
    height: PositiveLength = told("outline, bottom to top")
    depth: PositiveLength | None = told("front of the screen to the furthest point of its back", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Borders:
    """From the outline to the picture, per side."""

    left: Length
    right: Length
    top: Length
    bottom: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The lit area: its size and where its lower left corner lies in the outline."""

    width: PositiveLength
    height: PositiveLength
    left: Length = told("outline's left edge to the picture's left edge")
    bottom: Length = told("outline's lower edge to the picture's lower edge")


@dataclass(frozen=True, slots=True, kw_only=True)
class SticksOut:
    """Something that stands out of the screen's outline: a badge, a receiver, a foot."""

    id: str = told("short name, used in `relief.<id>`")
    side: Side = told("the side it is on")
    start: Length = told("where it begins along that side, from its left (top) end", key="from")
    end: Length = told("where it ends along that side", key="to")
    out: Length = told("how far it stands out beyond the outline")
    front: Length = told("depth of its front from the screen's front", default=0.0)
    back: Length | None = told("depth of its back from the screen's front; absent: the screen's depth", default=None)
    added: Length = told("what is put on it, such as a receiver", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerDraw:
    """Electrical power of the screen."""

    typical: Power | None = told("in use", default=None)
    maximum: Power | None = told("rated", default=None)
    inrush: Annotated[float, Quantity("current", least=0.0, most=500.0)] | None = told(
        "peak current at switching on; absent: it is not counted, and that is printed", default=None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenLuminance:
    """How bright the screen is; the kinds are kept apart because a self-emitting panel dims at full white."""

    peak: Luminance | None = told("a small white patch", default=None)
    full: Luminance | None = told("the whole picture white", default=None)
    content: Luminance | None = told("an average picture", default=None)
    black: Luminance | None = told("black with the backlight on", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenFace:
    """How the dark screen's face reflects."""

    diffuse: Fraction | None = told("diffuse reflectance", default=None)
    mirror: Fraction | None = told("specular reflectance", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cables:
    """Where the screen's cables leave."""

    side: Side = told("the side as the viewer sees it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """The flat screen, as measured or as its data sheet says. What stands here wins over the workshop's record."""

    start: str | None = told("id of a measured screen in the workshop", key="from", default=None)
    outline: Box | None = told("the screen's body", default=None)
    borders: Borders | None = told("outline to picture per side", default=None)
    picture: Picture | None = told("size and place of the picture, instead of borders", default=None)
    diagonal: PositiveLength | None = told("the picture's stated diagonal", default=None)
    aspect: Annotated[tuple[int, int], Quantity("aspect")] | None = told("width to height of the picture", default=None)
    orientation: Orientation | None = told("which way it is turned; sizes here are as hung", default=None)
    sticks_out: tuple[SticksOut, ...] = told("what stands out of the outline", default=())
    mass: Mass | None = told("mass without its stand", default=None)
    power: PowerDraw | None = told("electrical power", default=None)
    luminance: ScreenLuminance | None = told("how bright it is", default=None)
    face: ScreenFace | None = told("how its dark face reflects", default=None)
    polarisation: Angle | PolarisationWord | None = told("axis from the horizontal, or none, or unknown", default=None)
    vents: tuple[Vent, ...] | None = told("where its warm air leaves", default=None)
    cables: Cables | None = told("where its cables leave", default=None)
    holes: Annotated[tuple[float, float], Quantity("pattern")] | None = told("pattern of its mounting holes", default=None)
    highest_surrounding: Temperature | None = told("highest air temperature it may work in", default=None)
    edid: str | None = told("file with the screen's EDID block; a hint that never drives a cut", default=None)
    block: Edid | None = field(default=None, metadata={"doc": "what the file of `edid` says", "elsewhere": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """An asked size and what it is the size of."""

    of: SizeOf = told("outside of the frame, sight (visible opening) or sheet (the pane)")
    width: PositiveLength
    height: PositiveLength


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Where the picture sits in the sheet of a hidden screen, from the sheet's left and lower edge as the viewer sees it."""

    left: SignedLength | Auto = told("sheet's left edge to the picture; auto centres it in the sight", default=Auto.AUTO)
    bottom: SignedLength | Auto = told("sheet's lower edge to the picture; auto centres it in the sight", default=Auto.AUTO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The light and the air round the piece."""

    wall_light: Illuminance | None = told("illuminance on the piece's own wall", default=None)
    facing_light: Illuminance | None = told("illuminance on the wall opposite", default=None)
    facing_luminance: Luminance | None = told("luminance of what the glass mirrors", default=None)
    temperature: Temperature | None = told("air temperature", default=None)
    humidity: Humidity | None = told("relative humidity", default=None)
    warmest: Temperature | None = told("highest air temperature of the year while it runs; absent: 30 degC is assumed", default=None)
    driest: Humidity | None = told("lowest relative humidity that lasts for weeks; absent: 30 % is assumed", default=None)
    dampest: Humidity | None = told("highest relative humidity that lasts for weeks; absent: 60 % is assumed", default=None)
    wall: Temperature | None = told("temperature of the wall behind it on the coldest day", default=None)


class Reached(Enum):
    """How someone in a wheelchair comes to a control."""

    FORWARD = "forward"
    SIDE = "side"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachOver:
    """What stands before a control and has to be reached over: a counter, a bench, a plinth."""

    depth: Length = told("from its front edge to the control")
    height: Length = told("of its top above the floor", default=0.0)
    approach: Reached = told("forward, or side: along it", default=Reached.SIDE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Who passes by, and how near: what the access and glazing rules ask."""

    visitors: Visit = told("public, or home", default=Visit.PUBLIC)
    walking_within: Length | None = told("horizontal distance from the glass to where people walk", default=None)
    door_within: Length | None = told("from the glass to the nearest edge of a closed door, where there is one", default=None)
    water_within: Length | None = told("from the glass to the edge of a tub, shower or pool, where there is one", default=None)
    path_width: PositiveLength | None = told("clear width of the path without the piece", default=None)
    under: bool = told("people walk below it, as over a door, a stair or a path that leads out from its wall", default=False)
    controls: Length | None = told("height of switch or sensor above the floor", default=None)
    reach_over: ReachOver | None = told("what has to be reached over to it, where there is something", default=None)
    hours: Annotated[float, Quantity("duration", least=0.0, most=86_400.0)] | None = told(
        "how long it runs on a day; absent: 12 h are assumed", default=None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewer:
    """An eye: its distance from the front face, sideways from the centre (to the viewer's right), height above the floor."""

    id: str = told("short name, used in `hidden.<side>.<id>`")
    distance: Distance = told("from the front face")
    sideways: SignedLength = told("to the viewer's right of the centre", default=0.0)
    eye_height: Length | None = told("above the floor; absent: the centre of the piece", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """How much may be lost before layout looks for a cure."""

    hidden_share: Share | None = told("share of the picture that may be hidden", default=None)
    cone: HalfAngle | None = told("half angle from the normal inside which people look", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of glass and which way its coating looks."""

    kind: str = told("id in the catalogue of glass")
    coated_side: CoatedSide | None = told("cavity, viewer or screen; absent: the cavity (one sheet: the screen)", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass:
    """The sheets, front to back."""

    front: Sheet
    rear: Sheet | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourMix:
    """Settings of the diodes of a strip of three colours, 0 to 1; all at 1 give its white."""

    red: Fraction = told("setting of the red diodes", default=0.0)
    green: Fraction = told("setting of the green diodes", default=0.0)
    blue: Fraction = told("setting of the blue diodes", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lights:
    """The strip of lights round the space between the sheets."""

    kind: str = told("id in the catalogue of lights")
    colour: ColourTemperature | None = told("colour temperature of white light", default=None)
    mix: ColourMix | None = told("setting of each colour of a strip of three, instead of a colour temperature", default=None)
    dim: Annotated[float, Quantity("number", least=0.0, most=1.0)] = told("dimmer setting, 0 to 1", default=1.0)
    pulses: Annotated[int, Quantity("count", least=0, most=1_000_000)] | None = told(
        "how often a second the dimmer switches; 0: it does not switch", default=None
    )
    feed: FeedPoints | Auto = told("how the strip is fed", default=Auto.AUTO)
    corner: Corner | Auto = told("where the feed is, as the viewer sees it", default=Auto.AUTO)
    dimmest: Fraction | None = told("least light along the strip over the greatest; absent: 85 %", default=None)
    supply: str | None = told("id in the catalogue of supplies; absent: the smallest that is loaded to 80 % at most", default=None)
    supply_place: SupplyPlace | None = told("in the case, or outside it; absent: in the case is assumed", default=None)
    lead: PositiveLength | None = told("from the supply to the first feed, one way; absent: 2 m are assumed", default=None)
    gauge: Annotated[int, Quantity("count", least=8, most=18)] | None = told("American gauge of the leads; absent: chosen", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What lets warm air out from behind the screen."""

    low: Area | None = told("free area of the openings at the bottom; absent: the slot behind or round the frame", default=None)
    high: Area | None = told("free area of the openings at the top; absent: as `low`", default=None)
    apart: PositiveLength | None = told("from the middle of the low to the middle of the high openings; absent: the outside", default=None)
    fan: Flow | None = told("air that a fan moves as fitted, about half of what is printed on it", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontFrame:
    """The front frame."""

    moulding: str = told("id in the catalogue of mouldings")
    finish: str | None = told("surface, in words", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class RearFrame:
    """The rear frame of a two-frame build."""

    moulding: str | None = told("id in the catalogue; absent: the same as the front", default=None)
    planed: Length | Auto = told("how much is planed off its face to glue it flat", default=Auto.AUTO)
    finish: str | None = told("surface, in words", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The frames of the piece."""

    front: FrontFrame
    rear: RearFrame | None = None
    ties: Annotated[int, Quantity("count", least=0, most=200)] | None = told("screws that tie the two frames beside the glue", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Battens:
    """The battens that hold the front pane and carry the strip."""

    stock: str | None = told("id in the catalogue of stock", default=None)
    width: PositiveLength | Auto = told("from the rebate wall inwards", default=Auto.AUTO)
    depth: PositiveLength | Auto = told("front to back; auto fills the rebate", default=Auto.AUTO)
    through: Through = told("which pair runs through", default=Through.LONG)


@dataclass(frozen=True, slots=True, kw_only=True)
class Retainers:
    """What holds the screen in from behind."""

    plates: str | None = told("id in the catalogue of hardware", default=None)
    bars: str | None = told("id in the catalogue of hardware", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Play, as totals per direction."""

    screen: Length | None = told("rebate less outline", default=None)
    glass: Length | None = told("rebate less pane", default=None)
    sight_margin: Length | Auto | None = told("per side: a larger frame so that less picture is hidden", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One measurement taken in the shop; it replaces the plan at its name and place."""

    name: str = told("a name of the ledger")
    value: SignedLength = told("what was read")
    at: str = told("where it was taken, such as middle, left or top", default="")
    when: Annotated[str, Quantity("date")] | None = told("date of the reading", default=None)
    by: str | None = told("who read it", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """Who lifts it, and how it travels."""

    people: Annotated[int, Quantity("count", least=1, most=12)] | None = told("who lift it on the day; absent: 2 are assumed", default=None)
    cushion: Length | None = told("foam on each side in the crate; absent: the workshop's", default=None)
    coldest: Temperature | None = told("coldest air that it meets on its way; absent: 5 degC is assumed", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """Commercial terms."""

    margin: Share | None = told("share of the price that is not cost", default=None)
    tax: Percent | None = told("rate on the taxable part", default=None)
    deliver_to: str | None = told("where it goes", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One piece: what was asked and chosen. The same model is the job file, the form and the row in the store."""

    halfsilver: str = told("kind and version of the file: `job/1`")
    title: str
    construction: Construction
    client: str = told("for whom", default="")
    units: Units = told("how lengths are shown", default=Units.INCH)
    fraction: Annotated[int, Quantity("fraction")] = told("finest fraction of an inch in print", default=32)
    currency: Annotated[str, Quantity("currency")] | None = told("ISO 4217 letters; absent: the workshop's", default=None)
    scope: Scope = told("what the shop delivers", default=Scope.COMPLETE)
    quantity: Annotated[int, Quantity("count", least=1, most=500)] = told("how many pieces", default=1)
    mounting: Mounting = told("where it goes", default_factory=Mounting)
    place: Place = told("who passes by", default_factory=Place)
    screen: Screen | None = told("the screen; a lit mirror has none", default=None)
    size: Size | None = told("an asked size", default=None)
    window: Window = told("where the picture sits in the sheet", default_factory=Window)
    room: Room = told("light and air", default_factory=Room)
    viewers: tuple[Viewer, ...] = told("who looks, and from where", default=())
    accept: Accept = told("what may be lost", default_factory=Accept)
    glass: Glass = told("the sheets")
    gap: PositiveLength | Auto = told("air between the two sheets", default=Auto.AUTO)
    lights: Lights | None = told("the strip of lights", default=None)
    case: Case = told("openings and fan for warm air", default_factory=Case)
    frame: Frame = told("the frames")
    battens: Battens = told("the battens", default_factory=Battens)
    retainers: Retainers = told("plates and bars", default_factory=Retainers)
    fit: Fit = told("play", default_factory=Fit)
    measured: tuple[Reading, ...] = told("readings taken so far, oldest first", default=())
    handling: Handling = told("lifting and carriage", default_factory=Handling)
    terms: Terms = told("commercial terms", default_factory=Terms)
