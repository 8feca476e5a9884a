"""What the program gives back, as JSON shows it: one dataclass per shape, from which the schemas are made.

A field that is ``None`` is left out. Lengths are millimetres with ``_mm`` in the key, beside ``shown`` as the job's units print them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from halfsilver.model.design import Layer, Part, Suitability
from halfsilver.model.making import CutGroup, GlassOrder, MissingStock
from halfsilver.model.worked import WorkingRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceRecord:
    """Spread of an actual or a gap: plus-minus worst case and root-sum-square, the range, the largest contributor."""

    worst_mm: float
    rss_mm: float
    low_mm: float
    high_mm: float
    largest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRecord:
    """One measurement that counts."""

    value_mm: float
    at: str
    when: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryRecord:
    """One dimension of the ledger; a count or a share has ``value`` and ``unit`` instead of ``value_mm``."""

    ALWAYS: ClassVar[tuple[str, ...]] = ("tolerance", "planned_mm", "measured", "reason")
    label: str
    value_mm: float | None = None
    value: float | None = None
    unit: str | None = None
    shown: str
    kind: str
    origin: str
    formula: str
    expression: object
    inputs: tuple[str, ...]
    partials: dict[str, float]
    tolerance: ToleranceRecord | None = None
    planned_mm: float | None = None
    measured: tuple[ReadingRecord, ...] | None = None
    reason: str | None = None
    runner_up: str | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignRecord:
    """``design.json``."""

    title: str
    construction: str
    scope: str
    units: str
    ledger: dict[str, EntryRecord]
    parts: tuple[Part, ...]
    layers: tuple[Layer, ...]
    mass_kg: float
    centre_mm: tuple[float, float, float]
    suits: tuple[Suitability, ...]
    digest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRecord:
    """One finding; ``workings`` are there where it was worked out by formulas."""

    rule: str
    source: str
    status: str
    severity: str
    value: float | None
    limit: float | None
    unit: str
    advice: str
    entries: tuple[str, ...]
    workings: tuple[WorkingRecord, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsRecord:
    """``findings.json``."""

    findings: tuple[FindingRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemRecord:
    """One problem of the input."""

    code: str
    file: str
    line: int
    column: int
    path: str
    read: str
    allowed: str
    advice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemsRecord:
    """What ``--json`` prints where the input has to be mended."""

    problems: tuple[ProblemRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyNode:
    """One entry explained, with the entries it rests on."""

    name: str
    value_mm: float | None = None
    value: float | None = None
    unit: str | None = None
    shown: str
    kind: str
    origin: str
    formula: str
    sentence: str
    tolerance: ToleranceRecord | None = None
    inputs: tuple[WhyNode, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRecord:
    """One file of a pack."""

    path: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ManifestRecord:
    """``manifest.json``: what the pack holds, and from what it was made."""

    title: str
    date: str
    revision: int
    design: str
    job: str
    workshop: str
    program: str
    engines: dict[str, str]
    files: tuple[FileRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReckonRecord:
    """The result of one published formula."""

    name: str
    inputs: dict[str, object]
    result: object
    unit: str
    source: str
    status: str
    validity: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ParameterRecord:
    """One parameter of a published formula."""

    name: str
    unit: str
    default: object | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaRecord:
    """One published formula, as listed."""

    name: str
    summary: str
    parameters: tuple[ParameterRecord, ...]
    unit: str
    source: str
    status: str
    validity: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulasRecord:
    """``reckon --list --json``."""

    formulas: tuple[FormulaRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanRecord:
    """``cut_plan.json``: what is cut out of what, what is ordered to size, and what no stock was found for."""

    groups: tuple[CutGroup, ...]
    orders: tuple[GlassOrder, ...]
    missing: tuple[MissingStock, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ViolationRecord:
    """One thing that is wrong with a cutting plan: a short name that stays, bar or sheet or piece, and a sentence with the numbers."""

    code: str
    where: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCheckRecord:
    """What ``cut-check --json`` prints; ``cost`` is null where the plan names stock that the task does not have."""

    feasible: bool
    cost: float | None
    violations: tuple[ViolationRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLineRecord:
    """One line of the bill; money is a decimal string."""

    what: str
    kind: str
    quantity: float
    unit: str
    each: str
    total: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BillRecord:
    """``bill.json``: the shop's view. ``margin`` and ``tax`` are amounts, beside their shares."""

    currency: str
    pieces: int
    lines: tuple[BillLineRecord, ...]
    cost: str
    price: str
    margin: str
    margin_share: float
    taxable: str
    tax: str
    tax_share: float
    total: str
    deposit: str
    balance: str
    valid_days: int
    missing: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRecord:
    """Width and height of something, and as the job's units print them."""

    width_mm: float
    height_mm: float
    shown: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionRecord:
    """One option of a comparison; ``appearance`` holds its numbers as far as they exist."""

    job: str
    title: str
    construction: str
    scope: str
    pieces: int
    sizes: dict[str, SizeRecord]
    depth_mm: float
    depth_shown: str
    mass_kg: float
    hidden_share: float | None = None
    gap_mm: float | None = None
    gap_shown: str | None = None
    appearance: dict[str, object]
    stops: int
    currency: str
    price: str
    tax: str
    total: str
    unpriced: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareRecord:
    """Two to four options side by side."""

    options: tuple[OptionRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRecord:
    """One thing that differs from the last revision, and why; ``roots`` are the names in the ledger that started it."""

    name: str
    label: str
    was: str
    now: str
    reason: str
    roots: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangesRecord:
    """``changes.json``: what changed since the revision before; ``since`` is 0 where there was none.

    ``sizes`` holds every target that moved, ``lines`` the same in words for what is cut, bought and paid.
    """

    revision: int
    since: int
    sizes: tuple[ChangeRecord, ...]
    parts: tuple[ChangeRecord, ...]
    price: tuple[ChangeRecord, ...]
    lines: tuple[str, ...]
