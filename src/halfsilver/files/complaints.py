"""What is said about a file as such, before any of its keys is read: one table of codes with what is allowed and what to do."""

from __future__ import annotations

from typing import Final

from halfsilver.errors import Problem

LARGEST: Final = 1 << 20  # bytes
LONGEST_LINE: Final = 10_000  # characters
MOST_LINES: Final = 20_000
MOST_CHARACTERS: Final = 400_000  # outside comment lines: what the parser reads in less than a second
MOST_NODES: Final = 20_000
DEEPEST: Final = 40

_WORDS: Final = {
    # the file
    "file-missing": ("There is no such file.", "Give the path of an existing file."),
    "file-forbidden": ("The file may not be read.", "Ask for the right to read it."),
    "file-unreadable": ("The file cannot be read.", "Give the path of an existing file."),
    "file-is-folder": ("This is a folder; a file is due.", "Give the path of a file in it."),
    "file-not-ordinary": ("This is a pipe or a device; an ordinary file is due.", "Save it to a file first."),
    "file-too-large": ("A file has at most 1 MiB.", "A job takes a few kB: is this the right file?"),
    "empty-file": ("The file is empty.", "Begin with `halfsilver: job/1`."),
    # the text
    "not-utf-8": ("The file is UTF-8 text.", "Save it as UTF-8 in your editor."),
    "binary-file": ("The file is not text.", "Give a YAML file."),
    "control-character": ("The file is text: control characters cannot stand in it.", "Remove the character."),
    "line-too-long": (f"A line has at most {LONGEST_LINE} characters.", "Break the line."),
    "too-many-lines": (f"A file has at most {MOST_LINES} lines.", "Is this the right file?"),
    "too-much-text": (f"Outside its comments a file has at most {MOST_CHARACTERS} characters.", "Is this the right file?"),
    "too-many-values": (f"A file holds at most {MOST_NODES} keys and values.", "Is this the right file?"),
    "too-deep": (f"Values are nested at most {DEEPEST} deep.", "Remove the brackets or levels that are too many."),
    # the grammar
    "not-a-mapping": ("The file is a mapping: lines of `key: value`.", "Begin with `halfsilver: job/1`."),
    "several-documents": ("One file holds one document.", "Remove the line `---` and what follows it."),
    "duplicate-key": ("Each key stands once.", "Remove one of the two."),
    "key-not-text": ("A key is a word.", "Write the key as a word before the colon."),
    "merge-key": ("Merge keys (<<) are not read.", "Write the keys out."),
    "anchor": ("Anchors (&name) and aliases (*name) are not read: every value stands where it is used.",
               "Write the value out, or put a text that begins with & or * in quotes."),
    "tag": ("Tags (!name) are not read: each key knows its own kind.", "Remove the tag, or put a text that begins with ! in quotes."),
    "tab-indentation": ("Lines are indented with spaces; a tab cannot stand here.", "Replace the tab by spaces."),
    "yaml-directive": ("A line that begins with % is a directive; this file needs none.", "Remove the line."),
    "yaml-character": ("A value cannot begin with this character.", "Put the value in quotes."),
    "yaml-escape": ("In double quotes a backslash begins an escape, and this one is unknown.",
                    "Use single quotes, or double the backslash."),
    "yaml-quote": ("A quoted text begins here and does not end.", "Close the quote."),
    "yaml-colon": ("A second key cannot begin inside a value, and a key cannot stand deeper than its neighbours.",
                   "Put a text with a colon in quotes, or mend the indentation."),
    "yaml-key": ("A key and a colon are due here.", "Write `key: value`, or mend the indentation of this line."),
    "yaml-bracket": ("Inside [ ] and { } items stand apart by commas, and each bracket is closed.", "Add the missing comma or bracket."),
    "yaml-indentation": ("This line does not stand in line with its neighbours.", "Give the keys of one group the same indentation."),
    "yaml-syntax": ("This is not YAML 1.2.", "Write lines of `key: value`."),
}  # fmt: skip


def complaint(code: str, *, file: str, line: int = 0, column: int = 0, read: str = "", because: str = "") -> Problem:
    """The problem of a code, with its place; ``because`` says more precisely what is allowed."""
    allowed, advice = _WORDS[code]
    read = " ".join("".join(c if c.isprintable() else " " for c in read[:40]).split())
    return Problem(code=code, file=file, line=line, column=column, read=read, allowed=because or allowed, advice=advice)
