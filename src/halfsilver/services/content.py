"""What a job's screen shows in its stills: a built-in picture by its name, or a picture file."""

from __future__ import annotations

import warnings
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import JobError, Problem
from halfsilver.services.pictures import CONTENT
from halfsilver.units.words import nearest_word

if TYPE_CHECKING:
    from PIL.Image import Image

Picture = NDArray[np.float32]
MOST_PX, MOST_SIDE_PX, MOST_BYTES = 60_000_000, 1920, 64_000_000


def content_of(word: str) -> Picture | str:
    """The name itself where it is a built-in picture, else the picture of that file.

    Raises
    ------
    JobError
        If there is no such name or file, or the file is not a picture.
    """
    if word in CONTENT:
        return word
    if Path(word).suffix or Path(word).exists():
        return read_content(Path(word))
    near = nearest_word(word, list(CONTENT))
    allowed = f"A picture file, or one of {', '.join(CONTENT)}."
    raise JobError([_bad(word, allowed, f"Did you mean {near}?" if near else "Give the path of a PNG or JPEG file.", code="no-content")])


def read_content(path: Path) -> Picture:
    """A picture file as linear red, green, blue, 0 to 1, at most as large as a still can show.

    Raises
    ------
    JobError
        If it cannot be read as a picture.
    """
    try:
        data = _bytes(path)
    except (OSError, ValueError) as error:
        raise _unreadable(str(path), str(error)) from None
    return content_from(data, file=str(path))


def content_from(data: bytes, *, file: str) -> Picture:
    """The same from the bytes of a picture (errors as `read_content`; ``file`` is the name they show)."""
    values = _values(_reduced(data, file=file))
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4).astype(np.float32)


def cleaned_png(data: bytes, *, file: str) -> bytes:
    """A picture that somebody sent, a PNG or JPEG, written anew: its pixels and nothing else (errors as `content_from`)."""
    from PIL import Image

    values, target = _values(_reduced(data, file=file, formats=("PNG", "JPEG"))), BytesIO()
    Image.fromarray(np.rint(255 * values).astype(np.uint8)).save(target, "PNG")
    return target.getvalue()


def _reduced(data: bytes, *, file: str, formats: tuple[str, ...] | None = None) -> Image:
    """A picture turned upright and at most as large as a still can show."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings(), Image.open(BytesIO(data), formats=formats) as image:
            warnings.simplefilter("error")
            if image.width * image.height > MOST_PX:
                raise ValueError(f"{image.width} x {image.height} pixels are more than {MOST_PX // 1_000_000} million")
            image.draft("RGB", (MOST_SIDE_PX, MOST_SIDE_PX))
            turned = ImageOps.exif_transpose(image)
            turned.thumbnail((MOST_SIDE_PX, MOST_SIDE_PX))
            return turned
    except Exception as error:  # a decoder of foreign bytes may raise anything
        why = "its format is not known" if isinstance(error, UnidentifiedImageError) else str(error)
        raise _unreadable(file, why) from None


def _unreadable(file: str, why: str) -> JobError:
    return JobError([_bad(file, f"The picture cannot be read: {why}.", "Give a PNG or JPEG file.")])


def _bytes(path: Path) -> bytes:
    if not path.is_file():
        raise ValueError("there is no such file" if not path.exists() else "it is not a file")
    if path.stat().st_size > MOST_BYTES:
        raise ValueError(f"it has more than {MOST_BYTES // 1_000_000} MB")
    return path.read_bytes()


def _values(image: Image) -> Picture:
    """Encoded red, green, blue, 0 to 1; sixteen bits of grey keep their range, what is clear is black."""
    if image.mode.startswith("I") or image.mode == "F":
        grey = np.clip(np.asarray(image, dtype=np.float32) / 65535, 0.0, 1.0)
        return np.repeat(grey[..., None], 3, axis=2)
    colour = np.asarray(image.convert("RGBA"), dtype=np.float32) / 255
    return np.asarray(colour[..., :3] * colour[..., 3:])


def _bad(read: str, allowed: str, advice: str, *, code: str = "bad-image") -> Problem:
    return Problem(code=code, file=read if code == "bad-image" else "", path="--content", read=read[:80], allowed=allowed, advice=advice)
