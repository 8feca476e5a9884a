"""The shell: two commands, what they install, and what the first page promises."""

from __future__ import annotations

import ast
import importlib.util
import os
import re
import sys
import tomllib
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]
REQUIREMENTS = ("requirements.txt", "requirements-test.txt", "requirements-oracles.txt")


@pytest.fixture(scope="module")
def run() -> ModuleType:
    loader = SourceFileLoader("project_run", str(ROOT / "run"))
    spec = importlib.util.spec_from_loader("project_run", loader)
    assert spec is not None
    module = importlib.util.module_from_spec(spec)
    writes = sys.dont_write_bytecode
    sys.dont_write_bytecode = True
    try:
        loader.exec_module(module)
    finally:
        sys.dont_write_bytecode = writes
    return module


def text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def test_first_paragraph_states_the_job() -> None:
    title, paragraph = text("README.md").split("\n\n")[:2]
    assert title == "# halfsilver"
    for word in ("illusion displays", "screen", "glass", "every size", "cutting plan", "price", "drawings"):
        assert word in paragraph


def test_the_two_commands_stand_in_the_readme_and_are_verbs(run: ModuleType) -> None:
    shown = re.findall(r"^ {4}python3 run (\w+)", text("README.md"), flags=re.MULTILINE)
    assert shown[:2] == ["demo", "test"]
    named = set(re.findall(r"(?:python3|py) run (\w+)", text("README.md") + text("CONTRIBUTING.md")))
    assert named <= set(run.VERBS)


def test_ci_runs_exactly_the_test_command_of_the_readme() -> None:
    lines = [line for line in text(".ci/run").splitlines() if line and not line.startswith("#")]
    assert lines == ["set -euo pipefail", 'cd "$(dirname "$0")/.."', "python3 run test"]
    assert "    python3 run test" in text("README.md")


