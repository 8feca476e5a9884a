"""The API: documents equal to the command line's, one digest everywhere, and no fault under generated requests."""

from __future__ import annotations

import json
import re
import zipfile
from io import BytesIO
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from desks import EXAMPLES, Visitor
from halfsilver.cli.main import cli
from halfsilver.services.schemas import schema

NAMES = sorted(path.name for path in EXAMPLES.glob("*.yaml"))


def run(*words: str) -> str:
    done = CliRunner().invoke(cli, words, catch_exceptions=False)
    return str(done.stdout)


def text_of(name: str) -> str:
    return (EXAMPLES / name).read_text("utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_one_digest_from_command_line_page_and_api(visitor: Visitor, name: str, tmp_path: Path) -> None:
    out = tmp_path / "design.json"
    run("resolve", str(EXAMPLES / name), "-o", str(out))
    line = json.loads(out.read_text("utf-8"))
    told = visitor.client.post("/api/resolve", json={"job": text_of(name)})
    assert told.json() == line
    jsonschema.validate(told.json(), schema("design"))
    job = visitor.begin(name)
    stored = visitor.get(f"/api/jobs/{job}/resolve").json()
    assert stored["digest"] == line["digest"]
    assert visitor.desk.reckoned(visitor.desk.head(job)).design.digest == line["digest"]


def test_check_and_why_are_the_documents_of_the_command_line(visitor: Visitor) -> None:
    path = EXAMPLES / "foyer.yaml"
    job = text_of("foyer.yaml")
    assert visitor.client.post("/api/check", json={"job": job}).text == run("check", str(path), "--json")
    told = visitor.client.post("/api/why", json={"job": job, "name": "front.glass.width"})
    assert told.text == run("why", str(path), "front.glass.width", "--json")
    formulas = visitor.get("/api/reckon")
    assert formulas.text == run("reckon", "--list", "--json")
    assert visitor.get("/api/schema/job").text == run("schema", "job")


def test_problems_are_the_documents_of_the_command_line(visitor: Visitor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from halfsilver.cli import main

    monkeypatch.chdir(tmp_path)
    text = text_of("foyer.yaml").replace("dim: 0.8", "dim: 0.8 mm").replace("fraction: 1/32", "fracton: 1/32")
    Path("job.yaml").write_text(text, "utf-8")
    told = visitor.client.post("/api/check", json={"job": text})
    assert told.status_code == 422
    monkeypatch.setattr("sys.argv", ["halfsilver"])
    with pytest.raises(SystemExit) as stop:
        main.main(["check", "job.yaml", "--json"])
    assert stop.value.code == 2
    assert {problem["code"] for problem in told.json()["problems"]} == {"number-has-unit", "unknown-key"}


def test_problems_are_printed_alike(
    visitor: Visitor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from halfsilver.cli.main import main

    monkeypatch.chdir(tmp_path)
    text = text_of("foyer.yaml").replace("dim: 0.8", "dim: 0.8 mm")
    Path("job.yaml").write_text(text, "utf-8")
    with pytest.raises(SystemExit):
        main(["check", "job.yaml", "--json"])
    assert visitor.client.post("/api/check", json={"job": text}).text == capsys.readouterr().out


def test_a_reading_sent_twice_is_written_once(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": "front.rebate.width", "value": "53 5/16 in", "at": "middle", "token": "abc"}
    first, second = (visitor.client.post(f"/api/jobs/{job}/measure", json=sent) for _ in range(2))
    assert (first.status_code, second.status_code) == (201, 201)
    assert first.json()["number"] == second.json()["number"] == 2
    doubted = visitor.client.post(f"/api/jobs/{job}/measure", json={**sent, "value": "54 3/8 in", "token": "d"})
    assert doubted.status_code == 202
    assert doubted.json()["doubts"][0]["code"] == "inch-slip"
    assert visitor.number(job) == "2"


def test_a_change_that_came_too_late_is_told(visitor: Visitor) -> None:
    job = visitor.begin()
    for dim in ("0.5", "0.3"):
        last = visitor.client.post(f"/api/jobs/{job}/change", json={"values": {"lights.dim": dim}, "based_on": 1})
    assert last.status_code == 409
    assert last.json()["clashes"] == [{"path": "lights.dim", "was": "0.8", "theirs": "0.5", "mine": "0.3", "both": True}]


def test_a_pack_comes_as_a_zip(visitor: Visitor) -> None:
    told = visitor.client.post("/api/pack", json={"job": text_of("kit-mirror.yaml"), "date": "2026-03-04"})
    with zipfile.ZipFile(BytesIO(told.content)) as archive:
        design = json.loads(archive.read("design.json"))
        assert {"shop.pdf", "client.pdf", "manifest.json"} <= set(archive.namelist())
    assert design["digest"] == visitor.client.post("/api/resolve", json={"job": text_of("kit-mirror.yaml")}).json()["digest"]


def test_a_cut_and_its_check(visitor: Visitor) -> None:
    task = {
        "format": "cut-instance/1", "kind": "bars", "unit_mm": 1, "kerf": 3,
        "stock": [{"id": "s", "length": 1000, "cost": 1}], "pieces": [{"id": "p", "length": 480, "count": 4}],
    }  # fmt: skip
    made = visitor.client.post("/api/cut", json={"instance": task})
    if made.status_code == 422:  # the neutral form's own words for what it lacks
        assert made.json()["schema"] == "halfsilver/problems/1"
    else:
        plan = {key: made.json()[key] for key in ("format", "bars")}
        assert visitor.client.post("/api/cut-check", json={"instance": task, "solution": plan}).json()["feasible"]


def test_openapi_names_the_verbs(visitor: Visitor) -> None:
    paths = visitor.get("/api/openapi.json").json()["paths"]
    assert {
        f"/api/{verb}" for verb in ("check", "resolve", "why", "predict", "pack", "measure", "compare", "cut", "cut-check", "reckon")
    } <= set(paths)
    assert not any(re.match(r"/(jobs|new|workshop)", path) for path in paths)
