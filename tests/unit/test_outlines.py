"""An outline from a drawing or a table: the same corners whichever way it was drawn, and every curve within a hundredth."""

from __future__ import annotations

import io
from contextlib import suppress
from math import hypot
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from ezdxf import path as reference
from hypothesis import given
from hypothesis import strategies as st

from halfsilver.cli.main import cli
from halfsilver.errors import JobError
from halfsilver.files.outline_dxf import CHORD_MM, outline_from_dxf
from halfsilver.files.outlines import outline_of, with_outline
from halfsilver.files.workshop import copy_workshop, read_workshop
from hostile.drawings import CORNERS, drawing, hostile_drawings, lines, polyline

EXPECTED = {(float(x), float(-y)) for x, y in CORNERS}
TABLE = "x,z\nmm,mm\n" + "".join(f"{x},{-y}\n" for x, y in CORNERS)
POLYLINE = (
    "0\nPOLYLINE\n66\n1\n10\n0\n20\n0\n30\n7\n70\n1\n" + "".join(f"0\nVERTEX\n10\n{x}\n20\n{y}\n" for x, y in CORNERS) + "0\nSEQEND\n"
)


def shuffled(text: str) -> str:
    pieces = ["0\nLINE" + piece for piece in text.split("0\nLINE")[1:]]
    return "".join(pieces[i] for i in (3, 0, 5, 1, 4, 2))


@pytest.mark.parametrize(
    "data",
    [
        drawing(polyline()),
        drawing(polyline(), head="999\nmade by hand\n0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"),
        drawing(polyline([(x + 100, y - 40) for x, y in CORNERS])),
        drawing(polyline([*CORNERS, CORNERS[0]], closed=0)),
        drawing(polyline(CORNERS[::-1]) + "0\nTEXT\n1\nlip\n10\n0\n20\n0\n0\nDIMENSION\n10\n0\n20\n0\n"),
        drawing(lines()),
        drawing(shuffled(lines())),
        drawing(POLYLINE),
        drawing(POLYLINE.replace("10\n0\n20\n0\n30\n7\n70", "70")),
        drawing(polyline()).replace(b"\n", b"\r\n"),
        TABLE.encode(),
        TABLE.replace("mm,mm", "in,mm").replace("26,", "26 mm,").replace("20,", "2 cm,").encode(),
    ],
)
def test_an_outline_is_the_same_however_it_was_drawn(data: bytes) -> None:
    assert set(outline_of(data, file="x")) == EXPECTED


def test_the_unit_is_the_drawings_or_the_one_that_is_said() -> None:
    inches = drawing(polyline([(x / 25.4, y / 25.4) for x, y in CORNERS]), head="")
    assert {(round(x, 3), round(z, 3)) for x, z in outline_of(inches, file="x", unit="in")} == EXPECTED
    assert set(outline_of(drawing(polyline(), head=""), file="x", unit="mm")) == EXPECTED


def test_curves_are_those_of_an_independent_reader() -> None:
    """ezdxf writes the drawing and follows its curves at a tenth of our tolerance; every corner of ours stands on them."""
    made = ezdxf.new("R2010", units=4)
    space = made.modelspace()
    cove = [(0, 0, 0), (26, 0, 0), (26, -5, 0), (20, -5, 0), (20, -30, 0), (5, -30, -0.41421356), (0, -25, 0)]
    space.add_lwpolyline(cove, format="xyb", close=True)
    text = io.StringIO()
    made.write(text)
    found = outline_from_dxf(text.getvalue().encode(), file="x")
    curve = [(p.x, -p.y) for p in reference.make_path(space[0]).flattening(CHORD_MM / 10)]
    assert len(found) > 10
    assert max(min(hypot(x - a, z - b) for a, b in found) for x, z in [(20.0, 5.0), (0.0, 25.0), (5.0, 30.0)]) < 1e-3
    for x, z in found:
        assert min(_from_side(x, z, a, b) for a, b in zip(curve, [*curve[1:], curve[0]], strict=True)) < 1.1 * CHORD_MM
    middle = (5 - 5 * 0.5**0.5, 25 + 5 * 0.5**0.5)  # on the quarter round of radius 5 about (5, 25), by hand
    assert min(hypot(x - middle[0], z - middle[1]) for x, z in found) < 0.5


