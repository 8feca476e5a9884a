"""What the command line says to good, bad and hostile input: exit codes, one document with --json, nothing written or lost."""

from __future__ import annotations

import contextlib
import doctest
import importlib
import inspect
import json
import os
import subprocess
import sys
import time
from pathlib import Path

import jsonschema
import pytest

from halfsilver.cli.main import main
from halfsilver.services.reckon import formulas, unit_of
from halfsilver.services.schemas import schema
from hostile.files import hostile_files

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FOYER = str(EXAMPLES / "foyer.yaml")
SRC = str(EXAMPLES.parent / "src")
BOUND_S = 60.0  # a machine under load; the promise of two seconds is measured, never asserted


def run(*arguments):
    with pytest.raises(SystemExit) as ended:
        main(list(arguments))
    return ended.value.code


def document(capsys):
    """The one document on standard output, valid by its own schema."""
    told = json.loads(capsys.readouterr().out)
    jsonschema.validate(told, schema(told["schema"].split("/")[1]))
    return told


def job_with(tmp_path, old, new):
    text = Path(FOYER).read_text()
    assert old in text
    job = tmp_path / "job.yaml"
    job.write_text(text.replace(old, new))
    return str(job)


SMALL = ("units: in ", "size: {of: outside, width: 40 in, height: 30 in}\nunits: in ")
CLOSED = ("width: 3/4 in, depth", "width: 20 in, depth")


@pytest.mark.parametrize("verb", [("check",), ("check", "--strict"), ("why", "outside.width")])
@pytest.mark.parametrize(
    ("change", "code", "kind"),
    [
        (("title:", "title:"), 0, None),
        (("units: in ", "unit: in "), 2, "problems"),
        (("53 1/4 in", "53 1/4"), 2, "problems"),
        (("gallery-57", "gallery"), 2, "problems"),
        (("title:", "title: [}"), 2, "problems"),
        (SMALL, 3, "problems"),
        (CLOSED, 3, "problems"),
    ],
)
def test_json_is_one_valid_document_for_good_and_bad_jobs(verb, change, code, kind, tmp_path, capsys):
    name, *rest = verb
    job = job_with(tmp_path, *change)
    assert run(name, job, *rest, "--json") == code
    told = document(capsys)
    if kind:
        assert told["schema"] == f"halfsilver/{kind}/1"
        assert all(problem["allowed"] and problem["advice"] for problem in told["problems"])
        if code == 2:
            assert all(problem["line"] > 0 and problem["file"] == job for problem in told["problems"])


def test_a_stop_ends_with_4_only_where_it_is_asked(tmp_path, capsys):
    job = job_with(tmp_path, "outline: {width: 53 1/4 in", "outline: {width: 40 in")
    assert run("check", job, "--json") == 0
    assert any(finding["severity"] == "stop" for finding in document(capsys)["findings"])
    assert run("check", job, "--strict", "--json") == 4
    document(capsys)


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "--json"),
        ("chekc", FOYER, "--json"),
        ("check", FOYER, "--tidy", "--json"),
        ("why", FOYER, "rear.glas.width", "--json"),
        ("why", FOYER, "", "--json"),
        ("check", "nowhere.yaml", "--json"),
        ("check", FOYER, "--workshop", "nowhere", "--json"),
        ("check", str(EXAMPLES), "--json"),
        ("compare", FOYER, "--json"),
        ("reckon", "--json"),
        ("reckon", "glass.pane_mas", "nowhere.json", "--json"),
        ("--json",),
    ],
)
def test_json_is_one_valid_document_for_a_bad_command(arguments, capsys):
    assert run(*arguments) == 2
    told = document(capsys)
    assert told["schema"] == "halfsilver/problems/1"
    assert told["problems"]


def test_no_design_names_the_nearest(tmp_path, capsys):
    # The screen of 53 1/4 in, 1/8 in of play and two bodies of 2 1/4 in: 57 7/8 in, or 1470.0 mm.
    assert run("check", job_with(tmp_path, *SMALL)) == 3
    assert "1470.0" in capsys.readouterr().err
    assert run("check", job_with(tmp_path, "units: in ", "gap: 4 mm\nunits: in ")) == 3
    assert "Nearest gap" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["foyer", "foyer-measured", "archive-mirror"])
