"""Cutting files and the verbs cut and cut-check: what is read, refused and written."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from halfsilver.cli.cutting import cut, cut_check
from halfsilver.errors import JobError, Problem
from halfsilver.files.cutting import locate, read_instance, read_solution, write_json
from halfsilver.services.schemas import schema

pytestmark = pytest.mark.cutting

BARS: dict[str, Any] = {
    "format": "cut-instance/1", "id": "frames", "unit": "1/64 in", "kind": "1d", "kerf": 8, "trim": {"start": 16, "end": 0},
    "stock": [
        {"id": "stick", "length": 6144, "qty": None, "cost": 30},
        {"id": "rest", "length": 2000, "qty": 1, "cost": 3, "offcut": True},
    ],
    "pieces": [
        {"id": "long", "length": 1900, "qty": 2, "ends": "mitre"},
        {"id": "short", "length": 1200, "qty": 2, "ends": {"left": "mitre", "right": "square"}},
    ],
    "mitre": {"kerf": 12, "nest": 96, "flip": False}, "increment": None, "remnant_min": 400,
    "reference": {"objective": "cost", "value": 33},
}  # fmt: skip
SHEETS: dict[str, Any] = {
    "format": "cut-instance/1", "id": "glass", "unit": "0.5 mm", "kind": "2d", "kerf": 0, "guillotine": True, "stages": None,
    "exact": False, "first_cut": "any", "min_strip": 40, "trim": {"left": 20, "right": 20, "bottom": 20, "top": 20},
    "stock": [{"id": "full", "width": 6420, "height": 4500, "qty": None, "cost": 120}],
    "pieces": [
        {"id": "front", "width": 2200, "height": 1300, "qty": 3, "rotate": False},
        {"id": "rear", "width": 2180, "height": 1280, "qty": 3, "rotate": True},
    ],
}  # fmt: skip
PACK = {"format": "cut-pack/1", "instances": [BARS, SHEETS]}


def written(folder: Path, document: object, name: str = "task.json") -> str:
    path = folder / name
    path.write_text(document if isinstance(document, str) else json.dumps(document, indent=1), encoding="utf-8")
    return str(path)


def problems(folder: Path, document: object, address: str = "") -> tuple[Problem, ...]:
    with pytest.raises(JobError) as caught:
        read_instance(written(folder, document) + address)
    return caught.value.problems


def run(verb: Any, *arguments: str) -> Result:
    return CliRunner().invoke(verb, list(arguments))


@pytest.mark.parametrize("name", ["frames", "glass"])
def test_cut_writes_a_plan_that_cut_check_passes(tmp_path: Path, name: str) -> None:
    address, plan = written(tmp_path, PACK) + f"#{name}", str(tmp_path / "plan.json")
    done = run(cut, address, "-o", plan, "--effort", "quick")
    assert (done.exit_code, done.stdout) == (0, "")
    assert "bound)" in done.stderr
    document = json.loads(Path(plan).read_text(encoding="utf-8"))
    assert document["format"] == "cut-solution/1"
    assert document["instance"] == name
    assert document["checked"] is True
    assert document["bound"]["value"] <= document["cost"]
    assert document["bound"]["kind"] in ("lp", "material")
    checked = run(cut_check, address, plan, "--json")
    assert checked.exit_code == 0
    assert json.loads(checked.stdout) == {"schema": "halfsilver/cut_check/1", "feasible": True, "cost": document["cost"], "violations": []}
    assert "feasible" in run(cut_check, address, plan).stdout


def test_cut_check_says_what_is_wrong(tmp_path: Path) -> None:
    task = written(tmp_path, BARS)
    cuts = [{"piece": "long", "start": 0, "end": 1900}, {"piece": "long", "start": 1905, "end": 3805, "flipped": True}]
    plan = written(tmp_path, {"format": "cut-solution/1", "instance": "frames", "bars": [{"stock": "stick", "cuts": cuts}]}, "plan.json")
    done = run(cut_check, task, plan, "--json")
    assert done.exit_code == 1
    assert {violation["code"] for violation in json.loads(done.stdout)["violations"]} == {"outside", "kerf", "flipped", "missing"}
    assert "[kerf]" in run(cut_check, task, plan).stdout


def test_a_plan_for_stock_that_nobody_has_is_not_feasible_and_has_no_cost(tmp_path: Path) -> None:
    plan = written(tmp_path, {"format": "cut-solution/1", "bars": [{"stock": "gold", "cuts": []}]}, "plan.json")
    done = run(cut_check, written(tmp_path, BARS), plan, "--json")
    assert done.exit_code == 1
    told = json.loads(done.stdout)
    assert told["cost"] is None
    jsonschema.validate(told, schema("cut_check"))


def test_a_plan_of_the_other_kind_is_not_feasible(tmp_path: Path) -> None:
    plan = written(tmp_path, {"format": "cut-solution/1", "sheets": []}, "plan.json")
    assert run(cut_check, written(tmp_path, BARS), plan).exit_code == 1


def test_a_piece_that_fits_nothing_ends_in_3_and_is_named(tmp_path: Path) -> None:
    task = written(tmp_path, {**BARS, "pieces": [{"id": "beam", "length": 9999, "qty": 1}]})
    done = run(cut, task, "-o", str(tmp_path / "plan.json"))
    assert done.exit_code == 3
    assert "'beam'" in done.stderr
    assert not (tmp_path / "plan.json").exists()


def test_bad_input_ends_in_2_with_place_and_advice(tmp_path: Path) -> None:
    done = run(cut, written(tmp_path, {**BARS, "kerf": 2.5}), "-o", str(tmp_path / "plan.json"))
    assert done.exit_code == 2
    assert "finer unit" in done.stderr
    asked = run(cut_check, written(tmp_path, {**BARS, "kerf": 2.5}), str(tmp_path / "none.json"), "--json")
    assert asked.exit_code == 2
    assert json.loads(asked.stdout)["problems"][0]["code"] == "cut-whole-number"
    assert run(cut, str(tmp_path / "absent.json"), "-o", "x").exit_code == 2


def test_an_unwritable_place_is_a_problem_and_not_a_traceback(tmp_path: Path) -> None:
    done = run(cut, written(tmp_path, BARS), "-o", str(tmp_path / "no" / "such" / "plan.json"), "--effort", "quick")
    assert done.exit_code == 2
    assert "cannot be written" in done.stderr


def test_every_problem_is_gathered_with_its_line(tmp_path: Path) -> None:
    stock = '"stock": [{"id": "a", "width": 100, "hieght": 3, "height": 50}]'
    text = f'{{"kind": "2d", "id": "x",\n {stock},\n "pieces": [{{"id": "p", "width": "9", "height": 5, "qty": -1}}]}}'
    found = problems(tmp_path, text)
    assert {(p.code, p.path, p.line) for p in found} == {
        ("cut-unknown-key", "stock.0.hieght", 2), ("cut-whole-number", "pieces.0.width", 3), ("cut-whole-number", "pieces.0.qty", 3),
    }  # fmt: skip
    assert all(p.column > 1 for p in found)
    assert "height" in next(p.advice for p in found if p.code == "cut-unknown-key")


def test_problems_inside_a_pack_are_located_there(tmp_path: Path) -> None:
    found = problems(tmp_path, {**PACK, "instances": [BARS, {**SHEETS, "min_strip": -1}]}, "#glass")
    assert [(p.path, p.code) for p in found] == [("instances.1.min_strip", "cut-whole-number")]


@pytest.mark.parametrize(
    ("document", "code"),
    [
        ("", "json-syntax"), ("{", "json-syntax"), ("[]", "cut-not-an-object"), ("3", "cut-not-an-object"), ("null", "cut-not-an-object"),
        ('{"kind": "2d", "kerf": NaN}', "json-value"), ('{"a": 1, "a": 2}', "json-value"), ("[" * 100_000, "json-too-deep"),
        ("9" * 5000, "json-value"), ({}, "cut-kind"), ({"kind": ["1d"]}, "cut-kind"), ({"format": "cut-instance/9"}, "cut-format"),
        ({**BARS, "stock": []}, "cut-empty"), ({**BARS, "stock": "stick"}, "cut-not-a-list"), ({**BARS, "stock": [7]}, "cut-not-an-object"),
        ({**BARS, "stock": [{"id": "s", "length": 10, "cost": -1}]}, "cut-cost"),
        ({**BARS, "stock": [{"id": "s", "length": 10, "cost": "free"}]}, "cut-cost"),
        ({**BARS, "stock": [{"id": "", "length": 10}]}, "cut-name-missing"),
        ({**BARS, "stock": [{"id": "s", "length": 10**12}]}, "cut-whole-number"),
        ({**BARS, "stock": BARS["stock"] * 2}, "cut-name-twice"),
        ({**BARS, "pieces": [{"id": "p", "length": True, "qty": 1}]}, "cut-whole-number"),
        ({**BARS, "pieces": [{"id": "p", "length": 9, "qty": 10**9}]}, "cut-whole-number"),
        ({**BARS, "pieces": [{"id": f"p{i}", "length": 9, "qty": 20_000} for i in range(2)]}, "cut-too-many"),
        ({**BARS, "pieces": [{"id": "p", "length": 9, "qty": 1, "ends": "round"}]}, "cut-end"),
        ({**BARS, "sequence": [["nobody"]]}, "cut-unknown-piece"), ({**BARS, "trim": {"strat": 4}}, "cut-unknown-key"),
        ({**SHEETS, "guillotine": False}, "cut-guillotine"), ({**SHEETS, "first_cut": {}}, "cut-first-cut"),
        ({**SHEETS, "stages": 1}, "cut-whole-number"), ({**SHEETS, "exact": "yes"}, "cut-true-or-false"),
        ({"format": "cut-pack/1"}, "cut-no-such-instance"), (PACK, "cut-no-such-instance"),
    ],
)  # fmt: skip
def test_hostile_instances_end_in_a_problem(tmp_path: Path, document: object, code: str) -> None:
    assert code in {problem.code for problem in problems(tmp_path, document)}


def tree(depth: int) -> dict[str, Any]:
    node: dict[str, Any] = {"x": 0, "y": 0, "w": 1, "h": 1, "waste": True}
    for _ in range(depth):
        node = {"x": 0, "y": 0, "w": 1, "h": 1, "cut": "v", "children": [node]}
    return node


@pytest.mark.parametrize(
    ("document", "code"),
    [
        ({}, "cut-format"), ({"format": "cut-solution/1"}, "cut-not-a-list"),
        ({"format": "cut-solution/1", "bars": [{}]}, "cut-name-missing"),
        ({"format": "cut-solution/1", "sheets": [{"stock": "s", "tree": {"x": 0, "y": 0, "w": 1, "h": 1}}]}, "cut-node"),
        ({"format": "cut-solution/1", "sheets": [{"stock": "s", "tree": tree(100)}]}, "cut-too-deep"),
        ({"format": "cut-solution/1", "sheets": [{"stock": "s", "tree": {**tree(0), "w": 1.5}}]}, "cut-whole-number"),
        ({"format": "cut-solution/1", "sheets": [{"stock": "s", "tree": {**tree(1), "cut": "z"}}]}, "cut-node"),
    ],
)  # fmt: skip
def test_hostile_solutions_end_in_a_problem(tmp_path: Path, document: object, code: str) -> None:
    with pytest.raises(JobError) as caught:
        read_solution(written(tmp_path, document))
    assert code in {problem.code for problem in caught.value.problems}


def test_a_file_that_is_no_text_is_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "task.json"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(JobError, match="UTF-8"):
        read_instance(str(path))
    with pytest.raises(JobError, match="cannot be read"):
        read_instance(str(tmp_path))


def test_information_that_nobody_knows_is_passed_over(tmp_path: Path) -> None:
    assert read_instance(written(tmp_path, {**BARS, "drawn_by": "AB"})) == read_instance(written(tmp_path, BARS))


def test_defaults_are_those_of_the_neutral_form(tmp_path: Path) -> None:
    stock = [{"id": "s", "width": 10, "height": 20, "trim": {"left": 1}}]
    instance = read_instance(
        written(tmp_path, {"kind": "2d", "trim": {"top": 3}, "stock": stock, "pieces": [{"id": "p", "width": 1, "height": 2}]})
    )
    sheet, pane = instance.stock[0], instance.pieces[0]
    assert (sheet.cost, sheet.qty, sheet.trim.left, sheet.trim.top) == (200, None, 1, 0)
    assert (pane.qty, getattr(pane, "rotate", None)) == (1, False)


def test_a_plan_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_text("old", encoding="utf-8")
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_json(str(path), {"cost": float("nan")})
    assert path.read_text(encoding="utf-8") == "old"
    write_json(str(path), {"cost": 1})
    assert json.loads(path.read_text(encoding="utf-8")) == {"cost": 1}
    assert [p.name for p in tmp_path.iterdir()] == ["plan.json"]


def test_locate_finds_values_and_stops_where_the_path_ends() -> None:
    text = '{"a": [1,\n  {"b, c": "x]", "d": 2}]}'
    assert locate(text, "") == (1, 1)
    assert locate(text, "a.0") == (1, 8)
    assert locate(text, "a.1.d") == (2, 23)
    assert locate(text, "a.1.e") == (2, 3)
