"""The letter of findings: its order, its numbers in the job's units, its merging, its pages."""

from __future__ import annotations

import ast
import io
import re
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from documents_cases import FINDINGS, NAMES, design, finding, show_of
from halfsilver.documents.letter import findings_pdf, letter, sides_together
from halfsilver.documents.letter_entries import alike, entries, summed
from halfsilver.documents.letter_quantities import figures, pair, quantity, typographic
from halfsilver.documents.letter_words import OTHER, TITLES, subject_of
from halfsilver.ledger.shown import fine, shower
from halfsilver.model.finding import Severity
from halfsilver.services.findings import examined

ROOT = Path(__file__).parents[2]
INCH, METRIC = shower(units="in", fraction=32), shower(units="mm", fraction=32)
RULE = re.compile(
    r"(?:access|appearance|assumed|carriage|cutting|damp|elec|fit|frame|glass|glazing|heat|lift|mass|mount|place|screen|sight|timber|view|wiring)\.[a-z_0-9]+"
)


@cache
def pages(name: str) -> tuple[str, ...]:
    of = design(name)
    held = examined(of, show_of(of))
    data = findings_pdf(of, held.findings, held.workings, show=show_of(of), date="2026-10-01", revision=3, version="0.1.0")
    return tuple(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages)


@pytest.mark.parametrize("name", NAMES)
def test_the_letter_is_short_addressed_dated_and_calls_nothing_by_the_word_it_may_not(name: str) -> None:
    text = " ".join(pages(name))
    assert len(pages(name)) <= 2
    for words in (
        "To the maker, The demonstration workshop",
        "2026-10-01",
        "Revision 3",
        "Who decides",
        "Where they say otherwise, they decide",
    ):
        assert words in text
    assert not re.search(r"\b(un)?safe\b", text, re.IGNORECASE)
    assert "degC" not in text


def test_stops_come_first_then_cautions_then_notes_then_what_was_not_checked() -> None:
    told = letter(design("foyer"), FINDINGS, {}, INCH)
    assert [group["severity"] for group in told["groups"]] == ["stop", "caution"]
    assert [row["subject"] for row in told["notes"]] == ["Frame"]
    assert [item["text"] for item in told["open"]] == ["Something invented."]
    assert told["opening"].startswith("4 checks belong to this design: 1 finding stops the work until settled, 1 wants a decision,")


def test_nothing_is_lost_between_findings_and_letter() -> None:
    of = design("foyer")
    held = examined(of, show_of(of))
    listed = entries(held.findings, held.workings)
    assert sorted(entry.finding.rule for entry in listed) == sorted(one.rule for one in held.findings)
    assert len({entry.number for entry in listed}) == len(listed)
    text = " ".join(pages("foyer"))
    assert [entry.number for entry in listed if entry.number not in text] == []


def test_every_rule_that_a_check_names_has_a_subject_and_a_title() -> None:
    named = set()
    for path in [*(ROOT / "src/halfsilver/services").glob("*/*.py"), ROOT / "src/halfsilver/engineering/workings.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            values = [k.value for k in node.keywords if k.arg == "rule"] if isinstance(node, ast.Call) else []
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "not_run":
                values += node.args[:1]
            named |= {v.value for v in values if isinstance(v, ast.Constant) and RULE.fullmatch(str(v.value))}
    assert len(named) > 80
    assert [rule for rule in sorted(named) if rule not in TITLES or subject_of(rule) == OTHER] == []


# Factors: 1 lb = 0.45359237 kg and 1 in = 25.4 mm exactly (international yard and pound, 1959); 1 lbf = 4.448 222 N (NIST SP 811).
@pytest.mark.parametrize(
    ("value", "unit", "inch", "metric"),
    [
        (45.359237, "kg", "45.4 kg (100 lb)", "45.4 kg"),
        (4.4482216 * 50, "N", "222 N (50 lbf)", "222 N"),
        (40.0, "degC", "40 °C (104 °F)", "40 °C"),
        (64516.0, "mm2", "64516 mm² (100 sq in)", "64516 mm²"),
        (25.4, "mm", "1 in", "25.4 mm"),
        (28.0795, "deg", "28.1°", "28.1°"),
        (0.012, "ohm", "0.012 Ω", "0.012 Ω"),
        (7.0, "1", "7", "7"),
        (None, "mm", "", ""),
    ],
)
def test_a_value_is_printed_in_the_units_of_the_shop(value: float | None, unit: str, inch: str, metric: str) -> None:
    assert (quantity(value, unit, INCH), quantity(value, unit, METRIC)) == (inch, metric)


def test_small_lengths_and_shares_are_told_apart() -> None:
    assert pair(0.6, 0.5, "mm", INCH) == ("0.024 in", "0.02 in")  # both are 1/32 in on a rule
    assert pair(0.6, 0.5, "mm", METRIC) == ("0.6 mm", "0.5 mm")
    assert pair(0.0065, 0.03, "1", METRIC) == ("0.65 %", "3 %")
    assert pair(31.1, 22.0, "1", METRIC) == ("31.1", "22")
    assert fine(INCH, -0.254) == "-0.01 in"
    assert figures(0.0) == "0"


def test_signs_are_those_of_print() -> None:
    assert typographic("28 degC and 9.6 W/m on 5 m2, 12% of 2 x 3, 1 W/m2K") == "28 °C and 9.6 W/m on 5 m², 12 % of 2 × 3, 1 W/m²K"
    assert typographic("degree, 2x3, m2x") == "degree, 2x3, m2x"


def test_findings_of_one_rule_are_told_together() -> None:
    told = ["Left: 2 mm show.", "Right: 2 mm show.", "Top: 2 mm show.", "Bottom: 5 mm show."]
    assert sides_together(told) == ["Left, right and top: 2 mm show.", "Bottom: 5 mm show."]
    twice = [finding(Severity.NOTE, rule="fit.clearance", value=value) for value in (12.7, 25.4)]
    listed = entries(twice, {})
    assert [len(group) for group in alike(listed)] == [2]
    assert summed(listed, INCH) == "Clearance of the panes 1/2 in and 1 in, at least 1/8 in"


def test_a_note_whose_mark_is_passed_says_so() -> None:
    passed, kept = (finding(Severity.NOTE, rule="view.gaze", value=value) for value in (12.0, 2.0))
    assert "past it" in summed(entries([passed], {}), METRIC)
    assert "past it" not in summed(entries([kept], {}), METRIC)