def test_the_resolved_job_is_the_same_design(name, tmp_path):
    first, second, job = (str(tmp_path / part) for part in ("a.json", "b.json", "job.yaml"))
    assert run("resolve", str(EXAMPLES / f"{name}.yaml"), "-o", first, "--job", job) == 0
    assert run("resolve", job, "-o", second) == 0
    one, two = (json.loads(Path(path).read_text()) for path in (first, second))
    assert one["digest"] == two["digest"]
    left = [line.partition("#")[0] for line in Path(job).read_text().splitlines() if ": auto" in line.partition("#")[0]]
    assert [line for line in left if "depth: auto" not in line] == []  # battens fill the rebate: a formula, not a decision
    jsonschema.validate(one, schema("design"))


def test_a_reading_that_moves_the_gap_is_not_asked_for_when_resolved(tmp_path):
    # The rear lip turned out 0.4 mm thinner: planing and gap stay as planned, the reading stays a reading.
    reading = "terms: {margin"
    job = job_with(tmp_path, reading, f"measured: [{{name: rear.lip_thickness, value: 5.9375 mm}}]\n{reading}")
    again, a, b = (str(tmp_path / part) for part in ("again.yaml", "a.json", "b.json"))
    assert run("resolve", job, "-o", a, "--job", again) == 0
    assert run("resolve", again, "-o", b) == 0
    assert json.loads(Path(a).read_text())["digest"] == json.loads(Path(b).read_text())["digest"]


def test_nothing_is_written_over_the_job(tmp_path, capsys):
    job = tmp_path / "job.yaml"
    job.write_bytes(Path(FOYER).read_bytes())
    for outputs in (("-o", str(job)), ("-o", str(tmp_path / "d.json"), "--job", str(tmp_path / "." / "job.yaml"))):
        assert run("resolve", str(job), *outputs) == 2
        assert "[same-file]" in capsys.readouterr().err
    assert job.read_bytes() == Path(FOYER).read_bytes()
    assert run("resolve", str(job), "-o", str(tmp_path / "none" / "d.json")) == 2
    assert "[not-writable]" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("front.rebate.width", "0 mm"), "no-length"),
        (("front.rebate.width", ""), "empty"),
        (("front.rebate.width", "53 kg"), "unknown-unit"),
        (("front.rebate.width", "53 in", "--at", "a\nb"), "too-long"),
        (("front.rebate.width", "53 in", "--by", "x" * 61), "too-long"),
        (("front.rebate.width", "53 in", "--when", "2026-02-30"), "not-a-date"),
    ],
)
def test_a_bad_reading_leaves_the_job_byte_for_byte(arguments, code, tmp_path, capsys):
    job = tmp_path / "job.yaml"
    job.write_bytes(Path(FOYER).read_bytes())
    assert run("measure", str(job), *arguments) == 2
    assert f"[{code}]" in capsys.readouterr().err
    assert job.read_bytes() == Path(FOYER).read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


def test_words_of_a_place_that_mean_something_to_yaml_come_back_as_they_were(tmp_path, capsys):
    job = tmp_path / "job.yaml"
    job.write_bytes(Path(FOYER).read_bytes())
    for at in ("{x: [}", "no", "# top", "2026-03-04", "'"):
        assert run("measure", str(job), "front.rebate.width", "53 5/16 in", "--at", at) == 0
    assert run("why", str(job), "front.rebate.width") == 0
    assert "53 5/16 in at {x: [}" in capsys.readouterr().out


HOSTILE = hostile_files()
VERBS = ("check", "resolve", "why")  # in turn, each on every ninth file: all read by the same reader, and pack meets every file


@pytest.mark.parametrize(("name", "verb"), [(name, VERBS[i % 3]) for i, name in enumerate(sorted(HOSTILE)[::3])])
def test_a_hostile_file_ends_in_located_problems(name, verb, tmp_path, capsys):
    job = tmp_path / "job.yaml"
    job.write_bytes(HOSTILE[name][0])
    more = {"check": ("--json",), "resolve": ("-o", str(tmp_path / "design.json")), "why": ("outside.width", "--json")}[verb]
    assert run(verb, str(job), *more) == 2
    told = capsys.readouterr()
    assert "Traceback" not in told.err
    if verb != "resolve":
        problems = json.loads(told.out)["problems"]
        assert HOSTILE[name][1] in [problem["code"] for problem in problems]
        assert all(problem["file"] == str(job) for problem in problems)
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


