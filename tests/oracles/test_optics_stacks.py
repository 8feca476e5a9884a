"""Sheets in a row against an independent slow derivation: linear equations for the light in each gap."""

from __future__ import annotations

import numpy as np
import pytest

from halfsilver.errors import RangeError
from halfsilver.optics.reckonable import optics_stack

RANDOM = np.random.default_rng(7)


def by_net_radiation(sheets: list[tuple[float, float, float]]) -> tuple[float, float]:
    """T and R for unit light from the front: one unknown each way between neighbours, solved as a linear system."""
    count = len(sheets)
    unknowns = 2 * (count + 1)  # onward[i] and returning[i] in gap i; gap 0 in front, gap count behind
    matrix, known = np.eye(unknowns), np.zeros(unknowns)
    known[0] = 1.0
    for i, (T, front, back) in enumerate(sheets):
        matrix[2 * (i + 1), [2 * i, 2 * (i + 1) + 1]] -= (T, back)
        matrix[2 * i + 1, [2 * (i + 1) + 1, 2 * i]] -= (T, front)
    solution = np.linalg.solve(matrix, known)
    return solution[2 * count], solution[1]


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_net_radiation(count: int):
    wavelengths = 4
    front, back = RANDOM.uniform(0, 0.9, (2, count, wavelengths))
    T = (1 - np.maximum(front, back)) * RANDOM.uniform(0.2, 1, (count, wavelengths))
    sheets = [{"T": t.tolist(), "R_front": f.tolist(), "R_back": b.tolist()} for t, f, b in zip(T, front, back, strict=True)]
    found = optics_stack(sheets=sheets)
    for w in range(wavelengths):
        passed, mirrored = by_net_radiation([(T[i, w], front[i, w], back[i, w]) for i in range(count)])
        _, behind = by_net_radiation([(T[i, w], back[i, w], front[i, w]) for i in reversed(range(count))])
        assert (found["T"][w], found["R_front"][w], found["R_back"][w]) == pytest.approx((passed, mirrored, behind), abs=1e-12)


@pytest.mark.parametrize(
    ("sheets", "message"),
    [
        ([], "at least one sheet"),
        ([{"T": [0.5], "R_front": [0.5]}], r"sheets\[0\] lacks R_back"),
        ([{"T": [0.9], "R_front": [0.5], "R_back": [0.1]}], r"sheets\[0\]: R \+ T exceeds 1"),
        ([{"T": [1.2], "R_front": [0.0], "R_back": [0.0]}], "between 0 and 1"),
        ([{"T": ["much"], "R_front": [0.0], "R_back": [0.0]}], "must hold numbers"),
        ([{name: [0.5] * count for name in ("T", "R_front", "R_back")} for count in (2, 1)], "same number of wavelengths"),
    ],
)
def test_what_is_not_a_stack_is_refused(sheets: list[dict[str, list[float]]], message: str):
    with pytest.raises(RangeError, match=message):
        optics_stack(sheets=sheets)
