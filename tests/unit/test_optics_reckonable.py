"""Inputs of the optics formulas that cannot be: each is refused at its place, through ``reckon`` as a problem."""

from __future__ import annotations

import pytest

from halfsilver.errors import JobError
from halfsilver.services.reckon import reckon, unit_of

GLASS = {"n": 1.52, "k": 0.0, "thickness_nm": 6e6, "coherent": False}
GRID = {"wavelength_nm": [450.0, 550.0, 650.0], "incidence_deg": [0.0, 45.0]}
HALF = {"T": [0.5, 0.5], "R_front": [0.4, 0.4], "R_back": [0.4, 0.4]}


def problem(name, inputs):
    with pytest.raises(JobError) as caught:
        reckon(name, inputs, file="in.json")
    (found,) = caught.value.problems
    assert (found.code, found.file) == ("out-of-range", "in.json")
    return found


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        ({"n": [1.52]}, "layers[1].n", "has 1 values for 3 wavelengths"),
        ({"n": [1.52, 1.52]}, "layers[1].n", "or a bare number for all"),
        ({"k": [0.0] * 4}, "layers[1].k", "has 4 values for 3 wavelengths"),
        ({"n": []}, "layers[1].n", "at least one number"),
        ({"n": [[1.5, 1.5, 1.5]]}, "layers[1].n", "plain list"),
        ({"n": ["glass"] * 3}, "layers[1].n", "must hold numbers"),
        ({"n": 0.0}, "layers[1]", "n above 0"),
        ({"k": -0.1}, "layers[1]", "k of 0 or more"),
        ({"thickness_nm": -1.0}, "layers[1]", "0 or more"),
        ({"thickness_nm": [1.0, 2.0]}, "layers[1].thickness_nm", "one number"),
        ({"coherent": "false"}, "layers[1].coherent", "true or false"),
    ],
)
def test_a_layer_that_cannot_be(change, path, words):
    found = problem("optics.sheet", {**GRID, "layers": [GLASS, GLASS | change]})
    assert found.path == path
    assert words in found.allowed


@pytest.mark.parametrize("layers", [{"n": 1.5}, "glass", [GLASS, [1.5, 0.0]], [GLASS, {"thickness_nm": 1.0}]])
def test_what_is_no_list_of_layers(layers):
    assert problem("optics.sheet", {**GRID, "layers": layers}).path.startswith("layers")


@pytest.mark.parametrize(("name", "value"), [("incidence_deg", [91.0]), ("incidence_deg", [-1.0]), ("wavelength_nm", [0.0])])
def test_a_grid_that_cannot_be(name, value):
    problem("optics.sheet", {**GRID, name: value, "layers": [GLASS]})


def test_a_bare_number_holds_for_every_wavelength():
    layers = [{**GLASS, "n": [1.52] * 3, "k": [0.0] * 3}]
    assert reckon("optics.sheet", {**GRID, "layers": [GLASS]}).result == reckon("optics.sheet", {**GRID, "layers": layers}).result


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        ({"T": [0.5]}, "sheets[1]", "same number of values"),
        ({name: [0.4] for name in HALF}, "sheets[1]", "same number of wavelengths"),
        ({"T": [0.5, -0.01]}, "sheets[1]", "between 0 and 1"),
        ({"R_back": [0.5, 0.500002]}, "sheets[1]", "exceeds 1"),
        ({"R_front": [0.5, 0.51]}, "sheets[1]", "exceeds 1"),
        ({"T": "half"}, "sheets[1].T", "must hold numbers"),
        ({"T": None}, "sheets[1].T", ""),
    ],
)
def test_a_sheet_that_cannot_be(change, path, words):
    found = problem("optics.stack", {"sheets": [HALF, HALF | change]})
    assert found.path == path
    assert words in found.allowed


def test_colours_need_three_numbers_each():
    assert problem("colour.difference", {"lab1": [50.0, 0.0], "lab2": [50.0, 0.0, 0.0]}).path == "lab1"
    assert problem("colour.difference", {"lab1": [[50.0, 0.0, 0.0]] * 2, "lab2": [[50.0, 0.0, 0.0]] * 3}).path == "lab2"


@pytest.mark.parametrize(
    ("name", "unit"),
    [("T_s", ""), ("k_v", ""), ("time_s", "s"), ("x_mm", "mm"), ("viscosity_m2_s", "m2/s"), ("u_value_w_m2k", "W/(m2 K)"), ("layers", "")],
)
def test_a_name_carries_its_unit_and_a_symbol_none(name: str, unit: str):
    assert unit_of(name) == unit
