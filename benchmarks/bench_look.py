"""How long a person waits for the picture of a scene, in a fresh process.

Budgets on two cores: 960 x 540 with a relative root mean square error of at most 0.04 in 1 s, 1920 x 1080 in 8 s.

    python benchmarks/bench_look.py

Each is given beside the start of an interpreter that imports NumPy alone, measured in the same run.
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
        subprocess.run([sys.executable, *look], check=True, stdout=subprocess.DEVNULL)
        found = np.load(linear)
        subprocess.run([sys.executable, *look, "--samples", "256"], check=True, stdout=subprocess.DEVNULL)
        sys.stdout.write(f"relative error against 256 samples: {error(found, np.load(linear)):.4f} (at most 0.04)\n")


if __name__ == "__main__":
    main()
