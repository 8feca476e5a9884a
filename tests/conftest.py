"""What all tests share: folder marks, hypothesis profiles, and the sharper rules of a complete run."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

TESTS = Path(__file__).parent
FOLDERS = ("unit", "published", "properties", "oracles", "golden", "docs", "hostile", "store", "web", "browser")
ALLOWED_SKIPS = ("needs Python 3.12: second cutting engine", "are POSIX")

settings.register_profile("usual", deadline=None, derandomize=True, database=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("soak", parent=settings.get_profile("usual"), derandomize=False, max_examples=5000, print_blob=True)
settings.load_profile("usual")

second_engine = pytest.mark.skipif(sys.version_info < (3, 12), reason=ALLOWED_SKIPS[0])


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--complete", action="store_true", help="fail on an unexpected skip and on a folder without a passed test")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if TESTS in item.path.parents:
            folder = item.path.relative_to(TESTS).parts[0]
            if (TESTS / folder).is_dir():
                item.add_marker(folder)
            if item.path.name.startswith("test_cut"):
                item.add_marker("cutting")


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--complete") and not hasattr(config, "workerinput"):
        config.pluginmanager.register(CompleteRun(), "complete-run")


class CompleteRun:
    """Counts what passed per folder and keeps the skips that nobody foresaw; lives where the reports come together."""

    def __init__(self) -> None:
        self.passed = dict.fromkeys(FOLDERS, 0)
        self.skips: list[str] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        parts = Path(report.nodeid.split("::")[0]).parts
        if report.passed and report.when == "call" and len(parts) > 1 and parts[1] in self.passed:
            self.passed[parts[1]] += 1
        if report.skipped and not hasattr(report, "wasxfail"):
            self.skip(report.nodeid, str(report.longrepr))

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.skipped:
            self.skip(report.nodeid, str(report.longrepr))

    def skip(self, nodeid: str, why: str) -> None:
        if not any(reason in why for reason in ALLOWED_SKIPS):
            self.skips.append(f"{nodeid}: {why}")

    def complaints(self) -> list[str]:
        empty = [f"tests/{name} has no passed test" for name, count in self.passed.items() if not count]
        return empty + [f"unexpected skip: {skip}" for skip in self.skips]

    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        if session.exitstatus == pytest.ExitCode.OK and self.complaints():
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        for complaint in self.complaints():
            terminalreporter.write_line(f"complete run: {complaint}", red=True)
