"""Plates against solutions made another way: a patch of load by the double series of Navier, an even load by finite differences."""

from math import pi

import numpy as np
import pytest

from halfsilver.engineering import leaning, plates


def moment_and_sag(*, a, b, side, poisson, terms=801):
    """Bending moment at the centre and sag over D, for a unit load on a square patch."""
    m, n = np.arange(1.0, terms, 2)[:, None], np.arange(1.0, terms, 2)[None, :]
    sign = np.sin(m * pi / 2) * np.sin(n * pi / 2)
    load = 16 / (pi**2 * side**2 * m * n) * sign * np.sin(m * pi * side / 2 / a) * np.sin(n * pi * side / 2 / b)
    shape = load / (pi**4 * ((m / a) ** 2 + (n / b) ** 2) ** 2)
    return pi**2 * np.sum(shape * sign * ((m / a) ** 2 + poisson * (n / b) ** 2)), np.sum(shape * sign)


@pytest.mark.parametrize("aspect", [1.0, 1.3, 1.75, 2.0, 3.0])
@pytest.mark.parametrize("poisson", [0.22, 0.3])
def test_patch_agrees_with_the_double_series(aspect, poisson):
    radius = 0.05  # of the short side; a square patch of the same area
    moment, _ = moment_and_sag(a=1.0, b=aspect, side=radius * pi**0.5, poisson=poisson)
    found = leaning.patch_stress_mpa(width_mm=1.0, height_mm=aspect, thickness_mm=0.01, load_n=1.0, radius_mm=radius, poisson=poisson)
    assert found == pytest.approx(6 * moment / 0.01**2, rel=0.012)


@pytest.mark.parametrize("aspect", [1.0, 1.5, 2.0, 4.0])
def test_sag_agrees_with_the_double_series(aspect):
    _, sag = moment_and_sag(a=1.0, b=aspect, side=1e-3, poisson=0.3)
    unit = {"width_mm": 1.0, "height_mm": aspect, "thickness_mm": 12 ** (1 / 3), "load_n": 1.0, "modulus_mpa": 1.0, "poisson": 0.0}
    assert leaning.patch_deflection_mm(**unit) == pytest.approx(sag, rel=1e-4)


@pytest.mark.parametrize("aspect", [1.0, 1.5, 2.0])
def test_even_load_agrees_with_finite_differences(aspect):
    # A supported plate is two membranes (Marcus): minus the Laplacian of m is the load, of w it is m; m = (Mx + My)/(1 + nu).
    scipy_linalg, sparse = pytest.importorskip("scipy.sparse.linalg"), pytest.importorskip("scipy.sparse")
    n = 60
    step, along = 1.0 / n, int(n * aspect)

    def second(points):
        return sparse.diags_array([-1.0, 2.0, -1.0], offsets=[-1, 0, 1], shape=(points - 1, points - 1)) / step**2

    laplacian = sparse.kron(second(n), sparse.eye_array(along - 1)) + sparse.kron(sparse.eye_array(n - 1), second(along))
    solve = scipy_linalg.factorized(laplacian.tocsc())
    moments = solve(np.ones((n - 1) * (along - 1)))
    sags = solve(moments)
    sag, middle = (field.reshape(n - 1, along - 1)[n // 2 - 1, along // 2 - 1] for field in (sags, moments))
    found = plates.plate_factors(aspect=aspect, poisson=0.3)
    assert found.deflection == pytest.approx(sag, rel=2e-3)
    assert (found.moment_short + found.moment_long) / 1.3 == pytest.approx(middle, rel=2e-3)
