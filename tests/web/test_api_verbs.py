"""Every verb of the command line that a server can answer is in the API, under its name and with its bytes."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from desks import EXAMPLES, Visitor
from edid_cases import screen_block
from halfsilver.cli.main import VERBS, cli
from halfsilver.web import api_exchange

SIZE = "96x54"
ELSEWHERE = {"serve", "demo", "backup", "restore"}
SCENE = """{"schema": "halfsilver/scene/1", "width_mm": 600, "height_mm": 400, "gap_mm": 80,
 "front": {"T": 0.4, "R": 0.5}, "rear": {"T": 0.9, "R": 0.08}, "wall": {"reflectance": 0.1},
 "band": {"from_rear_mm": [30, 40], "radiance": [5, 5, 5]}, "screen": {"behind_mm": 2, "checker_mm": 50, "levels": [0.1, 1]},
 "camera": {"origin_mm": [100, 50, 1500], "target_mm": [0, 0, 0], "fov_x_deg": 30}}"""


def drawn(tmp_path: Path, source: Path | str, *words: str) -> bytes:
    out = tmp_path / "out.png"
    done = CliRunner().invoke(cli, ["look", str(source), "-o", str(out), "--size", SIZE, *words], catch_exceptions=False)
    assert done.exit_code == 0
    return out.read_bytes()


def test_openapi_names_every_verb(visitor: Visitor) -> None:
    paths = visitor.get("/api/openapi.json").json()["paths"]
    named = {(path.removeprefix("/api/").partition("/")[0] if path.startswith("/api/") else "") for path in paths}
    named |= {path.rpartition("/")[2] for path in paths if path.startswith("/api/jobs/{job}/")}
    named.discard("restore")  # there it is a state of a job that stands again, not a store
    assert set(VERBS) - named == ELSEWHERE
    assert all(f"``{verb}``" in str(api_exchange.__doc__) for verb in ELSEWHERE)


@pytest.mark.parametrize("name", ["foyer.yaml", "kit-mirror.yaml", "archive-mirror.yaml"])
def test_a_look_has_the_bytes_of_the_command_line(visitor: Visitor, tmp_path: Path, name: str) -> None:
    from halfsilver.services.load import load

    viewer = load(str(EXAMPLES / name)).job.viewers[0].id
    line = drawn(tmp_path, EXAMPLES / name, "--viewer", viewer, "--state", "lights")
    asked = {"job": (EXAMPLES / name).read_text("utf-8"), "viewer": viewer, "size": SIZE, "state": "lights"}
    told = visitor.client.post("/api/look", json=asked)
    assert told.headers["content-type"] == "image/png"
    assert told.content == line
    job = visitor.begin(name)
    stored = visitor.get(f"/api/jobs/{job}/look", params={"viewer": viewer, "size": SIZE, "state": "lights"})
    assert stored.content == line


def test_a_look_at_a_scene_too(visitor: Visitor, tmp_path: Path) -> None:
    (tmp_path / "scene.json").write_text(SCENE, "utf-8")
    assert visitor.client.post("/api/look", json={"job": SCENE, "size": SIZE}).content == drawn(tmp_path, tmp_path / "scene.json")
    refused = visitor.client.post("/api/look", json={"job": SCENE, "size": SIZE, "content": "grid"})
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["code"] == "content-of-scene"


def test_a_look_shows_the_picture_that_was_put_with_the_job(visitor: Visitor, tmp_path: Path) -> None:
    job, made = visitor.begin(), io.BytesIO()
    assert visitor.get(f"/api/jobs/{job}/look?content=content.png&size={SIZE}&viewer=front").json()["problems"][0]["code"] == "no-content"
    Image.new("RGB", (64, 36), (200, 10, 10)).save(made, "PNG")
    visitor.post(f"/jobs/{job}/file/content", {"based_on": "1"}, files={"file": ("me.png", made.getvalue())})
    (tmp_path / "me.png").write_bytes(visitor.get(f"/jobs/{job}/file/beside/content.png").content)
    told = visitor.get(f"/api/jobs/{job}/look", params={"content": "content.png", "size": SIZE, "viewer": "front"})
    assert told.content == drawn(tmp_path, EXAMPLES / "foyer.yaml", "--viewer", "front", "--content", str(tmp_path / "me.png"))


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({}, "which-viewer"),
        ({"viewer": "frnt"}, "no-such-viewer"),
        ({"viewer": "front", "size": "0x9"}, "bad-size"),
        ({"viewer": "front", "size": "1921x1"}, "bad-size"),
        ({"viewer": "front", "size": "big"}, "bad-size"),
        ({"viewer": "front", "size": "1920x1080", "samples": 9}, "bad-size"),
    ],
)
def test_a_look_that_cannot_be_is_refused_as_on_the_command_line(visitor: Visitor, more: dict[str, object], code: str) -> None:
    text = (EXAMPLES / "foyer.yaml").read_text("utf-8")
    told = visitor.client.post("/api/look", json={"job": text, **more})
    assert told.status_code == 422
    assert told.json()["schema"] == "halfsilver/problems/1"
    assert [problem["code"] for problem in told.json()["problems"]] == [code]


def test_a_viewer_that_is_not_there_is_told_alike(
    visitor: Visitor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from halfsilver.cli.main import main

    monkeypatch.chdir(tmp_path)
    text = (EXAMPLES / "foyer.yaml").read_text("utf-8")
    Path("job.yaml").write_text(text, "utf-8")
    with pytest.raises(SystemExit):
        main(["look", "job.yaml", "-o", "x.png", "--viewer", "frnt"])
    problem = visitor.client.post("/api/look", json={"job": text, "viewer": "frnt"}).json()["problems"][0]
    assert capsys.readouterr().err.startswith(f'job.yaml:{problem["line"]}:{problem["column"]}  viewers = "frnt"')


def test_a_screens_block_is_told_as_on_the_command_line(visitor: Visitor, tmp_path: Path) -> None:
    data = screen_block(width_mm=930, height_mm=523)
    (tmp_path / "screen.edid").write_bytes(data)
    line = CliRunner().invoke(cli, ["screen", "edid", str(tmp_path / "screen.edid"), "--json"], catch_exceptions=False)
    told = visitor.client.post("/api/screen", json={"edid": data.hex(" ")})
    assert told.text == line.stdout
    assert visitor.client.post("/api/screen", json={"edid": "zz"}).status_code == 422


def test_a_job_goes_out_and_in(visitor: Visitor, tmp_path: Path) -> None:
    from desks import desk_in

    job = visitor.begin("kit-mirror.yaml")
    archive = visitor.get(f"/api/jobs/{job}/export")
    assert archive.content == visitor.get(f"/jobs/{job}/file/archive").content
    (tmp_path / "other").mkdir()
    headers = {"content-type": "application/octet-stream"}
    with desk_in(tmp_path / "other") as desk:
        other = Visitor(desk)
        told = other.client.post("/api/import?file=x.zip", content=archive.content, headers=headers)
        assert (told.status_code, told.json()["id"]) == (201, job)
        again = other.client.post("/api/import?file=../x.zip", content=archive.content, headers=headers)
        assert (again.status_code, again.json()["problems"][0]["code"]) == (422, "archive-taken")
        assert again.json()["problems"][0]["file"] == "x.zip"
        plain = other.client.post("/api/import?by=AB", content=(EXAMPLES / "foyer.yaml").read_bytes(), headers=headers)
        assert plain.status_code == 201
        assert desk.head(plain.json()["id"]).made.by == "AB"
        crossed = other.client.post("/api/import", content=archive.content, headers={**headers, "origin": "http://evil.example"})
        assert crossed.status_code == 403


def test_the_workshop_is_listed(visitor: Visitor) -> None:
    told = visitor.get("/api/workshop").json()
    line = CliRunner().invoke(cli, ["workshop", "list"], catch_exceptions=False).stdout
    assert told["name"] in line
    assert all(f"  {key:20} {name}" in line for key, name in told["glass"].items())
