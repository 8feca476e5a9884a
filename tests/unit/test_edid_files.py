"""EDID files: faults at their offsets, dumps in text, oddities that are noted, and bytes without any sense."""

from __future__ import annotations

import random
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from edid_cases import EXAMPLE, changed, coded, summed
from halfsilver.errors import JobError
from halfsilver.files.edid import edid_of, read_edid

READ = edid_of(EXAMPLE)
ROWS = [EXAMPLE[at : at + 16] for at in range(0, 128, 16)]


def fault(data: bytes):
    with pytest.raises(JobError) as caught:
        edid_of(data, file="screen.bin")
    (problem,) = caught.value.problems
    assert problem.file == "screen.bin"
    assert problem.allowed
    assert problem.advice
    return problem


@pytest.mark.parametrize(
    ("data", "code", "path"),
    [
        (EXAMPLE[:100], "edid-too-short", "byte 99 (0x63)"),
        (b"\x7fELF" + EXAMPLE[4:], "edid-header", "byte 0 (0x00)"),
        (changed(b18=2), "edid-version", "byte 18 (0x12)"),
        (EXAMPLE[:127] + b"\x9b", "edid-sum", "byte 127 (0x7f)"),
        (b"", "edid-empty", ""),
        (b"a letter to a friend\n", "edid-not-hex", ""),
        (EXAMPLE * 300, "edid-too-long", ""),
    ],
)
def test_what_is_no_block_is_refused_with_its_place(data, code, path):
    problem = fault(data)
    assert (problem.code, problem.path) == (code, path)


def test_a_wrong_sum_says_what_would_be_right():
    problem = fault(EXAMPLE[:127] + b"\x00")
    assert problem.read == "00"
    assert "would be 9a" in problem.allowed


DUMPS = {
    "bare": EXAMPLE.hex(),
    "spaced": "\n".join(row.hex(" ") for row in ROWS),
    "capitals and headings": "EDID (hex):\n\n" + "\n".join(row.hex(" ").upper() for row in ROWS),
    "indented in one block": "\tEDID: \n" + "\n".join("\t\t" + row.hex() for row in ROWS),
    "offsets": "\n".join(f"{16 * i:08x}: {row.hex(' ', 2)}  {'.' * 16}" for i, row in enumerate(ROWS)),
    "offsets and letters": "\n".join(f"{16 * i:02X} | {row.hex(' ')}" for i, row in enumerate(ROWS)),
    "a programmer's": "// block 0\n" + ",\n".join(", ".join(f"0x{byte:02X}" for byte in row) for row in ROWS),
    "comments": "\n".join(f"{row.hex(' ')} # row {i}" for i, row in enumerate(ROWS)),
    "with h": "\n".join(" ".join(f"{byte:02X}h" for byte in row) for row in ROWS),
}


@pytest.mark.parametrize("text", DUMPS.values(), ids=DUMPS)
def test_a_dump_in_text_gives_the_same(text):
    assert edid_of(text.encode()) == READ


def test_a_fault_in_a_dump_has_its_line_and_column():
    lines = [row.hex(" ") for row in ROWS]
    lines[1] = lines[1].replace("01 04", "02 04")
    lines[-1] = lines[-1].replace("9a", "99")
    problem = fault("\n".join(lines).encode())
    assert (problem.code, problem.line, problem.column) == ("edid-version", 2, 7)
    problem = fault(b"00 ff ff\nff zz ff\n")
    assert (problem.code, problem.line, problem.column, problem.read) == ("edid-not-hex", 2, 4, "zz")


def test_a_file_is_read_and_a_missing_one_named(tmp_path):
    (tmp_path / "screen.bin").write_bytes(EXAMPLE)
    assert read_edid(tmp_path / "screen.bin") == READ
    with pytest.raises(JobError) as caught:
        read_edid(tmp_path / "none.bin")
    assert caught.value.problems[0].code == "file-missing"


@pytest.mark.parametrize(
    ("parts", "note"),
    [
        ({"b8": b"\x00\x00"}, "no code of three letters"),
        ({"b25": bytes(10)}, "colours are not given"),
        ({"b25": coded((0.3, 0.3), (0.3, 0.3), (0.3, 0.3), (0.3, 0.3))}, "are not used"),
        ({"b25": coded((0.64, 0.33), (0.3, 0.6), (0.15, 0.06), (0.7, 0.2))}, "are not used"),
        ({"b19": 7}, "revision 7"),
        ({"b126": 1}, "1 extension blocks are announced, 0 bytes follow"),
    ],
)
def test_what_can_be_lived_with_is_noted(parts, note):
    assert any(note in said for said in edid_of(changed(**parts)).notes)


def test_an_aspect_may_stand_for_the_size():
    """E-EDID 1.4: 16:9 landscape is coded 79 across and 0 down (secondary); portrait the other way about."""
    assert edid_of(changed(b21=b"\x4f\x00")).aspect == pytest.approx(16 / 9, abs=0.005)
    assert edid_of(changed(b21=b"\x00\x4f")).aspect == pytest.approx(9 / 16, abs=0.005)
    assert edid_of(changed(b21=b"\x4f\x00")).picture_mm == (427, 320, 0.5)


def test_millimetres_that_contradict_the_centimetres_are_not_believed():
    """Some screens write 16 x 9 mm (common practice)."""
    odd = bytearray(EXAMPLE[54:72])
    odd[12:15] = b"\x10\x09\x00"
    assert edid_of(changed(b54=bytes(odd))).picture_mm == (430, 320, 5.0)


def test_gamma_may_be_left_to_an_extension():
    assert edid_of(changed(b23=0xFF)).gamma is None


def extension(*head: int) -> bytes:
    return summed(bytes(head).ljust(128, b"\x00"))


def test_extensions_are_named_and_one_that_is_broken_noted():
    light = extension(0x02, 3, 11, 0, 0xE6, 0x06, 0x0F, 0x01, 112, 96, 40)
    data = changed(b126=3) + light + extension(0x70, 0x13) + bytes([0x42] * 128)
    found = edid_of(data)
    assert [(one.tag, one.what, one.sum_right) for one in found.extensions] == [
        (0x02, "CTA-861 timings and features", True), (0x70, "DisplayID", True), (0x42, "unknown", True),
    ]  # fmt: skip
    # CTA-861.3: 50 x 2^(code/32), and the least as the greatest x (code/255)^2/100; 112 is 566 and 96 is 400 cd/m2.
    light_read = found.extensions[0]
    assert (light_read.peak_cd_m2, light_read.full_cd_m2) == (pytest.approx(565.685, abs=1e-3), pytest.approx(400.0))
    assert light_read.black_cd_m2 == pytest.approx(565.685 * (40 / 255) ** 2 / 100, abs=1e-4)
    broken = edid_of(changed(b126=1) + extension(0x02, 3)[:-1] + b"\x01")
    assert not broken.extensions[0].sum_right
    assert any("byte 255" in note for note in broken.notes)


@given(data=st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(data):
    for one in (data, summed(EXAMPLE[:20] + data.ljust(200, b"\0"))):
        with suppress(JobError):
            edid_of(one)


def test_every_body_of_a_block_is_read():
    """Behind a right header, version and sum nothing is refused; seeded bytes, not a proof."""
    chance = random.Random(3)
    for _ in range(2000):
        body = chance.randbytes(108) + chance.randbytes(chance.choice((0, 128, 256)))
        found = edid_of(summed(EXAMPLE[:8] + chance.randbytes(10) + b"\x01" + chance.randbytes(1) + body))
        assert len(found.maker) == 3
