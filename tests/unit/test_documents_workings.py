"""The appendix of workings: formulas in type, numbers put in, what is unconfirmed and which key changes it."""

from __future__ import annotations

import io
import re
from functools import cache

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from documents_cases import NAMES, design, show_of
from halfsilver.documents.workings import chapters, workings_pdf
from halfsilver.documents.workings_formula import formula_runs, numbers_runs
from halfsilver.engineering.working import Given
from halfsilver.services.findings import examined
from halfsilver.services.records import document, findings_record
from halfsilver.services.schemas import schema


def flat(runs: list[dict[str, str]]) -> str:
    return "".join({"sup": "^", "sub": "_", "": ""}[run["at"]] + run["text"] for run in runs).replace("\u00a0", " ")


def given(**values: tuple[float, str]) -> tuple[Given, ...]:
    return tuple(Given(name=name, symbol=name, value=value, unit=unit) for name, (value, unit) in values.items())


@pytest.mark.parametrize(
    ("formula", "inputs", "typed", "filled"),
    [
        # A couple over a lever, by hand: 500 N at 60 mm over 800 mm and 3 fixings.
        ("W e/(h n)", {"W": (500.0, "N"), "e": (60.0, "mm"), "h": (800.0, "mm"), "n": (3, "")}, "W e/(h n)", "500 N × 60 mm/(800 mm × 3)"),
        ("c L^3/(384 E)", {"c": (2.0, ""), "L": (4.0, "m"), "E": (8.0, "GPa")}, "c L^3/(384 E)", "2 × (4 m)^3/(384 × 8 GPa)"),
        ("P <= 0.8 S", {"P": (38.4, "W"), "S": (60.0, "W")}, "P ≤ 0.8 S", "38.4 W ≤ 0.8 × 60 W"),
        ("2 x sqrt(Ts)", {"Ts": (5.0, "degC")}, "2 × √(T_s)", "2 × √(5 °C)"),
        ("k_mod 45/1.8 + dT", {"dT": (5.0, "K")}, "k_mod 45/1.8 + ΔT", ""),  # half of it is no input
        ("S <= 100 VA; to 20 V: 5 A x V", {"V": (24.0, "V")}, "S ≤ 100 VA; to 20 V: 5 A × V", ""),  # a second clause is not touched
        ("as a window if A > 9", {"A": (11.3, "sq ft")}, "as a window if A > 9", ""),  # words
    ],
)
def test_a_formula_is_set_and_filled(formula: str, inputs: dict[str, tuple[float, str]], typed: str, filled: str) -> None:
    assert flat(formula_runs(formula, given(**inputs))) == typed
    assert flat(numbers_runs(formula, given(**inputs))) == filled


@cache
def pages(name: str) -> tuple[str, ...]:
    of = design(name)
    held = examined(of, show_of(of))
    data = workings_pdf(of, held.findings, held.workings, show=show_of(of), date="2026-10-01", revision=3, version="0.1.0")
    return tuple(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages)


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_stands_in_it_and_in_its_contents(name: str) -> None:
    of = design(name)
    held = examined(of, show_of(of))
    text = " ".join(pages(name))
    assert [one.rule for one in held.findings if one.rule not in text] == []
    for chapter in chapters(held.findings, held.workings, show_of(of)):
        assert str(chapter["subject"]) in pages(name)[0] + pages(name)[1]
    assert not re.search(r"\b(un)?safe\b", text, re.IGNORECASE)


def test_what_nobody_gave_is_marked_and_its_key_named() -> None:
    of = design("foyer")
    held = examined(of, show_of(of))
    told = {str(one["rule"]): one for chapter in chapters(held.findings, held.workings, show_of(of)) for one in chapter["entries"]}
    assert "mounting.fixings" in told["mount.fixings"]["keys"]
    stiff = next(one for one in told["frame.bottom_stick"]["workings"][0]["given"] if one["name"] == "Stiffness")
    assert stiff["unconfirmed"]
    assert "assumed: unconfirmed" in " ".join(pages("foyer"))
    assert "from memory: unconfirmed" in " ".join(pages("foyer"))


def test_findings_json_carries_the_workings() -> None:
    of = design("foyer")
    held = examined(of, show_of(of))
    told = document("findings", findings_record(held.findings, held.workings))
    Draft202012Validator(schema("findings")).validate(told)
    worked = {one["rule"]: one["workings"] for one in told["findings"] if "workings" in one}
    assert {"mount.fixings", "heat.air", "wiring.supply"} <= set(worked)
    supply = worked["wiring.supply"][0]
    assert supply["use"] == pytest.approx(supply["result"] / supply["limit"], abs=1e-5)
    bare = document("findings", findings_record(held.findings))
    assert all("workings" not in one for one in bare["findings"])
