"""Scene files: JSON of the schema ``halfsilver/scene/1``, read whole with every problem in its place."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.decode import decode
from halfsilver.files.located import MappingNode, Node, ScalarNode, SequenceNode, locate, read_located
from halfsilver.optics.scene import Scene

SCHEMA: Final = "halfsilver/scene/1"
ONLY_SCENES: Final = ("camera", "band", "gap_mm")
_EXPONENT: Final = re.compile(r"-?\d+(\.\d+)?[eE][-+]?\d{1,3}")


def is_scene(node: MappingNode) -> bool:
    """Whether a located file is a scene, of whatever version: by its own word, or by what only a scene has."""
    schema = node.get("schema")
    if isinstance(schema, ScalarNode) and schema.text.startswith("halfsilver/scene/"):
        return True
    return node.get("halfsilver") is None and any(node.get(key) is not None for key in ONLY_SCENES)


def read_scene(path: str | Path) -> Scene:
    """The scene of a file.

    Raises
    ------
    JobError
        With every problem of the file.
    """
    return scene_of(read_located(path), file=str(path))


def scene_from_text(text: str, *, file: str = "") -> Scene:
    """The scene of a text (errors as `read_scene`)."""
    return scene_of(locate(text, file=file), file=file)


def scene_of(node: MappingNode, *, file: str = "") -> Scene:
    """The scene of a located tree (errors as `read_scene`)."""
    schema = node.get("schema")
    if not isinstance(schema, ScalarNode) or schema.text != SCHEMA:
        place = node.start if schema is None else schema.start
        read = schema.text if isinstance(schema, ScalarNode) else ""
        advice = "Add it as the first key." if schema is None else "Write it so."
        problem = Problem(
            code="unknown-schema", file=file, line=place.line, column=place.column, path="schema",
            read=read[:80], allowed=f'A scene has "schema": "{SCHEMA}".', advice=advice,
        )  # fmt: skip
        raise JobError([problem])
    body = replace(node, entries=tuple(entry for entry in node.entries if entry.key != "schema"))
    return decode(_written_out(body), Scene, file=file)


def _written_out(node: Node) -> MappingNode:
    """The tree with JSON's exponents written out, as the reader of quantities wants them."""
    found = _plain(node)
    assert isinstance(found, MappingNode)
    return found


def _plain(node: Node) -> Node:
    if isinstance(node, ScalarNode):
        exponent = not node.quoted and _EXPONENT.fullmatch(node.text)
        return replace(node, text=f"{Decimal(node.text):f}") if exponent else node
    if isinstance(node, SequenceNode):
        return replace(node, items=tuple(map(_plain, node.items)))
    return replace(node, entries=tuple(replace(entry, value=_plain(entry.value)) for entry in node.entries))
