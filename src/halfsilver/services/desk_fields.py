"""The keys of a job as fields of a form: label, sentence, choices, an example, and what stands there while nobody has said anything."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass
from enum import Enum
from functools import cache
from typing import Any, Final

from halfsilver.files.shape import Choice, Items, Key, Leaf, Record, Shape, Words, example_text, kind_of, record_of
from halfsilver.layout.design import Design
from halfsilver.ledger.explain import GIVEN
from halfsilver.ledger.ledger import Origin
from halfsilver.ledger.shown import Show
from halfsilver.model.job import Job
from halfsilver.model.workshop import Workshop

CATALOGUES: Final[Mapping[str, str]] = {
    "screen.from": "screens",
    "glass.front.kind": "glass", "glass.rear.kind": "glass", "lights.kind": "lights", "lights.supply": "supplies",
    "frame.front.moulding": "mouldings", "frame.rear.moulding": "mouldings", "retainers.plates": "hardware", "retainers.bars": "hardware",
}  # fmt: skip
LEDGER: Final[Mapping[str, str]] = {
    "gap": "gap", "fit.screen": "fit.screen", "fit.glass": "fit.glass", "fit.sight_margin": "fit.sight_margin",
    "battens.width": "batten.width", "battens.depth": "batten.depth", "frame.rear.planed": "rear.planed",
    "screen.outline.width": "screen.outline.width", "screen.outline.height": "screen.outline.height",
    "screen.outline.depth": "screen.outline.depth", "screen.borders.left": "screen.border.left",
    "screen.borders.right": "screen.border.right", "screen.borders.top": "screen.border.top",
    "screen.borders.bottom": "screen.border.bottom",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One key of the job.

    Parameters
    ----------
    path : str
        Dotted key path.
    label : str
        In a few words.
    doc : str
        A sentence.
    choices : tuple of (value, words)
        What may be chosen; empty for what is written.
    example : str
        How it is written.
    default : str
        What counts while it is absent, in words; empty where nothing does.
    """

    path: str
    label: str
    doc: str
    choices: tuple[tuple[str, str], ...] = ()
    example: str = ""
    default: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Fields that belong together."""

    name: str
    title: str
    fields: tuple[Field, ...]


GROUPS: Final[tuple[tuple[str, str, Mapping[str, str]], ...]] = (
    ("what", "What and for whom", {
        "title": "Title", "client": "Client", "construction": "Construction", "scope": "Delivered", "quantity": "Pieces",
        "units": "Lengths in", "fraction": "Finest fraction",
    }),
    ("screen", "The screen", {
        "screen.from": "Measured here", "screen.outline.width": "Outline, width", "screen.outline.height": "Outline, height",
        "screen.outline.depth": "Outline, depth", "screen.borders.left": "Border left", "screen.borders.right": "Border right",
        "screen.borders.top": "Border top", "screen.borders.bottom": "Border bottom", "screen.diagonal": "Diagonal",
        "screen.aspect": "Aspect", "screen.mass": "Mass", "screen.power.maximum": "Rated power", "screen.cables.side": "Cables leave",
    }),
    ("size", "An asked size", {"size.of": "Size of", "size.width": "Width", "size.height": "Height"}),
    ("place", "Where it goes", {
        "mounting.kind": "Held", "mounting.carried_by": "Carried by", "mounting.ground": "Fixings go into",
        "mounting.centre_height": "Centre above floor", "mounting.recess.width": "Recess, width",
        "mounting.recess.height": "Recess, height", "mounting.recess.depth": "Recess, depth", "place.visitors": "Who comes near",
        "place.walking_within": "People walk within",
        "place.hours": "Runs on a day",
    }),
    ("room", "Light and air", {
        "room.wall_light": "Light on its wall", "room.facing_light": "Light on the wall opposite",
        "room.facing_luminance": "Brightness of what it mirrors", "room.temperature": "Air", "room.humidity": "Humidity",
        "case.low": "Openings below", "case.high": "Openings above", "case.fan": "Fan",
    }),
    ("viewers", "Who looks, and from where", {}),
    ("glass", "Glass and gap", {
        "glass.front.kind": "Front pane", "glass.front.coated_side": "Its coating looks to", "glass.rear.kind": "Rear pane",
        "glass.rear.coated_side": "Its coating looks to", "gap": "Gap between them",
    }),
    ("lights", "Lights", {
        "lights.kind": "Strip", "lights.colour": "White of", "lights.dim": "Dimmed to", "lights.feed": "Fed", "lights.corner": "At",
        "lights.supply_place": "Supply stands", "lights.lead": "Lead to the first feed",
    }),
    ("frame", "Frame", {
        "frame.front.moulding": "Front moulding", "frame.front.finish": "Front finish", "frame.rear.moulding": "Rear moulding",
        "frame.rear.planed": "Planed off", "frame.rear.finish": "Rear finish", "battens.width": "Batten, width",
        "battens.depth": "Batten, depth", "battens.through": "Running through",
    }),
    ("fit", "Play, and what may be lost", {
        "fit.screen": "Play of the screen", "fit.glass": "Play of the glass", "fit.sight_margin": "Sight margin",
        "accept.hidden_share": "Picture that may be hidden", "accept.cone": "People look within",
    }),
    ("terms", "Terms", {"terms.margin": "Margin", "terms.tax": "Tax", "terms.deliver_to": "Goes to"}),
)  # fmt: skip
EXAMPLES: Final[Mapping[str, str]] = {
    "distance": "2.5 m",
    "eye_height": "1.6 m",
    "centre_height": "60 in",
    "walking_within": "24 in",
    "left": "7/16 in",
    "right": "7/16 in",
    "top": "7/16 in",
    "bottom": "5/8 in",
    "gap": "1 in",
    "glass": "1/8 in",
    "screen": "1/8 in",
    "sight_margin": "0 in",
    "depth": "2 in",
}  # fmt: skip  (by the last key of the path; others take the example of their kind)
VIEWER: Final[Mapping[str, str]] = {"id": "Name", "distance": "Stands at", "sideways": "To the right", "eye_height": "Eyes above floor"}


def groups(workshop: Workshop, *, viewers: int) -> tuple[Group, ...]:
    """Every field of the form, with a row for one more viewer than there are.

    Parameters
    ----------
    workshop : Workshop
        Its catalogues are what may be chosen from.
    viewers : int
        How many the job has.
    """
    found = []
    for name, title, labels in GROUPS:
        if name == "viewers":
            labels = {f"viewers[{i}].{key}": label for i in range(min(viewers + 1, 12)) for key, label in VIEWER.items()}
        found.append(Group(name=name, title=title, fields=tuple(field_of(path, label, workshop) for path, label in labels.items())))
    return tuple(found)


def field_of(path: str, label: str, workshop: Workshop) -> Field:
    """One field by its key path (raises `KeyError` if the job has no such key)."""
    key = key_of(path)
    choices = _words(key.shape)
    if path in CATALOGUES:
        catalogue = getattr(workshop, CATALOGUES[path])
        choices = tuple((name, getattr(entry, "name", name)) for name, entry in catalogue.items())
    example = EXAMPLES.get(path.rpartition(".")[2]) or _example(key.shape)
    return Field(path=path, label=label, doc=key.doc, choices=choices, example=example, default=_default(key))


@cache
def key_of(path: str) -> Key:
    """The key of the model behind a path."""
    shape: Shape = record_of(Job)
    key: Key | None = None
    for step in re.findall(r"[^.\[\]]+", path):
        if step.isdecimal():
            shape = shape.each if isinstance(shape, Items) else shape
            continue
        record = next(inner for inner in _alternatives(shape) if isinstance(inner, Record))
        key = record.keys[step]
        shape = key.shape
    assert key is not None
    return key


def _alternatives(shape: Shape) -> tuple[Shape, ...]:
    return shape.shapes if isinstance(shape, Choice) else (shape,)


def _words(shape: Shape) -> tuple[tuple[str, str], ...]:
    """Words to choose from; none where something else may be written too."""
    return tuple((word, word.replace("-", " ")) for word in shape.values) if isinstance(shape, Words) else ()


def _example(shape: Shape) -> str:
    leaf = next((inner for inner in _alternatives(shape) if isinstance(inner, Leaf)), None)
    return example_text(leaf) if leaf is not None and kind_of(leaf) else ""


def _default(key: Key) -> str:
    if key.required or key.default is None or key.default is MISSING or key.default == "":
        return ""
    value: Any = key.default.value if isinstance(key.default, Enum) else key.default
    return str(value) if isinstance(value, str | int) else f"{value:g}" if isinstance(value, float) else ""


def stands(design: Design, show: Show) -> Iterator[tuple[str, str]]:
    """For fields that a design decides or takes from elsewhere: path, and what stands there with where it is from."""
    for path, name in LEDGER.items():
        if name in design.ledger:
            entry = design.ledger.entries[name]
            origin = design.ledger.origin(name)
            if origin is not Origin.ASKED:
                told = entry.reason or GIVEN[origin]
                yield path, f"{show(design.ledger[name], entry.unit)}: {told}"
