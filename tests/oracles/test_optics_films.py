"""Sheets against the ``tmm`` package (S. J. Byrnes, arXiv:1603.02720): R and T, front and back, s and p."""

from __future__ import annotations

import numpy as np
import pytest
import tmm

from halfsilver.files import tables
from halfsilver.optics.films import Layer, layer, solve
from halfsilver.optics.reckonable import optics_sheet

WAVELENGTH_NM = np.array([380.0, 480.0, 555.0, 650.0, 780.0])
INCIDENCE_DEG = np.array([0.0, 20.0, 45.0, 70.0, 80.0])


def material(name: str) -> tuple[np.ndarray, np.ndarray]:
    table = tables.material(name)
    grid = table.numbers("wavelength", unit="nm")
    return tuple(np.interp(WAVELENGTH_NM, grid, table.numbers(part, unit="1")) for part in ("n", "k"))


def film(name: str, thickness_nm: float) -> Layer:
    n, k = material(name)
    return layer(n=n, k=k, thickness_nm=thickness_nm)


def pane(name: str, thickness_mm: float) -> Layer:
    n, k = material(name)
    return layer(n=n, k=k, thickness_nm=thickness_mm * 1e6, coherent=False)


def air_gap(thickness_mm: float) -> Layer:
    return layer(n=1.0, thickness_nm=thickness_mm * 1e6, coherent=False)


CLEAR = pane("clear_float", 6)
STACKS = {
    "bare pane": [CLEAR],
    "grey pane": [pane("grey_float", 6)],
    "strongly absorbing pane": [layer(n=1.5, k=2e-5, thickness_nm=6e6, coherent=False)],
    "chromium in front": [film("chromium", 12), CLEAR],
    "chromium behind": [CLEAR, film("chromium_film", 12)],
    "silver between dielectrics": [film("titania", 35), film("silver", 12), film("titania", 35), CLEAR],
    "dielectric splitter": [film("niobia", 58), film("silica", 94), film("niobia", 58), pane("low_iron_float", 4)],
    "coated on both faces": [film("magnesium_fluoride", 100), CLEAR, film("aluminium", 10)],
    "opaque metal": [film("aluminium", 20_000), CLEAR],
    "film without glass": [film("silver", 20)],
    "two films without glass": [film("titania", 60), film("silica", 90)],
    "two panes and air": [CLEAR, air_gap(50), pane("low_iron_float", 4)],
    "laminate, bulk against bulk": [CLEAR, layer(n=1.48, k=1e-7, thickness_nm=0.76e6, coherent=False), CLEAR],
    "film inside a laminate": [CLEAR, film("silver", 10), CLEAR],
}


def by_tmm(layers: list[Layer], wavelength: int, angle: float, polarisation: str) -> tuple[float, ...]:
    index = [1.0, *(complex(one.index[wavelength % one.index.size]) for one in layers), 1.0]
    depth = [np.inf, *(one.thickness_nm for one in layers), np.inf]
    kinds = ["i", *("c" if one.coherent else "i" for one in layers), "i"]

    def half(step: int) -> dict[str, float]:
        given = (polarisation, index[::step], depth[::step])
        place = (np.radians(angle), WAVELENGTH_NM[wavelength])
        if "i" in kinds[1:-1]:
            return tmm.inc_tmm(*given, kinds[::step], *place)
        return tmm.coh_tmm(*given, *place)

    front, back = half(1), half(-1)
    return front["R"], back["R"], front["T"], back["T"]


@pytest.mark.parametrize("name", STACKS)
@pytest.mark.filterwarnings("ignore::UserWarning")  # tmm says aloud that it limits an opaque layer
def test_agrees_with_tmm_from_both_sides(name: str, capsys: pytest.CaptureFixture[str]):
    layers = STACKS[name]
    found = solve(layers, wavelength_nm=WAVELENGTH_NM, incidence_deg=INCIDENCE_DEG)
    for p, polarisation in enumerate("sp"):
        for a, angle in enumerate(INCIDENCE_DEG):
            for w in range(WAVELENGTH_NM.size):
                expected = by_tmm(layers, w, angle, polarisation)
                assert [one[p, a, w] for one in found] == pytest.approx(expected, abs=1e-9), (polarisation, angle, w)
    capsys.readouterr()