def test_every_verb_is_described_in_a_line(run: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main([]) == 0
    listed = capsys.readouterr().out
    for name, verb in run.VERBS.items():
        assert verb.__doc__
        assert "\n" not in verb.__doc__
        assert f"  {name} " in listed


def test_an_unknown_verb_lists_the_verbs_and_fails(run: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main(["tset"]) == 2
    assert "demo" in capsys.readouterr().out


def test_run_reads_as_the_oldest_python_and_imports_the_standard_library_only(run: ModuleType) -> None:
    tree = ast.parse(text("run"), feature_version=run.OLDEST)
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert {name.split(".")[0] for name in imported} <= sys.stdlib_module_names


def test_an_old_python_is_told_what_is_needed(run: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    assert run.main(["test"]) == 1
    assert capsys.readouterr().err == "run: Python 3.11 or newer is needed; this is 3.9.\n"


def test_a_machine_with_neither_uv_nor_pip_is_told_so(
    run: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setattr(run.shutil, "which", lambda name: None)
    monkeypatch.setattr(run, "TOOLS", tmp_path)
    monkeypatch.setattr(run.subprocess, "run", lambda *args, **kwargs: run.subprocess.CompletedProcess(args, 1))
    assert run.main(["pins"]) == 1
    assert capsys.readouterr().err.startswith("run: neither uv nor pip is on this machine")


def test_no_test_found_is_a_failure(run: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.verdict({"style": 0, "tests": 5}) == 1
    assert "FAILED: tests" in capsys.readouterr().out
    assert run.verdict({"style": 0, "tests": 0}) == 0


def made(run: ModuleType, monkeypatch: pytest.MonkeyPatch, root: Path) -> list[str]:
    """Let ``environment`` believe in a machine under ``root``; returns the list that its set-up commands fill."""
    for name in ("pyproject.toml", *run.TESTING):
        (root / name).write_text(name, encoding="utf-8")
    done: list[str] = []

    def must(*parts: object) -> None:
        words = [str(part) for part in parts]
        done.append(" ".join(word.removeprefix(f"{root}{os.sep}") for word in words[1:]))
        if words[1] == "venv":
            python = root / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
            python.parent.mkdir(parents=True, exist_ok=True)
            python.touch()

    monkeypatch.setattr(run, "ROOT", root)
    monkeypatch.setattr(run, "must", must)
    monkeypatch.setattr(run, "uv", lambda: "uv")
    return done


def test_a_second_start_sets_nothing_up(run: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    done = made(run, monkeypatch, tmp_path)
    python = run.environment(run.TESTING)
    assert [line.split()[0] for line in done] == ["venv", "pip", "pip"]
    assert "--require-hashes" in done[1]
    assert "--no-deps" in done[2]
    done.clear()
    assert run.environment(run.TESTING) == python
    assert run.environment(run.RUNTIME) == python
    assert done == []


@pytest.mark.parametrize("changed", ["requirements.txt", "pyproject.toml"])
def test_a_changed_pin_sets_up_again_and_keeps_what_was_there(
    run: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, changed: str
) -> None:
    done = made(run, monkeypatch, tmp_path)
    run.environment(run.TESTING)
    done.clear()
    (tmp_path / changed).write_text("another", encoding="utf-8")
    run.environment(run.RUNTIME)
    assert done[1].endswith("requirements.txt requirements-test.txt requirements-oracles.txt")


def test_a_moved_folder_sets_up_again(run: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    old, new = tmp_path / "old", tmp_path / "new place"
    old.mkdir()
    done = made(run, monkeypatch, old)
    run.environment(run.RUNTIME)
    old.rename(new)
    monkeypatch.setattr(run, "ROOT", new)
    done.clear()
    run.environment(run.RUNTIME)
    assert done


@pytest.mark.parametrize("name", REQUIREMENTS)
def test_requirements_are_pinned_hashed_and_name_no_index(name: str) -> None:
    content = text(name)
    assert "://" not in content
    assert not re.search(r"^\s*-(-index|-extra-index|-find|i |f )", content, flags=re.MULTILINE)
    blocks = [block for block in re.split(r"\n(?=\S)", content.strip()) if not block.startswith("#")]
    assert blocks
    for block in blocks:
        assert re.match(r"[a-z0-9-]+==\S+", block), block.splitlines()[0]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), block.splitlines()[0]


def test_one_pin_for_one_distribution_across_the_files() -> None:
    pins: dict[str, set[str]] = {}
    for name in REQUIREMENTS:
        for distribution, version in re.findall(r"^([a-z0-9-]+)==(\S+)", text(name), flags=re.MULTILINE):
            pins.setdefault(distribution, set()).add(version)
    assert {name: versions for name, versions in pins.items() if len(versions) > 1} == {}


def asked_for(lines: list[str]) -> set[str]:
    names = (re.match(r"[A-Za-z0-9._-]+", line) for line in lines)
    return {re.sub(r"[._]+", "-", found[0]).lower() for found in names if found}


def test_what_was_asked_for_is_pinned() -> None:
    project = tomllib.loads(text("pyproject.toml"))
    groups = project["dependency-groups"]
    for name, lines in {
        "requirements.txt": project["project"]["dependencies"] + groups["build"],
        "requirements-test.txt": groups["test"],
        "requirements-oracles.txt": [line for line in text("requirements-oracles.in").splitlines() if not line.startswith("#")],
    }.items():
        pinned = set(re.findall(r"^([a-z0-9-]+)==", text(name), flags=re.MULTILINE))
        assert asked_for(lines) <= pinned


def test_oracles_and_test_tools_stay_out_of_the_runtime() -> None:
    runtime = set(re.findall(r"^([a-z0-9-]+)==", text("requirements.txt"), flags=re.MULTILINE))
    assert runtime.isdisjoint({"scipy", "pytest", "hypothesis", "tmm", "colour-science", "pint", "pymupdf"})
