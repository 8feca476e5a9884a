"""The bytes of an EDID file, written as they are or as a dump in hexadecimal, each with its place in the file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from halfsilver.errors import JobError, Problem

MOST_BYTES: Final = 128 * 256  # one block and at most 255 extensions
MOST_SIGNS: Final = 16 * MOST_BYTES
HEADER: Final = bytes.fromhex("00ffffffffffff00")
_OFFSET: Final = re.compile(r"\s*(?:0[xX])?[0-9a-fA-F]{2,8}\s*[:|]\s*")
_WORD: Final = re.compile(r"(?:0[xX])?((?:[0-9a-fA-F]{2})+)[hH]?(?=[\s,;|]|$)|(0[xX][0-9a-fA-F])(?=[\s,;|]|$)")
_BETWEEN: Final = re.compile(r"[\s,;|]*")
_ASCII: Final = re.compile(r"\s{2,}\S.*|\s*\|.*")
_MOST_ON_A_LINE: Final = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Dump:
    """Bytes, and for a dump in text the line and column of each."""

    file: str
    data: bytes
    places: tuple[tuple[int, int], ...] = ()

    def problem(self, code: str, at: int, length: int = 1, *, allowed: str, advice: str) -> Problem:
        """A problem at an offset, with what stands there."""
        line, column = self.places[at] if at < len(self.places) else (0, 0)
        read = self.data[at : at + length].hex(" ")
        return Problem(
            code=code, file=self.file, line=line, column=column, path=f"byte {at} ({at:#04x})", read=read, allowed=allowed, advice=advice
        )


def dump_of(data: bytes, *, file: str = "") -> Dump:
    """The bytes of a file, told from a dump in text by what it begins with.

    Raises
    ------
    JobError
        If it is empty, too large, or a text that is no dump.
    """
    if not data.strip():
        raise _refused("edid-empty", file, allowed="The file is empty.")
    if len(data) > MOST_SIGNS:
        raise _refused("edid-too-long", file, allowed=f"A block has at most {MOST_BYTES} bytes, and a dump of it {MOST_SIGNS} characters.")
    if data.startswith(HEADER) or not _is_text(data):
        return _fitting(Dump(file=file, data=data))
    found: list[tuple[int, int, int]] = []
    for number, line in enumerate(data.decode("ascii").splitlines(), start=1):
        found.extend((value, number, column) for value, column in _line(line, number, file))
        if len(found) > MOST_BYTES:
            break
    if not found:
        raise _refused("edid-not-hex", file, allowed="Nothing in this text is a byte in hexadecimal.")
    return _fitting(Dump(file=file, data=bytes(value for value, _, _ in found), places=tuple(place for _, *place in found)))  # type: ignore[misc]


def _fitting(dump: Dump) -> Dump:
    if len(dump.data) > MOST_BYTES:
        raise _refused("edid-too-long", dump.file, allowed=f"A block has at most 255 extensions, {MOST_BYTES} bytes in all.")
    return dump


def _is_text(data: bytes) -> bool:
    return all(byte in b"\t\n\v\f\r" or 32 <= byte < 127 for byte in data)


def _line(line: str, number: int, file: str) -> Iterator[tuple[int, int]]:
    """Bytes of one line with their columns: an offset before a colon, a comment, a heading and the letters at the end do not count."""
    if _is_heading(line) and not _OFFSET.fullmatch(line):
        return
    offset = _OFFSET.match(line)
    at, count = offset.end() if offset else 0, 0
    while (at := _skipped(line, at)) < len(line):
        word = _WORD.match(line, at)
        if word is None or (offset and count >= _MOST_ON_A_LINE):
            if count and offset and _ASCII.match(line, at - 2):
                return
            words = "A dump holds bytes of two hexadecimal digits, an offset before a colon, and comments after #."
            problem = Problem(
                code="edid-not-hex", file=file, line=number, column=at + 1, read=line[at:].split(maxsplit=1)[0][:20],
                allowed=words, advice="Save the block again, as it is or as a dump in hexadecimal.",
            )  # fmt: skip
            raise JobError([problem])
        digits = word[1] or f"0{word[2][2:]}"
        start = word.start(1) if word[1] else at
        for i in range(0, len(digits), 2):
            yield int(digits[i : i + 2], 16), start + i + 1
            count += 1
        at = word.end()


def _is_heading(line: str) -> bool:
    """Whether a line is a comment, or words before a colon and nothing behind it."""
    words, colon, rest = line.partition(":")
    return line.lstrip().startswith(("#", "//")) or bool(colon and not rest.strip() and re.search("[A-Za-z]", words))


def _skipped(line: str, at: int) -> int:
    between = _BETWEEN.match(line, at)
    at = between.end() if between else at
    return len(line) if line[at : at + 1] == "#" else at


def _refused(code: str, file: str, *, allowed: str) -> JobError:
    advice = "Save the screen's EDID block in a file of its own, as it is or as a dump in hexadecimal."
    return JobError([Problem(code=code, file=file, allowed=allowed, advice=advice)])
