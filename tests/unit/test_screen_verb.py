"""The verb `screen edid`: a page for people, one document for programs, and problems with their place."""

from __future__ import annotations

import json

import pytest

from edid_cases import EXAMPLE
from halfsilver.cli.main import main


def run(capsys, *arguments: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        main(["screen", "edid", *arguments])
    told = capsys.readouterr()
    return int(ended.value.code or 0), told.out, told.err


@pytest.fixture
def block(tmp_path):
    path = tmp_path / "screen.bin"
    path.write_bytes(EXAMPLE)
    return path


def test_the_page_names_the_letters_and_no_maker(capsys, block):
    code, out, _ = run(capsys, str(block))
    assert code == 0
    assert "code ABC f206" in out
    assert "427 x 320 mm, within 0.5 mm: measure it" in out
    assert "1600 x 1200 pixels" in out


def test_the_document(capsys, block):
    code, out, _ = run(capsys, str(block), "--json")
    told = json.loads(out)
    assert code == 0
    assert told["schema"] == "halfsilver/edid/1"
    assert (told["pixels"], told["picture_mm"], told["picture_within_mm"]) == ([1600, 1200], [427, 320], 0.5)
    assert told["edid"]["colours"]["red"] == pytest.approx([0.627, 0.341], abs=0.0005)


def test_a_broken_block_is_a_problem_with_its_offset(capsys, block):
    block.write_bytes(EXAMPLE[:127] + b"\0")
    code, out, err = run(capsys, str(block), "--json")
    (problem,) = json.loads(out)["problems"]
    assert code == 2
    assert (problem["code"], problem["path"], problem["read"]) == ("edid-sum", "byte 127 (0x7f)", "00")
    assert "edid-sum" in err
