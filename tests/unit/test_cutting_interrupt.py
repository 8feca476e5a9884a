"""A search that is cancelled ends with 130 and leaves no file."""

from __future__ import annotations

import json
import random
import signal
import subprocess
import sys
from pathlib import Path


def test_an_interrupt_in_a_long_search_ends_it_with_130_and_leaves_nothing(tmp_path: Path) -> None:
    dice = random.Random(5)
    pieces = [{"id": f"p{i}", "length": dice.randint(700, 2900), "qty": dice.randint(1, 3)} for i in range(40)]
    stock = [{"id": "a", "length": 6000, "qty": None, "cost": 60}, {"id": "b", "length": 5000, "qty": None, "cost": 51}]
    task = {"format": "cut-instance/1", "id": "long", "kind": "1d", "kerf": 4, "stock": stock, "pieces": pieces}
    (tmp_path / "task.json").write_text(json.dumps(task), encoding="utf-8")
    said = ["-m", "halfsilver", "cut", "task.json", "-o", "plan.json", "--effort", "long"]
    heard = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)}  # a shell's background job inherits a deaf ear
    with subprocess.Popen([sys.executable, *said], cwd=tmp_path, stderr=subprocess.PIPE, text=True, **heard) as running:
        assert running.stderr is not None
        assert running.stderr.readline().startswith("fit: cost")  # the first plan is there, the search goes on
        running.send_signal(signal.SIGINT)
        _, told = running.communicate(timeout=120)
    assert running.returncode == 130
    assert "Cancelled" in told
    assert [path.name for path in tmp_path.iterdir()] == ["task.json"]
