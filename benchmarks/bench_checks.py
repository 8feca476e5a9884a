"""How long all engineering checks of a job take, warm. Budget on two cores: 0.2 s.

python benchmarks/bench_checks.py
"""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import median
from time import perf_counter

from halfsilver.services.checks.run import checks
from halfsilver.services.load import load, resolve

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
BUDGET_S = 0.2


def main() -> None:
    """Print the median time of each example."""
    for path in sorted(EXAMPLES.glob("*.yaml")):
        loaded = load(str(path))
        design = resolve(loaded)
        taken = []
        for _ in range(8):
            start = perf_counter()
            found = checks(design, loaded.show)
            taken.append(perf_counter() - start)
        sys.stdout.write(f"{path.stem:16} {median(taken[1:]):6.3f} s   {len(found)} checks   budget {BUDGET_S:g} s\n")


if __name__ == "__main__":
    main()
