"""Options side by side: the same numbers as each job by itself, and mistakes of all of them at once."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from halfsilver.cli.main import main
from halfsilver.services.appearance.predict import predicted
from halfsilver.services.load import load, resolve
from halfsilver.services.making import making_of
from halfsilver.services.schemas import schema

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FOYER, MEASURED, ARCHIVE = (str(EXAMPLES / name) for name in ("foyer.yaml", "foyer-measured.yaml", "archive-mirror.yaml"))


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        main(["compare", *arguments])
    told = capsys.readouterr()
    return int(ended.value.code or 0), told.out, told.err


def test_one_document_with_the_numbers_of_each_job(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, FOYER, ARCHIVE, "--json")
    document = json.loads(out)
    assert (code, document["schema"]) == (0, "halfsilver/compare/1")
    for told, job in zip(document["options"], (FOYER, ARCHIVE), strict=True):
        design = resolve(load(job))
        bill = making_of(design).bill
        assert told["job"] == job
        assert Decimal(told["price"]) == bill.price
        assert told["sizes"]["outside"]["width_mm"] == pytest.approx(design.ledger["outside.width"])
        assert told["depth_mm"] == pytest.approx(design.ledger["outside.depth"])
        assert told["mass_kg"] == pytest.approx(design.mass_kg, abs=1e-5)
        assert told["hidden_share"] == pytest.approx(design.ledger["hidden.share"], abs=1e-6)
        worst = min(viewer.room_contrast.value for viewer in predicted(load(job), design).viewers.values() if viewer.room_contrast)
        assert told["appearance"]["room_contrast"] == pytest.approx(worst, rel=1e-3)
    assert list(Draft202012Validator(schema("compare")).iter_errors(document)) == []
    assert "gap_mm" in document["options"][0]
    assert "gap_mm" not in document["options"][1]


def test_a_table_has_a_column_for_each_job(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, FOYER, MEASURED, ARCHIVE)
    assert code == 0
    rows = {line.split("  ")[0]: line for line in out.splitlines()}
    assert rows["outside"].count(" x ") == 3
    assert rows["price"].count("USD") == 3
    assert max(map(len, out.splitlines())) <= 160


@pytest.mark.parametrize("jobs", [(FOYER,), (FOYER,) * 5])
def test_two_to_four(capsys: pytest.CaptureFixture[str], jobs: tuple[str, ...]) -> None:
    code, out, err = run(capsys, *jobs, "--json")
    assert code == 2
    assert json.loads(out)["problems"][0]["code"] == "number-of-jobs"
    assert "2 to 4" in err


def test_mistakes_of_all_jobs_come_together(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / f"{name}.yaml").write_text("title: x\n", encoding="utf-8")
    code, out, _ = run(capsys, str(tmp_path / "a.yaml"), FOYER, str(tmp_path / "b.yaml"), "--json")
    assert code == 2
    assert {Path(problem["file"]).name for problem in json.loads(out)["problems"]} == {"a.yaml", "b.yaml"}


def test_a_job_without_a_design_ends_with_3(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    text = Path(FOYER).read_text(encoding="utf-8") + "\nsize: {of: outside, width: 40 in, height: 30 in}\n"
    (tmp_path / "small.yaml").write_text(text, encoding="utf-8")
    assert run(capsys, FOYER, str(tmp_path / "small.yaml"))[0] == 3
