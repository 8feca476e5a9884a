"""What no file of the project may say: places of one machine, addresses of registries, and one word as a verdict."""

from __future__ import annotations

import ast
import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LEFT_OUT = {".git", ".tools", ".venv", ".venv-second", ".hypothesis", "__pycache__", "build", "dist", "out", "demo-pack"}
SUFFIXES = {"", ".py", ".md", ".toml", ".txt", ".in", ".yaml", ".yml", ".json", ".csv", ".svg", ".typ", ".html", ".css", ".js", ".sh"}

# Put together here, so that this file does not find itself.
MACHINE = re.compile(r"(?<![\w.~-])/(?:" + "|".join(("work", "root", "home", "Users", "tmp")) + r")/")
# Any address that ends in the path of a package index, or names one as a host.
REGISTRIES = re.compile(r"https?://[\w.-]+/simple\b|\b(?:registry|files|proxy)\.[\w-]+\.(?:org|com|io)\b")
VERDICT = re.compile(r"\b" + "sa" + r"fe\b", re.IGNORECASE)


def texts(*places: str) -> Iterator[Path]:
    for place in places:
        for folder, folders, names in os.walk(ROOT / place):
            folders[:] = sorted(name for name in folders if name not in LEFT_OUT and not name.endswith(("_cache", ".egg-info")))
            yield from (Path(folder) / name for name in sorted(names) if Path(name).suffix in SUFFIXES and name != "LICENSE")


def hits(pattern: re.Pattern[str], *places: str) -> list[str]:
    found = []
    for path in texts(*places):
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="strict").splitlines(), start=1):
            if pattern.search(line):
                found.append(f"{path.relative_to(ROOT).as_posix()}:{number}: {line.strip()[:100]}")
    return found


def strings(code: str) -> list[tuple[int, str]]:
    return [(n.lineno, n.value) for n in ast.walk(ast.parse(code)) if isinstance(n, ast.Constant) and isinstance(n.value, str)]


def test_the_walk_sees_the_project() -> None:
    seen = {path.relative_to(ROOT).as_posix() for path in texts(".")}
    assert {"run", "README.md", ".ci/run", "src/halfsilver/__init__.py", "examples/foyer.yaml", "requirements.txt"} <= seen


def test_no_path_of_one_machine() -> None:
    assert hits(MACHINE, ".") == []


def test_no_registry_address() -> None:
    assert hits(REGISTRIES, ".") == []


def test_the_program_never_gives_that_verdict() -> None:
    found = [
        f"{path.relative_to(ROOT).as_posix()}:{line}: {value.strip()[:80]}"
        for path in texts("src")
        if path.suffix == ".py"
        for line, value in strings(path.read_text(encoding="utf-8"))
        if VERDICT.search(value)
    ]
    found += [hit for hit in hits(VERDICT, "src", "examples") if not hit.split(":")[0].endswith(".py")]
    assert found == []


@pytest.mark.parametrize(
    ("pattern", "text", "seen"),
    [
        (MACHINE, "see /" + "work/x", True),
        (MACHINE, '"/' + 'home/someone"', True),
        (MACHINE, "src/home/page", False),
        (MACHINE, "https://example.org/a/home/b", False),
        (REGISTRIES, "https://index.example" + "/simple", True),
        (VERDICT, "this piece is sa" + "fe.", True),
        (VERDICT, "fail-sa" + "fe", True),
        (VERDICT, "safety glass", False),
        (VERDICT, "unsafe" + "ly", False),
    ],
)
def test_the_patterns_can_fail(pattern: re.Pattern[str], text: str, seen: bool) -> None:
    assert bool(pattern.search(text)) is seen
