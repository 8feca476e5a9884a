"""Sheet tasks: glass that is scored and snapped here, acrylic and boards that are sawn."""

from __future__ import annotations

from collections.abc import Sequence

from halfsilver.layout.design import Design
from halfsilver.ledger.shown import shower
from halfsilver.making.cutting.instance import Pane, Sheet, SheetInstance
from halfsilver.making.grid import PER_MM, UNIT, piece_units
from halfsilver.making.stock import plain_name, plain_rows, rows_of, sheets
from halfsilver.making.tasks import CutTask
from halfsilver.model.design import Part
from halfsilver.model.making import MissingStock
from halfsilver.model.workshop import GlassDuty, GlassMake, StockForm, StockSize

Made = CutTask | MissingStock
STAGES = 3


def glass_task(design: Design, material: str, parts: Sequence[Part]) -> Made:
    """Panes of one kind: scored without kerf; acrylic is sawn. A coated pane keeps its direction where the catalogue says so."""
    kind = design.facts.workshop.glass[material]
    sawn = kind.make is GlassMake.ACRYLIC
    rows = rows_of(design.facts.workshop, material, StockForm.SHEET)
    notes = ["Sawn; leave the film on." if sawn else "Scored and snapped; nothing is lost at a score."]
    if kind.duty is GlassDuty.MIRROR:
        notes.append("Lay the sheet on its painted back, score the clear face (common practice), and never turn a pane over.")
    elif kind.duty is GlassDuty.SPLITTER:
        notes.append("Lay the sheet with its coated face up and mark that face on every pane before the first cut; never turn a pane over.")
    if not kind.may_turn:
        notes.append("A pane may not be turned by a quarter.")
    return _task(
        design, material, kind.name, rows, parts, kerf_mm=design.facts.workshop.allowances.kerf if sawn else 0.0,
        min_strip_mm=kind.min_strip, rotate=kind.may_turn, notes=tuple(notes),
    )  # fmt: skip


def board_task(design: Design, material: str, parts: Sequence[Part]) -> Made:
    """Backing and back panel: sawn, edge to edge."""
    rows = rows_of(design.facts.workshop, material, StockForm.SHEET) or _boards(design)
    found, shop = rows[0].of if rows else material, design.facts.workshop
    return _task(
        design, found, plain_name(shop, found, "board"), rows, parts, kerf_mm=shop.allowances.kerf, min_strip_mm=0.0, rotate=True,
        notes=("Sawn edge to edge.",),
    )  # fmt: skip


def _boards(design: Design) -> tuple[StockSize, ...]:
    """Plain boards nearest in density to the workshop's backing."""
    rows = plain_rows(design.facts.workshop, StockForm.SHEET)
    if not rows:
        return ()
    best = min(rows, key=lambda row: (abs(row.density - design.facts.habits.backing_density), row.of)).of
    return rows_of(design.facts.workshop, best, StockForm.SHEET)


def _task(
    design: Design,
    material: str,
    name: str,
    rows: tuple[StockSize, ...],
    parts: Sequence[Part],
    *,
    kerf_mm: float,
    min_strip_mm: float,
    rotate: bool,
    notes: tuple[str, ...],
) -> Made:
    quantity = design.facts.job.quantity
    panes = tuple(
        Pane(
            id=part.id, width=piece_units(part.size_mm[0]), height=piece_units(part.size_mm[1]), qty=part.quantity * quantity,
            rotate=rotate,
        )
        for part in parts
    )  # fmt: skip
    instance = SheetInstance(
        id=material, unit=UNIT, kerf=piece_units(kerf_mm), stock=tuple(sheets(rows, trim_mm=design.facts.workshop.allowances.trim_sheet)),
        pieces=panes, stages=STAGES, exact=False, min_strip=piece_units(min_strip_mm),
    )  # fmt: skip
    owner = {part.id: part.id for part in parts}
    return _short(design, material, name, instance) or CutTask(
        material=material, name=name, instance=instance, piece_to_part=owner, notes=notes
    )


def _short(design: Design, material: str, name: str, instance: SheetInstance) -> MissingStock | None:
    """Why no plan can exist, where one look tells it."""
    if not instance.stock:
        return MissingStock(
            material=material, parts=tuple(pane.id for pane in instance.pieces), rule="cutting.no_stock",
            why=f"There is no sheet of {name} in the stock.", advice=f"Add a sheet of {material} with its price to the stock.",
        )  # fmt: skip
    large = [pane for pane in instance.pieces if not any(fits(pane, sheet, instance) for sheet in instance.stock)]
    if not large:
        return None
    job = design.facts.job
    show = shower(units=job.units.value, fraction=job.fraction)
    worst = max(large, key=lambda pane: pane.width * pane.height)
    best = max(instance.stock, key=lambda sheet: sheet.usable_width * sheet.usable_height)
    trim = min(sheet.trim.left + sheet.trim.right for sheet in instance.stock)
    turned = not worst.rotate and any(fits(_turned(worst), sheet, instance) for sheet in instance.stock)

    def size(width: int, height: int) -> str:
        return f"{show(width / PER_MM, 'mm')} × {show(height / PER_MM, 'mm')}"

    return MissingStock(
        material=material,
        parts=tuple(pane.id for pane in large),
        rule="cutting.sheet_too_small",
        why=f"{worst.id} of {size(worst.width, worst.height)} comes out of no sheet of {name}: "
        f"the largest gives {size(best.usable_width, best.usable_height)} within its trim, and no strip that is broken off may be narrower "
        f"than {show(instance.min_strip / PER_MM, 'mm')}.",
        advice=f"Order the pane cut to size, or a sheet of at least {size(worst.width + trim, worst.height + trim)}."
        + (" Turned by a quarter it would come out, but its coating may not be turned." if turned else ""),
        value_mm=max(worst.width, worst.height) / PER_MM,
        limit_mm=max(best.usable_width, best.usable_height) / PER_MM,
    )


def fits(pane: Pane, sheet: Sheet, instance: SheetInstance) -> bool:
    """Whether a pane alone comes out of a sheet: it goes in, and what is cut off beside it is wide enough or nothing."""
    ways = [(pane.width, pane.height), (pane.height, pane.width)] if pane.rotate else [(pane.width, pane.height)]
    return any(_leaves(sheet.usable_width - w, instance) and _leaves(sheet.usable_height - h, instance) for w, h in ways)


def _leaves(rest: int, instance: SheetInstance) -> bool:
    return rest == 0 or (rest > 0 and rest - instance.kerf >= instance.min_strip) or 0 < rest <= instance.kerf


def _turned(pane: Pane) -> Pane:
    return Pane(id=pane.id, width=pane.height, height=pane.width, qty=pane.qty, rotate=False)
