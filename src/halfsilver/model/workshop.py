"""The workshop: what the shop has, how exactly it works, and what it allows.

Catalogues are tables with one row per entry; every entry has an ``id`` that job files name. Lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Annotated, TypeVar

from halfsilver.errors import JobError, Problem
from halfsilver.model.glass_readings import MeasuredGlass
from halfsilver.model.job import Screen, Units, told
from halfsilver.model.quantities import HalfAngle, Humidity, Length, Percent, PositiveLength, Quantity, Share, Temperature

Density = Annotated[float, Quantity("density", least=1.0, most=25_000.0)]
Index = Annotated[float, Quantity("number", least=1.0, most=4.0)]
Number = Annotated[float, Quantity("number", least=0.0, most=1e6)]
Count = Annotated[int, Quantity("count", least=0, most=1_000_000)]
Price = Annotated[str, Quantity("amount")]
Duration = Annotated[float, Quantity("duration", least=0.0, most=30 * 86_400.0)]


class GlassMake(Enum):
    """How a sheet is made: decides whether it can be cut here and how it breaks."""

    FLOAT = "float"
    TOUGHENED = "toughened"
    LAMINATED = "laminated"
    FILMED = "filmed"
    ACRYLIC = "acrylic"


class GlassDuty(Enum):
    """What a sheet is for."""

    SPLITTER = "splitter"
    MIRROR = "mirror"
    CLEAR = "clear"


@dataclass(frozen=True, slots=True, kw_only=True)
class GlassKind:
    """A sheet in the catalogue, with the numbers its supplier prints.

    ``R_coated`` is the reflectance seen from the coated face, ``R_plain`` from the other; both visible, at normal incidence.
    """

    id: str
    name: str
    thickness: PositiveLength
    make: GlassMake
    duty: GlassDuty
    T: Share = told("luminous transmittance")
    R_coated: Share = told("luminous reflectance from the coated face")
    R_plain: Share = told("luminous reflectance from the plain face")
    uncertainty: Share = told("limit of error of T and both R, as printed or assumed", default=0.02)
    t_uncertainty: Share | None = told("limit of error of T where it is another", default=None)
    index: Index = told("refractive index of the glass", default=1.52)
    density: Density = told("mass per volume", default=2500.0)
    may_turn: bool = told("a pane may be turned by a quarter when it is cut from the sheet", default=True)
    impact: str = told("impact class as marked on the pane, such as ANSI Z97.1 A; empty for none", default="")
    lead_days: Count = told("days from order to delivery; 0: from stock", default=0)
    min_strip: Length = told("narrowest strip that still breaks cleanly", default=25.0)
    interlayer: Length = told("film of a laminated sheet of two equal plies", default=0.76)
    coupling: Share = told("shear that the film passes on under a load of minutes; under a lasting one it passes none", default=0.1)
    spectrum: str = told("file with its measured spectrum", default="")
    body: str = told("material of the pane where it is given by films; empty: clear_float", default="")
    films_coated: str = told("films of the coated face from the glass outwards, such as niobia 58, silica 94, in nm", default="")
    films_plain: str = told("films of the plain face, likewise", default="")
    readings: MeasuredGlass | None = field(default=None, metadata={"doc": "what a meter read in the shop", "elsewhere": True})

    @property
    def by_films(self) -> bool:
        """Whether it is given by its films (or its glass), so that its spectra are computed."""
        return bool(self.body or self.films_coated or self.films_plain)

    @property
    def spectral(self) -> bool:
        """Whether its spectra are known, measured or computed from films."""
        return bool(self.spectrum) or self.by_films

    @property
    def limit_of_t(self) -> float:
        """Limit of error of T. [-]"""
        return self.uncertainty if self.t_uncertainty is None else self.t_uncertainty

    @property
    def cut_here(self) -> bool:
        """Whether the shop can cut it: toughened, laminated and filmed panes are bought to size."""
        return self.make in (GlassMake.FLOAT, GlassMake.ACRYLIC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moulding:
    """A moulding and its profile.

    ``profile`` is a closed polygon of (x, z): x from the outer edge towards the opening, z from the face backwards.
    """

    id: str
    name: str
    timber: str = told("species or material, in words")
    density: Density
    may_plane: bool = told("its face may be planed flat", default=True)
    plane_least: Length = told("least planing that leaves the face flat enough to glue", default=0.0)
    may_turn_over: bool = told("may be turned end for end when mitres are nested", default=False)
    finish: str = told("as it comes", default="")
    across: Annotated[float, Quantity("number", least=0.0, most=0.02)] = told(
        "growth across the grain for 1 % of moisture, 1/%; 0: by the timber's name", default=0.0
    )
    profile: tuple[tuple[float, float], ...] = field(default=(), metadata={"doc": "points x, z", "elsewhere": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class LightKind:
    """A strip of lights, cut in whole segments."""

    id: str
    name: str
    segment: PositiveLength = told("shortest length that can be cut off")
    thickness: PositiveLength = told("strip and channel together, from the batten inwards")
    width: PositiveLength = told("across the strip")
    pitch: PositiveLength = told("from one diode to the next")
    power: Annotated[float, Quantity("linear-power", least=0.0, most=200.0)] = told("electrical power")
    voltage: Annotated[float, Quantity("voltage", least=3.0, most=60.0)]
    flux: Number = told("luminous flux, lm/m")
    colour: str = told("white, tunable or rgb", default="white")
    roll: PositiveLength = told("length of a roll", default=5000.0)
    density: Annotated[float, Quantity("number", least=0.0, most=10.0)] = told("mass, kg/m", default=0.05)
    rails: Annotated[float, Quantity("number", least=0.0, most=100.0)] = told(
        "resistance of both copper rails together, ohm/m; 0: estimated from the width", default=0.0
    )
    forward: Annotated[float, Quantity("voltage", least=0.0, most=60.0)] = told(
        "voltage below which it stays dark; 0: three quarters of its voltage", default=0.0
    )
    regulated: bool = told("each segment holds its current whatever the voltage", default=False)
    channel: bool = told("carried by a metal channel", default=False)
    highest_surrounding: Temperature = told("highest air temperature round it", default=45.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """A power supply."""

    id: str
    name: str
    voltage: Annotated[float, Quantity("voltage", least=3.0, most=60.0)]
    power: Annotated[float, Quantity("power", least=1.0, most=2_000.0)]
    efficiency: Share = told("share of the input that leaves as output", default=0.87)
    mass: Annotated[float, Quantity("mass", least=0.0, most=50.0)] = told("mass", default=0.3)
    inrush: Annotated[float, Quantity("current", least=0.0, most=500.0)] = told("current at switching on; 0: not known", default=0.0)


class HardwareUse(Enum):
    """What a piece of hardware does."""

    PLATE = "plate"
    BAR = "bar"
    SCREW = "screw"
    PIN = "pin"
    PAD = "pad"
    HANGER = "hanger"
    FOOT = "foot"
    RESTRAINT = "restraint"
    LEAD = "lead"
    CONNECTOR = "connector"
    FUSE = "fuse"
    DIMMER = "dimmer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """Plates, bars, screws, pins, pads, hangers, feet and restraints; leads, connectors, fuses and dimmers of the lights."""

    id: str
    name: str
    use: HardwareUse
    thickness: Length = told("of the metal, or the wire of a pin", default=0.0)
    leg: Length = told("length of a plate's leg along the frame", default=0.0)
    width: Length = told("across", default=0.0)
    inset: Length = told("a plate's outside corner from the frame's outside corner", default=0.0)
    length: Length = told("of a screw or a pin", default=0.0)
    diameter: Length = told("of a screw or a pin", default=0.0)
    density: Density = told("mass per volume", default=7850.0)
    screws: Count = told("screws in a plate, bar or hanger; 0: the usual number", default=0)
    rated: Annotated[float, Quantity("mass", least=0.0, most=5_000.0)] = told(
        "load that one hanger may carry, as its maker prints it; 0: not known", default=0.0
    )
    gauge: Count = told("American gauge of a lead", default=0)
    current: Annotated[float, Quantity("current", least=0.0, most=500.0)] = told("most current of a connector, fuse or dimmer", default=0.0)


class StockForm(Enum):
    """What shape a stock piece has."""

    STICK = "stick"
    SHEET = "sheet"
    ROLL = "roll"
    EACH = "each"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSize:
    """A size in which something is bought, with its dated price."""

    id: str
    of: str = told("id of a moulding, glass, light, hardware or supply; for plain timber its own id")
    form: StockForm
    length: Length = told("of a stick or roll", default=0.0)
    width: Length = told("of a sheet, or of plain timber", default=0.0)
    height: Length = told("of a sheet, or depth of plain timber", default=0.0)
    price: Price = told("of one, in the workshop's currency")
    dated: Annotated[str, Quantity("date")] = told("when the price was asked")
    offcut: bool = told("a leftover in the rack", default=False)
    quantity: Count = told("how many are there; 0: as many as wanted", default=0)
    density: Density = told("mass per volume of plain timber", default=500.0)
    name: str = told("of plain timber or board, in words", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """How exactly the shop's tape reads: a constant limit, or one that grows with length, in whole metres rounded up."""

    constant: Length = told("limit of error at any length")
    per_metre: Length = told("added for each whole metre begun", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Steps to which what is cut is rounded: glass always down, outside up, other timber to the nearest."""

    glass: PositiveLength
    timber: PositiveLength


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of deviation of each operation, plus or minus."""

    saw: Length = told("length of a mitred stick between its rebate corners")
    mitre_angle: Annotated[float, Quantity("angle", least=0.0, most=5.0)] = told("of one mitre cut")
    squareness: Length = told("difference of the diagonals of a glued frame")
    glass_cut: Length = told("size of a pane scored and snapped here")
    glass_bought: Length = told("size of a pane bought to size")
    glass_thickness: Length = told("thickness of a sheet")
    rip: Length = told("width or depth of a ripped batten; depth is taken down only")
    planer: Length = told("thickness taken off")
    rout: Length = told("place of a routed wall")
    profile: Length = told("moulding as delivered: body, lip and rebate depth")
    tape: Tape = told("the tape the readings are taken with")
    screen_tape: Length = told("outline of a screen measured with the tape")
    screen_sheet: Length = told("outline of a screen from its data sheet")


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How the shop builds when a job does not say otherwise."""

    fit_screen: Length = told("rebate less screen outline, total per direction")
    fit_glass: Length = told("opening less pane, total per direction")
    sight_margin: Length = told("per side", default=0.0)
    bedding_front: Length = told("between front lip and pane", default=0.0)
    bedding_rear: Length = told("between rear lip and pane", default=0.0)
    glue_line: Length = told("one glued joint between two frames", default=0.1)
    spacer: Length = told("rear pane to screen", default=3.0)
    lip_least: Length = told("thinnest lip that may be left after planing", default=3.0)
    wall_least: Length = told("least timber left outside a relief pocket", default=6.0)
    relief_margin: Length = told("play at each end of a relief pocket", default=3.0)
    relief_cutter: Length = told("radius of the cutter", default=6.0)
    relief_below_lip: Length = told("the cutter stops this far below the lip", default=0.8)
    screw_cover: Length = told("timber left before the point of a screw", default=3.0)
    pad_compression: Length = told("how much the pad between bar and screen gives", default=1.0)
    pad: Length = told("thickness of the pad between bar and screen", default=3.0)
    bar_clearance: Length = told("at each end of a bar", default=2.0)
    plate: str = told("id of the usual corner plate", default="")
    bar: str = told("id of the usual bar", default="")
    pin: str = told("id of the usual pin", default="")
    batten: str = told("id of the usual batten stock", default="")
    wall_fixing: Length = told("depth of the hanging hardware behind the frame", default=0.0)
    recess_play: Length = told("recess less outside, total per direction", default=6.0)
    backing: Length = told("thickness of the opaque backing", default=3.0)
    backing_density: Density = told("mass per volume of the backing", default=700.0)
    spare_stick: bool = told("cut one stick more than needed", default=True)
    batten_land: Length = told("least batten width that takes pin and strip", default=9.0)
    crate_cushion: Length = told("foam on each side of a packed piece", default=50.0)
    crate_wall: Length = told("thickness of a crate's boards", default=12.0)
    crate_density: Density = told("mass per volume of its boards", default=600.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowances:
    """Steps, limits and habits together."""

    steps_in: Steps = told("for jobs in inches")
    steps_mm: Steps = told("for jobs in millimetres")
    limits: Limits
    habits: Habits
    kerf: Length = told("of the mitre saw")
    trim_stick: Length = told("lost at each end of a stick")
    trim_sheet: Length = told("lost at each edge of a fresh sheet")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredScreen:
    """A screen measured before, kept for the next job."""

    id: str
    name: str = ""
    screen: Screen
    measured: bool = told("taken with the tape; no: from a data sheet", default=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """How the shop prices: what is added to what is bought and worked, and what the client pays. Amounts in the workshop's currency."""

    overhead: Share = told("rent, power and tools, as a share of material, hardware, labour and packing", default=0.12)
    contingency: Share = told("for what goes wrong, as a share of the same", default=0.05)
    contingency_recessed: Share = told("the same for a piece that goes into a recess", default=0.08)
    margin: Share = told("share of the price that is not cost, where a job names none", default=0.3)
    tax: Percent = told("rate of tax, where a job names none; ask, it differs by place", default=0.0)
    tax_labour: bool = told("tax is due on labour too, not on goods alone", default=True)
    hour: Price = told("an hour of work, where no rate of its own is known", default="0")
    packing: Price = told("packing of one piece, whatever its size", default="0")
    packing_area: Price = told("packing, added for each m2 of its face", default="0")
    sundries: Price = told("glue, paint, abrasives and cloths for one piece with timber in it", default="0")
    glass_edge: Price = told("edge work on a pane bought to size, for each m", default="0")
    glass_least: Annotated[float, Quantity("area", least=0.0, most=10.0)] = told("least area that is billed for one pane", default=0.0)
    keep_length: Length = told("shortest leftover that is kept; of a sheet also its narrower side", default=300.0)
    keep_area: Annotated[float, Quantity("area", least=0.0, most=10.0)] = told("smallest leftover of a sheet that is kept", default=0.25)
    keep_share: Share = told("a kept leftover counts as this share of what as much cost", default=0.3)
    deposit: Share = told("share of the total that is due with the order", default=0.5)
    valid_days: Count = told("days for which an offer stands", default=30)
    card_fee: Share = told("what a card payment costs, as a share of it", default=0.03)


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air in which timber is stored and pieces are closed."""

    temperature: Temperature = told("air temperature of the shop", default=20.0)
    humidity: Humidity = told("relative humidity of the shop", default=0.45)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mains:
    """The mains at the place: what a circuit carries, what its energy costs. A licensed electrician has the last word."""

    voltage: Annotated[float, Quantity("voltage", least=12.0, most=480.0)] = told("nominal voltage", default=120.0)
    circuit: Annotated[float, Quantity("current", least=1.0, most=100.0)] = told("rating of the branch circuit's breaker", default=15.0)
    energy: Price = told("price of a kWh", default="0")


Ratio = Annotated[float, Quantity("number", least=0.0, most=1000.0)] | None
OfOne = Share | None
Above = Annotated[float, Quantity("number", least=0.01, most=1000.0)] | None
Factor = Annotated[float, Quantity("percent", least=0.1, most=1.0)] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleValues:
    """Values that the checks rest on and that are known from memory, from practice or not at all.

    What is absent is the program's own default, printed as unconfirmed where it is from memory or assumed. Read the publication or the
    data sheet, and write down here what stands there.
    """

    power_factor: Factor = told("of screens and supplies at full load; absent: 90 %, common practice", default=None)
    inrush_multiple: Above = told("peak that a breaker bears, times its rating; absent: 5, IEC 60898-1 from memory", default=None)
    lead_drop: OfOne = told("voltage that a lead may lose; absent: 3 %, notes to NEC 210.19 from memory", default=None)
    cord_share: OfOne = told("of a circuit for one thing on a cord; absent: 80 %, NEC 210.23 from memory", default=None)
    fixed_share: OfOne = told("of a circuit for a thing fixed in place; absent: 50 %, NEC 210.23 from memory", default=None)
    tub_distance: Length | None = told("round a tub within which no cord hangs; absent: 3 ft, NEC 410.10(D) from memory", default=None)
    tub_height: Length | None = told("above its rim up to which that holds; absent: 8 ft, NEC 410.10(D) from memory", default=None)
    still_air: Ratio = told("resistance of the air between two sheets, m2K/W; absent: 0.18, EN ISO 6946 from memory", default=None)
    still_air_thin: Ratio = told("of the air before the screen, m2K/W; absent: 0.11, EN ISO 6946 from memory", default=None)
    glass_emissivity: OfOne = told("of a plain face of glass; absent: 83.7 %, EN 673 from memory", default=None)
    slot_free: OfOne = told("of the slot behind a hung frame that lets air through; absent: 50 %, assumed", default=None)
    touch_glass: Temperature | None = told("glass that is touched for up to 10 s; absent: 71 degC, IEC 62368-1 from memory", default=None)
    metal_growth: Ratio = told("of a strip's channel, 1e-6 a kelvin; absent: 23, EN 1999-1-1 from memory", default=None)
    mould_humidity: OfOne = told("at a face, above which mould may grow; absent: 80 %, ISO 13788 from memory", default=None)
    pane_warmed: Ratio = told("pane over the shop's air when it runs, K; absent: 20, assumed", default=None)
    clear_width: Length | None = told("of a path; absent: 36 in, ADA 403.5.1 from memory", default=None)
    side_reach_deep: Length | None = told("highest side reach over something deep; absent: 46 in, ADA 308.3.2 from memory", default=None)
    side_reach_over: Length | None = told("greatest height of what is reached over; absent: 34 in, ADA 308.3.2 from memory", default=None)
    mirror_edge: Length | None = told("lower edge of a mirror to be used, at most; absent: 35 in, ADA 603.3 from memory", default=None)
    glare: Above = told("glare rating that is usual at most; absent: 22, EN 12464-1 from memory", default=None)
    flicker: Annotated[float, Quantity("number", least=1.0, most=1e6)] | None = told(
        "pulses a second from which flicker counts as low risk; absent: 1250, IEEE 1789 from memory", default=None
    )
    camera: Annotated[float, Quantity("number", least=1.0, most=1e6)] | None = told(
        "pulses a second from which cameras see no bands; absent: 3000, IEEE 1789 from memory", default=None
    )
    class2_current: Annotated[float, Quantity("current", least=0.1, most=25.0)] | None = told(
        "of a Class 2 supply to 20 V; absent: 5 A, NEC chapter 9 Table 11(B) from memory", default=None
    )
    pallet_mass: Annotated[float, Quantity("mass", least=0.0, most=500.0)] | None = told(
        "of the pallet or runners under a crate; absent: 20 kg, assumed", default=None
    )
    person_push: Above = told("of a person who pulls or leans, N; absent: 222 (50 lbf), common practice", default=None)
    timber_stiffness: Above = told("of the timber of frames, GPa; absent: 8, low for them, from memory", default=None)
    timber_creep: Above = told("sag of timber after years over sag at once; absent: 2, from memory", default=None)
    thermal_shock: Above = told("across a pane of annealed glass, K; absent: 40, EN 572-1 from memory", default=None)
    steel_yield: Above = told("of the steel of bars, MPa; absent: 250, ASTM A36, assumed", default=None)
    aluminium_yield: Above = told("of the aluminium of bars, MPa; absent: 110, 6063-T5 from memory", default=None)
    team_of_two: OfOne = told("of what two may lift singly, together; absent: two thirds, HSE L23 from memory", default=None)
    team_of_three: OfOne = told("of what three may lift singly, together; absent: a half, HSE L23 from memory", default=None)
    beside_door: Length | None = told("from a door within which glass is beside it; absent: 24 in, IBC 2406.4.2 from memory", default=None)
    sloped_glass: HalfAngle | None = told("beyond it from upright glass is sloped; absent: 15 deg, IBC 2405.1 from memory", default=None)
    pallet_height: Length | None = told("of the same; absent: 150 mm, assumed", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkshopFile:
    """The workshop's head file: who it is, how it works."""

    halfsilver: str = told("kind and version of the file: `workshop/1`")
    name: str
    currency: Annotated[str, Quantity("currency")]
    units: Units
    allowances: Allowances
    day: Annotated[float, Quantity("duration", least=1_800.0, most=86_400.0)] = told("working time of a day", default=8 * 3_600.0)
    prices: Prices = told("what is added and how it is priced", default_factory=Prices)
    air: Air = told("the shop's own air", default_factory=Air)
    mains: Mains = told("the mains at the place", default_factory=Mains)
    rules: RuleValues = told("values of rules that were looked up here, in place of unconfirmed ones", default_factory=RuleValues)


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """How long one operation takes on one piece of work: setting up, and what its parts add; then how long it must be left alone. [s]"""

    id: str
    name: str
    fixed: Duration = told("setting up, once")
    each: Duration = told("for each part", default=0.0)
    per_metre: Duration = told("for each metre of its parts", default=0.0)
    per_area: Duration = told("for each m2 of its parts", default=0.0)
    wait: Duration = told("by the clock, until the next step may begin", default=0.0)
    rate: str = told("id of its rate; empty: the hour of `prices`", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """What an hour of one kind of work costs, in the workshop's currency."""

    id: str
    name: str
    hour: Price = told("an hour, with all that comes on top of wages")


Entry = TypeVar("Entry")


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """All catalogues of a shop, by id."""

    head: WorkshopFile
    glass: Mapping[str, GlassKind]
    mouldings: Mapping[str, Moulding]
    lights: Mapping[str, LightKind]
    supplies: Mapping[str, Supply]
    labour: Mapping[str, Labour]
    rates: Mapping[str, Rate]
    hardware: Mapping[str, Hardware]
    stock: Mapping[str, StockSize]
    screens: Mapping[str, MeasuredScreen]

    @property
    def allowances(self) -> Allowances:
        """The shop's steps, limits and habits."""
        return self.head.allowances

    @property
    def habits(self) -> Habits:
        """How the shop builds when a job does not say otherwise."""
        return self.head.allowances.habits

    @property
    def prices(self) -> Prices:
        """How the shop prices."""
        return self.head.prices

    @property
    def day_min(self) -> float:
        """Working time of a day. [min]"""
        return self.head.day / 60

    @property
    def limits(self) -> Limits:
        """Limits of deviation of each operation."""
        return self.head.allowances.limits


def pick(catalogue: Mapping[str, Entry], wanted: str, *, path: str, of: str) -> Entry:
    """The entry of a catalogue that a job names.

    Raises
    ------
    JobError
        If there is none; the message lists what there is.
    """
    if wanted in catalogue:
        return catalogue[wanted]
    known = ", ".join(sorted(catalogue))
    raise JobError(
        [
            Problem(
                code="not-in-catalogue",
                path=path,
                read=wanted,
                allowed=f"Known {of}: {known}.",
                advice="Name one of them or add it to the workshop.",
            )
        ]
    )