@pytest.mark.parametrize("name", ["huge.yaml", "brackets.yaml", "lines-nearly-too-long.yaml"])
def test_the_worst_files_end_soon_in_a_fresh_process(name, tmp_path, record_property):
    job = tmp_path / "job.yaml"
    job.write_bytes(HOSTILE[name][0])
    command = [sys.executable, "-m", "halfsilver", "pack", str(job), "-o", str(tmp_path / "pack"), "--date", "2026-03-04"]
    begun = time.perf_counter()
    ended = subprocess.run(
        command, capture_output=True, text=True, timeout=BOUND_S, check=False, env={**os.environ, "PYTHONPATH": SRC}
    )  # fmt: skip
    record_property("seconds", round(time.perf_counter() - begun, 2))
    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr
    assert str(job) in ended.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


# --- reckon


def example_of(function):
    """Parameters of the first call of a function in its own docstring, where JSON can say them."""
    calls = []

    def noted(**values):
        calls.append(values)
        return function(**values)

    names = {**vars(importlib.import_module(function.__module__)), function.__name__: noted}
    for example in doctest.DocTestParser().get_examples(inspect.getdoc(function) or ""):
        with contextlib.suppress(Exception):
            exec(compile(example.source, "doc", "exec"), names)
    try:
        return json.loads(json.dumps(calls[0])) if calls else None
    except TypeError:
        return None


CALLS = {name: example_of(function) for name, function in formulas().items()}


# What a parameter without an example may be, by the unit that its name carries.
BY_UNIT = {
    "mm": 200.0, "m": 2.0, "deg": 30.0, "kg": 20.0, "N": 100.0, "MPa": 5.0, "W": 60.0, "V": 24.0, "A": 2.0, "K": 10.0, "degC":
    25.0, "lx": 150.0, "s": 60.0, "h": 8.0, "min": 30.0, "J": 5.0, "lm": 500.0, "ohm": 0.1, "m2": 0.5, "cm2": 50.0, "cd/m2":
    200.0, "kg/m3": 500.0, "1/K": 1e-5, "W/(m K)": 0.2, "N mm": 1000.0, "N m": 10.0, "m3/s": 0.01, "lm/m": 1000.0, "W/m": 10.0,
    "ohm/km": 20.0, "W/m2": 50.0, "W/(m2 K)": 5.0,
}  # fmt: skip

STRIP = {"segments": 20, "segment_ohm": 0.02, "segment_a": 0.04, "full_v": 24.0, "forward_v": 18.0, "supply_v": 24.0}
WALL = {"area_mm2": 8e5, "length_mm": 800.0, "thickness_mm": 20.0, "conductivity_w_mk": 0.15, "facing": "vertical"}

