"""The look in a real browser: it draws when something has changed and only then; head, switches, other glass, own picture, stills."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from browser_parts import Server, watched

DRAWN = "#view[data-drawn=full]"
SLOW_MS = 120_000  # a processor that plays the graphics card draws for seconds
SMALL = {"width": 700, "height": 560}
NO_BOARD = "HTMLCanvasElement.prototype.getContext = function (kind) { return null; };"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    made = Server(tmp_path_factory.mktemp("look"))
    made.start()
    yield made
    made.stop()


@pytest.fixture
def small(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = browser.new_context(viewport=SMALL)
    yield watched(context.new_page())
    context.close()


def begun(page: Page, served: Server) -> str:
    """Address of the look of a fresh job."""
    page.goto(f"{served.address}/new")
    page.get_by_role("button", name="Take up the example").click()
    page.get_by_label("Client").wait_for()
    return page.url.replace("/brief", "/look")


def frames(page: Page) -> int:
    return int(page.locator("#view").get_attribute("data-frames") or 0)


def drawn(page: Page) -> None:
    page.wait_for_selector(DRAWN, timeout=SLOW_MS)


def light(page: Page) -> float:
    """Mean of the picture as shown."""
    shot = Image.open(BytesIO(page.locator("#view").screenshot())).convert("L").resize((1, 1), Image.Resampling.BOX)
    return float(shot.getpixel((0, 0)))  # type: ignore[arg-type]


def test_it_is_whole_at_every_size(page: Page, served: Server) -> None:
    page.goto(begun(page, served))
    drawn(page)
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    small = page.evaluate(
        "[...document.querySelectorAll('button, input:not([type=hidden]):not([type=checkbox]), select')]"
        ".filter(e => e.offsetParent && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 120))"
    )
    assert small == []
    assert light(page) > 30


def test_it_draws_only_when_something_has_changed(small: Page, served: Server) -> None:
    page = small
    page.goto(begun(page, served))
    drawn(page)
    page.wait_for_timeout(300)
    before, bright = frames(page), light(page)
    page.wait_for_timeout(1500)
    assert frames(page) == before
    page.locator("input[name=lights]").uncheck()
    drawn(page)
    assert frames(page) > before
    assert light(page) < bright
    expect(page.locator("#numbers")).not_to_contain_text("Images of the lights")
    page.locator("input[name=screen]").uncheck()
    drawn(page)
    expect(page.locator("#numbers")).not_to_contain_text("Contrast")


def test_a_hidden_page_does_not_draw(small: Page, served: Server) -> None:
    page = small
    page.add_init_script("Object.defineProperty(document, 'hidden', { get: () => Boolean(window.away) });")
    page.goto(begun(page, served))
    drawn(page)
    page.evaluate("window.away = true")
    before = frames(page)
    page.locator("input[value=side]").check(force=True)
    page.wait_for_timeout(1000)
    assert frames(page) == before
    page.evaluate("window.away = false; document.dispatchEvent(new Event('visibilitychange'))")
    drawn(page)
    assert frames(page) > before


def test_the_head_moves_by_keys_mouse_and_slider(small: Page, served: Server) -> None:
    page = small
    page.goto(begun(page, served))
    drawn(page)
    aside, away = page.locator("#at-x"), page.locator("#at-away")
    page.locator("#view").focus()
    for key in ("ArrowRight", "ArrowRight", "+"):
        page.keyboard.press(key)
    assert float(aside.input_value()) == pytest.approx(80, abs=6)
    assert float(away.input_value()) < 2400
    page.keyboard.press("Home")
    assert float(aside.input_value()) == 0
    box = page.locator("#view").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 120, y, steps=4)
    page.mouse.up()
    assert float(aside.input_value()) > 200
    expect(page.locator("#numbers")).to_contain_text("in beside it")
    page.mouse.wheel(0, -300)
    page.wait_for_timeout(300)
    assert float(away.input_value()) < 2300
    page.locator("input[value=child]").check(force=True)
    assert float(away.input_value()) == 1500
    assert "viewer=child" in page.url
    page.locator("#at-away").fill("3000")
    drawn(page)


def test_other_glass_at_once_with_its_numbers(small: Page, served: Server) -> None:
    page = small
    address = begun(page, served)
    page.goto(address)
    drawn(page)
    expect(page.get_by_role("button", name="Make it the job")).to_be_disabled()
    page.locator("#look-front").select_option("chrome-t20-4")
    expect(page.locator(".moved").first).to_be_visible(timeout=SLOW_MS)
    page.locator("#look-gap").fill("5 1/8 mm")
    page.locator("#look-gap").press("Tab")
    expect(page.locator("#tries-said")).to_contain_text("Fractions are read for inches only.", timeout=SLOW_MS)
    page.locator("#look-gap").fill("2 in")
    page.locator("#look-gap").press("Tab")
    expect(page.locator("#tries-said")).to_be_empty(timeout=SLOW_MS)
    page.wait_for_load_state("networkidle")
    page.get_by_role("button", name="Make it the job").click()
    expect(page.locator("#look-front")).to_have_value("")
    expect(page.locator("#look-front option:checked")).to_contain_text("20 % through, 4 mm (as it stands)")
    assert page.url == address


def test_lights_as_they_were_dimmed_are_kept(small: Page, served: Server) -> None:
    page = small
    page.goto(begun(page, served))
    drawn(page)
    keep = page.get_by_role("button", name="Keep these lights")
    expect(keep).to_be_disabled()
    page.locator("#dim").fill("40")
    page.locator("#kelvin").fill("4200")
    page.get_by_role("button", name="As the job has them").click()
    expect(keep).to_be_disabled()
    page.locator("#dim").fill("40")
    page.locator("#kelvin").fill("4200")
    keep.click()
    expect(page.locator("#dim")).to_have_value("40")
    expect(page.locator("#kelvin")).to_have_value("4200")
    expect(keep).to_be_disabled()


def test_a_picture_of_ones_own_stays_here(small: Page, served: Server) -> None:
    page = small
    page.goto(begun(page, served))
    drawn(page)
    sent: list[str] = []
    page.on("request", lambda request: sent.append(request.method))
    target = BytesIO()
    Image.new("RGB", (64, 36), (255, 0, 0)).save(target, "PNG")
    before = frames(page)
    page.locator("#picture").set_input_files({"name": "red.png", "mimeType": "image/png", "buffer": target.getvalue()})
    page.wait_for_selector("#view[data-drawn='not yet'], #view[data-drawn=coarse]", timeout=SLOW_MS)
    drawn(page)
    assert frames(page) > before
    middle = Image.open(BytesIO(page.locator("#view").screenshot())).convert("RGB")
    red, green, _ = middle.getpixel((middle.width // 2, middle.height // 2))  # type: ignore[misc]
    assert red > green + 20
    assert "POST" not in sent


def test_stills_where_it_cannot_be_drawn(small: Page, served: Server) -> None:
    page = small
    page.add_init_script(NO_BOARD)
    page.goto(begun(page, served))
    image = page.locator(".look-view img")
    expect(image).to_be_visible(timeout=SLOW_MS)
    assert "/still.png?" in (image.get_attribute("src") or "")
    expect(page.locator("#at-x")).to_be_hidden()
    page.locator("input[name=lights]").uncheck()
    assert "lights" not in (image.get_attribute("src") or "")
    expect(page.locator("#view-said")).to_be_hidden(timeout=SLOW_MS)


def test_without_script_a_form_does_it(browser: Browser, served: Server, small: Page) -> None:
    address = begun(small, served)
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.set_default_timeout(SLOW_MS)
    page.goto(address)
    page.locator("input[value=side]").check(force=True)
    page.locator("input[name=lights]").uncheck()
    page.get_by_role("button", name="Show").click()
    source = page.locator(".look-view img").get_attribute("src") or ""
    assert "viewer=side" in source
    assert "screen=1" in source
    assert "lights=1" not in source
    context.close()


def test_options_under_one_head(small: Page, served: Server) -> None:
    page = small
    page.goto(begun(page, served).replace("/look", "/brief"))
    page.get_by_role("button", name="Try another way beside it").click()
    expect(page.locator(".letter")).to_have_text("Option B")
    page.get_by_role("link", name="Look", exact=True).click()
    page.get_by_role("link", name="All options side by side").click()
    expect(page.locator(".look-way canvas")).to_have_count(2)
    page.wait_for_selector(".look-way:nth-child(2) canvas[data-drawn=full]", timeout=SLOW_MS)
    expect(page.locator(".look-way").first).to_contain_text("USD")
