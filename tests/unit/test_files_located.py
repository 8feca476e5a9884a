"""Texts as located trees: values stay text, places are right, and a person is told what is wrong where."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from halfsilver.errors import JobError
from halfsilver.files.located import MappingNode, ScalarNode, SequenceNode, locate, read_located, text_of


def problem(text: str) -> tuple[str, int, int, str]:
    with pytest.raises(JobError) as caught:
        locate(text, file="f.yaml")
    (only,) = caught.value.problems
    assert only.file == "f.yaml"
    return only.code, only.line, only.column, only.read


@pytest.mark.parametrize(
    "text",
    ["16:9", "on", "no", "2026-03-04", "1_000", "0x10", "010", "1e3", "null", "~", ".nan", "yes", "57 3/4 in", "4' 9\""],
)
def test_a_value_keeps_its_characters(text: str) -> None:
    node = locate(f"a: {text}").get("a")
    assert isinstance(node, ScalarNode)
    assert (node.text, node.quoted) == (text, False)


def test_places_are_counted_from_one_and_index_the_text() -> None:
    text = 'a: 1  # c\nscreen:\n  aspect: "16:9"\nviewers:\n  - {id: x}\n  - id: y\n'
    root = locate(text)
    screen, viewers = root.get("screen"), root.get("viewers")
    assert isinstance(screen, MappingNode)
    assert isinstance(viewers, SequenceNode)
    aspect = screen.entries[0]
    assert (aspect.place.line, aspect.place.column) == (3, 3)
    assert (aspect.value.start.line, aspect.value.start.column) == (3, 11)
    assert text[aspect.value.start.index : aspect.value.end.index] == '"16:9"'
    assert [(item.start.line, item.start.column) for item in viewers.items] == [(5, 5), (6, 5)]
    assert [viewers.flow, *(item.flow for item in viewers.items)] == [False, True, False]  # type: ignore[union-attr]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_counts_as_one_line(end: str) -> None:
    assert [entry.place.line for entry in locate(f"a: 1{end}b: 2{end}{end}c: 3").entries] == [1, 2, 4]


def test_a_byte_order_mark_of_utf_8_is_taken_off() -> None:
    assert locate(text_of(b"\xef\xbb\xbfa: 1\n")).entries[0].place.column == 1


def test_one_document_may_have_its_marks() -> None:
    assert locate("---\na: 1\n...\n").get("a") is not None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a:\n\tb: 1", ("tab-indentation", 2, 1, "b: 1")),
        ("a: 1\n\tb: 2", ("tab-indentation", 2, 1, "b: 2")),
        ("a:\n  b: 1\n c: 2", ("yaml-indentation", 3, 2, "c: 2")),
        ("a: b: c", ("yaml-colon", 1, 5, ": c")),
        ("x: 1\na: {b: 1", ("yaml-bracket", 2, 4, "{b: 1")),
        ("x: 1\na: 'b\nc: 1\n", ("yaml-quote", 2, 4, "'b")),
        ("a: }", ("yaml-bracket", 1, 4, "}")),
        ('a: "\\q"', ("yaml-escape", 1, 6, 'q"')),
        ("a: @x", ("yaml-character", 1, 4, "@x")),
        ("a: 1\na: 2", ("duplicate-key", 2, 1, "a")),
        ('a: 1\n"a": 2', ("duplicate-key", 2, 1, "a")),
        ("a: &x 1", ("anchor", 1, 4, "&x")),
        ("a: *x", ("anchor", 1, 4, "*x")),
        ("a: 1\n---\nb: 1", ("several-documents", 2, 1, "")),
        ("<<: {a: 1}", ("merge-key", 1, 1, "<<")),
        ("a: x\x00", ("binary-file", 1, 5, "U+0000")),
        ("# c\n\n%YAML 1.2\n---\na: 1", ("yaml-directive", 3, 1, "%")),
        ("- a", ("not-a-mapping", 1, 1, "")),
        ("# only words", ("empty-file", 1, 1, "")),
    ],
)
def test_what_is_wrong_is_told_with_its_place(text: str, found: tuple[str, int, int, str]) -> None:
    assert problem(text) == found


def test_the_message_says_what_is_allowed_and_what_to_do() -> None:
    with pytest.raises(JobError) as caught:
        locate("a: 1\nb: 2\na: 3\n", file="foyer.yaml")
    assert str(caught.value) == (
        'foyer.yaml:3:1  "a"  [duplicate-key]\n  Each key stands once; this one stands already in line 1.  Remove one of the two.'
    )


def test_mistakes_that_do_not_hide_the_rest_are_told_together() -> None:
    with pytest.raises(JobError) as caught:
        locate("a: &x 1\nb: !t 2\na: 3\n<<: {}\n")
    assert [(p.code, p.line) for p in caught.value.problems] == [("anchor", 1), ("tag", 2), ("duplicate-key", 3), ("merge-key", 4)]


def test_forty_levels_are_read_and_one_more_is_not() -> None:
    assert locate("a: " + "[" * 39 + "]" * 39)
    assert problem("a: " + "[" * 40 + "]" * 40) == ("too-deep", 1, 43, "")


def test_a_byte_that_is_not_utf_8_is_named_with_its_place() -> None:
    with pytest.raises(JobError) as caught:
        text_of("a: ä\nb: ü".encode()[:-2] + b"\xfc\n", file="f")
    (only,) = caught.value.problems
    assert (only.code, only.line, only.column, only.read) == ("not-utf-8", 2, 4, "byte 0xfc")


def test_a_file_of_a_mebibyte_is_read_and_one_byte_more_is_not(tmp_path: Path) -> None:
    path, line = tmp_path / "job.yaml", b"# " + b"x" * 60 + b"\n"
    path.write_bytes(b"a: 1\n" + line * 16_000 + b"#" * ((1 << 20) - 5 - len(line) * 16_000 - 40_000) + b"\n" + b"#\n" * 3_000)
    assert path.stat().st_size < 1 << 20
    path.write_bytes(b"a: 1\n" + (line * 17_000)[: (1 << 20) - 5])
    assert read_located(path).get("a") is not None
    path.write_bytes(path.read_bytes() + b"\n")
    with pytest.raises(JobError) as caught:
        read_located(path)
    assert [p.code for p in caught.value.problems] == ["file-too-large"]


def test_reading_loads_the_parser_alone_and_leaves_the_package_usable() -> None:
    script = (
        "import sys\nfrom halfsilver.files.located import locate\nlocate('a: 1')\n"
        "assert 'ruamel.yaml.parser' in sys.modules\n"
        "heavy = {'ruamel.yaml.main', 'ruamel.yaml.representer', 'numpy', 'pydantic'} & set(sys.modules)\nassert not heavy, heavy\n"
        "from ruamel.yaml import YAML\nimport ruamel.yaml\nassert ruamel.yaml.YAML is YAML\n"
        "assert YAML(typ='safe', pure=True).load('a: [1, 2]') == {'a': [1, 2]}\nlocate('b: 1')\n"
    )
    path = os.pathsep.join(sys.path)
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False, env={"PYTHONPATH": path})
    assert done.returncode == 0, done.stderr
