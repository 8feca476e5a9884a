"""What stands on the pages of a PDF: words, and boxes of characters."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import pypdfium2
from pypdf import PdfReader

Box = tuple[float, float, float, float, str]


@lru_cache(maxsize=16)
def page_texts(data: bytes) -> tuple[str, ...]:
    """The words of each page, spaces made one."""
    return tuple(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages)


@lru_cache(maxsize=16)
def words_of(data: bytes) -> str:
    """All words of a document, quickly; figures of fractions may stand apart."""
    with pypdfium2.PdfDocument(data) as pdf:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pdf)


def squeezed(text: str) -> str:
    """Without spaces: the figures of a fraction are set apart from their whole number."""
    return "".join(text.split())


def characters(page: pypdfium2.PdfPage) -> Iterator[Box]:
    """Boxes of a page's characters without the fifth at each side that neighbours may share; spaces have none. [pt]"""
    read = page.get_textpage()
    text = read.get_text_range()
    for k in range(read.count_chars()):
        left, bottom, right, top = read.get_charbox(k)
        dx, dy = (right - left) / 5, (top - bottom) / 5
        if dx > 0 and dy > 0:
            yield (left + dx, bottom + dy, right - dx, top - dy, text[k : k + 1])


def meeting(boxes: list[Box]) -> list[tuple[str, str]]:
    """Characters that stand on one place; the figures of a fraction lean on its stroke and may."""
    found, near = [], sorted(boxes)
    for k, a in enumerate(near):
        for b in near[k + 1 :]:
            if b[0] >= a[2]:
                break
            if b[1] < a[3] and a[1] < b[3] and "/" not in (a[4], b[4]):
                found.append((a[4], b[4]))
    return found


def faults(data: bytes, *, edge_pt: float = 8.0) -> list[tuple[int, Any]]:
    """Characters that meet, and those that come nearer to the paper's edge than that."""
    found: list[tuple[int, Any]] = []
    with pypdfium2.PdfDocument(data) as pdf:
        for number, page in enumerate(pdf, start=1):
            boxes = list(characters(page))
            wide, high = page.get_size()
            found += [(number, box) for box in boxes if min(box[0], box[1], wide - box[2], high - box[3]) < edge_pt]
            found += [(number, pair) for pair in meeting(boxes)]
    return found


def font_names(data: bytes) -> set[str]:
    """Families that the pages name, drawings included."""
    found, waiting = set(), [page["/Resources"].get_object() for page in PdfReader(io.BytesIO(data)).pages]
    while waiting:
        resources = waiting.pop()
        fonts = resources["/Font"].get_object().values() if "/Font" in resources else []
        found |= {str(font.get_object()["/BaseFont"]).split("+")[-1] for font in fonts}
        inner = [x.get_object() for x in resources["/XObject"].get_object().values()] if "/XObject" in resources else []
        waiting += [x["/Resources"].get_object() for x in inner if "/Resources" in x]
    return found
