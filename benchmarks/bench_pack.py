"""A full pack without pictures, warm, in one process: what the browser's user waits for. Budget on two cores: 5 s.

    python benchmarks/bench_pack.py

Each example is packed once to warm what is loaded on demand, then five times. Given beside it is what resolving the job alone takes, so
that runs of different machines can be compared, and the number and size of the files.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

from halfsilver.services.load import load, resolve
from halfsilver.services.pack import write_pack

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
BUDGET_S = 5.0
RUNS = 5


def seconds(work: Callable[[], object]) -> float:
    """Median wall time after one run that warms."""
    taken = []
    for _ in range(RUNS + 1):
        start = perf_counter()
        work()
        taken.append(perf_counter() - start)
    return median(taken[1:])


def main() -> None:
    """Print time, ratio and budget of each example's pack."""
    with tempfile.TemporaryDirectory() as folder:
        for example in sorted(EXAMPLES.glob("*.yaml")):
            loaded, output = load(str(example)), Path(folder) / example.stem
            bare = seconds(lambda loaded=loaded: resolve(loaded))  # type: ignore[misc]
            taken = seconds(lambda loaded=loaded, output=output: write_pack(loaded, str(output), date="2026-03-04", pictures=False))  # type: ignore[misc]
            files = [path for path in output.rglob("*") if path.is_file()]
            size = sum(path.stat().st_size for path in files) / 2**20
            sys.stdout.write(f"{example.stem:16} {taken:6.3f} s   {taken / bare:6.1f} times resolving   ")
            sys.stdout.write(f"{len(files)} files, {size:.1f} MB   budget {BUDGET_S:g} s\n")


if __name__ == "__main__":
    main()
