"""Which outlines can be a moulding's profile; the shapes were drawn by hand on squared paper."""

from __future__ import annotations

import pytest

from halfsilver.files.profiles import counter_clockwise, profile_fault

# body 20, lip 6, back of the lip at 5, depth 30
PLAIN = ((0.0, 0.0), (26.0, 0.0), (26.0, 5.0), (20.0, 5.0), (20.0, 30.0), (0.0, 30.0))
WEDGE_LIP = ((0.0, 0.0), (26.0, 5.0), (20.0, 5.0), (20.0, 30.0), (0.0, 30.0))
STEPPED_FACE = ((0.0, 2.0), (8.0, 2.0), (8.0, 0.0), (26.0, 0.0), (26.0, 5.0), (20.0, 5.0), (20.0, 30.0), (0.0, 30.0))
POINT_ON_THE_WALL = (*PLAIN[:4], (20.0, 17.0), *PLAIN[4:])
CHAMFERED_BACK = (*PLAIN[:5], (3.0, 30.0), (0.0, 27.0))


@pytest.mark.parametrize("outline", [PLAIN, WEDGE_LIP, STEPPED_FACE, POINT_ON_THE_WALL, CHAMFERED_BACK])
def test_a_rebated_outline_is_accepted_from_any_corner_and_either_way_round(outline: tuple[tuple[float, float], ...]) -> None:
    for start in range(len(outline)):
        turned = outline[start:] + outline[:start]
        assert profile_fault(turned) is None
        assert profile_fault(turned[::-1]) is None


@pytest.mark.parametrize(
    ("code", "at", "outline"),
    [
        ("profile-too-few-points", 0, PLAIN[:4]),
        ("profile-doubled-point", 3, (*PLAIN[:3], PLAIN[2], *PLAIN[3:])),
        ("profile-off-origin", 0, tuple((x + 1.5, z) for x, z in PLAIN)),
        ("profile-off-origin", 0, tuple((x, z + 2.0) for x, z in PLAIN)),
        ("profile-crosses-itself", 1, (PLAIN[0], PLAIN[2], PLAIN[1], *PLAIN[3:])),
        ("profile-crosses-itself", 2, (*PLAIN[:3], (30.0, 5.0), *PLAIN[3:])),
        ("profile-not-rebated", 2, ((0, 0), (20, 0), (20, 30), (10, 30), (0, 30))),
        ("profile-not-rebated", 4, (*PLAIN[:3], (20, 5), (19, 30), (0, 30))),
        ("profile-not-rebated", 3, (*PLAIN[:3], (20, 7), (20, 30), (0, 30))),
        ("profile-not-rebated", 2, ((0, 0), (26, 0), (26, 12), (23, 12), (23, 5), (20, 5), (20, 30), (0, 30))),
    ],
)
def test_what_cannot_be_a_moulding_is_told_at_its_point(code: str, at: int, outline: tuple[tuple[float, float], ...]) -> None:
    fault = profile_fault(outline)
    assert fault is not None
    assert (fault.code, fault.at) == (code, at)


def test_an_outline_is_kept_counter_clockwise() -> None:
    assert counter_clockwise(PLAIN) == PLAIN
    assert counter_clockwise(PLAIN[::-1]) == PLAIN