def test_arcs_and_lines_of_an_independent_writer_join() -> None:
    made = ezdxf.new("R12")
    space = made.modelspace()
    for a, b in (
        ((0, 0), (26, 0)),
        ((26, 0), (26, -5)),
        ((26, -5), (20, -5)),
        ((20, -5), (20, -30)),
        ((20, -30), (5, -30)),
        ((0, -25), (0, 0)),
    ):
        space.add_line(a, b)
    space.add_arc((5, -25), 5, 180, 270)
    text = io.StringIO()
    made.write(text)
    found = outline_of(text.getvalue().encode(), file="x", unit="mm")  # drawings of this age name no unit
    assert max(abs(hypot(x - 5, z - 25) - 5) for x, z in found if z > 25.01 and x < 4.99) < 1e-3
    assert {(26.0, 5.0), (20.0, 5.0), (20.0, 30.0)} <= set(found)


def _from_side(x: float, z: float, a: tuple[float, float], b: tuple[float, float]) -> float:
    dx, dz = b[0] - a[0], b[1] - a[1]
    length = dx * dx + dz * dz
    share = 0.0 if length == 0 else max(0.0, min(1.0, ((x - a[0]) * dx + (z - a[1]) * dz) / length))
    return hypot(x - a[0] - share * dx, z - a[1] - share * dz)


@pytest.mark.parametrize("name", sorted(hostile_drawings()))
def test_what_is_no_outline_is_refused_in_words(name: str) -> None:
    data, code = hostile_drawings()[name]
    with pytest.raises(JobError) as caught:
        outline_of(data, file="brought.dxf")
    problem = caught.value.problems[0]
    assert problem.code == code, problem
    assert problem.file == "brought.dxf"
    assert problem.allowed
    assert problem.advice
    assert problem.read.isprintable()


@given(
    data=st.binary(max_size=300) | st.text("0123456789\n.-LINEARCV ", max_size=300).map(str.encode),
    at=st.integers(0, 400),
    cut=st.booleans(),
)
def test_any_bytes_are_read_or_refused(data: bytes, at: int, cut: bool) -> None:
    good = drawing(polyline(more="42\n0.3\n"))
    for bad in (data, good[:at] + data + good[at + (len(data) if cut else 0) :]):
        with suppress(JobError):
            assert len(outline_of(bad, file="x")) >= 5


def test_only_the_rows_of_one_moulding_change() -> None:
    table = "z,moulding,x\nmm,,mm\n0,a,0\n1,b,2\n3,a,4\n"
    assert with_outline(table, "a", ((0.0, 1.5), (2.25, 0.0))) == "z,moulding,x\nmm,,mm\n1,b,2\n1.5 mm,a,0 mm\n0 mm,a,2.25 mm\n"


def test_the_verb_puts_an_outline_into_a_workshop(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    copy_workshop(shop)
    (tmp_path / "slim.dxf").write_bytes(drawing(polyline()))
    done = CliRunner().invoke(cli, ["workshop", "profile", str(shop), "slim-19", str(tmp_path / "slim.dxf")], catch_exceptions=False)
    assert "6 corners of slim-19, 26 x 30 mm" in done.output
    assert set(read_workshop(shop).mouldings["slim-19"].profile) == EXPECTED
    before = (shop / "profiles.csv").read_bytes()
    (tmp_path / "bad.dxf").write_bytes(drawing(""))
    with pytest.raises(JobError):
        CliRunner().invoke(cli, ["workshop", "profile", str(shop), "slim-19", str(tmp_path / "bad.dxf")], catch_exceptions=False)
    assert (shop / "profiles.csv").read_bytes() == before
