"""A light strip as what it is: segments between two copper rails that lose voltage on the way.

The strip is a chain of equal segments. Joints (the cut marks, 0 to n) can be fed; the lights of a segment hang between the rails at
its middle. A segment draws

    i(v) = I clamp((v - Vf)/(Vn - Vf), 0, most)

with its rated current I at Vn. A segment with a series resistor has Vn = rated voltage and no upper clamp; one with a constant-current
regulator has Vn = the voltage at which it comes into regulation and most = 1. Light is taken as proportional to current. The network is
the minimum of a convex function, so damped Newton steps on a tridiagonal system find it. A strip closed to a ring is not covered.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import inf, isclose

from halfsilver.engineering.bounds import exceeds, not_negative, positive, within
from halfsilver.errors import NoDesignError, RangeError
from halfsilver.model.formula import formula

STEPS = 60
TOLERANCE_A = 1e-10


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """Electrical data of a strip.

    Parameters
    ----------
    segments : int
        Number of segments in the run.
    segment_ohm : float
        Resistance of both rails together over one segment. [ohm]
    segment_a : float
        Rated current of a segment. [A]
    full_v : float
        Voltage at which it draws that: rated voltage, or where the regulator comes in. [V]
    forward_v : float
        Voltage below which it stays dark: the forward voltage of its diodes in series. [V]
    regulated : bool
        Constant current above ``full_v``.
    """

    segments: int
    segment_ohm: float
    segment_a: float
    full_v: float
    forward_v: float
    regulated: bool = False

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        within("segments", self.segments, 1, 5000, "a strip")
        positive(segment_ohm=self.segment_ohm, segment_a=self.segment_a)
        not_negative(forward_v=self.forward_v)
        positive(headroom_v=self.full_v - self.forward_v)

    def current_a(self, voltage_v: float) -> float:
        """Current of one segment at a voltage."""
        share = (voltage_v - self.forward_v) / (self.full_v - self.forward_v)
        return self.segment_a * min(max(share, 0.0), 1.0 if self.regulated else inf)

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of `current_a`, taken inside the sloped part at its ends."""
        sloped = self.forward_v <= voltage_v and not (self.regulated and voltage_v > self.full_v)
        return self.segment_a / (self.full_v - self.forward_v) if sloped else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StripState:
    """What a fed strip does.

    Parameters
    ----------
    voltage_v : tuple of float
        At the middle of each segment. [V]
    share : tuple of float
        Light of each segment over the rated one. [-]
    feed_a : tuple of float
        Current into each feed, in the order of the feeds. [A]
    dimmest : float
        Least share over greatest share: how even the run looks. [-]
    power_w : float
        Power drawn from the supply, leads included. [W]
    """

    voltage_v: tuple[float, ...]
    share: tuple[float, ...]
    feed_a: tuple[float, ...]
    dimmest: float
    power_w: float


def _thomas(diagonal: list[float], off: list[float], right: list[float]) -> list[float]:
    """Solve a symmetric tridiagonal system."""
    n = len(diagonal)
    d, r = diagonal[:], right[:]
    for k in range(1, n):
        w = off[k - 1] / d[k - 1]
        d[k] -= w * off[k - 1]
        r[k] -= w * r[k - 1]
    r[-1] /= d[-1]
    for k in range(n - 2, -1, -1):
        r[k] = (r[k] - off[k] * r[k + 1]) / d[k]
    return r


