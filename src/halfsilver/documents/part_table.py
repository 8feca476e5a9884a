"""The list of parts: what is made here, what is bought, what others bring, as the job's scope has it."""

from __future__ import annotations

from halfsilver.documents.sizes import Sizes
from halfsilver.documents.summary import mass_text
from halfsilver.documents.words import printable, sentence
from halfsilver.model.design import Part
from halfsilver.model.job import Scope

MADE, BOUGHT, OTHERS = "Made here", "Bought, cut or bent here", "Brought by others: not made here"
HARDWARE = ("plate", "bar", "strip")


def part_groups(sizes: Sizes) -> list[dict[str, object]]:
    """Parts by who makes them."""
    rows: dict[str, list[dict[str, str]]] = {MADE: [], BOUGHT: [], OTHERS: []}
    for part in sizes.design.parts:
        rows[_maker(sizes, part)].append(_row(sizes, part))
    return [{"head": head, "rows": found} for head, found in rows.items() if found]


def _maker(sizes: Sizes, part: Part) -> str:
    scope, facts = sizes.design.facts.job.scope, sizes.design.facts
    kind = part.id.split("-")[0]
    if part.id == "screen":
        return OTHERS
    if part.id.endswith("-glass"):
        glass = facts.front_glass if part.id == "front-glass" else facts.rear_glass
        return OTHERS if scope is Scope.FRAME_ONLY else MADE if glass.cut_here else BOUGHT
    if scope is Scope.GLASS_ONLY or (scope is Scope.FRAME_ONLY and kind == "strip"):
        return OTHERS
    return BOUGHT if kind in HARDWARE else MADE


def _row(sizes: Sizes, part: Part) -> dict[str, str]:
    return {
        "id": part.id,
        "name": sentence(part.name),
        "material": printable(part.material)[:60],
        "size": " × ".join(sizes.show(size, "mm") for size in part.size_mm),
        "quantity": str(part.quantity),
        "mass": mass_text(sizes, part.mass_kg),
        "total": mass_text(sizes, part.mass_kg * part.quantity),
    }
