"""SVG: well formed, the same bytes each time, and true to what it shows."""

from __future__ import annotations

import io
import os
import re
from xml.etree import ElementTree

import pypdf
import pytest
import typst
from PIL import Image

from golden.drawing.demo_scenes import OUTSIDE_W, SCENES, front_view
from halfsilver.drawing.png import font_paths, png
from halfsilver.drawing.scene import Dimension, Scene, Text, flat, rectangle
from halfsilver.drawing.style import Material
from halfsilver.drawing.svg import number, view_svg
from halfsilver.drawing.view import Scale, View
from halfsilver.errors import RenderError
from hash_seeds import outputs

SVG = "{http://www.w3.org/2000/svg}"


def written(name: str) -> tuple[str, ElementTree.Element, float]:
    build, scale = SCENES[name]
    scene = build()
    text = view_svg(View(scene=scene, scale=Scale(scale), caption=scene.title))
    return text, ElementTree.fromstring(text), scale


def dimension_groups(root: ElementTree.Element) -> list[ElementTree.Element]:
    return [g for g in root.iter(f"{SVG}g") if g.get("data-kind") == "dimension"]


def points(element: ElementTree.Element) -> list[tuple[float, float]]:
    values = [float(v) for v in re.findall(r"-?\d+\.?\d*", element.get("d", ""))]
    return list(zip(values[::2], values[1::2], strict=True))


def words(element: ElementTree.Element) -> str:
    return "".join(element.itertext())


@pytest.mark.parametrize("name", SCENES)
def test_size_and_view_box_are_millimetres(name: str) -> None:
    _, root, _ = written(name)
    width, height = root.get("width", ""), root.get("height", "")
    assert root.get("viewBox") == f"0 0 {width.removesuffix('mm')} {height.removesuffix('mm')}"
    assert width.endswith("mm") and height.endswith("mm")  # noqa: PT018


@pytest.mark.parametrize("name", SCENES)
def test_printed_texts_are_the_ones_given(name: str) -> None:
    _, root, _ = written(name)
    given = sorted((d.name, d.text) for d in flat(SCENES[name][0]().items) if isinstance(d, Dimension))
    shown = sorted((g.get("data-name", ""), words(g.findall(f"{SVG}text")[-1])) for g in dimension_groups(root))
    assert shown == given
    assert all(g.get("data-text") == words(g.findall(f"{SVG}text")[-1]) for g in dimension_groups(root))


@pytest.mark.parametrize("name", SCENES)
def test_dimension_lines_are_as_long_as_what_they_measure(name: str) -> None:
    _, root, scale = written(name)
    for group in dimension_groups(root):
        line = group.findall(f"{SVG}path")[1]
        (x0, y0), (x1, y1) = points(line)
        assert ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 * scale == pytest.approx(float(group.get("data-length-mm", "")), abs=0.002 * scale)


def test_a_dimension_line_ends_over_the_edges_it_measures() -> None:
    _, root, scale = written("front")
    (outside,) = [g for g in dimension_groups(root) if g.get("data-name") == "outside.width"]
    ends = sorted(x for x, _ in points(outside.findall(f"{SVG}path")[1]))
    top = next(g for g in root.iter(f"{SVG}g") if g.get("data-name") == "front.stick.top")
    xs = [x for x, _ in points(top.findall(f"{SVG}path")[-1])]
    assert ends == pytest.approx([min(xs), max(xs)], abs=0.0015)
    assert max(xs) - min(xs) == pytest.approx(OUTSIDE_W / scale, abs=0.002)


@pytest.mark.parametrize("name", SCENES)
def test_every_text_names_the_shipped_font_and_nothing_needs_css(name: str) -> None:
    text, root, _ = written(name)
    assert {t.get("font-family") for t in root.iter(f"{SVG}text")} == {"Inter"}
    assert not re.search(r"<style|style=|class=", text)


def test_parts_carry_name_and_title() -> None:
    _, root, _ = written("section")
    titles = {g.get("data-name"): words(t) for g in root.iter(f"{SVG}g") if (t := g.find(f"{SVG}title")) is not None}
    assert titles["rear.glass"] == "Rear glass"
    assert titles["bar"] == "Stepped bar"


def test_words_of_a_person_cannot_break_the_file() -> None:
    nasty = '</text><script>alert("1")</script> & <b>'
    scene = Scene(
        title=nasty,
        items=(
            rectangle(x_mm=0, y_mm=0, width_mm=10, height_mm=10, material=Material.GLASS, name='a"b', title=nasty),
            Text(at=(0, 0), text=nasty),
        ),
    )
    root = ElementTree.fromstring(view_svg(View(scene=scene, scale=Scale(1), caption=nasty)))
    assert nasty in [words(t) for t in root.iter(f"{SVG}text")]
    assert not list(root.iter(f"{SVG}script"))


def test_bytes_do_not_depend_on_the_hash_seed() -> None:
    code = (
        "from golden.drawing.demo_scenes import SCENES\nfrom halfsilver.drawing.svg import view_svg\n"
        "from halfsilver.drawing.view import Scale, View\nimport hashlib, sys\n"
        "text = ''.join(view_svg(View(scene=f(), scale=Scale(s))) for f, s in SCENES.values())\n"
        "sys.stdout.write(hashlib.sha256(text.encode()).hexdigest())"
    )
    runs = outputs(code)
    assert runs[0] == runs[1] and runs[0]  # noqa: PT018


@pytest.mark.parametrize(("value", "text"), [(-0.0, "0"), (-0.0004, "0"), (1.5, "1.5"), (100.0, "100"), (0.1 + 0.2, "0.3")])
def test_numbers_are_short_and_never_minus_nought(value: float, text: str) -> None:
    assert number(value) == text


def test_the_picture_is_drawn_with_the_shipped_font() -> None:
    svg = view_svg(View(scene=front_view(), scale=Scale(20)))
    image = Image.open(io.BytesIO(png(svg, width_px=600))).convert("L")
    bare = Image.open(io.BytesIO(png(re.sub(r"<text.*?</text>", "", svg), width_px=600))).convert("L")
    assert image.width == 600
    assert sum(1 for a, b in zip(image.tobytes(), bare.tobytes(), strict=True) if a != b) > 500


def test_what_is_no_svg_is_refused() -> None:
    with pytest.raises(RenderError, match="cannot be turned into a picture"):
        png("<svg", width_px=10)


def test_a_pdf_keeps_fractions_as_readable_text_in_the_shipped_font() -> None:
    svg = view_svg(View(scene=front_view(), scale=Scale(10)))
    main = b'#set page(width: auto, height: auto)\n#image("/a.svg")'
    folder = os.path.dirname(font_paths()[0])  # noqa: PTH120
    pdf = typst.compile({"main": main, "/a.svg": svg.encode()}, font_paths=[folder], ignore_system_fonts=True)
    page = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
    text = page.extract_text()
    for shown in ("57 3/32 in", "53 5/16 in", "29 11/16 in", "53 9/32 x 29 21/32 in"):
        assert shown in text
    fonts: set[str] = set()

    def look(node: object) -> None:
        resources = node.get("/Resources", {})  # type: ignore[attr-defined]
        fonts.update(str(f.get_object()["/BaseFont"]).split("+")[-1] for f in resources.get("/Font", {}).values())
        for child in resources.get("/XObject", {}).values():
            look(child.get_object())

    look(page)
    assert fonts == {"Inter-Regular"}
