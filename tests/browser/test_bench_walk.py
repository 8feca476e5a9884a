"""A tablet at the bench: a walk with readings, a lost connection, a restart, a reload, a doubtful reading, and two tablets at once."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from browser_parts import Server, watched

LEAST_PX = 55.5
Tablet = Callable[[], Page]


@pytest.fixture(scope="module")
def open_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One server for all that leave it running: each test has a job and a browser of its own."""
    made = Server(tmp_path_factory.mktemp("bench"))
    made.start()
    yield made
    made.stop()


@pytest.fixture
def tablet(browser: Browser) -> Iterator[Tablet]:
    made: list[BrowserContext] = []

    def opened() -> Page:
        made.append(browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True))
        return watched(made[-1].new_page())

    yield opened
    for context in made:
        context.close()


def begun(page: Page, server: Server) -> str:
    """A job of the example; its address at the bench."""
    page.goto(f"{server.address}/new")
    page.get_by_role("button", name="Take up the example").click()
    page.wait_for_url("**/brief")
    return page.url.replace("/brief", "/bench")


def at_hand(page: Page, address: str) -> None:
    """Open a page of the bench and wait until every step is in the browser."""
    page.goto(address)
    page.locator("#bench[data-at-hand]").wait_for()


def kept(server: Server, page: Page, what: str = "measured") -> list[str]:
    """What stands in the store of the job that a page shows, asked of the file itself."""
    job = page.url.split("/")[4]
    with closing(sqlite3.connect(f"file:{server.folder / 'store.sqlite'}?mode=ro", uri=True)) as store:
        found = store.execute("select words from state where record = ? and what = ? order by number", (job, what))
        return [words for (words,) in found]


def box(page: Page, name: str, place: str) -> Locator:
    return page.locator(f'.point[data-name="{name}"] .box[data-at="{place}"]')


def tap_rule(page: Page, at: float) -> None:
    """Tap the rule at a share of the stretch between its two whole numbers (40 of 760 stand over at either end)."""
    found = page.locator("#rule").bounding_box()
    assert found is not None
    page.touchscreen.tap(found["x"] + found["width"] * (40 + 680 * at) / 760, found["y"] + found["height"] * 0.6)


def read(page: Page, name: str, place: str, at: float, shown: str) -> None:
    box(page, name, place).tap()
    tap_rule(page, at)
    expect(page.locator("#readout-text")).to_have_value(shown)
    page.get_by_role("button", name="Write it down").tap()


def back_to_the_step(page: Page) -> None:
    page.get_by_role("button", name="Back to the step").tap()