# And where that will not do: words of a table, lists, small parts.
IN_PLACE = {
    "access.reach": {"approach": "forward"},
    "costing.quantity_to_buy": {"waste_of": "used"},
    "costing.total": {"amounts": ["1.10", 2.25, 3]},
    "elec.conductor_limit": {"gauge": 14, "use": "60 degC"},
    "elec.fewest_feeds": {**STRIP, "dimmest_share": 0.9},
    "elec.strip_ladder": {**STRIP, "feeds": [0]},
    "elec.table8_resistance": {"gauge": 16, "stranding": "solid"},
    "glass.allowable_by_e1300": {"kind": "annealed"},
    "glass.design_strength_by_din": {"kind": "annealed", "duration": "short"},
    "glass.laminated_stress_thickness": {"plies_mm": [3.0, 3.0], "ply": 0, "interlayers_mm": [0.76]},
    "glass.thickness_tolerance": {"nominal_mm": 4.0},
    "glass.type_factor_by_e1300": {"kind": "toughened"},
    "glazing.ansi_impact": {"impact_class": "A"},
    "glazing.cpsc_impact": {"category": "II"},
    "heat.case_balance": {"walls": [WALL]},
    "heat.wall_heat": {"wall": WALL, "air_degc": 40.0},
    "heat.touch_limit": {"material": "metal", "contact": "touched to 10 s"},
    "lift.coupling_multiplier": {"coupling": "good"},
    "measuring.stock_needed": {"lengths_mm": [1000.0, 500.0]},
    "mount.centre_of_gravity": {"masses_kg": [1.0, 2.0], "x_mm": [0.0, 1.0], "z_mm": [0.0, 1.0]},
    "glass.patch_stress": {"thickness_mm": 6.0, "radius_mm": 50.0, "poisson": 0.23},
    "timber.lateral_reduction": {"diameter_mm": 4.8},
    "timber.screw_lateral": {"number": 10, "thread_mm": 40.0, "steel_side_mm": 2.0},
    "timber.duration_factor": {"duration": "ten years"},
    "timber.end_grain_factor": {"fastener": "nail"},
    "timber.nail_withdrawal": {"diameter_mm": 3.0},
    "timber.screw_withdrawal": {"diameter_mm": 4.2},
    "timber.strain": {"coefficient_per_pct": 0.002, "from_pct": 8.0, "to_pct": 10.0},
    "viewing.eye_height": {"posture": "standing", "part": "middle"},
    "viewing.farthest_by_heights": {"use": "reading"},
}  # fmt: skip


def plausible(name, function):
    given = {}
    for key, parameter in inspect.signature(function).parameters.items():
        if parameter.default is inspect.Parameter.empty:
            words = {"bool": True, "int": 2, "str": "annealed"}
            given[key] = words.get(str(parameter.annotation), BY_UNIT.get(unit_of(key), 0.5))
    return {**given, **IN_PLACE.get(name, {})}


@pytest.mark.parametrize("name", sorted(CALLS))
def test_every_formula_evaluates_from_json(name, tmp_path, capsys):
    function = formulas()[name]
    given = CALLS[name] if CALLS[name] is not None else plausible(name, function)
    inputs = tmp_path / "in.json"
    inputs.write_text(json.dumps(given))
    assert run("reckon", name, str(inputs)) == 0, capsys.readouterr().err
    told = document(capsys)
    assert told["name"] == name
    assert told["result"] is not None
    if CALLS[name] is not None and isinstance(direct := function(**given), float):
        assert told["result"] == pytest.approx(direct, rel=1e-5, abs=2e-6)


@pytest.mark.parametrize("bad", [None, "x", [], {}, True, [[1]], -1e308, 1e308, [None], {"a": {"b": []}}], ids=repr)
def test_no_formula_ends_in_a_traceback_or_in_no_number(bad):
    from halfsilver.errors import JobError
    from halfsilver.services.reckon import reckon

    for name, function in formulas().items():
        with contextlib.suppress(JobError):
            json.dumps(reckon(name, dict.fromkeys(inspect.signature(function).parameters, bad)).result, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('{"width_mm": Infinity, "height_mm": 1, "thickness_mm": 4}', "not-finite"),
        ('{"width_mm": [NaN], "height_mm": 1, "thickness_mm": 4}', "not-finite"),
        ('{"width_mm": ' + "[" * 900 + "]" * 900 + "}", "too-deep"),
        ('{"width_mn": ' + "[" * 900 + "]" * 900 + "}", "too-deep"),
        ('{"width_mm": ' + "9" * 6000 + "}", "not-json"),
        ('{"width_mm": -1, "height_mm": 1, "thickness_mm": 4}', "out-of-range"),
        ('"glass"', "not-json"),
        ("\xff", "not-json"),
    ],
)
def test_what_reckon_cannot_take_is_told(text, code, tmp_path, capsys):
    inputs = tmp_path / "in.json"
    inputs.write_text(text, encoding="latin-1")
    assert run("reckon", "glass.pane_mass", str(inputs), "--json") == 2
    assert code in [problem["code"] for problem in document(capsys)["problems"]]


def test_the_list_of_formulas_is_of_its_schema(capsys):
    assert run("reckon", "--list", "--json") == 0
    told = document(capsys)
    assert all(formula["source"] and formula["summary"] for formula in told["formulas"])