@dataclass(frozen=True, slots=True, kw_only=True)
class _Network:
    """Nodes 0, 2, 4 ... are joints, 1, 3, 5 ... the middles of segments."""

    strip: Strip
    feeds: tuple[int, ...]
    supply_v: float
    lead_s: float

    def residual_a(self, v: Sequence[float]) -> list[float]:
        """Current that leaves each node and should be zero."""
        g = 2 / self.strip.segment_ohm
        flow = [g * (b - a) for a, b in pairwise(v)]
        out = [left - right for left, right in zip([0.0, *flow], [*flow, 0.0], strict=True)]
        for k in range(1, len(v), 2):
            out[k] += self.strip.current_a(v[k])
        for joint in self.feeds:
            out[2 * joint] -= self.lead_s * (self.supply_v - v[2 * joint])
        return out

    def step(self, v: Sequence[float], residual: Sequence[float]) -> list[float]:
        """Newton's step from ``v``."""
        g = 2 / self.strip.segment_ohm
        n = len(v)
        diagonal = [g if k in (0, n - 1) else 2 * g for k in range(n)]
        for k in range(1, n, 2):
            diagonal[k] += self.strip.slope_s(v[k])
        for joint in self.feeds:
            diagonal[2 * joint] += self.lead_s
        return _thomas(diagonal, [-g] * (n - 1), [-r for r in residual])

    def solve(self) -> list[float]:
        """Voltage of every node."""
        v = [self.supply_v] * (2 * self.strip.segments + 1)
        residual = self.residual_a(v)
        scale = self.strip.segments * self.strip.segment_a + self.lead_s * self.supply_v * 1e-6
        for _ in range(STEPS):
            worst = max(map(abs, residual))
            if worst <= TOLERANCE_A * scale:
                break
            move, length = self.step(v, residual), 1.0
            while length > 1e-6:
                trial = [a + length * b for a, b in zip(v, move, strict=True)]
                after = self.residual_a(trial)
                if max(map(abs, after)) < worst:
                    break
                length /= 2
            else:
                break  # as near as arithmetic allows
            v, residual = trial, after
        return v


@formula(name="elec.strip_ladder", source="Kirchhoff's laws on a ladder of segments", status="derived", validity="open run, equal segments")
def strip_ladder(
    *,
    segments: int,
    segment_ohm: float,
    segment_a: float,
    full_v: float,
    forward_v: float,
    supply_v: float,
    feeds: Sequence[int],
    lead_ohm: float = 1e-3,
    regulated: bool = False,
) -> StripState:
    """Voltage and light along a strip that is fed at one or more of its joints.

    Parameters
    ----------
    segments : int
        Number of segments.
    segment_ohm : float
        Both rails together over one segment: measure it, or take it from the data sheet. [ohm]
    segment_a : float
        Rated current of one segment. [A]
    full_v, forward_v : float
        As in `Strip`. [V]
    supply_v : float
        Voltage of the supply. [V]
    feeds : sequence of int
        Joints that are fed, 0 (start) to ``segments`` (end).
    lead_ohm : float
        Both wires of the lead to each feed together; above 0. [ohm]
    regulated : bool
        Segments with a constant-current regulator.

    Returns
    -------
    StripState

    References
    ----------
    Kirchhoff. Derived; with regulated segments the drop agrees with `tap_factor`.
    """
    strip = Strip(
        segments=segments, segment_ohm=segment_ohm, segment_a=segment_a, full_v=full_v, forward_v=forward_v, regulated=regulated
    )  # fmt: skip
    return solve_strip(strip=strip, feeds=feeds, supply_v=supply_v, lead_ohm=lead_ohm)


def solve_strip(*, strip: Strip, feeds: Sequence[int], supply_v: float, lead_ohm: float = 1e-3) -> StripState:
    """As `strip_ladder`, for a strip already described.

    Parameters
    ----------
    strip : Strip
        The strip.
    feeds : sequence of int
        Joints that are fed.
    supply_v : float
        Voltage of the supply. [V]
    lead_ohm : float
        Both wires of each lead together. [ohm]

    Returns
    -------
    StripState
    """
    positive(supply_v=supply_v, lead_ohm=lead_ohm)
    if not feeds or len(set(feeds)) != len(feeds):
        raise RangeError("a strip needs at least one feed, each at a joint of its own")
    for joint in feeds:
        within("feed", joint, 0, strip.segments, "the joints of the strip")
    net = _Network(strip=strip, feeds=tuple(feeds), supply_v=supply_v, lead_s=1 / lead_ohm)
    nodes = net.solve()
    middles = tuple(nodes[1::2])
    share = tuple(strip.current_a(v) / strip.segment_a for v in middles)
    feed_a = tuple((supply_v - nodes[2 * joint]) / lead_ohm for joint in feeds)
    brightest = max(share)
    return StripState(
        voltage_v=middles,
        share=share,
        feed_a=feed_a,
        dimmest=min(share) / brightest if brightest > 0 else 0.0,
        power_w=supply_v * sum(feed_a),
    )