def large_enough(page: Page) -> None:
    small = page.evaluate(
        "least => [...document.querySelectorAll('.bench button, .bench summary, .bench a, .readout button, .readout input')]"
        ".filter(e => e.offsetParent && e.getBoundingClientRect().height < least).map(e => e.outerHTML.slice(0, 120))",
        LEAST_PX,
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0


def test_a_walk_along_the_bench_with_readings(tablet: Tablet, open_shop: Server) -> None:
    page = tablet()
    at_hand(page, begun(page, open_shop))
    expect(page.get_by_role("heading", name="Measure the screen")).to_be_visible()
    expect(page.locator(".mind li").first).to_contain_text("Glass")
    large_enough(page)
    page.locator(".jump summary").tap()
    large_enough(page)
    page.locator(".jump").get_by_role("link", name="Measure the openings").tap()
    expect(page.get_by_role("heading", name="Measure the openings")).to_be_visible()
    expect(page.locator(".card-drawing svg")).to_be_visible()

    read(page, "front.rebate.width", "top", 11 / 32, "53 11/32 in")
    told = page.locator("#readout-told")
    expect(told).to_contain_text("Written down")
    expect(told).to_contain_text("1/32 in less than planned")
    expect(told).to_contain_text("Front glass width: 53 1/4 in → 53 7/32 in")
    page.get_by_role("button", name="Next: middle").tap()
    large_enough(page)
    tap_rule(page, 0.5)
    page.get_by_role("button", name="− 1/32 in").tap()
    page.get_by_role("button", name="− 1/32 in").tap()
    expect(page.locator("#readout-text")).to_have_value("53 7/16 in")
    page.get_by_role("button", name="Write it down").tap()
    expect(told).to_contain_text("Written down")
    back_to_the_step(page)
    expect(box(page, "front.rebate.width", "top")).to_contain_text("53 11/32 in")
    expect(page.locator(".told.fresh")).to_contain_text("What moved")
    page.get_by_role("button", name="Done, on to step").tap()
    expect(page.get_by_role("heading", name="Order the front pane")).to_be_visible()
    expect(page.locator(".benchbar")).to_contain_text("1 done")
    assert kept(open_shop, page) == ["front.rebate.width at top: 53 11/32 in", "front.rebate.width at middle: 53 7/16 in"]
    assert kept(open_shop, page, "step") == ["measure: done"]
    page.go_back()
    expect(page.get_by_role("heading", name="Measure the openings")).to_be_visible()


def test_a_connection_cut_in_the_middle_of_a_reading(tablet: Tablet, open_shop: Server) -> None:
    page = tablet()
    at_hand(page, f"{begun(page, open_shop)}/measure")
    box(page, "front.rebate.width", "top").tap()
    page.context.set_offline(True)
    tap_rule(page, 11 / 32)
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator("#readout-told")).to_contain_text("It waits on this tablet")
    back_to_the_step(page)
    expect(page.locator("#banner")).to_contain_text("No connection")
    expect(page.locator("#banner")).to_contain_text("1 entry waits")
    read(page, "front.rebate.width", "middle", 3 / 8, "53 3/8 in")
    back_to_the_step(page)
    page.get_by_role("button", name="Done, on to step").tap()
    expect(page.get_by_role("heading", name="Order the front pane")).to_be_visible()  # work goes on meanwhile
    page.get_by_role("link", name="Step 9").tap()
    expect(box(page, "front.rebate.width", "top")).to_contain_text("waits to be sent")
    assert kept(open_shop, page) == []
    page.context.set_offline(False)
    expect(page.locator("#banner")).to_contain_text("The connection is back")
    expect(box(page, "front.rebate.width", "top")).to_have_class("box has")
    expect(page.locator(".benchbar")).to_contain_text("1 done")
    assert kept(open_shop, page) == ["front.rebate.width at top: 53 11/32 in", "front.rebate.width at middle: 53 3/8 in"]
    assert kept(open_shop, page, "step") == ["measure: done"]


def test_an_answer_that_got_lost_does_not_write_a_reading_twice(tablet: Tablet, open_shop: Server) -> None:
    page = tablet()
    at_hand(page, f"{begun(page, open_shop)}/measure")
    lost = 0

    def lose(route: object) -> None:
        nonlocal lost
        lost += 1
        if lost <= 2:
            route.fetch()  # type: ignore[attr-defined]  (the program writes it down, the tablet never hears of it)
            route.abort()  # type: ignore[attr-defined]
        else:
            route.continue_()  # type: ignore[attr-defined]

    page.route("**/bench/measure/reading", lose)
    read(page, "front.rebate.width", "top", 11 / 32, "53 11/32 in")
    expect(page.locator("#readout-told")).to_contain_text("Front glass width: 53 1/4 in → 53 7/32 in")
    assert lost == 3
    assert kept(open_shop, page) == ["front.rebate.width at top: 53 11/32 in"]


def test_a_restart_and_a_reload_in_the_middle_lose_nothing(tablet: Tablet, server: Server) -> None:
    page = tablet()
    at_hand(page, f"{begun(page, server)}/measure")
    server.stop()
    read(page, "front.rebate.width", "top", 11 / 32, "53 11/32 in")
    expect(page.locator("#readout-told")).to_contain_text("It waits on this tablet")
    page.get_by_role("button", name="Next: middle").tap()
    tap_rule(page, 0.25)
    page.get_by_role("button", name="Put it aside").tap()  # typed, but not written down
    server.start()
    page.reload()
    expect(box(page, "front.rebate.width", "top")).to_have_class("box has")
    expect(box(page, "front.rebate.width", "middle")).to_contain_text("53 1/4 in")
    expect(box(page, "front.rebate.width", "middle")).to_contain_text("not written down")
    assert kept(server, page) == ["front.rebate.width at top: 53 11/32 in"]
    # a page that stays open while the program starts anew goes on with a fresh token
    server.stop()
    server.start()
    read(page, "front.rebate.width", "bottom", 0.375, "53 3/8 in")
    expect(box(page, "front.rebate.width", "bottom")).to_have_class("box has")
    assert len(kept(server, page)) == 2


