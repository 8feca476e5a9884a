"""A complete run fails on a skip that nobody foresaw, and on a folder in which nothing passed."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest


@pytest.fixture
def complete(pytestconfig: pytest.Config) -> Any:
    ours = next(plugin for plugin in pytestconfig.pluginmanager.get_plugins() if hasattr(plugin, "CompleteRun"))
    run = ours.CompleteRun()
    for folder in ours.FOLDERS:
        run.pytest_runtest_logreport(report(f"tests/{folder}/test_it.py::test_it"))
    return run


def report(nodeid: str, outcome: str = "passed", why: str = "") -> Any:
    return SimpleNamespace(nodeid=nodeid, when="call", passed=outcome == "passed", skipped=outcome == "skipped", longrepr=why)


def ended(run: Any) -> int:
    session = SimpleNamespace(exitstatus=pytest.ExitCode.OK)
    run.pytest_sessionfinish(session)
    return int(session.exitstatus)


def test_every_folder_passed_and_nothing_skipped(complete: Any) -> None:
    assert complete.complaints() == []
    assert ended(complete) == 0


def test_an_unexpected_skip_fails(complete: Any) -> None:
    complete.pytest_runtest_logreport(report("tests/unit/test_it.py::test_that", "skipped", "could not import 'x'"))
    assert complete.complaints() == ["unexpected skip: tests/unit/test_it.py::test_that: could not import 'x'"]
    assert ended(complete) == 1


def test_a_module_skipped_whole_fails(complete: Any) -> None:
    complete.pytest_collectreport(report("tests/oracles/test_it.py", "skipped", "could not import 'x'"))
    assert ended(complete) == 1


def test_a_skip_that_is_foreseen_passes(complete: Any) -> None:
    why = "Skipped: needs Python 3.12: second cutting engine"
    complete.pytest_runtest_logreport(report("tests/unit/test_cutting.py::test_it", "skipped", why))
    assert ended(complete) == 0


def test_an_empty_folder_fails(complete: Any) -> None:
    complete.passed["golden"] = 0
    assert complete.complaints() == ["tests/golden has no passed test"]
    assert ended(complete) == 1
