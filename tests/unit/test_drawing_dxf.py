"""DXF, read back by an independent reader: clean, true to size, named, the same bytes each time."""

from __future__ import annotations

import io

import ezdxf
import pytest
from ezdxf.document import Drawing

from golden.drawing.demo_scenes import SCENES, front_view
from halfsilver.drawing.dxf import APPLICATION, view_dxf
from halfsilver.drawing.scene import Dimension, flat
from halfsilver.drawing.style import Role
from halfsilver.drawing.view import Scale, View
from hash_seeds import outputs


@pytest.fixture(scope="module", params=list(SCENES))
def read(request: pytest.FixtureRequest) -> tuple[str, Drawing]:
    build, scale = SCENES[request.param]
    text = view_dxf(View(scene=build(), scale=Scale(scale), at_mm=(33.0, 44.0)))
    return request.param, ezdxf.read(io.StringIO(text))


def test_an_audit_finds_nothing(read: tuple[str, Drawing]) -> None:
    audit = read[1].audit()
    assert not audit.errors
    assert not audit.fixes


def test_dimensions_measure_what_was_given(read: tuple[str, Drawing]) -> None:
    name, document = read
    given = sorted((d.name, d.text, round(d.measured_mm, 4)) for d in flat(SCENES[name][0]().items) if isinstance(d, Dimension))
    shown = sorted(
        (e.get_xdata(APPLICATION)[0].value if e.has_xdata(APPLICATION) else "", e.dxf.text, round(e.get_measurement(), 4))
        for e in document.modelspace().query("DIMENSION")
    )
    assert shown == given


def test_units_are_millimetres_and_layers_are_roles(read: tuple[str, Drawing]) -> None:
    document = read[1]
    assert document.units == ezdxf.units.MM
    assert {role.value.upper() for role in Role} <= {layer.dxf.name for layer in document.layers}
    used = {e.dxf.layer for e in document.modelspace()}
    assert "0" not in used
    assert {"OUTLINE", "DIMENSION"} <= used
    assert "HATCH" not in used  # ink of the page alone


def test_parts_stand_at_true_size_wherever_the_view_is_on_paper() -> None:
    document = ezdxf.read(io.StringIO(view_dxf(View(scene=front_view(), scale=Scale(10), at_mm=(100, 70)))))
    (glass,) = [
        e
        for e in document.modelspace().query('LWPOLYLINE[layer=="OUTLINE"]')
        if e.has_xdata(APPLICATION) and e.get_xdata(APPLICATION)[0].value == "front.glass"
    ]
    xs = [p[0] for p in glass.get_points()]
    assert (min(xs), max(xs)) == pytest.approx((-655, 655), abs=1e-4)


def test_lettering_is_as_large_as_the_scale_asks() -> None:
    document = ezdxf.read(io.StringIO(view_dxf(View(scene=front_view(), scale=Scale(10)))))
    heights = {e.dxf.height for e in document.modelspace().query("TEXT")}
    assert heights == {25.0}
    assert document.dimstyles.get("SHOP").dxf.dimscale == 10.0


def test_bytes_do_not_depend_on_time_or_hash_seed() -> None:
    code = (
        "from golden.drawing.demo_scenes import section\nfrom halfsilver.drawing.dxf import view_dxf\n"
        "from halfsilver.drawing.view import Scale, View\nimport hashlib, sys\n"
        "sys.stdout.write(hashlib.sha256(view_dxf(View(scene=section(), scale=Scale(1))).encode()).hexdigest())"
    )
    runs = outputs(code)
    assert runs[0] == runs[1] and runs[0]  # noqa: PT018


def test_the_writer_leaves_the_library_as_it_was() -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    view_dxf(View(scene=front_view(), scale=Scale(10)))
    assert ezdxf.options.write_fixed_meta_data_for_testing is before
