"""The shop's document: its pages, its words, its fonts and its bytes."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

from documents_cases import FINDINGS, NAMES, design, finding, job, show_of, workshop
from halfsilver.documents.drawings import drawn, sheets
from halfsilver.documents.finding_words import finding_groups
from halfsilver.documents.shop import shop_pdf
from halfsilver.drawing.scene import Dimension, flat
from halfsilver.layout.design import Design
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.decide import decided

ROOT = Path(__file__).parents[2]
POINT_MM = 25.4 / 72


def made(of: Design, findings: tuple[Finding, ...] = FINDINGS) -> bytes:
    return shop_pdf(of, findings, show=show_of(of), date="2026-10-01", revision=3, version="0.1.0")


@cache
def document(name: str) -> bytes:
    return made(design(name))


@cache
def pages(name: str) -> tuple[str, ...]:
    return texts(document(name))


def texts(data: bytes) -> tuple[str, ...]:
    return tuple(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages)


def whole(data: bytes) -> str:
    """All words, quickly; figures of fractions may stand apart."""
    with pypdfium2.PdfDocument(data) as pdf:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pdf)


@pytest.mark.parametrize("name", NAMES)
def test_every_page_says_which_it_is(name: str) -> None:
    count = len(pages(name))
    assert count >= 10
    for number, text in enumerate(pages(name), start=1):
        assert f"Page {number} of {count}" in text
        assert "2026-10-01" in text
        assert "Revision" in text
        assert "inches, to 1/32" in text if name.startswith("foyer") else "millimetres" in text


def test_inch_jobs_go_on_letter_and_tabloid_others_on_a4_and_a3() -> None:
    for name, sizes in (("foyer", {(215.9, 279.4), (431.8, 279.4)}), ("archive-mirror", {(210.0, 297.0), (420.0, 297.0)})):
        found = {tuple(round(float(x) * POINT_MM, 1) for x in page.mediabox[2:]) for page in PdfReader(io.BytesIO(document(name))).pages}
        assert found == sizes


@pytest.mark.parametrize("name", NAMES)
def test_every_dimension_of_a_sheet_stands_on_its_page(name: str) -> None:
    of = design(name)
    for number, sheet in enumerate(sheets(drawn(of, show_of(of)), date="2026-10-01", revision=3), start=1):
        squeezed = pages(name)[number].replace(" ", "")
        texts_of = {item.text for view in sheet.views for item in flat(view.scene.items) if isinstance(item, Dimension)}
        assert [text for text in texts_of if text.replace(" ", "") not in squeezed] == []
        assert f"{'4 in' if name.startswith('foyer') else '100 mm'} on paper" in pages(name)[number]


@pytest.mark.parametrize("name", [*NAMES, "crowd", "pockets", "tiny"])
def test_only_the_shipped_family_is_there_and_embedded(name: str) -> None:
    fonts = [font for page in PdfReader(io.BytesIO(document(name))).pages for font in fonts_of(page)]
    assert {str(font["/BaseFont"]).split("+")[-1] for font in fonts} == {"Inter-Regular", "Inter-Bold"}
    for font in fonts:
        described = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert {"/FontFile2", "/FontFile3"} & set(described)


def fonts_of(page) -> list:  # type: ignore[no-untyped-def,type-arg]  # the library's own records
    found, waiting = [], [page["/Resources"].get_object()]
    while waiting:
        resources = waiting.pop()
        found += [font.get_object() for font in resources["/Font"].get_object().values()] if "/Font" in resources else []
        inner = [x.get_object() for x in resources["/XObject"].get_object().values()] if "/XObject" in resources else []
        waiting += [x["/Resources"].get_object() for x in inner if "/Resources" in x]
    return found


@pytest.mark.parametrize("name", [*NAMES, "crowd", "nobody"])
def test_no_two_characters_stand_on_one_place_and_none_leaves_the_page(name: str) -> None:
    with pypdfium2.PdfDocument(document(name)) as pdf:
        for number, page in enumerate(pdf, start=1):
            boxes = list(shrunk(page.get_textpage()))
            width, height = page.get_size()
            assert len(boxes) > 100
            assert [box for box in boxes if box[0] < 10 or box[1] < 10 or box[2] > width - 10 or box[3] > height - 10] == []
            assert meeting(boxes) == [], number


def shrunk(page: pypdfium2.PdfTextPage) -> Iterator[tuple[float, float, float, float, str]]:
    """Characters' boxes without the fifth at each side that neighbours may share; spaces have none."""
    text = page.get_text_range()
    for k in range(page.count_chars()):
        left, bottom, right, top = page.get_charbox(k)
        dx, dy = (right - left) / 5, (top - bottom) / 5
        if dx > 0 and dy > 0:
            yield (left + dx, bottom + dy, right - dx, top - dy, text[k : k + 1])


