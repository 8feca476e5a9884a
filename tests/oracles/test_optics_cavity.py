"""The cavity's table against a slow loop over the whole spectrum in both polarisations.

The loop takes R and T of the sheets from the ``tmm`` package at the very angle asked, multiplies them mirror by mirror, and sums with the
observer of ``colour-science``: nothing of it is shared with the table but the layers and the lamp.
"""

from __future__ import annotations

import warnings
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import tmm

from halfsilver.errors import RangeError
from halfsilver.files import tables
from halfsilver.optics import appearance, cavity, colour, spectra
from halfsilver.optics.films import Layer, Response, layer
from halfsilver.optics.sheets import Sheet, Side, coated, no_sheet, sheet
from halfsilver.optics.standard import WAVELENGTH_NM

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour as science

ORDERS = 21
LAMP = spectra.white_led(colour_temperature_k=3000)
PRIMARIES = spectra.screen_primaries()
WHITE = spectra.shares(spectra.SRGB_WHITE, PRIMARIES)
OBSERVER = science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]


def material(name: str, thickness_nm: float, *, coherent: bool = True) -> Layer:
    table = tables.material(name)
    return layer(n=table.numbers("n", unit="1"), k=table.numbers("k", unit="1"), thickness_nm=thickness_nm, coherent=coherent)


DIELECTRIC = coated(
    coating=[material("titania", 58), material("silica", 94), material("titania", 58)],
    glass=material("low_iron_float", 4e6, coherent=False), side=Side.REAR,
)  # fmt: skip
METAL = coated(coating=[material("silver", 22)], glass=material("clear_float", 6e6, coherent=False), side=Side.VIEWER)


def on_grid(layers: tuple[Layer, ...]) -> Sheet:
    return sheet(layers, wavelength_nm=WAVELENGTH_NM, incidence_deg=cavity.GRID_DEG)


def table_of(front: Sheet, rear: Sheet, *, orders: int = ORDERS) -> cavity.Cavity:
    return cavity.cavity(front, rear, emitters=LAMP, primaries=PRIMARIES, room=spectra.room_light(), orders=orders)


@cache
def usual() -> cavity.Cavity:
    return table_of(on_grid(DIELECTRIC), on_grid(METAL))


def by_tmm(layers: tuple[Layer, ...], wavelength: int, angle: float, polarisation: str) -> tuple[float, float, float]:
    index = [1.0, *(one.index[wavelength] for one in layers), 1.0]
    depth = [np.inf, *(one.thickness_nm for one in layers), np.inf]
    kinds = ["i", *("c" if one.coherent else "i" for one in layers), "i"]
    place = (np.radians(angle), WAVELENGTH_NM[wavelength])
    front = tmm.inc_tmm(polarisation, index, depth, kinds, *place)
    back = tmm.inc_tmm(polarisation, index[::-1], depth[::-1], kinds[::-1], *place)
    return front["T"], front["R"], back["R"]


