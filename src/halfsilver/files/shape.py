"""What may be written where, taken from the types of the model's dataclasses.

This is the one walk over the model that the reader, the writer and the JSON Schema share.
"""

from __future__ import annotations

import types
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, Field, dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from halfsilver.model.quantities import Quantity


@dataclass(frozen=True, slots=True)
class Leaf:
    """Text, a plain number, or one written quantity; ``python`` is the type of its value."""

    python: type
    quantity: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Truth:
    """Yes or no."""


@dataclass(frozen=True, slots=True)
class Words:
    """One of several words, each with its value."""

    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Items:
    """A list of any length."""

    each: Shape


@dataclass(frozen=True, slots=True)
class Item:
    """A list of a fixed length, each place with its own shape."""

    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Keys that the writer chooses, all with values of one shape."""

    value: Shape


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several shapes."""

    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of a record: the field behind it, its shape, its sentence for the docs."""

    attribute: str
    shape: Shape
    required: bool
    optional: bool
    default: Any
    doc: str = ""


@dataclass(frozen=True, slots=True)
class Record:
    """A group of keys: a dataclass of the model. Its keys are found when they are asked for, so that a class may hold itself."""

    cls: type[Any]

    @property
    def keys(self) -> Mapping[str, Key]:
        """The keys in the order of the class."""
        return _keys_of(self.cls)  # type: ignore[arg-type]  # a class can be hashed


Shape = Leaf | Truth | Words | Items | Item | Table | Choice | Record

_NONE: Final = type(None)


def record_of(cls: type[Any]) -> Record:
    """The shape of a dataclass; a field that comes from elsewhere (``metadata["elsewhere"]``) has no key."""
    return Record(cls)


@cache
def _keys_of(cls: type[Any]) -> Mapping[str, Key]:
    hints = get_type_hints(cls, include_extras=True)
    return {f.metadata.get("key", f.name): _key(f, hints[f.name]) for f in fields(cls) if f.init and not f.metadata.get("elsewhere")}


def shape_of(hint: Any) -> Shape:
    """The shape of a field's type.

    Raises
    ------
    TypeError
        If no shape is known for the type.
    """
    origin, arguments = get_origin(hint), get_args(hint)
    if origin is Annotated:
        quantity = next((a for a in arguments[1:] if isinstance(a, Quantity)), None)
        return shape_of(arguments[0]) if quantity is None else Leaf(get_origin(arguments[0]) or arguments[0], quantity)
    if origin in (Union, types.UnionType):
        return _union([a for a in arguments if a is not _NONE])
    if origin is Literal:
        return Words({str(word): word for word in arguments})
    if origin in (tuple, list, Sequence):
        return Item(tuple(map(shape_of, arguments))) if origin is tuple and arguments[-1] is not Ellipsis else Items(shape_of(arguments[0]))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return Table(shape_of(arguments[1]))
    return _plain(hint)


def _plain(hint: Any) -> Shape:
    if is_dataclass(hint) and isinstance(hint, type):
        return record_of(hint)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return Words({str(member.value): member for member in hint})
    if hint is bool:
        return Truth()
    if isinstance(hint, type):
        return Leaf(hint)
    raise TypeError(f"no shape is known for {hint!r}")


def _union(hints: list[Any]) -> Shape:
    """Several shapes; all words become one set of words."""
    shapes = [shape_of(hint) for hint in hints]
    words = {text: value for s in shapes if isinstance(s, Words) for text, value in s.values.items()}
    rest: list[Shape] = [s for s in shapes if not isinstance(s, Words)]
    merged = [*rest, Words(words)] if words else rest
    return merged[0] if len(merged) == 1 else Choice(tuple(merged))


def _key(f: Field[Any], hint: Any) -> Key:
    default = f.default if f.default is not MISSING else f.default_factory() if f.default_factory is not MISSING else MISSING
    return Key(
        attribute=f.name,
        shape=shape_of(hint),
        required=default is MISSING,
        optional=get_origin(hint) in (Union, types.UnionType) and _NONE in get_args(hint),
        default=default,
        doc=f.metadata.get("doc", ""),
    )


_EXAMPLES: Final = {
    "length": "57 3/4 in", "angle": "30 deg", "mass": "21 kg", "power": "110 W", "luminance": "180 cd/m2", "illuminance": "150 lx",
    "meter-reading": "150 lx", "temperature": "23 degC", "colour-temperature": "3000 K", "percent": "45 %", "share": "0.45",
    "money": "120.00 USD", "amount": "120.00", "area": "1.5 m2", "flow": "6 l/s", "density": "2500 kg/m3", "voltage": "24 V",
    "current": "4 A", "linear-power": "14.4 W/m", "pitch": "60 /m", "duration": "30 min", "number": "0.8", "count": "2", "aspect": "16:9",
    "pattern": "400 x 400 mm", "date": "2026-03-04", "fraction": "1/32", "currency": "USD",
}  # fmt: skip


def kind_of(leaf: Leaf) -> str:
    """The kind of quantity a leaf is read as; empty for text."""
    if leaf.quantity is not None:
        return leaf.quantity.kind
    return "number" if leaf.python is float else "count" if leaf.python is int else ""


def example_text(shape: Shape) -> str:
    """A value of a shape as it is written in a file, in one line."""
    if isinstance(shape, Choice):
        return example_text(shape.shapes[0])
    if isinstance(shape, Leaf):
        kind, least = kind_of(shape), shape.quantity.least if shape.quantity else None
        usual = _EXAMPLES.get(kind, "a text")
        return f"{least:g}" if kind == "number" and least is not None and least > float(usual) else usual
    if isinstance(shape, Words):
        return next(iter(shape.values))
    if isinstance(shape, Truth):
        return "yes"
    if isinstance(shape, Items):
        return f"[{example_text(shape.each)}]"
    if isinstance(shape, Item):
        return f"[{', '.join(map(example_text, shape.shapes))}]"
    if isinstance(shape, Table):
        return "{" + f"name: {example_text(shape.value)}" + "}"
    wanted = {name: key for name, key in shape.keys.items() if key.required} or dict(list(shape.keys.items())[:1])
    return "{" + ", ".join(f"{name}: {example_text(key.shape)}" for name, key in wanted.items()) + "}"
