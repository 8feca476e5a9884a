"""Options side by side: sizes, depth, mass, what is hidden, gap and price of two to four jobs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from halfsilver.errors import JobError, Problem
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Severity
from halfsilver.model.results import CompareRecord, OptionRecord, SizeRecord
from halfsilver.services.findings import findings
from halfsilver.services.load import Loaded, load, resolve
from halfsilver.services.making import making_of

LEAST, MOST = 2, 4
SIZES = ("outside", "front.sight", "front.glass", "rear.glass")


def compared(jobs: Sequence[str], *, workshop: str | None = None) -> CompareRecord:
    """The options of two to four job files.

    Raises
    ------
    JobError
        If there are fewer or more, or one of them cannot be used: with the problems of all.
    NoDesignError
        If one of them has no design.
    """
    if not LEAST <= len(jobs) <= MOST:
        raise JobError(
            [
                Problem(
                    code="number-of-jobs", read=str(len(jobs)), allowed=f"{LEAST} to {MOST} jobs can be compared.", advice="Name that many."
                )
            ]
        )
    return CompareRecord(options=tuple(option(loaded, resolve(loaded)) for loaded in _all(jobs, workshop)))


def _all(jobs: Sequence[str], workshop: str | None) -> list[Loaded]:
    loaded, problems = [], []
    for job in jobs:
        try:
            loaded.append(load(job, workshop=workshop))
        except JobError as error:
            problems += [problem for problem in error.problems if problem not in problems]
    if problems:
        raise JobError(problems)
    return loaded


def option(loaded: Loaded, design: Design) -> OptionRecord:
    """One option."""
    from halfsilver.services.appearance.findings import headline_numbers
    from halfsilver.services.appearance.predict import predicted

    job, ledger, show = loaded.job, design.ledger, loaded.show
    bill = making_of(design, folder=loaded.folder).bill
    lit = "gap" in ledger
    return OptionRecord(
        job=loaded.file,
        title=job.title,
        construction=job.construction.value,
        scope=job.scope.value,
        pieces=job.quantity,
        sizes={name: _size(design, name, show) for name in SIZES if f"{name}.width" in ledger},
        depth_mm=ledger["outside.depth"],
        depth_shown=show(ledger["outside.depth"], "mm"),
        mass_kg=design.mass_kg,
        hidden_share=ledger.values.get("hidden.share"),
        gap_mm=ledger["gap"] if lit else None,
        gap_shown=show(ledger["gap"], "mm") if lit else None,
        appearance=dict(headline_numbers(predicted(loaded, design))),
        stops=sum(finding.severity is Severity.STOP for finding in findings(design, show)),
        currency=bill.currency,
        price=f"{bill.price:f}",
        tax=f"{bill.tax:f}",
        total=f"{bill.total:f}",
        unpriced=bill.missing,
    )


def _size(design: Design, name: str, show: Show) -> SizeRecord:
    width, height = design.ledger[f"{name}.width"], design.ledger[f"{name}.height"]
    return SizeRecord(width_mm=width, height_mm=height, shown=f"{show(width, 'mm')} x {show(height, 'mm')}")


def table(record: CompareRecord) -> Iterator[tuple[str, ...]]:
    """Rows for a person: what, then one cell for each option; rows that no option has are left out."""
    rows: list[tuple[str, Callable[[OptionRecord], str]]] = [
        ("", lambda o: o.title),
        ("job", lambda o: o.job),
        ("construction", lambda o: f"{o.construction}, {o.scope}"),
        *((name.replace(".", " "), _size_cell(name)) for name in SIZES),
        ("depth", lambda o: o.depth_shown),
        ("mass", lambda o: f"{o.mass_kg:.1f} kg"),
        ("picture hidden", lambda o: "" if o.hidden_share is None else f"{100 * o.hidden_share:.1f} %"),
        ("gap", lambda o: o.gap_shown or ""),
        *((_label(name), _appearance_cell(name)) for name in dict.fromkeys(key for o in record.options for key in o.appearance)),
        ("stops", lambda o: str(o.stops)),
        ("price", lambda o: f"{o.price} {o.currency}" + (f" for {o.pieces}" if o.pieces > 1 else "")),
        ("with tax", lambda o: f"{o.total} {o.currency}"),
        ("not priced", lambda o: "; ".join(o.unpriced)),
    ]
    for name, cell in rows:
        cells = tuple(cell(option) for option in record.options)
        if any(cells):
            yield (name, *cells)


def _size_cell(name: str) -> Callable[[OptionRecord], str]:
    return lambda o: o.sizes[name].shown if name in o.sizes else ""


def _label(name: str) -> str:
    return name.replace("_cd_m2", " (cd/m2)").replace("_", " ")


def _appearance_cell(name: str) -> Callable[[OptionRecord], str]:
    return lambda o: str(o.appearance.get(name, ""))
