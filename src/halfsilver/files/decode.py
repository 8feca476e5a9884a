"""A located tree becomes a frozen value of the model, or a list of problems: one for each mistake, each with its place.

The model's dataclasses are the grammar: a field's type says what may be written at its key (see :mod:`halfsilver.files.shape`). An
empty value is the same as an absent key. The tree of problems never stops at the first one.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

from halfsilver.errors import HalfsilverError, JobError, Problem, QuantityError
from halfsilver.files.located import Entry, MappingNode, Node, Place, ScalarNode, SequenceNode
from halfsilver.files.shape import Choice, Item, Items, Key, Leaf, Record, Shape, Table, Truth, Words, example_text, kind_of, record_of
from halfsilver.model.quantities import Quantity

T = TypeVar("T")

LONGEST_TEXT: Final = 2_000
LONGEST_QUANTITY: Final = 200
MOST_ITEMS: Final = 500
MOST_PROBLEMS: Final = 100

_TRUTHS: Final = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


class _Bad:
    """In place of a value that could not be read; its problem is already noted."""


_BAD: Final = _Bad()


@dataclass(slots=True)
class _Notes:
    """The problems of one file so far."""

    file: str
    problems: list[Problem] = field(default_factory=list)

    @property
    def full(self) -> bool:
        return len(self.problems) >= MOST_PROBLEMS

    def add(self, code: str, place: Place, path: str, *, read: str = "", allowed: str, advice: str = "") -> _Bad:
        if not self.full:
            problem = Problem(
                code=code, file=self.file, line=place.line, column=place.column, path=path,
                read=_shown(read), allowed=allowed, advice=advice,
            )  # fmt: skip
            self.problems.append(problem)
        return _BAD


def decode(node: Node, cls: type[T], *, file: str = "", path: str = "") -> T:
    """The value of a class that a tree spells.

    Parameters
    ----------
    node : Node
        From `halfsilver.files.located`.
    cls : type
        A dataclass of the model.
    file, path : str
        What problems show as the file, and before each key path.

    Raises
    ------
    JobError
        With every problem found, up to a hundred.
    """
    value, problems = decode_all(node, cls, file=file, path=path)
    if problems or value is None:
        raise JobError(problems)
    return value


def decode_all(node: Node, cls: type[T], *, file: str = "", path: str = "") -> tuple[T | None, tuple[Problem, ...]]:
    """The same without raising: the value or None, and the problems (parameters as in `decode`)."""
    notes = _Notes(file)
    value = _read(node, record_of(cls), path, notes)
    return (None if isinstance(value, _Bad) or notes.problems else value), tuple(notes.problems)


def _read(node: Node, shape: Shape, path: str, notes: _Notes) -> Any:
    if notes.full:
        return _BAD
    if isinstance(shape, Choice):
        return _choice(node, shape, path, notes)
    if isinstance(shape, Record):
        return _record(node, shape, path, notes)
    if isinstance(shape, Table):
        return _table(node, shape, path, notes)
    if isinstance(shape, Items | Item):
        return _items(node, shape, path, notes)
    if not isinstance(node, ScalarNode):
        return _misshapen(node, shape, path, notes)
    return _scalar(node, shape, path, notes)


def _misshapen(node: Node, shape: Shape, path: str, notes: _Notes) -> _Bad:
    found = {ScalarNode: "a text", SequenceNode: "a list", MappingNode: "a group of keys"}[type(node)]
    words = f"{_due(shape)} is due here, not {found}."
    return notes.add("wrong-shape", node.start, path, read=_outline(node), allowed=words, advice=_example(shape))


def _choice(node: Node, choice: Choice, path: str, notes: _Notes) -> Any:
    """One of several shapes: the kind of node decides, then the words, then whatever reads free text."""
    if isinstance(node, ScalarNode):
        words = next((s for s in choice.shapes if isinstance(s, Words)), None)
        if words is not None and node.text in words.values:
            return words.values[node.text]
        other = next((s for s in choice.shapes if isinstance(s, Leaf | Truth)), None)
        if words is None or other is None:
            return _read(node, words or other or choice.shapes[0], path, notes)
        return _leaf_or_words(node, other, words, path, notes)
    kinds = (Items, Item) if isinstance(node, SequenceNode) else (Record, Table)
    return _read(node, next((s for s in choice.shapes if isinstance(s, kinds)), choice.shapes[0]), path, notes)


def _leaf_or_words(node: ScalarNode, leaf: Shape, words: Words, path: str, notes: _Notes) -> Any:
    own = _Notes(notes.file)
    value = _read(node, leaf, path, own)
    for problem in own.problems:
        near = _nearest(node.text, words.values)
        advice = f"Did you mean {near}?" if near else problem.advice
        allowed = f"{problem.allowed} Or the word {_listed(words.values)}."
        notes.add(problem.code, node.start, path, read=problem.read, allowed=allowed, advice=advice)
    return value


def _record(node: Node, shape: Record, path: str, notes: _Notes) -> Any:
    if not isinstance(node, MappingNode):
        return _misshapen(node, shape, path, notes)
    values: dict[str, Any] = {}
    seen: set[str] = set()
    keys = shape.keys
    for entry in node.entries:
        key = keys.get(entry.key)
        if key is None:
            seen.add(_unknown(entry, node, shape, path, notes))
            continue
        seen.add(entry.key)
        value = _value(entry, key, _joined(path, entry.key), notes)
        if value is not None:
            values[key.attribute] = value
    return _built(node, shape, values, seen, path, notes)


def _value(entry: Entry, key: Key, path: str, notes: _Notes) -> Any:
    """What stands at a key; None when nothing stands there and the key may be absent."""
    if isinstance(entry.value, ScalarNode) and not entry.value.quoted and not entry.value.text.strip():
        if not key.required:
            return None
        return notes.add("empty-value", entry.place, path, allowed=f"{_due(key.shape)} is due here.", advice=_example(key.shape))
    return _read(entry.value, key.shape, path, notes)


def _unknown(entry: Entry, node: MappingNode, shape: Record, path: str, notes: _Notes) -> str:
    """Note an unknown key; returns the known key it probably stands for, or nothing."""
    if notes.full:
        return ""
    near = _nearest(entry.key, shape.keys) or ""
    taken = near and node.get(near) is not None
    advice = f"Remove it: {near} stands here already." if taken else f"Did you mean {near}?" if near else "Remove it."
    words = f"Keys here: {_listed(shape.keys)}."
    notes.add("unknown-key", entry.place, _joined(path, entry.key), read=entry.key, allowed=words, advice=advice)
    return near


def _built(node: MappingNode, shape: Record, values: dict[str, Any], seen: set[str], path: str, notes: _Notes) -> Any:
    missing = [name for name, key in shape.keys.items() if key.required and name not in seen]
    for name in missing:
        key = shape.keys[name]
        words = f"The key {name} is due here{f': {key.doc}' if key.doc else ''}."
        notes.add("missing-key", node.start, _joined(path, name), allowed=words, advice=f"Add `{name}:`. {_example(key.shape)}".strip())
    lacking = any(key.required and key.attribute not in values for key in shape.keys.values())
    if lacking or any(isinstance(value, _Bad) for value in values.values()):
        return _BAD
    try:
        return shape.cls(**values)
    except (HalfsilverError, ValueError) as error:
        return notes.add("impossible-value", node.start, path, read=_outline(node), allowed=str(error), advice="Mend one of these values.")


def _table(node: Node, shape: Table, path: str, notes: _Notes) -> Any:
    if not isinstance(node, MappingNode):
        return _misshapen(node, shape, path, notes)
    if len(node.entries) > MOST_ITEMS:
        return notes.add("too-many-items", node.start, path, allowed=f"At most {MOST_ITEMS} keys stand here.", advice="Remove some.")
    values = {_clean(e.key): _read(e.value, shape.value, _joined(path, e.key), notes) for e in node.entries}
    return _BAD if any(isinstance(value, _Bad) for value in values.values()) else values


def _items(node: Node, shape: Items | Item, path: str, notes: _Notes) -> Any:
    if not isinstance(node, SequenceNode):
        return _misshapen(node, shape, path, notes)
    if isinstance(shape, Item) and len(node.items) != len(shape.shapes):
        return notes.add("wrong-count", node.start, path, read=_outline(node), allowed=f"{len(shape.shapes)} values are due here.")
    if len(node.items) > MOST_ITEMS:
        return notes.add("too-many-items", node.start, path, allowed=f"At most {MOST_ITEMS} items stand here.", advice="Remove some.")
    shapes = shape.shapes if isinstance(shape, Item) else (shape.each,) * len(node.items)
    values = tuple(_read(item, each, f"{path}[{i}]", notes) for i, (item, each) in enumerate(zip(node.items, shapes, strict=True)))
    return _BAD if any(isinstance(value, _Bad) for value in values) else values


def _scalar(node: ScalarNode, shape: Shape, path: str, notes: _Notes) -> Any:
    if isinstance(shape, Words):
        return shape.values[node.text] if node.text in shape.values else _unknown_word(node, list(shape.values), path, notes)
    if isinstance(shape, Truth):
        found = _TRUTHS.get(node.text.lower())
        return found if found is not None else _unknown_word(node, ["yes", "no"], path, notes)
    assert isinstance(shape, Leaf)
    if kind := kind_of(shape):
        return _quantity(node, shape.quantity or Quantity(kind), path, notes)
    if len(node.text) > LONGEST_TEXT:
        words = f"A text has at most {LONGEST_TEXT} characters."
        return notes.add("too-long", node.start, path, read=node.text, allowed=words, advice="Shorten it.")
    return _clean(node.text)


def _unknown_word(node: ScalarNode, words: list[str], path: str, notes: _Notes) -> _Bad:
    near = _nearest(node.text, words)
    return notes.add(
        "unknown-word", node.start, path, read=node.text, allowed=f"One of: {', '.join(words)}.",
        advice=f"Did you mean {near}?" if near else "Write one of these words.",
    )  # fmt: skip


def _quantity(node: ScalarNode, quantity: Quantity, path: str, notes: _Notes) -> Any:
    from halfsilver.units.quantities import read_quantity

    if len(node.text) > LONGEST_QUANTITY:
        words = f"A quantity has at most {LONGEST_QUANTITY} characters."
        return notes.add("too-long", node.start, path, read=node.text, allowed=words, advice="Write it shorter, rounded if need be.")
    try:
        return read_quantity(quantity.kind, node.text, least=quantity.least, most=quantity.most)
    except QuantityError as error:
        return notes.add(error.code, node.start, path, read=error.read, allowed=error.allowed, advice=error.advice)


def _nearest(word: str, known: Any) -> str | None:
    from halfsilver.units.words import nearest_word

    return nearest_word(word[:80], known)


def _clean(text: str) -> str:
    """A text without characters that steer a terminal or turn the direction of writing; line breaks stay."""
    if text.isascii() and text.isprintable():
        return text.strip()
    return "".join(c for c in text if c in "\n\u200c\u200d" or unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Cn", "Zl", "Zp")).strip()


def _shown(text: str) -> str:
    flat = " ".join(_clean(text[:200]).split())
    return flat if len(flat) <= 60 else f"{flat[:57]}..."


def _outline(node: Node) -> str:
    if isinstance(node, ScalarNode):
        return node.text
    if isinstance(node, SequenceNode):
        return f"[{len(node.items)} items]"
    return "{" + ", ".join(entry.key for entry in node.entries[:6]) + (", ...}" if len(node.entries) > 6 else "}")


def _due(shape: Shape) -> str:
    if isinstance(shape, Choice):
        return _due(shape.shapes[0])
    if isinstance(shape, Words):
        return f"One of {_listed(shape.values)}"
    if isinstance(shape, Leaf):
        return f"A value of the kind {kind_of(shape)}" if kind_of(shape) else "A text"
    if isinstance(shape, Record):
        return f"A group of keys ({_listed(shape.keys)})"
    return {Table: "A group of keys", Truth: "yes or no"}.get(type(shape), "A list")


def _example(shape: Shape) -> str:
    return f"Write it like `{example_text(shape)}`."


def _listed(words: Any) -> str:
    return ", ".join(words)


def _joined(path: str, key: str) -> str:
    key = _clean(key)[:60]
    return f"{path}.{key}" if path else key
