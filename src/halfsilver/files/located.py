"""A YAML text as a tree in which every key and value knows its place, and every value is still text.

Nothing is guessed: ``16:9``, ``on``, ``2026-03-04`` and ``1_000`` keep their characters until their field reads them. A text that could
do harm (too large, too deep, full of aliases) is refused while its events pass by, before anything is built from it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any, Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.complaints import DEEPEST, LARGEST, LONGEST_LINE, MOST_CHARACTERS, MOST_LINES, MOST_NODES, complaint
from halfsilver.files.parser import Unreadable, events

MOST_PROBLEMS: Final = 25


@dataclass(frozen=True, slots=True)
class Place:
    """Line and column from 1, and the number of characters before it in the text."""

    line: int
    column: int
    index: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalarNode:
    """A value without parts, as text; ``quoted`` when it was written in quotes or as a block of lines."""

    text: str
    quoted: bool
    start: Place
    end: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class SequenceNode:
    """A list; ``flow`` when it was written with brackets."""

    items: tuple[Node, ...]
    flow: bool
    start: Place
    end: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One key with its value."""

    key: str
    place: Place
    value: Node


@dataclass(frozen=True, slots=True, kw_only=True)
class MappingNode:
    """Keys with their values, in the order of the file; ``flow`` when written with braces."""

    entries: tuple[Entry, ...]
    flow: bool
    start: Place
    end: Place

    def get(self, key: str) -> Node | None:
        """The value of a key, or None."""
        return next((entry.value for entry in self.entries if entry.key == key), None)


Node = ScalarNode | SequenceNode | MappingNode


def read_bytes(path: str | Path, *, most: int = LARGEST) -> bytes:
    """The bytes of an ordinary file of at most 1 MiB, or ``most``; anything else is a problem, found without reading it.

    Raises
    ------
    JobError
        If there is no such file, it is not an ordinary one, it may not be read, or it is too large.
    """
    file = str(path)
    try:
        if code := _not_ordinary(Path(path), most=most):
            raise JobError([complaint(code, file=file)])
        with Path(path).open("rb") as stream:
            data = stream.read(most + 1)
    except FileNotFoundError:
        raise _refused("file-missing", file=file) from None
    except PermissionError:
        raise _refused("file-forbidden", file=file) from None
    except (OSError, ValueError):
        raise _refused("file-unreadable", file=file) from None
    return data


def text_of(data: bytes, *, file: str = "") -> str:
    """The characters of a UTF-8 file, without the byte order mark it may begin with.

    Raises
    ------
    JobError
        If it is too large, not UTF-8, binary, or has overlong lines.
    """
    if len(data) > LARGEST:
        raise _refused("file-too-large", file=file, line=1, column=1)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or data[:1] == b"\x00" != data[1:2] or data[1:2] == b"\x00" != data[:1]:
        raise _refused("not-utf-8", file=file, line=1, column=1, because="The file is written in UTF-16 or UTF-32; UTF-8 is due.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", errors="replace")
        line, column = _line_and_column(before, len(before))
        raise _refused("not-utf-8", file=file, line=line, column=column, read=f"byte {data[error.start]:#04x}") from None
    _check_lines(text, file=file)
    return text


def locate(text: str, *, file: str = "") -> MappingNode:
    """The tree of a text whose top level is a mapping.

    Parameters
    ----------
    text : str
        YAML 1.2, one document.
    file : str
        Name that problems show.

    Raises
    ------
    JobError
        With every problem of the text itself: syntax, limits, anchors, aliases, tags, merge keys, duplicate keys, several documents.

    Examples
    --------
    >>> locate("screen: {aspect: 16:9}").get("screen").get("aspect").text
    '16:9'
    """
    return _located(text, file)


@lru_cache(maxsize=16)  # a form asks for the tree of one text several times; a tree never changes
def _located(text: str, file: str) -> MappingNode:
    _check_lines(text, file=file)
    builder = _Builder(text, file=file)
    try:
        root = builder.document(events(text, file=file))
    except Unreadable as stop:
        builder.problems.append(stop.problem)
        root = None
    if builder.problems:
        raise JobError(builder.problems)
    if root is None or (isinstance(root, ScalarNode) and not root.text and not root.quoted):
        raise _refused("empty-file", file=file, line=1, column=1)
    if not isinstance(root, MappingNode):
        raise _refused("not-a-mapping", file=file, line=root.start.line, column=root.start.column)
    return root


def read_located(path: str | Path) -> MappingNode:
    """The tree of a file (see `read_bytes`, `text_of` and `locate`)."""
    return locate(text_of(read_bytes(path), file=str(path)), file=str(path))