CHANCE = np.random.default_rng(20260711)


def random_layer() -> Layer:
    """A clear or absorbing film, a metal, or a bulk layer from clear to opaque, each with its own run over the wavelengths."""
    kind = CHANCE.choice(["clear", "absorbing", "metal", "bulk", "dark bulk"])
    drift = 1 + 0.1 * CHANCE.uniform(-1, 1) * np.linspace(-1, 1, WAVELENGTH_NM.size)
    if "bulk" in kind:
        k = CHANCE.uniform(0, 1e-6) if kind == "bulk" else 10 ** CHANCE.uniform(-6, -3)
        return layer(n=CHANCE.uniform(1.0, 1.9) * drift, k=k * drift, thickness_nm=10 ** CHANCE.uniform(4.5, 7.3), coherent=False)
    n, k = {"clear": (CHANCE.uniform(1.2, 2.7), 0.0), "absorbing": (CHANCE.uniform(1.3, 3), CHANCE.uniform(0, 0.5))}.get(
        kind, (CHANCE.uniform(0.05, 4), CHANCE.uniform(1, 6))
    )
    return layer(n=n * drift, k=k * drift, thickness_nm=CHANCE.choice([CHANCE.uniform(0, 200), CHANCE.uniform(0, 3000), 0.0]))


RANDOM = [[random_layer() for _ in range(CHANCE.integers(1, 9))] for _ in range(40)]


@pytest.mark.parametrize("layers", RANDOM, ids=["".join("f" if one.coherent else "B" for one in row) for row in RANDOM])
@pytest.mark.filterwarnings("ignore::UserWarning")
def test_any_row_agrees_with_tmm_through_the_plain_record(layers: list[Layer], capsys: pytest.CaptureFixture[str]):
    records = [
        {"n": one.index.real.tolist(), "k": one.index.imag.tolist(), "thickness_nm": one.thickness_nm, "coherent": one.coherent}
        for one in layers
    ]
    found = optics_sheet(wavelength_nm=WAVELENGTH_NM.tolist(), incidence_deg=INCIDENCE_DEG.tolist(), layers=records)
    for polarisation in "sp":
        for a, angle in enumerate(INCIDENCE_DEG):
            for w in (0, 2, 4):
                expected = by_tmm(layers, w, angle, polarisation)
                got = [found[name][polarisation][a][w] for name in ("R_front", "R_back", "T_front", "T_back")]
                assert got == pytest.approx(expected, abs=1e-7), (polarisation, angle, w)
    capsys.readouterr()


def test_the_plain_record_keeps_order_and_names():
    n, k = material("chromium")
    glass = {"n": 1.52, "k": 1e-7, "thickness_nm": 6e6, "coherent": False}
    metal = {"n": n.tolist(), "k": k.tolist(), "thickness_nm": 12.0, "coherent": True}
    found = optics_sheet(wavelength_nm=WAVELENGTH_NM.tolist(), incidence_deg=[0.0, 45.0], layers=[metal, glass])
    row = [layer(n=n, k=k, thickness_nm=12.0), layer(n=1.52, k=1e-7, thickness_nm=6e6, coherent=False)]
    expected = by_tmm(row, 2, 45.0, "p")
    got = [found[name]["p"][1][2] for name in ("R_front", "R_back", "T_front", "T_back")]
    assert got == pytest.approx(expected, abs=1e-9)
    # A thin chromium film mirrors more than twice as much from its coated side as through the glass.
    assert found["R_front"]["s"][0][2] > 1.3 * found["R_back"]["s"][0][2]
