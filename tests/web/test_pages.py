"""Every page answers, shows what its context class says, and works without script."""

from __future__ import annotations

import re
from dataclasses import fields
from html import unescape
from pathlib import Path

import pytest

from desks import EXAMPLES, ROOT, Visitor
from halfsilver.web import brief, documents, file, findings, history, jobs, options, price, refusals, shop, shown, sizes
from halfsilver.web.pages import PAGES, pages

TEMPLATES = ROOT / "src" / "halfsilver" / "web" / "templates"
CONTEXTS = {
    "jobs.html": jobs.JobsPage, "new.html": jobs.NewPage, "brief.html": brief.BriefPage, "brief_part.html": brief.DraftPart,
    "choice.html": brief.ChoicePage, "sizes.html": sizes.SizesPage, "why_part.html": sizes.WhyPart, "findings.html": findings.FindingsPage,
    "price.html": price.PricePage, "documents.html": documents.DocumentsPage, "work_part.html": documents.WorkPart,
    "history.html": history.HistoryPage, "state.html": history.StatePage, "reading.html": history.ReadingPage, "file.html": file.FilePage,
    "options.html": options.OptionsPage, "shop.html": shop.ShopPage, "refusal.html": refusals.RefusalPage, "again.html": refusals.AgainPage,
}  # fmt: skip


@pytest.mark.parametrize("example", sorted(path.name for path in EXAMPLES.glob("*.yaml")))
def test_every_page_of_every_example_answers(visitor: Visitor, example: str) -> None:
    job = visitor.begin(example)
    for page in pages():
        answer = visitor.get(f"/jobs/{job}/{page.name}", follow_redirects=True)
        assert answer.status_code == 200, (page.name, answer.text[:500])
        assert visitor.desk.head(job).title in answer.text
        assert f'href="/jobs/{job}/{page.name}" aria-current="page"' in answer.text
    for path in ("/", "/new", "/workshop", f"/jobs/{job}/options", f"/jobs/{job}/file", f"/jobs/{job}/history/1"):
        assert visitor.get(path).status_code == 200, path


@pytest.mark.parametrize("template", sorted(CONTEXTS))
def test_a_template_names_nothing_but_its_context(template: str) -> None:
    from jinja2 import meta, nodes

    environment = shown.environment()
    wanted: set[str] = set()
    waiting, seen = [template], set[str]()
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        tree = environment.parse((TEMPLATES / name).read_text("utf-8"))
        macros = {one.name for one in tree.find_all(nodes.Macro)}
        macros |= {name for one in tree.find_all(nodes.FromImport) for name in one.names}  # type: ignore[misc]
        wanted |= meta.find_undeclared_variables(tree) - set(environment.globals) - macros
        waiting += [one for one in meta.find_referenced_templates(tree) or () if one]
    assert wanted - {"frame"} <= {field.name for field in fields(CONTEXTS[template])}


def test_pages_stand_along_the_ruler_in_their_order() -> None:
    assert [page.name for page in PAGES] == ["brief", "look", "sizes", "findings", "price", "documents", "bench", "history"]


def test_jobs_hang_by_what_has_happened_and_are_found(visitor: Visitor) -> None:
    job = visitor.begin()
    other = visitor.begin("kit-mirror.yaml")
    moved = visitor.post(f"/jobs/{job}/move", {"stage": "cutting", "due_on": "2026-03-01", "based_on": visitor.number(job), "back": "/"})
    assert moved.status_code == 303
    page = visitor.get("/").text
    assert re.findall(r'<h2 id="rail-\d">(\w+)', page) == ["Asked", "Cutting"]
    assert "due 1 Mar 2026, past" in page
    found = visitor.get("/", params={"q": "endless theatre"}).text
    assert other in found
    assert job not in found
    assert visitor.get(f"/jobs/{job}/piece.svg").headers["content-type"].startswith("image/svg")


