"""How far an actual or a gap may be off: worst case, root-sum-square, chance.

Targets do not vary. An actual varies by its operation's deviation, a gap by those of the actuals it is formed of. Each limit is a limit;
for chances a normal distribution with a third of it as standard deviation is assumed (common practice), centred in a one-sided range.

References
----------
Worst case sum |t| and statistical sqrt(sum t^2) of independent centred contributors: textbook tolerance stacks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import erfc, prod, sqrt

from halfsilver.ledger.expression import Arithmetic, Call, Deviation, Expression, Extreme, Name, Number
from halfsilver.ledger.ledger import Kind, Ledger

_MOST_BRANCHES = 64


@dataclass(frozen=True, slots=True)
class Linear:
    """A value and how it moves with each deviation, near the plan."""

    value: float
    slopes: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """What one deviation adds to the worst case [mm], and the entry whose measurement would replace it."""

    source: str
    worst_mm: float
    tightened_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """Spread of an entry: plus-minus worst case and root-sum-square [mm], the range, and who contributes most."""

    worst_mm: float
    rss_mm: float
    low_mm: float
    high_mm: float
    contributions: tuple[Contribution, ...]

    @property
    def largest(self) -> str:
        """Name of the largest contributor; empty if nothing varies."""
        return self.contributions[0].source if self.contributions else ""


def tolerance(ledger: Ledger, name: str) -> Tolerance:
    """Spread of one entry; zero for a target.

    At a near-tie of ``least`` or ``greatest`` the worst of the branches that may govern is reported.
    """
    key = ("tolerance", name)
    if key not in ledger.memo:
        ledger.memo[key] = _tolerance(ledger, name)
    found: Tolerance = ledger.memo[key]
    return found


def _tolerance(ledger: Ledger, name: str) -> Tolerance:
    branches = _spread_of(ledger, name)
    limits = {node.key: node for node in _deviations(ledger, name)}
    ranges = [_range(ledger, branch, limits) for branch in branches]
    worst, rss, chosen = max(
        ((high - low) / 2, _rss(ledger, branch, limits), i) for i, ((low, high), branch) in enumerate(zip(ranges, branches, strict=True))
    )
    parts = [
        Contribution(source=limits[key].source, worst_mm=abs(slope) * _limit(ledger, limits[key]), tightened_by=limits[key].tightened_by)
        for key, slope in branches[chosen].slopes.items()
    ]
    parts.sort(key=lambda part: (-part.worst_mm, part.source))
    return Tolerance(
        worst_mm=worst,
        rss_mm=rss,
        low_mm=max(min(low for low, _ in ranges), _interval_of(ledger, name)[0]),
        high_mm=min(max(high for _, high in ranges), _interval_of(ledger, name)[1]),
        contributions=tuple(parts),
    )


def chance_below(ledger: Ledger, limits_mm: Mapping[str, float], *, samples: int = 4096) -> float:
    """Chance that at least one of the named gaps is below its limit.

    A bound by the sum of the branches' own chances is returned when it is below one in ten thousand; otherwise the gaps are sampled on a
    fixed low-discrepancy sequence, so that the answer is the same every time.

    Parameters
    ----------
    ledger : Ledger
        Resolved entries.
    limits_mm : mapping of str to float
        Gap name to the value below which it fails. [mm]
    samples : int
        Number of samples.

    Returns
    -------
    float
        Probability, 0 to 1.
    """
    bound = sum(_bound_below(ledger, name, limit) for name, limit in limits_mm.items())
    if bound < 1e-4:
        return bound
    nodes = list({node.key: node for name in limits_mm for node in _deviations(ledger, name)}.values())
    needed = _needed(ledger, limits_mm)
    failed = 0
    for draw in _draws(ledger, nodes, samples):
        values = {**ledger.values, **draw}
        for name in needed:
            values[name] = _actual_value(ledger, name, values)
        failed += any(values[name] < limit for name, limit in limits_mm.items())
    return failed / samples


def _actual_value(ledger: Ledger, name: str, values: Mapping[str, float]) -> float:
    return ledger.entries[name].formula.value(values)


def _needed(ledger: Ledger, names: Mapping[str, float]) -> tuple[str, ...]:
    wanted: set[str] = set()
    stack = list(names)
    while stack:
        name = stack.pop()
        if name not in wanted and ledger.entries[name].kind is not Kind.TARGET:
            wanted.add(name)
            stack.extend(ledger.entries[name].formula.names())
    return tuple(name for name in ledger.order if name in wanted)


def _deviations(ledger: Ledger, name: str) -> tuple[Deviation, ...]:
    key = ("deviations", name)
    if key not in ledger.memo:
        formulas = (ledger.entries[needed].formula for needed in _needed(ledger, {name: 0.0}))
        ledger.memo[key] = tuple(node for formula in formulas for node in formula.walk() if isinstance(node, Deviation))
    found: tuple[Deviation, ...] = ledger.memo[key]
    return found


def _interval_of(ledger: Ledger, name: str) -> tuple[float, float]:
    """Range by interval arithmetic, where an extreme is never outside its branches' own; a second bound beside the branches'."""
    if ledger.entries[name].kind is Kind.TARGET:
        return ledger[name], ledger[name]
    key = ("interval", name)
    if key not in ledger.memo:
        ledger.memo[key] = _interval(ledger, ledger.entries[name].formula)
    found: tuple[float, float] = ledger.memo[key]
    return found


def _interval(ledger: Ledger, node: Expression) -> tuple[float, float]:
    if isinstance(node, Name):
        return _interval_of(ledger, node.name)
    if isinstance(node, Deviation):
        reach = _limit(ledger, node)
        return {"both": (-reach, reach), "down": (-reach, 0.0), "up": (0.0, reach)}[node.sided]
    inner = [_interval(ledger, child) for child in node.children()]
    if isinstance(node, Extreme):
        pick = min if node.which == "least" else max
        return pick(low for low, _ in inner), pick(high for _, high in inner)
    if isinstance(node, (Arithmetic, Call)):
        return _corners(ledger, node, inner)
    return inner[-1] if inner else (node.value(ledger.values),) * 2


def _corners(ledger: Ledger, node: Arithmetic | Call, inner: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Least and greatest over the corners of the children's ranges; a call moves along its slopes."""
    if isinstance(node, Arithmetic):
        values = [Arithmetic(node.sign, Number(a), Number(b)).value({}) for a, b in product(*inner)]
        return min(values), max(values)
    stand_ins = [Name(f"#{i}") for i in range(len(inner))]
    nominal = {stand.name: child.value(ledger.values) for stand, child in zip(stand_ins, node.children(), strict=True)}
    bare = Call(node.function, tuple((key, stand) for (key, _), stand in zip(node.arguments, stand_ins, strict=True)))
    slopes = bare.partials(nominal) if any(low != high for low, high in inner) else {}
    low = high = bare.value(nominal)
    for stand, ends in zip(stand_ins, inner, strict=True):
        moved = [slopes.get(stand.name, 0.0) * (end - nominal[stand.name]) for end in ends]
        low, high = low + min(moved), high + max(moved)
    return low, high


