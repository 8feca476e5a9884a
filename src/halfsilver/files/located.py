"""A YAML text as a tree in which every key and value knows its place, and every value is still text.

Nothing is guessed: ``16:9``, ``on``, ``2026-03-04`` and ``1_000`` keep their characters until their field reads them. A text that could
do harm (too large, too deep, full of aliases) is refused while its events pass by, before anything is built from it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any, Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.parser import Unreadable, events, problem_words

LARGEST: Final = 1 << 20  # bytes
LONGEST_LINE: Final = 10_000  # characters
MOST_LINES: Final = 20_000
MOST_NODES: Final = 20_000
DEEPEST: Final = 40
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


def read_bytes(path: str | Path) -> bytes:
    """The bytes of an ordinary file of at most 1 MiB; anything else is a problem, found without reading it.

    Raises
    ------
    JobError
        If there is no such file, it is not an ordinary one, it may not be read, or it is too large.
    """
    file = str(path)
    try:
        if (kind := _not_ordinary(Path(path))) is not None:
            raise JobError([kind])
        with Path(path).open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise _refused("file-missing", file=file, allowed="There is no such file.", advice="Give the path of an existing file.") from None
    except PermissionError:
        raise _refused("file-forbidden", file=file, allowed="The file may not be read.", advice="Ask for the right to read it.") from None
    except (OSError, ValueError) as error:
        raise _refused("file-unreadable", file=file, allowed=f"The file cannot be read ({getattr(error, 'strerror', None) or error}).") from None
    if len(data) > LARGEST:
        raise JobError([_too_large(file)])
    return data


def text_of(data: bytes, *, file: str = "") -> str:
    """The characters of a UTF-8 file, without the byte order mark it may begin with.

    Raises
    ------
    JobError
        If it is too large, not UTF-8, binary, or has overlong lines.
    """
    if len(data) > LARGEST:
        raise JobError([_too_large(file)])
    advice = "Save it as UTF-8 in your editor."
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or data[:4] == b"\x00\x00\xfe\xff" or (b"\x00" in data[:4] and data[:4].strip(b"\x00")):
        raise _refused("not-utf-8", file=file, line=1, column=1, allowed="The file is written in UTF-16 or UTF-32; UTF-8 is read.", advice=advice)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", errors="replace")
        line, column = _line_and_column(before, len(before))
        byte = f"byte {data[error.start]:#04x}"
        raise _refused("not-utf-8", file=file, line=line, column=column, read=byte, allowed="The file is UTF-8 text.", advice=advice) from None
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
    _check_lines(text, file=file)
    builder = _Builder(file=file)
    try:
        root = builder.document(events(text, file=file))
    except Unreadable as stop:
        builder.problems.append(stop.problem)
        root = None
    if builder.problems:
        raise JobError(builder.problems)
    if root is None or (isinstance(root, ScalarNode) and not root.text and not root.quoted):
        raise _refused("empty-file", file=file, line=1, column=1, allowed="The file is empty.", advice="Begin with `halfsilver: job/1`.")
    if not isinstance(root, MappingNode):
        words = "The file is a mapping: lines of `key: value`."
        raise _refused("not-a-mapping", file=file, line=root.start.line, column=root.start.column, allowed=words, advice="Begin with `halfsilver: job/1`.")
    return root


def read_located(path: str | Path) -> MappingNode:
    """The tree of a file (see `read_bytes`, `text_of` and `locate`)."""
    return locate(text_of(read_bytes(path), file=str(path)), file=str(path))


class _Builder:
    """Builds the tree from events; recursion is bounded by the limit on depth."""

    def __init__(self, *, file: str) -> None:
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
                    self.stop("several-documents", event.start_mark, "One file holds one document.", "Remove the line `---` and what follows it.")
            elif name.endswith("StartEvent") or name in ("ScalarEvent", "AliasEvent"):
                if name != "StreamStartEvent":
                    root = self.node(event, stream, depth=1)
        return root

    def node(self, event: Any, stream: Iterator[Any], *, depth: int) -> Node:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self.stop("too-many-values", event.start_mark, f"A file holds at most {MOST_NODES} keys and values.", "Split it.")
        if depth > DEEPEST:
            self.stop("too-deep", event.start_mark, f"Values are nested at most {DEEPEST} deep.", "Remove the brackets or levels that are too many.")
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
            self.add("anchor", event.start_mark, *problem_words("anchor"), read=("*" if name == "AliasEvent" else "&") + str(event.anchor)[:40])
        if getattr(event, "tag", None) is not None:
            self.add("tag", event.start_mark, *problem_words("tag"), read=str(event.tag)[:40])

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
                entries.append(Entry(key=key.text, place=key.start, value=value))  # type: ignore[union-attr]
        return MappingNode(entries=tuple(entries), flow=bool(start.flow_style), start=_place(start.start_mark), end=_place(event.end_mark))

    def good_key(self, key: Node, mark: Any, lines: dict[str, int]) -> bool:
        """Whether a key is a word that stands here for the first time; otherwise adds the one problem of it."""
        if not isinstance(key, ScalarNode) or not key.text:
            self.add("key-not-text", mark, "A key is a word.", "Write the key as a word before the colon.")
        elif key.text == "<<":
            self.add("merge-key", mark, "Merge keys (<<) are not read.", "Write the keys out.", read="<<")
        elif key.text in lines:
            words = f"Each key stands once; this one stands already in line {lines[key.text]}."
            self.add("duplicate-key", mark, words, "Remove one of the two.", read=key.text[:40])
        else:
            lines[key.text] = mark.line + 1
            return True
        return False

    def add(self, code: str, mark: Any, allowed: str, advice: str, *, read: str = "") -> None:
        problem = Problem(code=code, file=self.file, line=mark.line + 1, column=mark.column + 1, read=read, allowed=allowed, advice=advice)
        if len(self.problems) >= MOST_PROBLEMS:
            raise Unreadable(problem)
        self.problems.append(problem)

    def stop(self, code: str, mark: Any, allowed: str, advice: str) -> None:
        raise Unreadable(Problem(code=code, file=self.file, line=mark.line + 1, column=mark.column + 1, allowed=allowed, advice=advice))


def _place(mark: Any) -> Place:
    return Place(mark.line + 1, mark.column + 1, mark.index)


def _not_ordinary(path: Path) -> Problem | None:
    status = path.stat()
    if S_ISDIR(status.st_mode):
        return Problem(code="file-is-folder", file=str(path), allowed="This is a folder; a file is due.", advice="Give the path of a file in it.")
    if not S_ISREG(status.st_mode):
        return Problem(code="file-not-ordinary", file=str(path), allowed="This is a pipe or a device; an ordinary file is due.", advice="Save it to a file.")
    return _too_large(str(path)) if status.st_size > LARGEST else None


def _too_large(file: str) -> Problem:
    return Problem(code="file-too-large", file=file, line=1, column=1, allowed="A file has at most 1 MiB.", advice="A job takes a few kB: is this the right file?")


def _check_lines(text: str, *, file: str) -> None:
    if match := _UNPRINTABLE.search(text):
        line, column = _line_and_column(text, match.start())
        read = f"U+{ord(match[0]):04X}"
        if match[0] == "\x00":
            raise _refused("binary-file", file=file, line=line, column=column, read=read, allowed="The file is not text.", advice="Give a YAML file.")
        raise _refused("control-character", *problem_words("control-character"), file=file, line=line, column=column, read=read)
    if match := _LONG_LINE.search(text):
        line, _ = _line_and_column(text, match.start())
        words = f"A line has at most {LONGEST_LINE} characters."
        raise _refused("line-too-long", file=file, line=line, column=1, read=match[0][:40], allowed=words, advice="Break the line.")
    if match := _DIRECTIVE.match(text):
        line, _ = _line_and_column(text, match.end() - 1)
        raise _refused("yaml-directive", *problem_words("yaml-directive"), file=file, line=line, column=1, read=text[match.end() - 1 :][:40].split("\n")[0])
    if text.count("\n") + text.count("\r") > 2 * MOST_LINES or len(text.splitlines()) > MOST_LINES:
        words = f"A file has at most {MOST_LINES} lines."
        raise _refused("too-many-lines", file=file, line=MOST_LINES + 1, column=1, allowed=words, advice="Is this the right file?")


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufeff\ufffe\uffff]")
_DIRECTIVE = re.compile(r"(?:[ \t]*(?:#[^\r\n]*)?[\r\n])*%")
_LONG_LINE = re.compile(rf"[^\r\n]{{{LONGEST_LINE + 1}}}")


def _line_and_column(text: str, index: int) -> tuple[int, int]:
    lines = re.split("\r\n|\r|\n", text[:index])
    return len(lines), len(lines[-1]) + 1


def _refused(code: str, allowed: str, advice: str = "", *, file: str, line: int = 0, column: int = 0, read: str = "") -> JobError:
    return JobError([Problem(code=code, file=file, line=line, column=column, read=read, allowed=allowed, advice=advice)])
