"""Linear tasks: mitred sticks, the frame between the frames, battens, bars, and strip in whole segments."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import shower
from halfsilver.making.cutting.instance import BarPiece, End, LinearInstance, MitreRule
from halfsilver.making.grid import UNIT, mitre_kerf_units, piece_units, stock_units
from halfsilver.making.stock import bars, plain_name, plain_rows, rows_of
from halfsilver.making.tasks import CutTask
from halfsilver.model.design import Part
from halfsilver.model.making import MissingStock
from halfsilver.model.workshop import StockForm, StockSize

Made = CutTask | MissingStock
REMNANT_MIN_MM = 150.0
SPARE = "spare-stick"
RUNS = {"width": ("top", "bottom"), "height": ("left", "right")}


def moulding_task(design: Design, material: str, parts: Sequence[Part]) -> Made:
    """Sticks of one moulding, mitred at both ends; those of both frames together, and one spare where the shop wants it."""
    moulding, habits = design.facts.workshop.mouldings[material], design.facts.habits
    pieces, owner = _pieces(design, parts, End.MITRE)
    notes = [f"Lengths are long points. {'The profile may be turned over between two mitres.' if moulding.may_turn_over else ''}".strip()]
    if habits.spare_stick and parts:
        longest = max(parts, key=lambda part: part.size_mm[0])
        pieces.append(BarPiece(id=SPARE, length=piece_units(longest.size_mm[0]), qty=1, left=End.MITRE, right=End.MITRE))
        owner[SPARE] = longest.id
        notes.append("One spare stick, as long as the longest: it can replace any other.")
    kerf = design.facts.workshop.allowances.kerf
    face = piece_units(max(part.size_mm[1] for part in parts))
    rule = MitreRule(kerf=mitre_kerf_units(kerf), nest=face if moulding.may_turn_over else 0, flip=moulding.may_turn_over)
    rows = rows_of(design.facts.workshop, material, StockForm.STICK)
    return _task(design, material, moulding.name, rows, pieces, owner, mitre=rule, notes=tuple(notes))


def section_task(design: Design, parts: Sequence[Part], end: End, what: str) -> Made:
    """Sticks of one section, from the smallest plain timber that is large enough to be ripped and planed to it."""
    width, depth = parts[0].size_mm[1], parts[0].size_mm[2]
    found = _section(plain_rows(design.facts.workshop, StockForm.STICK), width, depth)
    if not found:
        show = _show(design)
        return MissingStock(
            material=parts[0].material,
            parts=tuple(part.id for part in parts),
            rule="cutting.no_stock",
            why=f"No plain timber in the stock has a section of {show(width)} × {show(depth)} for {what}.",
            advice=f"Add a stick of {parts[0].material} of at least that section to the stock.",
            value_mm=max(width, depth),
            limit_mm=None,
        )
    pieces, owner = _pieces(design, parts, end)
    rule = MitreRule(kerf=mitre_kerf_units(design.facts.workshop.allowances.kerf)) if end is End.MITRE else MitreRule()
    note = f"Ripped and planed to {_show(design)(width)} × {_show(design)(depth)} before it is cut to length."
    return _task(
        design, found[0].of, plain_name(design.facts.workshop, found[0].of, "plain timber"), found, pieces, owner, mitre=rule, notes=(note,)
    )


def batten_tasks(design: Design, battens: Sequence[Part], packing: Sequence[Part]) -> Iterator[Made]:
    """Battens, and the packing behind a mirror with them where their stock is large enough for it."""
    if packing and battens and any(_holds(row, *packing[0].size_mm[1:]) for row in _batten_rows(design, battens)):
        yield batten_task(design, battens, packing)
        return
    if battens:
        yield batten_task(design, battens)
    if packing:
        yield section_task(design, packing, End.SQUARE, "the packing behind the mirror")


def _batten_stock(design: Design, parts: Sequence[Part]) -> str:
    return design.facts.job.battens.stock or design.facts.habits.batten or parts[0].material


def _batten_rows(design: Design, parts: Sequence[Part]) -> tuple[StockSize, ...]:
    every = rows_of(design.facts.workshop, _batten_stock(design, parts), StockForm.STICK)
    return tuple(row for row in every if _holds(row, *parts[0].size_mm[1:]))


def batten_task(design: Design, parts: Sequence[Part], packing: Sequence[Part] = ()) -> Made:
    """Battens, square at both ends, one to each length of stock; ripped to width and depth. Packing comes out of the same sticks."""
    material = _batten_stock(design, parts)
    width, depth = parts[0].size_mm[1], parts[0].size_mm[2]
    every = rows_of(design.facts.workshop, material, StockForm.STICK)
    rows = tuple(row for row in _batten_rows(design, parts) if not packing or _holds(row, *packing[0].size_mm[1:]))
    show, name = _show(design), plain_name(design.facts.workshop, material, "batten stock")
    if every and not rows:
        return MissingStock(
            material=material,
            parts=tuple(part.id for part in parts),
            rule="cutting.no_stock",
            why=f"Battens of {show(width)} × {show(depth)} are larger than the section of {name}.",
            advice="Choose another stock for the battens, or narrower battens.",
            value_mm=max(width, depth),
            limit_mm=max(max(row.width, row.height) for row in every),
        )
    pieces, owner = _pieces(design, [*parts, *packing], End.SQUARE)
    notes = [f"Ripped to {show(width)} × {show(depth)}; the short pair is measured after the long pair is in."]
    notes += [f"Packing ripped to {show(part.size_mm[1])} × {show(part.size_mm[2])}." for part in packing[:1]]
    return _task(design, material, name, rows, pieces, owner, notes=tuple(notes))


def bar_task(design: Design, material: str, parts: Sequence[Part]) -> Made:
    """Metal bars, square at both ends."""
    pieces, owner = _pieces(design, parts, End.SQUARE)
    notes = ("Lengths are between the ends as fitted; bend a trial piece first and add what the step takes up.",)
    rows = rows_of(design.facts.workshop, material, StockForm.STICK)
    return _task(design, material, design.facts.workshop.hardware[material].name, rows, pieces, owner, notes=notes)


def strip_task(design: Design, part: Part) -> Made:
    """Strip by side, in whole segments from rolls; a side longer than a roll is linked from equal runs."""
    light, quantity = design.facts.light, design.facts.job.quantity
    rows = rows_of(design.facts.workshop, light.id, StockForm.ROLL)
    segment = piece_units(light.segment)
    most = max((stock_units(row.length) // segment for row in rows), default=0)
    pieces = [
        BarPiece(id=name, length=count * segment, qty=quantity * times)
        for name, count, times in _runs(design, most)
    ]  # fmt: skip
    return _task(
        design, light.id, light.name, rows, pieces, {piece.id: part.id for piece in pieces}, kerf_mm=0.0, trim_mm=0.0, increment=segment,
        notes=tuple(_fed(design)),
    )  # fmt: skip


def _runs(design: Design, most: int) -> Iterator[tuple[str, int, int]]:
    """Name, segments and number of each run; ``most`` is what a roll holds, 0 without a roll."""
    for direction, sides in RUNS.items():
        count = round(design.ledger[f"strip.segments.{direction}"])
        parts = -(-count // most) if most else 1
        for side in sides if count else ():
            if parts == 1:
                yield f"strip-{side}", count, 1
                continue
            small, larger = divmod(count, parts)
            if larger:
                yield f"strip-{side}-of-{small + 1}", small + 1, larger
            yield f"strip-{side}-of-{small}", small, parts - larger


def _fed(design: Design) -> Iterator[str]:
    lights, choices = design.facts.job.lights, design.facts.choices
    assert lights is not None
    feed = choices.feed.value if choices.feed else getattr(lights.feed, "value", "one-end")
    corner = choices.corner.value if choices.corner else getattr(lights.corner, "value", "bottom-right")
    yield f"Fed at the {corner} corner as the viewer sees it ({feed.replace('-', ' ')}); each side is its own run, linked at the corners."


def _pieces(design: Design, parts: Sequence[Part], end: End) -> tuple[list[BarPiece], dict[str, str]]:
    quantity = design.facts.job.quantity
    pieces = [
        BarPiece(id=part.id, length=piece_units(part.size_mm[0]), qty=part.quantity * quantity, left=end, right=end) for part in parts
    ]
    return pieces, {part.id: part.id for part in parts}


def _holds(row: StockSize, width: float, depth: float) -> bool:
    """Whether a section can be ripped from a stick, either way round."""
    have, want = sorted((row.width, row.height)), sorted((width, depth))
    return all(large + 1e-6 >= small for large, small in zip(have, want, strict=True))


def _section(rows: Sequence[StockSize], width: float, depth: float) -> tuple[StockSize, ...]:
    """The rows of the smallest plain timber that holds a section."""
    holding = [row for row in rows if _holds(row, width, depth)]
    if not holding:
        return ()
    best = min(holding, key=lambda row: (row.width * row.height, row.of)).of
    return tuple(row for row in holding if row.of == best)


def _show(design: Design) -> _Shown:
    job = design.facts.job
    return _Shown(units=job.units.value, fraction=job.fraction)


class _Shown:
    """Writes a length in the job's units."""

    def __init__(self, *, units: str, fraction: int) -> None:
        self._show = shower(units="in" if units == "in" else "mm", fraction=fraction)

    def __call__(self, length_mm: float) -> str:
        return self._show(length_mm, "mm")