def _limit(ledger: Ledger, node: Deviation) -> float:
    return abs(node.limit.value(ledger.values))


def _range(ledger: Ledger, branch: Linear, limits: Mapping[str, Deviation]) -> tuple[float, float]:
    low = high = branch.value
    for key, slope in branch.slopes.items():
        reach = slope * _limit(ledger, limits[key])
        ends = {"both": (-reach, reach), "down": (-reach, 0.0), "up": (0.0, reach)}[limits[key].sided]
        low, high = low + min(ends), high + max(ends)
    return low, high


def _half_range(ledger: Ledger, node: Deviation) -> float:
    return _limit(ledger, node) * (1.0 if node.sided == "both" else 0.5)


def _centre(ledger: Ledger, node: Deviation) -> float:
    return {"both": 0.0, "down": -0.5, "up": 0.5}[node.sided] * _limit(ledger, node)


def _rss(ledger: Ledger, branch: Linear, limits: Mapping[str, Deviation]) -> float:
    return sqrt(sum((slope * _half_range(ledger, limits[key])) ** 2 for key, slope in branch.slopes.items()))


def _bound_below(ledger: Ledger, name: str, limit_mm: float) -> float:
    limits = {node.key: node for node in _deviations(ledger, name)}
    total = 0.0
    for branch in _spread_of(ledger, name):
        sigma = _rss(ledger, branch, limits) / 3
        mean = branch.value + sum(slope * _centre(ledger, limits[key]) for key, slope in branch.slopes.items())
        total += erfc((mean - limit_mm) / (sigma * sqrt(2))) / 2 if sigma > 0 else float(mean < limit_mm)
    return min(total, 1.0)


