"""The verbs as a person meets them: exit codes, one JSON document, located problems, nothing lost."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from halfsilver.cli.main import main
from halfsilver.services.pack import demo_job
from halfsilver.services.schemas import schema
from hostile.files import hostile_files

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FOYER = str(EXAMPLES / "foyer.yaml")
ROOT = EXAMPLES.parent


def run(*arguments):
    with pytest.raises(SystemExit) as ended:
        main(list(arguments))
    return ended.value.code


@pytest.mark.parametrize("example", sorted(path.name for path in EXAMPLES.glob("*.yaml")))
def test_every_example_is_checked(example, capsys):
    assert run("check", str(EXAMPLES / example)) == 0
    assert "outside" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("findings", ["check", FOYER, "--json"]),
        ("why", ["why", FOYER, "rear.glass.width", "--json"]),
        ("problems", ["why", FOYER, "rear.glas.width", "--json"]),
        ("problems", ["check", "nowhere.yaml", "--json"]),
    ],
)
def test_json_is_one_document_of_its_schema(name, arguments, capsys):
    run(*arguments)
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == f"halfsilver/{name}/1"
    jsonschema.validate(told, schema(name))


def test_design_json_keeps_its_schema_and_names(tmp_path):
    assert run("resolve", FOYER, "-o", str(tmp_path / "design.json")) == 0
    told = json.loads((tmp_path / "design.json").read_text())
    jsonschema.validate(told, schema("design"))
    ledger = told["ledger"]
    assert ledger["outside.width"]["shown"] == "57 7/8 in"
    assert ledger["strip.segments"]["unit"] == "count"
    assert "value_mm" not in ledger["strip.segments"]
    assert ledger["rear.glass.width"]["inputs"] == ["step.glass", "rear.rebate.width", "fit.glass"]


def test_why_reads_as_a_sentence_down_to_what_was_asked(capsys):
    assert run("why", FOYER, "rear.glass.width") == 0
    told = capsys.readouterr().out
    assert told.startswith("Rear glass width is 53 1/4 in: down to")
    assert "Rear clearance width 1/8 in may be off by" in told
    assert "Measuring rear.rebate.width would tighten it" in told
    assert "screen.outline.width = 53 1/4 in  (asked)" in told
    assert "rear.moulding.body = 2 1/4 in  (catalogue)" in told


def test_an_unknown_name_gets_the_nearest(capsys):
    assert run("why", FOYER, "rear.glas.width") == 2
    assert "Did you mean rear.glass.width?" in capsys.readouterr().err


def test_measure_appends_and_tells_what_moved(tmp_path, capsys):
    job = tmp_path / "job.yaml"
    text = Path(FOYER).read_text()
    job.write_text(text)
    assert run("measure", str(job), "front.rebate.width", "53 5/16 in", "--at", "middle", "--by", "AB", "--when", "2026-03-04") == 0
    assert "front glass width: 53 1/4 in -> 53 3/16 in" in capsys.readouterr().out
    assert run("measure", str(job), "front.rebate.width", "53 9/32 in", "--at", "middle") == 0
    after = job.read_text()
    assert after.startswith(text.rstrip("\n"))
    assert after.count("front.rebate.width") == 2


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["front.rebate.width", "53.3"], "bare-number"),
        (["front.rebate.witdh", "53 in"], "unknown-name"),
        (["front.clearance.width", "2 mm"], "not-measured"),
        (["fit.glass", "2 mm"], "not-measured"),
        (["front.rebate.width", "53 in", "--when", "yesterday"], "not-a-date"),
    ],
)
def test_a_bad_reading_changes_nothing(tmp_path, capsys, arguments, code):
    job = tmp_path / "job.yaml"
    job.write_bytes(Path(FOYER).read_bytes())
    assert run("measure", str(job), *arguments) == 2
    assert f"[{code}]" in capsys.readouterr().err
    assert job.read_bytes() == Path(FOYER).read_bytes()


def changed(tmp_path, old, new):
    job = tmp_path / "job.yaml"
    text = Path(FOYER).read_text()
    assert old in text
    job.write_text(text.replace(old, new))
    return str(job)


def test_no_design_names_the_nearest(tmp_path, capsys):
    job = changed(tmp_path, "units: in ", "gap: 5 mm\nunits: in ")
    assert run("check", job) == 3
    assert "Nearest gap" in capsys.readouterr().err
    job = changed(tmp_path, "units: in ", "size: {of: outside, width: 50 in, height: 30 in}\nunits: in ")
    assert run("check", job) == 3
    assert "smaller than the screen needs" in capsys.readouterr().err


def test_strict_ends_with_4_at_a_stop(tmp_path, capsys):
    job = changed(tmp_path, "  borders:", "  diagonal: 65 in\n  aspect: 16:9\n  borders:")
    assert run("check", job) == 0
    assert run("check", job, "--strict") == 4
    assert run("check", FOYER, "--strict") == 0


def test_a_catalogue_id_that_is_not_there_is_located(tmp_path, capsys):
    job = changed(tmp_path, "moulding: gallery-57, finish: matt black}\n  rear", "moulding: galery-57, finish: matt black}\n  rear")
    assert run("check", job) == 2
    told = capsys.readouterr().err
    assert "frame.front.moulding" in told
    assert ":46:" in told
    assert "gallery-57" in told


def test_a_pack_wants_a_date(tmp_path, capsys):
    assert run("pack", FOYER, "-o", str(tmp_path / "pack")) == 2
    assert "--date YYYY-MM-DD" in capsys.readouterr().err
    assert not (tmp_path / "pack").exists()


@pytest.mark.parametrize("name", sorted(hostile_files()))
def test_a_hostile_file_ends_in_problems_and_no_folder(name, tmp_path, capsys):
    job = tmp_path / "job.yaml"
    job.write_bytes(hostile_files()[name][0])
    assert run("pack", str(job), "-o", str(tmp_path / "pack"), "--date", "2026-03-04") in (2, 3)
    told = capsys.readouterr()
    assert "job.yaml" in told.err
    assert "Traceback" not in told.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.yaml"]


def test_help_and_check_load_nothing_heavy():
    for arguments in (["--help"], ["check", FOYER]):
        environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
        ended = subprocess.run(
            [sys.executable, "-X", "importtime", "-m", "halfsilver", *arguments],
            capture_output=True,
            text=True,
            check=True,
            env=environment,
        )
        loaded = {line.rpartition("|")[2].strip().partition(".")[0] for line in ended.stderr.splitlines()}
        assert not loaded & {"numpy", "typst", "rich", "ezdxf", "pydantic", "highspy", "PIL", "resvg_py"}


def test_every_formula_is_listed_and_bad_inputs_are_told(tmp_path, capsys):
    assert run("reckon", "--list", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert len({formula["name"] for formula in told["formulas"]}) == len(told["formulas"]) > 150
    inputs = tmp_path / "in.json"
    for text, code in (
        ('{"width_mm": 1200}', "missing-parameter"),
        ('{"width_mm": NaN, "height_mm": 700, "thickness_mm": 6}', "not-finite"),
        ('{"width": 1, "width_mm": 1200, "height_mm": 700, "thickness_mm": 6}', "unknown-parameter"),
        ("[1]", "not-json"),
        ("{", "not-json"),
    ):
        inputs.write_text(text)
        assert run("reckon", "glass.pane_mass", str(inputs)) == 2
        assert f"[{code}]" in capsys.readouterr().err
    inputs.write_text('{"width_mm": 1200, "height_mm": 700, "thickness_mm": 6}')
    assert run("reckon", "glass.pane_mass", str(inputs)) == 0
    # EN 572-1: 2.5 kg/m2 per mm: 1.2 x 0.7 m of 6 mm is 12.6 kg.
    assert json.loads(capsys.readouterr().out)["result"] == pytest.approx(12.6)


def test_the_demo_is_the_example():
    assert demo_job().read_bytes() == Path(FOYER).read_bytes()