def _task(
    design: Design,
    material: str,
    name: str,
    rows: tuple[StockSize, ...],
    pieces: Sequence[BarPiece],
    owner: dict[str, str],
    *,
    mitre: MitreRule | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
    increment: int = 0,
    notes: tuple[str, ...] = (),
) -> Made:
    allowances = design.facts.workshop.allowances
    kerf = piece_units(allowances.kerf if kerf_mm is None else kerf_mm)
    cut = max(kerf, mitre.kerf if mitre else 0)
    trim = allowances.trim_stick if trim_mm is None else trim_mm
    instance = LinearInstance(
        id=material, unit=UNIT, kerf=kerf, stock=tuple(bars(rows, trim_mm=trim, cut_units=cut)), pieces=tuple(pieces),
        mitre=mitre or MitreRule(), increment=increment, remnant_min=piece_units(REMNANT_MIN_MM),
    )  # fmt: skip
    return _short(design, material, name, instance, owner) or CutTask(
        material=material, name=name, instance=instance, piece_to_part=owner, notes=notes
    )


def _short(design: Design, material: str, name: str, instance: LinearInstance, owner: dict[str, str]) -> MissingStock | None:
    """Why no plan can exist, where one look tells it."""
    parts = tuple(dict.fromkeys(owner[piece.id] for piece in instance.pieces))
    if not instance.stock:
        return MissingStock(
            material=material, parts=parts, rule="cutting.no_stock", why=f"There is no stock of {name}.",
            advice=f"Add a length of {material} with its price to the stock.",
        )  # fmt: skip
    usable = max(bar.usable for bar in instance.stock)
    long = [piece for piece in instance.pieces if piece.length > usable]
    if not long:
        return None
    show, worst = _show(design), max(long, key=lambda piece: piece.length)
    ends = min(bar.trim.left + bar.trim.right for bar in instance.stock)
    return MissingStock(
        material=material,
        parts=tuple(dict.fromkeys(owner[piece.id] for piece in long)),
        rule="cutting.stick_too_short",
        why=f"{owner[worst.id]} of {show(worst.length / 8000)} is longer than any stick of {name}: "
        f"the longest gives {show(usable / 8000)} between its trimmed ends.",
        advice=f"Buy a length of at least {show((worst.length + ends) / 8000)}, choose another material, or make the piece smaller.",
        value_mm=worst.length / 8000,
        limit_mm=usable / 8000,
    )