class _Builder:
    """Builds the tree from events; recursion is bounded by the limit on depth."""

    def __init__(self, text: str, *, file: str) -> None:
        self.text = text
        self.file = file
        self.problems: list[Problem] = []
        self.nodes = 0

    def document(self, stream: Iterator[Any]) -> Node | None:
        root, documents = None, 0
        for event in stream:
            name = type(event).__name__
            if name == "DocumentStartEvent":
                documents += 1
                if documents > 1:
                    self.stop("several-documents", event.start_mark)
            elif name in _NODES:
                root = self.node(event, stream, depth=1)
        return root

    def node(self, event: Any, stream: Iterator[Any], *, depth: int) -> Node:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self.stop("too-many-values", event.start_mark)
        if depth > DEEPEST:
            self.stop("too-deep", event.start_mark)
        name = type(event).__name__
        self.check_extras(event, name)
        if name == "MappingStartEvent":
            return self.mapping(event, stream, depth=depth)
        if name == "SequenceStartEvent":
            return self.sequence(event, stream, depth=depth)
        text = event.value if name == "ScalarEvent" else ""
        quoted = name != "ScalarEvent" or event.style is not None
        return ScalarNode(text=text, quoted=quoted, start=_place(event.start_mark), end=_place(event.end_mark))

    def check_extras(self, event: Any, name: str) -> None:
        if getattr(event, "anchor", None) is not None:
            self.add("anchor", event.start_mark, read=("*" if name == "AliasEvent" else "&") + str(event.anchor))
        if getattr(event, "tag", None) is not None:
            self.add("tag", event.start_mark, read=str(event.tag))

    def sequence(self, start: Any, stream: Iterator[Any], *, depth: int) -> SequenceNode:
        items: list[Node] = []
        for event in stream:
            if type(event).__name__ == "SequenceEndEvent":
                break
            items.append(self.node(event, stream, depth=depth + 1))
        return SequenceNode(items=tuple(items), flow=bool(start.flow_style), start=_place(start.start_mark), end=_place(event.end_mark))

    def mapping(self, start: Any, stream: Iterator[Any], *, depth: int) -> MappingNode:
        entries: list[Entry] = []
        lines: dict[str, int] = {}
        for event in stream:
            if type(event).__name__ == "MappingEndEvent":
                break
            key = self.node(event, stream, depth=depth + 1)
            value = self.node(next(stream), stream, depth=depth + 1)
            if self.good_key(key, event.start_mark, lines):
                assert isinstance(key, ScalarNode)
                entries.append(Entry(key=key.text, place=key.start, value=self.after_colon(key, value)))
        return MappingNode(entries=tuple(entries), flow=bool(start.flow_style), start=_place(start.start_mark), end=_place(event.end_mark))

    def after_colon(self, key: ScalarNode, value: Node) -> Node:
        """An empty value stands right after the colon of its key; the parser puts some at the next word, lines below."""
        if not isinstance(value, ScalarNode) or value.text or value.quoted:
            return value
        colon = self.text.find(":", key.end.index)
        if colon < 0 or self.text[key.end.index : colon].strip(" \t"):
            return value
        place = Place(key.end.line, key.end.column + colon + 1 - key.end.index, colon + 1)
        return ScalarNode(text="", quoted=False, start=place, end=place)

    def good_key(self, key: Node, mark: Any, lines: dict[str, int]) -> bool:
        """Whether a key is a word that stands here for the first time; otherwise adds the one problem of it."""
        if not isinstance(key, ScalarNode) or not key.text:
            self.add("key-not-text", mark)
        elif key.text == "<<":
            self.add("merge-key", mark, read="<<")
        elif key.text in lines:
            words = f"Each key stands once; this one stands already in line {lines[key.text]}."
            self.add("duplicate-key", mark, read=key.text, because=words)
        else:
            lines[key.text] = mark.line + 1
            return True
        return False

    def add(self, code: str, mark: Any, *, read: str = "", because: str = "") -> None:
        problem = complaint(code, file=self.file, line=mark.line + 1, column=mark.column + 1, read=read, because=because)
        if len(self.problems) >= MOST_PROBLEMS:
            raise Unreadable(problem)
        self.problems.append(problem)

    def stop(self, code: str, mark: Any) -> None:
        raise Unreadable(complaint(code, file=self.file, line=mark.line + 1, column=mark.column + 1))


_NODES: Final = ("MappingStartEvent", "SequenceStartEvent", "ScalarEvent", "AliasEvent")


def _place(mark: Any) -> Place:
    return Place(mark.line + 1, mark.column + 1, mark.index)


def _not_ordinary(path: Path, *, most: int) -> str:
    """Why a path is not a file to read, as a code, or nothing."""
    status = path.stat()
    if S_ISDIR(status.st_mode):
        return "file-is-folder"
    if not S_ISREG(status.st_mode):
        return "file-not-ordinary"
    return "file-too-large" if status.st_size > most else ""


def _check_lines(text: str, *, file: str) -> None:
    if match := _UNPRINTABLE.search(text):
        line, column = _line_and_column(text, match.start())
        code = "binary-file" if match[0] == "\x00" else "control-character"
        raise _refused(code, file=file, line=line, column=column, read=f"U+{ord(match[0]):04X}")
    lines = _LINE_BREAK.split(text)
    if len(lines) > MOST_LINES + (not lines[-1]):
        raise _refused("too-many-lines", file=file, line=MOST_LINES + 1, column=1)
    if long := next((n for n, line in enumerate(lines, 1) if len(line) > LONGEST_LINE), 0):
        raise _refused("line-too-long", file=file, line=long, column=1, read=lines[long - 1])
    if len(text) > MOST_CHARACTERS and sum(len(line) for line in lines if not line.lstrip().startswith("#")) > MOST_CHARACTERS:
        raise _refused("too-much-text", file=file, line=1, column=1)
    if match := _DIRECTIVE.match(text):
        raise _refused("yaml-directive", file=file, line=_line_and_column(text, match.end())[0], column=1, read="%")


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufeff\ufffe\uffff]")
_DIRECTIVE = re.compile(r"(?:[ \t]*(?:#[^\r\n]*)?[\r\n])*%")
_LINE_BREAK = re.compile("\r\n|\r|\n")


def _line_and_column(text: str, index: int) -> tuple[int, int]:
    lines = _LINE_BREAK.split(text[:index])
    return len(lines), len(lines[-1]) + 1


def _refused(code: str, *, file: str, line: int = 0, column: int = 0, read: str = "", because: str = "") -> JobError:
    return JobError([complaint(code, file=file, line=line, column=column, read=read, because=because)])
