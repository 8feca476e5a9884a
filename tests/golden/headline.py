"""About sixty headline values of all examples: a change detector, not a check.

Nothing outside the project says that these are right; other tests do that. A change of one of them is to be looked at, and told:

    python tests/golden/headline.py --because "the usual clearance is larger"

writes them anew and leaves a line in ``changelog.d`` with old and new.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from halfsilver.services.load import load, resolve
from halfsilver.services.making import making_of

ROOT = Path(__file__).resolve().parents[2]
KEPT = Path(__file__).with_name("numbers.json")
FRAGMENT = ROOT / "changelog.d" / "headline.numbers.md"
ENTRIES = (
    "outside.width", "outside.height", "outside.depth", "front.rebate.width", "front.glass.width", "front.glass.height", "rear.glass.width",
    "batten.depth", "batten.short", "gap",
    "strip.segments", "screen.proud", "bar.step", "hidden.share", "cover.left", "packing", "window.left",
)  # fmt: skip


def headline() -> dict[str, dict[str, float | str]]:
    """The values, by example and name; lengths in millimetres."""
    found: dict[str, dict[str, float | str]] = {}
    for path in sorted((ROOT / "examples").glob("*.yaml")):
        design = resolve(load(str(path)))
        making = making_of(design)
        told: dict[str, float | str] = {name: round(design.ledger[name], 4) for name in ENTRIES if name in design.ledger}
        told |= {"mass_kg": round(design.mass_kg, 3), "steps": len(making.steps), "price": str(making.bill.price)}
        found[path.stem] = told
    return found


def moved(old: dict[str, dict[str, float | str]], new: dict[str, dict[str, float | str]]) -> list[str]:
    """What differs, one line each, old and new."""
    names = sorted({(example, name) for side in (old, new) for example, values in side.items() for name in values})
    pairs = [(f"{example} {name}", old.get(example, {}).get(name), new.get(example, {}).get(name)) for example, name in names]
    return [f"{what}: {before} -> {after}" for what, before, after in pairs if before != after]


def main(arguments: list[str]) -> int:
    """Write the values anew, with the reason."""
    if len(arguments) != 2 or arguments[0] != "--because":
        sys.stderr.write("Say why: --because WHY\n")
        return 2
    new = headline()
    lines = moved(json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}, new)
    KEPT.write_text(json.dumps(new, indent=1, sort_keys=True) + "\n", "utf-8")
    told = FRAGMENT.read_text("utf-8") if FRAGMENT.exists() else ""
    FRAGMENT.write_text(told + f"- {arguments[1]}\n" + "".join(f"  - {line}\n" for line in lines), "utf-8")
    sys.stderr.write("\n".join([*lines, ""]))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
