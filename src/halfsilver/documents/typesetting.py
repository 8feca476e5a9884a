"""A template and its data to a PDF: words go in as data, never as markup; only the shipped fonts; the same bytes each time."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Any

from halfsilver.errors import RenderError

if TYPE_CHECKING:
    from typst import Fonts


@cache
def _fonts() -> Fonts:
    """The shipped family and no other, not even those that come with the typesetter."""
    from typst import Fonts

    with as_file(files("halfsilver.data") / "fonts") as folder:
        return Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])


def typeset(template: str, data: Mapping[str, Any], *, pictures: Mapping[str, bytes]) -> bytes:
    """A PDF.

    Parameters
    ----------
    template : str
        Name of a template of this package; it reads ``/data.json``.
    data : mapping
        What the template prints: texts, numbers, lists and mappings of them.
    pictures : mapping of str to bytes
        Files that the data names.

    Returns
    -------
    bytes
        The document. Its time stamps come from the template's own date.

    Raises
    ------
    RenderError
        If it cannot be set.
    """
    import typst

    markup = (files("halfsilver.documents") / "templates" / template).read_bytes()
    parts = {"main": markup, "data.json": json.dumps(data, ensure_ascii=False).encode(), **pictures}
    try:
        compiler = typst.Compiler(parts, font_paths=_fonts(), ignore_system_fonts=True)  # type: ignore[type-var]  # it takes files by name
        made = compiler.compile(format="pdf", timestamp=0)
    except typst.TypstError as error:
        raise RenderError(f"The document cannot be typeset: {error.message}") from error
    assert isinstance(made, bytes)
    return made
