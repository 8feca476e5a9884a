"""Short ways to declare ledger entries, one per origin and kind."""

from __future__ import annotations

from halfsilver.ledger.expression import Deviation, Expression, Number, Operand, as_expression, greatest, least, mm
from halfsilver.ledger.ledger import Entry, Kind, Ledger, Measurement, Origin
from halfsilver.ledger.ledger import PlaceRule as PlaceRule
from halfsilver.model.workshop import Tape


def given(
    name: str,
    label: str,
    value: float,
    origin: Origin,
    source: str = "",
    *,
    unit: str = "mm",
    reason: str = "",
    runner_up: str = "",
    places: PlaceRule = "last",
) -> Entry:
    """A value that comes from outside the ledger, with where it was found."""
    return Entry(
        name=name,
        label=label,
        formula=Number(float(value), unit),
        origin=origin,
        source=source,
        unit=unit,
        reason=reason,
        runner_up=runner_up,
        places=places,
    )


def asked(name: str, label: str, value: float, source: str, *, unit: str = "mm", places: PlaceRule = "last") -> Entry:
    """What the job asks for."""
    return given(name, label, value, Origin.ASKED, source, unit=unit, places=places)


def allowance(name: str, label: str, value: float, source: str = "") -> Entry:
    """What the workshop allows."""
    return given(name, label, value, Origin.ALLOWANCE, source)


def catalogue(name: str, label: str, value: float, source: str, *, unit: str = "mm", places: PlaceRule = "last") -> Entry:
    """What a catalogue says."""
    return given(name, label, value, Origin.CATALOGUE, source, unit=unit, places=places)


def target(name: str, label: str, formula: Operand, *, places: PlaceRule = "last", unit: str = "mm", reason: str = "") -> Entry:
    """A number on a drawing, derived."""
    return Entry(name=name, label=label, formula=as_expression(formula), places=places, unit=unit, reason=reason)


def actual(name: str, label: str, formula: Operand) -> Entry:
    """What will be there."""
    return Entry(name=name, label=label, formula=as_expression(formula), kind=Kind.ACTUAL)


def gap(name: str, label: str, formula: Operand, *, serves: tuple[str, ...] = (), at_least: float | None = None, unit: str = "mm") -> Entry:
    """What is formed of actuals: here lives the risk."""
    return Entry(name=name, label=label, formula=as_expression(formula), kind=Kind.GAP, serves=serves, at_least=at_least, unit=unit)


def tape_limit_mm(tape: Tape, length_mm: float) -> float:
    """Limit of error of a tape at a length: constant plus a share per whole metre begun. [mm]

    References
    ----------
    OIML R 35 counts length in whole metres rounded up (from memory).
    """
    return tape.constant + tape.per_metre * -(-abs(length_mm) // 1000.0)


def as_read(name: str, readings: tuple[Measurement, ...], tape: Tape, *, places: PlaceRule = "last") -> Expression | None:
    """What is there once it was measured: reading and tape, places combined by the entry's rule; None where nothing was read."""
    taken = Ledger.of((), readings).readings.get(name, {})
    if places == "last" and taken:
        final = next(m for m in reversed(readings) if m.name == name)
        taken = {final.at: final}
    branches = [
        mm(m.value_mm) + Deviation(f"tape on {name}{f' at {m.at}' if m.at else ''}", mm(tape_limit_mm(tape, m.value_mm)))
        for m in taken.values()
    ]
    if not branches:
        return None
    return branches[0] if len(branches) == 1 else least(*branches) if places == "least" else greatest(*branches)