def _placements(*, segments: int, count: int, allowed: Sequence[int] | None) -> Iterator[tuple[int, ...]]:
    """Ways to place so many feeds: all of the allowed joints, or evenly with and without the ends."""
    if allowed is not None:
        yield from combinations(sorted(set(allowed)), count)
        return
    inner = tuple(round((2 * k + 1) * segments / (2 * count)) for k in range(count))
    ends = tuple(round(k * segments / (count - 1)) for k in range(count)) if count > 1 else (0,)
    for joints in (ends, inner):
        if len(set(joints)) == count:
            yield joints


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedPlan:
    """Joints to feed, and how even the strip then is.

    Parameters
    ----------
    feeds : tuple of int
        Joints, 0 to the number of segments.
    dimmest : float
        Least over greatest light. [-]
    """

    feeds: tuple[int, ...]
    dimmest: float


@formula(
    name="elec.fewest_feeds",
    source="search over elec.strip_ladder",
    status="derived",
    validity="even placement, or all of the joints allowed",
)
def fewest_feeds(
    *,
    segments: int,
    segment_ohm: float,
    segment_a: float,
    full_v: float,
    forward_v: float,
    supply_v: float,
    dimmest_share: float,
    lead_ohm: float = 1e-3,
    regulated: bool = False,
    allowed: Sequence[int] | None = None,
    most: int = 8,
) -> FeedPlan:
    """Fewest feed points that keep the dimmest segment above a share of the brightest.

    Parameters
    ----------
    segments, segment_ohm, segment_a, full_v, forward_v, supply_v, lead_ohm, regulated
        As in `strip_ladder`.
    dimmest_share : float
        Least over greatest light that is wanted, below 1. [-]
    allowed : sequence of int, optional
        Joints that can be reached, at most 14 (corners, ends); every choice of them is tried. Without it feeds are spread evenly.
    most : int
        Most feeds to try.

    Returns
    -------
    FeedPlan
        Of the fewest feeds that do, the most even placement; the first at a tie.

    Raises
    ------
    NoDesignError
        If even ``most`` feeds do not.

    References
    ----------
    Derived.
    """
    strip = Strip(
        segments=segments, segment_ohm=segment_ohm, segment_a=segment_a, full_v=full_v, forward_v=forward_v, regulated=regulated
    )  # fmt: skip
    within("dimmest_share", dimmest_share, 0, 1, "a share of the brightest segment")
    within("allowed joints", len(set(allowed or ())), 0, 14, "the search over every choice")
    best = FeedPlan(feeds=(), dimmest=0.0)
    for count in range(1, min(most, segments + 1 if allowed is None else len(set(allowed))) + 1):
        for feeds in _placements(segments=segments, count=count, allowed=allowed):
            dimmest = solve_strip(strip=strip, feeds=feeds, supply_v=supply_v, lead_ohm=lead_ohm).dimmest
            if exceeds(dimmest, best.dimmest) and not isclose(dimmest, best.dimmest, rel_tol=1e-9):
                best = FeedPlan(feeds=feeds, dimmest=dimmest)
        if not exceeds(dimmest_share, best.dimmest):
            return best
    raise NoDesignError(
        f"no placement of up to {most} feeds keeps the dimmest segment at {dimmest_share:.0%} of the brightest",
        nearest=f"{best.dimmest:.1%} with feeds at joints {', '.join(map(str, best.feeds))}",
        advice="Shorten the run, choose a higher voltage or less power per metre.",
    )
