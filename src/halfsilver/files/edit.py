"""The smallest change to a file: comments, order, layout and every other byte stay as the person wrote them.

Places come from the located tree, the change is spliced in there, and the result is read again: unless exactly the wanted value was
added and everything else is as before, the change is refused and nothing is written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.atomic import write_beside
from halfsilver.files.decode import decode
from halfsilver.files.encode import Units, flow_text, scalar_text
from halfsilver.files.located import MappingNode, Node, ScalarNode, SequenceNode, locate, read_bytes, text_of
from halfsilver.model.job import Reading

MEASURED: Final = "measured"
_BOM: Final = b"\xef\xbb\xbf"


def edit_file(path: str | Path, change: Callable[[str], str]) -> None:
    """Change the text of a file in one step; a byte order mark and the ends of lines stay as they are.

    Raises
    ------
    JobError
        If the file cannot be read, changed or written.
    """
    data = read_bytes(path)
    changed = change(text_of(data, file=str(path))).encode("utf-8")
    write_beside(path, (_BOM if data.startswith(_BOM) else b"") + changed)


def append_reading(text: str, reading: Reading, *, units: Units = "in", value: str = "", file: str = "") -> str:
    """The text of a job with one more reading at the end of its list; what was read before is never touched.

    Parameters
    ----------
    text : str
        Of a job file.
    reading : Reading
        What was measured.
    units : str
        In which the value is written: ``in`` or ``mm``.
    value : str
        The value as the person wrote it, to be kept like that; it has to read as the reading's value.
    file : str
        For messages.

    Raises
    ------
    JobError
        If the text cannot be read, or not be extended without changing something else.

    Examples
    --------
    >>> print(append_reading("title: x  # mine", Reading(name="gap", value=101.6)))
    title: x  # mine
    measured:
      - {name: gap, value: 4 in}
    """
    item = flow_text(reading, units=units, texts={"value": value} if value else None)
    root = locate(text, file=file)
    changed = _with_reading(text, root, item)
    after = _checked(changed, file=file, line=item)
    before, readings = _plain(root).get(MEASURED) or [], _plain(after).get(MEASURED)
    if not isinstance(readings, list) or readings[:-1] != before or _without(root, MEASURED) != _without(after, MEASURED):
        raise _refused(file, item)
    node = after.get(MEASURED)
    if not isinstance(node, SequenceNode) or decode(node.items[-1], Reading, file=file, path=MEASURED) != reading:
        raise _refused(file, item)
    return changed


def set_values(text: str, values: Mapping[str, str], *, file: str = "") -> str:
    """The text of a job with values set at key paths: replaced where they stand, added where they are absent.

    Parameters
    ----------
    text : str
        Of a job file.
    values : mapping of str to str
        Path such as ``battens.width`` or ``viewers[0].distance`` to the value as written in a file, such as ``19 mm``.
    file : str
        For messages.

    Raises
    ------
    JobError
        If the text cannot be read, or a path leads through something that is not a group of keys.

    Examples
    --------
    >>> print(set_values("gap: auto   # decided later", {"gap": "100 mm", "battens.width": "19 mm"}))
    gap: 100 mm   # decided later
    battens: {width: 19 mm}
    """
    for path, value in values.items():
        root = locate(text, file=file)
        steps = _steps(path)
        changed = _with_value(text, root, steps, scalar_text(value))
        wanted = _plain(root)
        if changed is None or not _put(wanted, steps, value) or _plain(_checked(changed, file=file, line=f"{path}: {value}")) != wanted:
            raise _refused(file, f"{path}: {value}")
        text = changed
    return text


def without_values(text: str, paths: Iterable[str], *, file: str = "") -> str:
    r"""The text of a job without the keys at these paths; a group that has no other key goes with them, a path that is absent is passed.

    Raises
    ------
    JobError
        If the text cannot be read, or a key cannot be taken out without touching something else.

    Examples
    --------
    >>> print(without_values("title: x\nfit: {glass: 3 mm}   # play\ngap: auto", ["fit.glass"]))
    title: x
    gap: auto
    """
    for path in paths:
        root = locate(text, file=file)
        steps = _steps(path)
        wanted = _plain(root)
        if not _drop(wanted, steps):
            continue
        changed = _without_value(text, root, steps)
        if changed is None or _plain(_checked(changed, file=file, line=path)) != wanted:
            raise _refused(file, f"take out {path}")
        text = changed
    return text


def with_item(text: str, key: str, values: Mapping[str, str], *, file: str = "") -> str:
    """The text of a job with one more item at the end of a list of its top level, such as a viewer (errors as `set_values`).

    Examples
    --------
    >>> print(with_item("viewers: [{id: front}]", "viewers", {"id": "side", "distance": "2 m"}))
    viewers: [{id: front}, {id: side, distance: 2 m}]
    """
    root = locate(text, file=file)
    item = "{" + ", ".join(f"{name}: {scalar_text(value)}" for name, value in values.items()) + "}"
    changed, wanted = _with_item(text, root, key, item), _plain(root)
    wanted[key] = [*(wanted.get(key) or []), dict(values)]
    if _plain(_checked(changed, file=file, line=f"{key}: {item}")) != wanted:
        raise _refused(file, f"{key}: {item}")
    return changed


def without_item(text: str, key: str, at: int, *, file: str = "") -> str:
    r"""The text of a job without one item of a list of its top level; the list goes with its last item (errors as `without_values`).

    Examples
    --------
    >>> print(without_item("viewers:\n  - {id: front}   # near\n  - {id: side}\ngap: auto", "viewers", 0))
    viewers:
      - {id: side}
    gap: auto
    """
    root = locate(text, file=file)
    node, wanted = root.get(key), _plain(root)
    if not isinstance(node, SequenceNode) or at >= len(node.items):
        return text
    if len(node.items) == 1:
        return without_values(text, [key], file=file)
    del wanted[key][at]
    start, end = node.items[at].start.index, _end(text, node.items[at])
    if not node.flow:
        start, end = max(text.rfind("\n", 0, start), text.rfind("\r", 0, start)) + 1, _line_end(text, end) + len(_newline(text))
    elif at + 1 < len(node.items):
        end = node.items[at + 1].start.index
    else:
        start = _end(text, node.items[at - 1])
    changed = _splice(text, start, end, "")
    if _plain(_checked(changed, file=file, line=key)) != wanted:
        raise _refused(file, f"take out {key}[{at}]")
    return changed


def _with_reading(text: str, root: MappingNode, item: str) -> str:
    return _with_item(text, root, MEASURED, item)


def _with_item(text: str, root: MappingNode, key: str, item: str) -> str:
    node = root.get(key)
    if node is None:
        newline, indent = _newline(text), " " * (root.start.column - 1)
        return _with_entry(text, root, key, f"[{item}]" if root.flow else f"{newline}{indent}  - {item}")
    if isinstance(node, ScalarNode) and not node.text and not node.quoted:
        return _filled(text, node, f"[{item}]")
    if not isinstance(node, SequenceNode):
        return text
    if not node.flow:
        return _line_after(text, _end(text, node), " " * (node.start.column - 1) + "- " + item)
    return _into_brackets(text, node, item)


def _into_brackets(text: str, node: SequenceNode, item: str) -> str:
    """One more item before the closing bracket, in a line of its own if the items stand in lines of their own."""
    if not node.items:
        return _splice(text, node.start.index + 1, node.start.index + 1, item)
    last, end = node.items[-1], _end(text, node.items[-1])
    line_end = _line_end(text, end)
    if line_end >= node.end.index or last.start.line == node.start.line:
        return _splice(text, end, end, f", {item}")
    rest = text[end:line_end]
    comma, indent = "" if rest.lstrip().startswith(",") else ",", " " * (last.start.column - 1)
    return _splice(text, end, line_end, f"{comma}{rest}{_newline(text)}{indent}{item}")


def _with_value(text: str, node: Node | None, steps: list[Any], value: str) -> str | None:
    """The text with a value at a path under a node; None where the path does not lead on."""
    step, rest = steps[0], steps[1:]
    if isinstance(step, int):
        inner = node.items[step] if isinstance(node, SequenceNode) and step < len(node.items) else None
    else:
        inner = node.get(step) if isinstance(node, MappingNode) else None
    if inner is None:
        return _with_entry(text, node, step, _nested(rest, value)) if isinstance(node, MappingNode) and isinstance(step, str) else None
    empty = isinstance(inner, ScalarNode) and not inner.text and not inner.quoted
    if empty:
        return _filled(text, inner, _nested(rest, value))
    if rest:
        return _with_value(text, inner, rest, value)
    return _splice(text, inner.start.index, _end(text, inner), value)


def _without_value(text: str, root: MappingNode, steps: list[Any]) -> str | None:
    """The text without an entry, or without the highest group that holds nothing else; None where that cannot be spliced out."""
    chain: list[tuple[MappingNode, str]] = []
    node: Node | None = root
    for step in steps:
        if isinstance(node, MappingNode):
            chain.append((node, step))
            node = node.get(step)
        elif isinstance(node, SequenceNode):
            chain.clear()  # an item of a list stays, empty if need be
            node = node.items[step]
    holder, key = next(((h, k) for h, k in reversed(chain) if len(h.entries) > 1), chain[0])
    at = next(i for i, entry in enumerate(holder.entries) if entry.key == key)
    entry = holder.entries[at]
    if holder.flow:
        if at + 1 < len(holder.entries):
            return _splice(text, entry.place.index, holder.entries[at + 1].place.index, "")
        start = _end(text, holder.entries[at - 1].value) if at else entry.place.index
        return _splice(text, start, _end(text, entry.value), "")
    start = max(text.rfind("\n", 0, entry.place.index), text.rfind("\r", 0, entry.place.index)) + 1
    if text[start : entry.place.index].strip():
        return None
    end = _line_end(text, _end(text, entry.value))
    return _splice(text, start, end + len(_newline(text)), "") if end < len(text) else text[:start].rstrip("\r\n")


def _with_entry(text: str, node: MappingNode, key: str, value: str) -> str:
    """One more key at the end of a group; a value that begins a new line follows the colon at once."""
    line = f"{key}:{value}" if value.startswith(("\n", "\r")) else f"{key}: {value}"
    if not node.flow:
        return _line_after(text, _end(text, node), " " * (node.start.column - 1) + line)
    if not node.entries:
        return _splice(text, node.start.index + 1, node.start.index + 1, line)
    end = _end(text, node.entries[-1].value)
    return _splice(text, end, end, f", {line}")


def _nested(steps: list[Any], value: str) -> str:
    return f"{{{steps[0]}: {_nested(steps[1:], value)}}}" if steps else value


def _filled(text: str, node: Node, value: str) -> str:
    """A value for a key that has none; its place is right after the colon."""
    return _splice(text, node.start.index, node.start.index, f" {value}")


def _end(text: str, node: Node) -> int:
    """Where the last character of a node's content ends: comments and blank lines after it are not its own."""
    if isinstance(node, MappingNode) and not node.flow and node.entries:
        return _end(text, node.entries[-1].value)
    if isinstance(node, SequenceNode) and not node.flow and node.items:
        return _end(text, node.items[-1])
    if isinstance(node, ScalarNode) and node.quoted and text[node.start.index] in "|>":
        return len(text[: node.end.index].rstrip())
    return node.end.index


