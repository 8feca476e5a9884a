"""A full pack without pictures, warm, in one process: what the browser's user waits for. Budget on two cores: 5 s.

    python benchmarks/bench_pack.py

Each example is packed once to load what is loaded on demand, then three times. Beside the time stand the processor's own time, which a busy
machine changes less, and the ratio to the time that resolving the job alone takes.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

from halfsilver.services.load import load, resolve
from halfsilver.services.pack import write_pack

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
BUDGET_S = 5.0
RUNS = 3


def seconds(work: Callable[[], object]) -> tuple[float, float]:
    """Median wall time and median processor time, after one run that warms."""
    wall, busy = [], []
    for _ in range(RUNS + 1):
        start, begun = perf_counter(), process_time()
        work()
        wall.append(perf_counter() - start)
        busy.append(process_time() - begun)
    return median(wall[1:]), median(busy[1:])


def main() -> None:
    """Print time, processor time, ratio and budget of each example's pack."""
    with tempfile.TemporaryDirectory() as folder:
        for example in sorted(EXAMPLES.glob("*.yaml")):
            loaded, output = load(str(example)), Path(folder) / example.stem
            bare, _ = seconds(partial(resolve, loaded))
            taken, busy = seconds(partial(write_pack, loaded, str(output), date="2026-03-04", pictures=False))
            files = sum(1 for path in output.rglob("*") if path.is_file())
            sys.stdout.write(f"{example.stem:16} {taken:6.3f} s   processor {busy:6.3f} s   {taken / bare:6.1f} times resolving   ")
            sys.stdout.write(f"{files} files   budget {BUDGET_S:g} s\n")


if __name__ == "__main__":
    main()
