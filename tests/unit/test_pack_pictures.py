"""Stills in the pack: which there are, where they are shown, and that they can be left out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from halfsilver.cli.main import cli
from halfsilver.documents.looks import Look, for_client, look_rows, state_words
from halfsilver.documents.sizes import Sizes
from halfsilver.optics.still import State
from halfsilver.services import pack_pictures as drawn
from halfsilver.services.load import load, resolve

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
STATES = {
    "foyer": {f"{who}-{state}.png" for who in ("front", "side", "child") for state in ("all", "dark")}
    | {"front-on.png", "front-lights.png"},
    "archive-mirror": {f"{who}-{state}.png" for who in ("standing", "seated") for state in ("all", "dark")},
    "kit-mirror": {"landing-all.png", "landing-dark.png"},
}  # fmt: skip


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(drawn, "FIRST_PX", (160, 90))
    monkeypatch.setattr(drawn, "OTHERS_PX", (96, 54))


def sizes(name: str) -> Sizes:
    loaded = load(str(EXAMPLES / f"{name}.yaml"))
    return Sizes(resolve(loaded), loaded.show)


@pytest.mark.parametrize("name", list(STATES))
def test_every_viewer_has_its_stills_and_the_first_with_everything_on_comes_first(name: str) -> None:
    said: list[str] = []
    looks = drawn.pack_pictures(sizes(name).design, say=said.append)
    assert {look.name for look in looks} == STATES[name]
    assert looks[0].name == f"{looks[0].viewer}-all.png"
    assert len(said) == len(looks)
    assert said[0].startswith(f"Picture 1 of {len(looks)}")


def test_a_pack_holds_them_in_folder_manifest_and_documents(tmp_path: Path) -> None:
    folder = tmp_path / "pack"
    job = str(EXAMPLES / "kit-mirror.yaml")
    result = CliRunner().invoke(cli, ["pack", job, "-o", str(folder), "--date", "2026-03-04"])
    assert result.exit_code == 0, result.output
    assert {path.name for path in (folder / "pictures").iterdir()} == STATES["kit-mirror"]
    manifest = json.loads((folder / "manifest.json").read_text())
    listed = {file["path"] for file in manifest["files"]}
    assert {f"pictures/{name}" for name in STATES["kit-mirror"]} <= listed
    with_them = [(folder / name).stat().st_size for name in ("client.pdf", "shop.pdf")]
    result = CliRunner().invoke(cli, ["pack", job, "-o", str(folder), "--date", "2026-03-04", "--no-pictures"])
    assert result.exit_code == 0, result.output
    assert not (folder / "pictures").exists()
    without = [(folder / name).stat().st_size for name in ("client.pdf", "shop.pdf")]
    assert all(more > less + 5_000 for more, less in zip(with_them, without, strict=True))


def test_words_say_what_is_switched_on() -> None:
    lit, hidden, mirror = sizes("foyer"), sizes("archive-mirror"), sizes("kit-mirror")
    assert [state_words(lit, state) for state in (State.ALL, State.ON, State.LIGHTS)] == [
        "Screen and lights on", "Screen on, lights off", "Lights on, screen dark",
    ]  # fmt: skip
    assert state_words(hidden, State.ALL) == "Screen on"
    assert state_words(mirror, State.ALL) == "Lights on"
    assert state_words(mirror, State.DARK).startswith("Switched off")


def test_the_client_sees_others_only_with_everything_on() -> None:
    looks = [Look(viewer=who, state=state, png=b"") for who in ("a", "b") for state in (State.ALL, State.DARK)]
    assert [look.name for look in for_client(looks)] == ["a-all.png", "a-dark.png", "b-all.png"]
    assert for_client(()) == ()


def test_rows_name_their_files() -> None:
    of = sizes("kit-mirror")
    rows, files = look_rows(of, drawn.pack_pictures(of.design))
    assert [row["file"] for row in rows] == list(files)
    assert all(str(row["where"]).startswith("landing: ") for row in rows)