def meeting(boxes: list[tuple[float, float, float, float, str]]) -> list[tuple[str, str]]:
    found, near = [], sorted(boxes)
    for k, a in enumerate(near):
        for b in near[k + 1 :]:
            if b[0] >= a[2]:
                break
            if b[1] < a[3] and a[1] < b[3] and "/" not in (a[4], b[4]):  # the figures of a fraction lean on its stroke
                found.append((a[4], b[4]))
    return found


def test_the_check_of_characters_can_fail() -> None:
    assert meeting([(0, 0, 10, 10, "a"), (5, 5, 15, 15, "b"), (30, 0, 40, 10, "c")]) == [("a", "b")]


def test_the_gravest_findings_come_first_and_are_counted() -> None:
    groups = finding_groups(FINDINGS, show_of(design("foyer")))
    assert [group["severity"] for group in groups] == ["stop", "caution", "note", "not-run"]
    assert "A stop that was invented." in pages("foyer")[0]
    text = " ".join(pages("foyer")[13:])
    words = ["A stop that", "A caution that", "Something invented", "A note that"]  # notes in full follow the letter
    assert sorted(words, key=text.index) == words


def test_a_note_prints_rule_value_limit_source_and_entries() -> None:
    text = " ".join(pages("foyer")[13:])
    assert "frame.invented · 15/32 in, at least 1/8 in · invented · gap" in text


def test_many_findings_fill_many_pages() -> None:
    many = tuple(finding(list(Severity)[k % 4], advice=f"Invented finding number {k}. " * 5) for k in range(200))
    text = whole(made(design("foyer"), many))
    assert all(f"number {k}." in text for k in range(200))


@pytest.mark.parametrize(
    "title",
    [
        "#set page(fill: red) $x^2$ *b* _i_ `r` <l> @ref /* // ",
        "W" * 300,
        " ".join(["word"] * 120),
        "مرحبا שלום 山水 \u202e end",
        "",
        "\\ ~ -- --- '\"",
    ],
)
def test_what_a_person_writes_is_printed_and_never_read_as_markup(title: str) -> None:
    of = decided(replace(job("foyer"), title=title, client=title), workshop())
    data = made(of)
    assert len(PdfReader(io.BytesIO(data)).pages) == pytest.approx(len(pages("foyer")), abs=1)
    if title.startswith("#"):
        assert "#set page(fill: red) $x^2$ *b* _i_ `r` <l> @ref /* //" in whole(data)


def test_the_parts_are_listed_by_who_makes_them() -> None:
    text = " ".join(pages("frame-only"))
    others = text[text.index("Brought by others") :]
    assert {"front-glass", "rear-glass", "strip", "screen"} <= set(others.split())
    assert "frame only" in pages("frame-only")[0]


def test_readings_are_printed_in_their_boxes() -> None:
    text = " ".join(pages("foyer-measured"))
    assert "53 11/32 in" in text  # the least of the readings that stand in the example, at the middle
    assert "53 13/32 in" in text  # the greatest, at the bottom


def test_the_first_page_has_the_main_sizes() -> None:
    first = pages("foyer")[0]
    for words in ("57 7/8 in × 35 1/8 in", "Air gap between the sheets", "98.4 %", "the frame carries the screen"):
        assert words in first


SCRIPT = """
import hashlib, sys
sys.path[:0] = [sys.argv[1] + "/src", sys.argv[1] + "/tests"]
from documents_cases import FINDINGS, design, show_of
from halfsilver.documents.drawings import drawing_files, drawn
from halfsilver.documents.shop import shop_pdf
of = design("foyer")
data = shop_pdf(of, FINDINGS, show=show_of(of), date="2026-10-01", revision=3, version="0.1.0")
print(hashlib.sha256(data).hexdigest(), hashlib.sha256(b"".join(drawing_files(drawn(of, show_of(of))).values())).hexdigest())
"""


def test_the_bytes_depend_on_nothing_but_the_arguments(tmp_path: Path) -> None:
    found = set()
    for zone, seed in (("Asia/Kathmandu", "7"), ("America/St_Johns", "4711")):
        env = os.environ | {"TZ": zone, "PYTHONHASHSEED": seed, "SOURCE_DATE_EPOCH": seed}
        run = subprocess.run([sys.executable, "-c", SCRIPT, str(ROOT)], cwd=tmp_path, env=env, capture_output=True, text=True, check=True)
        found.add(run.stdout)
    assert len(found) == 1
    assert found.pop().split()[0] == hashlib.sha256(document("foyer")).hexdigest()