def test_what_is_assumed_is_said(visitor: Visitor) -> None:
    answer = visitor.post(
        "/new", {"title": "A sky", "construction": "lit-screen", "units": "in", "diagonal": "60 in", "aspect": "16:9"}, follow=True
    )  # fmt: skip
    assert answer.status_code == 200
    assert "were assumed" in answer.text
    assert "# assumed" in visitor.desk.text(visitor.desk.jobs()[0])


@pytest.mark.parametrize(
    ("construction", "more"),
    [
        ("lit-screen", {"screen": "screen-60a"}),
        ("lit-mirror", {"width": "24 in", "height": "36 in"}),
        ("hidden-screen", {"screen": "screen-42b"}),
    ],
)
def test_an_enquiry_of_each_kind_has_a_design(visitor: Visitor, construction: str, more: dict[str, str]) -> None:
    answer = visitor.post("/new", {"title": "x", "construction": construction, "units": "mm", **more})
    assert answer.status_code == 303, answer.text
    head = visitor.desk.jobs()[0]
    assert visitor.desk.reckoned(head).design.mass_kg > 0


def test_an_enquiry_that_cannot_be_read_says_so_beside_the_field(visitor: Visitor) -> None:
    answer = visitor.post("/new", {"title": "", "construction": "lit-screen", "units": "in", "diagonal": "5 1/8 mm"})
    assert answer.status_code == 422
    assert 'id="err-title"' in answer.text
    assert re.search(r'id="err-diagonal">Fractions are read for inches only', answer.text)
    assert 'value="5 1/8 mm"' in answer.text  # what was typed is still there


def test_an_enquiry_cannot_write_keys_of_its_own(visitor: Visitor) -> None:
    bad = visitor.post(
        "/new", {"title": "x\nterms: {margin: 1 %}", "construction": "lit-screen", "units": "in}\nscope: kit #", "screen": "screen-60a"}
    )
    assert bad.status_code == 422 or visitor.desk.reckoned(visitor.desk.jobs()[0]).loaded.job.scope.value == "complete"


def test_the_words_beside_a_field_are_those_of_the_command_line(visitor: Visitor, tmp_path: Path) -> None:
    from halfsilver.errors import JobError
    from halfsilver.services.load import load

    job = visitor.begin()
    answer = visitor.change(job, {"gap": "5 1/8 mm"})
    assert answer.status_code == 422
    path = tmp_path / "foyer.yaml"
    path.write_text((EXAMPLES / "foyer.yaml").read_text("utf-8") + "gap: 5 1/8 mm\n", "utf-8")
    with pytest.raises(JobError) as error:
        load(str(path))
    problem = error.value.problems[0]
    assert f'id="e-gap">{problem.allowed} {problem.advice}</p>' in answer.text


def test_a_draft_redraws_and_keeps_nothing(visitor: Visitor) -> None:
    job = visitor.begin()
    before = visitor.number(job)
    answer = visitor.post(f"/jobs/{job}/brief/draft", {"based_on": before, "v:gap": "101.6 mm"}, headers={"hx-request": "true"})
    assert answer.status_code == 200
    assert "<dt>Gap</dt><dd>4 in</dd>" in answer.text
    assert 'id="e-gap" hx-swap-oob="true"' in answer.text
    assert visitor.number(job) == before


def test_an_emptied_field_leaves_the_file_and_a_viewer_comes_and_goes(visitor: Visitor) -> None:
    job = visitor.begin()
    text = visitor.desk.text(visitor.desk.head(job))
    done = visitor.change(job, {"lights.dim": "", "viewers[3].id": "late", "viewers[3].distance": "4 m", "viewers[0].id": ""})
    assert done.status_code == 303, done.text
    loaded = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job
    assert loaded.lights is not None
    assert loaded.lights.dim == 1.0
    assert [viewer.id for viewer in loaded.viewers] == ["side", "child", "late"]
    kept = visitor.desk.text(visitor.desk.head(job))
    assert [line for line in text.splitlines() if line.startswith("#")] == [line for line in kept.splitlines() if line.startswith("#")]


