"""Values of the model written out: as plain values for JSON, and as YAML that reads back as the same value.

Lengths in a file carry the unit that shows them exactly: inches on a 1/64, else millimetres or as many decimals as it takes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from math import isfinite
from typing import Any, Final, Literal

from halfsilver.errors import QuantityError
from halfsilver.files.shape import Choice, Item, Items, Key, Leaf, Record, Shape, Table, record_of
from halfsilver.model.quantities import Quantity

Units = Literal["in", "mm"]

_NUMBERS: Final = ("number", "count", "")
_WIDE: Final = 110  # a group of keys that fits into this many characters stands in one line


def encode(value: Any, *, units: Units = "mm") -> Any:
    """A value of the model as plain values that JSON can carry, under the file's own keys.

    Quantities become text with their unit, plain numbers stay numbers, an absent value and a number that is not finite become null.

    Examples
    --------
    >>> from halfsilver.model.job import Viewer
    >>> encode(Viewer(id="front", distance=2500.0))
    {'id': 'front', 'distance': '2500 mm', 'sideways': '0 mm', 'eye_height': None}
    """
    if is_dataclass(value) and not isinstance(value, type):
        keys = record_of(type(value)).keys
        return {name: _encoded(getattr(value, key.attribute), key.shape, units) for name, key in keys.items()}
    if isinstance(value, Mapping):
        return {str(name): encode(each, units=units) for name, each in value.items()}
    if isinstance(value, tuple | list):
        return [encode(each, units=units) for each in value]
    return _plain(value)


def encode_file(value: Any, *, units: Units = "in") -> str:
    """A dataclass as YAML; what stands at its default is left out, and reading it gives the same value again.

    Parameters
    ----------
    value : dataclass
        Of the model.
    units : str
        ``in`` or ``mm``: the unit of lengths that it shows exactly.
    """
    lines: list[str] = []
    for name, key, each in _present(value):
        lines.extend(_block(name, each, key.shape, units))
    return "\n".join(lines) + "\n"


def flow_text(value: Any, *, units: Units = "in", texts: Mapping[str, str] | None = None) -> str:
    """A dataclass in one line, as it stands inside another file; ``texts`` are values to write as they are.

    Examples
    --------
    >>> from halfsilver.model.job import Viewer
    >>> flow_text(Viewer(id="front", distance=2540.0), texts={"distance": "100 in"})
    '{id: front, distance: 100 in}'
    """
    given = {name: scalar_text(text) for name, text in (texts or {}).items()}
    texts = {name: given.get(name) or _flow(each, key.shape, units) for name, key, each in _present(value)}
    return "{" + ", ".join(f"{name}: {text}" for name, text in texts.items()) + "}"


def scalar_text(text: str) -> str:
    """A text as it may stand anywhere in YAML, in quotes where it needs them.

    Examples
    --------
    >>> scalar_text("57 3/4 in"), scalar_text("16:9"), scalar_text("a: b"), scalar_text("")
    ('57 3/4 in', '16:9', "'a: b'", "''")
    """
    if _SAFE.fullmatch(text):
        return text
    if text.isprintable():
        return "'" + text.replace("'", "''") + "'"
    return json.dumps(text, ensure_ascii=False)


# Begins with a letter, a digit or a signed digit; no colon before a space, no sign that means something inside brackets.
_SAFE: Final = re.compile(r"(?:[+-]?[0-9]|[^\W_])(?:[\w./%+°²³×()'\"-]|:(?=[\w])| (?=[\w./%+(°-]))*")


def _present(value: Any) -> Iterator[tuple[str, Key, Any]]:
    """The keys that have to be written: those without a default or away from it."""
    for name, key in record_of(type(value)).keys.items():
        each = getattr(value, key.attribute)
        if key.required or each != key.default:
            yield name, key, each


def _block(name: str, value: Any, shape: Shape, units: Units, indent: str = "") -> list[str]:
    flow = f"{indent}{scalar_text(name)}: {_flow(value, shape, units)}"
    shape = _among(value, shape)
    if len(flow) <= _WIDE or not isinstance(shape, Record | Items):
        return [flow]
    lines = [f"{indent}{scalar_text(name)}:"]
    if isinstance(shape, Items):
        return lines + [f"{indent}  - {_flow(each, shape.each, units)}" for each in value]
    for inner, key, each in _present(value):
        lines.extend(_block(inner, each, key.shape, units, indent + "  "))
    return lines


def _flow(value: Any, shape: Shape, units: Units) -> str:
    shape = _among(value, shape)
    if isinstance(shape, Record):
        return flow_text(value, units=units)
    if isinstance(shape, Table):
        return "{" + ", ".join(f"{scalar_text(name)}: {_flow(each, shape.value, units)}" for name, each in value.items()) + "}"
    if isinstance(shape, Items | Item):
        shapes = shape.shapes if isinstance(shape, Item) else (shape.each,) * len(value)
        return "[" + ", ".join(_flow(each, one, units) for each, one in zip(value, shapes, strict=True)) + "]"
    encoded = _encoded(value, shape, units)
    if isinstance(encoded, bool):
        return "yes" if encoded else "no"
    return scalar_text(encoded if isinstance(encoded, str) else _number_text(encoded))


def _encoded(value: Any, shape: Shape, units: Units) -> Any:
    shape = _among(value, shape)
    if value is None or isinstance(value, Enum):
        return _plain(value)
    if isinstance(shape, Leaf) and shape.quantity is not None and shape.quantity.kind not in _NUMBERS:
        return quantity_text(value, shape.quantity, units=units)
    if isinstance(shape, Items):
        return [_encoded(each, shape.each, units) for each in value]
    return encode(value, units=units)


def _among(value: Any, shape: Shape) -> Shape:
    """The shape among several that a value has."""
    if not isinstance(shape, Choice):
        return shape
    kinds = Record if is_dataclass(value) else Items | Item if isinstance(value, tuple) else Table if isinstance(value, Mapping) else Leaf
    return next((one for one in shape.shapes if isinstance(one, kinds)), shape.shapes[0])


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, date):
        return value.isoformat()
    return value if value is None or isinstance(value, str | int | bool) else str(value)


def quantity_text(value: Any, quantity: Quantity, *, units: Units = "mm") -> str:
    """The shortest usual text of a quantity that reads back as the very same value.

    Examples
    --------
    >>> quantity_text(1466.85, Quantity("length"), units="in"), quantity_text(100.0, Quantity("length"), units="in")
    ('57 3/4 in', '100 mm')
    """
    from halfsilver.units.quantities import read_quantity

    texts = list(_spellings(value, quantity.kind, units))
    for text in texts:
        try:
            if read_quantity(quantity.kind, text) == value:
                return text
        except QuantityError:
            continue
    return texts[0]


def _spellings(value: Any, kind: str, units: Units) -> Iterator[str]:
    from halfsilver.units.kinds import SCALES
    from halfsilver.units.lengths import is_exact, write_length
    from halfsilver.units.quantities import write_quantity

    if kind == "length" and units == "in" and is_exact(value, units="in", fraction=64):
        yield write_length(value, units="in", fraction=64)
    yield write_quantity(kind, value)
    if kind in SCALES and isinstance(value, float):
        unit, factor = next(iter(SCALES[kind].factors.items()))
        number = Decimal(repr(value)) * factor.denominator / factor.numerator
        yield f"{number.normalize():f} {unit}"


def _number_text(value: float) -> str:
    return str(value) if isinstance(value, int) else f"{Decimal(repr(value)).normalize():f}"
