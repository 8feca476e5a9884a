"""The demo drawings against the ones somebody has looked at: a change detector, not a proof.

A drawing that differs is written to ``out/golden/drawing`` beside the repository's root, old and new can then be compared, and
the new one replaces the old one only after somebody has looked at it.
"""

from __future__ import annotations

import pytest

from golden.drawing.demo_scenes import SCENES, demo_sheet
from halfsilver.drawing.svg import sheet_svg, view_svg
from halfsilver.drawing.view import Scale, View
from looked_at import hold


def drawing(name: str) -> str:
    if name == "sheet":
        return sheet_svg(demo_sheet(), paper="#ffffff")
    build, scale = SCENES[name]
    scene = build()
    return view_svg(View(scene=scene, scale=Scale(scale), caption=scene.title), paper="#ffffff")


@pytest.mark.parametrize("name", [*SCENES, "sheet"])
def test_the_drawing_is_the_one_that_was_looked_at(name: str) -> None:
    hold("drawing", name, drawing(name))
