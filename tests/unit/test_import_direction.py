"""The import contract: that it holds, that it covers everything, and that it can fail."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src/halfsilver"
CONTRACT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
LAYERS, PURE = CONTRACT["contracts"]
CLOCKS = {"now", "utcnow", "today", "fromtimestamp"}
CHECKER = "from importlinter.cli import lint_imports_command; lint_imports_command()"


def named(layer: str) -> set[str]:
    return {name.strip(" ()") for name in layer.replace("|", " ").replace(":", " ").split()}


def packages() -> set[str]:
    return {path.parent.name for path in SOURCE.glob("*/__init__.py")}


def covered() -> set[str]:
    return set.union(*map(named, LAYERS["layers"]))


def lint(config: Path, *, path: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(path), "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, "-c", CHECKER, "--no-cache", "--config", str(config)]
    return subprocess.run(command, cwd=path, env=environment, capture_output=True, text=True, encoding="utf-8", check=False)


def test_every_package_stands_in_the_contract() -> None:
    assert packages() <= covered()
    assert LAYERS["exhaustive"] is True


def test_the_contract_names_no_package_that_is_not_there_unless_marked_as_coming() -> None:
    coming = {name for layer in LAYERS["layers"] for name in ("web", "store") if f"({name})" in layer}
    assert covered() - packages() - {"__main__"} <= coming


def test_everything_up_to_costing_is_under_the_pure_contract() -> None:
    order = [named(layer) for layer in reversed(LAYERS["layers"])]
    upto = next(place for place, layer in enumerate(order) if "costing" in layer)
    below = set.union(*order[: upto + 1]) - {"data"}
    assert {module.removeprefix("halfsilver.") for module in PURE["source_modules"]} == below


def test_the_contract_holds() -> None:
    found = lint(ROOT / "pyproject.toml", path=ROOT / "src")
    assert found.returncode == 0, found.stdout


def tiny(tmp_path: Path, modules: dict[str, str]) -> subprocess.CompletedProcess[str]:
    """The project's own contract, checked on a package with the same packages and the given code in some of them."""
    for name in packages():
        module = tmp_path / "halfsilver" / name / "__init__.py"
        module.parent.mkdir(parents=True)
        module.write_text(modules.get(name, ""), encoding="utf-8")
    (tmp_path / "halfsilver/__init__.py").touch()
    (tmp_path / "halfsilver/__main__.py").touch()
    (tmp_path / "pyproject.toml").write_bytes((ROOT / "pyproject.toml").read_bytes())
    return lint(tmp_path / "pyproject.toml", path=tmp_path)


def test_a_clean_package_passes(tmp_path: Path) -> None:
    found = tiny(tmp_path, {"cli": "import halfsilver.services\nimport os\n", "layout": "import datetime\nimport halfsilver.optics\n"})
    assert found.returncode == 0, found.stdout


@pytest.mark.parametrize(
    ("package", "code", "said"),
    [
        ("model", "import halfsilver.layout\n", "halfsilver.model is not allowed to import halfsilver.layout"),
        ("optics", "import halfsilver.engineering\n", "halfsilver.optics is not allowed to import halfsilver.engineering"),
        ("costing", "def late():\n    import halfsilver.files\n", "halfsilver.costing is not allowed to import halfsilver.files"),
        ("layout", "from pathlib import Path\n", "halfsilver.layout is not allowed to import pathlib"),
        ("making", "import os.path\n", "halfsilver.making is not allowed to import os"),
        ("geometry", "import time\n", "halfsilver.geometry is not allowed to import time"),
        ("engineering", "from urllib import request\n", "halfsilver.engineering is not allowed to import urllib"),
        ("units", "import ruamel.yaml\n", "halfsilver.units is not allowed to import ruamel"),
    ],
)
def test_a_violation_fails(tmp_path: Path, package: str, code: str, said: str) -> None:
    found = tiny(tmp_path, {package: code})
    assert found.returncode == 1, found.stdout + found.stderr
    assert said in " ".join(found.stdout.split())


def test_a_package_outside_the_contract_fails(tmp_path: Path) -> None:
    stray = tmp_path / "halfsilver/utils/__init__.py"
    stray.parent.mkdir(parents=True)
    stray.touch()
    assert tiny(tmp_path, {}).returncode == 1


def impurities(code: str) -> list[str]:
    """What an import contract cannot see: opening files, printing, asking, and the clock behind ``datetime``."""
    calls = [node.func for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call)]
    plain = [call.id for call in calls if isinstance(call, ast.Name) and call.id in {"open", "print", "input", "eval", "__import__"}]
    return plain + [call.attr for call in calls if isinstance(call, ast.Attribute) and call.attr in CLOCKS]


@pytest.mark.parametrize("code", ["open('x')", "print(1)", "import datetime\ndatetime.date.today()", "d.datetime.now()"])
def test_impure_calls_are_seen(code: str) -> None:
    assert len(impurities(code)) == 1


def test_pure_packages_call_nothing_impure() -> None:
    found = {}
    for module in PURE["source_modules"]:
        for path in (ROOT / "src" / module.replace(".", "/")).rglob("*.py"):
            if calls := impurities(path.read_text(encoding="utf-8")):
                found[path.relative_to(ROOT).as_posix()] = calls
    assert found == {}
