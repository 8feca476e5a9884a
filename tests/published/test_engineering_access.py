"""ADA 2010 Standards, sections 307, 308, 403 and 603: both sides of every printed limit, in inches as printed."""

import pytest

from halfsilver.engineering import access
from halfsilver.errors import RangeError

IN = 25.4


@pytest.mark.parametrize(
    ("bottom_in", "limit_in"),
    [(27.0, None), (27.01, 4.0), (48.0, 4.0), (80.0, 4.0), (80.01, None), (0.0, None)],
)
def test_wall_mounted_limit_holds_above_27_and_up_to_80_inches(bottom_in, limit_in):
    # ADA 2010 307.2: more than 27 in and not more than 80 in above the floor, at most 4 in [seen]
    found = access.protrusion_limit_mm(bottom_edge_mm=bottom_in * IN)
    assert found is None if limit_in is None else found == pytest.approx(limit_in * IN, rel=1e-12)


@pytest.mark.parametrize(
    ("support", "depth_in", "over_in"),
    [("wall", 4.0, 0), ("wall", 4.01, 0.01), ("handrail", 4.5, 0), ("handrail", 4.51, 0.01), ("post", 12.0, 0), ("post", 12.01, 0.01)],
)
def test_protrusion_excess_starts_beyond_the_limit(support, depth_in, over_in):
    # ADA 2010 307.2 with its exception, 307.3 [seen]
    found = access.protrusion_excess_mm(depth_mm=depth_in * IN, bottom_edge_mm=60 * IN, support=support)
    assert found == pytest.approx(over_in * IN, abs=1e-9)


def test_an_edge_that_a_cane_finds_has_no_limit():
    # ADA 2010 307.2 [seen]
    assert access.protrusion_excess_mm(depth_mm=500, bottom_edge_mm=27 * IN) == 0


def test_headroom_of_80_inches():
    # ADA 2010 307.4 [seen]
    assert access.headroom_shortfall_mm(clear_height_mm=80 * IN) == 0
    assert access.headroom_shortfall_mm(clear_height_mm=79.5 * IN) == pytest.approx(0.5 * IN)


def test_clear_width_of_36_inches():
    # ADA 2010 403.5.1 [memory]
    assert access.clear_width_shortfall_mm(path_width_mm=40 * IN, depth_mm=4 * IN) == 0
    assert access.clear_width_shortfall_mm(path_width_mm=40 * IN, depth_mm=4.5 * IN) == pytest.approx(0.5 * IN)


@pytest.mark.parametrize(
    ("approach", "depth_in", "height_in", "high_in"),
    [
        ("forward", 0, 0, 48),  # 308.2.1 [seen]
        ("forward", 20, 0, 48),  # 308.2.2 [seen]
        ("forward", 20.01, 0, 44),
        ("forward", 25, 0, 44),
        ("forward", 25.01, 0, None),
        ("side", 0, 0, 48),  # 308.3.1 [seen]
        ("side", 10, 34, 48),  # 308.3.2 [48 seen, rest memory]
        ("side", 10.01, 34, 46),
        ("side", 24, 34, 46),
        ("side", 24.01, 34, None),
        ("side", 10, 34.01, None),
    ],
)
def test_reach_over_obstructions(approach, depth_in, height_in, high_in):
    found = access.reach(approach=approach, obstruction_depth_mm=depth_in * IN, obstruction_height_mm=height_in * IN)
    if high_in is None:
        assert found is None
    else:
        assert found is not None
        assert (found.low_mm, found.high_mm) == pytest.approx((15 * IN, high_in * IN))


def test_mirror_edge():
    # ADA 2010 603.3 [memory]
    assert access.mirror_bottom_limit_mm(over_basin=True) == pytest.approx(40 * IN)
    assert access.mirror_bottom_limit_mm(over_basin=False) == pytest.approx(35 * IN)


def test_unknown_support_names_the_known_ones():
    with pytest.raises(RangeError, match="wall, handrail, post"):
        access.protrusion_limit_mm(bottom_edge_mm=1000, support="ceiling")
