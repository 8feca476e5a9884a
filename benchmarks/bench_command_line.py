"""How long a person waits for a verb, in a fresh process. Budgets on two cores: help 0.2 s, check 0.5 s, pack 4 s warm.

    python benchmarks/bench_command_line.py

Each is given as a ratio to the start of a bare interpreter that imports ``argparse``, measured in the same run.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
BARE = ["-c", "import argparse"]
HALFSILVER = ["-m", "halfsilver"]


def seconds(arguments: list[str], *, runs: int = 7) -> float:
    """Median wall time of a fresh interpreter with these arguments, after one run that warms the disk."""
    taken = []
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    for i in range(runs + 1):
        start = perf_counter()
        subprocess.run([sys.executable, *arguments], check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
        if i:
            taken.append(perf_counter() - start)
    return median(taken)


def main() -> None:
    """Print time, ratio and budget of each verb."""
    bare = seconds(BARE)
    sys.stdout.write(f"bare interpreter with argparse: {bare:.3f} s\n")
    with tempfile.TemporaryDirectory() as folder:
        demo = str(EXAMPLES / "foyer.yaml")
        verbs = {
            "--help": ([*HALFSILVER, "--help"], 0.2, 7),
            "check": ([*HALFSILVER, "check", demo], 0.5, 7),
            "why": ([*HALFSILVER, "why", demo, "rear.glass.width"], 0.5, 7),
            "pack": ([*HALFSILVER, "pack", demo, "-o", f"{folder}/pack", "--date", "2026-03-04", "--no-pictures"], 4.0, 3),
        }
        for name, (arguments, budget_s, runs) in verbs.items():
            taken = seconds(arguments, runs=runs)
            sys.stdout.write(f"{name:8} {taken:6.3f} s   {taken / bare:6.1f} times bare   budget {budget_s:g} s\n")


if __name__ == "__main__":
    main()