def _line_after(text: str, end: int, line: str) -> str:
    line_end = _line_end(text, end)
    return _splice(text, line_end, line_end, _newline(text) + line)


def _line_end(text: str, index: int) -> int:
    match = re.compile("[\r\n]").search(text, index)
    return match.start() if match else len(text)


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n" if "\n" in text else "\r" if "\r" in text else "\n"


def _splice(text: str, start: int, end: int, piece: str) -> str:
    return text[:start] + piece + text[end:]


def _plain(node: Node) -> Any:
    """The tree without places, to compare."""
    if isinstance(node, ScalarNode):
        return node.text
    if isinstance(node, SequenceNode):
        return [_plain(item) for item in node.items]
    return {entry.key: _plain(entry.value) for entry in node.entries}


def _without(root: MappingNode, key: str) -> dict[str, Any]:
    return {name: value for name, value in _plain(root).items() if name != key}


def _put(tree: Any, steps: list[Any], value: str) -> bool:
    """Set a value in a plain tree; False where the path does not lead on."""
    *path, last = steps
    for step in path:
        if isinstance(step, str) and isinstance(tree, dict):
            tree[step] = tree.get(step) or {}
        try:
            tree = tree[step]
        except (LookupError, TypeError):
            return False
    try:
        tree[last] = value
    except (LookupError, TypeError):
        return False
    return True


def _drop(tree: Any, steps: list[Any]) -> bool:
    """Take a path out of a plain tree, and the groups that are empty without it; False where it is not there."""
    holders = [tree]
    try:
        for step in steps[:-1]:
            holders.append(holders[-1][step])
        if not isinstance(holders[-1], dict):
            return False
        del holders[-1][steps[-1]]
    except (LookupError, TypeError):
        return False
    for inner, outer, step in zip(holders[:0:-1], holders[-2::-1], steps[-2::-1], strict=True):
        if inner or not isinstance(outer, dict):
            break
        del outer[step]
    return True


def _steps(path: str) -> list[Any]:
    return [int(step[1:-1]) if step.startswith("[") else step for step in re.findall(r"\[\d+\]|[^.\[\]]+", path)]


def _checked(changed: str, *, file: str, line: str) -> MappingNode:
    try:
        return locate(changed, file=file)
    except JobError:
        raise _refused(file, line) from None


def _refused(file: str, line: str) -> JobError:
    words = "The program cannot write this into the file without touching something else."
    return JobError([Problem(code="edit-refused", file=file, allowed=words, advice=f"Add it yourself: {line}")])
