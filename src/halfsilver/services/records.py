"""Designs, findings and explanations as the records that JSON shows."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from math import isfinite
from typing import Any

from halfsilver.engineering.working import Working
from halfsilver.errors import Problem
from halfsilver.layout.design import Design
from halfsilver.ledger.explain import Why
from halfsilver.ledger.expression import Voice
from halfsilver.ledger.ledger import Entry, Kind, Ledger
from halfsilver.ledger.shown import Show
from halfsilver.ledger.tolerance import Tolerance, tolerance
from halfsilver.model.bill import Bill
from halfsilver.model.finding import Finding
from halfsilver.model.making import CutPlan
from halfsilver.model.results import (
    BillLineRecord,
    BillRecord,
    CutPlanRecord,
    DesignRecord,
    EntryRecord,
    FindingRecord,
    FindingsRecord,
    ProblemRecord,
    ProblemsRecord,
    ReadingRecord,
    ToleranceRecord,
    WhyNode,
)
from halfsilver.model.worked import GivenRecord, WorkingRecord

PLACES = 6


def plain(value: Any, *, places: int | None = PLACES) -> Any:
    """A record as JSON can carry it: numbers have six places, or all; a field that is None is left out unless it is always told."""
    if is_dataclass(value) and not isinstance(value, type):
        told = {field.name: getattr(value, field.name) for field in fields(value)}
        always = getattr(value, "ALWAYS", ())
        return {name: plain(inner, places=places) for name, inner in told.items() if inner is not None or name in always}
    if isinstance(value, dict):
        return {str(key): plain(inner, places=places) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(inner, places=places) for inner in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return value if places is None else round(value, places) + 0.0
    return value


def document(name: str, record: Any, *, places: int | None = PLACES) -> dict[str, Any]:
    """A record under its schema's name."""
    return {"schema": f"halfsilver/{name}/1", **plain(record, places=places)}


def as_text(told: dict[str, Any]) -> str:
    """JSON text, the same bytes every time."""
    return json.dumps(told, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def design_record(design: Design, show: Show) -> DesignRecord:
    """``design.json`` of a design."""
    job, ledger = design.facts.job, design.ledger
    return DesignRecord(
        title=job.title,
        construction=job.construction.value,
        scope=job.scope.value,
        units=job.units.value,
        ledger={name: entry_record(ledger, entry, show) for name, entry in ledger.entries.items()},
        parts=design.parts,
        layers=design.layers,
        mass_kg=design.mass_kg,
        centre_mm=design.centre_mm,
        suits=design.suits,
        digest=design.digest,
    )


def entry_record(ledger: Ledger, entry: Entry, show: Show) -> EntryRecord:
    """One entry with its value, words, derivatives and tolerance."""
    name, value = entry.name, ledger[entry.name]
    is_length = entry.unit == "mm"
    readings = ledger.readings.get(name)
    return EntryRecord(
        label=entry.label,
        value_mm=value if is_length else None,
        value=None if is_length else value,
        unit=None if is_length else entry.unit,
        shown=show(value, entry.unit),
        kind=entry.kind.value,
        origin=ledger.origin(name).value,
        formula=entry.formula.words(Voice(show)),
        expression=entry.formula.as_json(),
        inputs=entry.formula.names(),
        partials=ledger.partials(name),
        tolerance=tolerance_record(tolerance(ledger, name)) if entry.kind is not Kind.TARGET else None,
        planned_mm=ledger.planned[name] if readings else None,
        measured=tuple(ReadingRecord(value_mm=m.value_mm, at=m.at, when=m.when, by=m.by) for m in readings.values()) if readings else None,
        reason=entry.reason or None,
        runner_up=entry.runner_up or None,
        source=entry.source or None,
    )


def tolerance_record(spread: Tolerance) -> ToleranceRecord:
    """A spread as JSON shows it."""
    return ToleranceRecord(
        worst_mm=spread.worst_mm, rss_mm=spread.rss_mm, low_mm=spread.low_mm, high_mm=spread.high_mm, largest=spread.largest
    )


def why_record(told: Why) -> WhyNode:
    """An explanation as JSON shows it, nested."""
    is_length = told.unit == "mm"
    return WhyNode(
        name=told.name,
        value_mm=told.value if is_length else None,
        value=None if is_length else told.value,
        unit=None if is_length else told.unit,
        shown=told.shown,
        kind=told.kind,
        origin=told.origin,
        formula=told.formula,
        sentence=told.sentence,
        tolerance=tolerance_record(told.tolerance) if told.tolerance else None,
        inputs=tuple(why_record(inner) for inner in told.inputs),
    )


def findings_record(found: Iterable[Finding], workings: Mapping[Finding, tuple[Working, ...]] | None = None) -> FindingsRecord:
    """``findings.json``, with the workings of those that have any."""
    worked = workings or {}
    return FindingsRecord(
        findings=tuple(
            FindingRecord(
                rule=f.rule,
                source=f.source,
                status=f.status,
                severity=f.severity.value,
                value=f.value,
                limit=f.limit,
                unit=f.unit,
                advice=f.advice,
                entries=f.entries,
                workings=tuple(working_record(working) for working in worked[f]) if f in worked else None,
            )
            for f in found
        )
    )


def working_record(working: Working) -> WorkingRecord:
    """One check as JSON shows it; the use of a limit of nothing is left out where it would be boundless."""
    use = working.use
    return WorkingRecord(
        title=working.title,
        given=tuple(GivenRecord(name=g.name, symbol=g.symbol, value=g.value, unit=g.unit, origin=g.origin) for g in working.given),
        formula=working.formula,
        result=working.result,
        unit=working.unit,
        limit=working.limit,
        side=working.side.value,
        use=use if use is not None and isfinite(use) else None,
        source=working.source,
        limit_source=working.limit_source,
        status=working.status,
        assumptions=working.assumptions,
        confirms=working.confirms,
    )


def problems_record(problems: Iterable[Problem]) -> ProblemsRecord:
    """What ``--json`` prints where the input has to be mended."""
    return ProblemsRecord(problems=tuple(ProblemRecord(**problem.as_dict()) for problem in problems))  # type: ignore[arg-type]


def cut_plan_record(plan: CutPlan) -> CutPlanRecord:
    """``cut_plan.json``."""
    return CutPlanRecord(groups=plan.groups, orders=plan.orders, missing=plan.missing)


def bill_record(bill: Bill) -> BillRecord:
    """``bill.json``: the shop's view."""
    return BillRecord(
        currency=bill.currency,
        pieces=bill.pieces,
        lines=tuple(
            BillLineRecord(
                what=line.what,
                kind=line.kind.value,
                quantity=float(line.quantity),
                unit=line.unit,
                each=f"{line.each:f}",
                total=f"{line.total:f}",
            )
            for line in bill.lines
        ),
        cost=f"{bill.cost:f}",
        price=f"{bill.price:f}",
        margin=f"{bill.margin:f}",
        margin_share=float(bill.margin_share),
        taxable=f"{bill.taxable:f}",
        tax=f"{bill.tax:f}",
        tax_share=float(bill.tax_share),
        total=f"{bill.total:f}",
        deposit=f"{bill.deposit:f}",
        balance=f"{bill.balance:f}",
        valid_days=bill.valid_days,
        missing=bill.missing,
        notes=bill.notes,
    )
