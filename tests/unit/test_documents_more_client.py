"""The client's document: plain words, no cost, the numbers of the design and of the offer."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from documents_cases import FINDINGS, design, finding, job, show_of, workshop
from halfsilver.documents.client import client_pdf, client_scene
from halfsilver.documents.client_words import care, describing, key_numbers, provided, tiles, to_mind, to_settle
from halfsilver.documents.embedded import framed_png
from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.collide import overlaps
from halfsilver.drawing.scene import Line
from halfsilver.drawing.style import Role
from halfsilver.drawing.view import Scale, View
from halfsilver.errors import RenderError
from halfsilver.layout.design import Design
from halfsilver.model.finding import Severity
from halfsilver.model.job import Mounting, MountingKind, Scope
from halfsilver.model.results import OptionRecord, SizeRecord
from halfsilver.services.decide import decided
from halfsilver.services.findings import findings
from making_cases import HOSTILE, client_bill, shop_bill
from printed_pages import faults, font_names, page_texts, squeezed, words_of


def png(wide: int, high: int) -> bytes:
    """A grey picture, as the format's own document puts it together (W3C PNG, second edition, 5.3 and 11.2)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + bytes([90]) * wide for _ in range(high))
    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def option(title: str) -> OptionRecord:
    outside = SizeRecord(width_mm=1470.0, height_mm=892.0, shown="57 7/8 in x 35 1/8 in")
    return OptionRecord(
        job="option.yaml", title=title, construction="lit-screen", scope="complete", pieces=1, sizes={"outside": outside},
        depth_mm=99.0, depth_shown="3 29/32 in", mass_kg=58.4, hidden_share=0.016, gap_mm=25.4, gap_shown="1 in",
        appearance={}, stops=0, currency="USD", price="2085.03", tax="166.80", total="2251.83", unpriced=(),
    )  # fmt: skip


def made(of: Design, name: str, **given: Any) -> bytes:
    found = given.pop("findings", findings(of, show_of(of)))
    return client_pdf(of, found, client_bill(name), show=show_of(of), date="2026-10-01", revision=2, version="0.1.0", **given)


@cache
def document(name: str) -> bytes:
    return made(design(name), name)


CASES = ("foyer", "archive-mirror", "crowd", "tall", "wide", "glass-only")


@pytest.mark.parametrize("name", CASES)
def test_one_to_three_pages_without_a_fault(name: str) -> None:
    assert 1 <= len(page_texts(document(name))) <= 3
    assert faults(document(name)) == []
    assert font_names(document(name)) == {"Inter-Regular", "Inter-Bold"}


@pytest.mark.parametrize("name", CASES)
def test_nothing_of_the_shop_is_told(name: str) -> None:
    words, bill = squeezed(words_of(document(name))).replace("\u2009", ""), shop_bill(name)
    for amount in (bill.cost, bill.margin):
        assert f"{amount:.2f}" not in words
    for word in ("margin", "overhead", "kerf", "waste", "front.rebate", "contingency"):
        assert word not in words.lower()


@pytest.mark.parametrize("name", CASES)
def test_the_numbers_are_those_of_the_design_and_of_the_offer(name: str) -> None:
    words, sizes, bill = squeezed(" ".join(page_texts(document(name)))), Sizes(design(name), show_of(design(name))), client_bill(name)
    large = ("front.glass.width", "rear.glass.height") if name == "glass-only" else ("outside.width", "outside.height", "outside.depth")
    for entry in large:
        assert words.count(squeezed(sizes.text(entry))) >= (1 if name == "glass-only" else 2)  # large, and in the drawing
    for amount in (bill.price, bill.total, bill.deposit):
        assert f"{amount:.2f}" in words.replace("\u2009", "")
    assert f"standsfor{bill.valid_days}days" in words


@pytest.mark.parametrize("name", CASES)
def test_the_drawing_has_the_outside_sizes_only(name: str) -> None:
    scene = client_scene(Sizes(design(name), show_of(design(name))))
    assert {getattr(item, "name", "") for item in scene.items} >= {"outside.width", "outside.height", "outside.depth"}
    assert overlaps(View(scene=scene, scale=Scale(25.0))) == ()


def test_without_a_bill_no_price_is_printed() -> None:
    of = design("foyer")
    words = words_of(client_pdf(of, (), None, show=show_of(of), date="2026-10-01", revision=1, version="0.1.0"))
    assert "USD" not in words
    assert "What we need from you" in words


def test_a_picture_and_options_find_their_place() -> None:
    data = made(design("foyer"), "foyer", picture=png(160, 100), options=[option("As asked"), option("Deeper"), option("Smaller")])
    assert faults(data) == []
    assert len(page_texts(data)) <= 4
    assert "Deeper" in words_of(data)


def test_an_option_says_how_much_of_it_is_made() -> None:
    kit = replace(option("As a kit"), scope="glass-only", pieces=3)
    assert "glass only, 3 pieces" in words_of(made(design("foyer"), "foyer", options=[option("As asked"), kit]))


@pytest.mark.parametrize("data", [b"", b"GIF89a" + bytes(60), png(0, 4)])
def test_what_is_no_picture_is_refused(data: bytes) -> None:
    with pytest.raises(RenderError, match="picture for the client"):
        framed_png(data)