@cache
def slow_sum(angle: float) -> tuple[np.ndarray, np.ndarray]:
    """XYZ of a lit wall after 0 to 20 mirrors, and of the white screen's echoes 0 to 10, light not polarised."""
    walls, screen = np.zeros((ORDERS, 3)), np.zeros((ORDERS // 2 + 1, 3))
    white = WHITE @ PRIMARIES
    for w, wavelength in enumerate(WAVELENGTH_NM):
        eye = np.array(OBSERVER[wavelength]) * 683.002 * 5.0
        for polarisation in "sp":
            T1, _, R1 = by_tmm(DIELECTRIC, w, angle, polarisation)
            T2, R2, _ = by_tmm(METAL, w, angle, polarisation)
            light = T1
            for m in range(ORDERS):
                walls[m] += 0.5 * light * LAMP[w] * eye
                light *= R1 if m % 2 else R2
            for n in range(ORDERS // 2 + 1):
                screen[n] += 0.5 * T1 * T2 * (R1 * R2) ** n * white[w] * eye
    return walls, screen


def worst_error(table: cavity.Cavity, angle: float) -> float:
    walls, screen = slow_sum(angle)
    found = table.wall(emitter=0, incidence_deg=angle)[:ORDERS]
    echoes = np.einsum("e,enx->nx", WHITE, table.picture(incidence_deg=angle))[: screen.shape[0]]
    return max(np.abs(found / walls - 1).max(), np.abs(echoes / screen - 1).max())


def tenth_round_trip(table: cavity.Cavity, angle: float) -> float:
    """dE00 of the wall's image after ten round trips, exposed so that the true one is a middle grey."""
    walls, _ = slow_sum(angle)
    white = colour.xyz(LAMP) / colour.xyz(LAMP)[1] * walls[20, 1] * 5
    return float(colour.difference(*(colour.lab(one, white=white) for one in (walls[20], table.wall(emitter=0, incidence_deg=angle)[20]))))


@pytest.mark.parametrize("angle", [0.0, 17.25, 44.75, 61.3])
def test_the_table_is_right_to_a_five_hundredth(angle: float):
    assert worst_error(usual(), angle) < 0.002


@pytest.mark.parametrize("angle", [0.0, 17.25, 44.75])
def test_the_tenth_round_trip_keeps_its_colour(angle: float):
    assert tenth_round_trip(usual(), angle) < 1.0


@cache
def off_by_two_hundredths(which: str) -> cavity.Cavity:
    sheets = {"front": on_grid(DIELECTRIC), "rear": on_grid(METAL)}
    R_front, R_back, T_front, T_back = sheets[which].response
    sheets[which] = replace(sheets[which], response=Response(R_front + 0.02, R_back + 0.02, T_front, T_back))
    return table_of(**sheets)


@pytest.mark.parametrize("which", ["front", "rear"])
@pytest.mark.parametrize("angle", [0.0, 17.25, 44.75, 61.3])
def test_two_hundredths_of_reflectance_would_be_noticed(which: str, angle: float):
    """Guards the two tests above: each must fail at each of its angles when R of one sheet is off by 0.02."""
    wrong = off_by_two_hundredths(which)
    assert worst_error(wrong, angle) > 0.002
    assert angle > 60 or tenth_round_trip(wrong, angle) > 1.0


def test_averaging_s_and_p_first_would_be_noticed():
    """At 45 degrees five round trips of a dielectric pair with s and p averaged too early miss a fifth of the luminance."""
    pair = on_grid(DIELECTRIC), on_grid(DIELECTRIC).turned()
    mixed = [replace(one, response=Response(*(np.broadcast_to(v.mean(axis=0), v.shape) for v in one.response))) for one in pair]
    right, wrong = (table_of(*sheets).wall(emitter=0, incidence_deg=45.0)[10, 1] for sheets in (pair, mixed))
    assert wrong < 0.9 * right


def test_the_gain_is_the_closed_form_over_all_echoes():
    grey = [Response(*(np.full((2, cavity.GRID_DEG.size, 81), v) for v in (R, R, T, T))) for T, R in ((0.5, 0.45), (0.3, 0.6))]
    sheets = [Sheet(wavelength_nm=WAVELENGTH_NM, incidence_deg=cavity.GRID_DEG, response=one) for one in grey]
    table = table_of(*sheets, orders=81)
    assert appearance.screen_gain(table, incidence_deg=20.0, white=WHITE) == pytest.approx(0.5 * 0.3 / (1 - 0.45 * 0.6), rel=1e-9)
    found = appearance.echoes(table, incidence_deg=45.0, gap_mm=50.0, white=WHITE)
    assert found[1].ratio == pytest.approx((0.45 * 0.6) ** 2)
    assert found[1].shift_mm == pytest.approx(2 * 2 * 50.0)


def test_images_alternate_their_mirrors_and_lie_where_the_unfolding_puts_them():
    """T1 0.3, R1 0.6, R2 0.9: even images 0.300, 0.162, 0.0875, 0.0472 (worked by hand); odd ones carry one more R2."""
    grey = [Response(*(np.full((2, cavity.GRID_DEG.size, 81), v) for v in (R, R, T, T))) for T, R in ((0.3, 0.6), (0.0, 0.9))]
    sheets = [Sheet(wavelength_nm=WAVELENGTH_NM, incidence_deg=cavity.GRID_DEG, response=one) for one in grey]
    images = appearance.light_images(
        table_of(*sheets), emitter=0, luminance_cd_m2=1.0, gap_mm=50, from_rear_mm=20, distance_mm=2000, lateral_mm=600
    )
    assert [round(one.luminance_cd_m2, 4) for one in images[0:8:2]] == [0.3, 0.162, 0.0875, 0.0472]
    assert images[1].luminance_cd_m2 == pytest.approx(0.27)
    assert [one.depth_mm for one in images[:4]] == [30, 70, 130, 170]
    assert images[0].incidence_deg == pytest.approx(np.degrees(np.arctan2(600, 2030)))
    assert (images[4].x, images[4].y) == pytest.approx(tuple(colour.chromaticity(colour.xyz(LAMP))))


def test_a_polarised_screen_follows_malus():
    table = usual()
    s, p = (appearance.screen_gain(table, incidence_deg=45, white=WHITE, to_plane_deg=turn) for turn in (90.0, 0.0))
    turned = appearance.screen_gain(table, incidence_deg=45, white=WHITE, to_plane_deg=30.0)
    assert turned == pytest.approx(s * 0.25 + p * 0.75)
    assert appearance.screen_gain(table, incidence_deg=45, white=WHITE) == pytest.approx((s + p) / 2)
    assert p > 1.1 * s


def test_a_bare_pane_at_45_degrees_dims_a_wrongly_turned_screen_about_tenfold():
    """Reflected image, n = 1.52: s 2 Rs/(1 + Rs) against p 2 Rp/(1 + Rp) is 0.17640/0.01855 = 9.5 (Fresnel, worked by hand)."""
    pane = on_grid((layer(n=1.52, thickness_nm=6e6, coherent=False),)).response
    at_45 = pane.R_front[:, 90, 34]
    assert at_45[0] / at_45[1] == pytest.approx(9.5, abs=0.05)


def test_one_sheet_alone_has_no_echo():
    air = no_sheet(wavelength_nm=WAVELENGTH_NM, incidence_deg=cavity.GRID_DEG)
    table = table_of(on_grid(DIELECTRIC), air)
    assert appearance.echoes(table, incidence_deg=30.0, gap_mm=20.0, white=WHITE) == ()
    alone = on_grid(DIELECTRIC).response.R_front[:, 0].mean(axis=0)
    assert appearance.mirror_reflectance(table, incidence_deg=0.0) == pytest.approx(float(colour.luminous(alone)), rel=1e-9)


def test_too_few_orders_or_different_grids_are_refused():
    with pytest.raises(RangeError, match="at least 21 orders"):
        table_of(on_grid(DIELECTRIC), on_grid(METAL), orders=9)
    coarse = sheet(METAL, wavelength_nm=WAVELENGTH_NM, incidence_deg=cavity.GRID_DEG[::2])
    with pytest.raises(RangeError, match="same grid"):
        table_of(on_grid(DIELECTRIC), coarse)