def test_a_doubtful_reading_is_questioned_before_it_is_kept(tablet: Tablet, open_shop: Server) -> None:
    page = tablet()
    at_hand(page, f"{begun(page, open_shop)}/measure")
    box(page, "front.rebate.width", "top").tap()
    tap_rule(page, 0.375)
    for digit in "54":
        page.get_by_role("button", name=digit, exact=True).tap()
    expect(page.locator("#readout-text")).to_have_value("54 3/8 in")
    expect(page.locator("#readout-hint")).to_contain_text("it will be questioned")
    page.get_by_role("button", name="Write it down").tap()
    told = page.locator("#readout-told")
    expect(told).to_contain_text("A slip of one inch?")
    assert kept(open_shop, page) == []
    page.get_by_role("button", name="Put it aside").tap()
    page.reload()
    page.get_by_role("button", name="Look once more Front rebate width, top: 54 3/8 in").tap()  # the question stays
    page.get_by_role("button", name="It is 53 3/8 in").tap()
    expect(told).to_contain_text("Written down")
    assert kept(open_shop, page) == ["front.rebate.width at top: 53 3/8 in"]
    back_to_the_step(page)
    box(page, "front.rebate.height", "left").tap()
    page.get_by_role("button", name="mm", exact=True).tap()
    page.locator("#readout-text").fill("1355.7")  # the width, in the box of the height
    page.get_by_role("button", name="Write it down").tap()
    expect(told).to_contain_text("Width and height swapped?")
    page.get_by_role("button", name="Read it again").tap()
    tap_rule(page, 0.625)
    expect(page.locator("#readout-text")).to_have_value("30 5/8 in")
    page.get_by_role("button", name="Write it down").tap()
    expect(told).to_contain_text("As planned")


def test_two_tablets_at_once(tablet: Tablet, open_shop: Server) -> None:
    one, two = tablet(), tablet()
    address = f"{begun(one, open_shop)}/measure"
    at_hand(one, address)
    at_hand(two, address)
    for page, place in ((one, "top"), (two, "bottom")):
        box(page, "front.rebate.width", place).tap()
        tap_rule(page, 0.375)
    for page in (one, two):
        page.get_by_role("button", name="Write it down").tap()
    for page in (one, two):
        expect(page.locator("#readout-told")).to_contain_text("Written down")
        back_to_the_step(page)
    for page in (one, two):  # each sees the other's
        expect(box(page, "front.rebate.width", "top")).to_have_class("box has")
        expect(box(page, "front.rebate.width", "bottom")).to_have_class("box has")
    assert sorted(kept(open_shop, one)) == ["front.rebate.width at bottom: 53 3/8 in", "front.rebate.width at top: 53 3/8 in"]


def test_by_keyboard_alone(tablet: Tablet, open_shop: Server) -> None:
    page = tablet()
    at_hand(page, f"{begun(page, open_shop)}/measure")
    box(page, "front.rebate.width", "top").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#readout-text")).to_have_value("53 11/32 in")
    page.keyboard.press("Enter")
    expect(page.locator("#readout-told")).to_contain_text("Written down")
    page.keyboard.press("Enter")  # the next place has the focus
    expect(page.locator("#readout-title")).to_have_text("Front rebate width, middle")
    page.keyboard.press("Escape")
    expect(page.locator("#readout")).to_be_hidden()


def test_without_script_it_is_a_plain_form(browser: Browser, open_shop: Server) -> None:
    context = browser.new_context(viewport={"width": 820, "height": 1180}, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{open_shop.address}/new")
    page.get_by_role("button", name="Take up the example").click()
    page.goto(f"{page.url.replace('/brief', '/bench')}/measure")
    field = page.locator('input[id="front.rebate.width-2"]')
    field.fill("54 3/8 in")
    field.press("Enter")
    expect(page.locator(".told")).to_contain_text("A slip of one inch?")
    page.get_by_role("button", name="It is 53 3/8 in").click()
    expect(page.locator(".told")).to_contain_text("Written down: 53 3/8 in")
    page.get_by_role("button", name="Done, on to step").click()
    expect(page.get_by_role("heading", name="Order the front pane")).to_be_visible()
    context.close()
