"""How the strip is fed: circuits, joints that are fed, the light along each run, supplies, leads and fuses.

The run begins at the feed corner, goes along the level side first and round the four sides back to it; corners are linked with wire. More
power than one limited supply gives divides the run: in two halves that both begin at the feed corner, or in its four sides, each from the
end that is nearer to it. Each supply has one fuse at its output, and one dimmer where the light is dimmed; from there a lead of its own
goes to every joint that is fed. Bill, findings and diagram all count from the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

from halfsilver.engineering.ladder import Strip, StripState, solve_strip
from halfsilver.engineering.running import fuse_rating_a
from halfsilver.engineering.supply import CLASS_2_VA, HEADROOM, strip_power_w, supply_rating_w
from halfsilver.engineering.wiring import conductor_limit_a, drop_point_v, table8_ohm_per_km
from halfsilver.errors import RangeError
from halfsilver.layout.design import Design
from halfsilver.layout.facts import Facts
from halfsilver.ledger.ledger import Ledger
from halfsilver.model.job import FeedPoints, Lights
from halfsilver.model.quantities import Auto
from halfsilver.model.workshop import LightKind, Supply, pick

DIMMEST = 0.85  # of the brightest; common practice
LEAD_MM = 2000.0
LEAD_DROP = 0.03  # share of the voltage that a lead may lose; notes to NEC 210.19, advice [memory]
GAUGES = (18, 16, 14, 12, 10)
LINK_MM = 150.0  # of lead for each linked corner, ends included
RAIL_MM = 0.07  # thickness of a rail's copper where nothing is known: 2 oz/ft2
RAIL_SHARE = 0.4  # of the strip's width, each rail
COPPER_OHM_MM = 1.7241e-5
FORWARD_SHARE = 0.75
IN_RANGE_SHARE = 0.9  # a regulated segment comes into regulation at this share of its voltage
OTHER = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
KINDS = (FeedPoints.ONE_END, FeedPoints.BOTH_ENDS, FeedPoints.OPPOSITE_CORNERS, FeedPoints.EACH_SIDE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """One run with a supply of its own.

    Parameters
    ----------
    sides : tuple of str
        In the order of the run, as the viewer sees them.
    counts : tuple of int
        Segments on each.
    feeds : tuple of int
        Joints that are fed, counted in segments from the run's beginning.
    state : StripState
        At full brightness.
    power_w, current_a : float
        Rated, whatever the voltage on the way. [W, A]
    """

    sides: tuple[str, ...]
    counts: tuple[int, ...]
    feeds: tuple[int, ...]
    state: StripState
    power_w: float
    current_a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """Sides that one supply feeds, their segments, and all four sides in the order in which this run passes them from the feed corner."""

    sides: tuple[str, ...]
    counts: tuple[int, ...]
    way: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringPlan:
    """The strip's wiring.

    Parameters
    ----------
    light : LightKind
        The strip.
    feed : FeedPoints
        How each circuit is fed.
    corner : str
        Feed corner as the viewer sees it.
    circuits : tuple of Circuit
        In the order of the run.
    supply : Supply or None
        Of each circuit; None where the workshop has none that fits.
    lead_mm : float
        From the supply to the feed corner. [mm]
    leads : tuple of tuple of float
        Length of each lead, in the order of each circuit's feeds. [mm]
    gauge : int
        American gauge of the leads.
    lead_ohm, lead_drop_v : float
        Both wires of the longest lead, and what it loses at full brightness. [ohm, V]
    fuse_a : float or None
        At each supply's output, before its leads part; None where no usual fuse is large enough. [A]
    dimmer_a : float or None
        Least rating of the dimmer behind each supply; None where nothing is dimmed. [A]
    """

    light: LightKind
    feed: FeedPoints
    corner: str
    circuits: tuple[Circuit, ...]
    supply: Supply | None
    lead_mm: float
    leads: tuple[tuple[float, ...], ...]
    gauge: int
    lead_ohm: float
    lead_drop_v: float
    fuse_a: float | None
    dimmer_a: float | None

    @property
    def furthest_mm(self) -> float:
        """The longest lead. [mm]"""
        return max(max(lengths) for lengths in self.leads)

    @property
    def links(self) -> int:
        """Pieces of lead that link the strip round a corner."""
        return sum(len(circuit.sides) - 1 for circuit in self.circuits)

    @property
    def wire_mm(self) -> float:
        """Lead in all: to every joint that is fed, and round every linked corner. [mm]"""
        return sum(sum(lengths) for lengths in self.leads) + LINK_MM * self.links

    @property
    def power_w(self) -> float:
        """All circuits at full brightness. [W]"""
        return sum(circuit.power_w for circuit in self.circuits)

    @property
    def dimmest(self) -> float:
        """Least light over greatest, of the whole strip. [-]"""
        shares = [share for circuit in self.circuits for share in circuit.state.share]
        return min(shares) / max(shares) if shares and max(shares) > 0 else 0.0


def is_lit(ledger: Ledger) -> bool:
    """Whether there is a strip to feed."""
    return "strip.segments" in ledger and ledger["strip.segments"] >= 1


def wiring_plan(design: Design) -> WiringPlan | None:
    """The wiring of a design; None where nothing is lit.

    Parameters
    ----------
    design : Design
        The resolved job.

    Returns
    -------
    WiringPlan or None

    Raises
    ------
    JobError
        If the job names a supply that the workshop does not have.
    """
    if not is_lit(design.ledger):
        return None
    return fed(design.facts, design.ledger, feed_of(design.facts))


def feed_of(facts: Facts) -> FeedPoints:
    """How the strip is fed, asked or decided."""
    lights = facts.job.lights
    if lights is not None and not isinstance(lights.feed, Auto):
        return lights.feed
    return FeedPoints(facts.choices.feed.value) if facts.choices.feed else FeedPoints.ONE_END


def corner_of(facts: Facts) -> str:
    """The feed corner as the viewer sees it, asked or decided."""
    lights = facts.job.lights
    if lights is not None and not isinstance(lights.corner, Auto):
        return lights.corner.value
    return facts.choices.corner.value if facts.choices.corner else "bottom-right"


def run_of(corner: str) -> tuple[str, ...]:
    """The sides in the order of the run.

    Examples
    --------
    >>> run_of("bottom-right")
    ('bottom', 'left', 'top', 'right')
    """
    row, column = corner.split("-")
    return row, OTHER[column], OTHER[row], column


def fed(facts: Facts, ledger: Ledger, feed: FeedPoints) -> WiringPlan:
    """The wiring with the strip fed in one way, whatever the job says.

    Parameters
    ----------
    facts : Facts
        The job looked up.
    ledger : Ledger
        Resolved; it has a strip.
    feed : FeedPoints
        How each circuit is fed.

    Returns
    -------
    WiringPlan
    """
    lights, light = facts.job.lights, facts.light
    assert lights is not None
    corner = corner_of(facts)
    order = run_of(corner)
    divided = {number: _runs(order, ledger, number) for number in (1, 2, 4)}
    segment = ledger["strip.segment"]
    loads = {
        number: strip_power_w(length_mm=max(sum(run.counts) for run in runs) * segment, power_w_per_m=light.power)
        for number, runs in divided.items()
    }
    supply, number = _supply(facts, lights, light, loads)
    runs = divided[number]
    lead = LEAD_MM if lights.lead is None else lights.lead
    lengths = tuple(tuple(lead + _beyond_mm(run, ledger, joint) for joint in joints(feed, run.counts)) for run in runs)
    furthest = max(max(each) for each in lengths)
    largest = loads[number] / light.voltage
    written = facts.workshop.head.rules.lead_drop
    highest = LEAD_DROP if written is None else written
    gauge = lights.gauge or thinnest_gauge(current_a=largest, lead_mm=furthest, voltage_v=light.voltage, highest=highest)
    ohm = max(2 * furthest * 1e-6 * table8_ohm_per_km(gauge=_listed(gauge)), 1e-4)
    circuits = tuple(_circuit(light, ledger, run, feed, ohm) for run in runs)
    busiest = max(max(circuit.state.feed_a) for circuit in circuits)
    return WiringPlan(
        light=light,
        feed=feed,
        corner=corner,
        circuits=circuits,
        supply=supply,
        lead_mm=lead,
        leads=lengths,
        gauge=gauge,
        lead_ohm=ohm,
        lead_drop_v=busiest * ohm,
        fuse_a=_fuse(max(circuit.current_a for circuit in circuits)),
        dimmer_a=max(circuit.current_a for circuit in circuits) / HEADROOM if lights.dim < 1 else None,
    )


def _supply(facts: Facts, lights: Lights, light: LightKind, loads_w: Mapping[int, float]) -> tuple[Supply | None, int]:
    """The supply of each circuit, and into how many circuits the strip is divided for it, from the largest load of each number."""
    supplies = facts.workshop.supplies
    if lights.supply is not None:
        named = pick(supplies, lights.supply, path="lights.supply", of="supplies")
        return named, next((n for n, load in loads_w.items() if supply_rating_w(power_w=load) <= named.power), 4)
    fitting = sorted((s for s in supplies.values() if abs(s.voltage - light.voltage) < 0.5), key=lambda s: (s.power, s.id))
    limited = [s for s in fitting if s.power <= CLASS_2_VA]
    for number, load in loads_w.items():
        for supply in limited:
            if supply.power >= supply_rating_w(power_w=load):
                return supply, number
    return next((s for s in fitting if s.power >= supply_rating_w(power_w=loads_w[1])), None), 1


def _runs(order: Sequence[str], ledger: Ledger, number: int) -> tuple[_Run, ...]:
    """The runs of a division, each from where it begins; a side without a segment is left out, and so is a run without a side."""
    there, back = tuple(order), tuple(reversed(order))
    divided = {1: ((there, there),), 2: ((there[:2], there), (back[:2], back))}.get(
        number, ((there[:1], there), (there[1:2], there), (back[1:2], back), (back[:1], back))
    )
    return tuple(run for sides, way in divided if (run := _counted(sides, way, ledger)).sides)


def _counted(sides: Sequence[str], way: tuple[str, ...], ledger: Ledger) -> _Run:
    counts = [round(ledger[f"strip.segments.{'width' if side in ('top', 'bottom') else 'height'}"]) for side in sides]
    lit = [(side, count) for side, count in zip(sides, counts, strict=True) if count > 0]
    return _Run(sides=tuple(side for side, _ in lit), counts=tuple(count for _, count in lit), way=way)


def _beyond_mm(run: _Run, ledger: Ledger, joint: int) -> float:
    """How much further than the feed corner a joint of a run is, along the frame by the shorter way. [mm]"""
    round_mm = 2 * (ledger["outside.width"] + ledger["outside.height"])
    for side, count, done in zip(run.sides, run.counts, accumulate(run.counts, initial=0), strict=False):
        if joint <= done + count:
            before = sum(_side_mm(ledger, one) for one in run.way[: run.way.index(side)])
            along = before + (joint - done) / count * _side_mm(ledger, side)
            return min(along, round_mm - along)
    raise AssertionError(f"joint {joint} lies beyond the run")


def _side_mm(ledger: Ledger, side: str) -> float:
    return ledger["outside.width" if side in ("top", "bottom") else "outside.height"]


def joints(feed: FeedPoints, counts: Sequence[int]) -> tuple[int, ...]:
    """The joints that are fed, in segments from the run's beginning.

    Examples
    --------
    >>> joints(FeedPoints.OPPOSITE_CORNERS, (13, 7, 13, 7))
    (0, 20, 40)
    """
    corners = tuple(accumulate(counts, initial=0))
    match feed:
        case FeedPoints.ONE_END:
            found: tuple[int, ...] = (0,)
        case FeedPoints.BOTH_ENDS:
            found = (0, corners[-1])
        case FeedPoints.OPPOSITE_CORNERS:
            found = (0, corners[len(counts) // 2], corners[-1])
        case _:
            found = corners
    return tuple(sorted(set(found)))


def strip_of(light: LightKind, segments: int) -> Strip:
    """A run of a strip as a ladder; what the catalogue leaves open is estimated.

    Rails: two of 0.07 mm copper, each 0.4 of the strip's width. Dark below three quarters of the voltage; a regulated segment holds its
    current from nine tenths of it.
    """
    per_m = light.rails or 2 * COPPER_OHM_MM * 1000 / (RAIL_SHARE * light.width * RAIL_MM)
    return Strip(
        segments=segments,
        segment_ohm=per_m * light.segment * 1e-3,
        segment_a=light.power * light.segment * 1e-3 / light.voltage,
        full_v=light.voltage * (IN_RANGE_SHARE if light.regulated else 1.0),
        forward_v=min(light.forward or FORWARD_SHARE * light.voltage, 0.89 * light.voltage),
        regulated=light.regulated,
    )


def _circuit(light: LightKind, ledger: Ledger, run: _Run, feed: FeedPoints, lead_ohm: float) -> Circuit:
    sides, counts = run.sides, run.counts
    feeds = joints(feed, counts)
    state = solve_strip(strip=strip_of(light, sum(counts)), feeds=feeds, supply_v=light.voltage, lead_ohm=lead_ohm)
    power = strip_power_w(length_mm=sum(counts) * ledger["strip.segment"], power_w_per_m=light.power)
    return Circuit(sides=sides, counts=counts, feeds=feeds, state=state, power_w=power, current_a=power / light.voltage)


def thinnest_gauge(*, current_a: float, lead_mm: float, voltage_v: float, highest: float) -> int:
    """The thinnest conductor that carries the whole current and loses no more than is usual; the thickest where none does."""
    for gauge in GAUGES:
        lost = drop_point_v(length_mm=lead_mm, current_a=current_a, ohm_per_km=table8_ohm_per_km(gauge=gauge))
        if current_a <= lead_limit_a(gauge) and lost <= highest * voltage_v:
            return gauge
    return GAUGES[-1]


def _listed(gauge: int) -> int:
    """The next gauge of the tables that is at most as thick."""
    return next(listed for listed in (8, 10, 12, 14, 16, 18) if listed >= gauge)


def lead_limit_a(gauge: int) -> float:
    """What a lead of a gauge may carry: as fixture wire where it is thin, else by the 60 degC column. [A]"""
    listed = _listed(gauge)
    return conductor_limit_a(gauge=listed, use="fixture wire" if listed >= 16 else "60 degC")


def _fuse(current_a: float) -> float | None:
    try:
        return fuse_rating_a(current_a=current_a)
    except RangeError:
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedChoice:
    """The feed that needs the fewest connections, and how even the light is with each that was tried.

    Parameters
    ----------
    feed : FeedPoints
        Chosen.
    wanted : float
        Least light over greatest that is wanted. [-]
    dimmest : dict of FeedPoints to float
        Least over greatest with each. [-]
    """

    feed: FeedPoints
    wanted: float
    dimmest: dict[FeedPoints, float]


def choose_feed(facts: Facts, ledger: Ledger) -> FeedChoice:
    """The first way to feed the strip that keeps its dimmest segment bright enough, else the most even.

    Parameters
    ----------
    facts : Facts
        The job looked up.
    ledger : Ledger
        Resolved; it has a strip.

    Returns
    -------
    FeedChoice
    """
    lights = facts.job.lights
    wanted = DIMMEST if lights is None or lights.dimmest is None else lights.dimmest
    tried: dict[FeedPoints, float] = {}
    for feed in KINDS:
        tried[feed] = fed(facts, ledger, feed).dimmest
        if tried[feed] >= wanted:
            return FeedChoice(feed=feed, wanted=wanted, dimmest=tried)
    best = max(KINDS, key=lambda feed: (round(tried[feed], 4), -KINDS.index(feed)))
    return FeedChoice(feed=best, wanted=wanted, dimmest=tried)
