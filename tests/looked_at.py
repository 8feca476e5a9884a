"""A drawing held against the one that somebody has looked at: a change detector, not a proof."""

from __future__ import annotations

from pathlib import Path

import pytest

TESTS = Path(__file__).parent


def hold(folder: str, name: str, now: str) -> None:
    """Fail where a drawing is not ``golden/FOLDER/NAME.svg``, and keep the new one in ``out/golden`` for whoever looks at it."""
    seen, changed = TESTS / "golden" / folder / f"{name}.svg", TESTS.parent / "out" / "golden" / folder
    if not seen.exists() or seen.read_text(encoding="utf-8") != now:
        changed.mkdir(parents=True, exist_ok=True)
        (changed / f"{name}.svg").write_text(now, encoding="utf-8", newline="\n")
        pytest.fail(f"{name}.svg is not the drawing that was looked at; the new one is in {changed}")
