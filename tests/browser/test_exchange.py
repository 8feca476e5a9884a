"""A job's archive is dropped onto the page in a real browser, and an outline into the workshop."""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path

from playwright.sync_api import Page, expect

from browser_parts import Server
from desks import Visitor, desk_in
from hostile.drawings import drawing, polyline

DROP = """([selector, name, data]) => {
  const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
  const carried = new DataTransfer();
  carried.items.add(new File([bytes], name));
  const form = document.querySelector(selector);
  const told = { dataTransfer: carried, bubbles: true, cancelable: true };
  for (const kind of ["dragover", "drop"]) form.dispatchEvent(new DragEvent(kind, told));
}"""


def dropped(page: Page, selector: str, name: str, data: bytes) -> None:
    page.evaluate(DROP, [selector, name, b64encode(data).decode()])


def test_a_whole_job_is_dropped_onto_the_page(server: Server, page: Page, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    with desk_in(tmp_path / "other") as desk:
        here = Visitor(desk)
        archive = here.get(f"/jobs/{here.begin('kit-mirror.yaml')}/file/archive").content
    form = 'form[action="/new/file"]'
    page.goto(f"{server.address}/new")
    dropped(page, form, "broken.zip", archive[:-40])
    page.locator(form).get_by_role("button", name="Take it up").click()
    expect(page.get_by_role("alert")).to_contain_text("broken.zip was not taken in, and nothing was changed")
    dropped(page, form, "whole.zip", archive)
    page.locator(form).get_by_role("button", name="Take it up").click()
    page.wait_for_url("**/jobs/*/brief")
    expect(page.get_by_label("Title", exact=True)).to_have_value("Endless lamps")


def test_an_outline_is_dropped_into_the_workshop(server: Server, desk_page: Page) -> None:
    form = 'form[action="/workshop/outline"]'
    desk_page.goto(f"{server.address}/workshop")
    desk_page.locator(form).get_by_label("Moulding", exact=True).fill("slim-19")
    dropped(desk_page, form, "slim.dxf", drawing(polyline()))
    desk_page.locator(form).get_by_role("button", name="Take it up").click()
    expect(desk_page.get_by_role("status")).to_contain_text("profiles.csv was exchanged")
    desk_page.locator(form).get_by_label("Moulding", exact=True).fill("slim-19")
    dropped(desk_page, form, "open.dxf", drawing(polyline(closed=0)))
    desk_page.locator(form).get_by_role("button", name="Take it up").click()
    expect(desk_page.get_by_role("alert")).to_contain_text("nothing was changed")
