"""Each hostile file ends in problems with a place: soon, without a traceback, and saying what to do."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from hostile.files import hostile_files

ROOT = Path(__file__).parents[2]
BOUND_S = 60.0  # a machine under load; the promise of two seconds is measured, never asserted

READ = """
import json, sys
from halfsilver.errors import JobError
from halfsilver.files.jobs import read_job
try:
    read_job(sys.argv[1])
except JobError as error:
    print(json.dumps([problem.as_dict() for problem in error.problems]))
"""


def problems_of(path: Path | str) -> list[dict[str, object]]:
    done = subprocess.run(
        [sys.executable, "-c", READ, str(path)], capture_output=True, text=True, encoding="utf-8", timeout=BOUND_S, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stderr == ""
    return json.loads(done.stdout)


@pytest.mark.parametrize(("name", "data", "code"), [(name, *rest) for name, rest in hostile_files().items()], ids=list(hostile_files()))
def test_a_hostile_file_gives_a_located_problem(tmp_path: Path, name: str, data: bytes, code: str) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    problems = problems_of(path)
    assert code in [problem["code"] for problem in problems]
    assert len(problems) <= 100
    for problem in problems:
        assert problem["file"] == str(path)
        assert problem["allowed"]
        assert problem["advice"]
        assert len(str(problem["read"])) <= 80
        if problem["code"] != "file-too-large":
            assert int(str(problem["line"])) >= 1
            assert int(str(problem["column"])) >= 1


def test_a_folder_a_missing_file_and_a_device_are_told_apart(tmp_path: Path) -> None:
    assert [p["code"] for p in problems_of(tmp_path)] == ["file-is-folder"]
    assert [p["code"] for p in problems_of(tmp_path / "none.yaml")] == ["file-missing"]
    assert [p["code"] for p in problems_of(tmp_path / ("x" * 5000))] == ["file-unreadable"]


@pytest.mark.skipif(sys.platform == "win32", reason="pipes in the file system are POSIX")
def test_a_pipe_and_an_endless_device_are_refused_unread(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    assert [p["code"] for p in problems_of(pipe)] == ["file-not-ordinary"]
    assert [p["code"] for p in problems_of("/dev/zero")] == ["file-not-ordinary"]
