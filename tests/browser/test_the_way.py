"""From an enquiry over options, quote and documents to the bench, at desk, tablet and phone; restarts and two windows."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, Page, expect

from browser_parts import Server, watched


def test_from_enquiry_to_the_bench(page: Page, server: Server) -> None:
    page.goto(server.address)
    page.get_by_role("link", name="New job").click()
    page.get_by_label("What is it?").fill("A sky for the stairs")
    page.get_by_label("For whom?").fill("The lending library of Oxbow Green")
    page.get_by_label("What should it do?").select_option("lit-mirror")
    page.get_by_label("Opening, width").fill("24 in")
    page.get_by_label("Opening, height").fill("36 in")
    page.get_by_role("button", name="Begin the job").click()
    expect(page.get_by_role("heading", name="A sky for the stairs", level=1)).to_be_visible()
    whole(page)

    page.get_by_label("Gap between them").fill("3 in")
    expect(page.locator(".headline")).to_contain_text("3 in")
    page.get_by_label("Gap between them").fill("5 1/8 mm")
    expect(page.locator("[id='e-gap']")).to_contain_text("Fractions are read for inches only.")
    page.get_by_label("Gap between them").fill("3 in")
    page.get_by_role("button", name="Keep", exact=True).last.click()
    expect(page.get_by_text("Kept as state 2.")).to_be_visible()

    page.get_by_role("button", name="Try another way beside it").click()
    expect(page.locator(".letter")).to_have_text("Option B")
    page.get_by_label("Front pane").select_option("split-t50-6")
    page.get_by_role("button", name="Keep", exact=True).last.click()
    page.get_by_role("link", name="Side by side").first.click()
    expect(page.locator(".ways thead th")).to_have_count(2)
    whole(page)
    page.get_by_role("button", name="Make it this one").click()

    page.get_by_role("link", name="Sizes").click()
    page.locator(".drawing [data-name='outside.width']").first.locator("text").first.click(force=True)
    expect(page.locator("#why")).to_contain_text("outside.width")
    whole(page)
    page.get_by_role("link", name="Findings").click()
    expect(page.locator(".tally").first).to_be_visible()
    page.get_by_role("link", name="Price").click()
    expect(page.locator(".total")).to_contain_text("USD")
    page.get_by_role("button", name="The offer is out").click()
    expect(page.locator(".stamp").first).to_have_text("quoted")
    whole(page)

    page.get_by_role("link", name="Documents", exact=True).click()
    page.get_by_label("With pictures of it").uncheck()
    page.get_by_role("button", name=re.compile("Make the documents")).click()
    expect(page.get_by_role("heading", name="Revision 1")).to_be_visible(timeout=120_000)
    with page.expect_download() as taken:
        page.get_by_role("link", name="All of it, as ZIP").click()
    assert taken.value.suggested_filename.endswith("-revision-1.zip")
    whole(page)

    page.get_by_role("link", name="Bench", exact=True).click()
    page.locator("#bench[data-at-hand]").wait_for()
    whole(page)
    page.locator(".jump summary").click()
    page.locator(".jump").get_by_role("link", name="Measure the openings").click()
    expect(page.get_by_role("heading", name="Measure the openings")).to_be_visible()
    whole(page)
    page.locator(".box[data-at=top]").first.click()
    page.get_by_role("slider").press("ArrowLeft")
    whole(page)
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("#readout-told")).to_contain_text("Written down")
    whole(page)
    page.get_by_role("button", name="Back to the step").click()
    expect(page.locator(".told.fresh")).to_contain_text("What moved")
    page.get_by_role("button", name="Done, on to step").click()
    expect(page.locator(".benchbar")).to_contain_text("1 done")
    page.get_by_role("link", name="Documents", exact=True).click()
    expect(page.locator(".pack")).to_contain_text("the job has moved on since")
    page.get_by_role("link", name="History").click()
    expect(page.locator(".trail li")).to_have_count(6)


def whole(page: Page) -> None:
    """Nothing sticks out sideways, and what a finger taps is large enough."""
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    small = page.evaluate(
        "[...document.querySelectorAll('button, input:not([type=hidden]):not([type=checkbox]), select, summary, .ruler a')]"
        ".filter(e => e.offsetParent && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 120))"
    )
    assert small == []


def test_a_restart_in_the_middle_of_a_form_loses_nothing(desk_page: Page, server: Server) -> None:
    page = desk_page
    page.goto(f"{server.address}/new")
    page.get_by_role("button", name="Take up the example").click()
    page.get_by_label("Dimmed to").wait_for(state="attached")
    page.locator("summary", has_text="Lights").last.click()
    page.get_by_label("Dimmed to").fill("0.35")
    server.stop()
    page.get_by_label("Client").fill("Somebody else")
    expect(page.locator("#banner")).to_contain_text("cannot be reached")
    server.start()
    page.get_by_label("Client").fill("Somebody else altogether")
    expect(page.locator("#banner")).to_be_hidden(timeout=60_000)
    page.get_by_role("button", name="Keep", exact=True).last.click()
    if page.get_by_role("heading", name="Once more, please").is_visible():
        page.get_by_role("button", name="Send it now").click()
    expect(page.get_by_text("Kept as state 2.")).to_be_visible()
    expect(page.get_by_label("Dimmed to")).to_have_value("0.35")
    expect(page.get_by_label("Client")).to_have_value("Somebody else altogether")


def test_a_form_sent_right_after_a_restart_is_shown_again(desk_page: Page, server: Server) -> None:
    page = desk_page
    page.goto(f"{server.address}/new")
    page.get_by_label("What is it?").fill("Typed before")
    page.get_by_label("Measured here before").select_option("screen-60a")
    server.stop()
    server.start()
    page.get_by_role("button", name="Begin the job").click()
    expect(page.get_by_role("heading", name="Once more, please")).to_be_visible()
    expect(page.get_by_text("Typed before")).to_be_visible()
    page.get_by_role("button", name="Send it now").click()
    expect(page.get_by_role("heading", name="Typed before", level=1)).to_be_visible()


def test_two_windows_on_one_job_choose(browser: Browser, server: Server) -> None:
    context = browser.new_context()
    first, second = watched(context.new_page()), watched(context.new_page())
    first.goto(f"{server.address}/new")
    first.get_by_role("button", name="Take up the example").click()
    first.get_by_label("Client").wait_for()
    second.goto(first.url)
    first.get_by_label("Client").fill("The first")
    first.get_by_role("button", name="Keep", exact=True).last.click()
    expect(first.get_by_text("Kept as state 2.")).to_be_visible()
    second.get_by_label("Client").fill("The second")
    second.get_by_role("button", name="Keep", exact=True).last.click()
    expect(second.get_by_role("heading", name="Two changes met")).to_be_visible()
    expect(second.locator(".choice")).to_contain_text("The first")
    second.get_by_role("button", name="Keep mine where we differ").click()
    expect(second.get_by_label("Client")).to_have_value("The second")
    second.get_by_role("link", name="History").click()
    expect(second.locator(".trail li")).to_have_count(3)
    context.close()
