"""Pictures of drawings, for pages and for looking at: SVG to PNG with the shipped font and no other."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files

from halfsilver.errors import RenderError

FONT_FILES = ("Inter-Regular.ttf", "Inter-Bold.ttf")


@cache
def font_paths() -> tuple[str, ...]:
    """Paths of the shipped font files."""
    folder = files("halfsilver.data") / "fonts"
    paths = []
    for name in FONT_FILES:
        with as_file(folder / name) as path:
            paths.append(str(path))
    return tuple(paths)


def png(svg: str, *, width_px: int, background: str = "#ffffff") -> bytes:
    """An SVG document as a PNG picture.

    Parameters
    ----------
    svg : str
        As `halfsilver.drawing.svg` writes it.
    width_px : int
        Width of the picture; the height follows. [px]
    background : str
        Colour of the paper.

    Returns
    -------
    bytes
        The PNG file.

    Raises
    ------
    RenderError
        If the document cannot be drawn.
    """
    import resvg_py

    try:
        return bytes(
            resvg_py.svg_to_bytes(
                svg_string=svg, width=width_px, dpi=96, background=background, skip_system_fonts=True, font_files=list(font_paths())
            )
        )
    except ValueError as error:
        raise RenderError(f"The drawing cannot be turned into a picture: {error}") from error
