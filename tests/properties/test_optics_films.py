"""Laws that hold for every sheet and every stack."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.optics.films import Layer, Response, in_series, layer, solve
from halfsilver.optics.sheets import printed
from halfsilver.optics.stacks import stack

WAVELENGTH_NM = [400.0, 550.0, 700.0]
ANGLES = st.lists(st.floats(0, 89.9), min_size=1, max_size=3)
FILMS = st.builds(layer, n=st.floats(0.05, 4), k=st.one_of(st.just(0.0), st.floats(0, 6)), thickness_nm=st.floats(0, 400))
CLEAR_FILMS = st.builds(layer, n=st.floats(1, 2.6), thickness_nm=st.floats(0, 400))
# Bulk glass absorbs little per wavelength: intensities alone lose an interference term that grows with k.
PANES = st.builds(layer, n=st.floats(1.4, 1.8), k=st.floats(0, 1e-6), thickness_nm=st.floats(0, 1e7), coherent=st.just(False))
CLEAR_PANES = st.builds(layer, n=st.floats(1.4, 1.8), thickness_nm=st.floats(0, 1e7), coherent=st.just(False))
ROWS = st.lists(st.one_of(FILMS, PANES), min_size=0, max_size=6)
CLEAR_ROWS = st.lists(st.one_of(CLEAR_FILMS, CLEAR_PANES), min_size=0, max_size=6)


def solved(row: list[Layer], angles: list[float]) -> Response:
    return solve(row, wavelength_nm=WAVELENGTH_NM, incidence_deg=angles)


def same(one: Response, two: Response) -> None:
    for a, b in zip(one, two, strict=True):
        np.testing.assert_allclose(a, b, atol=1e-9)


def grey(T: float, front: float, back: float) -> Response:
    return Response(*(np.array([one]) for one in (front, back, T, T)))


@given(row=ROWS, angles=ANGLES)
def test_nothing_is_gained(row, angles):
    found = solved(row, angles)
    for one in found:
        assert np.all(np.isfinite(one))
        assert np.all((one >= -1e-12) & (one <= 1 + 1e-9))
    assert np.all(found.R_front + found.T_front <= 1 + 1e-6)
    assert np.all(found.R_back + found.T_back <= 1 + 1e-6)


@given(row=CLEAR_ROWS, angles=ANGLES)
def test_nothing_is_lost_in_clear_layers(row, angles):
    found = solved(row, angles)
    np.testing.assert_allclose(found.absorbed(), 0.0, atol=1e-9)


@given(row=ROWS, angles=ANGLES)
def test_transmittance_is_the_same_both_ways(row, angles):
    found = solved(row, angles)
    np.testing.assert_allclose(found.T_front, found.T_back, rtol=1e-5, atol=1e-12)


@given(row=ROWS, angles=ANGLES)
def test_a_row_turned_round_swaps_its_sides(row, angles):
    same(solved(row[::-1], angles), solved(row, angles).turned())


@given(row=ROWS, angles=ANGLES, n=st.floats(0.05, 4), k=st.floats(0, 6), place=st.integers(0, 6))
def test_a_film_of_no_thickness_vanishes(row, angles, n, k, place):
    thin = [*row[:place], layer(n=n, k=k, thickness_nm=0.0), *row[place:]]
    same(solved(thin, angles), solved(row, angles))


@given(front=ROWS, rear=ROWS, angles=ANGLES)
def test_a_stack_is_its_sheets_with_air_between(front, rear, angles):
    air = layer(n=1.0, thickness_nm=1e6, coherent=False)
    same(solved([*front, air, *rear], angles), stack([solved(front, angles), solved(rear, angles)]))


@given(values=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 0.95), st.floats(0, 0.95)), min_size=2, max_size=2))
def test_a_stack_is_the_sum_over_bounces(values):
    one, two = (grey(share * (1 - max(front, back)), front, back) for share, front, back in values)
    found = in_series(one, two)
    bounces = np.arange(2000)
    series = ((one.R_back * two.R_front) ** bounces).sum()
    np.testing.assert_allclose(found.T_front, one.T_front * two.T_front * series, rtol=1e-9, atol=1e-15)
    np.testing.assert_allclose(found.R_front, one.R_front + one.T_front * two.R_front * one.T_back * series, rtol=1e-9, atol=1e-15)


@given(rows=st.lists(ROWS, min_size=3, max_size=3), angles=ANGLES)
@settings(max_examples=40)
def test_stacking_may_start_anywhere(rows, angles):
    one, two, three = (solved(row, angles) for row in rows)
    same(in_series(in_series(one, two), three), in_series(one, in_series(two, three)))


@given(T=st.floats(0, 1), lost=st.floats(0, 1), more=st.floats(0, 1), angles=ANGLES)
def test_a_sheet_of_printed_numbers_keeps_them_and_gains_nothing(T, lost, more, angles):
    front, back = (1 - T) * lost, (1 - T) * more
    found = printed(T=T, R_front=front, R_back=back, wavelength_nm=WAVELENGTH_NM, incidence_deg=[0.0, *angles]).response
    np.testing.assert_allclose(found.T_front[:, 0], T, atol=1e-12)
    np.testing.assert_allclose(found.R_front[:, 0], front, atol=1e-12)
    np.testing.assert_allclose(found.R_back[:, 0], back, atol=1e-12)
    for one in found:
        assert np.all((one >= -1e-12) & (one <= 1 + 1e-12))
    assert np.all(found.R_front + found.T_front <= 1 + 1e-12)
