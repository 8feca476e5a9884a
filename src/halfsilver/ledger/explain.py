"""Why an entry has its value: one sentence, then the tree down to what was asked, catalogued, allowed, assumed or measured."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from halfsilver.ledger.expression import Call, Chosen, Extreme, Rounded, Voice
from halfsilver.ledger.ledger import Entry, Kind, Ledger, Origin
from halfsilver.ledger.tolerance import Tolerance, chance_below, tolerance

Quantity = Callable[[float, str], str]

GIVEN = {
    Origin.ASKED: "asked in the job",
    Origin.CATALOGUE: "from the catalogue",
    Origin.ALLOWANCE: "the workshop's allowance",
    Origin.ASSUMED: "assumed",
    Origin.MEASURED: "measured",
    Origin.DERIVED: "derived",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """One entry explained; ``inputs`` are the entries its formula names, explained alike.

    ``tolerance`` is its own, or for a target that of the gap it serves.
    """

    name: str
    value: float
    unit: str
    shown: str
    kind: str
    origin: str
    formula: str
    sentence: str
    tolerance: Tolerance | None
    inputs: tuple[Why, ...]


def why(ledger: Ledger, name: str, *, show: Quantity) -> Why:
    """Explain one entry.

    Parameters
    ----------
    ledger : Ledger
        Resolved entries.
    name : str
        One of its names.
    show : callable
        Writes a value with its unit in the job's own units.

    Returns
    -------
    Why
        The sentence, the tree of inputs and the tolerance.
    """
    return _explained(ledger, name, show, {})


def _explained(ledger: Ledger, name: str, show: Quantity, known: dict[str, Why]) -> Why:
    if name in known:
        return known[name]
    entry = ledger.entries[name]
    risk = name if entry.kind is not Kind.TARGET else next(iter(gaps_served(ledger, name)), "")
    spread = tolerance(ledger, risk) if risk else None
    known[name] = Why(
        name=name,
        value=ledger[name],
        unit=entry.unit,
        shown=show(ledger[name], entry.unit),
        kind=entry.kind.value,
        origin=ledger.origin(name).value,
        formula=entry.formula.words(Voice(show)),
        sentence=sentence(ledger, entry, show),
        tolerance=spread,
        inputs=tuple(_explained(ledger, child, show, known) for child in entry.formula.names()),
    )
    return known[name]


def sentence(ledger: Ledger, entry: Entry, show: Quantity) -> str:
    """What the entry is and why, as a maker would say it."""
    head = f"{_capital(entry.label)} is {show(ledger[entry.name], entry.unit)}"
    return f"{head}{_because(ledger, entry, show)}{_served(ledger, entry, show)}"


def _because(ledger: Ledger, entry: Entry, show: Quantity) -> str:
    voice = Voice(show, lambda name: f"{ledger.entries[name].label} {show(ledger[name], ledger.entries[name].unit)}")
    reason = f" Chosen because {entry.reason}." if entry.reason else ""
    runner_up = f" Next best: {entry.runner_up}." if entry.runner_up else ""
    if ledger.is_measured(entry.name):
        return f", as measured{_places(ledger, entry, show)}; planned was {show(ledger.planned[entry.name], entry.unit)}."
    if not entry.formula.names():
        source = f": {entry.source}" if entry.source else ""
        return f", {GIVEN[entry.origin]}{source}.{reason}{runner_up}"
    return f": {entry.formula.words(voice)}{_governed(ledger, entry)}.{reason}{runner_up}"


def _places(ledger: Ledger, entry: Entry, show: Quantity) -> str:
    taken = ledger.readings[entry.name].values()
    said = [f"{show(m.value_mm, entry.unit)}{f' at {m.at}' if m.at else ''}" for m in taken]
    rule = {"least": ", the least counts", "greatest": ", the greatest counts", "last": ""}[entry.places] if len(said) > 1 else ""
    return f" ({', '.join(said)}{rule})"


def _governed(ledger: Ledger, entry: Entry) -> str:
    node = entry.formula
    while isinstance(node, (Rounded, Chosen)):
        node = node.inner
    if not isinstance(node, Extreme) or not node.labels:
        return ""
    label = node.labels[node.governing(ledger.values)]
    return f" ({label} decides)" if label else ""


def _served(ledger: Ledger, entry: Entry, show: Quantity) -> str:
    served = [tolerance_sentence(ledger, gap, show) for gap in gaps_served(ledger, entry.name)]
    own = [tolerance_sentence(ledger, entry.name, show)] if entry.kind is not Kind.TARGET else []
    return "".join(f" {text}" for text in own + served if text)


def gaps_served(ledger: Ledger, name: str) -> tuple[str, ...]:
    """The gaps whose risk a target carries."""
    return tuple(gap.name for gap in ledger.entries.values() if name in gap.serves)


def tolerance_sentence(ledger: Ledger, name: str, show: Quantity) -> str:
    """How far an actual or a gap may be off, what contributes most, and what would tighten it."""
    spread = tolerance(ledger, name)
    if not spread.contributions or spread.worst_mm == 0.0:
        return ""
    entry = ledger.entries[name]
    text = (
        f"{_capital(entry.label)} {show(ledger[name], entry.unit)} may be off by {_fine(spread.worst_mm)} at worst, "
        f"{_fine(spread.rss_mm)} by root-sum-square ({_fine(spread.low_mm)} to {_fine(spread.high_mm)}); most of it from {spread.largest}."
    )
    if entry.at_least is not None:
        text += f" Chance that it falls below {_fine(entry.at_least)}: {_chance(chance_below(ledger, {name: entry.at_least}))}."
    cure = next((part.tightened_by for part in spread.contributions if part.tightened_by), "")
    return text + (f" Measuring {cure} would tighten it." if cure else "")


def _fine(length_mm: float) -> str:
    return f"{length_mm:.2f} mm"


def _chance(chance: float) -> str:
    return "less than 1 in 10 000" if chance < 1e-4 else f"{100 * chance:.2g} %"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def lines(explained: Why, *, depth: int = 0, told: set[str] | None = None) -> Iterator[str]:
    """The tree as indented text; an entry met again is only named.

    Yields
    ------
    str
        One line per entry: name = formula = value, origin.
    """
    told = set() if told is None else told
    again = explained.name in told and bool(explained.inputs)
    formula = "" if explained.formula == explained.shown or again else f" = {explained.formula}"
    note = "see above" if again else explained.origin
    yield f"{'  ' * depth}{explained.name}{formula} = {explained.shown}  ({note})"
    if again:
        return
    told.add(explained.name)
    for child in explained.inputs:
        yield from lines(child, depth=depth + 1, told=told)


def limiting(ledger: Ledger, name: str) -> str:
    """Label of the branch that decides an entry formed by ``least`` or ``greatest``; empty where there is none."""
    for node in ledger.entries[name].formula.walk():
        if isinstance(node, Extreme) and node.labels:
            return node.labels[node.governing(ledger.values)]
        if isinstance(node, Call):
            return ""
    return ""
