"""The YAML 1.2 parser's events, and its complaints in our own words.

Only the reader, scanner and parser of ruamel.yaml are loaded: its package also imports the writers, which takes three times as long
as a job takes to read.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from importlib.util import find_spec, module_from_spec
from types import ModuleType
from typing import Any, Final

from halfsilver.errors import Problem
from halfsilver.files.complaints import complaint

_PACKAGE: Final = "ruamel.yaml"


class Unreadable(Exception):  # noqa: N818  (never leaves this package)
    """The text is not YAML from some place on."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.text())


def events(text: str, *, file: str) -> Iterator[Any]:
    """The parser's events of a text, one by one, without building anything.

    Raises
    ------
    Unreadable
        With one located problem, where the text is not YAML 1.2.
    """
    yaml_error, stream = _load("error").YAMLError, _stream_class()(text)
    try:
        while (event := stream.get_event()) is not None:
            yield event
    except yaml_error as error:
        raise Unreadable(_plain_problem(error, text=text, file=file)) from None
    except (ValueError, ArithmeticError, LookupError, TypeError, AttributeError, AssertionError):
        # Slips of the parser's own, as with an escape for a character that does not exist.
        raise Unreadable(complaint("yaml-syntax", file=file, line=stream.line + 1, column=stream.column + 1)) from None


@cache
def _stream_class() -> type[Any]:
    reader, scanner, parser = _load("reader").Reader, _load("scanner").Scanner, _load("parser").Parser

    class Stream(reader, scanner, parser):  # type: ignore[misc, valid-type]
        """Reader, scanner and parser in one, as the parser's own loaders are put together."""

        processing_version = (1, 2)
        comment_handling = None

        def __init__(self, text: str) -> None:
            self._resolver = self
            reader.__init__(self, text, loader=self)
            scanner.__init__(self, loader=self)
            parser.__init__(self, loader=self)

    return Stream


def _load(name: str) -> ModuleType:
    if _PACKAGE not in sys.modules:
        _stand_in()
    return import_module(f"{_PACKAGE}.{name}")


def _stand_in() -> None:
    """Put the package in place unexecuted; whoever later asks it for more than a submodule gets the whole of it."""
    spec = find_spec(_PACKAGE)
    if spec is None or spec.loader is None:
        raise ModuleNotFoundError(f"No module named {_PACKAGE!r}")
    package, loader = module_from_spec(spec), spec.loader

    def whole(name: str) -> Any:
        if package.__dict__.pop("__getattr__", None) is not None:
            loader.exec_module(package)
        if name in package.__dict__:
            return package.__dict__[name]
        raise AttributeError(f"module {_PACKAGE!r} has no attribute {name!r}")

    package.__dict__["__getattr__"] = whole
    parent, _, child = _PACKAGE.partition(".")
    setattr(import_module(parent), child, sys.modules.setdefault(_PACKAGE, package))


# What the parser says, in the order to look for it: a piece of its message, our code.
_COMPLAINTS: Final = (
    ("'\\t'", "tab-indentation"),
    ("that cannot start any token", "yaml-character"),
    ("unknown escape", "yaml-escape"),
    ("escape sequence", "yaml-escape"),
    ("unexpected end of stream", "yaml-quote"),
    ("document separator", "yaml-quote"),
    ("mapping values are not allowed", "yaml-colon"),
    ("could not find expected ':'", "yaml-key"),
    ("',' or", "yaml-bracket"),
    ("expected the node content", "yaml-bracket"),
    ("<block end>", "yaml-indentation"),
    ("sequence entries are not allowed", "yaml-indentation"),
    ("indentation", "yaml-indentation"),
    ("directive", "yaml-directive"),
    ("alias", "anchor"),
    ("anchor", "anchor"),
    ("tag", "tag"),
    ("special characters", "control-character"),
)
_PERHAPS_A_TAB: Final = ("yaml-syntax", "yaml-key", "yaml-indentation", "yaml-colon", "yaml-character")


def _plain_problem(error: Any, *, text: str, file: str) -> Problem:
    message = f"{getattr(error, 'context', None) or ''} {getattr(error, 'problem', None) or error}"
    code = next((ours for theirs, ours in _COMPLAINTS if theirs in message), "yaml-syntax")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    opened = getattr(error, "context_mark", None)
    if opened is not None and (code == "yaml-quote" or (code == "yaml-bracket" and "<stream end>" in message)):
        mark = opened  # the end of the file tells nobody where the bracket or the quote was opened
    if mark is None:
        return complaint(code, file=file, line=1, column=1)
    lines = text.splitlines()
    line = lines[mark.line] if mark.line < len(lines) else ""
    indent = line[: len(line) - len(line.lstrip())]
    if "\t" in indent and code in _PERHAPS_A_TAB:
        return complaint("tab-indentation", file=file, line=mark.line + 1, column=indent.index("\t") + 1, read=line)
    return complaint(code, file=file, line=mark.line + 1, column=mark.column + 1, read=line[mark.column :].strip() or line)
