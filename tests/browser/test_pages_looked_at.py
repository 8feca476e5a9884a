"""Every page as somebody has looked at it, at desk, tablet and phone: nothing moved, nothing over another, everything to be read.

A picture is compared coarsely, cell by cell in luminance, so that another browser's letters pass and a moved block does not. One that
differs is written to ``out/golden/pages``, and in full beside it to ``out/pages``; ``python3 run golden`` shows old and new.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Browser, Page

from browser_parts import SIZES, watched
from page_shots import Shop, Shot

ROOT = Path(__file__).resolve().parents[2]
KEPT, CHANGED, FULL = ROOT / "tests/golden/pages", ROOT / "out/golden/pages", ROOT / "out/pages"
PARTS = {"desk": 3, "tablet": 2, "phone": 2}  # a kept picture is so much smaller
SCHEMES = {"desk": "light", "tablet": "light", "phone": "dark"}
CELL_PX = 12  # about a line of text
CELL_APART = 18  # of 255: letters set half a pixel aside stay under it, but for a few
CELLS_APART = 12
MOVES = (
    "main { padding-top: 30px !important; }",
    ".rightside { margin-top: -20px !important; }",
    ".extras { position: relative; top: -200px; }",
    ".ruler { visibility: hidden; }",
    ".briefform .field { padding-left: 8px; }",
)
Cells = NDArray[np.float64]

READABLE = """() => {
  const numbers = (text) => text.match(/[\\d.]+/g).map(Number);
  const colour = (text) => { const [r, g, b, a = 1] = numbers(text); return [r, g, b, a]; };
  const over = (top, under) => [0, 1, 2].map((k) => top[k] * top[3] + under[k] * (1 - top[3]));
  const light = (rgb) => {
    const [r, g, b] = rgb.map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = (element) => {
    const layers = [];
    for (let e = element; e; e = e.parentElement) {
      const one = colour(getComputedStyle(e).backgroundColor);
      if (one[3]) layers.unshift(one);
      if (one[3] === 1) break;
    }
    return layers.reduce((under, top) => over(top, under), [255, 255, 255]);
  };
  const poor = new Set(), words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = words.nextNode());) {
    const e = node.parentElement, style = getComputedStyle(e);
    if (!node.data.trim() || !e.getClientRects().length || e.closest("svg, .unseen, noscript, [disabled], option")) continue;
    let opacity = 1;
    for (let p = e; p; p = p.parentElement) opacity *= Number(getComputedStyle(p).opacity);
    const under = ground(e), [r, g, b, a] = colour(style.color), ink = over([r, g, b, a * opacity], under);
    const [high, low] = [light(ink), light(under)].sort((x, y) => y - x), px = parseFloat(style.fontSize);
    const enough = px >= 24 || (px >= 18.66 && Number(style.fontWeight) >= 700) ? 3 : 4.5;
    const ratio = (high + 0.05) / (low + 0.05);
    if (ratio < enough) poor.add(`${ratio.toFixed(2)}: ${node.data.trim().slice(0, 40)}`);
  }
  return [...poor];
}"""
NAMELESS = """() => [...document.querySelectorAll('input:not([type=hidden]), select, textarea, button, a[href], [role=slider], [role=img]')]
  .filter((e) => e.getClientRects().length && ![...(e.labels ?? [])].some((label) => label.textContent.trim()) && !e.textContent.trim()
    && !e.hasAttribute("aria-label") && !e.hasAttribute("aria-labelledby") && !e.querySelector('img[alt]:not([alt=""])'))
  .map((e) => e.outerHTML.slice(0, 120))"""
TWICE = """() => [...document.querySelectorAll("[id]")].map((e) => e.id).filter((id, k, all) => all.indexOf(id) !== k)"""
LEVELS = (
    """() => [...document.querySelectorAll("h1, h2, h3, h4")].filter((e) => e.getClientRects().length).map((e) => Number(e.tagName[1]))"""
)
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def cells(picture: Image.Image, part: int) -> Cells:
    """Mean luminance of each cell of a picture that is ``part`` times smaller than the page."""
    grey = picture.convert("L")
    size = (max(1, round(grey.width * part / CELL_PX)), max(1, round(grey.height * part / CELL_PX)))
    return np.asarray(grey.resize(size, Image.Resampling.BOX), dtype=float)


def stands(kept: Cells, now: Cells) -> bool:
    """Whether a page looks as it did."""
    if kept.shape != now.shape:
        return False
    return int((np.abs(kept - now) > CELL_APART).sum()) <= CELLS_APART


def small(picture: Image.Image, part: int) -> Image.Image:
    return picture.convert("RGB").resize((picture.width // part, max(1, picture.height // part)), Image.Resampling.BOX)


def shown(page: Page, shot: Shot) -> Image.Image:
    """The page from its top down to what of it is kept, whole cells of it."""
    high = min(page.evaluate("document.documentElement.scrollHeight"), page.evaluate("innerHeight") if shot.first else shot.most_px)
    clip = {"x": 0, "y": 0, "width": page.evaluate("innerWidth"), "height": high - high % (2 * CELL_PX)}
    mask = [page.locator(shot.mask)] if shot.mask else []
    return Image.open(BytesIO(page.screenshot(full_page=not shot.first, clip=clip, mask=mask)))  # type: ignore[arg-type]


def has_changed(picture: Image.Image, name: str, size: str) -> bool:
    """Whether it differs from the one that was looked at; it lies in ``out`` then."""
    part, file = PARTS[size], KEPT / f"{name}.{size}.webp"
    if file.exists() and stands(cells(Image.open(file), part), cells(small(picture, part), part)):
        return False
    for folder in (CHANGED, FULL):
        folder.mkdir(parents=True, exist_ok=True)
    small(picture, part).save(CHANGED / file.name, "WEBP", quality=45, method=6)
    picture.save(FULL / f"{name}.{size}.png")
    return True


def faults(page: Page) -> list[str]:
    """What somebody could not see, read, hear or reach on a page."""
    found = [f"sideways by {over} px" for over in [page.evaluate(SIDEWAYS)] if over > 0]
    found += [f"hard to read, {one}" for one in page.evaluate(READABLE)]
    found += [f"no name, {one}" for one in page.evaluate(NAMELESS)]
    found += [f"one id twice, {one}" for one in page.evaluate(TWICE)]
    levels = page.evaluate(LEVELS)
    found += [f"a heading of level {b} after {a}" for a, b in pairwise(levels) if b > a + 1]
    return found + ([] if levels.count(1) == 1 else [f"{levels.count(1)} headings of level 1"])


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(reduced_motion="reduce", locale="en-GB", timezone_id="UTC")
    opened = watched(context.new_page())
    opened.route("**/look/asset*", lambda route: None)  # the picture itself is held to the stills elsewhere
    yield opened
    context.close()


def put(page: Page, size: str) -> None:
    """Turn a page to a size, and to the light that goes with it."""
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme=SCHEMES[size])  # type: ignore[arg-type]


def test_every_page_stands_as_it_was_looked_at(page: Page, shop: Shop) -> None:
    changed, wrong = [], []
    for name, shot in shop.shots.items():
        put(page, "desk")
        shop.open(page, name)
        for size in SIZES:
            put(page, size)
            wrong += [f"{name} at {size} size: {fault}" for fault in faults(page)]
            if has_changed(shown(page, shot), name, size):
                changed.append(f"{name}.{size}")
    assert wrong == []
    assert changed == [], f"not as they were looked at; the new ones are in {CHANGED}, in full in {FULL}"


def test_a_block_that_moves_is_noticed(page: Page, shop: Shop) -> None:
    put(page, "desk")
    shop.open(page, "brief")
    shot, part = shop.shots["brief"], PARTS["desk"]
    before = cells(small(shown(page, shot), part), part)
    assert stands(before, cells(small(shown(page, shot), part), part))
    for rule in MOVES:
        page.evaluate("rule => document.adoptedStyleSheets[0].insertRule(rule)", rule)
        assert not stands(before, cells(small(shown(page, shot), part), part)), rule
        page.evaluate("() => document.adoptedStyleSheets[0].deleteRule(0)")


def test_poor_ink_and_a_field_without_a_name_are_noticed(page: Page, shop: Shop) -> None:
    shop.open(page, "measure")
    assert faults(page) == []
    page.evaluate("document.querySelector('.hint').style.opacity = 0.5; document.querySelector('label[for=at]').textContent = ''")
    assert [fault.partition(",")[0] for fault in faults(page)] == ["hard to read", "no name"]
