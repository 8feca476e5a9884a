"""EDID blocks for tests: the example that the standard prints, and blocks made of given parts."""

from __future__ import annotations

# VESA E-EDID Release A Revision 2 (2006), section 6.1, an invented 21 inch desktop screen; secondary: the bytes were taken from two
# independent transcriptions that agree. The sum printed there is said to be wrong; the last byte is the one that makes it right.
EXAMPLE = bytes.fromhex(
    "00ffffffffffff00 0443 06f2 01000000 0111 0104 0f 2b20 78 2b 9c68a0574a9b2612484c ffff80"
    "a959a94fa94aa945 8199818061594559"
    "483f403062b0324040c01300ab401100001e"
    "000000fd00325a1e6e17041100c89000503c"
    "000000f7000af70f0387c000000000000000"
    "000000fc00414243204c434432310a202020"
    "00 9a"
)


def summed(block: bytes) -> bytes:
    """A block with its last byte made right."""
    return block[:127] + bytes([-sum(block[:127]) % 256]) + block[128:]


def changed(**at: int | bytes) -> bytes:
    """The example with other bytes at places such as ``b23=0x78``, and a right sum."""
    block = bytearray(EXAMPLE)
    for place, value in at.items():
        told = bytes([value]) if isinstance(value, int) else value
        block[int(place[1:]) : int(place[1:]) + len(told)] = told
    return summed(bytes(block))


def coded(*colours: tuple[float, float]) -> bytes:
    """Four chromaticities in ten bits each, by the standard's table: low bits gathered in two bytes, then eight high bits each."""
    codes = [round(one * 1024) for colour in colours for one in colour]
    low = 0
    for code in codes:
        low = low << 2 | code & 3
    return low.to_bytes(2, "big") + bytes(code >> 2 for code in codes)


def screen_block(*, width_mm: int, height_mm: int, pixels: tuple[int, int] = (3840, 2160), colours: bytes | None = None) -> bytes:
    """A block of a screen with that picture."""
    across, down = pixels
    timing = bytearray(EXAMPLE[54:72])
    timing[2], timing[4] = across & 255, across >> 8 << 4
    timing[5], timing[7] = down & 255, down >> 8 << 4
    timing[12], timing[13], timing[14] = width_mm & 255, height_mm & 255, width_mm >> 8 << 4 | height_mm >> 8
    parts: dict[str, int | bytes] = {"b21": round(width_mm / 10), "b22": round(height_mm / 10), "b54": bytes(timing)}
    return changed(**parts, **({"b25": colours} if colours else {}))
