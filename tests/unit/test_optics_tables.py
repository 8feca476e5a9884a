"""Reference tables: what the reader refuses, and that every optical table of the package passes."""

from __future__ import annotations

import math

import pytest

from halfsilver.errors import DataError
from halfsilver.files import tables


def test_every_listed_material_is_there_and_sourced():
    index = tables.load("optics/materials")
    names, sources = index.words("name"), index.words("source")
    assert len(names) >= 12
    assert all(len(source) > 20 for source in sources)
    for name in names:
        grid = tables.material(name).numbers("wavelength", unit="nm")
        assert (grid[0], grid[-1], len(grid)) == (380.0, 780.0, 81)


@pytest.mark.parametrize(
    ("name", "n", "k"),
    [
        # Handbook values at 550 nm, from memory: fused silica 1.460, MgF2 1.378, borosilicate crown 1.5185, silver about 0.06 + 3.6 i.
        ("silica", 1.460, 0.0),
        ("magnesium_fluoride", 1.378, 0.0),
        ("borosilicate_crown", 1.5185, 0.0),
        ("silver", 0.06, 3.6),
        ("clear_float", 1.525, 0.0),
    ],
)
def test_handbook_indices_at_550_nm(name: str, n: float, k: float):
    table = tables.material(name)
    row = table.numbers("wavelength", unit="nm").index(550.0)
    assert table.numbers("n", unit="1")[row] == pytest.approx(n, abs=1.1e-3)
    assert table.numbers("k", unit="1")[row] == pytest.approx(k, abs=5e-3)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a,b\nmm,1\n", "at least one entry"),
        ("a,a\nmm,1\n1,2\n", "different names"),
        ("a,b\nmm,\n1,2\n", "has no unit"),
        ("a,b\nmm,1\n1\n", "more or fewer cells"),
        ("a,b\nmm,1\n1,two\n", "is not a number"),
    ],
)
def test_a_malformed_table_is_refused(text: str, message: str):
    with pytest.raises(DataError, match=message):
        tables.parse(text, name="broken")


def test_units_axes_and_limits_are_checked():
    table = tables.parse("wavelength,t,r_front,r_back\nnm,1,1,1\n400,0.5,0.5,0.5\n390,0.5,0.6,0.4\n", name="made")
    with pytest.raises(DataError, match="wanted in mm"):
        table.numbers("wavelength", unit="mm")
    with pytest.raises(DataError, match="must increase"):
        tables.checked_spectrum(table)
    gain = tables.parse("wavelength,t,r_front,r_back\nnm,1,1,1\n400,0.5,0.5,0.53\n", name="made")
    with pytest.raises(DataError, match=r"exceeds 1\.02"):
        tables.checked_spectrum(gain)
    with pytest.raises(DataError, match="between 0 and 1"):
        tables.within(tables.parse("t\n1\n1.2\n", name="made"), "t", unit="1", least=0, most=1)


def test_an_empty_cell_is_not_a_number():
    assert math.isnan(tables.parse("a,b\nmm,text\n,oak\n", name="made").numbers("a", unit="mm")[0])


def test_a_missing_table_is_named():
    with pytest.raises(DataError, match="optics/nothing"):
        tables.load("optics/nothing")
