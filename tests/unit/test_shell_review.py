"""Accepting a changed drawing: only by name, only with a reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from golden import review


@pytest.fixture
def root(tmp_path: Path) -> Path:
    for place, ink in (("tests/golden/drawing", "old"), ("out/golden/drawing", "new")):
        folder = tmp_path / place
        folder.mkdir(parents=True)
        (folder / "front.svg").write_text(f"<svg>{ink}</svg>", encoding="utf-8")
        (folder / "same.svg").write_text("<svg/>", encoding="utf-8")
    return tmp_path


def kept(root: Path) -> str:
    return (root / "tests/golden/drawing/front.svg").read_text(encoding="utf-8")


def test_the_page_shows_what_changed_and_nothing_is_accepted(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert review.main([], root=root) == 1
    assert "Changed: drawing/front.svg\n" in capsys.readouterr().out
    shown = (root / "out/golden/review.html").read_text(encoding="utf-8")
    assert "drawing/front.svg" in shown
    assert "same.svg" not in shown
    assert "old" in kept(root)


def test_an_accepted_drawing_replaces_the_old_one_and_leaves_its_reason(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert review.main(["--accept", "drawing/front.svg", "--because", "lip drawn planed"], root=root) == 0
    assert "new" in kept(root)
    assert (root / "tests/golden/accepted.md").read_text(encoding="utf-8") == "- `drawing/front.svg`: lip drawn planed\n"
    assert review.main([], root=root) == 0
    assert capsys.readouterr().out == "No drawing has changed.\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--accept", "drawing/front.svg"], "--accept needs --because WHY"),
        (["--accept", "drawing/front.svg", "--because", " "], "--accept needs --because WHY"),
        (["--accept", "front", "--because", "x"], "there are: drawing/front.svg"),
    ],
)
def test_without_a_reason_or_by_a_wrong_name_nothing_happens(
    root: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    with pytest.raises(SystemExit):
        review.main(arguments, root=root)
    assert said in capsys.readouterr().err
    assert "old" in kept(root)
