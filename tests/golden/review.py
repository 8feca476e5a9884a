"""Drawings that changed, old beside new; accept one by name, with a reason, after somebody has looked.

A golden test writes a drawing that differs to ``out/golden/FOLDER/NAME.svg``; the one that was looked at is
``tests/golden/FOLDER/NAME.svg``.
"""

from __future__ import annotations

import argparse
import html
import shutil
import sys
from collections.abc import Sequence
from fnmatch import fnmatchcase
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
STYLE = """
body { font-family: sans-serif; margin: 1rem }
section { display: flex; gap: 1rem; margin-bottom: 2rem }
figure { margin: 0; width: 33%; border: 1px solid #999 }
figure div { position: relative; background: white }
img { width: 100%; display: block }
img + img { position: absolute; inset: 0; mix-blend-mode: difference }
"""


def changed(root: Path) -> dict[str, tuple[Path, Path]]:
    """Name to the drawing that was looked at and the new one, where they differ."""
    new = root / "out/golden"
    pairs = {path.relative_to(new).as_posix(): path for path in sorted(new.rglob("*")) if path.suffix in {".svg", ".png", ".webp"}}
    kept = {name: root / "tests/golden" / name for name in pairs}
    return {name: (kept[name], path) for name, path in pairs.items() if not same(kept[name], path)}


def same(old: Path, new: Path) -> bool:
    return old.exists() and old.read_bytes() == new.read_bytes()


def page(pairs: dict[str, tuple[Path, Path]]) -> str:
    """Old, new, and where they differ: equal parts of the third picture are black."""
    parts = [f"<!doctype html><meta charset='utf-8'><title>Changed drawings</title><style>{STYLE}</style>"]
    for name, (old, new) in pairs.items():
        images = [f"<img alt='' src='{html.escape(path.resolve().as_uri())}'>" for path in (old, new)]
        panes = {"looked at": images[0], "new": images[1], "difference": "".join(images)}
        figures = "".join(f"<figure><figcaption>{title}</figcaption><div>{image}</div></figure>" for title, image in panes.items())
        parts.append(f"<h2>{html.escape(name)}</h2><section>{figures}</section>")
    return "\n".join(parts)


def accept(root: Path, names: Sequence[str], *, called: str, because: str) -> None:
    """The new drawings become the ones that were looked at; the reason is kept beside them."""
    pairs = changed(root)
    for old, new in (pairs[name] for name in names):
        old.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(new, old)
    with (root / "tests/golden/accepted.md").open("a", encoding="utf-8", newline="\n") as record:
        record.write(f"- `{called}`: {because}\n")


def main(arguments: Sequence[str], *, root: Path = ROOT) -> int:
    parser = argparse.ArgumentParser(prog="python3 run golden", description=__doc__)
    parser.add_argument("--accept", metavar="NAME", help="the drawing that was looked at and is right; or a pattern, such as pages/sizes.*")
    parser.add_argument("--because", metavar="WHY", help="why it changed")
    asked = parser.parse_args(arguments)
    pairs = changed(root)
    if asked.accept:
        if not (asked.because or "").strip():
            parser.error("--accept needs --because WHY")
        names = [name for name in pairs if fnmatchcase(name, asked.accept)]
        if not names:
            parser.error(f"no changed drawing of that name; there are: {', '.join(pairs) or 'none'}")
        accept(root, names, called=asked.accept, because=asked.because)
        return 0
    if not pairs:
        sys.stdout.write("No drawing has changed.\n")
        return 0
    review = root / "out/golden/review.html"
    review.write_text(page(pairs), encoding="utf-8")
    sys.stdout.write(f"Changed: {', '.join(pairs)}\nLook at {review}\nThen: python3 run golden --accept NAME --because WHY\n")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