def _draws(ledger: Ledger, nodes: Sequence[Deviation], samples: int) -> Iterator[dict[str, float]]:
    """Deviations on the additive sequence of the generalised golden ratio (Roberts 2018; Kronecker sequence)."""
    from statistics import NormalDist

    root = 2.0
    for _ in range(60):
        root = (1 + root) ** (1 / (len(nodes) + 1))
    steps = [root ** -(j + 1) % 1.0 for j in range(len(nodes))]
    normal = NormalDist().inv_cdf
    spread = [(_centre(ledger, node), _half_range(ledger, node) / 3, node.key) for node in nodes]
    for i in range(samples):
        yield {
            key: centre + sigma * normal((0.5 + step * (i + 1)) % 1.0 or 0.5)
            for (centre, sigma, key), step in zip(spread, steps, strict=True)
        }


def _spread_of(ledger: Ledger, name: str) -> tuple[Linear, ...]:
    entry = ledger.entries[name]
    if entry.kind is Kind.TARGET:
        return (Linear(ledger[name]),)
    key = ("spread", name)
    if key not in ledger.memo:
        ledger.memo[key] = _spread(ledger, entry.formula)
    found: tuple[Linear, ...] = ledger.memo[key]
    return found


def _spread(ledger: Ledger, node: Expression) -> tuple[Linear, ...]:
    if isinstance(node, Name):
        return _spread_of(ledger, node.name)
    if isinstance(node, Deviation):
        return (Linear(0.0, {node.key: 1.0}),)
    if isinstance(node, Extreme):
        return _active(ledger, node)
    if isinstance(node, (Arithmetic, Call)):
        return _combined(ledger, node)
    inner = node.children()
    return _spread(ledger, inner[-1]) if inner else (Linear(node.value(ledger.values)),)


def _active(ledger: Ledger, node: Extreme) -> tuple[Linear, ...]:
    """What can govern: the nominal branch first, then every branch whose range reaches past the nominal one's."""
    sign = 1.0 if node.which == "least" else -1.0
    limits = {d.key: d for name in node.names() for d in _deviations(ledger, name)} | {
        d.key: d for d in node.walk() if isinstance(d, Deviation)
    }
    options = [_spread(ledger, branch) for branch in node.branches]
    ends = [[sign * end for linear in option for end in _range(ledger, linear, limits)] for option in options]
    first = node.governing(ledger.values)
    kept = [first, *(i for i, own in enumerate(ends) if i != first and min(own) <= max(ends[first]))]
    return tuple(linear for i in kept for linear in options[i])[:_MOST_BRANCHES]


def _combined(ledger: Ledger, node: Arithmetic | Call) -> tuple[Linear, ...]:
    options = [_spread(ledger, child) for child in node.children()]
    while prod(len(option) for option in options) > _MOST_BRANCHES:
        longest = max(range(len(options)), key=lambda i: len(options[i]))
        options[longest] = options[longest][:1]
    return tuple(_linear(node, parts) for parts in product(*options))


def _linear(node: Arithmetic | Call, parts: Sequence[Linear]) -> Linear:
    """The node with its children replaced by named values, so that its own derivatives chain with theirs."""
    stand_ins = [Name(f"#{i}") for i in range(len(parts))]
    values = {name.name: part.value for name, part in zip(stand_ins, parts, strict=True)}
    bare: Expression
    if isinstance(node, Arithmetic):
        bare = Arithmetic(node.sign, stand_ins[0], stand_ins[1])
    else:
        bare = Call(node.function, tuple((key, stand) for (key, _), stand in zip(node.arguments, stand_ins, strict=True)))
    slopes: dict[str, float] = {}
    varying = [part for part in parts if part.slopes]
    outer = bare.partials(values) if varying else {}
    for name, part in zip(stand_ins, parts, strict=True):
        for key, slope in part.slopes.items():
            slopes[key] = slopes.get(key, 0.0) + outer.get(name.name, 0.0) * slope
    return Linear(bare.value(values), slopes)
