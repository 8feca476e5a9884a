"""The ledger's main entries as a table: size, how far off it may be, and boxes for what the tape says."""

from __future__ import annotations

from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.ledger.ledger import Kind
from halfsilver.ledger.tolerance import tolerance

ACROSS, UP, ONCE = ("top", "middle", "bottom"), ("left", "middle", "right"), ("",)
TO_MEASURE = {
    "screen.outline.width": ACROSS,
    "screen.outline.height": UP,
    "front.rebate.width": ACROSS,
    "front.rebate.height": UP,
    "rear.rebate.width": ACROSS,
    "rear.rebate.height": UP,
    "front.diagonal": ("one", "other"),
    "rear.diagonal": ("one", "other"),
    "front.glass.width": ONCE,
    "front.glass.height": ONCE,
    "front.glass.thickness": ONCE,
    "rear.glass.width": ONCE,
    "rear.glass.height": ONCE,
    "rear.glass.thickness": ONCE,
    "front.remaining": ONCE,
    "batten.depth": ONCE,
    "batten.width": ONCE,
    "batten.short": ONCE,
    "rear.lip_thickness": ONCE,
}
GROUPS = {
    "Outside and sticks": ("outside.", "front.stick.", "rear.stick.", "size."),
    "Openings": (
        "front.rebate.",
        "front.sight.",
        "front.diagonal",
        "front.square",
        "rear.rebate.",
        "rear.sight.",
        "rear.diagonal",
        "rear.square",
    ),
    "Mouldings": ("front.moulding.", "rear.moulding.", "rear.planed", "rear.lip_thickness"),
    "Glass": ("front.glass.", "front.clearance.", "front.bedding", "rear.glass.", "rear.clearance.", "rear.bedding", "fit.glass"),
    "Battens, strip and gap": ("front.remaining", "batten.", "strip.", "glue_line", "spacer_frame", "gap"),
    "Screen in its seat": ("screen.", "fit.screen", "fit.sight_margin.", "spacer", "window.", "backing."),
    "Pockets": ("relief.",),
    "Plates, bars and screws": ("plate.", "bar.", "pad.", "screw.max."),
    "Depths": ("depth.", "stack.depth", "wall.fixing", "recess."),
    "What reaches over the picture": ("reach.", "cover.", "hidden."),
}
LEFT_OUT = (".actual", ".need.width", ".need.height")


def dimension_groups(sizes: Sizes) -> list[dict[str, object]]:
    """Entries by subject, in the ledger's order."""
    return [{"head": head, "rows": rows} for head, starts in GROUPS.items() if (rows := _rows(sizes, starts))]


def readings_to_take(sizes: Sizes) -> list[dict[str, object]]:
    """What to measure, in the order of the work, with a box for each place."""
    return [_row(sizes, name) for name in TO_MEASURE if name in sizes]


def _rows(sizes: Sizes, starts: tuple[str, ...]) -> list[dict[str, object]]:
    return [_row(sizes, name) for name in sizes.design.ledger.entries if _belongs(sizes, name, starts)]


def _belongs(sizes: Sizes, name: str, starts: tuple[str, ...]) -> bool:
    if name.endswith(LEFT_OUT) or not any(
        name == start or (start.endswith(".") and name.startswith(start)) or name.startswith(f"{start}.") for start in starts
    ):
        return False
    if name.startswith("hidden."):
        return name.count(".") == 1 and name != "hidden.share"
    return not (name in ("spacer_frame", "front.bedding", "rear.bedding") and sizes[name] == 0)


def _row(sizes: Sizes, name: str) -> dict[str, object]:
    ledger = sizes.design.ledger
    return {
        "name": printable(name),
        "label": sentence(printable(ledger.entries[name].label)),
        "value": sizes.text(name),
        "origin": ledger.origin(name).value,
        "spread": spread_words(sizes, name),
        "places": [_reading(sizes, name, place) for place in TO_MEASURE.get(name, ())],
    }


def spread_words(sizes: Sizes, name: str) -> str:
    """How far what is built may be off at worst; empty where nothing is known."""
    ledger = sizes.design.ledger
    actual = name if ledger.entries[name].kind is not Kind.TARGET else f"{name}.actual"
    if actual not in ledger:
        return ""
    spread = tolerance(ledger, actual)
    return sizes.limit(spread.worst_mm) if spread.worst_mm else ""


def _reading(sizes: Sizes, name: str, place: str) -> dict[str, str]:
    value = sizes.design.ledger.reading_at(name, place)
    return {"place": place, "read": "" if value is None else sizes.show(value, "mm")}
