"""Drawings under wheel, keys, drag and finger; pages by keyboard alone; the lamp; and what comes out on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from browser_parts import SIZES, watched
from page_shots import Shop

SHOWN = "() => Number(document.querySelector('.drawing svg').getAttribute('viewBox').split(' ')[2])"
LEFT = "() => Number(document.querySelector('.drawing svg').getAttribute('viewBox').split(' ')[0])"


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    width, height = SIZES["phone"]
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=True, reduced_motion="reduce")
    yield watched(context.new_page())
    context.close()


def test_a_drawing_is_moved_and_zoomed(desk_page: Page, shop: Shop) -> None:
    page = desk_page
    shop.open(page, "sizes")
    whole = page.evaluate(SHOWN)
    page.locator(".drawing").focus()
    page.keyboard.press("+")
    assert page.evaluate(SHOWN) == pytest.approx(whole / 1.4)
    left = page.evaluate(LEFT)
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(LEFT) < left
    page.keyboard.press("0")
    assert page.evaluate(SHOWN) == pytest.approx(whole)
    page.get_by_role("button", name="Larger").click()
    assert page.evaluate(SHOWN) == pytest.approx(whole / 1.5)
    box = page.locator(".drawing").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    left = page.evaluate(LEFT)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=4)
    page.mouse.up()
    assert page.evaluate(LEFT) < left
    page.mouse.wheel(0, -400)
    expect(page.locator(".drawing")).to_have_class(re.compile("zoomed"))
    assert page.evaluate(SHOWN) < whole / 2
    expect(page.locator("#why")).to_contain_text("Why is it that long?")  # a drag asks for nothing
    page.get_by_role("button", name="All", exact=True).click()
    assert page.evaluate(SHOWN) == pytest.approx(whole)


def test_a_finger_beside_a_small_figure_finds_its_reason(phone: Page, shop: Shop) -> None:
    shop.open(phone, "sizes")
    figure = phone.locator(".drawing [data-name='outside.width'] text").first.bounding_box()
    assert figure is not None
    assert figure["height"] < 12  # too small to be hit
    phone.mouse.click(figure["x"] + figure["width"] / 2, figure["y"] - 10)  # this browser moves a tap of a finger by itself; others do not
    expect(phone.locator("#why")).to_contain_text("outside.width")


def test_the_keyboard_leads_past_the_head_to_a_reason(desk_page: Page, shop: Shop) -> None:
    page = desk_page
    shop.open(page, "sizes")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="To the page")).to_be_focused()
    expect(page.get_by_role("link", name="To the page")).to_be_in_viewport()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Drawing", exact=True)).to_be_focused()
    page.get_by_text("Dimensions on this drawing").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#why .why")).to_be_visible()
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"


def test_a_drop_opens_and_closes_by_keyboard(desk_page: Page, shop: Shop) -> None:
    page = desk_page
    shop.open(page, "price")
    page.locator(".stagedrop summary").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("What has happened to it")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_label("What has happened to it")).to_be_hidden()


def test_the_lamp_turns_every_page(desk_page: Page, shop: Shop) -> None:
    page = desk_page
    shop.open(page, "history")
    for ground in ("rgb(20, 23, 26)", "rgb(239, 236, 229)"):
        page.locator(".lamp button").click()
        expect(page.locator("html")).to_have_css("background-color", ground)


@pytest.mark.parametrize(
    ("name", "there", "gone"),
    [
        ("sizes", ("Rear glass width", "What is hidden", "State 6, cutting"), ("Tap a dimension", "Workshop")),
        ("findings", ("Cautions", "State 6, cutting"), ("Working and source",)),
        ("price", ("What the client is told", "Plane the face off the rear sticks", "Total"), ("Make the documents",)),
        ("bench", ("Measure the openings", "Left", "Right", "53 3/8 in"), ("tap to read", "All steps", "Done, on to")),
    ],
)
def test_paper_holds_what_is_read_and_nothing_that_is_clicked(
    desk_page: Page, shop: Shop, name: str, there: tuple[str, ...], gone: tuple[str, ...]
) -> None:
    page = desk_page
    shop.open(page, name)
    pages = PdfReader(BytesIO(page.pdf(prefer_css_page_size=True, format="A4"))).pages
    text = " ".join(" ".join(sheet.extract_text().split()) for sheet in pages)
    assert [words for words in there if words not in text] == []
    assert [words for words in gone if words in text] == []


def test_what_was_typed_and_not_kept_is_asked_about_before_its_page_goes(desk_page: Page, shop: Shop) -> None:
    page, asked = desk_page, list[str]()
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    title = page.locator('[name="v:title"]')
    for leave, questions in (("Jobs", 1), ("Undo what is not kept", 0)):
        shop.open(page, "brief")
        with page.expect_response(re.compile("/brief/draft")):
            title.fill("Another night")
        asked.clear()
        page.get_by_role("link", name=leave, exact=True).click()
        expect(title).to_have_count(0) if questions else expect(title).not_to_have_value("Another night")
        assert asked == ["beforeunload"] * questions, leave
    shop.open(page, "brief")
    page.get_by_role("link", name="Jobs", exact=True).click()  # nothing was typed, nothing is asked
    expect(title).to_have_count(0)
    assert asked == []