def test_an_unknown_job_page_or_size_is_said_plainly(visitor: Visitor) -> None:
    job = visitor.begin()
    for path in (
        "/jobs/nobody/brief",
        "/nothing",
        f"/jobs/{job}/sizes/why/no.such",
        f"/jobs/{job}/history/99",
        f"/jobs/{job}/documents/7/x",
    ):
        answer = visitor.get(path)
        assert answer.status_code == 404, path
        assert "Traceback" not in answer.text


def test_history_shows_every_change_and_an_old_state_stands_again(visitor: Visitor) -> None:
    job = visitor.begin()
    visitor.change(job, {"title": "Another name"})
    page = visitor.get(f"/jobs/{job}/history/2").text
    assert "Night sky for the foyer" in page
    assert "Another name" in page
    again = visitor.post(f"/jobs/{job}/history/1/restore", {"based_on": "2"})
    assert again.status_code == 303
    assert visitor.desk.head(job).title == "Night sky for the foyer"
    assert [state.made.what for state in visitor.desk.store.history(job)] == ["imported", "edited", "restored"]


def test_who_changed_it_is_in_the_history(visitor: Visitor) -> None:
    visitor.post("/who", {"who": "Ünal", "back": "/"})
    job = visitor.begin()
    assert visitor.desk.head(job).made.by == "Ünal"


def test_lamp_is_remembered_and_leads_nowhere_else(visitor: Visitor) -> None:
    answer = visitor.post("/lamp", {"lamp": "dark", "back": "//elsewhere.example/x"})
    assert answer.headers["location"] == "/"
    assert 'data-lamp="dark"' in visitor.get("/").text


@pytest.mark.parametrize(
    ("answers", "field"),
    [
        ({"diagonal": "60 in", "width": "70 in"}, "height"),
        ({"diagonal": "60 in", "height": "40 in"}, "width"),
        ({"diagonal": "60 in", "screen": "screen-60a"}, "diagonal"),
        ({"diagonal": "9999999 in"}, "diagonal"),
        ({"diagonal": "60 in", "due_on": "01/02/2026"}, "due_on"),
    ],
)
def test_no_answer_of_an_enquiry_is_dropped_in_silence(visitor: Visitor, answers: dict[str, str], field: str) -> None:
    answer = visitor.post("/new", {"title": "A sky", "construction": "lit-screen", "units": "in", **answers})
    assert answer.status_code == 422
    assert re.findall(r'id="err-(\w+)"', answer.text) == [field]
    assert not visitor.desk.jobs()


def test_findings_are_held_against_their_limits_in_the_words_of_the_command_line(visitor: Visitor) -> None:
    from halfsilver.cli.text import letter_lines

    job = visitor.begin()
    reckoned = visitor.desk.reckoned(visitor.desk.head(job))
    told = " ".join(" ".join(letter_lines(reckoned.findings, reckoned.workings, reckoned.show)).split())
    page = unescape(visitor.get(f"/jobs/{job}/findings").text)
    cautions = page.partition('id="caution"')[2].partition("</section>")[0]
    assert re.findall(r'<span class="measure">(.*?)</span>', cautions) == re.findall(r" \[(.*?)\]", told.partition("Note (")[0])
    assert "11/32 in, at most 0 in" in cautions
    assert "common practice (common practice)" not in page


@pytest.mark.parametrize("number", ["0", "-1", "2147483648", "9" * 20])
def test_a_state_that_no_store_can_hold_is_not_there(visitor: Visitor, number: str) -> None:
    job = visitor.begin()
    assert visitor.get(f"/jobs/{job}/history/{number}").status_code == 404
    assert visitor.post(f"/jobs/{job}/history/{number}/restore", {"based_on": "1"}).status_code == 404
    assert visitor.get(f"/workshop/{number}/workshop.yaml").status_code == 404


def test_a_refusal_leads_back_to_its_job(visitor: Visitor) -> None:
    job = visitor.begin()
    refused = visitor.post(f"/jobs/{job}/file/edid", {"based_on": "1"}, files={"file": ("x.bin", b"none")})
    assert refused.status_code == 422
    assert f'<a href="/jobs/{job}">Back to the job</a>' in refused.text
    assert "Back to the job" not in visitor.get("/jobs/nobody/brief").text
