"""PNG files of colour pictures, the same bytes every time: eight bits a channel, sRGB, with words about how they were made."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Mapping

SIGNATURE = b"\x89PNG\r\n\x1a\n"
UP = b"\x02"


def png_bytes(bands: Iterable[bytes], *, width_px: int, height_px: int, words: Mapping[str, str]) -> bytes:
    """A PNG file from bands of whole rows.

    Parameters
    ----------
    bands : iterable of bytes
        Rows of red, green, blue from the top, any number of whole rows at a time.
    width_px, height_px : int
        Size of the picture.
    words : mapping of str to str
        Latin-1 text kept with the picture, by keyword.

    References
    ----------
    ISO/IEC 15948 (PNG): signature, chunks with length and CRC-32, filter 2 (each byte less the one above it), zlib stream.
    """
    packer = zlib.compressobj(4)
    packed, above = [], bytes(3 * width_px)
    for band in bands:
        packed.append(packer.compress(_filtered(above + band, 3 * width_px)))
        above = band[-3 * width_px :]
    packed.append(packer.flush())
    head = struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0)
    texts = (_chunk(b"tEXt", f"{key}\0{text}".encode("latin-1", "replace")) for key, text in words.items())
    return b"".join((SIGNATURE, _chunk(b"IHDR", head), _chunk(b"sRGB", b"\0"), *texts, _chunk(b"IDAT", b"".join(packed)), _chunk(b"IEND")))


def _filtered(rows: bytes, length: int) -> bytes:
    """Every row but the first, less the row above it."""
    import numpy as np

    values = np.frombuffer(rows, dtype=np.uint8).reshape(-1, length)
    marked = np.full((values.shape[0] - 1, length + 1), UP[0], dtype=np.uint8)
    np.subtract(values[1:], values[:-1], out=marked[:, 1:])
    return marked.tobytes()


def _chunk(kind: bytes, data: bytes = b"") -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
