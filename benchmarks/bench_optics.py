"""How fast a film's spectrum is. Budget: 81 wavelengths x 4 angles x s and p from both sides in 3 ms, 100 times faster than ``tmm``.

    python benchmarks/bench_optics.py
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import perf_counter

import numpy as np
import tmm

from halfsilver.optics.films import layer, solve

WAVELENGTH_NM = np.arange(380.0, 781.0, 5.0)
INCIDENCE_DEG = np.array([0.0, 20.0, 45.0, 70.0])
LAYERS = [
    layer(n=2.3, thickness_nm=58.0),
    layer(n=1.46, thickness_nm=94.0),
    layer(n=2.3, thickness_nm=58.0),
    layer(n=1.52, k=1e-7, thickness_nm=6e6, coherent=False),
]


def ours() -> None:
    solve(LAYERS, wavelength_nm=WAVELENGTH_NM, incidence_deg=INCIDENCE_DEG)


def theirs() -> None:
    index = [1.0, *(complex(one.index[0]) for one in LAYERS), 1.0]
    depth = [np.inf, *(one.thickness_nm for one in LAYERS), np.inf]
    kinds = ["i", *("c" if one.coherent else "i" for one in LAYERS), "i"]
    for polarisation in "sp":
        for angle in np.radians(INCIDENCE_DEG):
            for wavelength in WAVELENGTH_NM:
                for step in (1, -1):
                    tmm.inc_tmm(polarisation, index[::step], depth[::step], kinds[::step], angle, wavelength)


def seconds(work: Callable[[], None], *, repeats: int) -> float:
    """Best of several runs: what else the machine does can only make a run slower."""
    found = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        found.append(perf_counter() - start)
    return min(found)


def main() -> int:
    ours()
    fast, slow = seconds(ours, repeats=50), seconds(theirs, repeats=2)
    sys.stdout.write(f"film grid {1e3 * fast:.2f} ms, tmm {1e3 * slow:.0f} ms, {slow / fast:.0f} times faster\n")
    return 0 if slow / fast >= 100 and fast < 3e-3 else 1


if __name__ == "__main__":
    raise SystemExit(main())
