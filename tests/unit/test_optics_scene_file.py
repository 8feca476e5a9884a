"""Scene files: read as the outside contract shows them, every mistake with its place."""

from __future__ import annotations

import json

import pytest

from halfsilver.errors import JobError
from halfsilver.files.located import locate
from halfsilver.files.scene import is_scene, scene_from_text

GIVEN = {
    "schema": "halfsilver/scene/1", "width_mm": 1200, "height_mm": 700.5, "gap_mm": 60, "front": {"T": 0.4, "R": 0.5},
    "rear": {"T": 0.2, "R": 0.75}, "wall": {"reflectance": 0.4}, "band": {"from_rear_mm": [20, 30], "radiance": [20, 14, 8]},
    "screen": {"behind_mm": 15, "checker_mm": 100, "levels": [1.0, 1e-05]},
    "camera": {"origin_mm": [250, -100, 2200], "target_mm": [0, 0, 30], "fov_x_deg": 38},
}  # fmt: skip


def test_a_scene_reads_as_written():
    text = json.dumps(GIVEN, indent=1)
    assert is_scene(locate(text))
    scene = scene_from_text(text)
    assert (scene.width_mm, scene.height_mm, scene.front.T, scene.band.end_mm) == (1200.0, 700.5, 0.4, 30.0)
    assert scene.screen.levels == (1.0, 1e-5)
    assert scene.camera.origin_mm == (250.0, -100.0, 2200.0)


@pytest.mark.parametrize(
    ("old", "new", "code", "path"),
    [
        ('"gap_mm": 60', '"gapmm": 60', "unknown-key", "gapmm"),
        ('"fov_x_deg": 38', '"fov_x_deg": "wide"', "unreadable", "camera.fov_x_deg"),
        ('"T": 0.4', '"T": 0.8', "impossible-value", "front"),
        ('"gap_mm": 60', '"gap_mm": 10', "impossible-value", ""),
        ("scene/1", "scene/2", "unknown-schema", "schema"),
        ("[20, 14, 8]", "[20, 14]", "wrong-count", "band.radiance"),
        ('"reflectance": 0.4', '"reflectance": 1', "impossible-value", "wall"),
        ("2200", "30", "impossible-value", ""),
    ],
)
def test_a_mistake_has_its_place(old: str, new: str, code: str, path: str):
    text = json.dumps(GIVEN)
    assert old in text
    with pytest.raises(JobError) as raised:
        scene_from_text(text.replace(old, new), file="s.json")
    first = raised.value.problems[0]
    assert (first.code, first.path, first.file) == (code, path, "s.json")
    assert first.line == 1
    assert first.column > 0
