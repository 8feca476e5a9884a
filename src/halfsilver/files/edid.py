"""EDID files: what a screen says of itself, read with every fault at its offset.

The base block of VESA E-EDID, structure 1.3 and 1.4 (1.0 to 1.2 have the same places). Extensions are named and their sums checked; of
CTA-861 only the luminances are read. A fault that leaves nothing to rely on is a problem, any other a note.

References
----------
VESA Enhanced Extended Display Identification Data Standard, Release A Revision 1 (2000, structure 1.3) and Revision 2 (2006,
structure 1.4). Layout from memory, held against the standard's own example 6.1 (secondary). CTA-861.3 for the luminances (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from halfsilver.errors import JobError, Problem
from halfsilver.files.edid_bytes import HEADER, Dump, dump_of
from halfsilver.files.located import read_bytes
from halfsilver.model.edid import Colour, DetailedTiming, Edid, Extension, RangeLimits, ScreenColours, Timing

BLOCK: Final = 128
AGAIN: Final = "Read the block out of the screen again."
EXTENSIONS: Final = {
    0x02: "CTA-861 timings and features", 0x10: "video timing block", 0x20: "EDID 2.0", 0x40: "display information",
    0x50: "localised strings", 0x60: "digital packet video link", 0x70: "DisplayID", 0xF0: "block map", 0xFF: "the maker's own",
}  # fmt: skip
ESTABLISHED: Final = (
    "720x400 70 Hz", "720x400 88 Hz", "640x480 60 Hz", "640x480 67 Hz", "640x480 72 Hz", "640x480 75 Hz", "800x600 56 Hz", "800x600 60 Hz",
    "800x600 72 Hz", "800x600 75 Hz", "832x624 75 Hz", "1024x768 87 Hz interlaced", "1024x768 60 Hz", "1024x768 70 Hz", "1024x768 75 Hz",
    "1280x1024 75 Hz", "1152x870 75 Hz",
)  # fmt: skip
ASPECTS: Final = ((16, 10), (4, 3), (5, 4), (16, 9))
TEXT, LIMITS, NAME, SERIAL = 0xFE, 0xFD, 0xFC, 0xFF
DESCRIPTORS: Final = range(54, 126, 18)


def read_edid(path: str | Path, *, file: str = "") -> Edid:
    """The block in a file, written as bytes or as a dump in hexadecimal.

    Parameters
    ----------
    path : str or Path
        Where it is.
    file : str
        Name that problems show; the path if empty.

    Raises
    ------
    JobError
        With every problem and its offset.
    """
    return edid_of(read_bytes(path), file=file or str(path))


def edid_of(data: bytes, *, file: str = "") -> Edid:
    """The block in the bytes of a file (errors as `read_edid`)."""
    dump = dump_of(data, file=file)
    if problems := tuple(_faults(dump)):
        raise JobError(problems)
    return _edid(dump.data, revision=dump.data[19])


def _faults(dump: Dump) -> Iterator[Problem]:
    """What leaves nothing to rely on."""
    data = dump.data
    if len(data) < BLOCK:
        words = f"A block has {BLOCK} bytes; these are {len(data)}."
        yield dump.problem("edid-too-short", max(len(data) - 1, 0), allowed=words, advice=AGAIN)
        return
    if not data.startswith(HEADER):
        yield dump.problem("edid-header", 0, 8, allowed=f"A block begins with {HEADER.hex(' ')}.", advice="This is another kind of file.")
        return
    if data[18] != 1:
        words = "The structure is of version 1, revision 3 or 4."
        yield dump.problem("edid-version", 18, 2, allowed=words, advice="A newer structure is not read: write the sizes by hand.")
    if sum(data[:BLOCK]) % 256:
        due = -sum(data[: BLOCK - 1]) % 256
        words = f"All {BLOCK} bytes add up to a multiple of 256; with the others as they stand this one would be {due:02x}."
        yield dump.problem("edid-sum", BLOCK - 1, allowed=words, advice=f"A byte was changed or lost. {AGAIN}")


def _edid(data: bytes, *, revision: int) -> Edid:
    notes: list[str] = []
    note = notes.append
    if revision not in (3, 4):
        note(f"byte 19: revision {revision} is read as {'1.4' if revision > 4 else '1.3'}")
    week, year = data[16], 1990 + data[17]
    timings, rest = _descriptors(data)
    of_model = week == 0xFF and revision >= 4
    size, aspect = _size(data[21], data[22], revision)
    return Edid(
        version=f"{data[18]}.{revision}",
        maker=_maker(data[8] << 8 | data[9], note),
        product=int.from_bytes(data[10:12], "little"),
        serial=int.from_bytes(data[12:16], "little") or None,
        week=week if 1 <= week <= 54 else None,
        year=None if of_model else year,
        model_year=year if of_model else None,
        signal="digital" if data[20] & 0x80 else "analogue",
        size_mm=size,
        aspect=aspect,
        gamma=None if data[23] == 0xFF else 1 + data[23] / 100,
        colours=_colours(data[25:35], note),
        established=_established(data[35:38]),
        standard=tuple(_standard(data[38:54], revision)),
        detailed=timings,
        name=" ".join(_texts(rest, NAME)),
        serial_text=" ".join(_texts(rest, SERIAL)),
        texts=tuple(_texts(rest, TEXT)),
        limits=next((_limits(body) for tag, body in rest if tag == LIMITS), None),
        extensions=tuple(_extensions(data, note)),
        notes=tuple(notes),
    )


def _maker(code: int, note: Callable[[str], None]) -> str:
    letters = "".join(chr(64 + (code >> shift & 31)) for shift in (10, 5, 0))
    if not (letters.isascii() and letters.isalpha()) or code >> 15:
        note(f"byte 8: {code:04x} is no code of three letters")
    return "".join(letter if letter.isalpha() else "?" for letter in letters)


def _size(wide: int, high: int, revision: int) -> tuple[tuple[float, float] | None, float | None]:
    """Size [mm], or with one of the two numbers 0 the aspect; neither where the picture has no size of its own."""
    if wide and high:
        return (wide * 10.0, high * 10.0), None
    if revision < 4 or not (wide or high):
        return None, None
    return None, (wide + 99) / 100 if wide else 100 / (high + 99)


def _colours(codes: bytes, note: Callable[[str], None]) -> ScreenColours | None:
    """Ten bits each: eight in a byte of its own, the last two gathered in the first two bytes."""
    low = int.from_bytes(codes[:2], "big")
    x_y = [(codes[2 + i] << 2 | low >> (14 - 2 * i) & 3) / 1024 for i in range(8)]
    red, green, blue, white = zip(x_y[::2], x_y[1::2], strict=True)
    if not any(codes):
        note("byte 25: colours are not given")
        return None
    shares = _shares(white, (red, green, blue))
    if shares is None or min(shares) < 0 or min(y for _, y in (red, green, blue, white)) <= 0:
        note(f"byte 25: no lights of these colours mix to that white ({codes.hex(' ')}); they are not used")
        return None
    return ScreenColours(red=red, green=green, blue=blue, white=white)


def _shares(point: Colour, corners: tuple[Colour, Colour, Colour]) -> tuple[float, float, float] | None:
    """Barycentric shares of a point in a triangle; None where the corners lie on one line."""
    (ax, ay), (bx, by), (cx, cy) = corners
    whole = (by - cy) * (ax - cx) + (cx - bx) * (ay - cy)
    if abs(whole) < 1e-3:
        return None
    a = ((by - cy) * (point[0] - cx) + (cx - bx) * (point[1] - cy)) / whole
    b = ((cy - ay) * (point[0] - cx) + (ax - cx) * (point[1] - cy)) / whole
    return a, b, 1 - a - b


def _established(codes: bytes) -> tuple[str, ...]:
    bits = int.from_bytes(codes, "big") >> 7
    return tuple(name for i, name in enumerate(ESTABLISHED) if bits >> (16 - i) & 1)


def _standard(codes: bytes, revision: int) -> Iterator[Timing]:
    for wide, rest in zip(codes[::2], codes[1::2], strict=True):
        if (wide, rest) != (1, 1) and wide:
            across, down = ASPECTS[rest >> 6] if revision >= 3 or rest >> 6 else (1, 1)
            width = (wide + 31) * 8
            yield Timing(width_px=width, height_px=width * down // across, rate_hz=(rest & 63) + 60)


def _descriptors(data: bytes) -> tuple[tuple[DetailedTiming, ...], tuple[tuple[int, bytes], ...]]:
    """Detailed timings, and the other descriptors by their tag."""
    each = [data[at : at + 18] for at in DESCRIPTORS]
    timings = (_detailed(one) for one in each if one[0] or one[1])
    return tuple(one for one in timings if one), tuple((one[3], one) for one in each if not (one[0] or one[1]))


def _detailed(d: bytes) -> DetailedTiming | None:
    across, blank_across = d[2] | (d[4] & 0xF0) << 4, d[3] | (d[4] & 0x0F) << 8
    down, blank_down = d[5] | (d[7] & 0xF0) << 4, d[6] | (d[7] & 0x0F) << 8
    if not (across and down):
        return None
    clock, interlaced = int.from_bytes(d[:2], "little") / 100, bool(d[17] & 0x80)
    return DetailedTiming(
        width_px=across,
        height_px=down * 2 if interlaced else down,
        interlaced=interlaced,
        rate_hz=clock * 1e6 / ((across + blank_across) * (down + blank_down)),
        clock_mhz=clock,
        width_mm=float(d[12] | (d[14] & 0xF0) << 4),
        height_mm=float(d[13] | (d[14] & 0x0F) << 8),
    )


def _texts(rest: tuple[tuple[int, bytes], ...], wanted: int) -> Iterator[str]:
    for tag, body in rest:
        if tag == wanted:
            words = body[5:].partition(b"\n")[0].decode("cp437")
            text = "".join(letter if letter.isprintable() else " " for letter in words).strip()
            if text:
                yield text


def _limits(d: bytes) -> RangeLimits:
    more = [255 if d[4] >> bit & 1 and d[4] >> (bit + 1) & 1 else 0 for bit in (0, 2)], [255 if d[4] >> bit & 1 else 0 for bit in (1, 3)]
    (low_v, low_h), (high_v, high_h) = more
    return RangeLimits(
        vertical_hz=(d[5] + low_v, d[6] + high_v), horizontal_khz=(d[7] + low_h, d[8] + high_h), clock_mhz=0 if d[9] == 255 else d[9] * 10
    )


def _extensions(data: bytes, note: Callable[[str], None]) -> Iterator[Extension]:
    announced, there = data[126], len(data) // BLOCK - 1
    if announced != there or len(data) % BLOCK:
        note(f"byte 126: {announced} extension blocks are announced, {len(data) - BLOCK} bytes follow; whole blocks are named")
    for number in range(1, there + 1):
        block = data[number * BLOCK : (number + 1) * BLOCK]
        right = sum(block) % 256 == 0
        if not right:
            note(f"byte {number * BLOCK + 127}: the extension's bytes do not add up to a multiple of 256; it is not read")
        light = _luminances(block) if right and block[0] == 0x02 else {}
        yield Extension(tag=block[0], what=EXTENSIONS.get(block[0], "unknown"), sum_right=right, **light)


def _luminances(block: bytes) -> dict[str, float]:
    """Luminances that the screen asks pictures to be made for (CTA-861.3, static metadata): 50 x 2^(code/32) cd/m2. [cd/m2]"""
    at, end = 4, min(block[2], BLOCK - 1)
    while at < end:
        kind, length = block[at] >> 5, block[at] & 31
        body = block[at + 1 : min(at + 1 + length, end)]
        if kind == 7 and body[:1] == b"\x06":
            codes = dict(zip(("peak_cd_m2", "full_cd_m2", "black_cd_m2"), body[3:6], strict=False))
            found = {name: 50 * 2 ** (code / 32) for name, code in codes.items() if code and name != "black_cd_m2"}
            if "peak_cd_m2" in found and codes.get("black_cd_m2"):
                found["black_cd_m2"] = found["peak_cd_m2"] * (codes["black_cd_m2"] / 255) ** 2 / 100
            return found
        at += 1 + length
    return {}
