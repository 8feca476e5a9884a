"""Labels: one for each piece, codes read back by an independent reader from the printed page."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pypdfium2
import pytest
import zxingcpp

from documents_cases import design, job, show_of, workshop
from halfsilver.documents.labels import LabelGrid, labels_pdf, payload, pieces
from halfsilver.errors import RenderError
from halfsilver.layout.design import Design
from halfsilver.making.fasteners import fasteners
from halfsilver.making.plan import cut_plan
from halfsilver.making.scope import made_parts
from halfsilver.model.making import CutPlan
from halfsilver.services.decide import decided
from making_cases import HOSTILE, plan
from printed_pages import faults, font_names, page_texts, squeezed, words_of

JOB = "0123456789ab"


def made(of: Design, cut: CutPlan, base_address: str = "", grid: LabelGrid | None = None) -> bytes:
    return labels_pdf(of, cut, show=show_of(of), job=JOB, date="2026-10-01", revision=2, base_address=base_address, grid=grid)


@cache
def document(name: str) -> bytes:
    return made(design(name), plan(name))


def read_back(data: bytes, dpi: int = 200) -> Counter[str]:
    """What an independent reader finds on the pages at the sharpness of a plain office printer."""
    with pypdfium2.PdfDocument(data) as pdf:
        pictures = [page.render(scale=dpi / 72).to_pil() for page in pdf]
    return Counter(code.text for picture in pictures for code in zxingcpp.read_barcodes(picture))


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "glass-only", "frame-only"])
def test_every_code_is_read_back(name: str) -> None:
    wanted = Counter(f"halfsilver:{JOB}/2/{piece.part.id}" for piece in pieces(design(name), plan(name)))
    assert read_back(document(name)) == wanted


def test_codes_with_the_shops_address_are_read_back() -> None:
    data = made(design("glass-only"), plan("glass-only"), base_address="https://workshop.example/pieces/")
    assert read_back(data) == Counter(f"https://workshop.example/pieces/{JOB}/2/{which}-glass" for which in ("front", "rear"))


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "glass-only", "frame-only", "tiny"])
def test_there_is_a_label_for_each_piece_in_scope(name: str) -> None:
    found = Counter(piece.part.id for piece in pieces(design(name), plan(name)))
    for part in made_parts(design(name)):
        assert found.pop(part.id) == (4 if part.id == "strip" else part.quantity)
    assert not found


def test_several_pieces_have_several_labels() -> None:
    several = decided(replace(job("foyer"), quantity=2), workshop())
    found = [piece.mark for piece in pieces(several, cut_plan(several))]
    assert {"front frame top, piece 1", "front frame top, piece 2"} <= set(found)
    assert "corner plate, 8 of 8" in found
    assert "spare" not in found


@pytest.mark.parametrize("name", ["foyer", "archive-mirror", "tiny"])
def test_words_keep_to_their_labels(name: str) -> None:
    assert faults(document(name), edge_pt=10) == []
    assert font_names(document(name)) == {"Inter-Regular", "Inter-Bold"}


def test_a_label_says_the_size_of_its_piece() -> None:
    show, words = show_of(design("foyer")), squeezed(" ".join(page_texts(document("foyer"))))
    for piece in pieces(design("foyer"), plan("foyer")):
        length = piece.part.size_mm[0] if piece.length_mm is None else piece.length_mm
        assert squeezed(show(length, "mm")) in words
    glass = design("foyer").ledger
    assert squeezed(f"{show(glass['front.glass.width'], 'mm')} × {show(glass['front.glass.height'], 'mm')}") in words


def test_a_grid_keeps_within_the_paper() -> None:
    for paper, count in (((210.0, 297.0), 21), ((215.9, 279.4), 21)):
        places = LabelGrid().places(paper)
        assert len(places) == count
        assert min(x for x, _ in places) >= 4
        assert max(x for x, _ in places) + 63.5 <= paper[0] - 4
        assert max(y for _, y in places) + 38.1 <= paper[1] - 4


def test_a_label_larger_than_the_paper_is_refused() -> None:
    with pytest.raises(RenderError, match="does not go onto the paper"):
        LabelGrid(width_mm=300).places((210.0, 297.0))


@pytest.mark.parametrize("address", ["https://" + "a" * 120, "https://münze.example", "http://two words"])
def test_an_address_no_code_can_hold_is_refused(address: str) -> None:
    with pytest.raises(RenderError, match="address for the codes"):
        made(design("glass-only"), plan("glass-only"), base_address=address)


def test_a_title_is_never_markup_and_is_cut_to_its_place() -> None:
    of = decided(replace(job("foyer"), title=HOSTILE), workshop())
    data = made(of, plan("foyer"))
    assert faults(data) == []
    assert squeezed(HOSTILE)[:12] in squeezed(words_of(data))


def test_the_same_bytes_each_time() -> None:
    assert made(design("foyer"), plan("foyer")) == document("foyer")


def test_the_payload_is_plain() -> None:
    assert payload(job=JOB, revision=7, part="bar-top") == f"halfsilver:{JOB}/7/bar-top"


def test_a_kit_has_a_label_for_each_bag() -> None:
    kit, frame = design("kit"), design("foyer")
    bags = {piece.part.id: (piece.mark, piece.holds) for piece in pieces(kit, plan("kit")) if piece.holds}
    assert list(bags.values()) == [(one.place, f"{one.count} × {one.name}") for one in fasteners(kit)]
    assert read_back(document("kit"))[f"halfsilver:{JOB}/2/bag-1"] == 1
    assert not any(piece.holds for piece in pieces(frame, plan("foyer")))
