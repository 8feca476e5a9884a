"""A PNG picture within an SVG, because the typesetter takes only text from memory."""

from __future__ import annotations

from base64 import b64encode
from struct import unpack

from halfsilver.errors import RenderError

SIGNATURE = b"\x89PNG\r\n\x1a\n"
MOST_BYTES = 40_000_000


def framed_png(picture: bytes) -> bytes:
    """An SVG of the picture's own proportions that shows nothing else.

    Raises
    ------
    RenderError
        If it is not a PNG, or too large to print.
    """
    if not picture.startswith(SIGNATURE) or picture[12:16] != b"IHDR" or len(picture) < 33:
        raise RenderError("The picture for the client's document is not a PNG file. Save it as PNG.")
    if len(picture) > MOST_BYTES:
        raise RenderError(f"The picture for the client's document has {len(picture) // 1_000_000} MB. Save it smaller than 40 MB.")
    wide, high = unpack(">II", picture[16:24])
    if not wide or not high:
        raise RenderError("The picture for the client's document is empty. Save it again.")
    data = b64encode(picture).decode()
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}" viewBox="0 0 {wide} {high}">'
        f'<image width="{wide}" height="{high}" href="data:image/png;base64,{data}"/></svg>'
    ).encode()
