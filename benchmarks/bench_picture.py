"""How long a person waits for the still of a whole piece, in a fresh process: job read, designed, drawn and written.

Budgets on two cores: 960 x 540 in 2 s, 1920 x 1080 in 8 s; working memory below 100 MB at any size. Processor time is given too, as it
says more on a busy machine.

    python benchmarks/bench_picture.py
"""

from __future__ import annotations

import os
import subprocess
import sys
import tracemalloc
from pathlib import Path
from statistics import median
from time import perf_counter

JOB = Path(__file__).resolve().parents[1] / "examples" / "foyer.yaml"
DRAW = """
import sys
from halfsilver.services.load import load, resolve
from halfsilver.services.pictures import picture
width, height = map(int, sys.argv[2].split("x"))
picture(resolve(load(sys.argv[1])), viewer=sys.argv[3], width_px=width, height_px=height)
"""


def measured(size: str, viewer: str, *, runs: int = 5) -> tuple[float, float]:
    """Median wall and processor time of a fresh interpreter, after one run that warms the disk. [s]"""
    wall, processor = [], []
    for _ in range(runs + 1):
        before, start = os.times(), perf_counter()
        subprocess.run([sys.executable, "-c", DRAW, str(JOB), size, viewer], check=True)
        after = os.times()
        wall.append(perf_counter() - start)
        processor.append(after.children_user + after.children_system - before.children_user - before.children_system)
    return median(wall[1:]), median(processor[1:])


def working_memory_mb(size: str) -> float:
    """Most memory in use above what is kept, the linear picture itself left out. [MB]"""
    from halfsilver.services.load import load, resolve
    from halfsilver.services.pictures import picture

    width, height = map(int, size.split("x"))
    design = resolve(load(str(JOB)))
    tracemalloc.start()
    picture(design, viewer="front", width_px=width, height_px=height)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return (most - width * height * 12) / 1e6


def main() -> None:
    """Print times and memory."""
    for size, budget in (("480x270", 2.0), ("960x540", 2.0), ("1920x1080", 8.0)):
        for viewer in ("front", "side"):
            wall, processor = measured(size, viewer)
            sys.stdout.write(f"{size} {viewer}: {wall:.2f} s, {processor:.2f} s of processor (budget {budget:g} s)\n")
    for size in ("480x270", "960x540", "1920x1080", "3840x2160"):
        sys.stdout.write(f"{size}: {working_memory_mb(size):.0f} MB of working memory\n")


if __name__ == "__main__":
    main()
