"""Hosts, origins, tokens, headers, and sizes of what is sent."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner

from desks import Visitor
from halfsilver.cli.main import cli
from halfsilver.web.guard import MOST_BYTES


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "127.0.0.1.evil.example", "", "localhost:80:80", "[::1", "10.0.0.7:8321"]
)
def test_another_name_is_refused(visitor: Visitor, host: str) -> None:
    answer = visitor.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "halfsilver" not in answer.headers.get("set-cookie", "")


@pytest.mark.parametrize("host", ["localhost", "localhost:8321", "127.0.0.1:9", "[::1]:8321", "LOCALHOST"])
def test_this_machines_names_are_answered(visitor: Visitor, host: str) -> None:
    assert visitor.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://localhost:1"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_a_form_of_another_page_is_refused(visitor: Visitor, headers: dict[str, str]) -> None:
    assert visitor.post("/new/example", headers=headers).status_code == 403
    assert visitor.desk.jobs() == ()


def test_a_form_of_our_own_is_taken(visitor: Visitor) -> None:
    assert visitor.post("/new/example", headers={"origin": "http://localhost", "sec-fetch-site": "same-origin"}).status_code == 303


def test_a_form_without_its_token_changes_nothing_and_is_shown_again(visitor: Visitor) -> None:
    visitor.get("/")
    answer = visitor.client.post(
        "/new", data={"token": "0" * 64, "title": "Kept <words>", "construction": "lit-screen", "screen": "screen-60a"}
    )
    assert answer.status_code == 403
    assert visitor.desk.jobs() == ()
    fields = dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', answer.text))
    assert fields["title"] == "Kept &lt;words&gt;"
    again = visitor.client.post("/new", data={**fields, "title": "Kept"})
    assert again.status_code == 303


def test_a_token_of_another_visitor_or_start_does_not_count(visitor: Visitor) -> None:
    other = Visitor(visitor.desk)
    token = other.token()
    assert visitor.client.post("/new/example", data={"token": token}).status_code == 403


def test_headers_are_strict_and_pages_hold_nothing_inline(visitor: Visitor) -> None:
    job = visitor.begin()
    for path in (
        "/",
        "/new",
        f"/jobs/{job}/brief",
        f"/jobs/{job}/sizes",
        f"/jobs/{job}/findings",
        "/nothing",
        "/static/desk.js",
        "/api/jobs",
    ):
        answer = visitor.get(path)
        policy = answer.headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["x-frame-options"] == "DENY"
        assert not re.search(r"<style|\sstyle=|\son\w+=|javascript:|<script(?![^>]*\ssrc=)", answer.text), path
        assert not re.search(r'(src|href)="(https?:)?//', answer.text), path


def test_too_much_is_refused_while_it_arrives(visitor: Visitor) -> None:
    token = visitor.token()

    def endless() -> object:
        for _ in range(MOST_BYTES // 65536 + 20):
            yield b"x" * 65536

    said = visitor.client.post("/new", content=b"x", headers={"content-length": str(MOST_BYTES + 1), "content-type": "text/plain"})
    assert said.status_code == 413
    streamed = visitor.client.post(
        "/new/file", content=endless(), headers={"content-type": "multipart/form-data; boundary=b", "x-desk-token": token}
    )
    assert streamed.status_code in {400, 413}
    assert visitor.desk.jobs() == ()


@pytest.mark.parametrize(
    "path", ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2f..%2fpyproject.toml", "/static//etc/passwd", "/workshop/1/../../x"]
)
def test_no_path_leads_out(visitor: Visitor, path: str) -> None:
    assert visitor.get(path).status_code in {400, 404}


def test_a_network_is_refused_with_a_reason() -> None:
    done = CliRunner().invoke(cli, ["serve", "--host", "0.0.0.0"])
    assert done.exit_code == 2
    assert "There are no accounts yet" in done.output


def test_a_fault_of_ours_shows_no_traceback(visitor: Visitor, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret-of-the-house")

    job = visitor.begin()
    monkeypatch.setattr("halfsilver.services.desk.Desk.text", broken)
    answer = visitor.get(f"/jobs/{job}/file")
    assert answer.status_code == 500
    assert "A fault in the program" in answer.text
    assert "secret-of-the-house" not in answer.text + caplog.text
    assert "Traceback" not in answer.text
