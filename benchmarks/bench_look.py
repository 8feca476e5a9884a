"""How long a person waits for the picture of a scene, in a fresh process.

Budgets on two cores: 960 x 540 with a relative root mean square error of at most 0.04 in 1 s, 1920 x 1080 in 8 s.

    python benchmarks/bench_look.py

Memory is flat in the picture's size but for the picture itself, 12 bytes a pixel: what a process needs at most is given for two
sizes, with and without it. Each time is given beside the start of an interpreter that imports NumPy alone, measured in the same run.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

SCENE = {
    "schema": "halfsilver/scene/1", "width_mm": 1200, "height_mm": 700, "gap_mm": 20, "front": {"T": 0.5, "R": 0.48},
    "rear": {"T": 0.3, "R": 0.68}, "wall": {"reflectance": 0.05}, "band": {"from_rear_mm": [6, 14], "radiance": [10, 6, 3]},
    "screen": {"behind_mm": 10, "checker_mm": 100, "levels": [1.0, 0.05]},
    "camera": {"origin_mm": [1147.15, 0, 1658.30], "target_mm": [0, 0, 20], "fov_x_deg": 36},
}  # fmt: skip


def seconds(arguments: list[str], *, runs: int = 5) -> float:
    """Median wall time of a fresh interpreter, after one run that warms the disk."""
    taken = []
    for _ in range(runs + 1):
        start = perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        taken.append(perf_counter() - start)
    return median(taken[1:])


MEMORY = """
import resource, sys
from halfsilver.cli.main import main
try:
    main(sys.argv[1:])
except SystemExit:
    pass
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def most_memory_mb(arguments: list[str]) -> float:
    """Most resident memory of a fresh interpreter that draws (Linux counts it in kB). [MB]"""
    told = subprocess.run([sys.executable, "-c", MEMORY, *arguments], check=True, capture_output=True, text=True)
    return int(told.stdout.split()[-1]) / 1024


def error(found: np.ndarray, reference: np.ndarray) -> float:
    """Relative root mean square over what is lit."""
    lit = reference > 0.005
    return float(np.sqrt(np.mean(((found[lit] - reference[lit]) / reference[lit]) ** 2)))


def main() -> None:
    """Print times and the error."""
    sys.stdout.write(f"bare interpreter with numpy: {seconds(['-c', 'import numpy']):.3f} s\n")
    with tempfile.TemporaryDirectory() as folder:
        source, picture, linear = (str(Path(folder) / name) for name in ("scene.json", "p.png", "p.npy"))
        Path(source).write_text(json.dumps(SCENE), encoding="utf-8")
        look = ["-m", "halfsilver", "look", source, "-o", picture, "--linear", linear]
        for size, budget in (("960x540", 1.0), ("1920x1080", 8.0)):
            sys.stdout.write(f"look {size}: {seconds([*look, '--size', size]):.3f} s (budget {budget:g} s)\n")
        for size in ("960x540", "3840x2160"):
            most = most_memory_mb(["look", source, "-o", picture, "--size", size])
            width, height = map(int, size.split("x"))
            sys.stdout.write(f"look {size}: {most:.0f} MB at most, {most - width * height * 12 / 2**20:.0f} MB without the picture\n")
        subprocess.run([sys.executable, *look], check=True, stdout=subprocess.DEVNULL)
        found = np.load(linear)
        subprocess.run([sys.executable, *look, "--samples", "256"], check=True, stdout=subprocess.DEVNULL)
        sys.stdout.write(f"relative error against 256 samples: {error(found, np.load(linear)):.4f} (at most 0.04)\n")


if __name__ == "__main__":
    main()
