"""JSON Schemas, read off the model's dataclasses: what a file may hold, and what an output does hold.

Quantities are text with their unit, so a schema can only tell their outline; the exact reading is `halfsilver.units`. An empty value
in a file means the same as an absent key and is not part of the schema.
"""

from __future__ import annotations

from dataclasses import is_dataclass
from enum import Enum
from typing import Any, Final

from halfsilver.files.encode import encode, quantity_text
from halfsilver.files.shape import Choice, Item, Items, Key, Leaf, Record, Shape, Table, Truth, Words, example_text, kind_of, record_of

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"

_AS_NUMBERS: Final = ("number", "count", "share", "amount")  # a YAML reader that guesses may hand these over as numbers
_PATTERNS: Final = {
    "date": r"^\d{4}-\d{2}-\d{2}$",
    "currency": r"^[A-Z]{3}$",
    "aspect": r"^\s*\d+(\.\d+)?\s*[:x×/]\s*\d+(\.\d+)?\s*$",
    "fraction": r"^\s*1\s*/\s*\d+\s*$|^\s*1\s*$",
}
_WITH_UNIT: Final = r"[0-9¼½¾⅐-⅞⁰-⁹].*[^0-9\s.,/]"
_NUMBER: Final = r"[0-9¼½¾⅐-⅞⁰-⁹]"


def schema_of(cls: type[Any], name: str, *, output: bool = False) -> dict[str, Any]:
    """The JSON Schema (2020-12) of a dataclass.

    Parameters
    ----------
    cls : type
        A dataclass of the model.
    name : str
        Of the file: ``job``, ``workshop``, ``design``, ...
    output : bool
        Whether the program writes it: then it carries ``schema``, and only what may be absent is left out or null.
    """
    definitions: dict[str, Any] = {}
    body = _record(record_of(cls), definitions, output)
    if output:
        body["properties"] = {"schema": {"const": f"halfsilver/{name}/1"}, **body["properties"]}
        body["required"] = ["schema", *body["required"]]
    head = {"$schema": DIALECT, "title": f"halfsilver/{name}/1"}
    return {**head, **body, **({"$defs": dict(sorted(definitions.items()))} if definitions else {})}


def schema_of_list(cls: type[Any], name: str, *, under: str) -> dict[str, Any]:
    """The JSON Schema of an output that is a list of a dataclass under one key, as ``{"schema", "findings": [...]}``."""
    definitions: dict[str, Any] = {}
    items = {"type": "array", "items": _reference(record_of(cls), definitions, output=True)}
    properties = {"schema": {"const": f"halfsilver/{name}/1"}, under: items}
    body = {"type": "object", "properties": properties, "required": ["schema", under], "additionalProperties": False}
    return {"$schema": DIALECT, "title": f"halfsilver/{name}/1", **body, "$defs": dict(sorted(definitions.items()))}


def _schema(shape: Shape, definitions: dict[str, Any], output: bool) -> dict[str, Any]:
    if isinstance(shape, Record):
        return _reference(shape, definitions, output)
    if isinstance(shape, Items):
        return {"type": "array", "items": _schema(shape.each, definitions, output)}
    if isinstance(shape, Item):
        places = [_schema(each, definitions, output) for each in shape.shapes]
        return {"type": "array", "prefixItems": places, "items": False, "minItems": len(places)}
    if isinstance(shape, Table):
        return {"type": "object", "additionalProperties": _schema(shape.value, definitions, output)}
    if isinstance(shape, Choice):
        return {"anyOf": [_schema(each, definitions, output) for each in shape.shapes]}
    if isinstance(shape, Words):
        return {"enum": [encode(value) for value in shape.values.values()]}
    if isinstance(shape, Truth):
        return {"type": "boolean"} if output else {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no", "on", "off", "true", "false"]}]}
    return _leaf(shape, output)


def _leaf(leaf: Leaf, output: bool) -> dict[str, Any]:
    kind = kind_of(leaf)
    if not kind:
        return {} if leaf.python in (object, Any) else {"type": "string"}
    if kind in ("number", "count") and output:
        return {"type": "integer" if leaf.python is int else ["number", "null"], **_numeric_bounds(leaf)}  # not finite: null
    schema: dict[str, Any] = {"type": ["string", "number"] if kind in _AS_NUMBERS else "string", "pattern": _pattern(kind)}
    return {**schema, "description": _about(leaf, kind)}


def _numeric_bounds(leaf: Leaf) -> dict[str, float]:
    if leaf.quantity is None:
        return {}
    bounds = {"minimum": leaf.quantity.least, "maximum": leaf.quantity.most}
    return {name: bound for name, bound in bounds.items() if bound is not None}


def _pattern(kind: str) -> str:
    return _PATTERNS.get(kind) or (_NUMBER if kind in _AS_NUMBERS else _WITH_UNIT)


def _about(leaf: Leaf, kind: str) -> str:
    from halfsilver.units.kinds import SCALES

    units = f", in {', '.join(SCALES[kind].factors)}" if kind in SCALES else ""
    words = f"{kind}{units}, such as {example_text(leaf)}"
    quantity = leaf.quantity
    if quantity is None or leaf.python not in (int, float):
        return words
    low, high = (None if bound is None else quantity_text(leaf.python(bound), quantity) for bound in (quantity.least, quantity.most))
    between = f"from {low} to {high}" if low and high else f"{low} or more" if low else f"{high} or less" if high else ""
    return f"{words}; {between}" if between else words


def _reference(shape: Record, definitions: dict[str, Any], output: bool) -> dict[str, Any]:
    name = shape.cls.__name__
    if name not in definitions:
        definitions[name] = {}  # in place before its keys are walked, because a class may hold itself
        definitions[name] = _record(shape, definitions, output)
    return {"$ref": f"#/$defs/{name}"}


def _record(shape: Record, definitions: dict[str, Any], output: bool) -> dict[str, Any]:
    properties = {name: _property(key, definitions, output) for name, key in shape.keys.items()}
    body: dict[str, Any] = {"type": "object"}
    if words := (shape.cls.__doc__ or "").partition("\n")[0].strip():
        body["description"] = words
    required = [name for name, key in shape.keys.items() if (not key.optional if output else key.required)]
    return {**body, "properties": properties, "required": required, "additionalProperties": False}


def _property(key: Key, definitions: dict[str, Any], output: bool) -> dict[str, Any]:
    schema = _schema(key.shape, definitions, output)
    if output and key.optional:
        schema = {"anyOf": [schema, {"type": "null"}]}
    if key.doc:
        schema = {"title": key.doc, **schema}
    if not output and not key.required and (default := _default(key)) is not None:
        schema = {**schema, "default": default}
    return schema


def _default(key: Key) -> Any:
    """The default as it would be written; groups and lists tell nothing by theirs."""
    if key.default is None or is_dataclass(key.default) or isinstance(key.default, tuple | dict):
        return None
    if isinstance(key.default, Enum):
        return encode(key.default)
    leaf = next((s for s in (key.shape.shapes if isinstance(key.shape, Choice) else (key.shape,)) if isinstance(s, Leaf)), None)
    if leaf is not None and leaf.quantity is not None and leaf.quantity.kind not in _AS_NUMBERS:
        return quantity_text(key.default, leaf.quantity)
    return key.default if key.default != "" else None
