"""Files and folders are whole at every moment, also when the program is killed at any line."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from halfsilver.errors import JobError
from halfsilver.files import atomic
from halfsilver.files.atomic import recover, whole_folder, write_beside

# A child process is killed at the n-th line that runs in the module (or in what removes folders); the parent then looks at what is left.
KILLS = """
import os, signal, sys
from pathlib import Path
from halfsilver.files import atomic

target, exchange = Path(sys.argv[1]), sys.argv[2] == "exchange"
if not exchange:
    atomic._exchange = lambda one, other: False
NAMES = ("manifest.json", "a.txt", "b/c.txt")

def fill(folder, word):
    (folder / "b").mkdir()
    for name in NAMES:
        (folder / name).write_text(word * 5000)

def replace(word):
    with atomic.whole_folder(target) as built:
        fill(built, word)

def child(kill_at):
    count = 0
    def trace(frame, event, argument):
        nonlocal count
        if not frame.f_code.co_filename.endswith(("atomic.py", "shutil.py")):
            return None
        count += 1
        if count == kill_at:
            os.kill(os.getpid(), signal.SIGKILL)
        return trace
    sys.settrace(trace)
    replace("new")
    sys.settrace(None)
    os._exit(0 if count < kill_at else 1)

def look():
    words = {(target / name).read_text()[:3] for name in NAMES}
    sizes = {len((target / name).read_text()) for name in NAMES}
    assert len(words) == 1 and sizes == {15000}, (words, sizes)
    return words.pop()

replace("old")
seen, kills, kill_at, step = [], 0, 1, int(sys.argv[3])
while True:
    pid = os.fork()
    if pid == 0:
        try:
            child(kill_at)
        finally:
            os._exit(3)
    status = os.waitpid(pid, 0)[1]
    if os.WIFEXITED(status):
        assert os.WEXITSTATUS(status) == 0, status
        break
    kills += 1
    if not exchange:
        atomic.recover(target)
    seen.append(look())
    replace("old")
    assert [path.name for path in target.parent.iterdir()] == [target.name], sorted(target.parent.iterdir())
    kill_at += step
assert look() == "new"
print(kills, seen.count("old"), seen.count("new"))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="kills and forks are POSIX")
@pytest.mark.parametrize("way", ["exchange", "aside"])
def test_a_folder_is_whole_wherever_the_program_is_killed(tmp_path: Path, way: str) -> None:
    if way == "exchange" and not sys.platform.startswith("linux"):
        way = "aside"
    target = tmp_path / "packs" / "[one] pack"
    command = [sys.executable, "-c", KILLS, str(target), way, "7"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env={"PYTHONPATH": os.pathsep.join(sys.path)})
    assert done.returncode == 0, done.stderr
    kills, old, new = map(int, done.stdout.split())
    assert kills >= 25
    assert old >= 5
    assert new >= 1
    assert old + new == kills


def test_a_folder_takes_the_place_of_the_one_before(tmp_path: Path) -> None:
    target = tmp_path / "deep" / "pack"
    for word in ("one", "two"):
        with whole_folder(target) as built:
            (built / "manifest.json").write_text(word)
            (built / f"{word}.txt").write_text(word)
    assert sorted(path.name for path in target.iterdir()) == ["manifest.json", "two.txt"]
    assert [path.name for path in target.parent.iterdir()] == ["pack"]


def test_an_error_while_filling_leaves_everything_as_it_was(tmp_path: Path) -> None:
    target = tmp_path / "pack"
    with whole_folder(target) as built:
        (built / "manifest.json").write_text("old")
    with pytest.raises(ZeroDivisionError), whole_folder(target) as built:  # noqa: PT012
        (built / "manifest.json").write_text("new")
        raise ZeroDivisionError
    assert (target / "manifest.json").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


def test_a_folder_of_somebody_else_is_never_replaced(tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("dear")
    with pytest.raises(JobError, match="folder-not-ours"), whole_folder(tmp_path):
        pass
    with pytest.raises(JobError, match="folder-not-ours"), whole_folder(tmp_path / "letters.txt"):
        pass
    assert (tmp_path / "letters.txt").read_text() == "dear"


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    with whole_folder(tmp_path / "a") as built:
        assert list(built.iterdir()) == []
    with whole_folder(tmp_path / "a") as built:
        (built / "manifest.json").write_text("x")
    assert (tmp_path / "a" / "manifest.json").exists()


def test_a_half_built_folder_of_a_running_program_is_left_alone(tmp_path: Path) -> None:
    running = tmp_path / f".pack.new-{os.getppid()}-x"
    running.mkdir()
    recover(tmp_path / "pack")
    assert running.exists()


def test_a_file_is_replaced_in_one_step_and_a_failure_leaves_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.json"
    write_beside(path, b"old")
    write_beside(path, b"new")
    assert path.read_bytes() == b"new"

    def fails(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic.os, "fsync", fails)
    with pytest.raises(JobError, match="not-writable"):
        write_beside(path, b"newer")
    assert path.read_bytes() == b"new"
    assert [each.name for each in tmp_path.iterdir()] == ["a.json"]


def test_a_link_is_followed_and_a_missing_folder_is_a_problem(tmp_path: Path) -> None:
    write_beside(tmp_path / "real", b"1")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_beside(tmp_path / "link", b"2")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"2"
    with pytest.raises(JobError, match="not-writable"):
        write_beside(tmp_path / "none" / "x", b"3")