def test_the_same_bytes_each_time() -> None:
    assert made(design("foyer"), "foyer") == document("foyer")


def test_a_title_is_never_markup() -> None:
    of = decided(replace(job("foyer"), title=HOSTILE, client=HOSTILE), workshop())
    data = made(of, "foyer")
    assert squeezed(words_of(data)).count(squeezed(HOSTILE)) >= 2
    assert faults(data) == []


@pytest.mark.parametrize("scope", list(Scope))
def test_scope_decides_what_is_asked_for_and_what_is_cared_for(scope: Scope) -> None:
    sizes = Sizes(design(scope.value), show_of(design(scope.value)))
    needs, kept = " ".join(provided(sizes)), " ".join(care(sizes))
    assert ("mains outlet" in needs) is (scope in (Scope.COMPLETE, Scope.KIT))
    assert ("A wall that carries" in needs) is (scope is not Scope.GLASS_ONLY)
    assert ("Wipe the front" in kept) is (scope is not Scope.FRAME_ONLY)
    assert ("Dust the frame" in kept) is (scope is not Scope.GLASS_ONLY)
    assert ("We make the frame for it" in describing(sizes)) is (scope is Scope.FRAME_ONLY)


def test_a_recess_is_asked_for_with_its_size() -> None:
    sizes = Sizes(design("archive-mirror"), show_of(design("archive-mirror")))
    assert any("width 1492 mm, height 992 mm, depth 140 mm" in need for need in provided(sizes))


def test_stops_are_told_before_anything_else_in_plain_words() -> None:
    stop = finding(Severity.STOP, rule="fit.invented", advice="front.rebate is 3 mm short.")
    words = to_settle([stop, *FINDINGS, stop])
    assert len(words) == 1
    assert "front.rebate" not in words[0]
    assert "To be settled before we begin" in words_of(made(design("tiny"), "tiny", findings=[stop]))
    unknown = finding(Severity.STOP, rule="new.rule", advice="Ask the town.")
    assert to_settle([unknown]) == ["Ask the town."]
    (water,) = to_settle([finding(Severity.STOP, rule="damp.by_water", advice="36 in.")])
    assert "licensed electrician" in water
    assert "mist" not in water


def test_the_standing_cautions_are_always_there() -> None:
    sizes = Sizes(design("foyer"), show_of(design("foyer")))
    heads = [row["head"] for row in to_mind(sizes, ())]
    assert heads == ["Glass", "Weight", "Mains", "Air", "The rim"]
    more = to_mind(sizes, [finding(Severity.CAUTION, rule="damp.dew_point"), finding(Severity.CAUTION, rule="frame.lip_left")])
    assert more[-1]["head"] == "For this place"
    assert "mist inside" in more[-1]["text"]


def test_the_load_of_the_outlet_is_screen_and_supply() -> None:
    """190 W as the screen's record says; a supply of 60 W at 88 % takes 68 W (worked by hand)."""
    sizes = Sizes(design("foyer"), show_of(design("foyer")))
    assert any("190 W for the screen and 68 W for the lights" in need for need in provided(sizes))


def test_who_buys_glass_alone_reads_the_panes_sizes_and_their_own_weight() -> None:
    sizes = Sizes(design("glass-only"), show_of(design("glass-only")))
    told = {tile["label"]: tile["value"] for tile in tiles(sizes)}
    assert list(told) == ["Front pane", "Rear pane", "Weight of the glass"]
    assert told["Front pane"] == sizes.by("front.glass.width", "front.glass.height")
    # Two panes of 53 1/4 x 30 1/2 in: 1.048 m2 of 6.76 mm laminated and of 4 mm float at 2500 kg/m3 (EN 572-1), the interlayer lighter.
    assert float(told["Weight of the glass"].split()[0]) == pytest.approx(1.048 * (6.0 + 0.76 * 0.43 + 4.0) * 2.5, rel=0.02)


def test_what_the_eye_will_find_is_told_in_plain_words() -> None:
    rules = ("room_contrast", "echo", "hidden_screen", "visible_images", "remote_control", "light_sensor")
    found = [finding(Severity.CAUTION, rule=f"appearance.{rule}", advice="32.5 % (27.7 % to 38.0 %) in arc minutes") for rule in rules]
    told = to_mind(Sizes(design("foyer"), show_of(design("foyer"))), found)[-1]
    assert told["head"] == "For this place"
    assert "arc minutes" not in told["text"]
    assert told["text"].count(".") >= len(rules)


def test_a_wall_is_drawn_behind_what_hangs_on_it_alone() -> None:
    def walls(mounting: MountingKind) -> int:
        of = decided(replace(job("foyer"), mounting=Mounting(kind=mounting)), workshop())
        return sum(isinstance(item, Line) and item.role is Role.CUT for item in client_scene(Sizes(of, show_of(of))).items)

    assert [walls(kind) for kind in (MountingKind.HUNG, MountingKind.STANDING)] == [1, 0]


def test_viewers_with_long_names_stay_apart() -> None:
    labels = [
        row["label"] for row in key_numbers(Sizes(design("crowd"), show_of(design("crowd")))) if row["label"].startswith("Picture seen")
    ]
    assert len(set(labels)) == len(labels) == 3
